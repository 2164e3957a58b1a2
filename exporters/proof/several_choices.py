"""Options of which any number may be right: each set of options is marked, or many where there are too many sets."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from itertools import combinations

from turnwright.bank.item import ChoiceEntry
from turnwright.exporters.proof.findings import shown
from turnwright.exporters.proof.options import check_most, count
from turnwright.exporters.proof.single_choice import check_feedback
from turnwright.exporters.proof.trial import EXACTLY, NEARLY, Trial, listed, marks

MOST_OPTIONS = 8

Chosen = tuple[str, ...]


def examine_several(trial: Trial, entry: ChoiceEntry | None, practice: bool) -> Iterator[str]:
    """What is wrong with the marking of a choice of several."""
    names, right = trial.part.names, frozenset(trial.key)
    yield from _check_bounds(trial, len(names) if entry else len(right))
    for chosen in _sets(names, right):
        called = f"the choice of {shown(listed(chosen))}"
        score = trial.score(chosen)
        if entry:
            exact = frozenset(chosen) == right or not chosen
            yield from trial.scores(chosen, _share(trial, chosen), called, EXACTLY if exact else NEARLY)
        elif score is None or score > trial.full:
            yield f"{called} scores {marks(score)}, {marks(trial.full)} at most expected"
        elif chosen and not right & set(chosen) and trial.is_full(chosen):
            yield f"{called} is all wrong and earns all marks"
    if practice and entry and len(entry.options) == len(names):
        wants = {name: option.feedback for name, option in zip(names, entry.options, strict=True)}
        wrong = frozenset(names) - right
        yield from check_feedback(trial, {each: (each,) for each in names}, wants, wrong)


def _check_bounds(trial: Trial, needed: int) -> Iterator[str]:
    interaction = trial.part.interaction
    yield from check_most(interaction, "max-choices", 1, needed)
    fewest = count(interaction, "min-choices", 0)
    if fewest is None or fewest > len(trial.key):
        yield f"min-choices of {interaction.name} is '{shown(interaction.get('min-choices'))}', no more than the right"


def _share(trial: Trial, chosen: Chosen) -> Decimal:
    """The marks by the rule: a share for each option decided rightly, nothing for an empty answer."""
    decided = sum((name in chosen) == (name in trial.key) for name in trial.part.names)
    return Decimal(trial.full) * decided / len(trial.part.names) if chosen else Decimal(0)


def _sets(names: Chosen, right: frozenset[str]) -> Iterator[Chosen]:
    """All sets of options; of more than eight those with few or nearly all, and those near the right one."""
    sizes = range(len(names) + 1)
    if len(names) > MOST_OPTIONS:
        sizes = range(3)
        near = [right ^ {name} for name in names] + [right, frozenset(names), frozenset(names) - right]
        yield from (tuple(each for each in names if each in chosen) for chosen in near)
        yield from (tuple(each for each in names if each != left_out) for left_out in names)
    for size in sizes:
        yield from combinations(names, size)
