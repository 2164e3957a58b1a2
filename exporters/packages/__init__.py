"""What all formats share."""
