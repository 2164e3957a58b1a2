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
    opened = _text_before(text, mark.line) if mark else None
    if opened:
        place, end = Place(file, opened.start_mark.line + 1, opened.start_mark.column + 1), opened.end_mark.line + 1
        wrong = f"the quotation mark that is opened here is closed only in line {end}"
        return Fault(place, f"this is not YAML: {wrong}", "close it where its text ends")
    place = Place(file, mark.line + 1, mark.column + 1) if mark else Place(file)
    for complaint, wrong, right in _PLAIN:
        if complaint in problem:
            return Fault(place, f"this is not YAML: {wrong}", right)
    return Fault(place, f"this is not YAML: {problem}", "check indentation, colons and quotation marks near here")


def _text_before(text: str, line: int) -> yaml.ScalarToken | None:
    """The quoted text over several lines that ends in the line of a complaint or next to it: its end was forgotten."""
    found: yaml.ScalarToken | None = None
    try:
        for token in yaml.scan(text, Loader=yaml.SafeLoader):
            if token.start_mark.line > line:
                break
            if isinstance(token, yaml.ScalarToken) and token.style in ("'", '"'):
                found = token
    except (yaml.YAMLError, ValueError, OverflowError):
        pass  # what was read before it is what counts
    over_lines = found and found.end_mark.line > found.start_mark.line and found.end_mark.line >= line - 1
    return found if over_lines else None


def _beyond_unicode(file: str, text: str) -> Fault:
    found = _ESCAPE.search(text)
    return Fault(
        place_after(file, text[: found.start()] if found else ""),
        "this is not YAML: found an escape for no character",
        "write the character itself",
    )
