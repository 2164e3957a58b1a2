"""Files to checked problems and the catalogue of mistakes: every fault of every file, then one raise.

Documents come in, frozen problems go out. What a schema can't say about one problem is checked in ``consistency``: a
new check is a function there, with its planted fault in ``tests/bank/reading/faults.txt``.
"""
