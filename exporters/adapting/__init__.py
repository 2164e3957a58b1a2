"""What becomes of an item where a format lacks something."""
