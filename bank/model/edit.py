"""Edits: what a mistake changes in a question, a class for each."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any, ClassVar, Literal, TypeAlias

import sympy

from ..quantities.units import unit
from .expression import Relation, parse, parse_relation

NamedForce: TypeAlias = Literal["weight", "friction"]
Dropped: TypeAlias = NamedForce | Literal["outward-tension"]
TURNS = "turns"  # r/min divided by 60, without the 2π
RADIANS = "radians"  # r/min times 2π, without the 60


@dataclass(frozen=True)
class Formula:
    """A formula as it is written, and what it says."""

    written: str | float
    value: sympy.Expr

    @classmethod
    def of(cls, written: str | float) -> Formula:
        """The formula that is written. Raises ExpressionError."""
        return cls(written, parse(str(written)))


class Edit:
    """What a mistake changes; ``name`` is the field of the catalogue that says so."""

    name: ClassVar[str]

    def __init_subclass__(cls, name: str = "") -> None:
        super().__init_subclass__()
        if name:
            cls.name = name
            EDITS[name] = cls

    @classmethod
    def of(cls, argument: Any) -> Edit:
        """The edit from its argument in the catalogue, which has the right shape. Raises ExpressionError."""
        return cls(argument)  # type: ignore[call-arg]

    @property
    def argument(self) -> Any:
        """Its argument as the catalogue writes it."""
        (argument,) = vars(self).values()
        return argument.written if isinstance(argument, Formula) else argument


EDITS: dict[str, type[Edit]] = {}


def edit_of(name: str, argument: Any) -> Edit:
    """The edit that the catalogue writes as ``name: argument``. Raises ExpressionError."""
    return EDITS[name].of(argument)


class NumericEdit(Edit):
    """An edit that leads to a wrong number; each but ``UnitEdit`` has its function in ``thinking.edits``.

    ``in_letters`` tells whether its mistaken form is a wrong expression too, such as one writes before any number.
    """

    in_letters: ClassVar[bool] = True


class OpinionEdit(Edit):
    """An edit of what is thought, not of what is calculated: it answers questions in words and pictures only."""


@dataclass(frozen=True)
class _FormulaEdit(NumericEdit):
    """An edit whose argument is a formula."""

    formula: Formula

    @classmethod
    def of(cls, argument: Any) -> Edit:
        """The edit with its formula. Raises ExpressionError."""
        return cls(Formula.of(argument))


# --- forces and equations ---------------------------------------------------------------------------


@dataclass(frozen=True)
class DropEdit(NumericEdit, name="drop"):
    """A force is left out; ``outward-tension`` is the pull of a cord that leads on outwards."""

    force: Dropped


@dataclass(frozen=True)
class ReverseEdit(NumericEdit, name="reverse"):
    """A force is turned round."""

    force: NamedForce


@dataclass(frozen=True)
class ExtraForceEdit(NumericEdit, name="extra-force"):
    """One more force stands in the inward equation: of the size m a along a direction, or the weight, outward."""

    way: Literal["outward", "inward", "weight-outward"]


class AccelerationEdit(_FormulaEdit, name="acceleration"):
    """Another acceleration towards the centre, in a (the right one), v, omega, r and g."""


class ContactEdit(_FormulaEdit, name="contact-is"):
    """A size for the contact force, in m, g and theta."""


class InwardContactEdit(_FormulaEdit, name="contact-inward-is"):
    """The same, but only in the inward equation."""


@dataclass(frozen=True)
class ExchangeEdit(NumericEdit, name="exchange"):
    """Sine and cosine of the slanted forces are exchanged, or the directions of contact force and friction."""

    what: Literal["sine-cosine", "contact-friction"]


@dataclass(frozen=True)
class WeightPartEdit(NumericEdit, name="weight-part"):
    """The whole weight is put along the inward axis."""

    part: Literal["whole"]


@dataclass(frozen=True)
class FlattenEdit(NumericEdit, name="flatten"):
    """The upward part of friction is left out."""

    force: Literal["friction"]


@dataclass(frozen=True)
class RelationEdit(NumericEdit, name="relation"):
    """In the relation for the radius the sine is left out, or one term of a sum is kept; the length stands for the
    extension of a spring, or the distance along an arc for the displacement."""

    what: Literal["without-sine", "first-term", "last-term", "whole-length", "arc-for-chord"]


@dataclass(frozen=True)
class InsteadEdit(NumericEdit, name="instead"):
    """In place of one relation of the problem another one is written: of the mistakes of one problem alone."""

    of_text: str
    is_text: str
    right: Relation
    wrong: Relation

    @classmethod
    def of(cls, argument: Any) -> Edit:
        """The edit with its relations. Raises ExpressionError, and KeyError where a part is missing."""
        written = argument["of"], argument["is"]
        return cls(*written, *map(parse_relation, written))

    @property
    def argument(self) -> Any:
        """Both relations as they are written."""
        return {"of": self.of_text, "is": self.is_text}


@dataclass(frozen=True)
class IntervalEdit(NumericEdit, name="interval"):
    """Between two states of a rotation: the greater angular speed stands for the average, the smaller one is left out,
    the difference of the angular speeds is squared in place of each, or the average stands for the change from rest."""

    what: Literal["greater-for-average", "smaller-left-out", "difference-squared", "average-for-change"]


@dataclass(frozen=True)
class EnergyEdit(NumericEdit, name="energy"):
    """Equal speeds at both ends, half the climb, m v² for the kinetic energy, or a loss left out or taken as a gain."""

    what: Literal["ignored", "half-height", "double-kinetic", "loss-left-out", "loss-gained"]


@dataclass(frozen=True)
class FrictionEdit(NumericEdit, name="friction"):
    """Friction that is below its limit is taken to be at it, with the normal force or with the weight for that."""

    what: Literal["at-its-limit", "of-the-weight"]


class RoundEdit(_FormulaEdit, name="round"):
    """Another way once round, in r."""

    in_letters = False


@dataclass(frozen=True)
class LimitEdit(NumericEdit, name="limit"):
    """Another limiting case, an equation in symbols of the problem."""

    written: str
    relation: Relation

    @classmethod
    def of(cls, argument: Any) -> Edit:
        """The edit with its relation. Raises ExpressionError."""
        return cls(argument, parse_relation(argument))

    @property
    def argument(self) -> Any:
        """The relation as it is written."""
        return self.written


# --- givens and the last step -----------------------------------------------------------------------


@dataclass(frozen=True)
class GivenEdit(NumericEdit, name="given"):
    """Another value for a given of a role, as a formula in x (the right one)."""

    role: str
    formula: Formula

    @classmethod
    def of(cls, argument: Any) -> Edit:
        """The edit with its formula. Raises ExpressionError, and KeyError where a part is missing."""
        formula = Formula.of(argument["is"])
        return cls(argument["of"], formula)

    @property
    def argument(self) -> Any:
        """The role, and the formula as it is written."""
        return {"of": self.role, "is": self.formula.written}


@dataclass(frozen=True)
class AngleEdit(NumericEdit, name="angle"):
    """An angle is read from the other line, or put into the calculator in the wrong mode."""

    what: Literal["complement", "radians"]
    in_letters = False


@dataclass(frozen=True)
class UnitEdit(NumericEdit, name="unit"):
    """Numbers of a unit are put in as if they were SI.

    ``turns`` are r/min divided by 60, without the 2π; ``radians`` are r/min times 2π, without the 60.
    """

    written: str
    in_letters = False

    @property
    def symbol(self) -> str:
        """The unit in which the numbers are printed."""
        return "r/min" if self.written in (TURNS, RADIANS) else self.written

    @property
    def factor(self) -> float:
        """By what the right value is divided when the number is put in."""
        own = {TURNS: 2 * math.pi, RADIANS: 1 / 60}
        return own[self.written] if self.written in own else unit(self.written).factor


@dataclass(frozen=True)
class RatioEdit(NumericEdit, name="ratio"):
    """The ratio of two givens of one kind is inverted, left out, or raised to another power."""

    what: Literal["upside-down", "left-out", "first-power", "squared", "rooted", "exponents-exchanged"]


@dataclass(frozen=True)
class PartsEdit(NumericEdit, name="parts"):
    """Perpendicular parts are added as numbers, or with the wrong sign under the root, or one stands for both."""

    what: Literal["as-numbers", "other-sign", "first-alone", "last-alone"]


@dataclass(frozen=True)
class SquareEdit(NumericEdit, name="square"):
    """A given other than a speed that stands squared is not squared: the first, the last of several; or the 2π."""

    what: Literal["first-given", "last-given", "of-two-pi"]


@dataclass(frozen=True)
class SumEdit(NumericEdit, name="sum"):
    """Of the two terms of a sum one is taken with the other sign, or left out."""

    what: Literal["other-sign", "first-term", "last-term"]


@dataclass(frozen=True)
class InverseEdit(NumericEdit, name="inverse"):
    """An angle is given as its sine, cosine or tangent, or its sine or cosine is taken for its tangent."""

    what: Literal["not-taken", "of-the-tangent"]
    in_letters = False


@dataclass(frozen=True)
class ReportEdit(NumericEdit, name="report"):
    """Another quantity than the asked one is given as the answer."""

    what: Literal["diameter", "frequency", "angular-speed"]
    in_letters = False


@dataclass(frozen=True)
class AnswerUnitEdit(NumericEdit, name="answer-unit"):
    """The answer is given in SI units where another unit is asked, or in revolutions per second."""

    what: Literal["SI", "r/s"]
    in_letters = False


@dataclass(frozen=True)
class GravityEdit(NumericEdit, name="gravity"):
    """The g of the closed form is left out, as if a mass in kg were a weight in N."""

    what: Literal["left-out"]


class AnswerEdit(_FormulaEdit, name="answer"):
    """Something is done to the right answer at the end, in x."""


# --- opinions ---------------------------------------------------------------------------------------


@dataclass(frozen=True)
class DirectionEdit(OpinionEdit, name="direction"):
    """Another direction of what is asked: of the acceleration, of a velocity, of the other force of a pair."""

    way: str


@dataclass(frozen=True)
class DiagramEdit(OpinionEdit, name="diagram"):
    """One more force: along a direction, or one that acts on another body, or that a thing is thought to exert."""

    way: Literal[
        "outward", "inward", "forward", "on-the-other", "by-bystander", "by-smooth-surface", "gravity-everywhere"
    ]


@dataclass(frozen=True)
class DrawnEdit(OpinionEdit, name="drawn"):
    """A force of the diagram is missing, turned round or put another way: ``hold-turned``, ``floor-missing``."""

    written: str

    @property
    def force(self) -> str:
        """Which force: weight, friction, the one that holds the body on its circle, or the one that carries it."""
        return self.written.partition("-")[0]

    @property
    def way(self) -> str:
        """What becomes of it: missing, turned, or a direction."""
        return self.written.partition("-")[2]


@dataclass(frozen=True)
class WrittenEdit(OpinionEdit, name="written"):
    """A part of an expression in letters is written otherwise: ``length-other-side``, ``two-pi-left-out``."""

    written: str


@dataclass(frozen=True)
class ScalingEdit(OpinionEdit, name="scaling"):
    """Another power of a quantity in the answer, or none."""

    written: str

    @property
    def power(self) -> sympy.Rational | None:
        """The power that the answer is thought to go with; None for no power at all."""
        return None if self.written == "none" else sympy.Rational(self.written)


@dataclass(frozen=True)
class PlottedEdit(OpinionEdit, name="plotted"):
    """The line of a graph is thought of otherwise.

    ``raised``: it begins above the origin; ``threshold``: it begins on the axis beside the origin; ``falling-line``: as
    the answer decreases, it falls in a straight line; ``cut-off``: it falls to the axis and ends there.
    """

    way: Literal["raised", "threshold", "falling-line", "cut-off"]


@dataclass(frozen=True)
class OutcomeEdit(OpinionEdit, name="outcome"):
    """What is thought to happen after a slight change in the limiting case.

    ``kept``: past the limit the motion is as before; ``lost``: any change ends it; ``same``: so is the force;
    ``with-friction``: it slides as the friction points; ``straight``, ``curved``, ``outward``: free, it moves so though
    its velocity and the forces on it have it otherwise; ``at-limit``: the force has its greatest value whatever is
    needed; ``turned``: the change works the other way; ``eased``: off its limit a force is smaller; ``cancelled``: a
    mass cancels in the force as well; ``heavier``: a heavier body pulls or presses harder.
    """

    outcome: Literal[
        "kept", "lost", "same", "with-friction", "straight", "curved", "outward", "at-limit", "turned", "eased",
        "cancelled", "heavier",
    ]  # fmt: skip
