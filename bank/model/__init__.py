"""A checked problem as frozen values, with the few tools that read it: formulas, draws, the slots of its sentences.

Nothing is read or solved here. A new field of problem files is one in ``problem``, one in ``schemas/problem.json`` and
one line in ``bank.reading.building``.
"""
