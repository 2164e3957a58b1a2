"""From question names to a proved pack on disk."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TypeAlias

from turnwright import exporters
from turnwright.bank.asked import Settings
from turnwright.bank.cache import solved_question
from turnwright.bank.catalogue import find_questions
from turnwright.bank.inquiry import pack
from turnwright.bank.mistake_reader import shipped_mistakes
from turnwright.bank.problem import Problem
from turnwright.exporters.adaptation import Adapted
from turnwright.exporters.delivery import PLAIN, Delivery
from turnwright.exporters.proof import Limits, Report, prove
from turnwright.exporters.template import to_prove

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
    adapted = format_.adapt(pack(solved, shipped_mistakes(), settings), delivery)
    made = adapted.pack
    reports: list[Report] = []

    def check(path: Path) -> None:
        reports.append(prove(path, to_prove(made), exam=settings.purpose == "exam", limits=_room_for(len(made))))
        reports[-1].raise_if_failed()

    with progress("Writing and proving", len(made)) as done:
        format_.write(adapted, target, check, lambda _: done(1))
    return Written(target, adapted, reports[-1], len({problem.id for problem, _ in found}))
