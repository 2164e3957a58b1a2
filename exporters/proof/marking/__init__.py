"""Answers tried and marked."""
