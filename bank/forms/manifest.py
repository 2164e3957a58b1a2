"""The manifest of an assessment: what each form holds, its keys, and what every wrong answer tells."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Sequence
from typing import Any

from ..model.mistake import Mistake
from ..model.problem import Problem
from .assessment import Assessment, Form
from .choosing import FormVariant
from .telling import answers_of, fingerprint

NAME = "assessment.json"
Names = Callable[[Form], Sequence[str]]


def bank_version(problems: Sequence[Problem], catalogue: Sequence[Mistake]) -> str:
    """A digest of all that a bank says; spaces, comments and the names of files do not count."""
    told = [
        sorted(_canonical(each.document.data) for each in problems),
        [
            _canonical([each.id, [each.edit.name, each.edit.argument], each.families, *_told_of(each)])
            for each in catalogue
        ],
    ]
    return "sha256:" + hashlib.sha256(_canonical(told).encode()).hexdigest()


def _told_of(mistake: Mistake) -> tuple[str, ...]:
    """What candidates may read of a mistake, and what decides which of several they read first."""
    return mistake.thinking, mistake.feedback, mistake.prior.weight


def _canonical(data: Any) -> str:
    return json.dumps(data, sort_keys=True, ensure_ascii=False, default=str)


def manifest(assessment: Assessment, version: str, names: Names) -> dict[str, Any]:
    """The manifest as data; ``names`` gives the identifiers of a form's items in a pack, in order."""
    blueprint = assessment.blueprint
    return {
        "assessment": blueprint.id,
        "title": blueprint.title,
        "bank": {"version": version},
        "seed": blueprint.seed,
        "gravity": str(blueprint.gravity),
        "purpose": blueprint.purpose,
        "forms": [
            {
                "form": form.name,
                "items": [_item(name, each) for name, each in zip(names(form), form.questions, strict=True)],
            }
            for form in assessment.forms
        ],
    }


def _item(name: str, variant: FormVariant) -> dict[str, Any]:
    candidate, item = variant.candidate, variant.item
    measured = candidate.measured
    return {
        "item": name,
        "question": candidate.id,
        "version": candidate.version,
        "kind": candidate.kind,
        "variant": variant.number,
        "turn": variant.turn,
        "scene": variant.scene,
        "marks": item.marks,
        "minutes": candidate.minutes,
        "objectives": list(candidate.objectives),
        "thinking": candidate.thinking,
        "predicted": round(candidate.facility_in(variant.scene), 4),
        "measured": {"n": measured.n, "date": measured.date} if measured else None,
        **answers_of(item.entries),
        "fingerprint": fingerprint(item),
    }
