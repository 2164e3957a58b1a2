"""The reader that proves a pack: it opens what was written, marks it, and shares no code with the writers."""

from __future__ import annotations

from ..strangers.archive import Limits
from .proving import prove
from .report import Agreed, Band, Edge, Report

__all__ = ["Agreed", "Band", "Edge", "Limits", "Report", "prove"]
