"""When two scores are the same, and when a number lies within its bounds: one answer for all figures."""

from __future__ import annotations

from typing import Any

import numpy as np

ROUNDING = 0.01  # marks: shares of a mark are told with two decimals by many, and the last may be cut
NOISE = 1e-9  # of the size of a number, or marks: what doubles leave of a bound


def reaches(scores: Any, marks: Any) -> Any:
    """Which scores are these marks or more, rounding apart; NaN is none."""
    return scores >= marks - (ROUNDING + NOISE)


def exceeds(scores: Any, marks: Any) -> Any:
    """Which scores are more than these marks, rounding apart; NaN is none."""
    return scores > marks + (ROUNDING + NOISE)


def differs(scores: Any, others: Any) -> Any:
    """Which scores are others than these, rounding apart; NaN is none."""
    return exceeds(np.abs(scores - others), 0)


def is_within(value: float, middle: float, width: float = 0.0) -> bool:
    """Whether a number is as near to another as ``width``, in the unit of all three."""
    return abs(value - middle) <= width + NOISE * abs(middle)
