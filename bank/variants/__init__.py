"""Closed forms to numbers."""
