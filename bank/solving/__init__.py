"""Equations to closed forms."""
