"""What a question meets in somebody's curriculum, as its problem file says."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Alignment:
    """One standard of a curriculum framework: its label, its plain ``code``, its identifier in CASE; one may be empty.

    CASE (Competencies and Academic Standards Exchange) names a standard by a UUID, or by a web address that ends in it.
    """

    framework: str
    label: str
    code: str = ""
    case: str = ""

    @property
    def guid(self) -> str:
        """The UUID in CASE, or nothing."""
        return self.case.rpartition("/")[2].lower()

    @property
    def address(self) -> str:
        """Where CASE publishes the standard, where that is known."""
        return self.case if "/" in self.case else ""
