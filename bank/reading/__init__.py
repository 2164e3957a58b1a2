"""Text to a checked problem."""
