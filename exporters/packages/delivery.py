"""What a user decides about how a pack is carried, where the formats leave a choice."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

Mathematics: TypeAlias = Literal["mathml", "html"]
Figures: TypeAlias = Literal["svg", "png"]
Variants: TypeAlias = Literal["static", "table", "computed"]
Numbers: TypeAlias = Literal["strings", "choice", "working"]


@dataclass(frozen=True)
class Delivery:
    """Formulas as MathML or as plain HTML; drawings as SVG, or as PNG for systems that refuse SVG.

    ``variants``: an item for each, from which the test draws; or one template item a scene that holds a ``table`` of
    them, or that has the platform compute the key. ``numbers``: what becomes of a number entry where a format has no
    tolerance: the strings that a right answer may take, a choice question, or the working, which a person marks.
    """

    mathematics: Mathematics = "mathml"
    figures: Figures = "svg"
    variants: Variants = "static"
    numbers: Numbers = "strings"


PLAIN = Delivery()
