"""Kinds of questions and their keys."""
