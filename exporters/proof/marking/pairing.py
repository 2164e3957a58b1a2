"""Things to be put in order, and rows to be matched with columns.

Every order and every way to match is marked, or many where there are too many.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from decimal import Decimal
from itertools import permutations, product

from ....bank.item.item import MatchEntry, OrderEntry
from ...strangers.parsing import HouseRule, shown
from ..words.wording import plain_words, says_something
from .parts import check_most, count
from .trial import EXACTLY, NEARLY, PartTrial, listed, marks

MOST_OPTIONS = 5

Order = tuple[str, ...]
MOST_WAYS = 256
Pairs = tuple[str, ...]


def examine_order(trial: PartTrial, entry: OrderEntry | None, practice: bool) -> Iterator[str]:
    """What is wrong with the marking of an order."""
    names, right = trial.part.names, tuple(trial.key)
    yield from check_most(trial.part.interaction, "max-choices", 0, len(names))
    if sorted(right) != sorted(names):
        yield f"the right order {shown(listed(right))} does not hold every option once"
    near = frozenset(exchanged(right))
    untouched = trial.score(names)
    if trial.part.interaction.get("shuffle") != "true" and untouched:
        yield HouseRule(f"the options stand in an order that scores {marks(untouched)} untouched")
    for order in _orders(names, right):
        called = f"the order {shown(listed(order))}"
        score = trial.score(order)
        if order == right:
            continue
        if entry:
            yield from trial.scores(order, Decimal(trial.full) / 2 if order in near else 0, called)
        elif score is None or score >= trial.full:
            yield f"{called} earns all marks, but {shown(listed(right))} is right"
    if practice:
        yield from _check_feedback(trial, entry.feedback if entry else "")


def exchanged(right: Order) -> Iterator[Order]:
    """Every order that comes of the right one when two neighbours change places; told here, not as the writers do."""
    for place in range(1, len(right)):
        yield (*right[: place - 1], right[place], right[place - 1], *right[place + 1 :])


def _orders(names: Order, right: Order) -> Iterator[Order]:
    """All orders; of more than five things those of one exchange or one turn; and some that leave things out."""
    if len(names) <= MOST_OPTIONS:
        yield from permutations(names)
    else:
        yield from (right, right[::-1], names)
        yield from (right[place:] + right[:place] for place in range(1, len(right)))
        for a in range(len(right)):
            for b in range(a + 1, len(right)):
                yield (*right[:a], right[b], *right[a + 1 : b], right[a], *right[b + 1 :])
    yield from (right[:-1], right[1:], right[:1])


def _check_feedback(trial: PartTrial, wanted: str) -> Iterator[str]:
    """Every wrong order brings the words it should, where these are known."""
    if not wanted:
        return
    for order in (trial.key[::-1], *exchanged(tuple(trial.key))):
        said = trial.told(order)
        if not says_something(said) or plain_words(wanted) not in said:
            yield f"the order {shown(listed(order))} brings the feedback '{shown(said)}', '{shown(wanted)}' expected"


def examine_match(trial: PartTrial, entry: MatchEntry | None, practice: bool) -> Iterator[str]:
    """What is wrong with the marking of a match."""
    right = tuple(trial.key)
    yield from _check_bounds(trial, right)
    for pairs in _ways(trial.part.names, trial.part.column_names, right):
        called = f"the match {shown(listed(pairs))}"
        hits = len(set(pairs) & set(right))
        if entry:
            wanted = Decimal(trial.full) * hits / len(right)
            yield from trial.scores(pairs, wanted, called, NEARLY if 0 < hits < len(right) else EXACTLY)
        elif hits < len(right):
            score = trial.score(pairs)
            if score is None or score >= trial.full:
                yield f"{called} earns all marks, but {shown(listed(right))} is right"
    yield from _check_spare(trial, right)
    if practice and entry and entry.feedback:
        yield from _check_match_feedback(trial, right, entry.feedback)


def _check_bounds(trial: PartTrial, right: Pairs) -> Iterator[str]:
    """The right pairs must be allowed, all of them at once."""
    yield from check_most(trial.part.interaction, "max-associations", 1, len(right))
    used = Counter(name for pair in right for name in pair.split())
    for choice in (*trial.part.options, *trial.part.columns):
        name = choice.get("identifier")
        if "match-max" not in choice.attributes:
            yield f"{shown(name)} has no match-max"
        for wrong in check_most(choice, "match-max", 0, used[name]):
            yield f"{shown(name)}: {wrong}"


def _check_spare(trial: PartTrial, right: Pairs) -> Iterator[str]:
    """Where a row may be matched more than once, a second match must not go unpunished."""
    for row in trial.part.options:
        name = row.get("identifier")
        if count(row, "match-max", 0) == 1:
            continue
        for column in trial.part.column_names:
            pair = f"{name} {column}"
            if pair not in right and trial.is_full((*right, pair)):
                yield f"row {shown(name)} may be matched twice, and {shown(pair)} beside the right pairs costs nothing"
                break


def _ways(rows: Pairs, columns: Pairs, right: Pairs) -> Iterator[Pairs]:
    """Ways to match each row, and ways that leave rows out."""
    yield ()
    yield from ((pair,) for pair in right)
    yield from (tuple(each for each in right if each != left_out) for left_out in right)
    if len(columns) ** len(rows) <= MOST_WAYS:
        for chosen in product(columns, repeat=len(rows)):
            yield tuple(f"{row} {column}" for row, column in zip(rows, chosen, strict=True))
        return
    for place in range(len(right)):
        for column in columns:
            yield (*right[:place], f"{right[place].split()[0]} {column}", *right[place + 1 :])
    yield all_wrong(columns, right)


def all_wrong(columns: Pairs, right: Pairs) -> Pairs:
    """Each row matched with the column after its own."""
    pairs = [each.split() for each in right]
    return tuple(f"{row} {columns[(columns.index(column) + 1) % len(columns)]}" for row, column in pairs)


def _check_match_feedback(trial: PartTrial, right: Pairs, wanted: str) -> Iterator[str]:
    wrong = all_wrong(trial.part.column_names, right)
    for pairs in (wrong, *((*right[:place], wrong[place], *right[place + 1 :]) for place in range(len(right)))):
        said = trial.told(pairs)
        if not says_something(said) or plain_words(wanted) not in said:
            yield f"the match {shown(listed(pairs))} brings the feedback '{shown(said)}', '{shown(wanted)}' expected"
