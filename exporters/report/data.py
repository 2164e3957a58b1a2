"""An outcome as plain data for a script; what is not defined is null. No candidate is in it, by pseudonym or else."""

from __future__ import annotations

import math
from dataclasses import asdict
from typing import Any

from ...bank.analysis.outcome import FormOutcome, Outcome, QuestionOutcome, Thought


def outcome_data(outcome: Outcome) -> dict[str, Any]:
    """All of an outcome."""
    return {
        "assessment": outcome.assessment,
        "title": outcome.title,
        "bank": outcome.bank,
        "candidates": outcome.candidates,
        "answers": outcome.answers,
        "disagreements": [_disagreement(each) for each in outcome.disagreements],
        "forms": [_form(each) for each in outcome.forms],
        "comparisons": [
            plain({**asdict(each), "interval_90": each.found.interval, "equivalent": each.found.shown})
            for each in outcome.comparisons
        ],
        "questions": [question_data(each) for each in outcome.questions],
        "mistakes": [_thought(each) for each in outcome.thoughts],
        "by_objective": {name: [_thought(each) for each in found] for name, found in outcome.by_objective.items()},
        "set_aside": [plain(asdict(each)) for each in outcome.notes],
    }


def _disagreement(question: QuestionOutcome) -> dict[str, Any]:
    """What a question earned by the results and by the manifest, and the answers of which the two differ."""
    about = {"form": question.form, "number": question.number, "id": question.id, "in_doubt": question.is_doubtful}
    made: dict[str, Any] = plain({**about, **asdict(question.marked_again)} if question.marked_again else about)
    return made


def _thought(thought: Thought) -> dict[str, Any]:
    data: dict[str, Any] = plain({**asdict(thought), "joint": thought.joint})
    return data


def _form(form: FormOutcome) -> dict[str, Any]:
    data: dict[str, Any] = plain(asdict(form))
    del data["shares"]
    return data


def question_data(question: QuestionOutcome) -> dict[str, Any]:
    """All of one question."""
    data = asdict(question)
    for made, each in zip(data["chosen"], question.chosen, strict=True):
        made["count"] = each.count
    for made, pair in zip(data["between"], question.between, strict=True):
        made["found"]["class"] = pair.found.letter
    widest = question.siblings.widest
    data["siblings"]["widest"] = (
        {"items": widest[:2], **asdict(widest[2]), "interval_90": widest[2].interval, "equivalent": widest[2].shown}
        if widest
        else None
    )
    made_plain: dict[str, Any] = plain(data)
    return made_plain


def plain(value: Any) -> Any:
    """The value with lists for tuples, null for what is no number, and figures of a length that can be read."""
    if isinstance(value, float):
        return float(f"{value:.6g}") if math.isfinite(value) else None
    if isinstance(value, dict):
        return {key: plain(each) for key, each in value.items()}
    if isinstance(value, list | tuple):
        return [plain(each) for each in value]
    return value
