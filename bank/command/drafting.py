"""The command that gives an author a file to start from: a problem of a family, each part of it explained."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import click
from click.shell_completion import CompletionItem

WIDTH = 110
_KEY = re.compile(r"([a-z]+):")
_SCHEMAS = ("problem", "mistakes")
_HEAD = """\
# yaml-language-server: $schema=schemas/problem.json
#
# A whole problem of the family {family} to change into your own; no answer, no solution and no picture is typed.
# Change a part at a time, and look: 'turnwright check {file}' tells every fault with its line, and
# 'turnwright show --bank {file} {id}.{question}' one variant. What is explained here, an editor explains, too.
"""


@click.command(short_help="Write a commented problem file to start from.")
@click.argument(
    "family",
    shell_complete=lambda ctx, param, begun: [CompletionItem(each) for each in _families() if each.startswith(begun)],
)
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    default="my-bank",
    show_default=True,
    metavar="FOLDER",
    help="Where the file goes, with the schemas that an editor reads; it is made.",
)
@click.option("--force", is_flag=True, help="Replace the files of an earlier draft.")
def draft(family: str, out: Path, force: bool) -> None:
    """Write a problem of a FAMILY with each part explained, for an author to change into another.

    'turnwright names families' lists the families.
    """
    from ... import schemas
    from ..errors import FileError, UnknownNameError
    from ..storage.files import write_together
    from ..storage.targets import folder_for

    families = _families()
    if family not in families:
        raise UnknownNameError("family", family, tuple(families))
    name = f"my-{family}"
    with folder_for(out) as folder:
        target = folder / f"{name}.yaml"
        if target.exists() and not force:
            raise FileError(str(target), "it is there already", "name another folder, or replace it with --force")
        text = drafted(families[family].read_text("utf-8"), family, name, target)
        (folder / "schemas").mkdir(exist_ok=True)
        beside = {
            folder / "schemas" / f"{each}.json": (schemas.FOLDER / f"{each}.json").read_bytes() for each in _SCHEMAS
        }
        write_together({**beside, target: text.encode()})
    click.echo(f"{target}: a problem to start from; next: turnwright check {target}")


def _families() -> Mapping[str, Path]:
    """The shortest problem file of each family."""
    from ..reading.finding import shipped_files

    longest_first = sorted(shipped_files(), key=lambda path: (-path.stat().st_size, path.name))
    return dict(sorted({path.parent.name: path for path in longest_first}.items()))


def drafted(text: str, family: str, name: str, target: Path) -> str:
    """The text of a shipped problem under another id, with what its schema says of each part in front of it."""
    from ... import schemas

    (own,) = re.findall(r"(?m)^id: (\S+)$", text)
    (question, *_) = re.findall(r"(?m)^questions:\n(?: *#.*\n)*  ([a-z0-9-]+):$", text)
    head = _HEAD.format(family=family, file=target, id=name, question=question)
    changed = text.replace(f"id: {own}\n", f"id: {name}\n", 1).replace(f"{own}.", f"{name}.")
    return head + "".join(_explained(changed, schemas.load("problem")["properties"]))


def _explained(text: str, properties: Mapping[str, Any]) -> Iterator[str]:
    for line in text.splitlines(keepends=True):
        found = _KEY.match(line)
        if line.startswith("# yaml-language-server"):
            continue
        if found and (said := properties.get(found[1], {}).get("description")):
            yield "\n" + textwrap.fill(said, WIDTH, initial_indent="# ", subsequent_indent="# ") + "\n"
        yield line
