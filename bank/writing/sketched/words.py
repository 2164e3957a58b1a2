"""What each setting of a sketch is, in a sentence: the text alternative of the sketch.

It tells what the picture tells and no more: no force, no number. ``{body}`` and ``{place}`` are words of the scene and
its diagram ("the toy car", "at the top of the circle").
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ...item import formula
from ...item.formula import Node
from ...language import listed
from . import level_words, space_words, upright_words

SETTINGS: Mapping[str, str] = {**upright_words.SETTINGS, **level_words.SETTINGS, **space_words.SETTINGS}
MARKED = "Marked: {letters}."


def marked(marks: Sequence[tuple[str, Node]]) -> str:
    """``Marked: the radius r and the angle theta.``; nothing where no letter stands in the sketch."""
    said = [f"the {role.replace('-', ' ')} {formula.spoken(label)}" for role, label in marks]
    return MARKED.format(letters=listed(said)) if said else ""
