"""Things to be put in order: every order is marked, or many where there are too many."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from itertools import permutations

from turnwright.bank.item import OrderEntry
from turnwright.exporters.proof.findings import shown
from turnwright.exporters.proof.options import check_most
from turnwright.exporters.proof.trial import Trial, listed
from turnwright.exporters.proof.wording import plain_words, says_something

MOST_OPTIONS = 5

Order = tuple[str, ...]


def examine_order(trial: Trial, entry: OrderEntry | None, practice: bool) -> Iterator[str]:
    """What is wrong with the marking of an order."""
    names, right = trial.part.names, tuple(trial.key)
    yield from check_most(trial.part.interaction, "max-choices", 0, len(names))
    if sorted(right) != sorted(names):
        yield f"the right order {shown(listed(right))} does not hold every option once"
    near = frozenset(exchanged(right))
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
    """Every order that comes of the right one when two neighbours change places."""
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


def _check_feedback(trial: Trial, wanted: str) -> Iterator[str]:
    """Every wrong order brings the words it should, where these are known."""
    if not wanted:
        return
    for order in (trial.key[::-1], *exchanged(tuple(trial.key))):
        said = trial.told(order)
        if not says_something(said) or plain_words(wanted) not in said:
            yield f"the order {shown(listed(order))} brings the feedback '{shown(said)}', '{shown(wanted)}' expected"
