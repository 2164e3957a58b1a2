"""Two commands for those who keep banks: what changed between two of them, and two put into one."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from ..language import count
from .options import JSON
from .printing import fault_data, print_json, progress

if TYPE_CHECKING:
    from ..change.changes import Change, Shown
    from ..change.difference import Difference
    from ..change.merging import Merged


LONG = 60  # a text up to here is shown whole
AROUND = 4  # words shown before and after those that changed
_COUNTED = {
    "key": "with another key",
    "numbers": "with other numbers",
    "solution": "with another solution",
    "distractor": "with other distractors",
    "figure": "with another figure",
    "metadata": "with other metadata",
}


def difference(found: Difference, as_json: bool) -> None:
    """The changes question by question, then the versions to raise, then a closing line."""
    if as_json:
        print_json(
            {
                "old": found.old.name,
                "new": found.new.name,
                "changes": [change_data(each) for each in found.changes],
                "versions": [fault_data(each.fault) for each in found.unraised],
            }
        )
        return
    for line in lines(found.changes):
        click.echo(line)
    for each in found.unraised:
        click.echo(str(each.fault))
    click.echo(_summary(found))


def change_data(change: Change) -> dict[str, Any]:
    """A change for a script."""
    shown = change.shown
    return {
        "where": change.where,
        "problem": change.problem,
        "question": change.question or None,
        "kind": change.kind,
        "what": change.what,
        "old": change.old,
        "new": change.new,
        "needs_version": change.needs_version,
        "variant": shown
        and {"scene": shown.scene, "given": dict(shown.given), "old_key": shown.old, "new_key": shown.new},
    }


def lines(changes: Sequence[Change]) -> Iterator[str]:
    """The changes for a person: what comes and goes in one line for a problem, all else under its question."""
    for (problem, kind), group in groupby(changes, key=lambda each: (each.problem, _whole(each))):
        if kind:
            names = [each.question for each in group]
            yield f"{problem}\n  {kind:<{_kind_width()}}{count(len(names), 'question')}: {', '.join(names)}"
            continue
        for where, found in groupby(group, key=lambda each: each.where):
            yield where
            yield from (f"  {line}" for line in _of_question(list(found)))


def _kind_width() -> int:
    from ..change.changes import ORDER

    return max(map(len, ORDER)) + 2


def _whole(change: Change) -> str:
    return change.kind if change.kind in ("new", "retired") else ""


def _of_question(changes: Sequence[Change]) -> Iterator[str]:
    for kind, group in groupby(changes, key=lambda each: each.kind):
        found = list(group)
        told = list(_distractors(found)) if kind == "distractor" else [line for each in found for line in _told(each)]
        if kind == "key" and found[0].question and not found[0].shown:
            told.append("   (no variant of the old draws shows it)")
        for number, line in enumerate(told):
            yield f"{kind if not number else '':<{_kind_width()}}{line}"


def _told(change: Change) -> Iterator[str]:
    old, new = shortened(change.old, change.new)
    arrow = f": {old or 'nothing'} → {new or 'nothing'}" if old or new else ""
    yield f"{change.what}{arrow}"
    if change.shown:
        yield _shown(change.shown)


def _shown(shown: Shown) -> str:
    given = ", ".join(f"{name} = {text}" for name, text in shown.given.items())
    return f"   for {given} ({shown.scene}): {shown.old} → {shown.new}"


def _distractors(changes: Sequence[Change]) -> Iterator[str]:
    """Mistakes of one fate in one line; a single one with what it gave and gives."""
    for fate, group in groupby(changes, key=lambda each: each.what.rpartition(" ")[0]):
        found = list(group)
        if len(found) == 1:
            yield from _told(found[0])
        else:
            yield f"{fate} {', '.join(each.what.rpartition(' ')[2] for each in found)}"


def shortened(old: str, new: str) -> tuple[str, str]:
    """Two texts, each cut to the words that differ with a few around them, where they are long."""
    if max(len(old), len(new)) <= LONG or not (old and new):
        return _cut(old), _cut(new)
    before, after = old.split(), new.split()
    matcher = difflib.SequenceMatcher(None, before, after, autojunk=False)
    changed = [each for each in matcher.get_opcodes() if each[0] != "equal"]
    if not changed:
        return old, new
    return (
        _window(before, changed[0][1], changed[-1][2]),
        _window(after, changed[0][3], changed[-1][4]),
    )


def _window(words: Sequence[str], start: int, stop: int) -> str:
    first, last = max(start - AROUND, 0), min(stop + AROUND, len(words))
    shown = " ".join(words[first:last])
    return f"{'… ' if first else ''}{shown}{' …' if last < len(words) else ''}"


def _cut(text: str) -> str:
    return text if len(text) <= LONG * 2 else text[: LONG * 2].rsplit(" ", 1)[0] + " …"


def _summary(found: Difference) -> str:
    size = count(sum(len(each.questions) for each in found.new.problems), "question")
    if not found.changes and not found.unraised:
        return f"{size} compared: no difference"
    from ..change.changes import ORDER

    kinds = [(kind, len({each.where for each in found.changes if each.kind == kind})) for kind in ORDER]
    told = ", ".join(f"{number} {_COUNTED.get(kind, kind)}" for kind, number in kinds if number)
    raised = f"; {count(len(found.unraised), 'version')} to raise" if found.unraised else ""
    return f"{size} compared{': ' + told if told else ''}{raised}"


# --- two banks together ---------------------------------------------------------------------------


def merged(result: Merged, target: str, as_json: bool) -> None:
    """What went into the merged folder, what did not and why, and what a person should look at."""
    if as_json:
        print_json({"folder": target, **result.as_json()})
        return
    for line in _concerns(result):
        click.echo(line)
    left = f"; {count(len(result.left_out), 'problem')} left out" if result.left_out else ""
    click.echo(f"{target}: {count(len(result.files), 'problem file')}{left}")


def _concerns(result: Merged) -> Iterable[str]:
    for conflict in result.conflicts:
        yield f"conflict: {conflict}"
    for note in result.notes:
        yield f"{note.kind}: {note.text}"


@click.command(short_help="Tell what changed between two banks, by meaning.")
@click.argument("old")
@click.argument("new")
@JSON
def diff(old: str, new: str, as_json: bool) -> int:
    """Tell what changed from OLD to NEW: questions, keys, words, numbers, solutions, distractors.

    Each is a folder, a problem file, or REVISION:PATH for a folder as it stood in a revision of Git, such as
    v1:bank. Ends with 1 where a key, a stem or a limit changed and the version was not raised.
    """
    from ..change.difference import compare
    from ..change.source import banks

    before, after = banks(old, new)
    with progress("Comparing", len(after.entries)) as done:
        found = compare(before, after, done)
    difference(found, as_json)
    return 1 if found.unraised else 0


@click.command(short_help="Put two banks into one folder.")
@click.argument("first")
@click.argument("second")
@click.option("--out", required=True, type=click.Path(path_type=Path), metavar="FOLDER", help="A new or empty folder.")
@click.option(
    "--prefer",
    type=click.Choice(["first", "second"]),
    show_default="neither",
    help="Which bank's problem to take where both have one of the same id and other content; else both are left out.",
)
@JSON
def merge(first: str, second: str, out: Path, prefer: str | None, as_json: bool) -> int:
    """Put FIRST and SECOND (folders, or REVISION:PATH) into one new FOLDER, each file as it is.

    Tells of same ids with other content, of questions that are the same in other words, and of licences, titles and
    stories that clash. Ends with 1 where a problem was left out.
    """
    from ..change.merging import merge as put_together
    from ..change.source import banks
    from ..change.writing import refuse_target, write_folder

    refuse_target(out, (first, second))
    one, other = banks(first, second)
    with progress("Comparing", len(other.entries)) as done:
        result = put_together(one, other, prefer, done)
    write_folder(result.files, out)
    merged(result, str(out), as_json)
    return 1 if result.left_out else 0
