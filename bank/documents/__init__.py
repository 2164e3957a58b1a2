"""Text from a stranger to plain data that remembers its places; faults are noted there, all of them in one run.

YAML comes in as events and JSON as text, both bounded; what goes out was held against its schema. What a schema can
say belongs into ``schemas/``, and its words into ``shape``.
"""
