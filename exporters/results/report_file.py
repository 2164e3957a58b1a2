"""One file of QTI results reporting (2.1, 2.2, 3.0), which holds the answers of one candidate.

Names by the results reporting specifications, in part from memory; their element names are the same in all three
versions. Variables may come in any order. What a stranger's file could do to a reader (entities, depth, length) is
refused before it is parsed.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from datetime import UTC, datetime

from lxml import etree

from ...bank.analysis.assessment import row_name
from ..strangers.parsing import DocumentError, parse_whole
from .duration import seconds
from .sources import LIMITS
from .table_file import number

MOST_TAGS = 400_000
FAMILY = "imsqti_result"  # in each of the namespaces
BUILT_IN = frozenset({"numAttempts", "duration"})
_DECLARED = re.compile(rb"^\s*<\?xml[^>]*?encoding\s*=\s*[\"']([A-Za-z0-9._-]+)[\"'][^>]*\?>")
_OTHERS = {"iso-8859-1": "latin-1", "latin-1": "latin-1", "windows-1252": "cp1252"}
_ROW = re.compile(r"[1-9][0-9]{0,5}")


def read_report(pieces: Iterable[bytes]) -> Iterator[dict[str, str | float]]:
    """The answers in one file, a neutral row for each attempt; ``candidate`` is the id as written.

    Raises DocumentError for a file that can't be read, or that is no results report.
    """
    root = parse_whole(_utf8(_whole(pieces)), MOST_TAGS)
    if _name(root) != "assessmentResult" or (FAMILY not in str(root.tag) and "}" in str(root.tag)):
        raise DocumentError("is no results report: its root is not assessmentResult of QTI results reporting")
    context = _child(root, "context")
    candidate = (context.get("sourcedId") or context.get("sourcedID") or "") if context is not None else ""
    test = _child(root, "testResult")
    usual = _instant(test.get("datestamp", "")) if test is not None else ""
    for each in root:
        if _name(each) == "itemResult":
            yield {"candidate": candidate, **_answer(each, usual)}


def _whole(pieces: Iterable[bytes]) -> bytes:
    data = bytearray()
    for piece in pieces:
        data += piece
        if len(data) > LIMITS.document:
            raise DocumentError(f"has more than {LIMITS.document} bytes")
    return bytes(data)


def _utf8(data: bytes) -> bytes:
    """The document in UTF-8, without its own word on its encoding where that was another."""
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return re.sub(r"^\s*<\?xml[^>]*\?>", "", data.decode("utf-16", "replace")).encode("utf-8")
    declared = _DECLARED.match(data)
    other = _OTHERS.get(declared[1].decode().lower()) if declared else None
    if declared and other:
        return data[declared.end() :].decode(other, "replace").encode("utf-8")
    return data


def _answer(result: etree._Element, usual: str) -> dict[str, str | float]:
    responses, spent, score, row = {}, float("nan"), float("nan"), None
    for variable in result:
        name, kind = variable.get("identifier", ""), _name(variable)
        if kind == "responseVariable" and name == "duration":
            spent = seconds(" ".join(_values(_child(variable, "candidateResponse"))))
        elif kind == "responseVariable" and name not in BUILT_IN and variable.get("baseType") != "boolean":
            responses[name] = variable
        elif kind == "outcomeVariable" and name == "SCORE":
            score = number("".join(_values(variable)))
        elif kind == "templateVariable" and name == "ROW":
            row = "".join(_values(variable)).strip()
    return {
        "item": row_name(result.get("identifier", "").strip(), int(row) if row and _ROW.fullmatch(row) else None),
        "response": _text(responses, "candidateResponse"),
        "correct": _text(responses, "correctResponse"),
        "score": score,
        "duration": spent,
        "stamp": _instant(result.get("datestamp", "")) or usual or "0",
    }


def _text(responses: dict[str, etree._Element], part: str) -> str:
    """All responses in one text: one alone as its values, several each under its name."""
    given = {name: _values(_child(each, part)) for name, each in sorted(responses.items())}
    if len(given) == 1:
        return " ".join(next(iter(given.values())))
    return " ".join(f"{name}={value}" for name, values in given.items() for value in values)


def _values(parent: etree._Element | None) -> list[str]:
    if parent is None:
        return []
    texts = (" ".join((each.text or "").split()) for each in parent if _name(each) == "value")
    return [each for each in texts if each]


def _name(element: etree._Element) -> str:
    return str(element.tag).rpartition("}")[2]


def _child(parent: etree._Element, name: str) -> etree._Element | None:
    return next((each for each in parent if _name(each) == name), None)


def _instant(text: str) -> str:
    """A time that sorts as text: in UTC where a zone is told, as written where it can't be read."""
    try:
        found = datetime.fromisoformat(text.strip())
        return (found.astimezone(UTC) if found.tzinfo else found).replace(tzinfo=None).isoformat()
    except (ValueError, OverflowError):  # the first and last days of the calendar have no UTC in some zones
        return text.strip()
