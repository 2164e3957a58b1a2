"""Response and template processing."""
