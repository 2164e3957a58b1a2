"""g unless a user says otherwise, alone in a module so that the command line need not load units for it."""

from __future__ import annotations

from decimal import Decimal

GRAVITY = Decimal("9.81")  # N/kg, in three figures, as many as most given quantities have; common practice, no source
