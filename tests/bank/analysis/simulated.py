"""A class that holds one planted thought and else guesses, and the questions of the shipped bank that it sits."""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from turnwright.bank.analysis import Ledger, Outcome, Rows, analyse, assessment
from turnwright.bank.analysis.assessment import SatAssessment, SatItem
from turnwright.bank.analysis.rows import frame
from turnwright.bank.variants.variant import VariantPool

from tests.bank import models
from tests.bank.models import GRAVITY

RIGHT, STRANGE = "A", "987654321"
ACTS = 0.7  # how often one who holds a thought acts on it where it can show
KNOWS = 0.6
TYPES_A_KNOWN_NUMBER = 0.3


@dataclass(frozen=True)
class Planted:
    """Which thought is held, by what share of how many candidates."""

    thought: str
    candidates: int = 200
    share: float = 0.5
    seed: int = 1


@cache
def form() -> SatAssessment:
    """A form of a sixteenth of the questions of the shipped bank in two variants each, alternately typed and chosen."""
    items = [each for place, name in enumerate(models.shipped_ids()[::16]) for each in _items(name, place % 2 == 1)]
    told = {"assessment": "a", "title": "Fair", "bank": {"version": "1"}, "forms": [{"form": "A", "items": items}]}
    return assessment(told)


def _items(name: str, choice: bool) -> Iterator[dict[str, Any]]:
    for place, answers in enumerate(_chosen(name) if choice else _typed(name), 1):
        facts = {
            "version": 1,
            "variant": place,
            "marks": 1,
            "fingerprint": "0",
            "kind": "choice" if choice else "number",
        }
        yield {"item": f"p_{name}_{place}", "question": name, **facts, **answers}


def _typed(name: str) -> Iterator[dict[str, Any]]:
    found = models.diagnosed(name)
    drawn = VariantPool(found.solved, GRAVITY).draw_up_to(2, 1)
    for variant, values in zip(drawn, found.columns(drawn), strict=True):
        yield {
            "recognised": [
                {"value": str(each.value), "half_width": str(each.half_width), "mistakes": list(each.mistakes)}
                for each in found.recognised(variant, values)
            ]
        }


def _chosen(name: str) -> Iterator[dict[str, Any]]:
    for _, wrong in models.choices(name, 2):
        mistakes = [[each.id for each in option.mistakes] for option in wrong]
        options = [{"name": RIGHT, "right": True}]
        yield {"options": options + [{"name": f"W{at}", "mistakes": each} for at, each in enumerate(mistakes)]}


@cache
def sat(planted: Planted) -> Outcome:
    """What the analysis says of the class."""
    dice = random.Random(planted.seed)
    questions: dict[str, list[SatItem]] = {}
    for item in form().forms[0].items:
        questions.setdefault(item.question, []).append(item)
    answers = [
        (f"c{number}", item.name, *_answer(item, holds, planted.thought, dice))
        for number in range(planted.candidates)
        for holds in [dice.random() < planted.share]
        for item in map(dice.choice, questions.values())
    ]
    columns = zip(("candidate", "item", "response", "score"), zip(*answers, strict=True), strict=True)
    return analyse(Rows(frame(dict(columns)), Ledger()), form())


def _answer(item: SatItem, holds: bool, thought: str, dice: random.Random) -> tuple[str, float]:
    wrong = _wrong_answers(item)
    own = [answer for answer, mistakes in wrong.items() if thought in mistakes]
    if holds and own and dice.random() < ACTS:
        return own[0], 0.0
    if dice.random() < KNOWS or not wrong:
        return RIGHT, 1.0
    known = bool(item.parts[0].options) or dice.random() < TYPES_A_KNOWN_NUMBER
    return (dice.choice(list(wrong)) if known else STRANGE), 0.0


def _wrong_answers(item: SatItem) -> Mapping[str, Sequence[str]]:
    (part,) = item.parts
    typed = {str(each.value): each.mistakes for each in part.bands}
    return typed | {each.name: each.mistakes for each in part.options if not each.right}
