"""Names as arguments, which a shell can complete: a problem first, then its question, then its kind; and formats."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

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
    from .opening import index_of

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


SHELLS = ("bash", "zsh", "fish")
_HOMES = {
    "bash": ".local/share/bash-completion/completions/turnwright",
    "zsh": ".local/share/zsh/site-functions/_turnwright",
    "fish": ".config/fish/completions/turnwright.fish",
}


@click.command(short_help="Let the shell complete names, kinds and formats.")
@click.argument("shell", type=click.Choice(SHELLS))
@click.option("--install", is_flag=True, help="Write the lines where the shell looks for them; by default print them.")
def completion(shell: str, install: bool) -> None:
    """Print what makes a SHELL complete commands, ids of questions, kinds and formats; or install it."""
    from click.shell_completion import get_completion_class

    found = get_completion_class(shell)
    assert found is not None, "click knows the three shells"
    made = found(click.get_current_context().find_root().command, {}, "turnwright", "_TURNWRIGHT_COMPLETE")
    lines = made.source_template % made.source_vars()
    if not install:
        click.echo(lines)
        return
    from ..storage.files import told, write_together

    target = Path.home() / _HOMES[shell]
    with told(target):
        target.parent.mkdir(parents=True, exist_ok=True)
    write_together({target: f"{lines}\n".encode()})
    more = f"; add 'fpath+=({target.parent})' to ~/.zshrc before compinit" if shell == "zsh" else ""
    click.echo(f"{target}: written for {shell}; it works in the next shell{more}")


QUESTION_NAME = QuestionName()
NAMES = click.argument("names", nargs=-1, metavar="[QUESTIONS]...", type=QUESTION_NAME)
