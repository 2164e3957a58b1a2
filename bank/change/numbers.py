"""Which numbers changed: units, figures, draws and plausible ranges of what a question gives, asked scene by scene."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from ..model.problem import QuantitySpec
from .changes import Change, Pair


def about_question(pair: Pair) -> Iterator[Change]:
    """Changes of the numbers of a question; one that is alike in several scenes is told once."""
    found: dict[tuple[str, str, str], list[str]] = {}
    scenes = pair.scenes
    for name in scenes:
        for change in _in_scene(pair, name):
            found.setdefault(change, []).append(name)
    for (what, old, new), names in found.items():
        of = "scene" if len(names) == 1 else "scenes"
        where = f" in the {of} {', '.join(names)}" if len(names) < len(scenes) else ""
        yield Change("numbers", what + where, old, new)
    yield from _listed(pair)


def _listed(pair: Pair) -> Iterator[Change]:
    before = {pair.named(each) for each in (*pair.old.given, *pair.old.extra)}
    after = {*pair.new.given, *pair.new.extra}
    for symbol in sorted(before - after):
        yield Change("numbers", f"{symbol} is no more given")
    for symbol in sorted(after - before):
        yield Change("numbers", f"{symbol} is given too")


def _in_scene(pair: Pair, scene_name: str) -> Iterator[tuple[str, str, str]]:
    old_scene, new_scene = (
        next(each for each in problem.scenes if each.name == scene_name)
        for problem in (pair.old_problem, pair.new_problem)
    )
    now_given = {*pair.new.given, *pair.new.extra}
    for symbol in (*pair.old.given, *pair.old.extra):
        if pair.named(symbol) in now_given:
            old = pair.old_problem.spec(symbol, old_scene)
            new = pair.new_problem.spec(pair.named(symbol), new_scene)
            yield from _of_quantity(symbol, old, new)
    old, new = (
        pair.old_problem.answer_spec(pair.old, old_scene),
        pair.new_problem.answer_spec(pair.new, new_scene),
    )
    if old.plausible != new.plausible:
        yield f"plausible range of the answer {new.symbol}", _range(old), _range(new)


def _of_quantity(symbol: str, old: QuantitySpec, new: QuantitySpec) -> Iterator[tuple[str, str, str]]:
    if old.unit.symbol != new.unit.symbol:
        yield f"unit of {symbol}", old.unit.symbol, new.unit.symbol
    if old.figures != new.figures:
        yield f"figures of {symbol}", str(old.figures), str(new.figures)
    if old.constant != new.constant:
        yield f"constant of {symbol}", old.constant or "none", new.constant or "none"
    if _values(old) != _values(new):
        yield f"draw of {symbol}", _drawn(old), _drawn(new)


def _values(spec: QuantitySpec) -> frozenset[object]:
    return frozenset(spec.draw.values) if spec.draw else frozenset()


def _drawn(spec: QuantitySpec) -> str:
    values = sorted(spec.draw.values) if spec.draw else []
    if len(values) < 4:
        return ", ".join(map(str, values)) or "none"
    steps = {second - first for first, second in pairwise(values)}
    step = f" by {steps.pop()}" if len(steps) == 1 else f", {len(values)} values"
    return f"{values[0]} to {values[-1]}{step} {spec.unit.symbol}"


def _range(spec: QuantitySpec) -> str:
    return f"{spec.plausible[0]} to {spec.plausible[1]} {spec.unit.symbol}" if spec.plausible else "none"
