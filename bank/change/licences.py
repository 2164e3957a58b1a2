"""Which licences go together in one bank.

What is said here is common practice for adapted material under Creative Commons licences (their published table of
which works may be combined, from memory), not legal advice.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import combinations

ADVICE = "common practice, not legal advice: ask the authors, or keep their questions in packs of their own"

# pairs of SPDX identifiers whose questions can't become one adapted work, with the reason
CLASHES: Mapping[frozenset[str], str] = {
    frozenset({"CC-BY-SA-4.0", "CC-BY-NC-4.0"}): "one must stay open to sale, the other forbids it",
    frozenset({"CC-BY-SA-4.0", "CC-BY-NC-SA-4.0"}): "each wants the whole under its own terms",
}
# what the whole has to keep where licences go together
TERMS: Mapping[str, str] = {
    "CC0-1.0": "no condition",
    "CC-BY-4.0": "name the authors",
    "CC-BY-SA-4.0": "name the authors, share adapted questions alike",
    "CC-BY-NC-4.0": "name the authors, no commercial use",
    "CC-BY-NC-SA-4.0": "name the authors, no commercial use, share adapted questions alike",
}


def clashes(licences: Sequence[str]) -> list[tuple[str, str, str]]:
    """(one, other, why) for each pair of the licences that does not go together."""
    pairs = (frozenset(pair) for pair in combinations(sorted(set(licences)), 2))
    return [(*sorted(pair), CLASHES[pair]) for pair in pairs if pair in CLASHES]  # type: ignore[misc]
