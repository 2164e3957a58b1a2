"""The packs of a pool, one after the other, each proved; the index grows with them, so a stop loses one at most."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any

from ... import exporters
from ...bank.errors import UsageError
from ...bank.forms.manifest import bank_version
from ...bank.model.problem import Problem
from ...bank.questions.item_model import Settings
from ...bank.questions.selection import Share, count_solved
from ...bank.reading.mistakes import shipped_mistakes
from ...bank.storage.files import write_together
from ..running.packing import Order, Recipe, write_made
from ..workers import Progress
from ..workers.portable import tools
from .index import INDEX, Finished, digest_of, finished_before, index_bytes
from .plan import ITEMS, Plan, plan, size


@dataclass(frozen=True)
class Pool:
    """A pool that is complete: its index, its packs, and how many of them had been finished before."""

    index: Path
    packs: tuple[Finished, ...]
    kept: int
    without: tuple[str, ...]

    def __len__(self) -> int:
        return sum(each.items for each in self.packs)


def write_pool(
    bank: Sequence[Problem],
    names: Sequence[str],
    folder: Path,
    settings: Settings,
    progress: Progress,
    order: Order,
    most: int = ITEMS,
) -> Pool:
    """Write the pool of the named questions into ``folder``, in packs of at most ``most`` items of the first format.

    A pack that the index of the folder names, and that is unchanged, is kept. Raises what ``write_pack`` raises; the
    packs that were finished stay, and the index tells of them.
    Raises FileError for what can't be read or written. Raises UsageError for a call that can't be met.
    """
    with progress("Looking for variants", count_solved(bank, names)) as done:
        made = plan(bank, names, settings, most, done)
    if not made.packs:
        raise UsageError("none of these questions has an item of these kinds; name others, or other kinds")
    facts = _facts(bank, settings, order, made)
    files = _files(order, made)
    planned = dict(zip(files, made.packs, strict=True))
    packs = {
        file: old
        for file, old in finished_before(folder, facts).items()
        if old.shares == planned.get(file) and old.stands_in(folder)
    }
    kept = len(packs)
    with progress("Writing and proving", len(made)) as done:
        done(sum(each.items for each in packs.values()))
        for file, shares in planned.items():
            if file in packs:
                continue
            packs[file] = _written(bank, shares, folder / file, settings, _inside(done), order)
            known = [packs[each] for each in files if each in packs]
            write_together({folder / INDEX: index_bytes(facts, known, complete=len(known) == len(files))})
    return Pool(folder / INDEX, tuple(packs[each] for each in files), kept, made.without)


def _files(order: Order, made: Plan) -> list[str]:
    """The names of the packs, padded so that they sort."""
    width = max(3, len(str(len(made.packs))))
    suffix = exporters.exporter(order.formats[0]).SUFFIX
    return [f"pool-{number:0{width}}{suffix}" for number in range(1, len(made.packs) + 1)]


def _facts(bank: Sequence[Problem], settings: Settings, order: Order, made: Plan) -> dict[str, Any]:
    """What the index tells of the whole pool; its name is a digest of all that the bytes of the packs come from."""
    version = bank_version(bank, shipped_mistakes())
    packs = [[(each.question, each.start, each.stop) for each in shares] for shares in made.packs]
    source = [version, tools(), order.formats[0], asdict(order.delivery), repr(settings), packs]
    return {
        "pool": f"pool-{hashlib.sha256(json.dumps(source).encode()).hexdigest()[:12]}",
        "title": settings.title,
        "format": order.formats[0],
        "bank": {"version": version},
        "made_with": tools(),
        "seed": settings.seed,
        "gravity": str(settings.gravity),
        "items": len(made),
    }


def _written(
    bank: Sequence[Problem],
    shares: tuple[Share, ...],
    target: Path,
    settings: Settings,
    progress: Progress,
    order: Order,
) -> Finished:
    """One pack, made from its shares alone, so that nothing of the others is in memory."""
    recipe = Recipe(tuple(bank), (), settings, shares)
    order = replace(order, formats=order.formats[:1])
    (written,) = write_made(recipe.pack(), lambda _: target, progress, order, recipe)
    answers = written.report.answers_tried
    return Finished(target.name, size(shares), target.stat().st_size, digest_of(target), answers, shares)


def _inside(done: Callable[[float], None]) -> Progress:
    """The progress of a pack as a part of that of the pool."""

    @contextmanager
    def progress(what: str, total: int) -> Iterator[Callable[[float], None]]:
        yield done

    return progress
