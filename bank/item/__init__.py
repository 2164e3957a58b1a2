"""The format-neutral item."""
