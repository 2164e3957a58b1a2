"""The versions that should have been raised since an earlier state of a bank."""

from __future__ import annotations

from collections.abc import Sequence

from ..errors import Fault
from ..model.problem import Problem
from .difference import compare
from .source import bank_of_problems, banks


def version_faults(old: str, problems: Sequence[Problem]) -> tuple[Fault, ...]:
    """A fault for each problem whose key, stem or limit changed since ``old`` while its version did not rise.

    Raises as ``banks`` does where ``old`` can't be read.
    """
    (before,) = banks(old)
    return tuple(each.fault for each in compare(before, bank_of_problems("now", problems)).unraised)
