"""Mistakes to wrong answers."""
