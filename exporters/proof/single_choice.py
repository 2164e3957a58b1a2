"""Options of which exactly one is right, marked one after the other."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from turnwright.bank.item import ChoiceEntry
from turnwright.exporters.proof.findings import shown
from turnwright.exporters.proof.options import count
from turnwright.exporters.proof.trial import Answer, Trial, listed
from turnwright.exporters.proof.wording import plain_words, says_something


def examine_choice(trial: Trial, entry: ChoiceEntry | None, practice: bool) -> Iterator[str]:
    """What is wrong with the marking of a single choice."""
    interaction, names = trial.part.interaction, trial.part.names
    if count(interaction, "max-choices", 1) != 1:
        yield f"max-choices of {interaction.name} is '{shown(interaction.get('max-choices'))}', 1 expected"
    right = [each for each in names if trial.is_full(each)]
    if len(right) != 1:
        yield f"{len(right)} options earn all marks ({shown(listed(right))}), 1 expected"
    for name in names:
        wanted = trial.full if name == trial.key else 0
        yield from trial.scores(name, wanted, f"option {shown(name)}")
    if practice:
        told = {place: option.feedback for place, option in enumerate(entry.options)} if entry else {}
        wants = {name: told.get(place, "") for place, name in enumerate(names)}
        yield from check_feedback(trial, {each: each for each in names}, wants, frozenset(names) - {str(trial.key)})


def check_feedback(
    trial: Trial, answers: Mapping[str, Answer], wants: Mapping[str, str], need: frozenset[str]
) -> Iterator[str]:
    """Whether each option brings words of its own: those it should, where they are known, and some, where needed."""
    brought = {name: trial.brings(answer) for name, answer in answers.items()}
    for name, pieces in brought.items():
        called, said = f"option {shown(name)}", trial.bench.feedback.said(pieces)
        if not (wants[name] or name in need):
            continue
        if not says_something(said):
            yield f"{called} brings no feedback"
        elif plain_words(wants[name]) not in said:
            yield f"{called} brings the feedback '{shown(said)}', '{shown(wants[name])}' expected"
        same = [each for each in brought if each != name and brought[each] == pieces]
        if same and pieces:
            yield f"{called} brings no feedback of its own, but that of {shown(same[0])}"
