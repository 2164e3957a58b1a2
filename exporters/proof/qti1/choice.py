"""Items of QTI 1.2.1 that are answered by options, one or several: every one is tried, and none."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from ....bank.item.drawing import Drawing
from ....bank.item.item import ChoiceEntry
from ...strangers.parsing import shown
from ..marking.choices import costs, one_right, sets, share
from ..marking.parts import check_number, check_told_apart
from ..marking.trial import NEARLY, listed
from .html import expected_said, one_form
from .trial import ItemTrial


def examine_choice(trial: ItemTrial, entry: ChoiceEntry | None, practice: bool) -> Iterator[str]:
    """What is wrong with options of which just one is right."""
    yield from check_labels(trial, entry)
    yield from trial.scores((), 0, "no answer")
    known = entry.options if entry and len(entry.options) == len(trial.names) else ()
    right = (name for name, option in zip(trial.names, known, strict=False) if option.right)
    yield from one_right(trial, next(right, ""))
    for name, option in zip(trial.names, known, strict=False) if practice else ():
        if option.feedback:
            yield from trial.tells(name, option.feedback, f"option {shown(name)}")
        elif not trial.told(name):
            yield f"option {shown(name)} brings no feedback"


def examine_several(trial: ItemTrial, entry: ChoiceEntry | None, practice: bool, partial: bool) -> Iterator[str]:
    """What is wrong with options of which several may be right; ``partial`` tells whether parts of a mark are given."""
    yield from check_labels(trial, entry)
    if entry is None or len(entry.options) != len(trial.names):
        yield from _alone(trial)
        return
    right = frozenset(name for name, option in zip(trial.names, entry.options, strict=True) if option.right)
    for chosen in sets(trial.names, right):
        wanted = share(trial, chosen, right) if partial else trial.full * (frozenset(chosen) == right)
        exact = frozenset(chosen) == right or not chosen or not partial
        yield from trial.scores(
            chosen, wanted, f"the choice of {shown(listed(chosen))}", Decimal(0) if exact else NEARLY
        )
    for name, option in zip(trial.names, entry.options, strict=True) if practice else ():
        if one_form(option.feedback) not in trial.told(name):
            yield f"option {shown(name)} does not bring its feedback '{shown(option.feedback)}'"
        others = [each.feedback for each in entry.options if each.feedback and each is not option]
        if any(one_form(each) in trial.told(name) for each in others if each != option.feedback):
            yield f"option {shown(name)} brings the feedback of another"


def _alone(trial: ItemTrial) -> Iterator[str]:
    """What can be said of several options when nobody tells which are right."""
    scores = {chosen: trial.score(chosen) for chosen in sets(trial.names, frozenset())}
    if max(scores.values(), default=Decimal(0)) <= 0:
        yield "no choice of options earns a mark"
    best = [each for each, score in scores.items() if score == trial.full]
    yield from costs(trial, trial.names, frozenset(best[0])) if len(best) == 1 else ()
    if scores.get((), Decimal(0)) >= trial.full > 0:
        yield "no answer earns all marks"


def check_labels(trial: ItemTrial, entry: ChoiceEntry | None) -> Iterator[str]:
    """What is wrong with the options themselves."""
    labels = trial.response.labels
    yield from check_number("option", len(labels))
    if len(set(trial.names)) < len(labels) or not all(trial.names):
        yield "two options bear one name, or one has none"
    seen = ((each.ident, each.page.said, (each.page.said, each.page.images)) for each in labels)
    yield from check_told_apart("option", seen)
    if entry:
        yield from _check_words(trial, entry)


def _check_words(trial: ItemTrial, entry: ChoiceEntry) -> Iterator[str]:
    labels: Sequence[object] = trial.response.labels
    if len(labels) != len(entry.options):
        yield f"options: {len(labels)}, {len(entry.options)} expected"
        return
    for label, option in zip(trial.response.labels, entry.options, strict=True):
        wanted = expected_said(option.content)
        if label.page.said != wanted:
            yield f"option {shown(label.ident)} says '{shown(label.page.said)}', '{shown(wanted)}' expected"
        if len(label.page.images) != isinstance(option.content, Drawing):
            yield f"pictures of option {shown(label.ident)}: {len(label.page.images)}"
