"""What keeps a wrong number in the world of its scene, so that it may be an option: nobody sees 42 m on a stage.

A number that lies outside is still known when it is typed.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from ..model.problem import QuantitySpec
from ..quantities.units import unit

ALLOWANCE: Final = 5.0  # times the ends of what is plausible: a wrong answer may be odd, not absurd (house limit)
SPEED_OF_LIGHT: Final = 299_792_458.0  # m/s, exact by the definition of the metre


def within_world(asked: QuantitySpec, values: NDArray[np.float64]) -> NDArray[np.float64]:
    """Numbers in the unit of the asked quantity, of any shape; nan where the scene could not show such a one."""
    with np.errstate(invalid="ignore"):
        seen = _is_near_the_plausible(asked, values) & ((values > 0) | (not asked.positive))
        if asked.unit.dimension == unit("m/s").dimension:
            seen &= np.abs(values) * asked.unit.factor <= SPEED_OF_LIGHT
    return np.where(seen, values, np.nan)


def _is_near_the_plausible(asked: QuantitySpec, values: NDArray[np.float64]) -> NDArray[np.bool_]:
    if asked.plausible is None:
        return np.isfinite(values)
    low, high = map(float, asked.plausible)
    least = low / ALLOWANCE if low > 0 else low * ALLOWANCE
    most = high * ALLOWANCE if high > 0 else high / ALLOWANCE
    return (values >= least) & (values <= most)
