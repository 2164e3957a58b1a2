"""Mistakes to wrong answers: an edit changes the question, the same solver solves it, and what stays apart is kept.

A mistake is an entry of the catalogue; its edit says what it changes; the mistaken form is the closed form it leads to;
a distractor is a wrong option that rests on it. A new edit is a class with what it does, and a field in
``schemas/mistakes.json``.
"""
