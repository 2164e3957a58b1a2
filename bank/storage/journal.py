"""Several files of a folder as one step: what is to be moved is written down first, so that a later run can finish.

The list stands in the part folder of the run, beside the files. Once it is there, and flushed, the step is taken: who
is killed after that leaves the rest to the next run that writes into the folder, and who is killed before it leaves
all as it was. A file that somebody has changed since then is left as it is.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator, Sequence
from contextlib import suppress
from pathlib import Path

from ..errors import FileError
from .moving import flush_folder, move, settle
from .turns import Stood, stood, turn

NAME = "moves.json"
LARGEST = 1_000_000
_NO_LIST = (ValueError, TypeError, KeyError, RecursionError)


def note(part: Path, moves: Sequence[tuple[str, str, Stood]]) -> None:
    """Takes the step: leaves the list of moves, each a name in the part, one in its folder and what stands there.

    Raises OSError; then the step is not taken.
    """
    with (part / f"{NAME}.half").open("x", encoding="utf-8") as file:
        json.dump(list(moves), file)
        settle(file)
    (part / f"{NAME}.half").replace(part / NAME)
    flush_folder(part)


def withdraw(part: Path) -> None:
    """The step is not taken after all."""
    with suppress(OSError):
        (part / NAME).unlink(missing_ok=True)


def finish(part: Path) -> bool:
    """Makes the moves that a killed run has written down and not made; only those of our own user, in its folder.

    False where the part has to stay, since its list could not be carried out now: the system refused something, another
    run is at it, or the list is too large or another user's. True where nothing of it is left to do: there is no list,
    or it is none, or each move is made, or passed over because somebody has changed the file since then.
    """
    listed = part / NAME
    try:
        state = listed.lstat()
    except FileNotFoundError:
        return True
    except OSError:
        return False
    if state.st_size > LARGEST or (hasattr(os, "geteuid") and state.st_uid != os.geteuid()):
        return False
    try:
        moves = [(part / new, part.parent / name, before) for new, name, before in _listed(listed)]
        with turn([part.parent]):
            for new, place, before in moves:
                if new.is_file() and not new.is_symlink() and stood(place) == before:
                    move(new, place)
    except (OSError, FileError):
        return False
    except _NO_LIST:
        pass
    return True


def _listed(path: Path) -> Iterator[tuple[str, str, Stood]]:
    """The moves of a list that stay in its folder. Raises OSError, or one of ``_NO_LIST``."""
    for new, name, before in json.loads(path.read_text("utf-8")):
        if all(each == Path(each).name not in ("", "..") for each in (new, name)):
            yield new, name, tuple(before)
