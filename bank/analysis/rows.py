"""Answers as neutral rows, whatever file they came from: a table that pandas holds, its texts coded."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from .told import Ledger

if TYPE_CHECKING:
    import pandas as pd


TEXTS = ("candidate", "item", "response", "form", "group", "stamp", "fingerprint", "correct", "source")
NUMBERS = ("score", "duration", "place")
COLUMNS = (*TEXTS, *NUMBERS)


@dataclass(frozen=True)
class Rows:
    """All answers, one a row. ``table`` has the columns of ``COLUMNS``: texts as categories, empty where not known.

    ``candidate`` is a pseudonym. An empty ``response`` is an omitted answer. ``score`` is NaN where a file gives none
    or one that is no number. ``source`` and ``place`` tell the file, and the line in it; ``correct`` is the right
    answer as the platform has it. ``unplaced``: some rows could not be read at all, so an answer that is absent may
    have been given.
    """

    table: pd.DataFrame
    ledger: Ledger
    unplaced: bool = False


def frame(columns: Mapping[str, Any]) -> pd.DataFrame:
    """A piece of the table; columns that are not given are empty. Texts may come as lists or coded already."""
    import numpy as np
    import pandas as pd

    length = len(next(iter(columns.values()), ()))
    made: dict[str, Any] = {}
    for name in TEXTS:
        made[name] = coded(columns[name]) if name in columns else constant("", length)
    for name in NUMBERS:
        made[name] = np.asarray(columns[name], float) if name in columns else np.full(length, np.nan)
    return pd.DataFrame(made, copy=False)


def constant(text: str, length: int) -> pd.Categorical:
    """The same text in every row."""
    import numpy as np

    return _of(np.zeros(length, np.int8), [text])


def coded(texts: Any) -> pd.Categorical:
    """Texts as categories."""
    import numpy as np
    import pandas as pd

    if isinstance(texts, pd.Categorical):
        return texts
    codes, known = pd.factorize(np.asarray(list(texts), dtype=object))
    return _of(codes, known)


def _of(codes: Any, known: Iterable[str]) -> pd.Categorical:
    """Texts by their codes."""
    import pandas as pd

    made: pd.Categorical = pd.Categorical.from_codes(codes, pd.Index(list(known), dtype=object))
    return made


def recoded(texts: pd.Categorical, change: Callable[[str], str]) -> pd.Categorical:
    """The same column with each of its texts changed; texts that become one are one."""
    import numpy as np
    import pandas as pd

    codes, known = pd.factorize(np.asarray([change(str(each)) for each in texts.categories], dtype=object))
    codes = codes.astype(np.int32)
    return _of(codes[texts.codes], known)


def joined(pieces: Iterable[pd.DataFrame]) -> pd.DataFrame:
    """One table of several pieces, in their order."""
    import pandas as pd
    from pandas.api.types import union_categoricals

    parts = list(pieces)
    if len(parts) < 2:
        return parts[0] if parts else frame({})
    made: dict[str, Any] = {name: union_categoricals([part[name] for part in parts]) for name in TEXTS}
    made |= {name: pd.concat([part[name] for part in parts], ignore_index=True) for name in NUMBERS}
    return pd.DataFrame(made)
