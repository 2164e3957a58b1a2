"""Items of one question that differ in numbers only: what is the same is set as a tree once, the numbers are filled in.

How an item is written is said by ``assessment_item`` alone. When an item comes whose words, formulas and rules an
earlier one had, it is written with a mark in place of each number; between the marks stand the bytes of all items like
it. They must give the earlier item as it was written from its own tree, else all of these are written as trees.
"""

from __future__ import annotations

import re
from collections.abc import Hashable, Sequence
from dataclasses import dataclass, field, replace

from ...bank.item import formula
from ...bank.item.item import Given, Inline, Item, Math, NumberEntry, Paragraph, Step, Words
from ..packages.instructions import how_exact
from ..packages.naming import QuestionNames
from .assessment_item import assessment_item
from .content import Pieces
from .number import Printed

MOST_KEPT = 256  # kinds of items of a question; a long series of variants has about a hundred
_DIGITS = re.compile(r"[0-9.]+°?")  # one with a sign is set in another way
_TYPED = re.compile(r"[-−0-9.,×⁻⁰¹²³⁴⁵⁶⁷⁸⁹ ]+")
_MARK = "1\ue000{}\ue001"  # a number that no text has: it begins with a digit, the rest is of the private use area
_MARKED = re.compile(_MARK.format("([0-9]+)").encode())


@dataclass
class _Likeness:
    """What tells an item from those unlike it, and its numbers as they are written, in the order of the page."""

    key: list[Hashable] = field(default_factory=list)
    texts: list[str] = field(default_factory=list)

    def of(self, item: Item) -> None:
        """Takes all that is written of an item with a number entry alone; steps with numbers are new for each item."""
        for paragraph in item.stem:
            self._paragraph(paragraph)
        self._entry(item.entry)
        self.key.append(id(item.hints))
        for step in item.solution:
            if step.stage != "numbers":
                self.key.append(id(step))
                continue
            self.key += (step.number, step.heading)
            for paragraph in step.paragraphs:
                self._paragraph(paragraph)

    def _entry(self, entry: NumberEntry) -> None:
        printed = Printed.of(entry)
        self.key += (entry.symbol, entry.name, entry.unit, how_exact(entry), entry.marks, len(entry.recognised))
        self.key += [each.feedback for each in entry.recognised]
        self.texts += (printed.key, printed.half_width, printed.told_key, printed.told_half_width)
        for each in printed.recognised:
            self.texts += each

    def _paragraph(self, paragraph: Paragraph) -> None:
        self.key.append(len(paragraph))
        for part in paragraph:
            if type(part) is Words:
                self.key.append(part.text)
            elif type(part) is Given and _TYPED.fullmatch(part.number):
                self.key.append(part.unit)
                self.texts.append(part.number)
            elif type(part) is Math:
                self._node(part.node)
            else:
                self.key.append(part)

    def _node(self, node: formula.Node) -> None:
        kind = type(node).__name__
        if isinstance(node, formula.Number) and _DIGITS.fullmatch(node.text):
            self.key.append(kind)
            self.texts.append(node.text)
        elif isinstance(node, formula.Row):
            self.key += (kind, len(node.parts))
            for each in node.parts:
                self._node(each)
        elif isinstance(node, formula.Fraction):
            self.key.append(kind)
            self._node(node.above)
            self._node(node.below)
        elif isinstance(node, formula.Power):
            self.key += (kind, node.exponent)
            self._node(node.base)
        elif isinstance(node, formula.Root):
            self.key += (kind, node.index)
            self._node(node.body)
        elif isinstance(node, formula.Group):
            self.key.append(kind)
            self._node(node.body)
        elif isinstance(node, formula.Call):
            self.key += (kind, node.name, node.inverse)
            self._node(node.argument)
        else:
            self.key.append(node)


class _Marking:
    """Puts marks in place of numbers, in the order in which ``_Likeness`` takes them."""

    def __init__(self) -> None:
        self._count = 0

    def mark(self) -> str:
        """The next mark."""
        self._count += 1
        return _MARK.format(self._count - 1)

    def item(self, item: Item) -> tuple[Item, Printed]:
        """The item and the numbers of its entry, marked."""
        stem = tuple(map(self._paragraph, item.stem))
        key, half_width, told_key, told_half_width = (self.mark() for _ in range(4))
        known = tuple((self.mark(), self.mark()) for _ in item.entry.recognised)
        solution = tuple(self._step(step) if step.stage == "numbers" else step for step in item.solution)
        printed = Printed(key, half_width, told_key, told_half_width, known)
        return replace(item, stem=stem, solution=solution), printed

    def _step(self, step: Step) -> Step:
        return replace(step, paragraphs=tuple(map(self._paragraph, step.paragraphs)))

    def _paragraph(self, paragraph: Paragraph) -> Paragraph:
        return tuple(map(self._part, paragraph))

    def _part(self, part: Inline) -> Inline:
        if type(part) is Given and _TYPED.fullmatch(part.number):
            return replace(part, number=self.mark())
        return Math(self._node(part.node)) if type(part) is Math else part

    def _node(self, node: formula.Node) -> formula.Node:
        made = node
        match node:
            case formula.Number(text=text) if _DIGITS.fullmatch(text):
                made = formula.Number(self.mark())
            case formula.Row(parts=parts):
                made = formula.Row(tuple(map(self._node, parts)))
            case formula.Fraction(above=above, below=below):
                made = formula.Fraction(self._node(above), self._node(below))
            case formula.Power(base=base, exponent=exponent):
                made = formula.Power(self._node(base), exponent)
            case formula.Root(body=body, index=index):
                made = formula.Root(self._node(body), index)
            case formula.Group(body=body):
                made = formula.Group(self._node(body))
            case formula.Call(name=name, argument=argument, inverse=inverse):
                made = formula.Call(name, self._node(argument), inverse)
        return made


@dataclass(frozen=True)
class _FirstOfKind:
    """The first item of a kind, whose objects the kind is known by, and its file."""

    item: Item
    index: int
    texts: Sequence[str]
    written: bytes


@dataclass(frozen=True)
class _Pattern:
    """The file of all items of a kind: each second piece is a place of a number, the last that of its name."""

    first: _FirstOfKind
    pieces: Sequence[bytes]
    places: Sequence[int]

    def filled(self, texts: Sequence[str], identifier: str) -> bytes:
        """The file with these numbers."""
        written = [each.encode() for each in (*texts, identifier)]
        pieces = list(self.pieces)
        pieces[1::2] = [written[each] for each in self.places]
        return b"".join(pieces)


class Documents:
    """Writes the files of a question's items, whatever they are like; kinds that are not used for long are let go."""

    def __init__(self, question: QuestionNames, pieces: Pieces) -> None:
        self._question, self._pieces = question, pieces
        self._known: dict[Hashable, _FirstOfKind | _Pattern | None] = {}

    def written(self, item: Item, index: int) -> bytes:
        """The file of the item at ``index``."""
        if type(item) is not Item or len(item.entries) > 1 or not _is_plain(item.entries[0]):
            return self._tree(item, index)
        numbers = _Likeness([self._question.section.figure_of[index]])
        numbers.of(item)
        key = tuple(numbers.key)
        is_new = key not in self._known
        known = self._known.pop(key, None)
        if isinstance(known, _FirstOfKind):
            known = self._pattern(known, item, index)
        if isinstance(known, _Pattern):
            made = known.filled(numbers.texts, self._question.item(index))
        else:
            made = self._tree(item, index)
        self._known[key] = _FirstOfKind(item, index, numbers.texts, made) if is_new else known
        if len(self._known) > MOST_KEPT:
            del self._known[next(iter(self._known))]
        return made

    def _tree(self, item: Item, index: int, numbers: Printed | None = None) -> bytes:
        return self._pieces.document(assessment_item(item, self._question, index, self._pieces, numbers))

    def _pattern(self, first: _FirstOfKind, item: Item, index: int) -> _Pattern | None:
        """The pattern of a kind, from another item; None where the first would come out otherwise than it did."""
        count = len(first.texts)
        marked, printed = _Marking().item(item)
        identifier = _named(self._question.item(index))
        written = self._tree(marked, index, printed)
        if written.count(identifier) != 1:
            return None
        pieces = _MARKED.split(written.replace(identifier, _named(_MARK.format(count))))
        pattern = _Pattern(first, pieces, list(map(int, pieces[1::2])))
        known = all(place <= count for place in pattern.places)
        made = pattern.filled(first.texts, self._question.item(first.index)) if known else b""
        return pattern if made == first.written else None


def _named(identifier: str) -> bytes:
    return f' identifier="{identifier}"'.encode()


def _is_plain(entry: object) -> bool:
    return isinstance(entry, NumberEntry) and not entry.carried
