"""What a pack holds."""
