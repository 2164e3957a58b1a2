"""Who follows the thought that is told of a wrong number, and keeps all else, arrives at that number."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
import sympy
from sympy import Expr, Symbol
from turnwright.bank.errors import SolveError
from turnwright.bank.mechanics.equations import Equation
from turnwright.bank.model.edit import AccelerationEdit, AnswerEdit, RatioEdit, ReportEdit, ReverseEdit, SumEdit
from turnwright.bank.model.evaluation import agree, evaluate
from turnwright.bank.model.mistake import Mistake
from turnwright.bank.model.wording import IN_GENERAL
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.bank.solving.solution import SolvedQuestion, samples_of, solve
from turnwright.bank.thinking.advice import told_in
from turnwright.bank.thinking.mistaken_forms import MistakenForm, mistaken_forms, wrong_values
from turnwright.bank.variants.variant import VariantPool
from turnwright.bank.writing.letters import name_of

from tests.bank import models
from tests.bank.models import GRAVITY

BY_ID = {each.id: each for each in shipped_mistakes()}


@cache
def live() -> list[tuple[SolvedQuestion, MistakenForm]]:
    """Every mistake that leads to a wrong number, with each question where it does."""
    return [
        (diagnosed.solved, form)
        for name in models.shipped_ids()
        for diagnosed in [models.diagnosed(name)]
        for form in diagnosed.live
    ]


def of_edit(*kinds: type) -> list[tuple[SolvedQuestion, MistakenForm]]:
    """The same, for mistakes of some kinds of edits."""
    return [(solved, form) for solved, form in live() if isinstance(form.mistake.edit, kinds)]


def used(solved: SolvedQuestion) -> list[Equation]:
    """The equations that the right answer rests on."""
    return [solved.system.equations[each] for each in sorted({one.origin for one in solved.solution.path} - {-1})]


# --- one change, not two ----------------------------------------------------------------------------


def one_term_changed(solved: SolvedQuestion) -> Iterator[Expr]:
    """The closed forms that come of one term of one equation with the other sign, or left out."""
    for place, equation in enumerate(solved.system.equations):
        if equation not in used(solved):
            continue
        for changed in _with_one_term_changed(equation):
            equations = (*solved.system.equations[:place], changed, *solved.system.equations[place + 1 :])
            try:
                system = replace(solved.system, equations=equations)
                yield solve(system, samples_of(solved.problem, solved.question), careful=False).closed_form
            except SolveError:
                continue


def _with_one_term_changed(equation: Equation) -> Iterator[Equation]:
    left, right = (sympy.Add.make_args(sympy.expand(side)) for side in (equation.left, equation.right))
    for sign in (-1, 0):
        for term in left:
            yield replace(equation, terms=(equation.left + (sign - 1) * term,))
        for term in right:
            yield replace(equation, right=equation.right + (sign - 1) * term)


def is_one_change(solved: SolvedQuestion, form: MistakenForm) -> bool:
    """Whether the wrong form comes of one changed term of the equations."""
    samples = samples_of(solved.problem, solved.question)
    return any(agree(form.closed_form, each, samples) for each in one_term_changed(solved))


def changed_twice(found: Sequence[tuple[SolvedQuestion, MistakenForm]]) -> list[str]:
    """Where a sentence about one term is told of a form that takes more than one."""
    return [f"{solved.id}: {form.mistake.id}" for solved, form in found if not is_one_change(solved, form)]


def is_offered(solved: SolvedQuestion, form: MistakenForm) -> bool:
    """Whether the wrong form is positive in some samples."""
    return bool((evaluate(form.closed_form, samples_of(solved.problem, solved.question)) > 0).any())


def test_a_sentence_about_one_term_is_told_of_one_term() -> None:
    """In the sums of vertical circles; one in five is solved anew, term by term."""
    found = [
        (solved, form)
        for solved, form in of_edit(SumEdit)
        if solved.problem.family in ("vertical-circle", "energy-in-a-loop")
        and form.mistake.id != "only-the-last-term"
        and is_offered(solved, form)
    ]
    assert len(found) > 30
    assert changed_twice(found[::5]) == []


def test_a_sum_of_collected_terms_with_the_other_sign_is_caught() -> None:
    """Planted: N = m g (2 h/r + 5), for which −m g and −4 m g have both to change."""
    solved = models.shipped("loop-from-a-ramp.force-at-the-top")
    m, g, h, r = sympy.symbols("m g h r")
    planted = MistakenForm(BY_ID["sign-of-a-term"], g * m * (2 * h + 5 * r) / r)
    assert changed_twice([(solved, planted)]) == [f"{solved.id}: sign-of-a-term"]


def squared_amiss(found: Sequence[tuple[SolvedQuestion, MistakenForm, Mistake]]) -> list[str]:
    """Where the number is not what the right formula gives with the root of the named quantity in its place."""
    faults = []
    for solved, form, told in found:
        scene = solved.problem.scenes_of(solved.question)[0]
        names = [
            each for each in solved.question.given if f"the {name_of(solved.problem, scene, each)}." in told.thinking
        ]
        rooted = {Symbol(each): sympy.sqrt(Symbol(each)) for each in names}
        samples = samples_of(solved.problem, solved.question)
        if len(names) != 1 or not agree(form.closed_form, solved.solution.closed_form.xreplace(rooted), samples):
            faults.append(f"{solved.id}: {told.thinking}")
    return faults


def _squares() -> list[tuple[SolvedQuestion, MistakenForm, Mistake]]:
    return [
        (solved, form, *told_in(solved, solved.problem.scenes_of(solved.question)[0], [form.mistake]))
        for solved, form in live()
        if form.mistake.id in ("square-forgotten", "last-factor-not-squared") and is_offered(solved, form)
    ]


def test_the_quantity_that_is_not_squared_is_named_and_is_the_only_one() -> None:
    found = _squares()
    assert len(found) > 50
    assert squared_amiss(found) == []


def test_two_squares_forgotten_at_once_are_caught() -> None:
    """Planted: what was told before of b² t²/r, with neither squared."""
    planted = next(each for each in _squares() if each[0].id == "speeding-up-on-a-circle.inward-part-after-a-time")
    b, t, r = sympy.symbols("b t r")
    assert len(squared_amiss([(planted[0], replace(planted[1], closed_form=b * t / r), planted[2])])) == 1


# --- at every place, or at one ------------------------------------------------------------------------


def places_amiss(found: Sequence[tuple[SolvedQuestion, MistakenForm]]) -> list[str]:
    """Where a thought of every acceleration reaches one of two, or a force is turned at two places."""
    faults = []
    for solved, form in found:
        quantities = solved.problem.quantities
        inward = [each for each in used(solved) if each.kind == "inward"]
        named = [str(each.left) for each in used(solved) if each.kind == "relation"]
        accelerations = [each for each in named if each in quantities and quantities[each].unit.symbol == "m/s^2"]
        turned_twice = isinstance(form.mistake.edit, ReverseEdit) and form.mistake.id.startswith("weight")
        if (isinstance(form.mistake.edit, AccelerationEdit) and len(accelerations) > 1) or (
            turned_twice and len(inward) > 1
        ):
            faults.append(f"{solved.id}: {form.mistake.id}")
    return faults


def test_what_is_thought_of_one_place_is_done_at_one_place() -> None:
    assert places_amiss(of_edit(AccelerationEdit, ReverseEdit)) == []
    planted = [
        (models.shipped("rim-and-hub.inner-acceleration"), MistakenForm(BY_ID["half-of-m-v-squared"], Symbol("a_1"))),
        (models.shipped("over-on-a-cord.top-from-bottom"), MistakenForm(BY_ID["weight-turned-round"], Symbol("m"))),
    ]
    assert places_amiss(planted) == ["rim-and-hub.inner-acceleration: half-of-m-v-squared",
                                     "over-on-a-cord.top-from-bottom: weight-turned-round"]  # fmt: skip


def not_the_same(found: Sequence[tuple[SolvedQuestion, MistakenForm]]) -> list[str]:
    """Where "the value is the same for both" and yet no given is the answer."""
    return [
        solved.id
        for solved, form in found
        for samples in [samples_of(solved.problem, solved.question)]
        if not any(agree(form.closed_form, Symbol(each), samples) for each in solved.question.given)
    ]


def test_who_thinks_that_a_value_is_the_same_gives_back_the_given_one() -> None:
    found = [each for each in of_edit(RatioEdit) if each[1].mistake.id == "same-for-both"]
    assert len(found) >= 5
    assert not_the_same(found) == []
    planted = MistakenForm(BY_ID["same-for-both"], Symbol("R") * Symbol("omega_1"))
    assert not_the_same([(models.shipped("wheels-on-one-axle.rim-speed"), planted)]) == ["wheels-on-one-axle.rim-speed"]


def unnamed(found: Sequence[tuple[SolvedQuestion, MistakenForm]]) -> list[str]:
    """Where advice is given about two bodies that a scene does not name."""
    return [
        f"{solved.id}: {form.mistake.id}"
        for solved, form in found
        for scene in solved.problem.scenes_of(solved.question)[:1]
        for told in told_in(solved, scene, [form.mistake])
        if " ".join((told.thinking, told.feedback)).count(IN_GENERAL["both"])
        > " ".join(form.mistake.written or ()).count(IN_GENERAL["both"])
        and "{both}" in " ".join(form.mistake.written or ())
    ]


def test_who_is_asked_what_two_bodies_have_in_common_is_told_which_two() -> None:
    found = of_edit(RatioEdit)
    assert len(found) > 10
    assert unnamed(found) == []
    planted = MistakenForm(BY_ID["ratio-upside-down"], Symbol("M"))
    assert unnamed([(models.shipped("inside-a-ball.inner-mass"), planted)]) == [
        "inside-a-ball.inner-mass: ratio-upside-down"
    ]


# --- the contact force ----------------------------------------------------------------------------------


def contact_is_told(solved: SolvedQuestion) -> bool:
    """Whether the words of a question say how great its contact force is, or nothing holds the body up."""
    question, forces = solved.question, solved.system.forces
    told = any(f"{{{name}}}" in question.stem and name in forces | {"F_b"} for name in question.given)
    in_weights = re.search(r"\{\w+\} times (its|the) weight", question.stem)
    return bool(told or in_weights) or any(each.spot == "side" for each in solved.problem.diagrams)


def contact_amiss(found: Sequence[tuple[SolvedQuestion, MistakenForm]]) -> list[str]:
    """Where the size of a contact force is thought of, though the question tells it or it is horizontal."""
    return [f"{solved.id}: {form.mistake.id}" for solved, form in found if contact_is_told(solved)]


CONTACT = ("contact-is-the-weight", "contact-is-part-of-the-weight", "contact-is-the-weight-inward")


def test_a_contact_force_is_taken_for_the_weight_only_where_it_is_open() -> None:
    found = [each for each in live() if each[1].mistake.id in CONTACT]
    assert len(found) > 80
    assert contact_amiss(found) == []


@pytest.mark.parametrize("question", ["over-the-top.speed-from-weights", "level-with-the-centre.contact-force"])
def test_a_told_or_horizontal_force_that_is_taken_for_the_weight_is_caught(question: str) -> None:
    """Planted: the mistake without what it needs."""
    solved = models.shipped(question)
    found, _ = mistaken_forms(solved, [replace(BY_ID["contact-is-the-weight"], needs=None)])
    assert contact_amiss([(solved, *found)]) == [f"{question}: contact-is-the-weight"]


# --- units ------------------------------------------------------------------------------------------------


def converted_amiss(solved: SolvedQuestion, form: MistakenForm, factor: float = 1.0) -> list[str]:
    """Scenes in another unit than the SI one where the number of another quantity is converted all the same."""
    faults = []
    for pool in VariantPool(solved, GRAVITY).pools:
        if pool.answer.unit.factor == 1:
            continue
        numbers = np.arange(min(len(pool.grid), 5))
        given = wrong_values(form, pool, numbers) * factor
        found = [models.function(form.closed_form)({name: each.si for name, each in pool.grid.printed(int(one)).items()}
                 | {"g": GRAVITY_VALUE}) for one in numbers]  # fmt: skip
        if not np.allclose(given[np.isfinite(given)], np.array(found)[np.isfinite(given)], rtol=1e-6):
            faults.append(f"{solved.id} {pool.scene.name}: {form.mistake.id}")
    return faults


GRAVITY_VALUE = float(GRAVITY)


def test_who_gives_another_quantity_does_not_convert_it() -> None:
    found = [each for each in of_edit(ReportEdit, AnswerEdit) if each[1].is_another_quantity]
    converted = [each for each in found if _has_another_unit(each[0])]
    assert len(converted) > 20
    assert [line for each in converted[::3] for line in converted_amiss(*each)] == []


def _has_another_unit(solved: SolvedQuestion) -> bool:
    scenes = solved.problem.scenes_of(solved.question)
    return any(solved.problem.answer_spec(solved.question, each).unit.factor != 1 for each in scenes)


def test_an_angular_speed_in_kilometres_per_hour_is_caught() -> None:
    solved = models.shipped("flat-bend.greatest-speed")
    (form,), _ = mistaken_forms(solved, [BY_ID["angular-speed-for-the-speed"]])
    assert converted_amiss(solved, form) == []
    assert converted_amiss(solved, form, 3.6)
