"""Solved questions to items of every kind: each kind's keys are read off the model, never typed.

An item model makes the items of one question in one kind; ``selection`` finds them by id and chooses those of a pack.
"""
