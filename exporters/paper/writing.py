"""From question names to papers on disk: both files are there at the end, or all stays as it was."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from ...bank.errors import UsageError
from ...bank.item.item import Item
from ...bank.item.pack import Pack
from ...bank.model.problem import Problem
from ...bank.questions.item_model import Settings
from ...bank.questions.selection import count_solved, pack_of, select
from ...bank.solving.solution import SolvedQuestion
from ...bank.storage.files import write_together
from ...bank.writing.laws import Law, laws, sheet
from ..workers import Progress
from .pdf import PaperLayout, papers
from .versions import PaperVersion, repeated

PDF, EDITABLE = ".pdf", ".docx"


@dataclass(frozen=True)
class WrittenPapers:
    """Papers on disk: the file of questions and that for markers, None where no part of it was wanted.

    ``editable`` are the documents that stand beside them.
    """

    questions: Path | None
    marking: Path | None
    pack: Pack
    layout: PaperLayout
    versions: tuple[PaperVersion, ...]
    repeated: dict[str, int]
    editable: tuple[Path, ...] = ()


def write_papers(
    problems: Sequence[Problem],
    names: Sequence[str],
    target: Path,
    settings: Settings,
    layout: PaperLayout,
    progress: Progress,
) -> WrittenPapers:
    """Write the papers of the named questions at ``target``, and beside it those for markers.

    Raises UnknownNameError, SolveError, TooFewVariantsError, UsageError, FigureError, TypesettingError or FileError;
    then all files are as they were.
    """
    paths = paths_of(target, layout)
    with progress("Solving", count_solved(problems, names)) as done:
        chosen = select(problems, names, settings, done)
    made = pack_of(chosen.models, replace(settings, variants=layout.versions))
    with progress("Setting the pages", 2) as done:
        result = papers(made, layout, lambda items: laws_of(chosen.solved, items), done)
    made_files = (result.questions, result.marking, result.editable_questions, result.editable_marking)
    contents = [content for content in made_files if content is not None]
    write_together(dict(zip(paths, contents, strict=True)))
    pdf = [path for path in paths if path.suffix.lower() == PDF]
    questions = pdf[0] if layout.for_candidates else None
    marking = pdf[-1] if layout.for_markers else None
    editable = tuple(path for path in paths if path not in pdf)
    return WrittenPapers(questions, marking, made, layout, result.versions, repeated(made, layout.versions), editable)


def paths_of(target: Path, layout: PaperLayout) -> list[Path]:
    """The files to write: questions first, then marking; and after them the same as editable documents.

    Raises UsageError for a name that is none of a PDF file.
    """
    if target.suffix.lower() != PDF:
        raise UsageError(f"{target} is no name of a PDF file; end it in .pdf")
    marking = target.with_name(f"{target.stem}-marking{target.suffix}")
    wanted = ((target, layout.for_candidates), (marking, layout.for_markers))
    paths = [path for path, wanted_ in wanted if wanted_]
    return [*paths, *(path.with_suffix(EDITABLE) for path in paths if layout.editable)]


def laws_of(solved: Sequence[SolvedQuestion], items: Sequence[Item]) -> tuple[Law, ...]:
    """The laws that some items rest on, in the symbols of their scenes."""
    found: list[Law] = []
    for item in items:
        base = _base(solved, item)
        scene = next(each for each in base.problem.scenes if each.name == item.metadata.scene)
        found += laws(base, scene)
    return sheet(found)


def _base(solved: Sequence[SolvedQuestion], item: Item) -> SolvedQuestion:
    """The question of the problem file that an item comes from; the first of its problem for one about a diagram."""
    own = [each for each in solved if each.problem.id == item.metadata.problem]
    name = item.metadata.question.partition("/")[0]
    return next((each for each in own if each.question.name == name), own[0])
