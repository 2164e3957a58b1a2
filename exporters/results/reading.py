"""All result files of a command into neutral rows, file by file: only the rows are kept, never a file or a name."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ...bank.analysis.rows import Rows, frame, joined
from ...bank.analysis.told import Ledger
from ...bank.errors import FileError
from ..strangers.archive import MemberError
from ..strangers.parsing import DocumentError
from .pseudonym import Pseudonyms
from .report_file import read_report
from .sources import UNREAD, Source, sources
from .table_file import TableFile

if TYPE_CHECKING:
    import pandas as pd


BATCH = 50_000
NAMELESS = "results without a candidate; each file is taken as a candidate of its own"


def read_results(
    paths: Sequence[Path], pseudonyms: Pseudonyms, done: Callable[[int], None] = lambda steps: None
) -> Rows:
    """The rows of all files. Raises FileError where a path leads to nothing, or no file holds a row.

    What can't be read is told in the ledger of the rows; ``done`` is called with 1 after each file.
    """
    reading = _Reading(pseudonyms, done)
    table = joined(reading.frames(paths))
    if not len(table):
        told = "; ".join(map(str, reading.ledger.notes())) or "they are empty"
        raise FileError(", ".join(map(str, paths)), f"no answer could be read ({told})", "give results of a sitting")
    return Rows(table, reading.ledger, reading.unplaced)


class _Reading:
    """One run over files."""

    def __init__(self, pseudonyms: Pseudonyms, done: Callable[[int], None]) -> None:
        self._pseudonyms, self._done = pseudonyms, done
        self.ledger = Ledger()
        self.unplaced = False
        self._waiting: list[dict[str, Any]] = []

    def frames(self, paths: Sequence[Path]) -> Iterator[pd.DataFrame]:
        for source in sources(paths, self.ledger):
            if source.kind == "csv":
                yield from self._table(source)
            else:
                self._report(source)
                if len(self._waiting) >= BATCH:
                    yield self._batch()
            self._done(1)
        if self._waiting:
            yield self._batch()

    def _table(self, source: Source) -> Iterator[pd.DataFrame]:
        file = TableFile(source, self._pseudonyms, self.ledger)
        try:
            yield from file.frames()
        except (MemberError, OSError) as error:
            self.ledger.add(f"{UNREAD}: {error}", [source.label])
            self.unplaced = True
        self.unplaced = self.unplaced or file.damaged > 0

    def _report(self, source: Source) -> None:
        try:
            found = list(read_report(source.pieces()))
        except (DocumentError, MemberError, OSError) as error:
            self.ledger.add(f"{UNREAD}: {error}", [source.label])
            return
        if found and not found[0]["candidate"]:
            self.ledger.add(NAMELESS, [source.label], lost=False)
        for number, each in enumerate(found, 1):
            who = self._pseudonyms.of(str(each["candidate"]) or source.label)
            self._waiting.append({**each, "candidate": who, "source": source.label, "place": float(number)})

    def _batch(self) -> pd.DataFrame:
        rows, self._waiting = self._waiting, []
        return frame({name: [each[name] for each in rows] for name in rows[0]})
