"""Two banks as one: what goes where, what can't be decided by a program, and what a person should look at."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import PurePosixPath
from typing import Any, Literal, TypeAlias

from ..errors import Place
from ..language import listed
from ..model.problem import Problem
from ..model.wording import sentence
from . import licences
from .changes import ORDER
from .difference import between, says_the_same
from .likeness import BankSituation, SituationIndex, StemPair, like_stems, same_equations
from .source import Bank, BankEntry

NoteKind: TypeAlias = Literal["same equation", "like stem", "licence", "title", "story", "mistake", "renamed", "same"]
Preference: TypeAlias = Literal["first", "second"]


@dataclass(frozen=True)
class Conflict:
    """An id that both banks have with other content: its place in each, how they differ, whose was taken."""

    problem: str
    first: Place
    second: Place
    kinds: tuple[str, ...]
    taken: str | None

    def __str__(self) -> str:
        differ = f"they differ in {listed(self.kinds)}" if self.kinds else "they differ in nothing that a student meets"
        done = (
            f"the {self.taken} was taken"
            if self.taken
            else "neither was taken; choose with --prefer, or give one another id"
        )
        return f"{self.problem} stands at {self.first} and at {self.second}; {differ}; {done}"


@dataclass(frozen=True)
class MergeNote:
    """Something to look at; ``places`` are where."""

    kind: NoteKind
    text: str
    where: tuple[str, ...] = ()


@dataclass(frozen=True)
class Merged:
    """The files of the merged bank by their paths in it, and all that was found on the way."""

    files: dict[str, bytes]
    conflicts: tuple[Conflict, ...]
    notes: tuple[MergeNote, ...]

    @property
    def left_out(self) -> tuple[str, ...]:
        """The ids of problems that are in neither form in the merged bank."""
        return tuple(each.problem for each in self.conflicts if each.taken is None)

    def as_json(self) -> dict[str, Any]:
        """All of it for a script."""
        return {
            "files": sorted(self.files),
            "left_out": list(self.left_out),
            "conflicts": [
                {
                    "problem": each.problem,
                    "first": str(each.first),
                    "second": str(each.second),
                    "differ_in": list(each.kinds),
                    "taken": each.taken,
                }
                for each in self.conflicts
            ],
            "notes": [{"kind": each.kind, "text": each.text, "where": list(each.where)} for each in self.notes],
        }


def merge(first: Bank, second: Bank, prefer: str | None = None, done: Callable[[int], None] = lambda _: None) -> Merged:
    """The two banks in one. An id with other content on the two sides is left out unless ``prefer`` names a side.

    ``done`` counts the problems of the second bank.
    """
    before, after = first.by_id, second.by_id
    conflicts = tuple(_conflicts(before, after, prefer))
    left_out = {each.problem for each in conflicts if each.taken is None}
    taken_from_second = {each.problem for each in conflicts if each.taken == "second"}
    entries = [
        *(each for name, each in before.items() if name not in left_out | taken_from_second),
        *(each for name, each in after.items() if name in taken_from_second or name not in before),
    ]
    mine = [each for name, each in before.items() if name not in after]
    theirs = [each for name, each in after.items() if name not in before]
    files, renamed = _placed(entries)
    notes = [*_equations(mine, theirs, done), *_stems(mine, theirs), *_licences(entries), *_clashes(mine, theirs)]
    done(len(after) - len(theirs))
    told = (*notes, *_own_mistakes(first, second), *_other_layouts(before, after), *renamed)
    return Merged(files, conflicts, told)


def _other_layouts(before: dict[str, BankEntry], after: dict[str, BankEntry]) -> Iterator[MergeNote]:
    for name in [each for each in before if each in after]:
        one, other = before[name], after[name]
        if says_the_same(one.problem, other.problem) and one.file.content != other.file.content:
            text = f"{name} says the same in {one.file.shown} and {other.file.shown}; the first one's layout was taken"
            yield MergeNote("same", text, (name,))


def _conflicts(before: dict[str, BankEntry], after: dict[str, BankEntry], prefer: str | None) -> Iterator[Conflict]:
    for name in [each for each in before if each in after]:
        one, other = before[name].problem, after[name].problem
        if says_the_same(one, other):
            continue
        kinds = {each.kind for each in between(one, other)} | ({"version"} if one.version != other.version else set())
        told = tuple(each for each in (*ORDER, "version") if each in kinds)
        yield Conflict(name, _place(one), _place(other), told, prefer)


def _place(problem: Problem) -> Place:
    return problem.document.place(("id",))


# --- where files go -------------------------------------------------------------------------------


def _placed(entries: Iterable[BankEntry]) -> tuple[dict[str, bytes], list[MergeNote]]:
    """The files by their paths, each below a folder of its family or its old one; two of one path get apart."""
    files: dict[str, bytes] = {}
    taken: set[str] = set()
    notes = []
    for entry in entries:
        wanted = _path(entry)
        path = next(each for each in _names(wanted, entry.problem.id) if each.casefold() not in taken)
        if path != wanted:
            text = f"{entry.file.shown} became {path}, since {wanted} is another file already"
            notes.append(MergeNote("renamed", text, (entry.problem.id,)))
        taken.add(path.casefold())
        files[path] = entry.file.content
    return files, notes


def _path(entry: BankEntry) -> str:
    inside = entry.file.inside
    return inside if "/" in inside else f"{entry.problem.family}/{inside}"


def _names(wanted: str, own: str) -> Iterator[str]:
    folder = PurePosixPath(wanted).parent
    yield wanted
    yield str(folder / f"{own}.yaml")
    number = 2
    while True:
        yield str(folder / f"{own}-{number}.yaml")
        number += 1


# --- what to look at ------------------------------------------------------------------------------


def _equations(
    mine: Sequence[BankEntry], theirs: Sequence[BankEntry], done: Callable[[int], None]
) -> Iterator[MergeNote]:
    known = SituationIndex(BankSituation(each.problem) for each in mine)
    for other in (BankSituation(each.problem) for each in theirs):
        for one in known.like(other):
            pairs = same_equations(one, other)
            if pairs:
                text = f"{one.problem.id} and {other.problem.id} ask the same but for names: {_paired(pairs)}"
                yield MergeNote("same equation", text, _ids(pairs))
        done(1)


def _stems(mine: Sequence[BankEntry], theirs: Sequence[BankEntry]) -> Iterator[MergeNote]:
    found = like_stems([each.problem for each in mine], [each.problem for each in theirs])
    owners: dict[tuple[str, str], list[StemPair]] = {}
    for pair in found:
        owners.setdefault((pair.first.partition(".")[0], pair.second.partition(".")[0]), []).append(pair)
    for (one, other), pairs in owners.items():
        least = min(each.likeness for each in pairs)
        names = [(each.first, each.second) for each in pairs]
        share = "all" if least == 1 else f"{least:.0%} or more"
        text = f"stems of {one} and {other} share {share} of their words: {_paired(names)}"
        yield MergeNote("like stem", text, _ids(names))


def _paired(pairs: Iterable[tuple[str, str]]) -> str:
    """The questions of two problems pair by pair; one name where it is the same in both."""
    short = ([each.partition(".")[2] for each in pair] for pair in pairs)
    return ", ".join(one if one == other else f"{one} = {other}" for one, other in short)


def _ids(pairs: Iterable[tuple[str, str]]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(each for pair in pairs for each in pair))


def _licences(entries: Sequence[BankEntry]) -> Iterator[MergeNote]:
    counted = Counter(each.problem.licence for each in entries)
    for one, other, why in licences.clashes(list(counted)):
        text = f"{one} ({counted[one]}) and {other} ({counted[other]}) don't go together: {why} ({licences.ADVICE})"
        ids = tuple(each.problem.id for each in entries if each.problem.licence in (one, other))
        yield MergeNote("licence", text, ids)
    if len(counted) > 1:
        terms = listed(f"{name} ({number}: {licences.TERMS[name]})" for name, number in sorted(counted.items()))
        yield MergeNote("licence", f"the merged bank stands under {terms}; each file keeps its own")


def _clashes(mine: Sequence[BankEntry], theirs: Sequence[BankEntry]) -> Iterator[MergeNote]:
    """Titles and stories that stand in both banks, word for word, in different problems."""
    titles: dict[str, list[int]] = {}
    stories: dict[str, dict[int, str]] = {}  # by story: the places of problems, and the scene that tells it
    for place, one in enumerate(mine):
        titles.setdefault(one.problem.title.casefold(), []).append(place)
        for story, scene in _stories(one.problem):
            stories.setdefault(story, {})[place] = scene
    for other in theirs:
        alike = set(titles.get(other.problem.title.casefold(), ()))
        told: dict[int, list[tuple[str, str]]] = {}
        for story, scene in _stories(other.problem):
            for place, first in stories.get(story, {}).items():
                told.setdefault(place, []).append((first, scene))
        for place in sorted(alike | told.keys()):
            one = mine[place]
            ids = (one.problem.id, other.problem.id)
            if place in alike:
                yield MergeNote("title", f"{ids[0]} and {ids[1]} have the same title, '{other.problem.title}'", ids)
            if place in told:
                which = ", ".join(first if first == second else f"{first} = {second}" for first, second in told[place])
                yield MergeNote("story", f"{ids[0]} and {ids[1]} tell the same story, word for word: {which}", ids)


def _stories(problem: Problem) -> list[tuple[str, str]]:
    """What each scene tells, and its name."""
    return [(sentence(scene.story, scene).casefold(), scene.name) for scene in problem.scenes]


def _own_mistakes(first: Bank, second: Bank) -> Iterator[MergeNote]:
    """Own mistakes of one id that mean different things: results would count them as one."""
    mine = {each.id: (each, problem.id) for problem in first.problems for each in problem.mistakes}
    for problem in second.problems:
        for mistake in problem.mistakes:
            found, owner = mine.get(mistake.id, (mistake, problem.id))
            if (found.edit, found.thinking) != (mistake.edit, mistake.thinking):
                text = f"the own mistake {mistake.id} means one thing in {owner} and another in {problem.id}"
                yield MergeNote("mistake", text, (owner, problem.id))
