"""What an item says."""
