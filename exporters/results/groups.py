"""The groups of candidates from a file of their own: a CSV with the columns candidate and group."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from ...bank.analysis.rows import Rows
from ...bank.errors import FileError
from .cells import cells_of
from .encoding import Text
from .pseudonym import Pseudonyms
from .sources import LIMITS
from .table_file import MOST_COLUMNS, delimiter_of

STRANGE = "candidates of the group file who are not in the results"
_RIGHT = "give a CSV with the columns candidate and group"


def with_groups(rows: Rows, path: Path, pseudonyms: Pseudonyms) -> Rows:
    """The rows with the group of each candidate by that file. Raises FileError."""
    import pandas as pd

    groups = _read(path, pseudonyms)
    known = rows.table["candidate"].cat.categories
    rows.ledger.add(STRANGE, [path.name], len(groups.keys() - set(known)), lost=False)
    named = pd.Categorical([groups.get(str(each), "") for each in known])
    codes = named.codes[rows.table["candidate"].cat.codes.to_numpy()]
    return replace(rows, table=rows.table.assign(group=pd.Categorical.from_codes(codes, named.categories)))


def _read(path: Path, pseudonyms: Pseudonyms) -> dict[str, str]:
    try:
        size = path.stat().st_size
        data = path.read_bytes() if size <= LIMITS.document else b""
    except OSError as error:
        raise FileError(str(path), f"can't be read ({error.strerror})", _RIGHT) from None
    lines = [line for _, block in Text([data]).blocks() for line in block.decode().split("\n") if line]
    head = lines[0] if lines else ""
    delimiter = delimiter_of(head)
    is_wide = head.count(delimiter) >= MOST_COLUMNS
    table = [] if is_wide else [cells_of(line, delimiter) for line in lines]
    names = [each.strip().lower() for each in table[0]] if table else []
    if size > LIMITS.document or "candidate" not in names or "group" not in names:
        raise FileError(str(path), "it has no columns candidate and group", _RIGHT)
    who, which = names.index("candidate"), names.index("group")
    whole = (row for row in table[1:] if len(row) == len(names))
    return {pseudonyms.of(row[who]): row[which].strip() for row in whole}
