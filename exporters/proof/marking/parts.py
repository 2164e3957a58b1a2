"""What an item asks: its parts in the order of the page, each with its options, and the buttons that give hints.

The options are checked against those that a part was written from, and the names that its marking uses against them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal, TypeAlias

from ....bank.item import formula
from ....bank.item.drawing import Drawing
from ....bank.item.item import ChoiceEntry, Entry, MatchEntry, Math, NumberEntry, OrderEntry, Paragraph
from ...strangers.archive import resolve
from ...strangers.documents import Element
from ...strangers.parsing import HouseRule, shown
from ..processing.values import CannotMarkError, Declaration, parse_pair
from ..reading.item_file import NOT_STEM, ItemFile
from ..words.wording import BOX, expected_words, plain_words, said_by, says, says_something

Kind: TypeAlias = Literal["number", "choice", "several", "order", "match"]

TEXT_ENTRY, BUTTON = "qti-text-entry-interaction", "qti-end-attempt-interaction"
UNDECLARED = "it names what is not declared"

# What each interaction asks for, by cardinality and base type of its response.
KINDS: Mapping[str, Mapping[tuple[str, str], Kind]] = MappingProxyType(
    {
        TEXT_ENTRY: {("single", "float"): "number", ("single", "integer"): "number"},
        "qti-choice-interaction": {("single", "identifier"): "choice", ("multiple", "identifier"): "several"},
        "qti-inline-choice-interaction": {("single", "identifier"): "choice"},
        "qti-order-interaction": {("ordered", "identifier"): "order"},
        "qti-match-interaction": {("multiple", "directedPair"): "match"},
    }
)
_OPTIONS = frozenset({"qti-simple-choice", "qti-inline-choice", "qti-simple-associable-choice"})
MOST_PARTS = MOST_OPTIONS = 26
Contents: TypeAlias = Sequence[Paragraph | Drawing]


@dataclass(frozen=True)
class ReadPart:
    """One interaction with its response.

    ``options`` are those of a choice or an order, or the rows of a match; ``columns`` are its second set.
    """

    kind: Kind
    interaction: Element
    response: Declaration
    options: tuple[Element, ...] = ()
    columns: tuple[Element, ...] = ()

    @property
    def names(self) -> tuple[str, ...]:
        """The identifiers of the options."""
        return tuple(each.get("identifier") for each in self.options)

    @property
    def column_names(self) -> tuple[str, ...]:
        """The identifiers of the columns."""
        return tuple(each.get("identifier") for each in self.columns)


@dataclass(frozen=True)
class Parts:
    """The parts of one item, and its hint buttons."""

    parts: tuple[ReadPart, ...]
    buttons: tuple[Element, ...]

    @property
    def kind(self) -> str:
        """What kind of item it is."""
        return self.parts[0].kind if len(self.parts) == 1 else "stepwise"


def read_parts(item: ItemFile) -> Parts | str:
    """The parts of an item, or why it cannot be marked."""
    interactions = _in_order(item)
    if len(interactions) < len(item.interactions()):
        return "an interaction of it stands where nobody can answer"
    asked = [each for each in interactions if each.name != BUTTON]
    if not 0 < len(asked) <= MOST_PARTS:
        return f"it has {len(asked)} interactions"
    for each in asked:
        why = _obstacle(item, each)
        if why:
            return why
    buttons = tuple(each for each in interactions if each.name == BUTTON)
    return Parts(tuple(_part(item, each) for each in asked), buttons)


def _in_order(item: ItemFile) -> list[Element]:
    found, body = item.interactions(), item.root.child("qti-item-body")
    return body.in_order(found) if body and len(found) > 1 else found


def _obstacle(item: ItemFile, interaction: Element) -> str:
    if interaction.name not in KINDS:
        return f"its answer is given in a {shown(interaction.name)}"
    response = item.declarations.get(interaction.get("response-identifier"))
    if response is None or response.kind != "response":
        return UNDECLARED
    if interaction.name == TEXT_ENTRY and (response.cardinality, response.base) not in KINDS[TEXT_ENTRY]:
        return f"its answer is a {shown(response.cardinality)} {shown(response.base)}, no number"
    return ""


def _part(item: ItemFile, interaction: Element) -> ReadPart:
    response = item.declarations[interaction.get("response-identifier")]
    kind = KINDS[interaction.name].get((response.cardinality, response.base))
    if kind is None:
        expected = " or ".join(f"{cardinality} {base}" for cardinality, base in KINDS[interaction.name])
        found = f"{shown(response.cardinality)} {shown(response.base)}"
        raise CannotMarkError(f"the answer to {interaction.name} is declared as {found}, {expected} expected")
    if kind != "match":
        return ReadPart(kind, interaction, response, _options(interaction))
    sets = [each for each in interaction.children if each.name == "qti-simple-match-set"]
    if len(sets) != 2:
        raise CannotMarkError(f"sets of {interaction.name}: {len(sets)}, 2 expected")
    return ReadPart(kind, interaction, response, _options(sets[0]), _options(sets[1]))


def _options(holder: Element) -> tuple[Element, ...]:
    found = tuple(each for each in holder.children if each.name in _OPTIONS)
    if len(found) > MOST_OPTIONS:
        raise CannotMarkError(f"{holder.name} has {len(found)} options, at most {MOST_OPTIONS} are tried")
    return found


def check_options(part: ReadPart, entry: Entry | None) -> Iterator[str]:
    """What is wrong with the options of a part, before any is chosen."""
    for what, found, expected in _sets(part, entry):
        yield from check_number(what, len(found))
        if expected is not None and len(found) != len(expected):
            yield f"{what}s: {len(found)}, {len(expected)} expected"
        elif expected is not None:
            yield from _check_words(what, found, expected)
        yield from _check_alike(what, found)
    yield from _check_names(part)


def _sets(part: ReadPart, entry: Entry | None) -> Iterator[tuple[str, Sequence[Element], Contents | None]]:
    """What each set of options is called, what is there, and what should be."""
    match entry:
        case MatchEntry(rows=rows, columns=columns):
            yield "row", part.options, rows
            yield "column", part.columns, columns
        case ChoiceEntry(options=options):
            yield "option", part.options, [each.content for each in options]
        case OrderEntry(options=contents):
            yield "option", part.options, contents
        case _ if part.kind == "match":
            yield "row", part.options, None
            yield "column", part.columns, None
        case _:
            yield "option", part.options, None


def _check_words(what: str, found: Sequence[Element], expected: Contents) -> Iterator[str]:
    for element, content in zip(found, expected, strict=True):
        said, accepted = said_by(element), expected_words(content)
        if said not in accepted:
            yield f"{what} {shown(element.get('identifier'))} says '{shown(said)}', '{shown(accepted[0])}' expected"
        pictures = sum(each.name in ("img", "object") for each in element.walk())
        if pictures != isinstance(content, Drawing):
            wanted = "a picture" if isinstance(content, Drawing) else "no picture"
            yield f"pictures of {what} {shown(element.get('identifier'))}: {pictures}, {wanted} expected"


def check_number(what: str, found: int) -> Iterator[str]:
    """Too few options to choose from."""
    if found < 2:
        yield HouseRule(f"{what}s to choose from: {found}, 2 or more expected")


def check_told_apart(what: str, options: Iterable[tuple[str, str, object]]) -> Iterator[str]:
    """What options say nothing or the same; each has a name, its words, and all that a candidate sees of it."""
    met: dict[object, str] = {}
    for name, said, seen in options:
        if not says_something(said):
            yield HouseRule(f"{what} {shown(name)} says nothing")
        elif seen in met:
            yield HouseRule(f"{what}s {shown(met[seen])} and {shown(name)} say the same, '{shown(said)}'")
        met.setdefault(seen, name)


def _check_alike(what: str, found: Sequence[Element]) -> Iterator[str]:
    """Options that cannot be told apart, and options that say nothing at all."""
    said = [(each.get("identifier"), said_by(each)) for each in found]
    yield from check_told_apart(what, ((name, words, words) for name, words in said))
    sources = [each.get("src") for element in found for each in element.walk() if each.name == "img"]
    for source, times in Counter(sources).items():
        if times > 1:
            yield HouseRule(f"{times} {what}s show the same picture, '{shown(source)}'")


def option_pictures(item: ItemFile, part: ReadPart, entry: Entry | None) -> Iterator[tuple[str, str]]:
    """The members that options show as pictures, each with the words that should describe it."""
    if not isinstance(entry, ChoiceEntry) or len(entry.options) != len(part.options):
        return
    for element, option in zip(part.options, entry.options, strict=True):
        content = option.content
        for image in element.walk() if isinstance(content, Drawing) else ():
            name = resolve(image.get("src"), item.name) if image.name == "img" else None
            if name and isinstance(content, Drawing):
                yield name, content.description


def _check_names(part: ReadPart) -> Iterator[str]:
    """Correct values and keys of a mapping that no option bears."""
    mapping = part.response.mapping
    keys = [each.get("map-key") for each in mapping.children if each.name == "qti-map-entry"] if mapping else []
    for what, names in (("correct response", part.response.correct), ("mapping", keys)):
        for name in names:
            if not is_known(part, name):
                yield f"the {what} names '{shown(name)}', which is no {'pair' if part.kind == 'match' else 'option'}"


def is_known(part: ReadPart, name: str) -> bool:
    """Whether a part has an option of that name, or a row and a column for that pair."""
    if part.kind != "match":
        return name.strip() in part.names
    row, _, column = (parse_pair(name) or "").partition(" ")
    return row in part.names and column in part.column_names


def check_page(item: ItemFile, part: ReadPart, entry: Entry, shuffle: bool) -> Iterator[str]:
    """Whether the page asks what it should, and shuffles only what may be shuffled."""
    body = item.root.child("qti-item-body")
    said = said_by(body, NOT_STEM) if body else ""
    if isinstance(entry, NumberEntry):
        yield from _check_unit(item, part, entry, said)
        return
    prompt = expected_words(entry.prompt)
    if not says(said, prompt):
        yield f"the page does not say '{shown(prompt[0])}'"
    wanted = isinstance(entry, ChoiceEntry) and entry.shuffle and shuffle
    if (part.interaction.get("shuffle") == "true") != wanted:
        yield f"the options are {'not ' if wanted else ''}shuffled, the contrary expected"


def _check_unit(item: ItemFile, part: ReadPart, entry: NumberEntry, said: str) -> Iterator[str]:
    """The asked quantity must stand before the box, and the unit behind it, since nobody is to type it."""
    boxes = item.root.in_order(item.all(TEXT_ENTRY))
    around = said.split(BOX)
    if len(around) != len(boxes) + 1:
        return
    place = boxes.index(part.interaction)
    symbols = (*expected_words((Math(entry.symbol),)), plain_words(formula.text(entry.symbol)))
    if not around[place].endswith(tuple(f"{each}=" for each in symbols)):
        yield f"the box for the answer does not stand behind '{shown(symbols[-1])} ='"
    if not around[place + 1].startswith(plain_words(entry.unit)):
        yield f"the box for the answer is not followed by its unit, '{shown(entry.unit)}'"


def count(element: Element, attribute: str, otherwise: int) -> int | None:
    """A whole number in an attribute, ``otherwise`` where it is missing; None where it is no such number."""
    text = element.get(attribute)
    if not text:
        return otherwise
    return int(text) if text.isascii() and text.isdigit() and len(text) < 10 else None


def check_most(element: Element, attribute: str, otherwise: int, needed: int) -> Iterator[str]:
    """A finding, where an attribute does not let a candidate choose as many as needed; 0 means any number."""
    most = count(element, attribute, otherwise)
    called = f"{attribute} of {element.name}"
    if most is None:
        yield f"{called} is '{shown(element.get(attribute))}', a whole number expected"
    elif 0 < most < needed:
        yield f"{called} is {most}, {needed} or more needed"
