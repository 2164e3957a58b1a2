"""What was agreed on for a pack before it was written, beside its items."""

from __future__ import annotations

from dataclasses import dataclass

from turnwright.bank.sitting import Sitting
from turnwright.exporters.delivery import PLAIN, Delivery


@dataclass(frozen=True)
class Agreed:
    """Under what rules candidates sit, in what form formulas and drawings reach them, and what g they are told.

    ``gravity`` is as the pack's instructions say it ("9.8 N/kg"), empty where they need not say any.
    """

    sitting: Sitting
    delivery: Delivery = PLAIN
    gravity: str = ""
