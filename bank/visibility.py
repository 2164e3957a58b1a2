"""Letters that nobody sees, or that a terminal acts on: where they are, and how a message shows them."""

from __future__ import annotations

import re

# control and format characters, lone surrogates and what is no character at all; tab and line feed are text
HIDDEN = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\xad\u061c\u180e\u200b-\u200f\u2028-\u202e\u2060-\u206f\ud800-\udfff"
    "\ufeff\ufff9-\ufffb\ufffe\uffff\U000e0000-\U000e01ef"
    # blanks that count as letters, joiners of letters, variation selectors: two texts that look alike must be alike
    "\u034f\u115f\u1160\u17b4\u17b5\u180b-\u180f\u2800\u3164\ufe00-\ufe0f\uffa0\ufdd0-\ufdef\ue000-\uf8ff\U000f0000-\U0010ffff]"
)


def hidden_in(text: str) -> str:
    """The first invisible character of ``text`` as ``U+200B``; nothing where there is none."""
    found = HIDDEN.search(text)
    return f"U+{ord(found[0]):04X}" if found else ""


def visible(text: str, *, lines: bool = False) -> str:
    """The text with what a terminal might act on, or not show, as an escape; ends of line stay where they are meant."""
    if text.isprintable() and not HIDDEN.search(text):
        return text
    return "".join(each if _is_seen(each) or (lines and each == "\n") else ascii(each)[1:-1] for each in text)


def _is_seen(letter: str) -> bool:
    return letter.isprintable() and not HIDDEN.match(letter)
