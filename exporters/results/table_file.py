"""A plain CSV of answers, a line for each: ``candidate, item, response, score``, and what else is known of it.

Our own columns, in any order, under a line of their names; separated by commas, semicolons or tabs:

- ``candidate``: who answered; replaced by a pseudonym before anything else is done with it
- ``item``: identifier of the item in the pack; ``#3`` behind it for the third row of a template item
- ``response``: identifier of the option (several with a space between), or the number typed; empty for omitted.
  In an item of several parts ``RESPONSE_1=A RESPONSE_2=4.2``
- ``score``: marks that it earned
- ``form``, ``group``: form that was sat, group that is compared; may be left out
- ``duration``: seconds, or ISO 8601; ``time``: when it was answered, so that the last attempt counts; may be left out
- ``fingerprint``: that of the item in the manifest; may be left out
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from ...bank.analysis.rows import constant, frame, recoded
from ...bank.analysis.told import Ledger
from ..strangers.parsing import shown
from .cells import Columns, cells_of, columns
from .duration import seconds
from .encoding import Text
from .pseudonym import Pseudonyms
from .sources import Source

if TYPE_CHECKING:
    import pandas as pd


NEEDED = ("candidate", "item", "response", "score")
KNOWN = (*NEEDED, "form", "group", "duration", "time", "fingerprint")
DAMAGED = "damaged lines (another number of cells than the first line, or a quote that does not end)"
LATIN = "lines that are not UTF-8, read as Latin-1"
MIXED = "files in which lines of UTF-8 and of Latin-1 stand mixed"
NO_HEAD = "CSV files without the columns candidate, item, response and score in their first line"
MOST_COLUMNS = 1_000
TOO_WIDE = f"CSV files with more than {MOST_COLUMNS:,} columns"
UNUSED = "columns that are not used"
FORMULAS = "cells that a spreadsheet would run as a formula; they are taken as text"
FORMULA_SIGNS = ("=", "+", "-", "@")
TEXTS = {"item": "item", "response": "response", "form": "form", "group": "group", "time": "stamp",
         "fingerprint": "fingerprint"}  # fmt: skip


class TableFile:
    """One CSV file in the reading; ``damaged`` lines are those that can't be given to any candidate."""

    def __init__(self, source: Source, pseudonyms: Pseudonyms, ledger: Ledger) -> None:
        self._source, self._pseudonyms, self._ledger = source, pseudonyms, ledger
        self.damaged = 0

    def frames(self) -> Iterator[pd.DataFrame]:
        """The rows in blocks."""
        text = Text(self._source.pieces())
        names: list[str] = []
        delimiter = ","
        for number, block in text.blocks():
            if not names:
                head, _, body = block.partition(b"\n")
                delimiter = delimiter_of(head.decode())
                names = self._names(head.decode(), delimiter)
                if not names:
                    return
                numbers, cells = columns(body, number + 1, names, delimiter, self._damaged)
            else:
                numbers, cells = columns(block, number, names, delimiter, self._damaged)
            if len(numbers):
                yield self._frame(numbers, cells)
        self._tell_encoding(text)

    def _names(self, head: str, delimiter: str) -> list[str]:
        """The names of the columns, empty for one that is not used.

        There are none where a needed one is not there, or where they are too many, which is told.
        """
        if head.count(delimiter) >= MOST_COLUMNS:
            self._ledger.add(TOO_WIDE, [self._source.label])
            return []
        names = [each.strip().lower() for each in cells_of(head, delimiter)]
        if any(names.count(each) != 1 for each in NEEDED) or len(set(names)) < len(names):
            self._ledger.add(NO_HEAD, [f"{self._source.label} ({shown(head, 60)})"])
            return []
        names = [each if each in KNOWN else "" for each in names]
        odd = [number for number, each in enumerate(names, 1) if not each]
        self._ledger.add(UNUSED, (f"{self._source.label}, column {number}" for number in odd), len(odd), lost=False)
        return names

    def _damaged(self, number: int) -> None:
        self.damaged += 1
        self._ledger.add(DAMAGED, [f"{self._source.label} line {number}"])

    def _tell_encoding(self, text: Text) -> None:
        label = self._source.label
        if text.encoding != "utf-8":
            self._ledger.add(f"files read as {text.encoding.upper()}", [label], lost=False)
        self._ledger.add(LATIN, (f"{label} line {number}" for number in text.latin), text.odd, lost=False)
        if text.odd and text.mixed:
            self._ledger.add(MIXED, [label], lost=False)

    def _frame(self, numbers: NDArray[np.int64], cells: Columns) -> pd.DataFrame:
        self._tell_formulas(cells)
        made: dict[str, Any] = {
            "candidate": recoded(cells["candidate"], self._pseudonyms.of),
            "source": constant(self._source.label, len(numbers)),
            "place": numbers,
            "score": _values(cells["score"], number),
        }
        for name, ours in TEXTS.items():
            if name in cells:
                made[ours] = recoded(cells[name], str.strip)
        if "duration" in cells:
            made["duration"] = _values(cells["duration"], seconds)
        return frame(made)

    def _tell_formulas(self, cells: Columns) -> None:
        """Counts cells that begin like a formula; a number with a sign is none."""
        for name, column in cells.items():
            odd = np.array([name != "candidate" and is_formula(str(each)) for each in column.categories], bool)
            if odd.any():
                place = f"{self._source.label}, column {shown(name, 20)}"
                self._ledger.add(FORMULAS, [place], int(odd[column.codes].sum()), lost=False)


def delimiter_of(head: str) -> str:
    """What stands between the names of columns."""
    return max(",;\t", key=head.count)


def _values(cells: pd.Categorical, read: Callable[[str], float]) -> NDArray[np.float64]:
    """The numbers that are meant by texts."""
    known = np.array([read(str(each)) for each in cells.categories])
    return np.asarray(known[cells.codes], dtype=np.float64)


def number(text: str) -> float:
    """The number that is meant, NaN for none; a decimal comma is taken as a point."""
    try:
        found = float(text.strip().replace(",", "."))
    except ValueError:
        return math.nan
    return found if math.isfinite(found) else math.nan


def is_formula(text: str) -> bool:
    """Whether a spreadsheet would run a text that is meant as text."""
    return text.lstrip()[:1] in FORMULA_SIGNS and bool(text.strip()) and math.isnan(number(text))
