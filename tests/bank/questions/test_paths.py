"""Paths on vertical circles past a limit, against closed forms derived here, and the drawings of them.

From Newton's second law and the conservation of energy alone (OpenStax University Physics vol. 1, sections 6.3 and 8.3,
from memory). With k = v²/(g r) at the start and θ from the top, v²/(g r) = k + 2 (cos θ₀ - cos θ) in contact, which is
lost where the force needed is what the weight gives, v²/(g r) = cos θ. So 3 cos θ = k + 2 cos θ₀ on either side of the
circle: k - 2 from the bottom, k + 2 from the top.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from math import cos, pi, radians, sin, sqrt

import numpy as np
import pytest
import sympy
from turnwright.bank.item.drawing import Disc, Drawing
from turnwright.bank.item.item import SolutionDrawing, Words
from turnwright.bank.mechanics import equations
from turnwright.bank.questions.limiting import keys, paths, strips
from turnwright.bank.questions.limiting.paths import Circle, Passage, circle_of, path_of
from turnwright.bank.reading.files import read_bank
from turnwright.bank.writing.figure_words import MOST

from tests.bank import models

CLOSE = 1e-6
SIZES = ((1.0, 1.0), (0.4, 9.81), (160.0, 1.62))  # radius and g
INSIDE = (
    "loop-from-a-ramp", "loop-with-a-margin", "over-on-a-cord", "over-the-top", "round-the-circle",
    "round-the-circle-high", "level-with-the-centre", "through-the-bottom", "through-the-dip", "swing-from-an-angle",
)  # fmt: skip
OUTSIDE = ("hump-after-a-dip", "off-a-dome", "over-the-crest")
# the questions with a strip, by problem: the scenes, and the changes with what comes of them
STRIPS = {
    "over-on-a-cord.least-speed-at-the-bottom": (
        {"bob", "ball", "beanbag"}, {"v_bottom less": "lost", "v_bottom more": "greater"},
    ),
    "over-the-top.least-speed": ({"cords", "loop-of-track"}, {"v less": "lost", "v more": "greater"}),
    "over-the-crest.greatest-speed": ({"bridge", "golf-course", "model-track"}, {"r less": "lost"}),
    "hump-after-a-dip.greatest-speed": ({"pump-track", "sledge", "mine-train"}, {"v_1 more": "lost"}),
}  # fmt: skip


def circles(*names: str) -> Iterator[tuple[str, Circle]]:
    """The circles of these problems, one for each diagram with a contact force along the radius, in each size."""
    for problem in (*read_bank(), *models.drafts()):
        for diagram in problem.diagrams if problem.id in names else ():
            for force in diagram.forces:
                found = circle_of(problem, diagram, force) if force.symbol else None
                for radius, gravity in SIZES if found else ():
                    assert found
                    yield f"{problem.id} {diagram.name}", replace(found, radius=radius, gravity=gravity)


def circle(name: str) -> Circle:
    """The circle of a problem whose diagrams are all on one side, for a radius of 1 m and g = 9.81 N/kg."""
    return replace(next(circles(name))[1], radius=1.0, gravity=9.81)


def state(path: Passage, time: float | None) -> tuple[float, float, float]:
    """The angle from the top, the height over the centre and the speed at a time."""
    assert time is not None
    there = path.at([time])
    speed = np.hypot(there.velocity_x, there.velocity_y)
    return float(np.arctan2(there.x, there.y)[0]), float(there.y[0]), float(speed[0])


def same_energy(path: Passage) -> bool:
    """Whether v²/2 + g y stays what it is; and the body is on its circle while it is held, and on its side after."""
    found, made = path.evenly(400), path.circle
    energy = (found.velocity_x**2 + found.velocity_y**2) / 2 + made.gravity * found.y
    away = made.sense * (np.hypot(found.x, found.y) / made.radius - 1)
    on_circle = np.abs(away[found.in_contact]).max(initial=0.0) < CLOSE
    return bool(np.ptp(energy) < CLOSE * made.gravity * made.radius and on_circle and away.max() < CLOSE)


def is_parabola(path: Passage) -> bool:
    """Whether the body goes on from where it leaves with its velocity there, under g alone."""
    assert path.leaves is not None
    found = path.at(np.linspace(path.leaves, path.ends, 60))
    time, first = found.times - path.leaves, path.at([path.leaves])
    x = first.x + first.velocity_x * time
    y = first.y + first.velocity_y * time - path.circle.gravity * time**2 / 2
    return float(np.abs([x - found.x, y - found.y]).max()) < CLOSE * path.circle.radius


# --- inside a circle, from the bottom -------------------------------------------------------------


def leaves_inside(made: Circle, k: float) -> Passage:
    """A path from the bottom with k = v²/(g r), compared with its closed forms; fails where it differs.

    3 cos θ = k - 2. The four points that a parabola with an upright axis has in common with a circle have angles whose
    sum is a number of turns (the quartic of their places has no third power); where contact is lost three of them are
    one, as place, slope and curvature agree. So from θ before the top the body comes back to the circle 3 θ after it.
    """
    path = path_of(made, -pi, sqrt(k * made.gravity * made.radius))
    cosine = (k - 2) / 3
    turn, height, speed = state(path, path.leaves)
    assert turn == pytest.approx(-np.arccos(cosine), rel=CLOSE)
    assert height == pytest.approx(made.radius * cosine, rel=CLOSE)
    assert speed == pytest.approx(sqrt(made.gravity * made.radius * cosine), rel=CLOSE)
    end, low, _ = state(path, path.ends)
    assert path.returns
    assert (end - 3 * np.arccos(cosine) + pi) % (2 * pi) - pi == pytest.approx(0, abs=CLOSE)
    # the width of the flight, with the times up and down from the vertical parts of the velocity
    up = speed * sin(-turn)
    down = sqrt(up**2 + 2 * made.gravity * (height - low))
    assert path.ends - (path.leaves or 0) == pytest.approx((up + down) / made.gravity, rel=CLOSE)
    across = made.radius * (sin(3 * np.arccos(cosine)) + sin(np.arccos(cosine)))
    assert speed * cosine * (up + down) / made.gravity == pytest.approx(across, rel=CLOSE)
    assert same_energy(path)
    assert is_parabola(path)
    return path


@pytest.mark.parametrize("k", [2.2, 3.0, 4.0, 5 / strips.ROUND**2, 4.98])
def test_a_body_that_is_too_slow_leaves_the_inside_as_derived(k: float) -> None:
    seen = {name.split()[0]: leaves_inside(made, k) for name, made in circles(*INSIDE)}
    assert seen.keys() == set(INSIDE)


@pytest.mark.parametrize("k", [5.001, 5 * strips.ROUND**2, 9.0])
def test_a_body_that_is_fast_enough_stays_on_the_inside_all_round(k: float) -> None:
    for _, made in circles(*INSIDE):
        path = path_of(made, -pi, sqrt(k * made.gravity * made.radius))
        assert path.leaves is None
        assert not path.returns
        assert same_energy(path)
        there = path.at([path.ends])
        assert float(there.y[0]) == pytest.approx(-made.radius, rel=CLOSE)
        speeds = np.hypot(*(getattr(path.evenly(2001), f"velocity_{axis}") for axis in "xy"))
        assert speeds.min() == pytest.approx(sqrt((k - 4) * made.gravity * made.radius), rel=CLOSE)


# --- on the outside, from the top -----------------------------------------------------------------


def leaves_outside(made: Circle, k: float, start: float = 0.0) -> Passage:
    """A path from near the top with k = v²/(g r) there, down to the level of the centre, compared as above.

    3 cos θ = k + 2 cos θ₀. It falls from r cos θ to the level of the centre, while it goes on at v cos θ.
    """
    path = path_of(made, start, sqrt(k * made.gravity * made.radius), lowest=0.0)
    cosine = (k + 2 * cos(start)) / 3
    turn, height, speed = state(path, path.leaves)
    assert turn == pytest.approx(np.arccos(cosine), rel=CLOSE)
    assert height == pytest.approx(made.radius * cosine, rel=CLOSE)
    assert speed == pytest.approx(sqrt(made.gravity * made.radius * cosine), rel=CLOSE)
    down = speed * sin(turn)
    time = (sqrt(down**2 + 2 * made.gravity * height) - down) / made.gravity
    far = made.radius * sin(turn) + speed * cosine * time
    assert not path.returns
    assert float(path.at([path.ends]).x[0]) == pytest.approx(far, rel=CLOSE)
    assert same_energy(path)
    assert is_parabola(path)
    return path


@pytest.mark.parametrize("k", [0.1, 0.5, 0.9, 0.99])
def test_a_body_that_passes_the_top_leaves_the_outside_as_derived(k: float) -> None:
    seen = {name.split()[0]: leaves_outside(made, k) for name, made in circles(*OUTSIDE) if made.sense < 0}
    assert seen.keys() == set(OUTSIDE)


def test_a_body_from_rest_leaves_a_dome_where_the_cosine_is_two_thirds() -> None:
    """From so little beside the top that the energy is that of the top, but for a share of 1e-8."""
    for _, made in circles("off-a-dome"):
        path = leaves_outside(made, 0.0, 1e-4)
        assert cos(state(path, path.leaves)[0]) == pytest.approx(2 / 3, rel=CLOSE)


@pytest.mark.parametrize("k", [1.0001, strips.OVER**2, 3.0])
def test_a_body_that_is_too_fast_is_free_from_the_top_on(k: float) -> None:
    """Down by h it has come v √(2 h/g), and the circle has not come so far: x² = 2 k r h against 2 r h - h²."""
    for _, made in circles(*OUTSIDE):
        if made.sense < 0:
            path = path_of(made, 0.0, sqrt(k * made.gravity * made.radius), lowest=0.0)
            assert path.leaves == 0
            assert not path.evenly(50).in_contact.any()
            assert float(path.at([path.ends]).x[0]) == pytest.approx(made.radius * sqrt(2 * k), rel=CLOSE)
            assert same_energy(path)
            assert is_parabola(path)


# --- the keys of the bank -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "bottom"),
    [
        ("over-on-a-cord.least-speed-at-the-bottom", lambda v: v),
        ("over-the-top.least-speed", lambda v: sqrt(v**2 + 4 * 9.81)),
        ("loop-from-a-ramp.least-height", lambda h: sqrt(2 * 9.81 * h)),
    ],
)
def test_the_key_of_a_limit_parts_the_paths_inside(name: str, bottom: Callable[[float], float]) -> None:
    """At the limit nothing is left at the top but the weight; the motion is symmetrical, so it is there half-way."""
    made, limit = circle(name.partition(".")[0]), bottom(models.answer(name, r=1.0))
    path = path_of(made, -pi, limit * (1 + CLOSE))
    turn, height, speed = state(path, path.ends / 2)
    assert (turn, height) == pytest.approx((0, made.radius), abs=CLOSE)
    assert speed == pytest.approx(sqrt(made.gravity * made.radius), rel=6 * CLOSE)  # 5 of which are the share above
    assert path_of(made, -pi, limit * 1.001).leaves is None
    assert path_of(made, -pi, limit * 0.999).leaves is not None


def test_the_key_of_a_limit_parts_the_paths_outside() -> None:
    made, limit = circle("over-the-crest"), models.answer("over-the-crest.greatest-speed", r=1.0)
    assert path_of(made, 0.0, limit * (1 + CLOSE), lowest=0.0).leaves == 0
    assert (path_of(made, 0.0, limit * (1 - CLOSE), lowest=0.0).leaves or 0) > 0


def test_the_keys_of_the_dome_are_those_of_the_path() -> None:
    path = leaves_outside(circle("off-a-dome"), 0.0, 1e-4)
    _, height, speed = state(path, path.leaves)
    assert models.answer("off-a-dome.height-of-leaving", r=1.0) == pytest.approx(height, rel=CLOSE)
    assert models.answer("off-a-dome.speed-on-leaving", r=1.0) == pytest.approx(speed, rel=CLOSE)


def test_the_least_speed_on_the_upper_half_is_that_where_the_path_leaves() -> None:
    path = leaves_inside(circle("round-the-circle-high"), 2 + 3 * cos(radians(40)))
    turn, _, speed = state(path, path.leaves)
    assert models.answer("round-the-circle-high.least-speed", r=1.0, theta=-turn) == pytest.approx(speed, rel=CLOSE)


# --- planted faults -------------------------------------------------------------------------------


def fails_inside_and_outside() -> None:
    """All that is derived above fails for what is planted."""
    for name, check, k in (("over-the-top", leaves_inside, 4.0), ("over-the-crest", leaves_outside, 0.5)):
        with pytest.raises(AssertionError):
            check(circle(name), k)


def test_contact_that_is_kept_too_long_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    honest = Circle.contact
    monkeypatch.setattr(Circle, "contact", lambda self, *at: honest(self, *at) + 1e-4 * self.gravity)
    fails_inside_and_outside()


def test_a_contact_force_that_acts_the_other_way_is_noticed() -> None:
    for name, check, k in (("over-the-top", leaves_inside, 4.0), ("over-the-crest", leaves_outside, 0.5)):
        made = circle(name)
        with pytest.raises(AssertionError):
            check(replace(made, sense=-made.sense), k)


def test_a_weight_of_the_wrong_sign_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    honest = equations.terms_along
    for axis in ("inward", "forward", "up"):
        with monkeypatch.context() as planted:
            planted.setattr(
                paths,
                "terms_along",
                lambda problem, diagram, along, wrong=axis: [
                    -each if along == wrong and each.has(sympy.Symbol("g")) else each
                    for each in honest(problem, diagram, along)
                ],
            )
            fails_inside_and_outside()


def test_a_diagram_with_another_force_has_no_path() -> None:
    """A spring, a push along the way or friction would change what is integrated."""
    text = "motion: {plane: vertical, radius: r, speed: v}\ndiagrams: {top: {at: top, N: inward, F: forward}}"
    made = models.problem(text, one={"ask": "N", "given": ["m", "r", "v"]})
    (top,) = made.diagrams
    assert all(circle_of(made, top, each) is None for each in top.forces if each.symbol)


# --- the drawings ---------------------------------------------------------------------------------


def near() -> Iterator[tuple[str, keys.PastLimit]]:
    """All that is asked about slight changes in all scenes, with the names of questions."""
    for name in models.with_drafts():
        found = keys.near_limit(models.shipped(name))
        for turn in found.turns if found else ():
            assert found
            asked = (found.asked(scene, turn) for scene in found.solved.problem.scenes_of(found.solved.question))
            yield from ((name, each) for each in asked if each)


def drawn(asked: keys.PastLimit) -> Drawing | None:
    parts = [part for paragraph in asked.step.paragraphs for part in paragraph]
    found = [part.drawing for part in parts if isinstance(part, SolutionDrawing)]
    assert len(found) <= 1
    return found[0] if found else None


def with_strips() -> list[tuple[str, keys.PastLimit, Drawing]]:
    return [(name, asked, found) for name, asked in near() if (found := drawn(asked))]


def test_a_strip_stands_where_contact_is_lost_or_kept_on_a_fixed_circle_and_nowhere_else() -> None:
    """None for a flight with an engine, a wheel or a planet that goes on with the body, friction, cords that break."""
    found = {
        (name, asked.scene.name, f"{asked.turn.symbol} {asked.turn.change}", asked.turn.outcome)
        for name, asked, _ in with_strips()
    }
    assert found == {
        (name, scene, change, outcome)
        for name, (scenes, changes) in STRIPS.items()
        for scene in scenes
        for change, outcome in changes.items()
    }


def test_a_strip_shows_what_its_step_says() -> None:
    """Open discs, and words for them, where the key says that contact is lost; none where it is kept."""
    for _, asked, drawing in with_strips():
        discs = [mark for mark in drawing.marks if isinstance(mark, Disc) and mark.radius > 3]
        is_lost = asked.turn.outcome == "lost"
        assert any(not each.filled for each in discs) == is_lost
        assert ("parabola" in drawing.alternative) == is_lost
        (lead,) = asked.step.paragraphs[1]
        assert isinstance(lead, Words)
        assert ("Open circles" in lead.text) == is_lost
        assert asked.gaps["body"] in lead.text
        assert not any("{" in each for each in (lead.text, drawing.title, drawing.alternative))
        assert len(drawing.alternative) < MOST
        assert len(drawing.title) < len(drawing.alternative)
        assert all(4 < each.cx < drawing.width - 4 and 4 < each.cy < drawing.height - 4 for each in discs)


def test_discs_at_equal_times_are_equally_far_apart_across_the_page_once_the_body_is_free() -> None:
    for *_, drawing in with_strips():
        free = [mark.cx for mark in drawing.marks if isinstance(mark, Disc) and not mark.filled]
        steps = np.diff(free)
        assert not len(steps) or np.ptp(steps) < 1e-3 * abs(steps).min()


def test_a_strip_that_contradicts_its_key_is_left_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """Planted: the body is always fast enough, or always too fast."""
    asked = [each for name, each in near() if name in STRIPS and each.turn.outcome in ("lost", "greater")]
    honest = strips.past_limit
    monkeypatch.setattr(strips, "past_limit", lambda circle, is_lost: honest(circle, not is_lost))
    assert [each for each in asked if each.turn.outcome == "lost" and each.failure != "takes off"]
    assert not [each for each in asked if each.failure != "takes off" and drawn(each)]
