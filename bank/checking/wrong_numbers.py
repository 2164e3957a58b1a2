"""What a question tells of wrong numbers: what it is about is among them, there are enough of them, none is the key."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ..errors import Fault
from ..language import count, listed
from ..thinking.distractors import Diagnosis, blind_to, telling_pool
from ..variants.variant import VariantPool
from .note import Note

LOOKED_AT = 12  # variants of each question
FEWEST_TELLING = 20  # variants in which no mistake leads to the key: as many as classmates need (see ``questions``)
FEWEST = 4  # wrong numbers that are known in at least half of the variants


def known_numbers(diagnosis: Diagnosis, gravity: Decimal) -> list[list[tuple[str, ...]]]:
    """The wrong numbers that are recognised in some variants of a question, each by the ids of its mistakes."""
    drawn = VariantPool(diagnosis.solved, gravity).draw_up_to(LOOKED_AT, 1)
    columns = diagnosis.columns(drawn)
    return [
        [known.mistakes for known in diagnosis.recognised(variant, values)]
        for variant, values in zip(drawn, columns, strict=True)
    ]


def about_faults(diagnosis: Diagnosis, numbers: list[list[tuple[str, ...]]]) -> Iterator[Fault]:
    """A fault for each mistake that a question is about and that is behind no wrong number of it."""
    problem, question = diagnosis.solved.problem, diagnosis.solved.question
    told = {name for one in numbers for mistakes in one for name in mistakes}
    idle = {each.mistake.id: each.why for each in diagnosis.idle}
    for at, name in enumerate(question.about):
        if name not in told:
            why = idle.get(name, "its number is too close to another one, or no possible answer")
            place = problem.document.place(("questions", question.name, "about", at))
            wrong = f"questions.{question.name}: the mistake '{name}' gives no wrong number: {why}"
            yield Fault(place, wrong, "name a mistake that 'turnwright show' lists, or mend the question")


def telling_faults(diagnosis: Diagnosis, gravity: Decimal) -> Iterator[Fault]:
    """A fault where a mistake leads to the key in so many variants that too few are left to be drawn."""
    problem, question = diagnosis.solved.problem, diagnosis.solved.question
    exist = len(VariantPool(diagnosis.solved, gravity).draw_up_to(FEWEST_TELLING, 1))
    left = len(telling_pool(diagnosis, gravity).draw_up_to(FEWEST_TELLING, 1))
    if left < exist:
        wrong = f"questions.{question.name}: only {count(left, 'variant')} left in which no mistake leads to the key"
        right = "draw other values: not 45° where the sine is asked for, not 2 where a square is"
        yield Fault(problem.place_of(question), wrong, right)


def blind_notes(diagnosis: Diagnosis, gravity: Decimal) -> Iterator[Note]:
    """What is noted of a mistake that leads to the key in all variants of a scene, but for units that cancel."""
    units = {each.mistake.id for each in diagnosis.live if each.raw or each.answer_unit}
    for scene, names in blind_to(diagnosis, gravity).items():
        told = [name for name in names if name not in units]
        if told:
            found = f"in the scene {scene} a mistake leads to the key in nearly every variant: {listed(told)}"
            yield Note("mistake-gives-key", diagnosis.solved.id, found)


def few_notes(diagnosis: Diagnosis, numbers: list[list[tuple[str, ...]]]) -> Iterator[Note]:
    """What is noted of a question of which few wrong numbers are known."""
    counts = sorted(map(len, numbers))
    if counts and counts[len(counts) // 2] < FEWEST:
        many = counts[len(counts) // 2]
        known = f"only {count(many, 'wrong number is', 'wrong numbers are')}" if many else "no wrong number is"
        yield Note("few-wrong-numbers", diagnosis.solved.id, f"in most variants {known} known")
