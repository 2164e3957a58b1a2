"""Sets of changes of an equation: what each is made of, and that the right equation is no majority of its set."""

from __future__ import annotations

from dataclasses import replace

import sympy
from turnwright.bank.mechanics.equations import Equation
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.bank.thinking.equation_changes import (
    EquationChange,
    cannot_hold,
    change,
    is_true_as_well,
    sets_of_changes,
)

TENSION, WEIGHT, NORMAL, MASS, SPEED, RADIUS = sympy.symbols("F_T G F_N m v r")
TRUE = Equation("inward", (TENSION, -WEIGHT), MASS * SPEED**2 / RADIUS, diagram="bottom")
WHY = {each.id: each for each in shipped_mistakes()}


def of(name: str, *terms: sympy.Expr, right: sympy.Expr = TRUE.right) -> EquationChange:
    return change(WHY[name], TRUE, Equation("inward", terms, right, diagram="bottom"))


TURNED = of("weight-turned-round", TENSION, WEIGHT)
HELD_BACK = of("holding-force-turned-round", -TENSION, -WEIGHT)
LEFT_OUT = of("weight-left-out", TENSION)
LOOSE = of("holding-force-not-drawn", -WEIGHT)
CARRIED = of("carrying-force-inward", TENSION, -WEIGHT, NORMAL)
SLOW = of("speed-not-squared", TENSION, -WEIGHT, right=MASS * SPEED / RADIUS)


def lefts(changes: tuple[EquationChange, ...]) -> list[sympy.Expr]:
    return [each.made(TRUE).left for each in changes]


def test_a_change_is_what_two_equations_do_not_share() -> None:
    assert (TURNED.gone, TURNED.new, TURNED.factor) == ((-WEIGHT,), (WEIGHT,), 1)
    assert SLOW.is_of_acceleration and not SLOW.gone
    assert SLOW.made(TRUE).right == MASS * SPEED / RADIUS


def test_two_changes_stand_alone_and_together() -> None:
    found = next(iter(sets_of_changes([TURNED, HELD_BACK])))
    assert lefts(found) == [TENSION + WEIGHT, -TENSION - WEIGHT, WEIGHT - TENSION]
    assert [each.id for each in found[2].mistakes] == ["weight-turned-round", "holding-force-turned-round"]


def test_two_changes_of_one_force_are_never_together() -> None:
    assert not list(sets_of_changes([TURNED, LEFT_OUT]))


def test_another_force_for_the_one_left_out_is_a_change_by_itself() -> None:
    assert any(NORMAL - WEIGHT in lefts(found) for found in sets_of_changes([LOOSE, CARRIED, TURNED]))


def test_each_thing_that_two_changes_get_wrong_is_wrong_in_two_of_the_four_options() -> None:
    sets = list(sets_of_changes([TURNED, HELD_BACK, CARRIED, SLOW]))
    together = [found for found in sets if found[2].mistakes == (*found[0].mistakes, *found[1].mistakes)]
    assert len(together) >= 6
    for found in together:
        made = [TRUE, *(each.made(TRUE) for each in found)]
        for term in {term for each in made for term in each.terms}:
            assert sum(term in each.terms for each in made) in (2, 4)
        assert sum(each.right == TRUE.right for each in made) in (2, 4)


def test_a_change_of_nothing_is_seen() -> None:
    assert of("speed-not-squared", *TRUE.terms).is_none
    assert not TURNED.is_none


CHARGE, FIELD, ANGLE, FRICTION = sympy.symbols("q B theta f")
IN_A_FIELD = Equation("inward", (CHARGE * SPEED * FIELD,), MASS * SPEED**2 / RADIUS)


def test_an_equation_divided_by_a_letter_says_the_same() -> None:
    assert is_true_as_well(Equation("inward", (CHARGE * FIELD,), MASS * SPEED / RADIUS), IN_A_FIELD, ())
    assert is_true_as_well(Equation("inward", (-TENSION, WEIGHT), -TRUE.right), TRUE, ())
    leaning = Equation("inward", (NORMAL * sympy.sin(ANGLE),), TRUE.right)
    assert is_true_as_well(Equation("inward", (NORMAL * sympy.tan(ANGLE),), TRUE.right / sympy.cos(ANGLE)), leaning, ())


def test_an_equation_with_one_side_changed_says_something_else() -> None:
    assert not is_true_as_well(Equation("inward", (CHARGE * SPEED * FIELD,), MASS * SPEED / RADIUS), IN_A_FIELD, ())
    assert not is_true_as_well(Equation("inward", (TENSION, WEIGHT), TRUE.right), TRUE, ())
    assert not is_true_as_well(Equation("inward", (-TENSION, WEIGHT), TRUE.right), TRUE, ())


def test_another_equation_of_the_diagram_makes_a_wrong_looking_one_true() -> None:
    friction = Equation("inward", (FRICTION,), TRUE.right)
    upright = Equation("up", (NORMAL, -WEIGHT), sympy.Integer(0))
    added = Equation("inward", (FRICTION, NORMAL, -WEIGHT), TRUE.right)
    assert is_true_as_well(added, friction, (upright,))
    assert not is_true_as_well(added, friction, ())
    assert not is_true_as_well(replace(added, terms=(FRICTION, NORMAL)), friction, (upright,))


def test_two_accelerations_are_put_together_only_where_they_change_other_letters() -> None:
    upright = of("half-of-m-v-squared", TENSION, -WEIGHT, right=TRUE.right / 2)
    wide = of("length-on-the-other-side", TENSION, -WEIGHT, right=MASS * SPEED**2 * RADIUS)
    assert [len(one) for one in sets_of_changes([SLOW, wide])] == [3]
    assert not list(sets_of_changes([SLOW, replace(SLOW, factor=SPEED)]))
    assert list(sets_of_changes([upright, wide]))


def test_three_changes_of_forces_stand_alone_or_two_of_them_together() -> None:
    found = [set(lefts(one)) for one in sets_of_changes([TURNED, HELD_BACK, LEFT_OUT]) if not any_acceleration(one)]
    assert {TENSION + WEIGHT, WEIGHT - TENSION, TENSION} in found


def any_acceleration(changes: tuple[EquationChange, ...]) -> bool:
    return any(each.is_of_acceleration for each in changes)


def test_an_equation_of_other_signs_on_each_side_cannot_hold() -> None:
    assert cannot_hold(replace(TRUE, terms=(-TENSION, -WEIGHT)))
    assert cannot_hold(replace(TRUE, right=-TRUE.right, terms=(TENSION,)))
    assert not cannot_hold(TRUE)
    assert not cannot_hold(replace(TRUE, terms=(-TENSION,), right=-TRUE.right))


def test_no_equation_is_of_four_mistakes() -> None:
    upward = of("weight-towards-the-centre", TENSION, WEIGHT)
    found = list(sets_of_changes([LOOSE, CARRIED, TURNED, HELD_BACK, SLOW, upward]))
    assert max(len(each.mistakes) for one in found for each in one) == 3
