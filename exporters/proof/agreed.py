"""What was agreed on for a pack before it was written, beside its items."""

from __future__ import annotations

from dataclasses import dataclass

from turnwright.bank.sitting import Sitting
from turnwright.exporters.delivery import PLAIN, Delivery


@dataclass(frozen=True)
class Agreed:
    """Under what rules candidates sit, and in what form formulas and drawings reach them."""

    sitting: Sitting
    delivery: Delivery = PLAIN
