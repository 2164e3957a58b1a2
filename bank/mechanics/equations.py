"""Force diagrams to equations, as on the board: inward first, then the other axis, then relations and the limit.

Sign convention: components along ``inward`` (to the centre), ``up`` (a circle in a horizontal plane, or a body at
rest) and ``forward`` (the way the body moves round a vertical circle) are positive.

            inward: sum of components = m v²/r
            up:     sum of components = 0
            forward: sum of components = m a_t, or 0 where the speed is held steady
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal, TypeAlias

import sympy

from ..model.expression import named, names_in, parse
from ..model.problem import Diagram, Force, Level, Motion, Problem, Question
from .interval import chosen, interval_of, links

# --- built-in relations of circular motion: they join in when the motion names the quantities that they link ---


@dataclass(frozen=True)
class Rates:
    """The symbols that describe how one body goes round, at one place; None where the problem does not name one.

    ``angular_rate`` is the angular acceleration, or the size of the angular deceleration. ``where`` is the part of the
    problem that speaks of the place.
    """

    radius: str | None
    speed: str | None
    angular_speed: str | None
    period: str | None
    frequency: str | None
    acceleration: str | None
    diameter: str | None = None
    circumference: str | None = None
    turns: str | None = None
    duration: str | None = None
    initial_angular_speed: str | None = None
    initial_speed: str | None = None
    angular_rate: str | None = None
    tangential_acceleration: str | None = None
    angle_turned: str | None = None
    arc: str | None = None
    displacement: str | None = None
    where: str = "motion"

    def symbol(self, role: Literal["radius", "speed", "acceleration"]) -> sympy.Symbol:
        """The symbol of that role. Raises MissingNameError where the problem does not name it."""
        return named(getattr(self, role), role, self.where)


def rates(motion: Motion, diagram: Diagram | None) -> Rates:
    """The symbols of a place: those of the motion, but for what the diagram names itself."""
    return Rates(
        radius=(diagram and diagram.radius) or motion.radius,
        speed=(diagram and diagram.speed) or motion.speed,
        angular_speed=motion.angular_speed,
        period=motion.period,
        frequency=motion.frequency,
        acceleration=motion.acceleration,
        diameter=None if diagram and diagram.radius else motion.diameter,
        circumference=None if diagram and diagram.radius else motion.circumference,
        turns=motion.turns,
        duration=motion.duration,
        initial_angular_speed=motion.initial_angular_speed,
        initial_speed=motion.initial_speed,
        angular_rate=motion.angular_acceleration or motion.angular_deceleration,
        tangential_acceleration=motion.tangential_acceleration if motion.changes else None,
        angle_turned=motion.angle_turned,
        arc=motion.arc,
        displacement=motion.displacement,
        where=f"diagrams.{diagram.name}" if diagram else "motion",
    )


def radial_acceleration(here: Rates, wanted: frozenset[str]) -> sympy.Expr:
    """The acceleration towards the centre in the quantities that the question speaks of.

    The named acceleration where it is given or asked, else omega^2 r where the turning is what is known, else v^2/r.
    Where the radius or the turning has no name, the acceleration stays; raises MissingNameError if it has none either.
    """
    turning = turning_acceleration(here, wanted)
    return here.symbol("acceleration") if here.acceleration in wanted or turning is None else turning


def turning_acceleration(here: Rates, wanted: frozenset[str]) -> sympy.Expr | None:
    """The acceleration from the speed or the turning; None where the radius or both of these have no name."""
    if here.radius is None:
        return None
    radius = sympy.Symbol(here.radius)
    turning = {here.angular_speed, here.period, here.frequency, here.turns, *_of_interval(here)} & wanted
    if here.angular_speed and (here.speed is None or (turning and here.speed not in wanted)):
        return sympy.Symbol(here.angular_speed) ** 2 * radius
    if here.speed is None:
        return 4 * sympy.pi**2 * radius / sympy.Symbol(here.period) ** 2 if here.period else None
    return sympy.Symbol(here.speed) ** 2 / radius


def _of_interval(here: Rates) -> tuple[str | None, ...]:
    """What tells of the turning between two states."""
    return here.initial_angular_speed, here.angular_rate, here.angle_turned


_ROUND = "in one period, the distance travelled round the circle is one circumference"


def built_in(here: Rates, wanted: frozenset[str]) -> Iterator[tuple[sympy.Expr, sympy.Expr, str]]:
    """The relations as (left, right, reason), for the quantities that are named."""
    speed, omega, period, frequency, radius = (
        sympy.Symbol(name) if name else None
        for name in (here.speed, here.angular_speed, here.period, here.frequency, here.radius)
    )
    turning = turning_acceleration(here, wanted)
    if here.acceleration in wanted and turning is not None:
        yield here.symbol("acceleration"), turning, "centripetal acceleration"
    if speed is not None and omega is not None and radius is not None:
        yield speed, omega * radius, "speed in circular motion"
    if period is not None and omega is not None:
        yield omega, 2 * sympy.pi / period, "one revolution is 2π rad"
    elif period is not None and speed is not None and radius is not None:
        yield speed, 2 * sympy.pi * radius / period, _ROUND
    if frequency is not None and period is not None:
        yield period, 1 / frequency, "the period is the time for one revolution"
    elif frequency is not None and omega is not None:
        yield omega, 2 * sympy.pi * frequency, "one revolution is 2π rad"
    elif frequency is not None and speed is not None and radius is not None:
        yield speed, 2 * sympy.pi * radius * frequency, _ROUND
    if here.angular_rate and radius is not None:
        yield from _at_the_rim(here, radius, sympy.Symbol(here.angular_rate))
    yield from _size_of_the_circle(here, wanted)
    yield from _turned(here, wanted)
    yield from _counted(here, wanted)


def _at_the_rim(here: Rates, radius: sympy.Symbol, rate: sympy.Symbol) -> Iterator[tuple[sympy.Expr, sympy.Expr, str]]:
    """What the angular acceleration and the initial angular speed are for a point on the circle."""
    if here.initial_speed and here.initial_angular_speed:
        initial = sympy.Symbol(here.initial_angular_speed)
        yield sympy.Symbol(here.initial_speed), initial * radius, "initial speed in circular motion"
    if here.tangential_acceleration:
        yield sympy.Symbol(here.tangential_acceleration), rate * radius, "tangential acceleration in circular motion"


def _turned(here: Rates, wanted: frozenset[str]) -> Iterator[tuple[sympy.Expr, sympy.Expr, str]]:
    """The angle that is turned, the arc and the number of revolutions, where the question speaks of them."""
    if not here.angle_turned or not {here.angle_turned, here.arc, here.angular_rate and here.turns} & wanted:
        return
    angle = sympy.Symbol(here.angle_turned)
    if here.displacement:
        chord = 2 * here.symbol("radius") ** 2 * (1 - sympy.cos(angle))
        yield sympy.Symbol(here.displacement) ** 2, chord, "cosine rule for the two radii and the displacement"
    steadily = here.angular_rate is None and here.duration is not None
    if steadily and {here.arc, here.speed, here.duration} <= wanted and not _tells_the_angle(here) & wanted:
        distance = here.symbol("speed") * sympy.Symbol(here.duration or "")
        yield sympy.Symbol(here.arc or ""), distance, "the distance travelled is the speed times the time"
        return
    if here.arc and here.arc in wanted:
        yield sympy.Symbol(here.arc), here.symbol("radius") * angle, "length of an arc, with the angle in radians"
    if here.turns and here.turns in wanted:
        yield angle, 2 * sympy.pi * sympy.Symbol(here.turns), "one revolution is 2π rad"
    elif steadily and here.angular_speed:
        turned = sympy.Symbol(here.angular_speed) * sympy.Symbol(here.duration or "")
        yield angle, turned, "the angular displacement is the angular speed times the time"


def _tells_the_angle(here: Rates) -> frozenset[str | None]:
    return frozenset((here.angle_turned, here.angular_speed, here.turns, here.period))


def _size_of_the_circle(here: Rates, wanted: frozenset[str]) -> Iterator[tuple[sympy.Expr, sympy.Expr, str]]:
    """The diameter and the circumference, where the question speaks of them."""
    if here.diameter and here.diameter in wanted:
        yield here.symbol("radius"), sympy.Symbol(here.diameter) / 2, "the radius is half the diameter"
    if here.circumference and here.circumference in wanted:
        yield sympy.Symbol(here.circumference), 2 * sympy.pi * here.symbol("radius"), "circumference of the circle"


def _counted(here: Rates, wanted: frozenset[str]) -> Iterator[tuple[sympy.Expr, sympy.Expr, str]]:
    """A number of turns in a time, where the question speaks of them: the period, or the angular speed without one."""
    is_of_angle = here.angle_turned and {here.angle_turned, here.arc} & wanted and here.duration not in wanted
    if not here.turns or not here.duration or here.turns not in wanted or here.angular_rate or is_of_angle:
        return
    turns, duration = sympy.Symbol(here.turns), sympy.Symbol(here.duration)
    if here.period:
        yield sympy.Symbol(here.period), duration / turns, "the period is the time for one revolution"
    elif here.angular_speed:
        yield sympy.Symbol(here.angular_speed), 2 * sympy.pi * turns / duration, "one revolution is 2π rad"
    elif here.frequency:
        yield sympy.Symbol(here.frequency), turns / duration, "the frequency is the number of revolutions per unit time"
    else:
        yield (
            here.symbol("speed"),
            2 * sympy.pi * here.symbol("radius") * turns / duration,
            _ROUND.replace("period", "revolution"),
        )


Kind: TypeAlias = Literal["inward", "up", "forward", "relation", "energy", "limiting"]


@dataclass(frozen=True)
class Equation:
    """Sum of ``terms`` (in board order) equals ``right``. ``diagram`` names the body's diagram for a force equation."""

    kind: Kind
    terms: tuple[sympy.Expr, ...]
    right: sympy.Expr
    because: str = ""
    diagram: str = ""

    @property
    def left(self) -> sympy.Expr:
        """The left side as one expression."""
        return sympy.Add(*self.terms)

    @property
    def symbols(self) -> frozenset[str]:
        """The names of all quantities in it."""
        return names_in(self.left) | names_in(self.right)


@dataclass(frozen=True)
class System:
    """What a question rests on: equations in board order, the asked symbol, what is known, the force symbols.

    ``signed`` are the symbols that may be negative, ``masses`` those of bodies, ``speeds`` those of motion along or
    round the circle, ``constants`` those of nature.
    """

    question: str
    equations: tuple[Equation, ...]
    ask: str
    known: frozenset[str]
    forces: frozenset[str]
    signed: frozenset[str]
    masses: frozenset[str]
    speeds: frozenset[str]
    constants: frozenset[str] = frozenset()

    @property
    def symbols(self) -> frozenset[str]:
        """All symbols of the equations."""
        return frozenset().union(*(equation.symbols for equation in self.equations))


def system_of(problem: Problem, question: Question) -> System:
    """The system of a question: its limiting case, force equations, relations and energy balances."""
    known = frozenset((*question.given, *question.extra, "g"))
    wanted = wanted_of(problem, question)
    return System(
        question=f"{problem.id}.{question.name}",
        equations=tuple(_equations(problem, question, wanted)),
        ask=question.ask,
        known=known,
        forces=frozenset(force.symbol for each in problem.diagrams for force in each.forces if force.symbol),
        signed=frozenset(name for name, spec in problem.quantities.items() if not spec.positive),
        masses=frozenset(each.mass for each in problem.diagrams),
        speeds=frozenset(name for each in (None, *problem.diagrams) for name in _speeds(problem, each)),
        constants=frozenset(name for name, spec in problem.quantities.items() if spec.constant),
    )


def wanted_of(problem: Problem, question: Question) -> frozenset[str]:
    """What a question speaks of: its givens, what it asks, and an acceleration or angle that a relation needs."""
    spoken = {question.ask, "g", *question.given, *question.extra}
    related = frozenset().union(*(reason.relation.symbols for reason in problem.relations))
    return frozenset(spoken | (related & {problem.motion.acceleration, problem.motion.angle_turned}))


def _speeds(problem: Problem, diagram: Diagram | None) -> tuple[str, ...]:
    here = rates(problem.motion, diagram)
    return tuple(name for name in (here.speed, here.angular_speed) if name)


def _equations(problem: Problem, question: Question, wanted: frozenset[str]) -> Iterator[Equation]:
    if question.limiting:
        yield Equation("limiting", (question.limiting.left,), question.limiting.right, "at the limit")
    for diagram in problem.diagrams:
        yield from force_equations(problem, diagram, wanted)
    relations = tuple(_relations(problem, wanted))
    yield from relations
    yield from _between_states(problem, question, relations)
    for energy in problem.energies:
        start, end = (_energy(problem, level, energy.over_centre) for level in (energy.start, energy.end))
        lost = sympy.Symbol(energy.loss) if energy.loss else sympy.Integer(0)
        yield Equation("energy", start, sympy.Add(*end, lost), energy.because)


def force_equations(problem: Problem, diagram: Diagram, wanted: frozenset[str]) -> Iterator[Equation]:
    """Newton's second law for one diagram along its axes; an axis without forces has no equation."""
    here = rates(problem.motion, diagram)
    mass = sympy.Symbol(diagram.mass)
    inward, second = (
        tuple(terms_along(problem, diagram, axis, wanted))
        for axis in ("inward", second_axis(problem.motion.plane, diagram))
    )
    if diagram.spot != "rest" and inward:
        yield Equation("inward", inward, mass * radial_acceleration(here, wanted), diagram=diagram.name)
    if not second:
        return
    if second_axis(problem.motion.plane, diagram) == "up":
        yield Equation("up", second, sympy.Integer(0), diagram=diagram.name)
    elif problem.motion.tangential_acceleration:
        changing = mass * sympy.Symbol(problem.motion.tangential_acceleration)
        yield Equation("forward", second, changing, diagram=diagram.name)
    elif any(axis == "forward" for force in diagram.forces for axis, _ in force.components):
        yield Equation("forward", second, sympy.Integer(0), diagram=diagram.name)


def second_axis(plane: str, diagram: Diagram) -> Literal["up", "forward"]:
    """The axis across ``inward`` that the forces of this diagram lie along."""
    return "up" if plane == "horizontal" or diagram.spot == "rest" else "forward"


def terms_along(
    problem: Problem, diagram: Diagram, axis: str, wanted: frozenset[str] = frozenset()
) -> Iterator[sympy.Expr]:
    """Components along one axis, the weight last among the positive ones as it stands on most boards.

    A force of a law that the question speaks of as a quantity stands there as one.
    """
    for force in _on_the_board(diagram):
        component = dict(components(diagram, force)).get(axis)
        if component is not None:
            spoken = force.size is not None and force.size in wanted
            size = sympy.Symbol(str(force.size)) if spoken else magnitude(problem, diagram, force)
            yield size * component


def magnitudes(problem: Problem, diagram: Diagram) -> Iterator[sympy.Expr]:
    """The sizes of all forces in the order of the board."""
    return (magnitude(problem, diagram, force) for force in _on_the_board(diagram))


def _on_the_board(diagram: Diagram) -> list[Force]:
    return sorted(diagram.forces, key=lambda each: each.law is not None)


def magnitude(problem: Problem, diagram: Diagram, force: Force) -> sympy.Expr:
    """The size of a force: its symbol, or that of a law.

    m g; G M m/r² (OpenStax University Physics vol. 1, section 13.1); q v B (vol. 2, section 11.2); k Q q/r² (vol. 2,
    section 5.3), where r is the distance of the two bodies, which is that to the centre if no other is named.
    """
    here, mass = rates(problem.motion, diagram), sympy.Symbol(diagram.mass)
    where = f"{here.where}.forces.{force.role}"
    if force.law == "weight":
        return mass * sympy.Symbol("g")
    if force.law == "gravitation":
        centre = named(force.centre_mass, "mass at the centre", where)
        return sympy.Symbol("G") * centre * mass / _apart(force, here) ** 2
    if force.law == "electric":
        charge, other = named(force.charge, "charge", where), named(force.centre_charge, "other charge", where)
        return sympy.Symbol("k") * other * charge / _apart(force, here) ** 2
    if force.law == "magnetic":
        charge, field = named(force.charge, "charge", where), named(force.field, "field", where)
        return charge * here.symbol("speed") * field
    return named(force.symbol, "size", where)


def _apart(force: Force, here: Rates) -> sympy.Symbol:
    """The distance of the two bodies that attract each other."""
    return sympy.Symbol(force.distance) if force.distance else here.symbol("radius")


def components(diagram: Diagram, force: Force) -> tuple[tuple[str, sympy.Expr], ...]:
    """The direction of a force as parts along the axes; that of the weight follows from the place on the circle."""
    if force.law != "weight" or force.components:
        return tuple((axis, parse(part)) for axis, part in force.components)
    one = sympy.Integer(1)
    if diagram.spot == "angle":
        angle = _angle(diagram)
        sign = 1 if diagram.angle_from == "top" else -1
        return (("inward", sign * sympy.cos(angle)), ("forward", sign * sympy.sin(angle)))
    simple: dict[str, tuple[tuple[str, sympy.Expr], ...]] = {
        "top": (("inward", one),),
        "bottom": (("inward", -one),),
        "side": (("forward", -one),),
    }
    return simple.get(diagram.spot, (("up", -one),))


def _angle(diagram: Diagram) -> sympy.Symbol:
    return named(diagram.angle, "angle", f"diagrams.{diagram.name}")


def _relations(problem: Problem, wanted: frozenset[str]) -> Iterator[Equation]:
    for reason in problem.relations:
        yield Equation("relation", (reason.relation.left,), reason.relation.right, reason.because)
    # a file may say in its own words why something holds of every circle
    seen = {(each.relation.left, each.relation.right) for each in problem.relations}
    for diagram in problem.diagrams or (None,):
        yield from _laws(problem, diagram, wanted) if diagram else ()
        if diagram and diagram.spot == "rest":
            continue
        for left, right, because in built_in(rates(problem.motion, diagram), wanted):
            if (left, right) not in seen:
                seen.add((left, right))
                yield Equation("relation", (left,), right, because)


def _laws(problem: Problem, diagram: Diagram, wanted: frozenset[str]) -> Iterator[Equation]:
    """What a force of a law is, where the question speaks of it as a quantity."""
    for force in diagram.forces:
        if force.size and force.size in wanted:
            because = f"the magnitude of {{the {force.role}}} is"
            yield Equation("relation", (sympy.Symbol(force.size),), magnitude(problem, diagram, force), because)


def _between_states(problem: Problem, question: Question, relations: tuple[Equation, ...]) -> Iterator[Equation]:
    """The relations at constant angular acceleration that the question rests on."""
    interval = interval_of(problem.motion)
    if interval is None:
        return
    others = [each.symbols for each in relations]
    given = frozenset(question.given) | {"g"}
    radius = frozenset(filter(None, (problem.motion.radius,)))
    for link in chosen(links(interval), others, given, question.ask, radius):
        yield Equation("relation", (link.left,), link.right, link.because)


def _energy(problem: Problem, level: Level, over_centre: bool) -> tuple[sympy.Expr, ...]:
    """Potential and kinetic energy at one end, over the lowest point or the centre; a term that is zero is left out."""
    diagram = problem.diagram(level.diagram)
    mass = sympy.Symbol(diagram.mass if diagram else "m")
    height, speed = (
        (_height(problem, diagram, over_centre), rates(problem.motion, diagram).symbol("speed"))
        if level.diagram and diagram
        else (parse(level.height), parse(level.speed))
    )
    parts = (mass * speed**2 / 2, mass * sympy.Symbol("g") * height)
    return tuple(part for part in parts if part != 0)


def _height(problem: Problem, diagram: Diagram, over_centre: bool) -> sympy.Expr:
    if diagram.spot not in ("top", "side", "angle") and not over_centre:
        return sympy.Integer(0)
    radius = rates(problem.motion, diagram).symbol("radius")
    if diagram.spot == "angle":
        part = sympy.cos(_angle(diagram)) * (1 if diagram.angle_from == "top" else -1)
    else:
        part = sympy.Integer({"top": 1, "bottom": -1}.get(diagram.spot, 0))
    return radius * part if over_centre else radius + radius * part
