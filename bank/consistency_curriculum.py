"""The alignments of a problem and its questions: each can be found again, and none is given twice."""

from __future__ import annotations

from typing import Any

from turnwright.bank.document import Path_
from turnwright.bank.problem import Problem


def check_alignments(problem: Problem) -> None:
    """Note an alignment that names no standard, and one that names the same standard as another."""
    data: Any = problem.document.data
    _check_list(problem, ("alignment",), data.get("alignment", ()))
    for name, question in data.get("questions", {}).items():
        _check_list(problem, ("questions", name, "alignment"), question.get("alignment", ()))


def _check_list(problem: Problem, path: Path_, entries: Any) -> None:
    seen: set[tuple[str, str]] = set()
    for place, each in enumerate(entries):
        if not each.get("code") and not each.get("case") and problem.document.is_sound(*path, place):
            right = "add its 'code' in the framework, or its 'case' identifier"
            problem.document.fault((*path, place), "this alignment names no standard", right)
        names = [(each.get("framework", ""), each[key]) for key in ("code", "case") if each.get(key)]
        for name in names:
            if name in seen:
                problem.document.fault((*path, place), f"'{name[1]}' is aligned twice", "name each standard once")
        seen.update(names)
