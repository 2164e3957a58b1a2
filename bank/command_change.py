"""Two commands for those who keep banks: what changed between two of them, and two put into one."""

from __future__ import annotations

from pathlib import Path

import click
from turnwright.bank.command_options import JSON


@click.command(short_help="Tell what changed between two banks, by meaning.")
@click.argument("old")
@click.argument("new")
@JSON
def diff(old: str, new: str, as_json: bool) -> int:
    """Tell what changed from OLD to NEW: questions, keys, words, numbers, solutions, distractors.

    Each is a folder, a problem file, or REVISION:PATH for a folder as it stood in a revision of Git, such as
    v1:bank. Ends with 1 where a key, a stem or a limit changed and the version was not raised.
    """
    from turnwright.bank import report, report_change
    from turnwright.bank.change.difference import compare
    from turnwright.bank.change.source import banks

    before, after = banks(old, new)
    with report.progress("Comparing", len(after.entries)) as done:
        found = compare(before, after, done)
    report_change.difference(found, as_json)
    return 1 if found.unraised else 0


@click.command(short_help="Put two banks into one folder.")
@click.argument("first")
@click.argument("second")
@click.option("--out", required=True, type=click.Path(path_type=Path), metavar="FOLDER", help="A new or empty folder.")
@click.option(
    "--prefer",
    type=click.Choice(["first", "second"]),
    help="Which bank's problem to take where both have one of the same id and other content; else both are left out.",
)
@JSON
def merge(first: str, second: str, out: Path, prefer: str | None, as_json: bool) -> int:
    """Put FIRST and SECOND (folders, or REVISION:PATH) into one new FOLDER, each file as it is.

    Tells of same ids with other content, of questions that are the same in other words, and of licences, titles and
    stories that clash. Ends with 1 where a problem was left out.
    """
    from turnwright.bank import report, report_change
    from turnwright.bank.change.merging import merge as put_together
    from turnwright.bank.change.source import banks
    from turnwright.bank.change.writing import refuse_target, write_folder

    refuse_target(out, (first, second))
    one, other = banks(first, second)
    with report.progress("Comparing", len(other.entries)) as done:
        result = put_together(one, other, prefer, done)
    write_folder(result.files, out)
    report_change.merged(result, str(out), as_json)
    return 1 if result.left_out else 0
