"""Random motions at constant angular acceleration: from any three of the five quantities, the others come out.

A motion is made by its definition: the angular speed changes in proportion to the time, and the angle is the area under
its graph, a trapezium.
"""

from __future__ import annotations

from itertools import combinations
from math import pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from turnwright.bank.errors import SolveError
from turnwright.bank.item import formula
from turnwright.bank.mechanics.interval import TwoStates, chosen, links
from turnwright.bank.writing.laws import laws

from tests.bank import models

some = settings(max_examples=25, deadline=None, derandomize=True)
FIVE = ("p", "omega", "q", "beta", "t")
WAYS = [(ask, told) for told in combinations(FIVE, 3) for ask in FIVE if ask not in told]
NAMES = "initial-angular-speed: p, angular-speed: omega, angle-turned: beta, turns: k, duration: t, arc: s, speed: v}\n"
UP = "motion: {plane: horizontal, radius: r, angular-acceleration: q, " + NAMES
DOWN = "motion: {plane: horizontal, radius: r, angular-deceleration: q, " + NAMES
GAIN = (
    UP
    + "quantities: {p: rad/s 1 2 3, omega: rad/s 7 8 9, q: rad/s^2 1.1 1.3 1.7, beta: rad 11 17 23, t: s 2 3 4, s: m 9}"
)
LOSS = (
    DOWN
    + "quantities: {p: rad/s 7 8 9, omega: rad/s 1 2 3, q: rad/s^2 0.9 1 1.1, beta: rad 11 13 15, t: s 2 3 4, s: m 9}"
)
# a body that slows passes each angle twice if it goes on so, and the solver does not choose
TWICE = {(LOSS, "t", ("p", "q", "beta")), (GAIN, "t", ("omega", "q", "beta"))}
rates = st.floats(0.01, 50)
times = st.floats(0.05, 100)


def of_trapezium(first: float, rate: float, time: float, slows: bool) -> dict[str, float]:
    """The five quantities of a motion; ``first`` is the smaller angular speed."""
    other = first + rate * time
    start, end = (other, first) if slows else (first, other)
    return {"p": start, "omega": end, "q": rate, "beta": (start + end) / 2 * time, "t": time, "g": 9.8}


@pytest.mark.parametrize(
    ("model", "ask", "told"),
    [(model, *way) for model in (GAIN, LOSS) for way in WAYS if (model, *way) not in TWICE],
    ids=lambda each: {GAIN: "gain", LOSS: "loss"}.get(each, each) if isinstance(each, str) else "-".join(each),
)
@given(first=rates, rate=rates, time=times)
@some
def test_any_three_of_the_five_quantities_give_the_others(
    model: str, ask: str, told: tuple[str, ...], first: float, rate: float, time: float
) -> None:
    values = of_trapezium(first, rate, time, model is LOSS)
    found = models.solved(model, ask, " ".join(told)).solution.closed_form
    largest = max(abs(each) for each in values.values())
    assert models.function(found)(values) == pytest.approx(values[ask], rel=1e-6, abs=1e-9 * largest)


@pytest.mark.parametrize(("model", "ask", "told"), sorted(TWICE))
def test_a_time_with_two_values_is_refused(model: str, ask: str, told: tuple[str, ...]) -> None:
    with pytest.raises(SolveError, match="two admissible values"):
        models.solved(model, ask, " ".join(told))


@given(first=rates, rate=rates, time=times, radius=st.floats(0.1, 9))
@some
def test_revolutions_and_path_go_with_the_angle(first: float, rate: float, time: float, radius: float) -> None:
    values = {**of_trapezium(first, rate, time, slows=False), "r": radius}
    turns = models.function(models.solved(GAIN, "k", "p omega t").solution.closed_form)(values)
    path = models.function(models.solved(GAIN, "s", "r p q t").solution.closed_form)(values)
    assert (turns, path) == (pytest.approx(values["beta"] / (2 * pi)), pytest.approx(values["beta"] * radius))


@pytest.mark.parametrize("slows", [False, True])
@pytest.mark.parametrize("rest", [False, True])
@given(first=rates, rate=rates, time=times)
@some
def test_each_relation_is_true_of_every_motion(slows: bool, rest: bool, first: float, rate: float, time: float) -> None:
    values = of_trapezium(0.0 if rest else first, rate, time, slows)
    initial, final = (None if rest and not slows else "p"), (None if rest and slows else "omega")
    for link in links(TwoStates(initial, final, "q", "beta", "t", slows)):
        left, right = (models.function(side)(values) for side in (link.left, link.right))
        largest = max(abs(each) for each in (*values.values(), values["p"] ** 2, values["p"] * time))
        assert left == pytest.approx(right, rel=1e-9, abs=1e-12 * largest), link.because


def test_one_relation_is_chosen_where_one_leads_there_and_two_where_none_does() -> None:
    found = links(TwoStates("p", "omega", "q", "beta", "t", slows=False))
    assert len(found) == len(FIVE)
    for ask, told in WAYS:
        one = chosen(found, [], frozenset(told), ask, frozenset())
        quadratic = ask == "t" and "beta" in told and "q" in told
        assert len(one) == (2 if quadratic else 1), (ask, told)
        if not quadratic:
            assert one[0].symbols == {ask, *told}
    assert chosen(found, [frozenset(("a", "omega"))], frozenset(("omega",)), "a", frozenset()) == ()


def test_the_sheet_of_laws_tells_the_first_of_two_states_by_its_zero() -> None:
    solved = models.shipped("change-of-angular-speed.angular-acceleration")
    (law,) = laws(solved, solved.problem.scenes[0])
    assert formula.text(law.node) == "ω = ω_0 + α t"
