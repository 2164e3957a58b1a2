"""Questions about a change of one given quantity, their keys from the power with which it stands in the closed form."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, islice
from math import prod
from types import MappingProxyType
from typing import Any, TypeAlias

import numpy as np
import sympy
from numpy.typing import NDArray

from ..item.draw import drawn_place, lot
from ..item.formula import Fraction, Node, Number, equals
from ..item.item import ChoiceEntry, Option, Paragraph, Step, Words
from ..model.bounds import ceiling_of, is_ratio
from ..model.edit import ScalingEdit
from ..model.evaluation import evaluate, holds
from ..model.mistake import Mistake
from ..model.problem import Problem, Scene
from ..quantities.unit_kinds import OWN_TO_A_BODY, kind_of
from ..solving.solution import SolvedQuestion, samples_of
from ..thinking.advice import told_in
from ..thinking.mistaken_forms import MistakenForm
from ..thinking.options import right, wrong
from ..writing import ratio_words
from ..writing.letters import head_and_tail, name_of, owned
from ..writing.notation import Notation
from ..writing.numeric_steps import power_law
from ..writing.stem import asked_name, filled
from ..writing.view import notation_of
from .fixed import is_fixed

Power: TypeAlias = sympy.Rational
HALF = sympy.Rational(1, 2)
POWERS = tuple(map(sympy.Rational, ("-2", "-3/2", "-1", "-1/2", "0", "1/2", "1", "3/2", "2")))  # with plain words
FACTORS = tuple(ratio_words.DONE)  # the same for every power, or the change would tell it
CHANGED = 2  # quantities of one question that are changed, and ways in which each is
COMMON = (sympy.Integer(1), HALF)  # powers with which most quantities stand; these are changed in one way
MOST_WRONG = 3
# How gladly a power is offered as wrong: so that it is right in about a quarter of the questions in which it is
# offered. They follow from the shares of the powers among the keys of the shipped bank.
_SHARES = {
    "-2": 0.23, "-3/2": 0.03, "-1": 0.88, "-1/2": 0.13, "0": 0.21, "1/2": 0.48, "1": 0.48, "3/2": 0.03, "2": 1.00,
}  # fmt: skip
WEIGHTS: Mapping[Power | None, float] = MappingProxyType(
    {None: 0.55, **{sympy.Rational(power): share for power, share in _SHARES.items()}}
)
OF_LENGTHS = tuple(map(sympy.Rational, ("3/2", "-3/2")))  # powers that are thought of for lengths only, from orbits


@dataclass(frozen=True)
class Scaling:
    """A quantity that is taken ``factor`` times; the answer goes with its ``power``, None for no power."""

    symbol: str
    factor: sympy.Rational
    power: Power | None

    @property
    def done(self) -> str:
        """What is done to it, in one word: doubled, halved, tripled."""
        return ratio_words.DONE[self.factor]

    def outcome(self, power: Power | None, outcomes: ratio_words.Outcomes) -> str:
        """What becomes of a quantity that goes with this power of it, in words."""
        return outcomes.of(None if power is None else self.factor**power)


# --- which quantities are changed -------------------------------------------------------------------


def changes(solved: SolvedQuestion, live: Sequence[MistakenForm]) -> tuple[Scaling, ...]:
    """The changes worth asking about: of what mistakes get wrong, and once a problem of a mass that has cancelled.

    ``live`` are the mistakes that give another answer. Which change comes first differs from question to question,
    alike on every machine.
    """
    if is_unasked(solved) or is_bound(solved):
        return ()
    chosen = [each for symbol in _telling(solved, live) for each in _ways(solved, symbol)[:CHANGED]]
    found = (*_mixed(solved, chosen), *_idle_changes(solved)[:1])
    scenes = solved.problem.scenes_of(solved.question)
    return tuple(each for each in found if not all(is_fixed(solved, scene, each.symbol) for scene in scenes))


def is_unasked(solved: SolvedQuestion) -> bool:
    """Whether an angle is asked for, or what no motion changes: a mass, a charge, a spring constant, a coefficient."""
    problem, ask = solved.problem, solved.question.ask
    asked = kind_of(problem.quantities[ask].unit)
    ceilings = (each.relation for each in problem.holds if ceiling_of(problem, each.relation))
    of_a_ceiling = any(ask in each.symbols - _forces(problem) for each in ceilings)
    return asked in ("angle", *OWN_TO_A_BODY) or of_a_ceiling


def is_bound(solved: SolvedQuestion) -> bool:
    """Whether no length is given and no force acts that could settle one: the point that moves is one of a wheel."""
    problem, question = solved.problem, solved.question
    lengths = (kind_of(problem.quantities[each].unit) == "length" for each in (*question.given, question.ask))
    return not problem.diagrams and not any(lengths)


def _forces(problem: Problem) -> frozenset[str]:
    return frozenset(force.symbol for diagram in problem.diagrams for force in diagram.forces if force.symbol)


def _telling(solved: SolvedQuestion, live: Sequence[MistakenForm]) -> list[str]:
    """The given quantities that stand with another power in most mistaken forms; without any, one with no power."""
    form = solved.solution.closed_form
    powers = {symbol: power_law(form, symbol) for symbol in _varied(solved)}
    fit = [symbol for symbol, power in powers.items() if power in POWERS and power != 0]

    def tells(symbol: str) -> tuple[int, bool]:
        return -len(_other_powers(symbol, powers[symbol], live)), abs(powers[symbol]) == 1  # type: ignore[arg-type]

    return sorted(fit, key=tells)[:CHANGED] or [symbol for symbol, power in powers.items() if power is None][:1]


def _varied(solved: SolvedQuestion) -> Iterator[str]:
    """Givens that vary, stand in the closed form and are no mass, no angle and no ratio, which nobody sets."""
    for name in solved.question.given:
        spec = solved.problem.quantities[name]
        varies = name in solved.solution.symbols and spec.draw and len(spec.draw.values) > 1
        if varies and kind_of(spec.unit) not in ("mass", "angle") and not is_ratio(solved.problem, name):
            yield name


def _other_powers(symbol: str, power: Power | None, live: Sequence[MistakenForm]) -> dict[Power, Mistake]:
    """The powers of the quantity in mistaken forms that are not the right one, each with its first mistake."""
    found: dict[Power, Mistake] = {}
    for form in live:
        other = power_law(form.closed_form, symbol)
        if other in POWERS and other != power:
            found.setdefault(other, form.mistake)
    return found


def _ways(solved: SolvedQuestion, symbol: str) -> list[Scaling]:
    """What may be done to a quantity, in an order of its own in each question."""
    power = power_law(solved.solution.closed_form, symbol)
    found = _mixed(solved, [Scaling(symbol, factor, power) for factor in FACTORS])
    possible = (each for each in found if _may(solved, each))
    return list(islice(possible, 1 if power is None or power in COMMON else CHANGED))


def _mixed(solved: SolvedQuestion, found: Sequence[Scaling]) -> list[Scaling]:
    return sorted(found, key=lambda each: lot(solved.id, each.symbol, each.done))


def idle_mass(solved: SolvedQuestion) -> str:
    """The mass of a moving body that is not in the result, in the first such question of the problem; else empty."""
    problem = solved.problem
    masses = dict.fromkeys(each.mass for each in problem.diagrams if each.spot != "rest")
    asked = ((each.name, mass) for each in problem.questions for mass in masses if mass not in each.told)
    question, mass = next(asked, ("", ""))
    return mass if question == solved.question.name else ""


def _idle_changes(solved: SolvedQuestion) -> list[Scaling]:
    mass = idle_mass(solved)
    return _mixed(solved, [Scaling(mass, factor, sympy.Integer(0)) for factor in FACTORS]) if mass else []


def _may(solved: SolvedQuestion, asked: Scaling) -> bool:
    """Whether the change is possible, all else held, in most samples that are possible as they are."""
    samples = samples_of(solved.problem, solved.question)
    before = _possible(solved, samples)
    after = _possible(solved, {**samples, asked.symbol: float(asked.factor) * np.asarray(samples[asked.symbol])})
    return bool(2 * np.sum(before & after) >= np.sum(before))


def _possible(solved: SolvedQuestion, samples: Mapping[str, Any]) -> NDArray[np.bool_]:
    """For each sample whether the answer is real, of a sign that it can have, and keeps what holds."""
    answer = evaluate(solved.solution.closed_form, samples)
    possible = np.isfinite(answer) & ((answer > 0) | (not solved.problem.quantities[solved.question.ask].positive))
    for kept in solved.kept:
        if kept.expression is not None:
            possible = possible & holds(kept.expression, samples, strict=kept.strict)
    return np.asarray(possible)


# --- the question -----------------------------------------------------------------------------------


def change(
    solved: SolvedQuestion, scene: Scene, asked: Scaling, catalogue: Sequence[Mistake], live: Sequence[MistakenForm]
) -> ChoiceEntry | None:
    """What a change does to the asked quantity, the others held; wrong are mistaken forms and loose thoughts.

    None in a scene in which nothing can change it.
    """
    if is_fixed(solved, scene, asked.symbol):
        return None
    outcomes = _outcomes(solved)
    options: dict[Power | None, Option] = {asked.power: right((Words(asked.outcome(asked.power, outcomes)),))}
    own = solved.problem.mistakes_from(catalogue)
    thoughts = {each.edit.power: each for each in own if isinstance(each.edit, ScalingEdit)}
    if kind_of(solved.problem.quantities[asked.symbol].unit) != "length":
        thoughts = {power: each for power, each in thoughts.items() if power not in OF_LENGTHS}
    for power, mistake in {**thoughts, **_other_powers(asked.symbol, asked.power, live)}.items():
        options.setdefault(power, _wrong(solved, scene, asked, power, mistake))
    shown = _shown(asked, list(options), f"{solved.id} {asked.symbol} {asked.done}")
    return ChoiceEntry(_prompt(solved, scene, asked), tuple(options[each] for each in shown))


def _wrong(solved: SolvedQuestion, scene: Scene, asked: Scaling, power: Power | None, mistake: Mistake) -> Option:
    """A wrong outcome; a thought about any quantity is told of the one that is changed, with advice that fits it."""
    if isinstance(mistake.edit, ScalingEdit):
        told = of_quantity(solved, scene, asked.symbol, asked.power, mistake)
    else:
        (told,) = told_in(solved, scene, [mistake])
    return wrong((Words(asked.outcome(power, _outcomes(solved))),), told)


def of_quantity(
    solved: SolvedQuestion,
    scene: Scene,
    symbol: str,
    power: Power | None,
    mistake: Mistake,
    *,
    is_inside: bool = False,
) -> Mistake:
    """A thought about any quantity, told of this one; one about a power has advice that fits the right ``power``.

    ``is_inside``: the quantity stands inside a function.
    """
    (told,) = told_in(solved, scene, [mistake])
    thought = mistake.edit.power if isinstance(mistake.edit, ScalingEdit) else None
    name = name_of(solved.problem, scene, symbol)
    advice = told.feedback if thought is None else ratio_words.where_to_look(power, thought, is_inside=is_inside)
    asked_for = asked_name(solved.problem, solved.question, scene)
    thinking, advice = (ratio_words.about(each, name, asked_for) for each in (told.thinking, advice))
    return replace(told, thinking=thinking, feedback=advice)


def _shown(asked: Scaling, found: Sequence[Power | None], draw: str) -> list[Power | None]:
    """The right power and three wrong ones, in order of what they lead to, and no fixed factor last.

    The wrong ones are drawn by their weights, alike on every machine. What makes the answer greater never stands
    alone among what makes it smaller, nor the other way round: to see which way it goes is not the whole question.
    """
    others = sorted((each for each in found if each != asked.power), key=_rising)
    every = list(combinations(others, min(MOST_WRONG, len(others))))
    fair = _goes_every_way if asked.power is None else lambda each: not _has_a_lone_one((asked.power, *each))
    sets = [each for each in every if fair(each)] or every
    sets = [each for each in sets if not _has_a_lone_root((asked.power, *each))] or sets
    drawn = sets[drawn_place((prod(WEIGHTS[each] for each in one) for one in sets), draw)]
    up = sorted((asked.power, *drawn), key=_rising)
    return up if asked.factor > 1 else [*(each for each in reversed(up) if each is not None), *([None] * (None in up))]


def _goes_every_way(powers: Sequence[Power | None]) -> bool:
    """Whether one makes the answer greater, one makes it smaller and one leaves it as it is."""
    return {int(sympy.sign(each)) for each in powers if each is not None} == {-1, 0, 1}


def _has_a_lone_one(powers: Sequence[Power | None]) -> bool:
    above = [each.p for each in powers if each]  # each has the sign of what stands above its bar
    return any(sum(number * sign > 0 for number in above) == 1 for sign in (1, -1))


def _has_a_lone_root(powers: Sequence[Power | None]) -> bool:
    """Whether one power alone leads to a root: it would be told by that, as right or as wrong."""
    return len([each for each in powers if each is not None and each.q > 1]) == 1


def _rising(power: Power | None) -> tuple[bool, Power]:
    return power is None, power or sympy.Integer(0)


def _prompt(solved: SolvedQuestion, scene: Scene, asked: Scaling) -> Paragraph:
    notation = notation_of(solved.problem, scene)
    forms = ratio_words.ASKING_LENGTH if _is_chosen(solved) else ratio_words.ASKING
    draw = lot(solved.id, asked.symbol, asked.done, scene.name)
    means, tail = head_and_tail(name_of(solved.problem, scene, asked.symbol))
    name, end = head_and_tail(owned(solved.problem, scene, asked_name(solved.problem, solved.question, scene)))
    held, letters = held_in(solved, scene, (asked.symbol,))
    told = ratio_words.HELD.format(held=held) if letters else ratio_words.ALONE
    return filled(
        forms[draw[0] % len(forms)].replace("{held}", told),
        means=means,
        tail=tail,
        letter=notation.symbol(asked.symbol),
        done=ratio_words.TOLD[asked.factor],
        name=name,
        end=end,
        asked=notation.symbol(solved.question.ask),
        **letters,
    )


def _is_chosen(solved: SolvedQuestion) -> bool:
    """Whether a length is asked for that somebody chooses; a smallest or greatest one follows from the rest."""
    question = solved.question
    of_length = kind_of(solved.problem.quantities[question.ask].unit) == "length"
    return of_length and not (question.limiting and question.of_extreme)


def _outcomes(solved: SolvedQuestion) -> ratio_words.Outcomes:
    return ratio_words.CHOSEN if _is_chosen(solved) else ratio_words.FOLLOWS


def held_in(solved: SolvedQuestion, scene: Scene, changed: Sequence[str]) -> tuple[str, dict[str, Node]]:
    """The other given quantities, which stay what they are, with gaps for their letters, and these letters.

    What can't change at all is not told.
    """
    specs = ((name, solved.problem.quantities[name]) for name in solved.question.given if name not in changed)
    held = [name for name, spec in specs if not spec.constant and spec.draw and len(spec.draw.values) > 1]
    notation = notation_of(solved.problem, scene)
    others = [
        *(name_of(solved.problem, scene, each) for each in changed),
        asked_name(solved.problem, solved.question, scene),
    ]
    words = ratio_words.held_words({f"held_{each}": name_of(solved.problem, scene, each) for each in held}, others)
    return words, {f"held_{each}": notation.symbol(each) for each in held}


def ratio(solved: SolvedQuestion, scene: Scene, asked: Scaling) -> Step:
    """The ratio of after to before in one line, as a step of the solution; its number is given where it stands."""
    notation = notation_of(solved.problem, scene)
    letters: dict[str, Node] = {
        "asked": notation.symbol(solved.question.ask),
        "letter": notation.symbol(asked.symbol),
    }
    if asked.power is None:
        ends = (Words(_outcomes(solved).no_factor),)
        return Step(0, ratio_words.HEADING, (filled(ratio_words.NO_RATIO, **letters), ends))
    outcome = asked.outcome(asked.power, _outcomes(solved)).removeprefix(ratio_words.ITS)
    therefore = filled(ratio_words.THEREFORE, asked=letters["asked"], outcome=outcome)
    if not asked.power:
        return Step(0, ratio_words.HEADING, (filled(ratio_words.NOT_IN_IT, **letters), therefore))
    raised = notation.node(sympy.Symbol(asked.symbol) ** asked.power)
    line = _worked(notation, asked.factor, asked.power)
    return Step(0, ratio_words.HEADING, (filled(ratio_words.RATIO, power=raised, ratio=line, **letters), therefore))


def _worked(notation: Notation, factor: sympy.Rational, power: Power) -> Node:
    """A factor to a power with its value: ``3² = 9``; the value alone where there is nothing to work out."""
    # (1/2)⁻² is read as 2², and (1/2)² as 1/2²
    base, exponent = (factor, power) if factor > 1 else (1 / factor, -power)
    shown, value = (
        notation.node(each) if exponent > 0 else Fraction(Number("1"), notation.node(each))
        for each in (sympy.Pow(base, abs(exponent), evaluate=False), base ** abs(exponent))
    )
    return value if abs(exponent) == 1 or shown == value else equals(shown, value)
