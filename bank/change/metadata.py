"""What is said about questions: licence, objectives, level, time, curriculum; and which diagram is drawn."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from ..model.problem import Problem, Question
from .changes import Change, Pair

_SHARED = ("objectives", "level", "alignment")  # a question has its problem's, unless it has its own


def about_problem(old: Problem, new: Problem) -> Iterator[Change]:
    """Metadata that all questions of a problem share."""
    for part in ("licence", "family", *_SHARED):
        yield from _different(part, getattr(old, part), getattr(new, part))
    yield from _answers(old.answered, new.answered)
    for name in sorted(set(old.without) & set(new.without)):
        yield from _different(f"reason to leave {name} out", old.without[name], new.without[name])
    before, after = ({each.id: each for each in problem.mistakes} for problem in (old, new))
    for name in [each for each in before if each in after]:
        yield from _different(f"source of the own mistake {name}", before[name].source, after[name].source)


def about_question(pair: Pair) -> Iterator[Change]:
    """Metadata of one question; what it only has from its problem is told there."""
    for part in _SHARED:
        if _is_own(pair.old_problem, pair.old, part) or _is_own(pair.new_problem, pair.new, part):
            yield from _different(part, getattr(pair.old, part), getattr(pair.new, part))
    yield from _different("minutes", pair.old.minutes, pair.new.minutes)
    yield from _different("mistakes that it is about", pair.old.about, pair.new.about)
    yield from _answers(pair.old.answered, pair.new.answered)


def _answers(old: Mapping[str, str], new: Mapping[str, str]) -> Iterator[Change]:
    for name in sorted({*old, *new}):
        yield from _different(f"answer to the note {name}", old.get(name, ""), new.get(name, ""))


def _is_own(problem: Problem, question: Question, part: str) -> bool:
    return bool(getattr(problem, part) != getattr(question, part))


def _different(what: str, old: Any, new: Any) -> Iterator[Change]:
    before, after = (sorted(map(str, each)) if isinstance(each, tuple) else str(each) for each in (old, new))
    if before != after:
        yield Change("metadata", what, _shown(old), _shown(new))


def _shown(value: Any) -> str:
    if not isinstance(value, tuple):
        return str(value)
    return ", ".join(each if isinstance(each, str) else f"{each.framework} {each.code or each.label}" for each in value)
