"""The command that reports every fault of problem files."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from ..errors import Fault
from ..language import count
from .options import JSON
from .printing import difficulties, fault_data, print_json, progress

if TYPE_CHECKING:
    from ..checking.answers import AnsweredNotes
    from ..checking.choices import ChoicesReport
    from ..checking.note import Note
    from ..checking.questions import QuestionReport
    from ..model.problem import Problem


@click.command(short_help="Report every fault of problem files.")
@click.argument("files", nargs=-1, type=click.Path(path_type=Path))
@click.option(
    "--against",
    metavar="OLD",
    show_default="none",
    help="An earlier state (folder, file or REVISION:PATH): a key, stem or limit that changed needs a raised version.",
)
@click.option(
    "--details",
    is_flag=True,
    help="Tell of each question, too: its closed form, what is dropped, its difficulty, mistakes without a number, "
    "answered notes.",
)
@JSON
def check(files: tuple[Path, ...], against: str | None, details: bool, as_json: bool) -> int:
    """Report every fault of problem FILES or folders (the shipped bank if none is named).

    A note is what no program can decide: mend it, or say in the file why it is right, under 'answered'. The command
    ends with 1 while there is a fault, or a note without an answer.
    """
    from ..checking.answers import answered_notes
    from ..checking.choices import check_choices
    from ..checking.questions import check_questions
    from ..checking.terms import documents_beside, term_notes
    from ..quantities.gravity import GRAVITY
    from ..reading.files import collect, problem_files, shipped_files

    paths = problem_files(files) if files else shipped_files()
    problems, faults = collect(paths)
    if against is not None:
        from ..change.versions import version_faults

        faults += version_faults(against, problems)
    total = sum(len(problem.questions) for problem in problems)
    with progress("Solving", total) as done:
        reports = check_questions(problems, done=lambda _: done(1))
    solved = [each.solved for each in reports if each.solved]
    with progress("Making choices", len(solved)) as done:
        choices = check_choices(solved, GRAVITY, lambda _: done(1))
    documents = [*(each.document for each in problems), *(() if files else documents_beside())]
    terms = [note for each in documents for note in term_notes(each)]
    found = [*(note for each in reports for note in each.notes), *choices.notes, *terms]
    notes = answered_notes(problems, found, choices.judged)
    faults += (*(fault for each in reports for fault in each.faults), *choices.faults, *notes.faults)
    told = Told(len(paths), problems, reports, choices, notes, faults)
    print_json(told.data()) if as_json else told.print(details)
    return 1 if faults or notes.open else 0


@dataclass(frozen=True)
class Told:
    """What a check found, told in lines or as data."""

    files: int
    problems: Sequence[Problem]
    reports: Sequence[QuestionReport]
    choices: ChoicesReport
    notes: AnsweredNotes
    faults: Sequence[Fault]

    def data(self) -> dict[str, Any]:
        """All of it, for a script."""
        return {
            "files": self.files,
            "faults": [fault_data(each) for each in self.faults],
            "notes": [_note(each) for each in (*self.notes.open, *self.notes.answered)],
            "questions": [self._question(each) for each in self.reports],
            "no_choice_form": list(self.choices.without),
            "uneven": list(self.choices.uneven),
        }

    def print(self, details: bool) -> None:
        """The faults and open notes, one a line, each question where ``details`` are wanted, and a closing line."""
        for each in (*self.faults, *self.notes.open):
            click.echo(str(each))
        if details:
            for report in self.reports:
                for line in self._details(report):
                    click.echo(line)
            for note in self.notes.answered:
                click.echo(f"{note.place}: answered: {note.about}: {note.found}; {note.name}: {note.answer}")
        parts = (
            count(self.files, "file"),
            count(len(self.problems), "situation"),
            count(len(self.reports), "question"),
            count(sum(each.variants for each in self.reports), "variant"),
        )
        click.echo(f"{', '.join(parts)}: {self._summary()}")
        if self.choices.without:
            without = ", ".join(self.choices.without)
            click.echo(f"Without a choice form, for want of two honest wrong answers: {without}")
        for line in self.choices.uneven:
            click.echo(f"Over all choices, {line}")

    def _summary(self) -> str:
        faults = count(len(self.faults), "fault") if self.faults else "no fault found"
        answered = f", {count(len(self.notes.answered), 'note')} answered" if self.notes.answered else ""
        waiting = f", {count(len(self.notes.open), 'note')} to answer" if self.notes.open else ""
        return faults + answered + waiting

    def _question(self, each: QuestionReport) -> dict[str, Any]:
        return {
            "id": each.id,
            "closed_form": str(each.solved.solution.closed_form) if each.solved else None,
            "variants": each.variants,
            "dropped": each.breaking,
            "difficulty": difficulties(each.solved) if each.solved else {},
            "mistakes_without_a_number": dict(self.choices.idle.get(each.id, {})),
        }

    def _details(self, report: QuestionReport) -> Iterator[str]:
        data = self._question(report)
        yield f"{report.id}: {report.question.ask} = {data['closed_form']}; {count(report.variants, 'variant')}"
        for what, number in data["dropped"].items():
            yield f"  dropped: {number:,} combinations of draws ({what})"
        yield f"  difficulty: {', '.join(f'{scene} {index}' for scene, index in data['difficulty'].items())}"
        for name, why in data["mistakes_without_a_number"].items():
            yield f"  no wrong number: {name} ({why})"


def _note(note: Note) -> dict[str, Any]:
    place = {"file": note.place.file, "line": note.place.line, "column": note.place.column} if note.place else {}
    rule = {"rule": note.rule.says, "source": note.rule.source, "mend": note.mend or note.rule.mend}
    return {"name": note.name, "about": note.about, "found": note.found, **rule, **place, "answer": note.answer}
