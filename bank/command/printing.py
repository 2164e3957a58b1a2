"""What several commands print with: progress, JSON, faults, worked solutions."""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any, TypeVar

import click

from ..errors import Fault

if TYPE_CHECKING:
    from ..item.item import Paragraph, Step

_Thing = TypeVar("_Thing")
_Found = TypeVar("_Found")
CAUTION = "These are teaching calculations. They are not a design, rating or operating limit of a road, ride or rig."


def is_terminal() -> bool:
    """Whether a person sees the output as it comes."""
    return sys.stdout.isatty()


@contextmanager
def progress(what: str, total: int) -> Iterator[Callable[[float], None]]:
    """A bar with rate and time left on a terminal, now and then a line elsewhere; it is told how many more are done."""
    if not sys.stderr.isatty():
        yield _Lines(what, total).done
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    rate = TextColumn("{task.fields[rate]}", style="progress.data.speed")
    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), rate, TimeRemainingColumn())
    with Progress(*columns, console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(what, total=total, rate="")

        def done(steps: float) -> None:
            bar.advance(task, steps)
            speed = bar.tasks[0].speed
            bar.update(task, rate=f"{speed:,.0f} a second" if speed and speed >= 1 else "")

        yield done


def on_all_cores(
    what: str, things: Sequence[_Thing], work: Callable[[_Thing], _Found], steps: Sequence[int]
) -> list[_Found]:
    """The work of each thing in their order, on all cores where there are several; ``steps`` tells how much each is."""
    from ...exporters.workers import ALONE, Processes, cores, in_order

    size = min(cores(), len(things))
    places = range(len(things))  # a forked worker has the things, and need not be sent one
    results = in_order(places, lambda place: work(things[place]), Processes(size) if size > 1 else ALONE)
    found = []
    with progress(what, sum(steps)) as done:
        for many, each in zip(steps, results, strict=True):
            found.append(each)
            done(many)
    return found


FIRST_LINE, NEXT_LINES = 5.0, 15.0  # seconds


class _Lines:
    """Progress where no bar can be drawn: a line on standard error after a while, and then now and then."""

    def __init__(self, what: str, total: int) -> None:
        self._what, self._total, self._done = what, total, 0.0
        self._begun = time.monotonic()
        self._next = self._begun + FIRST_LINE

    def done(self, steps: float) -> None:
        """So many more are done."""
        self._done += steps
        now = time.monotonic()
        if now < self._next or not 0 < self._done < self._total:
            return
        self._next = now + NEXT_LINES
        left = (now - self._begun) * (self._total - self._done) / self._done
        click.echo(f"{self._what}: {int(self._done):,} of {self._total:,}, about {_duration(left)} left", err=True)


def _duration(seconds: float) -> str:
    return f"{max(round(seconds), 1)} s" if seconds < 90 else f"{round(seconds / 60)} min"


def megabytes(size: int) -> str:
    """The size of a file in MB, in kB where that would be nothing."""
    return f"{size / 1e6:.1f} MB" if size >= 100_000 else f"{max(size // 1000, 1)} kB"


def print_json(data: Any) -> None:
    """The data as JSON on standard output, in plain ASCII where the output takes no more."""
    encoding = (getattr(sys.stdout, "encoding", None) or "utf-8").lower().replace("-", "")
    click.echo(json.dumps(data, ensure_ascii=encoding != "utf8", indent=2))


def paragraph_text(paragraph: Paragraph) -> str:
    """A paragraph on one line."""
    from ..item import formula
    from ..item.item import Math

    return "".join(formula.text(part.node) if isinstance(part, Math) else part.text for part in paragraph)


def fault_data(fault: Fault) -> dict[str, Any]:
    """A fault for a script."""
    place = fault.place
    return {"file": place.file, "line": place.line, "column": place.column, "wrong": fault.wrong, "right": fault.right}


def steps_data(steps: Sequence[Step]) -> list[dict[str, Any]]:
    """A worked solution for a script."""
    return [
        {"step": each.number, "heading": each.heading, "lines": [paragraph_text(line) for line in each.paragraphs]}
        for each in steps
    ]


def print_steps(steps: Sequence[Step]) -> None:
    """A worked solution on the screen, formulas set in."""
    from ..item.item import Math

    for step in steps:
        click.echo(f"\n{step.number}. {step.heading}")
        for paragraph in step.paragraphs:
            indent = "      " if isinstance(paragraph[0], Math) else "   "
            click.echo(indent + paragraph_text(paragraph))
