"""From question names to a proved pack on disk."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass, replace
from itertools import chain
from pathlib import Path
from typing import TypeAlias

from turnwright import exporters
from turnwright.bank.asked import Settings
from turnwright.bank.cache import solved_question
from turnwright.bank.catalogue import find_questions
from turnwright.bank.mistake_reader import shipped_mistakes
from turnwright.bank.problem import Problem
from turnwright.bank.selection import pack
from turnwright.exporters.adaptation import Adapted
from turnwright.exporters.delivery import PLAIN, Delivery
from turnwright.exporters.proof import Agreed, Limits, Report, prove

Progress: TypeAlias = Callable[[str, int], AbstractContextManager[Callable[[int], None]]]


def _room_for(items: int) -> Limits:
    """Limits of a proof for a pack of our own: those for strangers, and more where the pack is long."""
    usual, blocks = Limits(), 1 + items // 10_000
    return replace(
        usual,
        entries=usual.entries * blocks,
        manifest=usual.manifest * blocks,
        test=usual.test * blocks,
        total=usual.total * blocks,
    )


@dataclass(frozen=True)
class Written:
    """A pack that was written and proved."""

    path: Path
    adapted: Adapted
    report: Report
    situations: int


def write_pack(
    problems: Sequence[Problem],
    names: Sequence[str],
    target: Path,
    settings: Settings,
    progress: Progress,
    delivery: Delivery = PLAIN,
    format_name: str = "qti-3.0",
) -> Written:
    """Write the pack of the named questions; it takes its place at ``target`` only after its proof.

    Raises UnknownNameError, SolveError, TooFewVariantsError, FileError or ProofError; then ``target`` is as it was.
    """
    found = find_questions(problems, names)
    with progress("Solving", len(found)) as done:
        solved = []
        for problem, question in found:
            solved.append(solved_question(problem, question))
            done(1)
    format_ = exporters.exporter(format_name)
    adapted = format_.adapt(pack(solved, shipped_mistakes(), settings, problems), delivery)
    made = adapted.pack
    reports: list[Report] = []

    def check(path: Path) -> None:
        expected = chain.from_iterable(section.items() for section in made.sections)
        agreed = Agreed(made.sitting, adapted.delivery)
        exam = settings.purpose == "exam"
        reports.append(prove(path, expected, exam=exam, limits=_room_for(len(made)), agreed=agreed))
        reports[-1].raise_if_failed()

    with progress("Writing and proving", len(made)) as done:
        format_.write(adapted, target, check, lambda _: done(1))
    return Written(target, adapted, reports[-1], len({problem.id for problem, _ in found}))
