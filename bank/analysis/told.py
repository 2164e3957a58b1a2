"""What was set aside while results were read, counted and with places, so that nothing goes silently."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

MOST_PLACES = 5


@dataclass(frozen=True)
class AnalysisNote:
    """One kind of thing that was met: ``what`` in words, how often, and the first places.

    ``lost`` says whether rows were left out for it.
    """

    what: str
    count: int
    places: tuple[str, ...]
    lost: bool

    def __str__(self) -> str:
        where = ", ".join(self.places) + (", ..." if self.count > len(self.places) else "")
        return f"{self.what}: {self.count}" + (f" ({where})" if self.places else "")


@dataclass
class Ledger:
    """Notes in the making, in the order in which each kind was first met."""

    _counts: dict[tuple[str, bool], int] = field(default_factory=dict)
    _places: dict[tuple[str, bool], list[str]] = field(default_factory=dict)

    def add(self, what: str, places: Iterable[str] = (), count: int = 1, *, lost: bool = True) -> None:
        """Takes ``count`` of one kind, with as many of their places as are kept."""
        if count <= 0:
            return
        kind = what, lost
        self._counts[kind] = self._counts.get(kind, 0) + count
        kept = self._places.setdefault(kind, [])
        for place in places:
            if len(kept) >= MOST_PLACES:
                break
            if place not in kept:
                kept.append(place)

    def notes(self) -> tuple[AnalysisNote, ...]:
        """All kinds so far."""
        return tuple(
            AnalysisNote(what, count, tuple(self._places[what, lost]), lost)
            for (what, lost), count in self._counts.items()
        )

    @property
    def lost(self) -> int:
        """How many rows were left out."""
        return sum(count for (_, lost), count in self._counts.items() if lost)
