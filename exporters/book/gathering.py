"""From question names to sheets: items of each question, how many there are, and what was found about it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from ...bank.checking.answers import settled
from ...bank.checking.note import Note
from ...bank.checking.option_quality import option_notes
from ...bank.checking.questions import QuestionReport, report_of
from ...bank.item.item import Item
from ...bank.model.mistake import Mistake
from ...bank.model.problem import Problem
from ...bank.questions.item_model import ItemModel, Settings
from ...bank.questions.items import difficulty
from ...bank.questions.kinds import KIND
from ...bank.questions.selection import count_solved, select
from ...bank.reading.mistakes import shipped_mistakes
from ...bank.writing.demonstration import card
from ..workers import Progress
from .sheet import Quality, Sheet, SituationSheet

MANY = 1000  # more than any problem has scenes


@dataclass
class Gathering:
    """Makes the sheets one after the other; ``without_item`` grows by each question that has none."""

    problems: Sequence[Problem]
    names: Sequence[str]
    settings: Settings
    rows: int
    progress: Progress
    without_item: list[str] = field(default_factory=list)
    _reports: dict[str, QuestionReport] = field(default_factory=dict)

    def sheets(self) -> Iterator[Sheet]:
        """The sheets in the order of the names. Raises UnknownNameError or SolveError."""
        with self.progress("Solving", count_solved(self.problems, self.names)) as done:
            chosen = select(self.problems, self.names, self.settings, done).models
        with self.progress("Making questions", len(chosen)) as done:
            for each in chosen:
                sheet = self._sheet(each)
                if sheet:
                    yield sheet
                else:
                    self.without_item.append(each.id)
                done(1)

    def _sheet(self, asked: ItemModel) -> Sheet | None:
        report = self._report(asked)
        numeric = KIND[asked.kind].per == "variant"
        wanted = max(self.rows, self.settings.variants)
        series = asked.draw(
            min(wanted, report.variants) if numeric else MANY, self.settings.gravity, self.settings.seed
        )
        if not series:
            return None
        items = tuple(series[:wanted])
        return Sheet(
            metadata=asked.metadata,
            situation=_situation(report.problem),
            items=items,
            shown=self.settings.variants,
            exist=_exist(asked, report.variants if numeric else len(series)),
            quality=_quality(report, items),
            thoughts=_thoughts(report.problem),
        )

    def _report(self, asked: ItemModel) -> QuestionReport:
        """The report of the solved question behind ``asked``; the first of its problem for one about a diagram."""
        problem = next(each for each in self.problems if each.id == asked.metadata.problem)
        name = asked.metadata.question.partition("/")[0]
        question = next((each for each in problem.questions if each.name == name), None)
        if question is None:
            question = problem.questions[0]
        id_ = f"{problem.id}.{question.name}"
        if id_ not in self._reports:
            self._reports[id_] = report_of(problem, question, self.settings.gravity)
        return self._reports[id_]


def _situation(problem: Problem) -> SituationSheet:
    cautions = dict.fromkeys(filter(None, map(problem.caution_in, problem.scenes)))
    return SituationSheet(problem.title, tuple(cautions), card(problem), problem.demonstration.get("none", ""))


def _exist(asked: ItemModel, number: int) -> str:
    if asked.kind == "choice":
        return f"those of {number:,} that have enough plausible wrong options"
    return f"{number:,}" if KIND[asked.kind].per == "variant" else f"{number:,}, one for each story that suits"


def _quality(report: QuestionReport, items: Sequence[Item]) -> Quality:
    assert report.solved is not None  # the sheets come from solved questions only
    scenes = report.problem.scenes_of(report.question)
    of_options = (note for item in items for note in option_notes(item))
    notes = [settled(report.problem, each) for each in dict.fromkeys((*report.notes, *of_options))]
    return Quality(
        question=report.id,
        variants=report.variants,
        difficulty={scene.name: difficulty(report.solved, scene) for scene in scenes},
        notes=tuple(_told(each) for each in notes if not each.answer),
        answered=tuple(f"{_told(each)}: {each.answer}" for each in notes if each.answer),
        faults=tuple(f"{each.wrong}; {each.right}" for each in report.faults),
        dropped=report.breaking,
    )


def _told(note: Note) -> str:
    return f"{note.found} ({note.rule.says}; {note.rule.source})"


def _thoughts(problem: Problem) -> dict[str, Mistake]:
    """Mistakes by the id of their place on the page; a problem's own ones have places apart from the catalogue's."""
    own = {f"thinking:{problem.id}:{each.id}": each for each in problem.mistakes}
    return own | {f"thinking:{each.id}": each for each in shipped_mistakes()}
