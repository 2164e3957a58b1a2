"""Measured values beside the problems they are about, in ``<problem>.statistics.json``, never in a problem itself.

For each question it holds the facility of all candidates so far, their number, a date, the median time, and the
figures of each sitting. The same assessment again replaces what it had told.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from math import fsum, isfinite
from pathlib import Path
from typing import Any

from ...bank.analysis.outcome import Outcome, QuestionOutcome
from ...bank.errors import FileError
from ...bank.model.problem import Problem
from .data import plain

FIGURES = ("error", "item_rest", "upper_lower", "omitted", "difficulty", "difficulty_error")
UNDATED = "not dated"
_RIGHT = "move it away, or mend it"


def statistics_paths(outcome: Outcome, files: Mapping[str, tuple[Path, Problem]]) -> list[Path]:
    """Where measured values of the questions of an outcome lie, or would; ``files`` are the problems by id."""
    names = sorted({each.id.partition(".")[0] for each in outcome.questions} & files.keys())
    return [_beside(files[name][0]) for name in names]


def _beside(path: Path) -> Path:
    return path.with_name(f"{path.stem}.statistics.json")


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
        same = [each for each in questions if each.version == problem.version and each.candidates]
        left += [f"{each.id}: its marks are in doubt in form {each.form}" for each in same if each.is_doubtful]
        same = [each for each in same if not each.is_doubtful]
        if any(each.version != problem.version for each in questions):
            left.append(f"{name}: the bank holds version {problem.version}, the results are for another")
        if same:
            target = _beside(path)
            made[target] = _content(target, outcome, same, date)
    return made, left


def _content(target: Path, outcome: Outcome, questions: Sequence[QuestionOutcome], date: str) -> bytes:
    data = _held(target)
    for name in dict.fromkeys(each.id for each in questions):
        before = [each for each in data.get(name, {}).get("sittings", ()) if each["assessment"] != outcome.assessment]
        now = [_sitting(outcome, each, date) for each in questions if each.id == name]
        data[name] = _measured([each for each in before if each["version"] == now[0]["version"]] + now)
    return (json.dumps(data, ensure_ascii=False, indent=1) + "\n").encode()


def _sitting(outcome: Outcome, question: QuestionOutcome, date: str) -> dict[str, Any]:
    """What one form told of a question; a figure that is not defined is left out."""
    figures = {name: plain(getattr(question, name)) for name in FIGURES}
    return {
        "assessment": outcome.assessment,
        "bank": outcome.bank,
        "form": question.form,
        "version": question.version,
        "date": date or UNDATED,
        "n": question.candidates,
        "facility": plain(question.facility),
        **({"minutes": plain(question.seconds / 60)} if isfinite(question.seconds) else {}),
        **{name: each for name, each in figures.items() if each is not None},
    }


def _measured(sittings: list[dict[str, Any]]) -> dict[str, Any]:
    """All sittings of one version together: the facility of all candidates, the median time of the last sitting."""
    number = sum(each["n"] for each in sittings)
    facility = fsum(each["n"] * each["facility"] for each in sittings) / number
    timed = [each["minutes"] for each in sittings if "minutes" in each]
    return {
        "facility": plain(facility),
        "n": number,
        "date": sittings[-1]["date"],
        **({"minutes": timed[-1]} if timed else {}),
        "sittings": sittings,
    }


def _held(target: Path) -> dict[str, Any]:
    """What the file holds so far."""
    if not target.exists():
        return {}
    try:
        found = json.loads(target.read_text("utf-8"))
        for each in found.values():
            for sitting in each["sittings"]:
                sitting["assessment"], sitting["version"], sitting["n"] + sitting["facility"]
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        raise FileError(str(target), "it is no file of statistics", _RIGHT) from None
    return dict(found)
