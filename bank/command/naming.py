"""Names as arguments, which a shell can complete: a problem first, then its question, then its kind; and formats."""

from __future__ import annotations

from collections.abc import Iterator

import click
from click.shell_completion import CompletionItem
from click.types import StringParamType


class QuestionName(StringParamType):
    """The id of a question, a problem or a family of the shipped bank, or that of a user's own."""

    name = "question"

    def shell_complete(self, ctx: click.Context, param: click.Parameter, incomplete: str) -> list[CompletionItem]:
        """What a name that begins like this can become, in the bank that the line names."""
        from ..errors import TurnwrightError

        try:
            return [CompletionItem(each) for each in _names(ctx, incomplete) if each.startswith(incomplete)]
        except TurnwrightError:
            return []  # a shell that completes a line has no place for messages


def _names(ctx: click.Context, begun: str) -> Iterator[str]:
    from .options import index_of

    index = index_of(tuple(ctx.params.get("bank_paths") or ()))
    if "." not in begun:
        yield from sorted({name for problem, _ in index.rows for name in (problem.id, problem.family)})
        return
    owner = begun.partition(".")[0]
    (problem,) = {problem for problem, _ in index.rows if problem.id == owner} or (None,)
    if problem is None:
        return
    if "/" not in begun:
        yield from (f"{problem.id}.{each.name}" for each in problem.questions)
        yield from (f"{problem.id}.{each}/" for each in problem.diagrams)
        return
    from ..questions.item_model import Settings
    from ..questions.selection import select

    yield from (each.id for each in select(index.problems([problem.id]), (), Settings(every=True)).models)


QUESTION_NAME = QuestionName()
NAMES = click.argument("names", nargs=-1, metavar="[QUESTIONS]...", type=QUESTION_NAME)
