"""A checked problem: what a problem file says, frozen. No reading and no solving."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import Literal, TypeAlias

from ..documents.document import Document
from ..errors import Place
from ..item.curriculum import Alignment
from ..quantities.units import Unit
from .expression import Relation
from .mistake import Mistake

Plane: TypeAlias = Literal["vertical", "horizontal", "space"]
Spot: TypeAlias = Literal["top", "bottom", "side", "rest", "level", "angle", "space"]
Axis: TypeAlias = Literal["inward", "up", "forward"]
Law: TypeAlias = Literal["weight", "gravitation", "magnetic", "electric"]
ForceKind: TypeAlias = Literal["normal", "tension", "friction", "spring", "lift", "support", "contact"] | Law
OneWay: TypeAlias = Literal["normal", "tension"]

_LAWS: Mapping[str, Law] = {
    "weight": "weight", "gravitation": "gravitation", "magnetic": "magnetic", "electric": "electric",
}  # fmt: skip


@dataclass(frozen=True)
class Motion:
    """The circle, and the symbols of what the built-in relations link; None where the problem does not name it."""

    plane: Plane
    radius: str | None = None
    speed: str | None = None
    angular_speed: str | None = None
    period: str | None = None
    frequency: str | None = None
    acceleration: str | None = None
    tangential_acceleration: str | None = None
    diameter: str | None = None
    circumference: str | None = None
    turns: str | None = None
    duration: str | None = None
    initial_angular_speed: str | None = None
    initial_speed: str | None = None
    angular_acceleration: str | None = None
    angular_deceleration: str | None = None
    angle_turned: str | None = None
    arc: str | None = None
    displacement: str | None = None

    @property
    def changes(self) -> bool:
        """Whether the angular speed changes, at a constant rate."""
        return bool(self.angular_acceleration or self.angular_deceleration)


@dataclass(frozen=True)
class Force:
    """A force of size ``symbol`` (or of a known law) along ``components`` of the axes, for a force of size 1.

    ``size`` is the quantity that is what a law gives, where a question gives it or asks for it.
    ``distance`` is that to the other body of gravitation or an electric force, where it is not the radius.
    A ``contact`` is a tension in one scene and a normal force in another: its scenes state which.
    """

    role: str
    kind: ForceKind
    components: tuple[tuple[Axis, str], ...]
    symbol: str | None = None
    centre_mass: str | None = None
    charge: str | None = None
    field: str | None = None
    size: str | None = None
    centre_charge: str | None = None
    distance: str | None = None

    @property
    def law(self) -> Law | None:
        """The law that gives the size, where it is known."""
        return _LAWS.get(self.kind)


@dataclass(frozen=True)
class Diagram:
    """The forces on one body at one place. ``angle`` is measured from the top or the bottom (``angle_from``)."""

    name: str
    body: str
    mass: str
    spot: Spot
    forces: tuple[Force, ...]
    speed: str | None = None
    radius: str | None = None
    angle: str | None = None
    angle_from: Literal["top", "bottom"] | None = None
    tilt: str | None = None
    surface: Literal["level", "bank", "wall"] | None = None
    place: str = ""

    @property
    def apart(self) -> str:
        """What tells this place of a body from another of the same body, after a noun: `` at the top``."""
        return f" {self.place}" if self.place and self.spot in ("level", "space") else f" at the {self.spot}"


@dataclass(frozen=True)
class Reason:
    """A relation of the problem with the sentence that says why."""

    relation: Relation
    text: str
    because: str


@dataclass(frozen=True)
class Level:
    """One end of an energy balance: a diagram of the circle, or a height and a speed as formulas."""

    diagram: str | None = None
    height: str = "0"
    speed: str = "0"


@dataclass(frozen=True)
class Energy:
    """Energy of the body is the same at both ends, or less by ``loss`` at the second; heights count from the lowest
    point, or from the centre."""

    start: Level
    end: Level
    because: str
    over_centre: bool = False
    loss: str | None = None


@dataclass(frozen=True)
class Draw:
    """Evenly stepped or listed values, exact."""

    values: tuple[Decimal, ...]


@dataclass(frozen=True)
class QuantitySpec:
    """One symbol: its unit, its figures in print, where its values come from and which answers are plausible."""

    symbol: str
    unit: Unit
    means: str = ""
    figures: int = 3
    draw: Draw | None = None
    constant: str | None = None
    plausible: tuple[Decimal, Decimal] | None = None
    positive: bool = True


@dataclass(frozen=True)
class ForceWords:
    """What a scene calls a contact force: name, symbol in print, agent with article, verb (third person).

    ``kind`` is stated where the diagram leaves it to the scenes.
    """

    name: str
    symbol: str | None
    by: str
    acts: str
    kind: OneWay | None = None


@dataclass(frozen=True)
class Bystander:
    """Something in a story that exerts no force on the body, and the name of the force that one may think of."""

    name: str
    by: str


@dataclass(frozen=True)
class Sketch:
    """What a picture of a scene shows: a ``setting``, how the body looks, and symbols at its lengths and angles.

    ``marks`` are those that the motion and the diagram do not name, by what they measure.
    """

    setting: str
    look: str
    marks: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Scene:
    """One story of the problem. ``caution`` is its own, empty where that of the problem serves.

    ``bystanders`` are told by the names of the diagrams in which they exert no force. ``is_imagined``: nobody can
    measure there. ``sketch``: what is to be seen there, None where nobody has said so.
    """

    name: str
    story: str
    words: Mapping[str, str]
    forces: Mapping[str, ForceWords]
    quantities: Mapping[str, QuantitySpec]
    caution: str = ""
    bystanders: Mapping[str, Bystander] = field(default_factory=dict)
    is_imagined: bool = False
    sketch: Sketch | None = None

    def kind_of(self, force: Force) -> ForceKind:
        """What kind of force it is in this scene."""
        words = self.forces.get(force.role)
        return (words and words.kind) or force.kind


@dataclass(frozen=True)
class Tolerance:
    """How far an answer may be off: a percentage of the key, or an absolute amount in the answer's unit."""

    percent: Decimal | None = Decimal(2)
    absolute: Decimal | None = None


@dataclass(frozen=True)
class Question:
    """What is asked from what. ``limiting`` is an equation that holds only at the edge.

    ``about`` are the ids of the mistakes that it is there to reveal, ``answered`` what is said to notes.
    """

    name: str
    title: str
    ask: str
    given: tuple[str, ...]
    stem: str
    asked_name: str = ""
    extra: tuple[str, ...] = ()
    limiting: Relation | None = None
    figures: int = 3
    unit: Unit | None = None
    tolerance: Tolerance | None = None
    plausible: tuple[Decimal, Decimal] | None = None
    scenes: tuple[str, ...] = ()
    diagram: str | None = None
    objectives: tuple[str, ...] = ()
    alignment: tuple[Alignment, ...] = ()
    level: str = "algebra"
    minutes: int = 4
    enemies: tuple[str, ...] = ()
    about: tuple[str, ...] = ()
    answered: Mapping[str, str] = field(default_factory=dict, hash=False)

    @property
    def of_extreme(self) -> bool:
        """Whether the least or the greatest of what is possible is asked for, as its name says."""
        return self.asked_name.startswith(("minimum", "maximum"))

    @property
    def told(self) -> tuple[str, ...]:
        """All that it gives or asks for."""
        return (self.ask, *self.given, *self.extra)


@dataclass(frozen=True)
class Problem:
    """One situation with all its questions. ``document`` remembers where each part stands in its file."""

    id: str
    version: int
    title: str
    family: str
    level: str
    licence: str
    objectives: tuple[str, ...]
    motion: Motion
    diagrams: tuple[Diagram, ...]
    relations: tuple[Reason, ...]
    energies: tuple[Energy, ...]
    holds: tuple[Reason, ...]
    quantities: Mapping[str, QuantitySpec]
    scenes: tuple[Scene, ...]
    questions: tuple[Question, ...]
    caution: str = ""
    without: Mapping[str, str] = field(default_factory=dict)
    mistakes: tuple[Mistake, ...] = ()
    alignment: tuple[Alignment, ...] = ()
    demonstration: Mapping[str, str] = field(default_factory=dict)
    answered: Mapping[str, str] = field(default_factory=dict)
    document: Document = field(default_factory=lambda: Document(""), repr=False, compare=False)

    def question(self, name: str) -> Question:
        """The question of that name; KeyError if there is none."""
        return next((each for each in self.questions if each.name == name), None) or _missing(name)

    def mistakes_from(self, catalogue: Iterable[Mistake]) -> tuple[Mistake, ...]:
        """The mistakes to try: the problem's own, then those of the catalogue that suit it and are not left out."""
        shared = (each for each in catalogue if each.suits(self.family) and each.id not in self.without)
        return (*self.mistakes, *shared)

    def diagram(self, name: str | None) -> Diagram | None:
        """The diagram of that name, the first one for None; None where the problem has no diagrams."""
        if name is None:
            return self.diagrams[0] if self.diagrams else None
        return next(each for each in self.diagrams if each.name == name)

    def scenes_of(self, question: Question) -> tuple[Scene, ...]:
        """The scenes that suit the question, in file order."""
        return tuple(scene for scene in self.scenes if not question.scenes or scene.name in question.scenes)

    def caution_in(self, scene: Scene) -> str:
        """The caution that goes with a scene."""
        return scene.caution or self.caution

    def spec(self, symbol: str, scene: Scene | None = None) -> QuantitySpec:
        """What is known of a symbol, in a scene where one is named."""
        changed = scene.quantities.get(symbol) if scene else None
        return changed or self.quantities[symbol]

    def answer_spec(self, question: Question, scene: Scene | None = None) -> QuantitySpec:
        """The asked quantity with the unit, figures and plausible range of the question."""
        spec = self.spec(question.ask, scene)
        unit = question.unit or spec.unit
        return replace(spec, unit=unit, figures=question.figures, plausible=question.plausible or spec.plausible)

    def place_of(self, question: Question, part: str | None = None) -> Place:
        """Where a question (or a part of it) stands in the file."""
        path = ("questions", question.name) + ((part,) if part else ())
        return self.document.place(path, key=part is None)


def _missing(name: str) -> Question:
    raise KeyError(name)


def gravity_spec(value: Decimal, unit: Unit) -> QuantitySpec:
    """g as every pack states it: one value, at the figures that it is written with."""
    figures = max(len(value.as_tuple().digits), 1)
    return QuantitySpec("g", unit, "gravitational field strength", figures, Draw((value,)))
