"""What is found wrong while a pack is read: one line each, safe to print, and never without end."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from typing import TypeAlias

from turnwright.bank.visibility import visible

# Names met so far: where there is one for each item, a dict takes a third of the memory of a set.
Seen: TypeAlias = dict[str, None]

MOST_FINDINGS = 200
LONGEST_QUOTE = 80


@lru_cache(maxsize=512)
def shown(text: str, longest: int = LONGEST_QUOTE) -> str:
    """``text`` on one line: what a terminal might act on is escaped, and what is too long is cut."""
    line = visible(text[:longest])
    return line if len(text) <= longest else f"{line}..."


class Findings:
    """The findings of one run in the order of finding; past ``most`` they are only counted."""

    def __init__(self, most: int = MOST_FINDINGS) -> None:
        self._most = most
        self._lines: list[str] = []
        self._count = 0

    def add(self, where: str, wrong: str) -> None:
        """Takes one finding about the member or place ``where``."""
        self._count += 1
        if self._count <= self._most:
            self._lines.append(f"{shown(where)}: {shown(wrong, 400)}" if where else shown(wrong, 400))

    def __len__(self) -> int:
        """How many were found, those included that are only counted."""
        return self._count

    def extend(self, where: str, wrongs: Iterable[str]) -> None:
        """Takes every finding of ``wrongs`` about the same place."""
        for wrong in wrongs:
            self.add(where, wrong)

    def lines(self) -> tuple[str, ...]:
        """All findings; the last line says how many more there were."""
        more = self._count - len(self._lines)
        if not more:
            return tuple(self._lines)
        return (*self._lines, f"and {more} more {'finding' if more == 1 else 'findings'}")
