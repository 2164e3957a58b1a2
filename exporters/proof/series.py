"""Items that differ in numbers only: the first is read and proved in full, the others are read into its place.

What is taken over from the first, and why that is sound: the bytes of two items are compared piece by piece. Where all
is the same but for runs of digits and points, and each of these that differs stands in one of the texts that
``_may_vary`` (found by parsing the first item with marks there), the parser would make the same tree of both, but for
these texts. So the new texts are put into the tree, all numbers of rules and declarations are read from there once
more, and the item is marked and proved like any other. Only what no such text can change is not looked at again: that
names refer to what is there (the identifier of the item itself apart, no name, address or score is among those texts),
which elements there are, and how rules are built. A first item with any finding is followed by none.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from ..strangers.documents import MATHML, TAIL, TEXT, Element, ElementPlace
from .processing.response import Marking
from .processing.values import CannotMarkError, read_responses_again
from .reading.item_file import ItemFile
from .words.feedback import Feedback, ToldSolution

MOST_SERIES = 64  # of a long series of variants, all but a fiftieth are met again; each takes about a megabyte
_DIGITS = b"0123456789."
_NUMBER = re.compile(rb"[0-9.]+")
_SPLIT = re.compile(rb"([0-9.]+)")
_OPEN, _CLOSE = "\ue000", "\ue001"  # of the private use area; an item that has one is the first of no series
_VALUE = re.compile(rb"""\s(?:identifier|tolerance|alttext)\s*=\s*["'][^<"']*$""")
_QUOTE = re.compile(b"[\"'<>]")
_MARK = re.compile(f"{_OPEN}([0-9]+){_CLOSE}")
_READ_BY_ALL = frozenset({"qti-item-body", "qti-modal-feedback"})
_RULES = "qti-response-processing"


class Series:
    """The first items of the series met last, each by what it is without its numbers."""

    def __init__(self) -> None:
        self._known: dict[int, _First] = {}

    def read(self, name: str, data: bytes) -> ItemFile | None:
        """The item in the member ``name``, where it is one of a series that is known."""
        key = _key(data)
        first = self._known.pop(key, None)
        if first is None:
            return None
        self._known[key] = first
        return first.read(name, data)

    def add(self, item: ItemFile) -> None:
        """Takes an item without a finding as the first of a series."""
        if item.is_template or _OPEN.encode() in item.data or _CLOSE.encode() in item.data:
            return
        self._known[_key(item.data)] = _First(item)
        if len(self._known) > MOST_SERIES:
            del self._known[next(iter(self._known))]


def _key(data: bytes) -> int:
    return hash(data.translate(None, _DIGITS))


@dataclass(frozen=True)
class _Text:
    """A text that holds ``numbers`` that vary; ``pieces`` are what is between them, with room for them."""

    place: ElementPlace
    pieces: tuple[str, ...]
    numbers: tuple[int, ...]

    def put(self, numbers: dict[int, str]) -> None:
        """Writes the text with these numbers."""
        pieces = list(self.pieces)
        pieces[1::2] = [numbers[each] for each in self.numbers]
        self.place.put("".join(pieces))


def _text(place: ElementPlace) -> _Text:
    pieces = tuple(_MARK.split(place.written))
    return _Text(place, pieces, tuple(map(int, pieces[1::2])))


class _First:
    """The first item of a series; its tree is that of the item read last.

    The numbers in its bytes are counted from 0; ``_varying`` are those that have been met with another value.
    """

    def __init__(self, item: ItemFile) -> None:
        self._item = item
        self._varying: list[int] = []
        self._texts: list[_Text] = []
        self._free: dict[int, _Text] | None = None
        self._told: frozenset[int] = frozenset()
        self._changed: frozenset[Element | str] = frozenset()
        self._between: list[bytes] = [item.data]

    @cached_property
    def _pieces(self) -> list[bytes]:
        """Its bytes, each second piece a number; made when a second item is met, which many never are."""
        return _SPLIT.split(self._item.data)

    def read(self, name: str, data: bytes) -> ItemFile | None:
        """The item of these bytes; None where it is not alike, or differs where that could mean more than a number."""
        numbers = self._numbers_in(data)
        if numbers is None and self._learn(data):
            numbers = self._numbers_in(data)
        return None if numbers is None else self._filled(name, data, numbers)

    def _numbers_in(self, data: bytes) -> dict[int, str] | None:
        """The numbers that vary, where all else is the same."""
        found: dict[int, str] = {}
        at = 0
        for number, before in zip(self._varying, self._between, strict=False):
            if not data.startswith(before, at):
                return None
            match = _NUMBER.match(data, at + len(before))
            if match is None:
                return None
            found[number], at = match[0].decode(), match.end()
        return found if data[at:] == self._between[-1] else None

    def _learn(self, data: bytes) -> bool:
        """Takes the numbers that differ as varying ones, where that is sound."""
        pieces = _SPLIT.split(data)
        if pieces[::2] != self._pieces[::2]:
            return False
        differing = {at // 2 for at in range(1, len(pieces), 2) if pieces[at] != self._pieces[at]}
        if self._free is None:
            self._free = self._find()
        if not differing <= self._free.keys():
            return False
        self._texts = list(
            {id(each): each for each in map(self._free.__getitem__, (*self._varying, *differing))}.values()
        )
        self._varying = sorted({number for each in self._texts for number in each.numbers})
        self._told = self._feedback.around(each.place.element for each in self._texts)
        self._item.keep("solution", lambda: ToldSolution(self._item)).vary([each.place for each in self._texts])
        self._changed = frozenset(changed for each in self._texts for changed in _read_from(each.place))
        self._item.keep("told numbers", dict).clear()
        self._between = [b"".join(self._pieces[start:stop]) for start, stop in _gaps(self._varying, len(pieces))]
        return True

    @property
    def _feedback(self) -> Feedback:
        return self._item.keep("feedback", lambda: Feedback(self._item))

    def _find(self) -> dict[int, _Text]:
        """The numbers that may vary, each with the text in which it stands.

        Marks are put where a text or a value seems to be; what is no such place, the parser finds out.
        """
        marked, inside, value = self._pieces.copy(), False, False
        for number in range(len(marked) // 2):
            before = marked[2 * number]
            end = max(before.rfind(b"<"), before.rfind(b">"))
            inside = inside if end < 0 else before[end : end + 1] == b"<"
            value = bool(_VALUE.search(before)) or (value and not _QUOTE.search(before))
            if value or not inside:
                marked[2 * number + 1] = f"{_OPEN}{number}{_CLOSE}".encode()
        places = self._item.root.places_of(_MARK.search, b"".join(marked)) or ()
        texts = [_text(each) for each in places if _may_vary(each, self._item)]
        return {number: each for each in texts for number in each.numbers}

    def _filled(self, name: str, data: bytes, numbers: dict[int, str]) -> ItemFile | None:
        for text in self._texts:
            text.put(numbers)
        read_responses_again(self._item.root, self._item.declarations)
        self._feedback.forget(self._told)
        try:
            for each in self._item.kept.values():
                if isinstance(each, Marking):
                    each.read_again(self._changed)
        except CannotMarkError:  # which a proof in full tells of
            return None
        return replace(self._item, name=name, data=data)


def _read_from(place: ElementPlace) -> Iterable[Element | str]:
    """What rules know a text by that varies: their element, or the response of which it is the right answer."""
    element, around = place.element, place.element.around
    if element.name == _RULES or any(each.name == _RULES for each in around):
        yield element
    elif around and around[0].name == "qti-correct-response":
        yield around[1].get("identifier")


def _gaps(numbers: Sequence[int], end: int) -> Iterable[tuple[int, int]]:
    """From where to where the pieces between some numbers reach."""
    places = [2 * each + 1 for each in numbers]
    return zip([0, *(each + 1 for each in places)], [*places, end], strict=True)


def _may_vary(place: ElementPlace, item: ItemFile) -> bool:
    """Whether a number in a text can differ without any other consequence than that which is proved anew."""
    element, around = place.element, place.element.around
    names = [each.name for each in around]
    if place.slot not in (TEXT, TAIL):
        return (place.attribute, element.name) in {
            ("tolerance", "qti-equal") if _RULES in names else ("", ""),
            ("alttext", f"{MATHML}math") if "qti-item-body" in names else ("", ""),
            ("identifier", item.root.name) if not around else ("", ""),
        }
    if place.slot == TEXT and names[:1] == ["qti-correct-response"]:
        return element.name == "qti-value" and around[1].get("base-type") == "float"
    if place.slot == TEXT and _RULES in names:
        return element.name == "qti-base-value" and element.get("base-type") == "float" and names[0] == "qti-equal"
    inside = names if place.slot == TAIL else [element.name, *names]
    return not _READ_BY_ALL.isdisjoint(inside)
