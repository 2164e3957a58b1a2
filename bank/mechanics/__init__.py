"""Problem to equations."""
