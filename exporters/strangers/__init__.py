"""What strangers sent, read within limits: bytes come in, members and plain elements go out, or one error.

An archive is never written to disk, an XML document is looked at before a parser sees it, held against the grammar of
its format while it is read, and what was wrong is told as ``Findings``. Nothing here knows what an item means.
"""
