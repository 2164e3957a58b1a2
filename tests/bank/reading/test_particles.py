"""A particle that the world knows has its mass, also where a question asks for it.

Masses from CODATA (``scipy.constants``); atomic masses of isotopes from memory of isotope tables.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from decimal import Decimal

from scipy import constants
from turnwright.bank.model.problem import Problem, Scene
from turnwright.bank.reading.files import read_bank

from tests.bank import models

_U = constants.atomic_mass
KNOWN = {
    **dict.fromkeys(("electron", "positron"), constants.m_e),
    "proton": constants.m_p,
    "deuteron": constants.value("deuteron mass"),
    "alpha particle": constants.value("alpha particle mass"),
    "helium ion": 4.0026 * _U, "boron ion": 11.009 * _U, "carbon ion": 12 * _U, "neon ion": 19.992 * _U,
    "carbon-12 ion": 12 * _U, "carbon-13 ion": 13.003 * _U, "neon-20 ion": 19.992 * _U, "neon-22 ion": 21.991 * _U,
    "chlorine-35 ion": 34.969 * _U, "chlorine-37 ion": 36.966 * _U,
}  # fmt: skip
PRINTED = 0.001  # electrons that an ion lacks are less than this
ASKED = 0.021  # with rounding: measured values are as far off (common practice, no source)


def odd(problems: Iterable[Problem]) -> Iterator[str]:
    """Each mass of a known particle that is not the world's: as printed, or as the key of a question."""
    for problem in problems:
        for scene in problem.scenes:
            for diagram in problem.diagrams:
                known = KNOWN.get(scene.words.get(diagram.body, "").partition(" ")[2])
                if known is not None:
                    yield from _odd(problem, scene, diagram.mass, known)


def _odd(problem: Problem, scene: Scene, mass: str, known: float) -> Iterator[str]:
    spec = problem.spec(mass, scene)
    printed = spec.draw.values if spec.draw else ()
    asking = [each for each in problem.questions if each.ask == mass and scene in problem.scenes_of(each)]
    keys = [end for each in asking for end in problem.answer_spec(each, scene).plausible or ()]
    for values, share in ((printed, PRINTED), (keys, ASKED)):
        for value in values:
            if abs(float(value) * spec.unit.factor / known - 1) > share:
                yield f"{problem.id}, {scene.name}: {mass} = {value} {spec.unit.symbol}, and not {known:.4g} kg"


def test_known_particles_have_the_masses_of_the_world() -> None:
    assert list(odd((*read_bank(), *models.drafts()))) == []


def test_a_proton_of_another_mass_is_told() -> None:
    """Planted: what a second reader found, a proton of 1.31 u as the key of a question."""
    problem = next(each for each in models.drafts() if each.id == "same-momentum")
    wide = replace(problem.quantities["m_2"], plausible=(Decimal("1.0e-27"), Decimal("1.7e-27")))
    (told,) = odd([replace(problem, quantities={**problem.quantities, "m_2": wide})])
    assert told == "same-momentum, alpha-and-proton: m_2 = 1.0E-27 kg, and not 1.673e-27 kg"


def test_particles_are_known_by_the_words_of_scenes() -> None:
    """Else the first test would look at nothing."""
    words = [
        word.partition(" ")[2] for each in models.drafts() for scene in each.scenes for word in scene.words.values()
    ]
    assert {*KNOWN} - {*words} <= {"electron", "alpha particle"}
