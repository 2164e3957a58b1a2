"""Limits on strangers' work."""
