"""Text to plain data with places."""
