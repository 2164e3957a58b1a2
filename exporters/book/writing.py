"""From question names to the sign-off page on disk."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path

from ...bank.model.problem import Problem
from ...bank.questions.item_model import Settings
from ...bank.storage.files import write_together
from ..workers import Progress
from .gathering import Gathering
from .page import BookPage
from .sheet import BookHead

ROWS = 6


@dataclass(frozen=True)
class Book:
    """A sign-off page that was written."""

    path: Path
    questions: tuple[str, ...]
    to_judge: tuple[str, ...]
    without_item: tuple[str, ...]


def write_book(
    problems: Sequence[Problem],
    names: Sequence[str],
    target: Path,
    settings: Settings,
    progress: Progress,
    rows: int = ROWS,
    date: str = "",
) -> Book:
    """Writes the page of the named questions; it takes its place at ``target`` only when it is complete.

    ``settings.variants`` are told in full, ``rows`` stand in the table of variants. Raises UnknownNameError, SolveError
    or FileError; then ``target`` is as it was.
    """
    gathering = Gathering(problems, names, settings, rows, progress)
    head = BookHead(settings.title, f"{settings.gravity} N/kg", settings.seed, version("turnwright"), date)
    page = BookPage(head)
    for sheet in gathering.sheets():
        page.add(sheet)
    write_together({target: page.html(gathering.without_item)})
    return Book(target, page.questions, page.to_judge, tuple(gathering.without_item))
