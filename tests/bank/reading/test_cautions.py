"""A caution belongs to the scene that is shown, tells no result, and needs no number above it: over the whole bank."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

import pytest
from turnwright.bank.model.problem import Problem, Scene
from turnwright.bank.model.wording import sentence
from turnwright.bank.reading.files import read_bank

CORDS = r"cord|string|thread|rope|line|wire"
# what a caution may name, and what then has to stand in the story, among its things or its forces
NEEDS = {
    r"cords?(?! away| and scarves)|knots?": CORDS,
    "rope": "rope|line",
    "loop": "loop",
    "falls off the track": "track|ramp|chute|roller coaster",
    "falls off the rail": "rail",
    "rod": "rod|stick|arm",
    "spring": "spring",
    "belts?": "belt|chain",
    "rotor": "rotor|cylinder|ring",
    "road(?!s)": "road|motorway|bend|bridge|dip|path|track|mound",
    "aircraft|aeroplane": "aircraft|aeroplane|glider",
    "running model|model wheel": "model|toy",
    "salad spinner": "salad spinner",
    "luge": "luge",
    "magnets?": "magnetic field",
    "puck": "puck|block|table",
    "swings?(?!ing)|swung": f"swing|swung|hangs|{CORDS}",
}  # fmt: skip
_USUAL = re.compile(r"scarves and cords|hair, sleeves and scarves")  # of people, not of the story


def out_of_place(problem: Problem, scene: Scene) -> Iterator[str]:
    """What the caution of a scene names that is not in the scene."""
    caution = _USUAL.sub("", problem.caution_in(scene)).lower()
    things = [*scene.words.values(), *(each.by for each in scene.forces.values())]
    told = " ".join([sentence(scene.story, scene), *things]).lower()
    for named, needed in NEEDS.items():
        if re.search(rf"\b(?:{named})\b", caution) and not re.search(rf"(?:{needed})", told):
            yield f"{problem.id} {scene.name}: {named} in “{caution}”"


def test_every_caution_is_that_of_its_scene() -> None:
    seen = [(problem, scene) for problem in read_bank() for scene in problem.scenes]
    assert len(seen) >= 100
    assert [told for problem, scene in seen for told in out_of_place(problem, scene)] == []


def test_a_caution_of_another_place_is_noticed() -> None:
    """Planted: no scene has a caution of its own, and each problem has that of another family."""
    bank = read_bank()
    without = [
        told
        for problem in bank
        for scene in problem.scenes
        if scene.caution
        for told in out_of_place(problem, replace(scene, caution=""))
    ]
    assert len(without) >= 5
    cord = next(each for each in bank if each.id == "over-on-a-cord").caution
    assert list(out_of_place(bank[0], replace(bank[0].scenes[0], caution=cord)))


# --- no result and no number ---

# what questions ask for: the size of a force, the way a body moves when it is let go, what is seen past a limit
RESULTS = re.compile(
    r"times (?:its|the) weight|\bat least\b|\bmore than\b|\bgreate(?:r|st)\b|along the tangent|straight outwards"
    r"|goes slack|loses contact|leaves the circle|\bmost at\b|\btwice\b|starts too low|\d",
    re.IGNORECASE,
)
# the words stand under items in letters and without any value, too
NUMBERS = re.compile(r"\bnumbers?\b|\bis no \w+ (?:margin|limit)|\bare no (?:safe|design)\b|\bno operating limit\b")


def tells_too_much(caution: str) -> bool:
    return bool(RESULTS.search(caution) or NUMBERS.search(caution))


def test_no_caution_tells_a_result_or_speaks_of_numbers() -> None:
    cautions = {problem.caution_in(scene) for problem in read_bank() for scene in problem.scenes}
    assert [each for each in cautions if tells_too_much(each)] == []


@pytest.mark.parametrize(
    "caution",
    [
        "At the bottom, the tension is at least six times the weight.",
        "It then flies off along the tangent.",
        "A load whose cord goes slack leaves the circle and falls.",
        "The numbers are for a lesson.",
        "A ratio of forces found here is no safety margin.",
        "They are no safe speeds.",
    ],
)
def test_a_result_or_a_number_in_a_caution_is_noticed(caution: str) -> None:
    assert tells_too_much(caution)
