"""An item read from its file."""
