"""What words tell of a match to who does no physics: the same place on the circle, words that few situations have.

The rules are ours, after readers who found pairs by "at the bottom" and "banked" alone.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from functools import cache, lru_cache
from itertools import count, permutations
from math import fsum

from .situations import ToldStory

ROWS = 3
COLUMNS = 4
CHANCE = ROWS / COLUMNS  # rows that who guesses finds
MOST_FOUND = 1.0  # rows that may be found: that chance is met exactly is too much to ask of a single match

_FREE_BITS = count()
_WAYS = tuple(permutations(range(COLUMNS), ROWS))


def singled_out(rows: Sequence[ToldStory], columns: Sequence[ToldStory]) -> int:
    """How many marks a row shares with its column, the one of its number, and with no other column."""
    return sum(map(_shared_alone(rows, columns), range(len(rows)), range(len(rows))))


def singling(seats: Sequence[ToldStory], seat: int) -> Callable[[ToldStory], int]:
    """``singled_out`` of the rows and then their columns in these seats, with another story in one of the seats."""
    bits = [_bits(each.marks) for each in seats]
    rows, columns = bits[:ROWS], bits[ROWS:]
    if seat < ROWS:
        several, _ = _several(columns)
        own = [row & column & ~several for row, column in zip(rows, columns[:ROWS], strict=True)]
        of_others = sum(each.bit_count() for place, each in enumerate(own) if place != seat)
        alone = columns[seat] & ~several
        return lambda story: of_others + (_bits(story.marks) & alone).bit_count()
    changed = seat - ROWS
    several, once = _several([each for place, each in enumerate(columns) if place != changed])
    shared = [rows[place] & columns[place] & ~several for place in range(ROWS) if place != changed]
    alone = rows[changed] & ~once if changed < ROWS else 0

    def told(story: ToldStory) -> int:
        marks = _bits(story.marks)
        return (alone & marks).bit_count() + sum((each & ~marks).bit_count() for each in shared)

    return told


def misled(rows: Sequence[ToldStory], columns: Sequence[ToldStory]) -> int:
    """How many rows share a mark with one column alone that is not theirs."""
    alone = _shared_alone(rows, columns)
    return sum(any(alone(row, other) for other in range(len(columns)) if other != row) for row in range(len(rows)))


def _shared_alone(rows: Sequence[ToldStory], columns: Sequence[ToldStory]) -> Callable[[int, int], int]:
    """Tells how many marks a row, by its number, shares with a column and with no other column."""
    of_rows, of_columns = ([_bits(each.marks) for each in side] for side in (rows, columns))
    several, _ = _several(of_columns)
    return lambda row, column: (of_rows[row] & of_columns[column] & ~several).bit_count()


def _several(columns: Sequence[int]) -> tuple[int, int]:
    """The marks that several of the columns have, and those that any has."""
    several = once = 0
    for each in columns:
        several |= once & each
        once |= each
    return several, once


@lru_cache(maxsize=4096)
def _bits(marks: frozenset[str]) -> int:
    """The marks as bits of a number, which are compared in no time."""
    return sum(1 << _bit(each) for each in marks)


@cache
def _bit(mark: str) -> int:
    """A bit of its own for each mark."""
    return next(_FREE_BITS)


def told_by_places(rows: Sequence[ToldStory], columns: Sequence[ToldStory]) -> float:
    """What places tell: rows that they single out or that stand alone, and rows found by them above MOST_FOUND.

    A row is at the place of two columns, or of one that is not its own. A column that is left over and at a place of
    its own is struck out at once, which counts as one more.
    """
    return _told_by_places(tuple(each.place for each in rows), tuple(each.place for each in columns))


@lru_cache(maxsize=1024)
def _told_by_places(rows: tuple[str, ...], columns: tuple[str, ...]) -> float:
    here = [[other for other, column in enumerate(columns) if column == row] for row in rows]
    singled = sum(each in ([], [at]) for at, each in enumerate(here))
    struck_out = columns[-1] not in (*rows, *columns[:-1])
    found = sum(_found([[float(row == column) for column in columns] for row in rows]))
    return singled + struck_out + max(0.0, found - MOST_FOUND)


def guesses(rows: Sequence[ToldStory], columns: Sequence[ToldStory]) -> tuple[float, ...]:
    """The numbers of rows that are found by places, by all words, by rare words, and by places and then rare words.

    Who compares takes each column once at most, in the way in which most is alike, and guesses where several ways are.
    """
    among = Counter(mark for each in columns for mark in each.marks)
    rarity = {mark: 1 / number for mark, number in among.items() if number < COLUMNS}

    def in_place(row: ToldStory, column: ToldStory) -> float:
        return float(row.place == column.place)

    def in_words(row: ToldStory, column: ToldStory) -> float:
        return len(row.marks & column.marks) / len(row.marks | column.marks)

    def in_rare_words(row: ToldStory, column: ToldStory) -> float:
        return fsum(rarity.get(each, 0) for each in row.marks & column.marks)

    def in_both(row: ToldStory, column: ToldStory) -> float:
        return 1000 * in_place(row, column) + in_rare_words(row, column)

    def found(likeness: Callable[[ToldStory, ToldStory], float]) -> float:
        return sum(_found([[likeness(row, column) for column in columns] for row in rows]))

    return tuple(map(found, (in_place, in_words, in_rare_words, in_both)))


def _found(likeness: Sequence[Sequence[float]]) -> tuple[float, ...]:
    """How likely each row is got right by who takes the likest columns together; ``likeness`` is rows x columns."""
    sums = [round(fsum(likeness[row][column] for row, column in enumerate(way)), 9) for way in _WAYS]
    best = [way for way, each in zip(_WAYS, sums, strict=True) if each == max(sums)]
    return tuple(sum(way[row] == row for way in best) / len(best) for row in range(ROWS))
