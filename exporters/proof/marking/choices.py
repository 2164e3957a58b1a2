"""Options of which exactly one is right, or any number: each option, and each set of options, is marked.

Of sets, many are marked where there are too many.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from decimal import Decimal
from itertools import combinations

from ....bank.item.item import ChoiceEntry
from ...strangers.parsing import HouseRule, shown
from ..words.wording import plain_words, says_something
from .parts import check_most, count
from .trial import EXACTLY, NEARLY, Answer, PartTrial, Trial, listed, marks

MOST_OPTIONS = 8
Chosen = tuple[str, ...]


def examine_choice(trial: PartTrial, entry: ChoiceEntry | None, practice: bool) -> Iterator[str]:
    """What is wrong with the marking of a single choice."""
    interaction, names = trial.part.interaction, trial.part.names
    if count(interaction, "max-choices", 1) != 1:
        yield f"max-choices of {interaction.name} is '{shown(interaction.get('max-choices'))}', 1 expected"
    yield from one_right(trial, str(trial.key))
    if practice:
        told = {place: option.feedback for place, option in enumerate(entry.options)} if entry else {}
        wants = {name: told.get(place, "") for place, name in enumerate(names)}
        yield from check_feedback(trial, {each: each for each in names}, wants, frozenset(names) - {str(trial.key)})


def one_right(trial: Trial, key: str = "") -> Iterator[str]:
    """What is wrong with the scores of options of which just one is right: ``key``, or the first if none is known."""
    right = [each for each in trial.names if trial.is_full(each)]
    if len(right) != 1:
        yield f"{len(right)} options earn all marks ({shown(listed(right))}), 1 expected"
    key = key or "".join(right[:1])
    for name in trial.names:
        yield from trial.scores(name, trial.full if name == key else 0, f"option {shown(name)}")


def check_feedback(
    trial: PartTrial, answers: Mapping[str, Answer], wants: Mapping[str, str], need: frozenset[str]
) -> Iterator[str]:
    """Whether each option brings words of its own: those it should, where they are known, and some, where needed."""
    brought = {name: trial.brings(answer) for name, answer in answers.items()}
    for name, pieces in brought.items():
        called, said = f"option {shown(name)}", trial.bench.feedback.said(pieces)
        if not (wants[name] or name in need):
            continue
        if not says_something(said):
            yield HouseRule(f"{called} brings no feedback")
        elif plain_words(wants[name]) not in said:
            yield f"{called} brings the feedback '{shown(said)}', '{shown(wants[name])}' expected"
        same = [each for each in brought if each != name and brought[each] == pieces]
        if same and pieces:
            yield HouseRule(f"{called} brings no feedback of its own, but that of {shown(same[0])}")


def examine_several(trial: PartTrial, entry: ChoiceEntry | None, practice: bool) -> Iterator[str]:
    """What is wrong with the marking of a choice of several."""
    names, right = trial.part.names, frozenset(trial.key)
    yield from _check_bounds(trial, len(names) if entry else len(right))
    for chosen in sets(names, right):
        called = f"the choice of {shown(listed(chosen))}"
        score = trial.score(chosen)
        if entry:
            exact = frozenset(chosen) == right or not chosen
            yield from trial.scores(chosen, share(trial, chosen, right), called, EXACTLY if exact else NEARLY)
        elif score is None or score > trial.full:
            yield f"{called} scores {marks(score)}, {marks(trial.full)} at most expected"
        elif chosen and not right & set(chosen) and trial.is_full(chosen):
            yield f"{called} is all wrong and earns all marks"
    if entry is None:
        yield from costs(trial, names, right)
    if practice and entry and len(entry.options) == len(names):
        wants = {name: option.feedback for name, option in zip(names, entry.options, strict=True)}
        wrong = frozenset(names) - right
        yield from check_feedback(trial, {each: (each,) for each in names}, wants, wrong)


def costs(trial: Trial, names: Chosen, right: frozenset[str]) -> Iterator[str]:
    """A right option that costs marks: alone, or beside another one."""
    for name in (each for each in names if each in right):
        for beside in ("", *(each for each in names if each != name)):
            fewer = tuple(each for each in names if each == beside)
            more = tuple(each for each in names if each in (name, beside))
            before, after = trial.score(fewer), trial.score(more)
            if before is not None and after is not None and after < before:
                found = f"{marks(before)} without and {marks(after)} with it"
                yield f"the right option {shown(name)} costs marks: {shown(listed(fewer))} scores {found}"
                break


def _check_bounds(trial: PartTrial, needed: int) -> Iterator[str]:
    interaction = trial.part.interaction
    yield from check_most(interaction, "max-choices", 1, needed)
    fewest = count(interaction, "min-choices", 0)
    if fewest is None or fewest > len(trial.key):
        yield f"min-choices of {interaction.name} is '{shown(interaction.get('min-choices'))}', no more than the right"


def share(trial: Trial, chosen: Chosen, right: frozenset[str]) -> Decimal:
    """The marks by the rule: a share for each option decided rightly, nothing for an empty answer."""
    decided = sum((name in chosen) == (name in right) for name in trial.names)
    return Decimal(trial.full) * decided / len(trial.names) if chosen else Decimal(0)


def sets(names: Chosen, right: frozenset[str]) -> Iterator[Chosen]:
    """All sets of options; of more than eight those with few or nearly all, and those near the right one."""
    sizes = range(len(names) + 1)
    if len(names) > MOST_OPTIONS:
        sizes = range(3)
        near = [right ^ {name} for name in names] + [right, frozenset(names), frozenset(names) - right]
        yield from (tuple(each for each in names if each in chosen) for chosen in near)
        yield from (tuple(each for each in names if each != left_out) for left_out in names)
    for size in sizes:
        yield from combinations(names, size)
