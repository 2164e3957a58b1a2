"""What a question tells of wrong numbers: what it is about is among them, and there are enough of them."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ..errors import Fault
from ..language import count
from ..thinking.distractors import Diagnosis
from ..variants.variant import VariantPool
from .note import Note

LOOKED_AT = 12  # variants of each question
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


def few_notes(diagnosis: Diagnosis, numbers: list[list[tuple[str, ...]]]) -> Iterator[Note]:
    """What is noted of a question of which few wrong numbers are known."""
    counts = sorted(map(len, numbers))
    if counts and counts[len(counts) // 2] < FEWEST:
        known = count(counts[len(counts) // 2], "wrong number is", "wrong numbers are")
        yield Note("few-wrong-numbers", diagnosis.solved.id, f"in most variants only {known} known")
