"""Where the keys of many choices stand among their options, and how often the key is the longest of them.

Both are rules of Haladyna, Downing, Rodriguez, Appl. Meas. Educ. 15, 309 (2002); their limits are ours.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from ..item.item import ChoiceEntry, Item
from .option_quality import is_words, shown

UNEVEN = 0.05  # probability of such places of the key, or of less even ones, if all were equally likely
ENOUGH = 40  # questions below which places of keys are not judged


@dataclass
class KeyPlaces:
    """Where the keys of a bank's choices stand, and how often the key is the longest option."""

    places: dict[tuple[str, int], Counter[int]] = field(default_factory=dict)
    longest: Counter[bool] = field(default_factory=Counter)

    def add(self, item: Item) -> None:
        """Count the choices of an item."""
        for entry in item.entries:
            if isinstance(entry, ChoiceEntry) and not entry.several:
                place = next(number for number, option in enumerate(entry.options) if option.right)
                of = (item.metadata.kind, len(entry.options))
                self.places.setdefault(of, Counter())[place] += 1
                if all(map(is_words, entry.options)):
                    lengths = [len(shown(each)) for each in entry.options]
                    self.longest[lengths[place] == max(lengths) and lengths.count(max(lengths)) == 1] += 1

    def add_all(self, others: KeyPlaces) -> None:
        """Count what others counted."""
        for of, found in others.places.items():
            self.places.setdefault(of, Counter()).update(found)
        self.longest.update(others.longest)

    def told(self) -> Iterator[str]:
        """What is uneven over all of them; no one file can mend it."""
        for (kind, options), found in sorted(self.places.items()):
            counts = [found[place] for place in range(options)]
            if kind == "choice" and _is_uneven(counts):
                yield f"of {options} options, the key stands in each place so often: {', '.join(map(str, counts))}"
        known = sum(self.longest.values())
        if known >= ENOUGH and self.longest[True] > known / 3:
            yield f"the key is the longest option in {self.longest[True]} of {known}"


def _is_uneven(counts: Sequence[int]) -> bool:
    """Whether there are enough keys to say that chance alone seldom spreads them so, by Pearson's test."""
    if sum(counts) < ENOUGH:
        return False
    from scipy.stats import chisquare  # takes long to load, and a single file seldom has so many keys

    return bool(chisquare(counts).pvalue < UNEVEN)
