"""Answers as neutral rows, whatever file they came from: a table that pandas holds, its texts coded."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from turnwright.bank.analysis.told import Ledger

if TYPE_CHECKING:
    import pandas as pd

TEXTS = ("candidate", "item", "response", "form", "group", "stamp", "fingerprint", "source")
NUMBERS = ("score", "duration", "place")
COLUMNS = (*TEXTS, *NUMBERS)


@dataclass(frozen=True)
class Rows:
    """All answers, one a row. ``table`` has the columns of ``COLUMNS``: texts as categories, empty where not known.

    ``candidate`` is a pseudonym. An empty ``response`` is an omitted answer. ``score`` is NaN where a file gives none
    or one that is no number. ``source`` and ``place`` tell the file, and the line in it. ``unplaced``: some rows could
    not be read at all, so an answer that is absent may have been given.
    """

    table: pd.DataFrame
    ledger: Ledger
    unplaced: bool = False


def frame(columns: Mapping[str, Sequence[Any]]) -> pd.DataFrame:
    """A piece of the table; columns that are not given are empty."""
    import numpy as np
    import pandas as pd

    length = len(next(iter(columns.values()), ()))
    made: dict[str, Any] = {}
    for name in TEXTS:
        made[name] = _coded(columns[name]) if name in columns else pd.Categorical.from_codes([0] * length, [""])
    for name in NUMBERS:
        made[name] = np.asarray(columns[name], float) if name in columns else np.full(length, np.nan)
    return pd.DataFrame(made)


def _coded(texts: Sequence[str]) -> Any:
    import numpy as np
    import pandas as pd

    codes, known = pd.factorize(np.asarray(texts, dtype=object))
    return pd.Categorical.from_codes(codes, list(known))


def joined(pieces: Iterable[pd.DataFrame]) -> pd.DataFrame:
    """One table of several pieces, in their order."""
    import pandas as pd
    from pandas.api.types import union_categoricals

    parts = list(pieces)
    if not parts:
        return frame({})
    made: dict[str, Any] = {name: union_categoricals([part[name] for part in parts]) for name in TEXTS}
    made |= {name: pd.concat([part[name] for part in parts], ignore_index=True) for name in NUMBERS}
    return pd.DataFrame(made)
