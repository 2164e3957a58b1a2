"""What changed between two banks, told by meaning, and two banks put into one folder.

>>> from turnwright.bank import change
>>> old, new = change.banks("v1", "v2")             # doctest: +SKIP
>>> change.compare(old, new).unraised            # doctest: +SKIP

Names are loaded on first use, so that ``turnwright --help`` does not wait for SymPy.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from .difference import Difference, compare
    from .merging import Merged, merge
    from .source import Bank, banks
    from .writing import write_folder


_HOMES = {
    "Bank": "source",
    "Difference": "difference",
    "Merged": "merging",
    "banks": "source",
    "compare": "difference",
    "merge": "merging",
    "write_folder": "writing",
}

__all__ = ["Bank", "Difference", "Merged", "banks", "compare", "merge", "write_folder"]


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
