"""The reader that proves a pack: it opens what was written and marks it.

It shares no code with the writers but the sentences that tell how to answer, and the table of units.
"""

from __future__ import annotations

from ..strangers.archive import Limits
from .early import EarlyProof, MadeMember, SeenItems
from .proving import prove
from .report import AcceptedBand, Agreed, Edge, Report

__all__ = ["AcceptedBand", "Agreed", "EarlyProof", "Edge", "Limits", "MadeMember", "Report", "SeenItems", "prove"]
