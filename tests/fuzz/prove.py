"""Bytes as a pack for ``prove``: any file, or one of our packs with members changed (``packs`` says how it is written).

A pack with a change that still passes as what it was written from must say the same: the same texts before the
candidate, the same keys.
"""

from __future__ import annotations

import json
import random
import re
import tempfile
from collections.abc import Callable, Iterator
from functools import cache
from html.parser import HTMLParser
from pathlib import Path
from typing import cast

from lxml import etree
from turnwright import schemas
from turnwright.bank.errors import FileError
from turnwright.exporters.proof import Agreed, Report, prove
from turnwright.exporters.running.packing import ToProve

from tests.fuzz import packs
from tests.fuzz.bounds import is_harmless, within
from tests.fuzz.packs import Change, change_of, zipped
from tests.fuzz.xml_changes import changed

LONGEST = 60_000
SECONDS = 20
MOST_FINDINGS = 201
# what a candidate sees, and what is right, in the names of all formats
_SEEN = etree.XPath(
    "/*/*[local-name()='itemBody' or local-name()='qti-item-body']"
    " | //*[local-name()='item']/*[local-name()='presentation']"
)
_RIGHT = etree.XPath(
    "/*/*/*[local-name()='correctResponse' or local-name()='qti-correct-response']"
    " | //*[local-name()='respcondition'][*[local-name()='setvar']]/*[local-name()='conditionvar']"
)
# not before the candidate has answered: feedback, and what is for markers only
_HIDDEN = frozenset(
    {"feedbackBlock", "feedbackInline", "rubricBlock", "qti-feedback-block", "qti-feedback-inline", "qti-rubric-block"}
)
_BLANK = re.compile(r"\s+")


def check(data: bytes) -> None:
    """Any file ends as a report or as an error of ours; a changed pack that still passes means the same."""
    change = change_of(data)
    path = _path()
    path.write_bytes(zipped(change.whole()) if change else data)
    with within(SECONDS):
        report = _proved(path)
    if report is None or change is None or not report.ok:
        return
    with within(SECONDS):
        agreed = _proved(path, change.base)
    if agreed is not None and agreed.ok:
        _means_the_same(change)


def _proved(path: Path, base: str = "") -> Report | None:
    """The report, which is fit to be printed; none for a file that is no pack."""
    try:
        report = _as_written(path, base) if base else prove(path)
    except FileError as error:
        assert is_harmless(error.wrong) and is_harmless(error.right), repr(str(error))
        return None
    assert len(report.findings) <= MOST_FINDINGS
    assert all(map(is_harmless, (*report.findings, *report.unmarked))), report.findings
    assert report.marked <= report.items + report.rows
    json.dumps(report.as_json(), allow_nan=False)
    return report


def _as_written(path: Path, base: str) -> Report:
    """The proof that a pack is put to before it is handed over."""
    adapted = packs.adapted(base)
    agreed = Agreed(adapted.pack.sitting, adapted.delivery, adapted.pack.gravity)
    return prove(path, ToProve(adapted), exam=adapted.pack.purpose == "exam", agreed=agreed)


def _means_the_same(change: Change) -> None:
    first = packs.members(change.base)
    for name, content in change.members.items():
        if name in first and name.endswith(".xml") and content != first[name]:
            assert content is not None, f"{name} is gone, and nobody missed it"
            was, now = _root(first[name]), _root(content)
            if not _is_formed(now):
                continue
            assert _keys(was) == _keys(now), f"{name} has another key, and passed"
            said, place = "".join(_found(_SEEN, now)), 0
            for text in (each for element in _elements(_SEEN, was) for each in _texts(element)):
                words = _BLANK.sub("", text)
                place = said.find(words, place)
                assert place >= 0, f"{name} does not say {text!r} any more, and passed"
                place += len(words)


def _is_formed(root: etree._Element) -> bool:
    """Whether a file of 1.2.1 is one by our grammars: what has no place there at all, the proof may pass over."""
    if etree.QName(root).localname != "questestinterop":
        return True
    return any(schemas.grammar(each).validate(root) for each in ("qti-1.2.1", "cartridge-questions"))


def _root(content: bytes) -> etree._Element:
    return etree.fromstring(content, etree.XMLParser(remove_comments=True, remove_pis=True))


def _elements(path: etree.XPath, root: etree._Element) -> list[etree._Element]:
    return cast("list[etree._Element]", path(root))


def _found(path: etree.XPath, root: etree._Element) -> list[str]:
    """What each of these elements says, without blanks."""
    return [_BLANK.sub("", "".join(_texts(each))) for each in _elements(path, root)]


def _keys(root: etree._Element) -> list[list[str]]:
    """What is right, element by element; the tests of a rule may stand in any order, the values of a key may not."""
    said = [[_BLANK.sub("", each) for each in _texts(element)] for element in _elements(_RIGHT, root)]
    is_rule = [etree.QName(each).localname == "conditionvar" for each in _elements(_RIGHT, root)]
    return [sorted(filter(None, each)) if rule else ["".join(each)] for each, rule in zip(said, is_rule, strict=True)]


class _Html(HTMLParser):
    """What a piece of HTML says, the alternatives of its pictures included."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.said = ""
        self.feed(text)
        self.close()

    def handle_data(self, data: str) -> None:
        self.said += data

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.said += dict(attrs).get("alt") or ""


def _texts(element: etree._Element) -> Iterator[str]:
    """The texts inside that are there before an answer is given."""
    text = element.text or ""
    yield _Html(text).said if element.get("texttype") == "text/html" else text
    for each in element:
        if etree.QName(each).localname not in _HIDDEN:
            yield from _texts(each)
        yield each.tail or ""


@cache
def _path() -> Path:
    return Path(tempfile.mkdtemp(prefix="prove-")) / "fair.zip"


def mutated(data: bytes, longest: int, seed: int, plain: Callable[[bytes, int], bytes]) -> bytes:
    """A change of a change: a member altered as XML or by bytes, left out, renamed; at times the zip file itself."""
    dice = random.Random(seed)
    change = change_of(data)
    if change is None:
        return plain(data, longest) if dice.random() < 0.8 else packs.Change(dice.choice(packs.BASES)).written()
    if dice.random() < 0.02:
        return plain(zipped(change.whole()), longest)
    if dice.random() < 0.05:
        return Change(dice.choice(packs.BASES), change.members).written()[:longest]
    written = Change(change.base, {**change.members, **_altered(change, longest, dice, plain)}).written()
    return written if len(written) <= longest else Change(change.base).written()


def _altered(
    change: Change, longest: int, dice: random.Random, plain: Callable[[bytes, int], bytes]
) -> dict[str, bytes | None]:
    held = change.whole()
    if not held:
        return dict(packs.members(change.base))
    # one that was changed already is as likely as all others, so that changes add up
    names = list(change.members.keys() & held.keys()) if change.members and dice.random() < 0.5 else list(held)
    name = dice.choice(sorted(names) or sorted(held))
    content = held[name]
    way = dice.random()
    if way < 0.04:
        return {name: None}
    if way < 0.08:
        other = dice.choice(["../out.xml", "items/q01_v001.xml", "a.zip", name.upper(), name + " "])
        return {name: None, other: content}
    if way < 0.12:
        return {name: held[dice.choice(sorted(held))]}
    if way < 0.25:
        return {name: plain(content, min(longest, 2 * len(content) + 64))}
    return {name: changed(content, dice)}


def samples() -> Iterator[bytes]:
    """Each pack without a change."""
    yield from packs.plain()
