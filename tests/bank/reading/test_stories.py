"""Stories of the shipped bank: nothing acts along the path, whole circles can be completed, masses have one name."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping

from turnwright.bank.model.problem import Diagram, Problem, Scene
from turnwright.bank.model.wording import sentence
from turnwright.bank.reading.files import read_bank
from turnwright.bank.variants.variant import Variant, VariantPool
from turnwright.bank.writing.letters import name_of

from tests.bank import models

# what rules out a force along the path: none is needed at constant speed, or nothing is there that exerts one
STEADY = re.compile(
    r"constant (?:angular )?speeds?|rotates with|stays above the same point|engines (?:of the [a-z ]+ )?are off"
    r"|only contact force|(?:[Ff]riction|[Aa]ir resistance|Gravity)[^.]* (?:is|are) negligible|orbits of its moons"
    r"|at rest|rests on|stands on horizontal"
)
# along a vertical circle the weight changes the speed, and only without resistance nothing else does
WHOLE = re.compile(r"\bin a vertical circle\b|\bround (?:the inside|a vertical circle)\b")
DRIVEN = re.compile(r"aerobatic|constant (?:angular )?speed|light rigid")


def scenes() -> Iterator[tuple[Problem, Scene]]:
    for problem in read_bank():
        yield from ((problem, scene) for scene in problem.scenes)


def test_every_story_with_forces_rules_out_a_force_along_the_path() -> None:
    for problem, scene in scenes():
        if problem.diagrams:
            assert STEADY.search(sentence(scene.story, scene)), f"{problem.id}, {scene.name}"


def test_a_story_that_leaves_a_force_along_the_path_open_is_noticed() -> None:
    assert not STEADY.search("A minibus travels over a humpback bridge. The road is an arc of a vertical circle.")


# --- whole circles ---


def energy_at_the_top(diagram: Diagram, values: Mapping[str, float], speed: float, radius: float) -> float:
    """The square of the speed that is left at the top of the circle, without resistance."""
    lowest = {"bottom": 0.0, "side": radius, "top": 2 * radius}.get(diagram.spot)
    if lowest is None:
        part = radius * math.cos(values[str(diagram.angle)])
        lowest = radius + part if diagram.angle_from == "top" else radius - part
    return speed**2 - 2 * values["g"] * (2 * radius - lowest)


def gets_round(name: str, variant: Variant) -> bool:
    """Whether a body that can only be pulled or pushed towards the centre completes the circle of this variant."""
    solved = models.shipped(name)
    values = {each: quantity.si for each, quantity in variant.given.items()} | {"g": float(models.GRAVITY)}
    values[solved.question.ask] = variant.exact_si
    everything = models.Balance(solved.system).values(values)
    diagram = solved.problem.diagrams[0]
    speed, radius = (
        everything[own or common or ""]
        for own, common in (
            (diagram.speed, solved.problem.motion.speed),
            (diagram.radius, solved.problem.motion.radius),
        )
    )
    top = energy_at_the_top(diagram, everything, speed, radius)
    return top >= 0.98 * values["g"] * radius  # the limit itself is drawn, and rounded


def claims_a_whole_circle(problem: Problem, scene: Scene) -> bool:
    story = sentence(scene.story, scene)
    return problem.motion.plane == "vertical" and bool(WHOLE.search(story)) and not DRIVEN.search(story)


def test_who_is_said_to_go_round_gets_round() -> None:
    asked = [
        (problem, question)
        for problem in read_bank()
        for question in problem.questions
        if any(claims_a_whole_circle(problem, scene) for scene in problem.scenes_of(question))
    ]
    for problem, question in asked:
        name = f"{problem.id}.{question.name}"
        for variant in VariantPool(models.shipped(name), models.GRAVITY).draw(12, seed=3):
            if claims_a_whole_circle(problem, variant.scene):
                assert gets_round(name, variant), f"{name} in {variant.scene.name}: {variant.given}"


# --- total masses ---


def test_a_total_mass_is_called_so_wherever_its_letter_is_explained() -> None:
    for problem, scene in scenes():
        told = [each for each in scene.words.values() if "total mass" in each]
        masses = [each.mass for each in problem.diagrams if each.mass]
        for word in told:
            assert [name_of(problem, scene, mass) for mass in masses] == [word.removeprefix("the ")], problem.id
        if masses and re.search(r"\} with (?:its|their)(?: two)? (?:rider|driver)", scene.story):
            assert told, f"{problem.id}, {scene.name}: whose mass is m?"
