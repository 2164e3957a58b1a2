"""A variant that shows a changed key: the same givens in print, the key that was and the key that is."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

import numpy as np

from ..model.evaluation import evaluate, holds
from ..model.expression import names_in
from ..model.problem import Scene
from ..quantities.gravity import GRAVITY
from ..quantities.quantity import Quantity, from_float, print_exact
from ..solving.solution import SolvedQuestion
from ..variants.magnification import needed_share
from ..variants.variant import Variant, VariantPool, default_tolerance, half_width
from .changes import Pair, Shown

TRIED = 200
SEED = 1


def shown(pair: Pair, old: SolvedQuestion, new: SolvedQuestion) -> Shown | None:
    """The first old variant of a fixed draw whose key is another one now; None where none of them is."""
    for variant in VariantPool(old, GRAVITY).draw_up_to(TRIED, SEED):
        before, after = _key(variant.answer, variant.half_width), _new_key(pair, new, variant)
        if before != after:
            given = {name: each.text for name, each in variant.given.items() if name != "g" or "g" in _used(old, new)}
            return Shown(variant.scene.name, given, before, after)
    return None


def _used(old: SolvedQuestion, new: SolvedQuestion) -> frozenset[str]:
    return old.solution.symbols | new.solution.symbols


def _new_key(pair: Pair, new: SolvedQuestion, variant: Variant) -> str:
    """What the new side makes of the givens of an old variant."""
    values = {pair.named(name): each.si for name, each in variant.given.items()}
    missing = sorted(new.solution.symbols - values.keys())
    if missing:
        return f"none without {', '.join(missing)}"
    exact = _value(new.solution.closed_form, values)
    answer = pair.new_problem.answer_spec(pair.new, _scene(pair, variant.scene))
    if not np.isfinite(exact):
        return "none, the answer is not real"
    for kept in new.kept:
        if kept.expression is None or not names_in(kept.expression) <= values.keys():
            continue
        if not holds(kept.expression, values, strict=kept.strict):
            return f"none, {kept.reason.text} is broken"
    quantity = Quantity(from_float(exact / answer.unit.factor), answer.unit, answer.figures)
    share = float(needed_share(new.solution.closed_form, values, answer.figures)[0])
    return _key(quantity, half_width(quantity, pair.new.tolerance or default_tolerance(answer), share))


def _scene(pair: Pair, old: Scene) -> Scene:
    scenes = pair.new_problem.scenes_of(pair.new)
    return next((each for each in scenes if each.name == old.name), scenes[0])


def _value(expression: Any, values: Mapping[str, float]) -> float:
    return float(np.ravel(evaluate(expression, values))[0])


def _key(answer: Quantity, width: Decimal) -> str:
    return f"{answer.text} within {print_exact(width)}"
