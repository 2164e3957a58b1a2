"""What holds behind every door: an end in time, and messages that do no harm on a terminal."""

from __future__ import annotations

import time
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from turnwright.bank.errors import hidden_in

LONGEST_MESSAGE = 2000
HERE = Path(__file__).resolve().parent


@contextmanager
def within(seconds: float) -> Iterator[None]:
    """What is done inside warns of nothing, and takes so much processor time at most; a busy machine does not count."""
    start = time.process_time()
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        yield
    spent = time.process_time() - start
    assert spent <= seconds, f"took {spent:.1f} s, at most {seconds} s are given"


def is_harmless(message: str) -> bool:
    """Whether a message is one line without what a terminal might act on, and no longer than somebody would read."""
    return 0 < len(message) <= LONGEST_MESSAGE and not hidden_in(message) and "\n" not in message


def kept(target: str) -> Iterator[tuple[str, bytes]]:
    """The inputs of the corpus and of what was found for one target, by name; of a ``lines.txt`` each line is one."""
    for path in sorted(path for folder in ("corpus", "found") for path in (HERE / folder / target).glob("*")):
        data = path.read_bytes()
        if path.name == "lines.txt":
            yield from ((f"{path.name}:{number}", line) for number, line in enumerate(data.splitlines(), 1))
        else:
            yield str(path.relative_to(HERE)), data
