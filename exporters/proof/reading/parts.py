"""What an item asks: its parts in the order of the page, each with its options, and the buttons that give hints."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal, TypeAlias

from ...strangers.documents import Element
from ...strangers.parsing import shown
from ..processing.declarations import Declaration
from ..processing.values import CannotMarkError
from .item_file import ItemFile

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
