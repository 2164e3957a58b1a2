"""The command line: all commands in one group, exit statuses, and what the program says when it ends or is told to."""

from __future__ import annotations

import signal
import sys
from io import TextIOWrapper
from types import FrameType
from typing import NoReturn

import click

from ..errors import (
    BankFaultsError,
    BlueprintError,
    OverBudgetError,
    ProofError,
    TurnwrightError,
    UnknownNameError,
    UsageError,
)
from .book import book
from .change import diff, merge
from .check import check
from .drafting import draft
from .form import form
from .listing import list_, names
from .naming import completion
from .pack import pack
from .paper import paper
from .pool import pool
from .prove import prove
from .results import results
from .show import show
from .solve import solve
from .teaching import demo, mistakes

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
# as the shell has them for a program that a signal ended
INTERRUPTED = 130
PIPE_CLOSED = 141  # its reader has left


@click.group(context_settings=CONTEXT)
@click.version_option(package_name="turnwright", message="%(prog)s %(version)s")
def turnwright() -> None:
    """Circular-motion problems from force diagrams: check a bank, look at it, solve, make packs, prove them."""


# what an editor can open comes first in their lines: file, line and column
_WITH_PLACES = (BankFaultsError, BlueprintError, OverBudgetError, ProofError)
COMMANDS = (
    *(check, list_, show, solve, pack, prove, pool, paper, mistakes, demo, book, diff, merge, form, results),
    *(names, draft, completion),
)
for _each in COMMANDS:
    turnwright.add_command(_each)


def run(arguments: list[str]) -> int:
    """The exit status of the command with these arguments: 0, 1 where a check failed, 2 for usage or input.

    130 where it was interrupted, 143 or 129 where it was told to end, 141 where the reader of its output left.
    """
    from ..limits.budget import one_run

    try:
        with one_run():
            status = turnwright.main(arguments or ["--help"], prog_name="turnwright", standalone_mode=False)
        return status if isinstance(status, int) else 0
    except (TurnwrightError, click.ClickException) as error:
        return _told(*_refused(error, arguments))
    except (click.exceptions.Abort, KeyboardInterrupt):
        return _told(STOPPED, INTERRUPTED)
    except Stopped as stopped:
        return _told(STOPPED, stopped.exit_status)
    except SystemExit:  # click leaves like this when a pipe is closed
        return PIPE_CLOSED
    except OSError as error:
        return _told(f"turnwright: {error.strerror or error}; free some space, or write elsewhere", 2)


def _refused(error: TurnwrightError | click.ClickException, arguments: list[str]) -> tuple[str, int]:
    """What is told of an error, and the exit status. All begin alike, but those that begin with a place in a file."""
    more = f"; see '{_help_of(arguments)}'"
    if isinstance(error, click.ClickException):
        return f"turnwright: {error.format_message().rstrip('.')}{more}", 2
    if isinstance(error, _WITH_PLACES):
        return str(error), error.exit_status
    return f"turnwright: {error}{more if isinstance(error, UsageError | UnknownNameError) else ''}", error.exit_status


def _help_of(arguments: list[str]) -> str:
    """The command that tells more of what was typed."""
    known = [each.name for each in COMMANDS]
    return f"turnwright {arguments[0]} --help" if arguments and arguments[0] in known else "turnwright --help"


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
