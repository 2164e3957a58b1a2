"""The forms of an assessment on disk: a proved pack of each, papers, and one manifest; all of them or none."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

from ... import exporters
from ...bank.errors import FileError, ProofError
from ...bank.forms.assessment import Assessment, Form, pack_of
from ...bank.forms.manifest import NAME, manifest
from ...bank.item.pack import Pack
from ...bank.solving.solution import SolvedQuestion
from ...bank.storage.files import scratch, write_together
from ..packages.naming import contents
from ..paper import PaperLayout, papers
from ..paper.writing import laws_of
from ..workers import Progress
from .packing import Order, write_made


@dataclass(frozen=True)
class WrittenForms:
    """The files of an assessment, in the order of forms, and how many items were proved in all packs."""

    files: tuple[Path, ...]
    proved: int
    told: tuple[str, ...]


def write_forms(
    assessment: Assessment,
    version: str,
    folder: Path,
    order: Order,
    progress: Progress,
    solved: Sequence[SolvedQuestion] | None = None,
) -> WrittenForms:
    """Write all forms into ``folder`` as packs, and as papers where their ``solved`` questions are given.

    Raises FileError, LeftOutError, ProofError or TypesettingError; then the folder is as it was.
    """
    packs = {form: pack_of(assessment, form) for form in assessment.forms}
    files: dict[Path, bytes] = {}
    proved = 0
    told: list[str] = []
    with scratch(folder, folder) as apart, _named_in(folder):
        for form, pack in packs.items():
            for each in write_made(pack, _target(apart, form), progress, order):
                files[folder / each.path.name] = each.path.read_bytes()
                proved += each.report.marked
                told += [
                    f"form {form.name}, {each.format_name}: {row.kind} ({row.items}): {row.told}"
                    for row in each.adapted.table
                    if row.how == "left out"
                ]
    if solved is not None:
        with progress("Setting the pages", 2 * len(packs)) as done:
            for form, pack in packs.items():
                plain = replace(pack, title=assessment.blueprint.title)  # the letter stands beside it
                files |= _papers(plain, form.name, folder / f"form-{form.name}.pdf", solved, done)
    data = manifest(assessment, version, lambda form: _names(packs[form]))
    files[folder / NAME] = (json.dumps(data, ensure_ascii=False, indent=1) + "\n").encode()
    write_together(files)
    return WrittenForms(tuple(files), proved, tuple(told))


@contextmanager
def _named_in(folder: Path) -> Iterator[None]:
    """Faults of files that are written apart name them where they were to stand."""
    try:
        yield
    except FileError as error:
        raise FileError(str(folder / Path(error.path).name), error.wrong, error.right) from error
    except ProofError as error:
        raise ProofError(str(folder / Path(error.path).name), error.findings) from error


def _target(folder: Path, form: Form) -> Callable[[str], Path]:
    return lambda name: folder / f"form-{form.name}-{name}{exporters.exporter(name).SUFFIX}"


def _names(pack: Pack) -> list[str]:
    """The identifiers of the items of a form, of which each section has one."""
    return [question.item(0) for question in contents(pack).questions]


def _papers(
    pack: Pack, name: str, target: Path, solved: Sequence[SolvedQuestion], done: Callable[[int], None]
) -> dict[Path, bytes]:
    result = papers(pack, PaperLayout(name=name), lambda items: laws_of(solved, items), done)
    marking = target.with_name(f"{target.stem}-marking.pdf")
    found = {target: result.questions, marking: result.marking}
    return {path: content for path, content in found.items() if content is not None}
