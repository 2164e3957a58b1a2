"""British or American spelling, and the unit of g: a choice of the department's, made on finished items.

Bank and sentences are written in British spelling, with g in N/kg. An item is changed as a whole, so that stem,
options, feedback, solution and drawings agree.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields, is_dataclass, replace
from types import MappingProxyType
from typing import Any, Literal, TypeAlias, TypeVar, cast

from .computation import Computation
from .formula import UnitNode
from .item import Given, Words

Spelling: TypeAlias = Literal["en-GB", "en-US"]
FieldUnit: TypeAlias = Literal["N/kg", "m/s²"]
Value = TypeVar("Value")

# British stems and their American forms, by the common practice of both (no source); longer ones first
AMERICAN: Mapping[str, str] = MappingProxyType(
    {
        "aeroplane": "airplane", "acknowledgement": "acknowledgment", "analyse": "analyze", "armour": "armor",
        "artefact": "artifact", "behaviour": "behavior", "cancelled": "canceled", "cancelling": "canceling",
        "catalogue": "catalog", "centre": "center", "centring": "centering", "colour": "color", "defence": "defense",
        "favour": "favor", "fibre": "fiber", "grey": "gray", "harbour": "harbor", "judgement": "judgment",
        "kerb": "curb", "labelled": "labeled", "labelling": "labeling", "litre": "liter", "manoeuvre": "maneuver",
        "metre": "meter", "modelled": "modeled", "modelling": "modeling", "mould": "mold", "neighbour": "neighbor",
        "organise": "organize", "pedalled": "pedaled", "pedalling": "pedaling",
        "plough": "plow", "programme": "program",
        "recognise": "recognize", "sceptic": "skeptic", "signalled": "signaled", "theatre": "theater",
        "towards": "toward", "traveller": "traveler", "travelled": "traveled", "travelling": "traveling",
        "tyre": "tire", "vapour": "vapor", "yoghurt": "yogurt",
    }
)  # fmt: skip
_BRITISH = re.compile("|".join(sorted(AMERICAN, key=len, reverse=True)), re.IGNORECASE)
TOLD = frozenset({"feedback", "heading", "name", "title", "alternative", "more", "caution", "content"})


@dataclass(frozen=True)
class HouseStyle:
    """How a department writes."""

    spelling: Spelling = "en-GB"
    field_unit: FieldUnit = "N/kg"

    def words(self, text: str) -> str:
        """Words in this spelling, and g in its unit where they tell it."""
        spelled = _BRITISH.sub(_american, text) if self.spelling == "en-US" else text
        return spelled.replace("N/kg", self.field_unit)

    def changed(self, value: Value) -> Value:
        """An item, or a part of one, in this style."""
        return cast("Value", self._changed(value))

    def _changed(self, value: Any) -> Any:
        if isinstance(value, tuple):
            return tuple(map(self._changed, value))
        if not is_dataclass(value) or isinstance(value, type | Computation):
            return value
        if isinstance(value, Words):
            return Words(self.words(value.text))
        if isinstance(value, UnitNode):
            return UnitNode(self._unit(value.text))
        if isinstance(value, Given):
            return replace(value, unit=self._unit(value.unit))
        return replace(
            value, **{each.name: self._field(each.name, getattr(value, each.name)) for each in fields(value)}
        )

    def _field(self, name: str, value: Any) -> Any:
        if name == "unit":
            return self._unit(value)
        if isinstance(value, str):
            return self.words(value) if name in TOLD else value
        return self._later(value) if callable(value) and not is_dataclass(value) else self._changed(value)

    def _later(self, make: Callable[[], Any]) -> Callable[[], Any]:
        return lambda: self._changed(make())

    def _unit(self, unit: str) -> str:
        return self.field_unit if unit == "N/kg" else unit


def _american(found: re.Match[str]) -> str:
    """The American form, with a capital where there was one."""
    form = AMERICAN[found[0].lower()]
    return form.capitalize() if found[0][0].isupper() else form


BRITISH = HouseStyle()
