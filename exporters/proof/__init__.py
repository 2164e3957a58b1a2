"""The reader that proves a pack: it opens what was written, marks it, and shares no code with the writers."""

from turnwright.exporters.proof.agreed import Agreed
from turnwright.exporters.proof.archive import Limits
from turnwright.exporters.proof.proving import prove
from turnwright.exporters.proof.report import Band, Edge, Report

__all__ = ["Agreed", "Band", "Edge", "Limits", "Report", "prove"]
