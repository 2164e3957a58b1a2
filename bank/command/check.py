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
from .printing import fault_data, on_all_cores, print_json

if TYPE_CHECKING:
    from ..checking.answers import AnsweredNotes
    from ..checking.checked import CheckedProblem, CheckedQuestion
    from ..checking.note import Note


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
    from ..checking.checked import check_apart, uneven
    from ..checking.terms import documents_beside, term_notes
    from ..reading.files import collect, problem_files, shipped_files

    paths = problem_files(files) if files else shipped_files()
    problems, faults = collect(paths, is_apart=True)
    if against is not None:
        from ..change.versions import version_faults

        faults += version_faults(against, problems)
    checked = on_all_cores("Checking", problems, check_apart, [len(each.questions) for each in problems])
    terms = [note for each in documents_beside() for note in term_notes(each)] if not files else []
    found = [*(note for each in checked for note in each.notes), *terms]
    notes = answered_notes(problems, found, frozenset().union(*(each.judged for each in checked)))
    faults += (*(fault for each in checked for fault in each.faults), *notes.faults)
    told = Told(len(paths), checked, uneven(checked), notes, faults)
    print_json(told.data()) if as_json else told.print(details)
    return 1 if faults or notes.open else 0


@dataclass(frozen=True)
class Told:
    """What a check found, told in lines or as data."""

    files: int
    checked: Sequence[CheckedProblem]
    uneven: Sequence[str]
    notes: AnsweredNotes
    faults: Sequence[Fault]

    @property
    def questions(self) -> list[CheckedQuestion]:
        """Those of all problems."""
        return [question for each in self.checked for question in each.questions]

    @property
    def without(self) -> list[str]:
        """The questions that have no choice form."""
        return [name for each in self.checked for name in each.without]

    def data(self) -> dict[str, Any]:
        """All of it, for a script."""
        return {
            "files": self.files,
            "faults": [fault_data(each) for each in self.faults],
            "notes": [_note(each) for each in (*self.notes.open, *self.notes.answered)],
            "questions": [_question(each) for each in self.questions],
            "no_choice_form": self.without,
            "uneven": list(self.uneven),
        }

    def print(self, details: bool) -> None:
        """The faults and open notes, one a line, each question where ``details`` are wanted, and a closing line."""
        for each in (*self.faults, *self.notes.open):
            click.echo(str(each))
        if details:
            for question in self.questions:
                for line in _details(question):
                    click.echo(line)
            for note in self.notes.answered:
                click.echo(f"{note.place}: answered: {note.about}: {note.found}; {note.name}: {note.answer}")
        parts = (
            count(self.files, "file"),
            count(len(self.checked), "situation"),
            count(len(self.questions), "question"),
            count(sum(each.variants for each in self.questions), "variant"),
        )
        click.echo(f"{', '.join(parts)}: {self._summary()}")
        if self.without:
            click.echo(f"Without a choice form, for want of two honest wrong answers: {', '.join(self.without)}")
        for line in self.uneven:
            click.echo(f"Over all choices, {line}")

    def _summary(self) -> str:
        faults = count(len(self.faults), "fault") if self.faults else "no fault found"
        answered = f", {count(len(self.notes.answered), 'note')} answered" if self.notes.answered else ""
        waiting = f", {count(len(self.notes.open), 'note')} to answer" if self.notes.open else ""
        return faults + answered + waiting


def _question(each: CheckedQuestion) -> dict[str, Any]:
    return {
        "id": each.id,
        "closed_form": each.closed_form,
        "variants": each.variants,
        "dropped": dict(each.dropped),
        "difficulty": dict(each.difficulty),
        "mistakes_without_a_number": dict(each.idle),
    }


def _details(each: CheckedQuestion) -> Iterator[str]:
    yield f"{each.id}: {each.asked} = {each.closed_form}; {count(each.variants, 'variant')}"
    for what, number in each.dropped.items():
        yield f"  dropped: {number:,} combinations of draws ({what})"
    yield f"  difficulty: {', '.join(f'{scene} {index}' for scene, index in each.difficulty.items())}"
    for name, why in each.idle.items():
        yield f"  no wrong number: {name} ({why})"


def _note(note: Note) -> dict[str, Any]:
    place = {"file": note.place.file, "line": note.place.line, "column": note.place.column} if note.place else {}
    rule = {"rule": note.rule.says, "source": note.rule.source, "mend": note.mend or note.rule.mend}
    return {"name": note.name, "about": note.about, "found": note.found, **rule, **place, "answer": note.answer}
