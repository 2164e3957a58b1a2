"""The format-neutral item: what the bank makes and every exporter takes, and all that passes between them.

It holds words, formula trees, printed quantities, drawings and how a key is worked out; no XML, no symbols to solve,
no sentence of its own. A new kind of entry is a class in ``item``, a part in each exporter, and its marking in the
proof.
"""
