"""The command line: parse, call, print. Heavy modules are imported inside the commands, so that help comes at once."""

from __future__ import annotations

import signal
import sys
from decimal import Decimal
from io import TextIOWrapper
from pathlib import Path
from types import FrameType
from typing import TYPE_CHECKING, Any, NoReturn

import click

from .book import book
from .change import diff, merge
from .form import form
from .options import BANK, GRAVITY, JSON, MOST_VARIANTS, SEED, bank_of, options, order, settings
from .paper import paper
from .pool import pool
from .results import results
from .teaching import demo, mistakes

if TYPE_CHECKING:
    from ...exporters.running.packing import Order
    from ..model.problem import Problem
    from ..questions.item_model import Settings


# --- a program that is told to end leaves like one that is interrupted: workers ended, temporary files gone ---


_SIGNALS = [each for name in ("SIGTERM", "SIGHUP") if (each := getattr(signal, name, None))]


class Stopped(BaseException):
    """The program was told to end, by a signal of this number; nothing catches it on the way out."""

    def __init__(self, number: int) -> None:
        self.number = number
        super().__init__(number)

    @property
    def exit_status(self) -> int:
        """As the shell has it for a program that a signal ended."""
        return 128 + self.number


def stop_on_signals() -> None:
    """From now on SIGTERM, and SIGHUP unless it is ignored (as under nohup), raise Stopped in the main thread."""
    for each in _SIGNALS:
        if signal.getsignal(each) is signal.SIG_DFL:
            signal.signal(each, _stop)


def _stop(number: int, _: FrameType | None) -> NoReturn:
    for each in _SIGNALS:
        signal.signal(each, signal.SIG_IGN)  # told again, it is still clearing up
    raise Stopped(number)


CONTEXT = {"help_option_names": ["-h", "--help"], "max_content_width": 110}


STOPPED = "turnwright: stopped; nothing was left half done"
TABLE = "turnwright-packs.txt"  # what became of everything, beside the packs of all formats
# as the shell has them for a program that a signal ended
INTERRUPTED = 130
PIPE_CLOSED = 141  # its reader has left


@click.group(context_settings=CONTEXT)
@click.version_option(package_name="turnwright", message="%(prog)s %(version)s")
def turnwright() -> None:
    """Circular-motion problems from force diagrams: check a bank, look at it, solve, make packs, prove them."""


@turnwright.command(short_help="Report every fault of problem files.")
@click.argument("files", nargs=-1, type=click.Path(path_type=Path))
@click.option(
    "--against",
    metavar="OLD",
    help="An earlier state (folder, file or REVISION:PATH): a key, stem or limit that changed needs a raised version.",
)
@JSON
def check(files: tuple[Path, ...], against: str | None, as_json: bool) -> int:
    """Report every fault of problem FILES or folders (the shipped bank if none is named)."""
    from ..questions.check import GRAVITY, check_questions
    from ..questions.check_choices import check_choices
    from ..reading.files import collect, problem_files, shipped_files
    from . import printing

    paths = problem_files(files) if files else shipped_files()
    problems, faults = collect(paths)
    if against is not None:
        from ..change.versions import version_faults

        faults += version_faults(against, problems)
    total = sum(len(problem.questions) for problem in problems)
    with printing.progress("Solving", total) as done:
        reports = check_questions(problems, done=lambda _: done(1))
    solved = [each.solved for each in reports if each.solved]
    with printing.progress("Making choices", len(solved)) as done:
        choices = check_choices(solved, GRAVITY, lambda _: done(1))
    printing.check(len(paths), problems, reports, choices, faults, as_json)
    return 1 if faults or choices.faults or any(each.faults for each in reports) else 0


@turnwright.command("list", short_help="List questions.")
@click.argument("names", nargs=-1, metavar="[QUESTIONS]...")
@options(BANK, JSON)
def list_(names: tuple[str, ...], bank_paths: tuple[Path, ...], as_json: bool) -> None:
    """List questions: all, or those of the named questions, problems or families."""
    from ..limits.budget import guarded
    from ..questions.selection import find_questions
    from ..solving.cache import solved_question
    from ..variants.variant import VariantPool
    from . import printing

    found = find_questions(bank_of(bank_paths), names)
    with printing.progress("Counting variants", len(found)) as done:
        rows = []
        for problem, question in found:
            pool = VariantPool(solved_question(problem, question), Decimal("9.8"))
            with guarded(problem, question):
                rows.append((problem, question, pool.count))
            done(1)
    printing.questions(rows, as_json)


@turnwright.command(short_help="Show one variant of a question, with its solution.")
@click.argument("question")
@click.option(
    "--variant", type=click.IntRange(1, MOST_VARIANTS), default=1, show_default=True, help="Which variant of the draw."
)
@click.option("--figure", type=click.Path(path_type=Path), metavar="FILE.svg", help="Write the force diagram there.")
@options(GRAVITY, SEED, BANK, JSON)
def show(
    question: str,
    variant: int,
    figure: Path | None,
    gravity: Decimal,
    seed: int,
    bank_paths: tuple[Path, ...],
    as_json: bool,
) -> None:
    """Show one variant of a QUESTION: stem, key, tolerance and the worked solution."""
    from ..errors import TooFewVariantsError
    from ..questions.selection import find_item_model
    from . import show

    makers = find_item_model(bank_of(bank_paths), question).draw(variant, gravity, seed)
    if len(makers) < variant:
        raise TooFewVariantsError(question, len(makers), variant)
    item = makers[variant - 1].make()
    if figure:
        _write_figure(item.figure, question, figure)
    show.item(item, as_json)


def _write_figure(drawing: Any, question: str, target: Path) -> None:
    from ...exporters.markup.svg import svg
    from ..errors import UsageError
    from ..storage.files import write_together

    if drawing is None:
        raise UsageError(f"{question} has no force diagram; leave --figure out")
    write_together({target: svg(drawing)})


@turnwright.command(short_help="Solve a question for your own numbers.")
@click.argument("question", metavar="QUESTION|FILE.yaml#QUESTION")
@click.option("--set", "settings", multiple=True, metavar="SYMBOL=VALUE[UNIT]", help="A given, such as m=250g.")
@click.option("--ask", metavar="SYMBOL", help="Another asked quantity than that of the question.")
@options(GRAVITY, BANK, JSON)
def solve(
    question: str,
    settings: tuple[str, ...],
    ask: str | None,
    gravity: Decimal,
    bank_paths: tuple[Path, ...],
    as_json: bool,
) -> None:
    """Solve a QUESTION for your own numbers, from any set of givens that is enough."""
    from ..questions.own_numbers import solve_for
    from ..questions.selection import find_question
    from . import printing

    problem, found = find_question(*_named(question, bank_paths))
    printing.answer(solve_for(problem, found, settings, ask, gravity), as_json)


def _named(question: str, bank_paths: tuple[Path, ...]) -> tuple[tuple[Problem, ...], str]:
    """The problems to look in, and the id to look for: ``FILE.yaml#question`` brings its own file."""
    from ..errors import UsageError

    path, _, name = question.rpartition("#")
    if not path:
        if question.endswith((".yaml", ".yml")):
            raise UsageError(f"{question} is a file; name a question in it, as in {question}#least-speed")
        return bank_of(bank_paths), question
    if bank_paths:
        raise UsageError(f"{question} names its own file; leave --bank out")
    problems = bank_of((Path(path),))
    return problems, f"{problems[0].id}.{name}" if len(problems) == 1 and "." not in name else name


@turnwright.command(short_help="Write a proved question pack.")
@click.argument("names", nargs=-1, metavar="[QUESTIONS]...")
@click.option("--out", type=click.Path(path_type=Path), metavar="FILE|FOLDER", help="Where the pack goes.")
@click.option(
    "--manifest", type=click.Path(path_type=Path), metavar="FILE.json", help="Write there what 'results' needs to know."
)
@order
@settings
@options(BANK, JSON)
def pack(
    names: tuple[str, ...],
    *,
    settings: Settings,
    order: Order,
    out: Path | None,
    manifest: Path | None,
    bank_paths: tuple[Path, ...],
    as_json: bool,
) -> None:
    """Write a proved pack of the named questions, problems or families (all if none is named)."""
    from ... import exporters
    from ...exporters.running.packing import write_pack, write_packs
    from ..storage.files import place_of, write_together
    from . import pack, printing

    if manifest:
        place_of(manifest)  # what can't be written is told before the work
    problems = bank_of(bank_paths)
    if len(order.formats) > 1:
        folder = out or Path()
        written = write_packs(problems, names, folder, settings, printing.progress, order)
        told = "\n".join(pack.lines(written)) + "\n"
        write_together({folder / TABLE: told.encode()})
    else:
        suffix = exporters.exporter(order.formats[0]).SUFFIX
        target = out or Path(f"turnwright-{settings.purpose}{suffix}")
        written = [write_pack(problems, names, target, settings, printing.progress, order)]
    if manifest:
        from ...exporters.running.assessment_facts import manifest_bytes

        write_together({manifest: manifest_bytes(problems, settings, written)})
    pack.packed(written, as_json)


@turnwright.command(short_help="Read a pack back and mark it.")
@click.argument("path", type=click.Path(path_type=Path), metavar="PACK")
@JSON
def prove(path: Path, as_json: bool) -> int:
    """Read a PACK back and mark its keys, near misses and empty answers by its own rules."""
    from ...exporters import proof
    from . import printing

    result = proof.prove(path)
    printing.proof(path, result, as_json)
    return 0 if result.ok else 1


turnwright.add_command(pool)
turnwright.add_command(paper)
turnwright.add_command(mistakes)
turnwright.add_command(demo)
turnwright.add_command(book)
turnwright.add_command(diff)
turnwright.add_command(merge)
turnwright.add_command(form)
turnwright.add_command(results)


def run(arguments: list[str]) -> int:
    """The exit status of the command with these arguments: 0, 1 where a check failed, 2 for usage or input.

    130 where it was interrupted, 143 or 129 where it was told to end, 141 where the reader of its output left.
    """
    from ..errors import TurnwrightError
    from ..limits.budget import one_run

    try:
        with one_run():
            status = turnwright.main(arguments or ["--help"], prog_name="turnwright", standalone_mode=False)
        return status if isinstance(status, int) else 0
    except TurnwrightError as error:
        return _told(str(error), error.exit_status)
    except click.ClickException as error:
        return _told(f"turnwright: {error.format_message().rstrip('.')}; see 'turnwright --help'", 2)
    except (click.exceptions.Abort, KeyboardInterrupt):
        return _told(STOPPED, INTERRUPTED)
    except Stopped as stopped:
        return _told(STOPPED, stopped.exit_status)
    except SystemExit:  # click leaves like this when a pipe is closed
        return PIPE_CLOSED
    except OSError as error:
        return _told(f"turnwright: {error.strerror or error}; free some space, or write elsewhere", 2)


def _told(message: str, status: int) -> int:
    from ..errors import visible

    click.echo(visible(message, lines=True), err=True)
    return status


def main() -> None:
    """Entry point of the program. What the terminal has no letter for is written as an escape."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")
    stop_on_signals()
    sys.exit(run(sys.argv[1:]))
