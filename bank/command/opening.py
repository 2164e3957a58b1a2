"""What commands open of a bank: what is needed for the names that were given, and what is told of files with faults."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from ..errors import Fault
    from ..index.lookup import Index
    from ..model.problem import Problem


def index_of(paths: tuple[Path, ...]) -> Index:
    """What the files of a user's bank declare, or the shipped ones. Raises FileError."""
    from ..index.lookup import Index
    from ..reading.finding import problem_files

    return Index(problem_files(paths) if paths else None)


def bank_of(paths: tuple[Path, ...]) -> tuple[Problem, ...]:
    """All problems of a user's bank, or the shipped ones. Raises BankFaultsError."""
    return index_of(paths).whole()


def bank_for(paths: tuple[Path, ...], names: Sequence[str], kinds: Mapping[str, Any]) -> tuple[Problem, ...]:
    """The problems that are needed for what is named; no name means the whole bank, which has no fault then.

    ``kinds`` are those of ``kinds_from``. Faults of files that hold nothing named are told. Raises UnknownNameError, or
    BankFaultsError.
    """
    index = index_of(paths)
    if not names:
        return index.whole()
    found = needed(index, names, **kinds)
    tell(index.faults)
    return found


def needed(index: Index, names: Sequence[str], kinds: Sequence[str], named: Sequence[str]) -> tuple[Problem, ...]:
    """The problems without fault that are needed for what is named in these kinds: all for no name."""
    if not names or _compares(index, names, kinds, named):
        index.found([index.owner(each) for each in names])
        return index.without_faults()
    return index.problems(names)


def _compares(index: Index, names: Sequence[str], kinds: Sequence[str], named: Sequence[str]) -> bool:
    """Whether a question is among them that compares situations of the whole bank, or a kind that may be one."""
    from ..questions.kinds import KIND

    asked: set[str] = set()
    ids = {f"{problem.id}.{question.name}" for problem, question in index.rows}
    for name in names:
        _, slash, kind = name.partition("/")
        asked.update([kind.partition("-")[0]] if slash else named if name in ids else kinds)
    entries: dict[str, str] = {each.name: each.entry for each in KIND.values()}
    return any(entries.get(each, "match") == "match" for each in asked)


def tell(faults: Sequence[Fault]) -> None:
    """Tell faults of files that what is asked for does not need."""
    for each in faults:
        click.echo(str(each), err=True)
