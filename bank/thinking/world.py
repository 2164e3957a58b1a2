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
ALLOWANCE_OF_ANGLE: Final = 2.0  # an angle is seen in the story: no road is banked at 86°
SPEED_OF_LIGHT: Final = 299_792_458.0  # m/s, exact by the definition of the metre


def within_world(asked: QuantitySpec, values: NDArray[np.float64]) -> NDArray[np.float64]:
    """Numbers in the unit of the asked quantity, of any shape; nan where the scene could not show such a one."""
    with np.errstate(invalid="ignore"):
        seen = _is_near_the_plausible(asked, values) & ((values > 0) | (not asked.positive))
        if asked.unit.dimension == unit("m/s").dimension:
            seen &= np.abs(values) * asked.unit.factor <= SPEED_OF_LIGHT
    return np.where(seen, values, np.nan)


def allowance(asked: QuantitySpec) -> float:
    """How many times what is plausible a wrong option may be."""
    return ALLOWANCE_OF_ANGLE if asked.unit.symbol in ("deg", "rad") else ALLOWANCE


def _is_near_the_plausible(asked: QuantitySpec, values: NDArray[np.float64]) -> NDArray[np.bool_]:
    if asked.plausible is None:
        return np.isfinite(values)
    low, high = map(float, asked.plausible)
    times = allowance(asked)
    least = low / times if low > 0 else low * times
    most = high * times if high > 0 else high / times
    return (values >= least) & (values <= most)
