"""All changes between two banks, question by question, and the keys that changed without a raised version."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import PurePosixPath

from ..errors import Fault
from ..model.problem import Problem
from ..reading.mistakes import shipped_mistakes
from . import figures, keys, metadata, numbers, solutions, words, wrong_answers
from .changes import ORDER, Change, Pair
from .letters import letters
from .source import Bank, BankEntry


@dataclass(frozen=True)
class Unraised:
    """A problem in which a key, a stem or a limit changed and whose version is not higher than it was."""

    problem: Problem
    old_version: int
    changes: tuple[Change, ...]

    @property
    def fault(self) -> Fault:
        """The same as a fault at the version in the new file."""
        what = dict.fromkeys(f"{each.what} of {each.question or self.problem.id}" for each in self.changes)
        since = f"{', '.join(list(what)[:3])}{' and more' if len(what) > 3 else ''}"
        is_same = self.problem.version == self.old_version
        found = f"still {self.problem.version}" if is_same else f"{self.problem.version} after {self.old_version}"
        wrong = f"version: {found}{f', though this changed: {since}' if since else ''}"
        right = f"raise it to {self.old_version + 1}" if self.changes else "a version never falls"
        return Fault(self.problem.document.place(("version",)), wrong, right)


@dataclass(frozen=True)
class Difference:
    """The changes from one bank to another, in the order of the new bank, what is retired last."""

    old: Bank
    new: Bank
    changes: tuple[Change, ...]
    unraised: tuple[Unraised, ...]


def compare(old: Bank, new: Bank, done: Callable[[int], None] = lambda _: None) -> Difference:
    """The changes between two banks. Problems that say the same are not solved; ``done`` counts the new problems."""
    before, after = old.by_id, new.by_id
    changes: list[Change] = []
    unraised: list[Unraised] = []
    for name, entry in after.items():
        if name not in before:
            changes += _all_of(entry.problem, "new")
        else:
            found = list(_between(before[name], entry, old.is_folder and new.is_folder))
            changes += found
            unraised += _unraised(before[name].problem, entry.problem, found)
        done(1)
    for name, entry in before.items():
        if name not in after:
            changes += _all_of(entry.problem, "retired")
    return Difference(old, new, tuple(changes), tuple(unraised))


def _all_of(problem: Problem, kind: str) -> Iterator[Change]:
    for question in problem.questions:
        if kind == "new":
            yield Change("new", "question", "", question.title, problem.id, question.name)
        else:
            yield Change("retired", "question", question.title, "", problem.id, question.name)


def _unraised(old: Problem, new: Problem, changes: Sequence[Change]) -> Iterator[Unraised]:
    weighty = tuple(each for each in changes if each.needs_version)
    if new.version < old.version or (weighty and new.version == old.version):
        yield Unraised(new, old.version, weighty)


def _between(old: BankEntry, new: BankEntry, in_folders: bool) -> Iterator[Change]:
    if in_folders and PurePosixPath(old.file.inside) != PurePosixPath(new.file.inside):
        yield Change("moved", "file", old.file.inside, new.file.inside, new.problem.id)
    if not says_the_same(old.problem, new.problem):
        yield from between(old.problem, new.problem)


def says_the_same(old: Problem, new: Problem) -> bool:
    """Whether two problem files hold the same data, whatever their layout and the order of their keys.

    The first diagram is the one that is shown, so the order of diagrams counts.
    """
    first, second = old.document.data, new.document.data
    return bool(first == second and list(first.get("diagrams", ())) == list(second.get("diagrams", ())))


def between(old: Problem, new: Problem) -> Iterator[Change]:
    """The changes from one state of a problem to another, sorted by question and kind."""
    shared = [replace(each, problem=new.id) for each in _about_problem(old, new)]
    before = {each.name: each for each in old.questions}
    found: list[Change] = []
    for question in new.questions:
        if question.name in before:
            pair = Pair(old, new, before[question.name], question, letters(old, new))
            changes = _about_question(pair)
        else:
            changes = [Change("new", "question", "", question.title)]
        found += [replace(each, problem=new.id, question=question.name) for each in _sorted(changes)]
    for name in [each for each in before if each not in {one.name for one in new.questions}]:
        found.append(Change("retired", "question", before[name].title, "", new.id, name))
    lists = [replace(each, problem=new.id) for each in wrong_answers.about_lists(old, new, found)]
    yield from _sorted([*shared, *lists])
    yield from found


def _sorted(changes: Sequence[Change]) -> list[Change]:
    return sorted(changes, key=lambda each: ORDER.index(each.kind))


def _about_problem(old: Problem, new: Problem) -> Iterator[Change]:
    yield from words.about_problem(old, new)
    yield from figures.about_problem(old, new, letters(old, new))
    yield from metadata.about_problem(old, new)
    before, after = ({each.id: each for each in problem.mistakes} for problem in (old, new))
    yield from words.about_mistakes(before, after)


def _about_question(pair: Pair) -> list[Change]:
    marking = list(keys.about_marking(pair))
    changes = [
        *words.about_question(pair),
        *numbers.about_question(pair),
        *figures.about_question(pair),
        *metadata.about_question(pair),
    ]
    same, wrong = keys.is_same_model(pair), wrong_answers.may_differ(pair)
    if same and not (marking or wrong or solutions.reasons_differ(pair)):
        return changes
    old = keys.solved_or_why(pair.old_problem, pair.old)
    new = keys.solved_or_why(pair.new_problem, pair.new)
    if isinstance(old, str) or isinstance(new, str):
        return [*keys.unsolved(old, new), *marking, *changes]
    forms = [] if same else list(keys.about_forms(pair, old, new))
    changes = [*keys.with_variant([*forms, *marking], old, new, pair), *changes]
    if not any(each.what == "closed form" for each in forms):
        changes += [*solutions.about_path(pair, old, new), *solutions.about_reasons(old, new)]
    if wrong or not same:
        changes += wrong_answers.about_question(pair, old, new, shipped_mistakes())
    return changes
