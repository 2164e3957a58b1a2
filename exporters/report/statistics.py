"""Measured values beside the problems they are about, in ``<problem>.statistics.json``, never in a problem itself.

A file keeps one entry for each assessment; the same one again replaces its entry.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from turnwright.bank.analysis.outcome import Outcome, QuestionOutcome
from turnwright.bank.errors import FileError
from turnwright.bank.problem import Problem
from turnwright.exporters.report.data import plain

FIGURES = (
    "version", "form", "candidates", "facility", "error", "item_rest", "upper_lower", "omitted", "difficulty",
    "difficulty_error", "seconds",
)  # fmt: skip
_RIGHT = "move it away, or mend it"


def statistics_files(
    outcome: Outcome, files: Mapping[str, tuple[Path, Problem]], date: str
) -> tuple[dict[Path, bytes], list[str]]:
    """The files to write, and why some values are not written; ``files`` are the problems of the bank by id.

    Raises FileError for a file of that name that is none of ours.
    """
    by_problem: dict[str, list[QuestionOutcome]] = {}
    for each in outcome.questions:
        by_problem.setdefault(each.id.partition(".")[0], []).append(each)
    made: dict[Path, bytes] = {}
    left = []
    for name, questions in sorted(by_problem.items()):
        if name not in files:
            left.append(f"{name}: no problem of the bank has this id")
            continue
        path, problem = files[name]
        same = [each for each in questions if each.version == problem.version]
        if len(same) < len(questions):
            left.append(f"{name}: the bank holds version {problem.version}, the results are for another")
        if same:
            target = path.with_name(f"{path.stem}.statistics.json")
            made[target] = _content(target, name, _entry(outcome, same, date))
    return made, left


def _entry(outcome: Outcome, questions: Sequence[QuestionOutcome], date: str) -> dict[str, Any]:
    found = [{"question": each.id, **{name: plain(getattr(each, name)) for name in FIGURES}} for each in questions]
    return {"assessment": outcome.assessment, "bank": outcome.bank, "date": date or None, "questions": found}


def _content(target: Path, problem: str, entry: dict[str, Any]) -> bytes:
    entries = [each for each in _entries(target) if each.get("assessment") != entry["assessment"]]
    data = {"problem": problem, "sittings": [*entries, entry]}
    return (json.dumps(data, ensure_ascii=False, indent=1) + "\n").encode()


def _entries(target: Path) -> list[dict[str, Any]]:
    """What the file holds so far."""
    if not target.exists():
        return []
    try:
        found = json.loads(target.read_text("utf-8"))["sittings"]
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        raise FileError(str(target), "it is no file of statistics", _RIGHT) from None
    if not isinstance(found, list) or not all(isinstance(each, dict) for each in found):
        raise FileError(str(target), "it is no file of statistics", _RIGHT)
    return found
