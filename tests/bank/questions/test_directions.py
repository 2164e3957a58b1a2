"""Directions asked for: each key against a body moved round its circle in small steps here, and against its forces."""

from __future__ import annotations

import cmath
import math
import re
from collections import Counter
from functools import cache

import pytest
from turnwright.bank.item.item import ChoiceEntry, Words
from turnwright.bank.model.problem import Diagram, Problem, Scene
from turnwright.bank.questions.direction_keys import ASKED
from turnwright.bank.questions.selection import item_models
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.bank.writing.directions import axes
from turnwright.bank.writing.view import typical_angle, view_of

from tests.bank import models
from tests.bank.models import GRAVITY

PAGE = {
    "to the right": 1, "up and to the right": 1 + 1j, "upwards": 1j, "up and to the left": -1 + 1j,
    "to the left": -1, "down and to the left": -1 - 1j, "downwards": -1j, "down and to the right": 1 - 1j,
    "up the page and to the right": 1 + 1j, "up the page": 1j, "up the page and to the left": -1 + 1j,
    "down the page and to the left": -1 - 1j, "down the page": -1j, "down the page and to the right": 1 - 1j,
    "east": 1, "north-east": 1 + 1j, "north": 1j, "north-west": -1 + 1j,
    "west": -1, "south-west": -1 - 1j, "south": -1j, "south-east": 1 - 1j,
    "inwards": 1, "inwards and forwards": 1 + 1j, "forwards": 1j, "outwards and forwards": -1 + 1j,
    "outwards": -1, "outwards and backwards": -1 - 1j, "backwards": -1j, "inwards and backwards": 1 - 1j,
    "no direction, because it is zero": 0,
}  # fmt: skip
PLACES = {
    "to the right": 1, "directly above": 1j, "to the left": -1, "directly below": -1j,
    "further up the page": 1j, "further down the page": -1j,
    "directly up the page": 1j, "directly down the page": -1j,
    "due east": 1, "due north": 1j, "due west": -1, "due south": -1j,
}  # fmt: skip
PARTS = {"three quarters of a": 0.75, "quarter of a": 0.25, "half ": 0.5, "complete": 1.0}
BY_CENTRE = re.compile(
    r"is moving (.+?), and the centre(?: of the circular path)? lies "
    r"(to the (?:left|right)|due \w+|directly \w+|further \w+ the page)(?: [^.]+)?[.]"
)
BY_BODY = re.compile(
    r"At one moment, .+? is ((?:to|due|directly) .+?)(?: of| from)? the centre.*? and is moving (.+?)[.]"
)
STEP = 1e-5


class Told:
    """One item as a candidate reads it: the prompt, the options and the key."""

    def __init__(
        self, problem: Problem, diagram: Diagram, scene: Scene, suffix: str, entry: ChoiceEntry, solved: str
    ) -> None:
        self.problem, self.diagram, self.scene, self.suffix, self.entry = problem, diagram, scene, suffix, entry
        self.solved = solved
        (asked,) = entry.prompt
        assert isinstance(asked, Words)
        self.prompt = asked.text

    def bearings(self) -> tuple[complex, complex]:
        """Unit vectors to the centre and along the velocity, out of the words of the prompt."""
        if found := BY_CENTRE.search(self.prompt):
            return PLACES[found[2]], PAGE[found[1]]
        if found := BY_BODY.search(self.prompt):
            return -PLACES[found[1]], PAGE[found[2]]
        assert "“Inwards” means" in self.prompt
        return 1, 1j

    def words(self) -> list[str]:
        told = [option.content for option in self.entry.options]
        assert all(isinstance(each, tuple) for each in told)
        return [each[0].text for each in told]  # type: ignore[index,union-attr]

    def key(self) -> complex:
        return next(PAGE[word] for word, option in zip(self.words(), self.entry.options, strict=True) if option.right)


@cache
def told() -> list[Told]:
    """All direction questions of the bank, one a scene."""
    solved = [models.shipped(name) for name in models.shipped_ids()]
    problems = {each.problem.id: each.problem for each in solved}
    found = []
    for asked in item_models(solved, shipped_mistakes(), ("direction",)):
        problem = problems[asked.metadata.problem]
        name, _, suffix = asked.metadata.question.partition("/direction")
        diagram = problem.diagram(name)
        assert diagram
        for item in asked.draw(9, GRAVITY, 1):
            (entry,) = item.entries
            assert isinstance(entry, ChoiceEntry)
            scene = next(each for each in problem.scenes if each.name == item.metadata.scene)
            solved_by = "".join(part.text for each in item.solution[-1].paragraphs for part in each)  # type: ignore[union-attr]
            found.append(Told(problem, diagram, scene, suffix, entry, solved_by))
    return found


def unit(vector: complex) -> complex:
    """The vector with length 1, its small components left out; 0 for next to nothing."""
    if abs(vector) < 1e-3:
        return 0
    vector /= abs(vector)
    return complex(*(part if abs(part) > 0.02 else 0.0 for part in (vector.real, vector.imag)))


def eighth(vector: complex) -> complex:
    """The nearest of the vectors that an option can name: signs of the components count, not their sizes."""
    small = unit(vector)
    return complex(*(math.copysign(1, part) if part else 0 for part in (small.real, small.imag)))


def circling(each: Told, turns: float) -> complex:
    """The place after some turns, at constant speed, from a start on the side away from the centre."""
    inward, forward = each.bearings()
    sense = 1 if (forward / inward).imag < 0 else -1
    return -inward * cmath.exp(2j * math.pi * turns * sense)


def velocity(each: Told, turns: float) -> complex:
    return (circling(each, turns + STEP) - circling(each, turns - STEP)) / (2 * STEP)


def acceleration(each: Told, turns: float) -> complex:
    return (velocity(each, turns + STEP) - velocity(each, turns - STEP)) / (2 * STEP)


def by_forces(each: Told) -> complex:
    """The sum of the arrows of the diagram, its components set along the bearings of the prompt."""
    view = view_of(each.problem, each.diagram, each.scene)
    net = sum((force.length * cmath.exp(1j * math.radians(force.direction)) for force in view.forces), 0j)
    on_page = axes(each.problem.motion.plane, each.diagram, typical_angle(each.problem, each.diagram))
    assert on_page.inward is not None
    inward, forward = each.bearings()
    along = (net / cmath.exp(1j * math.radians(on_page.inward))).real
    across = 0.0 if view.side_view else (net / cmath.exp(1j * math.radians(on_page.second))).real
    return along * inward + across * forward


def in_return(each: Told) -> complex:
    """Opposite to the force that the prompt names, by its components in the problem file."""
    view = view_of(each.problem, each.diagram, each.scene)
    force = next(one for one in view.forces if f" exerts on {one.agent} at that" in each.prompt
                 and any(f"direction of the {named} that" in each.prompt for named in ("force", one.name))
                 and abs(math.cos(math.radians(one.direction - (view.inward or 0)))) > 0.9)  # fmt: skip
    return -each.bearings()[0] * math.cos(math.radians(force.direction - (view.inward or 0)))


def expected(each: Told) -> complex:
    part = next((share for words, share in PARTS.items() if re.search(f"(after|next).* {words}", each.prompt)), 0.0)
    inward, forward = each.bearings()
    return {
        "": by_forces,
        "-net-force": by_forces,
        "-changing-speed": lambda _: inward + (forward if "increasing" in each.prompt else -forward),
        "-set-free": lambda _: velocity(each, 0),
        "-in-return": in_return,
        "-velocity-later": lambda _: velocity(each, part),
        "-acceleration-later": lambda _: acceleration(each, part),
        "-change": lambda _: velocity(each, part) - velocity(each, 0),
    }[each.suffix](each)


def test_every_key_is_where_vectors_worked_out_here_point() -> None:
    for each in told():
        assert velocity(each, 0) / abs(velocity(each, 0)) == pytest.approx(each.bearings()[1], abs=1e-4)
        assert eighth(expected(each)) == each.key(), (each.problem.id, each.suffix, each.prompt, each.words())


def test_solutions_tell_the_side_of_the_centre_and_the_sense_of_the_motion() -> None:
    turning = [each for each in told() if "lies to the " in each.solved]
    assert len(turning) >= 40 and {"-velocity-later", "-acceleration-later"} <= {each.suffix for each in turning}
    for each in turning:
        inward, forward = each.bearings()
        is_left = (inward / forward).imag > 0
        assert f"to the {'left' if is_left else 'right'} of the direction of motion" in each.solved, each.prompt
        is_anticlockwise = (circling(each, STEP) / circling(each, 0)).imag > 0
        senses = set(re.findall(r"\b(?:anti)?clockwise\b", each.solved))
        assert senses == {"anticlockwise" if is_anticlockwise else "clockwise"}, each.prompt


def test_options_differ_and_every_wrong_one_points_elsewhere() -> None:
    for each in told():
        assert len({PAGE[word] for word in each.words()}) == len(each.words()) >= 3, each.prompt


def test_no_question_about_a_direction_speaks_of_a_sketch_that_is_not_there() -> None:
    for each in told():
        assert "sketch" not in each.prompt, each.prompt


def test_every_question_about_a_direction_is_asked_somewhere() -> None:
    assert {each.suffix for each in told()} == {each.suffix for each in ASKED}


def test_no_direction_is_the_key_of_most_questions() -> None:
    """What it was before: straight towards the centre in all of them."""
    shares = Counter(eighth(each.key() / each.bearings()[0]) for each in told())
    assert max(shares.values()) < 0.5 * len(told())
    assert len(shares) >= 6


def test_the_net_force_at_the_side_of_a_vertical_circle_is_not_central() -> None:
    sides = [each for each in told() if each.diagram.spot == "side" and each.suffix in ("", "-net-force")]
    assert len(sides) >= 4
    assert all(abs(each.key()) > 1.1 for each in sides)


def test_a_speed_that_changes_is_supposed_against_a_story_in_which_it_is_constant() -> None:
    prompts = ["".join(part.text for part in choice.prompt if isinstance(part, Words)) for choice in changing_speeds()]
    assert len(prompts) >= 6
    assert not [each for each in prompts if "Suppose, however, that the speed of " not in each]


def changing_speeds() -> list[ChoiceEntry]:
    solved = [models.shipped(name) for name in models.shipped_ids() if name.startswith(("flat-bend", "on-a-turntable"))]
    items = (item for asked in item_models(solved, shipped_mistakes(), ("direction",)) if asked.id.endswith("speed")
             for item in asked.draw(9, GRAVITY, 1))  # fmt: skip
    return [each for item in items for each in item.entries if isinstance(each, ChoiceEntry)]
