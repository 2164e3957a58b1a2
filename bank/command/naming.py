"""Names of questions as arguments, which a shell can complete: a problem first, then its question, then its kind."""

from __future__ import annotations

from collections.abc import Iterator

import click
from click.shell_completion import CompletionItem
from click.types import StringParamType


class QuestionName(StringParamType):
    """The id of a question, a problem or a family of the shipped bank, or that of a user's own."""

    name = "question"

    def shell_complete(self, ctx: click.Context, param: click.Parameter, incomplete: str) -> list[CompletionItem]:
        """What a name that begins like this can become; only files that the name has chosen are read."""
        return [CompletionItem(each) for each in _names(incomplete) if each.startswith(incomplete)]


def _names(begun: str) -> Iterator[str]:
    """A problem's file is called by its id and stands in the folder of its family."""
    from ..reading.files import read_bank, shipped_files

    files = shipped_files()
    if "." not in begun:
        yield from sorted({name for path in files for name in (path.stem, path.parent.name)})
        return
    chosen = [path for path in files if path.stem == begun.partition(".")[0]]
    problems = read_bank(chosen)
    if "/" not in begun:
        yield from (f"{problem.id}.{question.name}" for problem in problems for question in problem.questions)
        yield from (f"{problem.id}.{diagram.name}/" for problem in problems for diagram in problem.diagrams)
        return
    from ..questions.item_model import Settings
    from ..questions.selection import select

    yield from (each.id for each in select(problems, (), Settings(every=True)).models)


QUESTION_NAME = QuestionName()
NAMES = click.argument("names", nargs=-1, metavar="[QUESTIONS]...", type=QUESTION_NAME)
