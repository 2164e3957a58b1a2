"""The reader that proves a pack: it opens what was written, marks it, and shares no code with the writers."""

from __future__ import annotations

from ..strangers.archive import Limits
from .early import EarlyProof, MadeMember, SeenItems
from .proving import prove
from .report import AcceptedBand, Agreed, Edge, Report

__all__ = ["AcceptedBand", "Agreed", "EarlyProof", "Edge", "Limits", "MadeMember", "Report", "SeenItems", "prove"]
