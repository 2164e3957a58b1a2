"""Items that differ in numbers only: the first is read and proved in full, the others are read into its place.

What is taken over from the first, and why that is sound: the bytes of two items are compared piece by piece. Where all
is the same but for runs of digits and points, and each of these that differs stands in one of the texts that
``_may_vary`` (found by parsing the first item with marks there), the parser would make the same tree of both, but for
these texts. So the new texts are put into the tree, all numbers of rules and declarations are read from there once
more, and the item is marked and proved like any other. Only what no such text can change is not looked at again: that
names refer to what is there (the identifier of the item itself apart, no name, address or score is among those texts),
which elements there are, and how rules are built. A first item with any finding is followed by none.

Once it is known what the proof of an item depended on (``again``), the tree goes: of most later items only the numbers
are looked at, and one that is not as expected is read and proved by itself.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from ..strangers.documents import MATHML, TAIL, TEXT, Element, ElementPlace
from .again.known import Known, known_of
from .again.texts import CLOSE, OPEN, VaryingText, mark
from .marking.item_proof import ItemProof, Wanted
from .processing.response import Marking
from .processing.values import CannotMarkError, read_responses_again
from .reading.item_file import ItemFile
from .words.feedback import Feedback

MOST_FIRST = 64  # whose trees are kept, each of which takes about a megabyte
MOST_KNOWN = 512  # of whose items only numbers are looked at; each takes as much as an item and some numbers
MOST_TRIED = 8  # items of a series, until it is taken for one of which too little is known
_DIGITS = b"0123456789."
_NUMBER = re.compile(rb"[0-9.]+")
_SPLIT = re.compile(rb"([0-9.]+)")
_VALUE = re.compile(rb"""\s(?:identifier|tolerance|alttext)\s*=\s*["'][^<"']*$""")
_QUOTE = re.compile(b"[\"'<>]")
_READ_BY_ALL = frozenset({"qti-item-body", "qti-modal-feedback"})
_RULES = "qti-response-processing"


class Series:
    """The series met last, each by what its items are without their numbers; of those not known yet, the first item."""

    def __init__(self) -> None:
        self._first: dict[int, _First] = {}
        self._known: dict[int, tuple[_Bytes, Known]] = {}

    def read(self, name: str, data: bytes) -> Alike | None:
        """The item in the member ``name``, where it is one of a series that was met."""
        key = _key(data)
        known, first = self._known.pop(key, None), self._first.pop(key, None)
        if known:
            self._known[key] = known
            numbers = known[0].numbers_in(data)
            return None if numbers is None else Alike(name, data, numbers, known[1])
        if first is None:
            return None
        alike = first.read(name, data)
        if first.known:
            self._known[key] = first.bytes, first.known
        else:
            self._first[key] = first
        if len(self._known) > MOST_KNOWN:
            del self._known[next(iter(self._known))]
        return alike

    def add(self, item: ItemFile, proof: ItemProof | None = None, wanted: Wanted | None = None) -> None:
        """Takes an item without a finding as the first of a series, with what came out where it was held so."""
        if item.is_template or OPEN.encode() in item.data or CLOSE.encode() in item.data:
            return
        key = _key(item.data)
        self._known.pop(key, None)
        self._first[key] = _First(item, proof, wanted)
        if len(self._first) > MOST_FIRST:
            del self._first[next(iter(self._first))]


def _key(data: bytes) -> int:
    return hash(data.translate(None, _DIGITS))


@dataclass(frozen=True)
class _Bytes:
    """The bytes of all items of a series: what stands between the numbers that ``varying`` names, and around them."""

    varying: Sequence[int]
    between: Sequence[bytes]

    def numbers_in(self, data: bytes) -> dict[int, str] | None:
        """The numbers that vary in an item, where all else is the same."""
        found: dict[int, str] = {}
        at, begins, match_at = 0, data.startswith, _NUMBER.match
        for number, before in zip(self.varying, self.between, strict=False):
            if not begins(before, at) or (match := match_at(data, at + len(before))) is None:
                return None
            at = match.end()
            found[number] = match[0].decode()
        last = self.between[-1]
        return found if len(data) == at + len(last) and data.endswith(last) else None


@dataclass(frozen=True)
class Alike:
    """An item that differs in ``numbers`` only from the first of its series.

    ``known`` is what the proof of another of its items depended on, once there was one.
    """

    name: str
    data: bytes
    numbers: Mapping[int, str]
    known: Known | None
    first: _First | None = None

    def filled(self) -> ItemFile | None:
        """The item as any other, in the tree of the first; None where it is to be read by itself."""
        return self.first.filled(self) if self.first else None

    def keep(self, item: ItemFile, proof: ItemProof, wanted: Wanted) -> None:
        """Takes what came out without a finding for the item when it was filled."""
        if self.first:
            self.first.keep(self, item, proof, wanted)


class _First:
    """The first item of a series; its tree is that of the item read last.

    The numbers in its bytes are counted from 0; those vary that have been met with another value, or are likely to be.
    """

    def __init__(self, item: ItemFile, proof: ItemProof | None, wanted: Wanted | None) -> None:
        self._item, self._proof, self._wanted = item, proof, wanted
        self._texts: list[VaryingText] = []
        self._free: dict[int, VaryingText] | None = None
        self._tried = 0
        self.known: Known | None = None
        self._told: frozenset[int] = frozenset()
        self._changed: frozenset[Element | str] = frozenset()
        self.bytes = _Bytes((), (item.data,))

    @cached_property
    def _pieces(self) -> list[bytes]:
        """Its bytes, each second piece a number; made when a second item is met, which many never are."""
        return _SPLIT.split(self._item.data)

    def read(self, name: str, data: bytes) -> Alike | None:
        """The item of these bytes; None where it is not alike, or differs where that could mean more than a number."""
        numbers = self.bytes.numbers_in(data)
        if numbers is None and self._learn(data):
            numbers = self.bytes.numbers_in(data)
        return None if numbers is None else Alike(name, data, numbers, self.known, self)

    def _learn(self, data: bytes) -> bool:
        """Takes the numbers that differ as varying ones, where that is sound."""
        pieces = _SPLIT.split(data)
        if pieces[::2] != self._pieces[::2]:
            return False
        differing = {at // 2 for at in range(1, len(pieces), 2) if pieces[at] != self._pieces[at]}
        if self._free is None:
            self._free = self._find()
            differing |= self._likely()
        if not differing <= self._free.keys():
            return False
        self._texts = list(
            {id(each): each for each in map(self._free.__getitem__, (*self.bytes.varying, *differing))}.values()
        )
        varying = sorted({number for each in self._texts for number in each.numbers})
        self._told = self._feedback.around(each.place.element for each in self._texts)
        self._changed = frozenset(changed for each in self._texts for changed in _read_from(each.place))
        between = [b"".join(self._pieces[start:stop]) for start, stop in _gaps(varying, len(pieces))]
        self.bytes = _Bytes(varying, between)
        self._tried, self.known = 0, self._know_first()
        return True

    def _know_first(self) -> Known | None:
        """What the proof of the first item depended on."""
        if self._proof is None or self._wanted is None:
            return None
        numbers = {number: self._pieces[2 * number + 1].decode() for number in self.bytes.varying}
        for text in self._texts:
            text.put(numbers)
        return known_of(self._item, self._proof, self._wanted, self._texts, numbers)

    @property
    def _feedback(self) -> Feedback:
        return self._item.keep("feedback", lambda: Feedback(self._item))

    def _likely(self) -> set[int]:
        """The numbers that some later item will vary: those of more than a digit, but in what is told of answers."""
        assert self._free is not None
        places = {id(each): each for number, each in self._free.items() if len(self._pieces[2 * number + 1]) > 1}
        feedback = self._feedback
        likely = [each for each in places.values() if feedback.around([each.place.element]) <= feedback.solutions]
        return {number for each in likely for number in each.numbers}

    def _find(self) -> dict[int, VaryingText]:
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
                marked[2 * number + 1] = mark(number).encode()
        places = self._item.root.places_of(OPEN, b"".join(marked)) or ()
        texts = [VaryingText.of(each) for each in places if _may_vary(each, self._item)]
        return {number: each for each in texts for number in each.numbers}

    def filled(self, alike: Alike) -> ItemFile | None:
        """An item of the series, in the place of that which was read last."""
        for text in self._texts:
            text.put(alike.numbers)
        read_responses_again(self._item.root, self._item.declarations)
        self._feedback.forget(self._told)
        try:
            for each in self._item.kept.values():
                if isinstance(each, Marking):
                    each.read_again(self._changed)
        except CannotMarkError:  # which a proof in full tells of
            return None
        return replace(self._item, name=alike.name, data=alike.data)

    def keep(self, alike: Alike, item: ItemFile, proof: ItemProof, wanted: Wanted) -> None:
        """Takes what came out without a finding for an item that was filled just now."""
        if self.known is None and self._tried < MOST_TRIED:
            self._tried += 1
            self.known = known_of(item, proof, wanted, self._texts, alike.numbers)


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
