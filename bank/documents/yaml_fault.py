"""What a YAML parser complains of, in words for someone who writes problems and not parsers."""

from __future__ import annotations

import re

import yaml

from ..errors import Fault, Place

# the parser's complaint -> what is wrong, what would be right
_PLAIN = (
    ("mapping values are not allowed", "found a colon where none can stand", "quote a text that holds a colon"),
    ("found character '\\t'", "found a tab", "indent with spaces"),
    ("that cannot start any token", "a value can't begin like this", "put quotation marks round it"),
    ("could not find expected ':'", "this key has no colon", "write 'key: value'"),
    ("expected <block end>", "this line does not line up with those above it", "indent it like its neighbours"),
    ("expected ',' or '}'", "a curly bracket is not closed, or a comma is missing", "write {key: value, key: value}"),
    ("expected ',' or ']'", "a square bracket is not closed, or a comma is missing", "write [value, value]"),
    ("found unexpected end of stream", "a quotation mark is not closed", "close it"),
    ("found unexpected document separator", "a quotation mark is not closed", "close it"),
    ("unknown escape character", "found a backslash that means nothing", "use single quotation marks, or write \\\\"),
)
_BREAK = re.compile("\r\n?|\n")
_ESCAPE = re.compile(r"\\U(?!000[0-9A-Fa-f]|0010)[0-9A-Fa-f]{8}")


def place_after(file: str, before: str) -> Place:
    """The place just behind a text; its lines are those of YAML, in which a carriage return alone also ends one."""
    *whole, last = _BREAK.split(before)
    return Place(file, len(whole) + 1, len(last) + 1)


def yaml_fault(file: str, text: str, error: Exception) -> Fault:
    """The fault that stopped the parser; an open quotation mark is told where it opens."""
    if not isinstance(error, yaml.YAMLError):
        return _beyond_unicode(file, text)
    problem = str(getattr(error, "problem", None) or "it can't be read")
    mark = getattr(error, "problem_mark", None)
    if "unexpected end of stream" in problem or "unexpected document separator" in problem or mark is None:
        mark = getattr(error, "context_mark", None) or mark
    place = Place(file, mark.line + 1, mark.column + 1) if mark else Place(file)
    for complaint, wrong, right in _PLAIN:
        if complaint in problem:
            return Fault(place, f"this is not YAML: {wrong}", right)
    return Fault(place, f"this is not YAML: {problem}", "check indentation, colons and quotation marks near here")


def _beyond_unicode(file: str, text: str) -> Fault:
    found = _ESCAPE.search(text)
    return Fault(
        place_after(file, text[: found.start()] if found else ""),
        "this is not YAML: found an escape for no character",
        "write the character itself",
    )
