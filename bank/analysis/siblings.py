"""The variants of each question against each other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations
from math import erfc, sqrt

import numpy as np

from .equivalence import VARIANT_MARGIN, Equivalence, Homogeneity, holm, homogeneity, two_shares
from .outcome import Siblings, VariantOutcome
from .sameness import reaches
from .table import Table

MOST_PAIRS = 30  # variants beyond these are not compared in pairs
SURE = 0.05
LEAST = 20  # candidates of a variant that takes part in pairs


def siblings(tables: Sequence[Table]) -> dict[str, Siblings]:
    """The variants of each question against each other, those of all forms together; p corrected over questions."""
    met: dict[str, dict[str, VariantOutcome]] = {}
    for table in tables:
        for column, question in enumerate(table.questions):
            known = met.setdefault(question.id, {})
            for each in _variants(table, column):
                known[each.item] = _joined(known[each.item], each) if each.item in known else each
    found = {question: _compared(list(variants.values())) for question, variants in met.items()}
    tested = [question for question, each in found.items() if each.p is not None]
    chances = dict(zip(tested, holm([found[each].p or 0.0 for each in tested]), strict=True))
    return {question: replace(each, p=chances.get(question)) for question, each in found.items()}


def _joined(first: VariantOutcome, second: VariantOutcome) -> VariantOutcome:
    """A variant that stands in two forms."""
    return replace(first, candidates=first.candidates + second.candidates, right=first.right + second.right)


def _variants(table: Table, column: int) -> list[VariantOutcome]:
    """The variants that somebody met and whose score is known."""
    question = table.questions[column]
    scores = table.scores[:, column]
    known = (table.variant[:, column] >= 0) & ~np.isnan(scores)
    places = table.variant[known, column]
    right = np.bincount(places, weights=reaches(scores[known], question.marks), minlength=len(question.items))
    met = np.bincount(places, minlength=len(question.items))
    return [
        VariantOutcome(item.name, item.variant, item.scene, int(number), int(good))
        for item, number, good in zip(question.items, met, right, strict=True)
        if number
    ]


def _compared(variants: list[VariantOutcome]) -> Siblings:
    test = _test(variants)
    variants = with_residuals(variants)
    large = [each for each in variants if each.candidates >= LEAST][:MOST_PAIRS]
    pairs = [(a.item, b.item, _pair(a, b)) for a, b in combinations(large, 2)]
    widest = max(pairs, key=lambda pair: abs(pair[2].difference), default=None)
    shown = sum(each.shown for *_, each in pairs)
    return Siblings(tuple(variants), test, test.p if test else None, len(pairs), shown, widest)


def _test(variants: Sequence[VariantOutcome]) -> Homogeneity | None:
    return homogeneity([each.right for each in variants], [each.candidates for each in variants])


def with_residuals(variants: Sequence[VariantOutcome]) -> list[VariantOutcome]:
    """The variants with how far each lies from its siblings.

    The one furthest off is judged first and then left out of the siblings, which it would make look the other way.
    """
    judged: dict[str, VariantOutcome] = {}
    left = list(variants)
    while (test := _test(left)) is not None:
        chances = holm([2 * _tail(abs(each)) for each in test.residuals])
        found = [
            replace(each, residual=residual, p=p)
            for each, residual, p in zip(left, test.residuals, chances, strict=True)
        ]
        judged |= {each.item: each for each in found}
        first = min(found, key=lambda each: (round(-abs(each.residual or 0.0), 9), each.residual or 0.0))
        if (first.p or 0.0) >= SURE:
            break
        left = [each for each in left if each.item != first.item]
    return [judged.get(each.item, each) for each in variants]


def _tail(z: float) -> float:
    """The chance of a normal deviate above z."""
    return erfc(z / sqrt(2)) / 2


def _pair(first: VariantOutcome, second: VariantOutcome) -> Equivalence:
    return two_shares(first.right, first.candidates, second.right, second.candidates, VARIANT_MARGIN)
