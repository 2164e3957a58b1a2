"""Questions about what depends on what, their keys computed from the closed form: change, limit, rank."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal, TypeAlias

import numpy as np
import sympy
from numpy.typing import NDArray
from turnwright.bank import wording
from turnwright.bank.diagram import notation_of
from turnwright.bank.edit_forces import is_friction
from turnwright.bank.equation import system_of
from turnwright.bank.evaluation import evaluate
from turnwright.bank.item import ChoiceEntry, Given, Inline, Math, Option, OrderEntry, Paragraph, Words
from turnwright.bank.mistake import Mistake
from turnwright.bank.option import RIGHT, mixed, right, wrong
from turnwright.bank.problem import Force, Scene
from turnwright.bank.solution import sign_of
from turnwright.bank.solving import Kept, SolvedQuestion, gap, samples_of
from turnwright.bank.stem import asked_name
from turnwright.bank.variant import Variant
from turnwright.bank.wording import with_article
from turnwright.bank.worked_numbers import power_law

Outcome: TypeAlias = Literal["kept", "lost"]
CASES = 4
APART = 0.05  # no two cases of a ranking are closer than this
NOTHING = 1e-12  # what rounding may take off a margin that is just kept
STEP = 1.1  # how much faster or slower than the limit
_FACTORS: dict[sympy.Rational, str] = {
    sympy.Rational(-2): "a quarter of what it was",
    sympy.Rational(-1): "half of what it was",
    sympy.Rational(-1, 2): "smaller by the factor 1/√2",
    sympy.Rational(0): "the same as before",
    sympy.Rational(1, 2): "greater by the factor √2",
    sympy.Rational(1): "twice what it was",
    sympy.Rational(2): "four times what it was",
}
MOST_FACTORS = 5
NO_FACTOR = "not a fixed factor of what it was"
READ_OFF = "Right: read the power of this quantity off the closed form."


# --- what a doubled quantity does -----------------------------------------------------------------


def changes(solved: SolvedQuestion) -> tuple[str, ...]:
    """The quantities that are doubled in turn: the first given that varies and may, and a mass that has cancelled."""
    spec = solved.problem.quantities
    varied = [name for name in solved.question.given if spec[name].draw and len(spec[name].draw.values) > 1]  # type: ignore[union-attr]
    angles = {name for name in varied if spec[name].unit.symbol == "deg"}
    masses = [each.mass for each in solved.problem.diagrams if each.spot != "rest"]
    idle = [
        name for name in dict.fromkeys(masses) if name not in solved.solution.symbols and name != solved.question.ask
    ]
    return (*[name for name in varied if name not in angles and _may_double(solved, name)][:1], *idle[:1])


def _may_double(solved: SolvedQuestion, symbol: str) -> bool:
    """Whether twice the quantity is possible, all else held, in most samples that are possible as they are."""
    samples = samples_of(solved.problem, solved.question)
    before = _possible(solved, samples)
    after = _possible(solved, {**samples, symbol: 2 * np.asarray(samples[symbol])})
    return bool(2 * np.sum(before & after) >= np.sum(before))


def _possible(solved: SolvedQuestion, samples: Mapping[str, Any]) -> NDArray[np.bool_]:
    """For each sample whether the answer is real, of a sign that it can have, and keeps what holds."""
    answer = evaluate(solved.solution.closed_form, samples)
    possible = np.isfinite(answer) & ((answer > 0) | (not solved.problem.quantities[solved.question.ask].positive))
    for kept in solved.kept:
        if kept.expression is not None:
            possible = possible & (evaluate(kept.expression, samples) >= -NOTHING)
    return np.asarray(possible)


def change(solved: SolvedQuestion, scene: Scene, symbol: str, catalogue: Sequence[Mistake]) -> ChoiceEntry | None:
    """What doubling a quantity does to the asked one, the others held; None for a power that has no plain words."""
    power = power_law(solved.solution.closed_form, symbol)
    if power is not None and power not in _FACTORS:
        return None
    key = NO_FACTOR if power is None else _FACTORS[power]
    options = {key: right((Words(key),), READ_OFF)}
    for mistake in solved.problem.mistakes_from(catalogue):
        if mistake.edit[0] == "scaling":
            other = _FACTORS[sympy.Rational(mistake.edit[1])]
            options.setdefault(other, wrong((Words(other),), mistake))
    sizes = [*_FACTORS.values(), NO_FACTOR]
    shown = sorted(list(options)[:MOST_FACTORS], key=sizes.index)
    return ChoiceEntry(_change_prompt(solved, scene, symbol), tuple(options[each] for each in shown))


def _change_prompt(solved: SolvedQuestion, scene: Scene, symbol: str) -> Paragraph:
    notation = notation_of(solved.problem, scene)
    name = asked_name(solved.problem, solved.question, scene)
    means = solved.problem.quantities[symbol].means or symbol
    others = [each for each in solved.question.given if each != symbol]
    held = " All else is as before." if others else ""
    return (
        Words(f"The {means} "),
        Math(notation.symbol(symbol)),
        Words(f" is doubled.{held} What is the {name} "),
        Math(notation.symbol(solved.question.ask)),
        Words(" then?"),
    )


# --- faster or slower than the limit ----------------------------------------------------------------


@dataclass(frozen=True)
class Limit:
    """The limiting case of a question: what holds only just there, and the force at its edge."""

    kept: Kept
    force: Force


def limit_of(solved: SolvedQuestion) -> Limit | None:
    """The limit of a question that asks for a speed, a rate or a period; None for any other."""
    limiting, problem = solved.question.limiting, solved.problem
    motion = problem.motion
    rates = {motion.angular_speed, motion.period, motion.speed, *(each.speed for each in problem.diagrams)}
    if limiting is None or solved.question.ask not in rates:
        return None
    for reason in problem.holds:
        relation = reason.relation
        if {relation.left, relation.right} != {limiting.left, limiting.right}:
            continue
        for diagram in problem.diagrams:
            for force in diagram.forces:
                if force.symbol and sympy.Symbol(force.symbol) in (relation.left, relation.right):
                    return Limit(Kept(reason, None, strict=False), force)
    return None


def beyond(solved: SolvedQuestion, limit: Limit, factor: float) -> Outcome | None:
    """What happens where the asked quantity is ``factor`` times its limit, from the sign of what holds in samples."""
    free = replace(solved.question, limiting=None, ask="", given=(*solved.question.given, solved.question.ask))
    system = system_of(solved.problem, free)
    sign = sign_of(system, gap(limit.kept.reason))
    if sign is None:
        return None
    samples = dict(samples_of(solved.problem, solved.question))
    samples[solved.question.ask] = evaluate(solved.solution.closed_form, samples) * factor
    margins = np.asarray(evaluate(sign.expression, samples))
    margins = margins[np.isfinite(margins)]
    if not len(margins) or (margins > 0).all() == (margins < 0).all():
        return None
    return "kept" if (margins > 0).all() else "lost"


def limit(solved: SolvedQuestion, scene: Scene, factor: float) -> ChoiceEntry | None:
    """What happens a little above or below the limit; None where it is no plain yes or no."""
    found = limit_of(solved)
    outcome = beyond(solved, found, factor) if found else None
    if found is None or outcome is None:
        return None
    told_kept, told_lost = _outcomes(solved, found, scene)
    texts: dict[str, str] = {
        "kept": told_kept,
        "lost": told_lost,
        "same": "nothing changes: it stays just at the limit",
    }
    feedback = "Put a greater or smaller value into the inward equation and see what the force at the limit has to be."
    options = [
        Option((Words(words),), each == outcome, RIGHT if each == outcome else feedback)
        for each, words in texts.items()
    ]
    name = asked_name(solved.problem, solved.question, scene)
    grown = "greater" if factor > 1 else "smaller"
    prompt = (Words(f"What happens if the value is a little {grown} than this {name}?"),)
    return ChoiceEntry(prompt, mixed(options, f"{solved.id} limit {grown}"), shuffle=True)


def _outcomes(solved: SolvedQuestion, found: Limit, scene: Scene) -> tuple[str, str]:
    shown = scene.forces[found.force.role]
    diagram = next(each for each in solved.problem.diagrams if found.force in each.forces)
    body = with_article(scene.words[diagram.body], "the")
    if is_friction(solved.problem, found.force):
        return f"{body} keeps its circle, with friction to spare", f"the friction is not enough, and {body} slips"
    relation = found.kept.reason.relation
    if 0 in (relation.left, relation.right):
        return (
            f"{shown.by} {shown.acts} {body}: the {shown.name} is greater than zero",
            f"{shown.by} can no longer act: {body} leaves its circle",
        )
    return f"the {shown.name} stays within its bounds", f"the {shown.name} would have to pass its bound"


# --- rank cases ---------------------------------------------------------------------------------------


def cases(variants: Sequence[Variant]) -> tuple[Variant, ...]:
    """Four of the variants of one scene whose answers are five percent apart at least; () if there are fewer."""
    kept: list[Variant] = []
    for variant in variants:
        if all(_are_apart(variant.exact_si, each.exact_si) for each in kept):
            kept.append(variant)
        if len(kept) == CASES:
            return tuple(kept)
    return ()


def _are_apart(first: float, second: float) -> bool:
    return abs(first - second) > APART * max(abs(first), abs(second))


def rank(solved: SolvedQuestion, scene: Scene, chosen: Sequence[Variant]) -> OrderEntry:
    """Cases to be put in order of the asked quantity, least first, from computed values."""
    options = tuple(tuple(_case(solved, scene, variant)) for variant in chosen)
    order = sorted(range(len(chosen)), key=lambda place: chosen[place].exact_si)
    name = asked_name(solved.problem, solved.question, scene)
    prompt = (Words(f"Put these cases in order of the {name}, the least first."),)
    hint = f"Write the {name} in letters first, then compare the cases term by term."
    return OrderEntry(prompt, options, tuple(order), hint)


def _case(solved: SolvedQuestion, scene: Scene, variant: Variant) -> Iterator[Inline]:
    notation = notation_of(solved.problem, scene)
    for place, name in enumerate(solved.question.given):
        quantity = variant.given[name]
        yield Words(", ") if place else Words("")
        yield Math(notation.symbol(name))
        yield Words(" = ")
        yield Given(name, quantity.number, quantity.unit.printed)


def opening(scene: Scene) -> Paragraph:
    """The story of the scene alone."""
    return (Words(wording.sentence(scene.story, scene)),)
