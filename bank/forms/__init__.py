"""Parallel forms from a blueprint: a table of what a test must cover, met by all forms at once by a 0-1 programme.

Candidates with predicted or measured difficulty come in, forms and their manifest go out; lines that can't hold
together are explained. A new line of a blueprint is a field in its schema and a ``Rule`` in ``requirements``.
"""
