"""Blocks of lines of a CSV to coded columns: damaged lines are found by counting, sound ones go to pandas together."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
from numpy.typing import NDArray

from ...bank.analysis.rows import coded

if TYPE_CHECKING:
    import pandas as pd


Columns: TypeAlias = "dict[str, pd.Categorical]"

LINE_FEED, QUOTE = 10, b'"'


def columns(
    block: bytes, first: int, names: Sequence[str], delimiter: str, damaged: Callable[[int], None]
) -> tuple[NDArray[np.int64], Columns]:
    """The numbers of the sound lines of a block, shape (lines,), and their cells by column.

    A column whose name is empty is counted and not read. ``damaged`` takes the numbers of the other lines.
    """
    if QUOTE in block:
        return _one_by_one(block, first, names, delimiter, damaged)
    block, numbers = _sound(block, first, len(names), delimiter, damaged)
    return numbers, _together(block, names, delimiter)


def _together(block: bytes, names: Sequence[str], delimiter: str) -> Columns:
    """The columns of a block of sound lines without quotes."""
    import pandas as pd

    wanted = [place for place, name in enumerate(names) if name]
    if not block:
        return {names[place]: coded([]) for place in wanted}
    read = pd.read_csv(
        io.BytesIO(block),
        sep=delimiter,
        header=None,
        names=range(len(names)),
        usecols=wanted,
        dtype="category",
        na_filter=False,
        quoting=csv.QUOTE_NONE,
        skip_blank_lines=False,
        low_memory=False,
    )
    return {names[place]: read[place].array for place in wanted}


def _sound(
    block: bytes, first: int, width: int, delimiter: str, damaged: Callable[[int], None]
) -> tuple[bytes, NDArray[np.int64]]:
    """The block without the lines that have another number of cells, and without empty ones."""
    letters = np.frombuffer(block, np.uint8)
    ends = np.flatnonzero(letters == LINE_FEED)
    marks = np.flatnonzero(letters == ord(delimiter))
    starts = np.concatenate(([0], ends[:-1] + 1))
    numbers = first + np.arange(len(ends))
    if len(marks) == len(ends) * (width - 1):
        table = marks.reshape(len(ends), width - 1)
        if (table[:, 0] >= starts).all() and (table[:, -1] < ends).all():
            return block, numbers
    wrong = np.diff(np.searchsorted(marks, ends), prepend=0) != width - 1
    for place in np.flatnonzero(wrong):
        if block[starts[place] : ends[place]].strip():
            damaged(int(numbers[place]))
    kept = [block[starts[place] : ends[place] + 1] for place in np.flatnonzero(~wrong)]
    return b"".join(kept), numbers[~wrong]


def _one_by_one(
    block: bytes, first: int, names: Sequence[str], delimiter: str, damaged: Callable[[int], None]
) -> tuple[NDArray[np.int64], Columns]:
    """The same for a block with quotes, line by line. A cell never holds an end of line, so each line stands alone."""
    kept, numbers = [], []
    for number, line in enumerate(block.decode().split("\n")[:-1], first):
        cells = cells_of(line, delimiter)
        if len(cells) == len(names):
            kept.append(cells)
            numbers.append(number)
        elif line.strip():
            damaged(number)
    by_column = zip(*kept, strict=True) if kept else ((),) * len(names)
    read = {name: coded(each) for name, each in zip(names, by_column, strict=True) if name}
    return np.array(numbers, np.int64), read


def cells_of(line: str, delimiter: str) -> list[str]:
    """The cells of a line; none where a quote does not end, or a cell does not for very long."""
    try:
        return next(csv.reader([line], delimiter=delimiter, strict=True), [])
    except csv.Error:
        return []
