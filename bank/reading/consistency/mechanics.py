"""A problem's force diagrams can become equations: their places, axes and unit vectors, the radius and the speed."""

from __future__ import annotations

from collections.abc import Iterator

from ...documents.document import Path_
from ...language import listed
from ...model.evaluation import evaluate
from ...model.expression import names_in, parse
from ...model.problem import Diagram, Force, Problem

_AXES = {"vertical": ("inward", "forward"), "horizontal": ("inward", "up"), "space": ("inward", "forward")}
_CIRCLES = {"horizontal": ("a level circle", "level"), "space": ("a circle in space", "space")}
_SAMPLES = (0.31, 0.72, 1.13)  # radians; three angles tell sine from cosine, and one angle from another


def check_model(problem: Problem) -> None:
    """Note diagrams that make no equations."""
    if problem.motion.plane == "horizontal" and problem.motion.tangential_acceleration and problem.diagrams:
        path = ("motion", "tangential-acceleration")
        wrong = "the forces on a level circle are those of a steady speed"
        problem.document.fault(path, wrong, "leave it out", key=True)
    for diagram in problem.diagrams:
        _place_suits_plane(problem, diagram)
        _laws_have_their_symbols(problem, diagram)
        _circle_has_radius_and_speed(problem, diagram)
        for force in diagram.forces:
            _force_is_unit_vector(problem, diagram, force)
    _energies_have_their_quantities(problem)
    _signs_are_right(problem)


def _signs_are_right(problem: Problem) -> None:
    for at, relation in enumerate(problem.relations):
        if relation.relation.sign != "=":
            right = "write an equation here, and what must hold under 'holds'"
            problem.document.fault(("relations", at, "equation"), "found an inequality", right)
    for at, hold in enumerate(problem.holds):
        if hold.relation.sign == "=" and problem.document.is_sound("holds", at, "that"):
            right = "write an inequality such as N >= 0, and an equation under 'relations'"
            problem.document.fault(("holds", at, "that"), "found an equation", right)


def _place_suits_plane(problem: Problem, diagram: Diagram) -> None:
    circle, spot = _CIRCLES.get(problem.motion.plane, ("", ""))
    if circle and diagram.spot not in (spot, "rest"):
        found = f"'{diagram.spot}'" if diagram.spot != "angle" else "an angle from the vertical"
        path = ("diagrams", diagram.name, "at")
        problem.document.fault(path, f"found {found} on {circle}", "leave 'at' out, or write 'at: rest'")


def _laws_have_their_symbols(problem: Problem, diagram: Diagram) -> None:
    document, motion = problem.document, problem.motion
    for force in diagram.forces:
        path = ("diagrams", diagram.name, "forces", force.role)
        if force.law == "weight" and motion.plane == "space" and diagram.spot != "rest":
            document.fault(path, "there is no weight in space", "remove it, or state another plane", key=True)
        needed = {
            "gravitation": (
                ("'centre-mass'", force.centre_mass or not document.is_sound(*path, "centre-mass")),
                ("a radius", diagram.radius or motion.radius or not document.is_sound("motion")),
                ("the quantity G", "G" in document.names("quantities")),
            ),
            "magnetic": (
                ("'charge'", force.charge or not document.is_sound(*path, "charge")),
                ("'field'", force.field or not document.is_sound(*path, "field")),
                ("a speed", diagram.speed or motion.speed or not document.is_sound("motion")),
            ),
        }.get(force.law or "", ())
        lacking = [what for what, there in needed if not there]
        if lacking:
            size = {"gravitation": "G M m/r^2", "magnetic": "q v B"}[force.law or ""]
            document.fault(path, f"the law '{force.law}' lacks {listed(lacking)}", f"name what {size} is made of")


def _circle_has_radius_and_speed(problem: Problem, diagram: Diagram) -> None:
    """An inward equation needs m v²/r, unless each question names the acceleration itself."""
    motion = problem.motion
    if diagram.spot == "rest" or not problem.document.is_sound("motion"):
        return
    if motion.acceleration and all(motion.acceleration in (each.ask, *each.given) for each in problem.questions):
        return
    if not (diagram.radius or motion.radius):
        problem.document.fault(("motion",), "the radius of the circle is not named", "add 'radius: r'")
    if not (diagram.speed or motion.speed or motion.angular_speed or motion.period):
        right = "add 'speed: v', 'angular-speed: omega' or 'period: T'"
        problem.document.fault(("motion",), "nothing says how fast the body goes round", right)


def _energies_have_their_quantities(problem: Problem) -> None:
    named = {diagram.name: diagram for diagram in problem.diagrams}
    for at, energy in enumerate(problem.energies):
        for end, level in (("from", energy.start), ("to", energy.end)):
            place = named.get(level.diagram or "")
            if not place or not problem.document.is_sound("motion"):
                continue
            if not (place.speed or problem.motion.speed):
                wrong = f"the diagram '{place.name}' names no speed"
                problem.document.fault(("energy", at, end), wrong, "add 'speed: v_top' to it, or a speed to 'motion'")
            if place.spot in ("top", "side", "angle") and not (place.radius or problem.motion.radius):
                wrong = f"the diagram '{place.name}' names no radius, and its height follows from it"
                problem.document.fault(("energy", at, end), wrong, "add 'radius: r' to it, or to 'motion'")


def _force_is_unit_vector(problem: Problem, diagram: Diagram, force: Force) -> None:
    path = ("diagrams", diagram.name, "forces", force.role)
    if force.law == "weight":
        return  # it points down, whatever else is written
    allowed = ("up",) if diagram.spot == "rest" else _AXES.get(problem.motion.plane, ())
    strange = [axis for axis, _ in force.components if axis not in allowed]
    if strange and allowed:
        for axis in strange:
            right = f"here the {'axis is' if len(allowed) == 1 else 'axes are'} {listed(allowed)}"
            problem.document.fault(_place(problem, path, axis), f"found the axis '{axis}'", right, key=True)
    elif force.components and problem.document.is_sound(*path, "components") and not _is_unit(force):
        squares = " + ".join(f"({part})²" for _, part in force.components)
        right = "check sine and cosine: the squares add up to 1"
        problem.document.fault((*path, "components"), f"{squares} is not 1", right)


def _place(problem: Problem, path: Path_, axis: str) -> Path_:
    stated = axis in problem.document.names(*path, "components")
    return (*path, "components", axis) if stated else (*path, "toward")


def _is_unit(force: Force) -> bool:
    total = sum(parse(part) ** 2 for _, part in force.components)
    return all(abs(float(evaluate(total, sample)) - 1) < 1e-9 for sample in _angles(sorted(names_in(total))))


def _angles(names: list[str]) -> Iterator[dict[str, float]]:
    """Values for the angles, different ones for different angles."""
    for first in _SAMPLES:
        yield {name: first / (1 + place) for place, name in enumerate(names)}
