"""A diagram of a problem as it is seen: directions from the model, typical lengths that obey it, and words.

Lengths are those of a typical case (every free force about as large as the weight, net force along the acceleration),
the same for all variants of a scene: a figure to scale would give answers away.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import degrees, fsum, radians, sin
from typing import Literal, TypeAlias

import numpy as np
from numpy.typing import NDArray

from ..item import formula
from ..item.formula import Node, Symbol
from ..mechanics.equations import components, magnitude, second_axis
from ..model.evaluation import evaluate
from ..model.once import once
from ..model.problem import Diagram, Force, Problem, Scene
from ..model.wording import agreeing, force_words, with_article
from .directions import Axes, axes, inward_words, place_words, placeless, words
from .notation import Notation, printed_symbol

# --- what is to be seen in a force diagram: directions on the page and the words for them, before any layout ---


Setting: TypeAlias = Literal["vertical-circle", "level-circle", "at-rest"]
LEVEL = 0.02  # the sine of an angle that nobody sees


@dataclass(frozen=True)
class ForceView:
    """One force on the body: ``name`` ("tension") by ``agent`` ("the cord"), which ``verb`` ("pulls").

    ``length`` is the magnitude over that of the longest force of the diagram, 0 to 1 (beyond, the nearer of the two);
    a small force is drawn with the least length that can be seen; ``agent`` is empty for one that nothing exerts, as a
    mistake draws it. ``direction_words`` finish "the tension ...":
    "straight down, towards the centre".
    """

    label: formula.Node
    name: str
    agent: str
    verb: str
    direction: float
    length: float
    direction_words: str


@dataclass(frozen=True)
class AngleView:
    """An angle at the body between two page directions; ``words``: "theta between the cord and the vertical"."""

    label: formula.Node
    start: float
    end: float
    words: str


@dataclass(frozen=True)
class DiagramView:
    """One body with all the forces on it.

    ``body`` ("the paper lantern") and ``place`` ("at the top of the circle", "at rest") are read one after the
    other. ``inward`` is None for a body at rest, ``acceleration`` None where it is zero or not to be shown.
    A level circle whose ``inward`` lies level on the page is seen from the side, any other circle face on.
    ``surface`` is the direction of the line of a road, bank or wall, and ``surface_words`` finish "a hatched line shows
    ..."; the body lies on that side of it to which a pushing force at a right angle points, else above it; ``normal``
    is the direction to that side, where it is to be the same whatever the forces are.
    ``second_axis_label`` ("up") stands at the end of the second axis; ``inward_words`` and ``second_axis_words``
    ("straight up") finish "which points ...". Whether the acceleration is ``settled`` says that its part towards the
    centre and the one along the path don't pull it up and down.
    """

    body: str
    place: str
    setting: Setting
    inward: float | None
    inward_words: str
    acceleration: float | None
    acceleration_words: str
    forces: tuple[ForceView, ...]
    angles: tuple[AngleView, ...] = ()
    surface: float | None = None
    surface_words: str = ""
    normal: float | None = None
    second_axis: float | None = None
    second_axis_label: str = ""
    second_axis_words: str = ""
    settled: bool = True

    @property
    def drawn_acceleration(self) -> float | None:
        """The way of the acceleration where it is drawn: only if it points that way for all numbers."""
        return self.acceleration if self.settled else None

    @property
    def side_view(self) -> bool:
        """Whether the circle is level and seen from the side, so that it is drawn flat."""
        return self.setting == "level-circle" and self.inward is not None and abs(sin(radians(self.inward))) < LEVEL


LEAST = 0.4  # least size of a free force, in weights, where the motion allows it
LEAST_INWARD = 0.3  # least acceleration towards the centre, in g
_SURE = 9  # decimals of a size that any processor gives
_FIRM = 1000.0  # weight of an equation of motion against a wish about sizes
_SURFACES = {"level": "the horizontal surface", "bank": "the surface of the bank", "wall": "the wall"}
_CARRIES = "normal"  # the kind of force by what a level surface belongs to: a road, a table, a rod


def notation_of(problem: Problem, scene: Scene) -> Notation:
    """The symbols as the scene prints them: one situation, another name for the contact force."""
    return once(scene, "notation", lambda: _notation_of(problem, scene), problem)


def _notation_of(problem: Problem, scene: Scene) -> Notation:
    names = {}
    for diagram in problem.diagrams:
        for force in diagram.forces:
            shown = scene.forces.get(force.role)
            name = force.symbol or force.size
            if name and shown and shown.symbol:
                names[name] = shown.symbol
    return Notation(names)


def view_of(problem: Problem, diagram: Diagram, scene: Scene) -> DiagramView:
    """The view of a diagram in a scene."""
    return once(problem, "view", lambda: _view(problem, diagram, scene), diagram, scene)


def _view(problem: Problem, diagram: Diagram, scene: Scene) -> DiagramView:
    angle = typical_angle(problem, diagram)
    on_page = axes(problem.motion.plane, diagram, angle)
    sizes, acceleration = typical_sizes(problem, diagram, angle)
    longest = max(sizes.values())
    notation = notation_of(problem, scene)
    forces = []
    for force in diagram.forces:
        page = on_page.page(*_parts(problem, diagram, force, angle))
        shown = force_words(scene, force.role)
        if shown is None:
            continue
        label = _label(problem, diagram, force, shown.symbol, notation)
        forces.append(
            ForceView(
                label,
                placeless(diagram, shown.name),
                shown.by,
                agreeing(shown),
                page,
                sizes[force.role] / longest,
                words(on_page, page),
            )
        )
    moving = on_page.inward is not None
    accelerates = on_page.page(*acceleration) if moving else None
    return DiagramView(
        body=with_article(scene.words[diagram.body], "the"),
        place=place_words(diagram),
        setting="at-rest"
        if not moving
        else "vertical-circle"
        if problem.motion.plane != "horizontal"
        else "level-circle",
        inward=on_page.inward,
        inward_words=inward_words(diagram) if moving else "",
        acceleration=accelerates,
        acceleration_words=words(on_page, accelerates) if accelerates is not None else "",
        settled=_is_settled(on_page, acceleration),
        forces=tuple(forces),
        angles=_angles(problem, diagram, angle, forces),
        surface={"level": 0.0, "bank": (360.0 - angle) % 180, "wall": 90.0}.get(diagram.surface or ""),
        surface_words=_surface_words(diagram, scene),
        second_axis=on_page.second if _needs_second(problem, diagram) else None,
        second_axis_label=on_page.second_label,
        second_axis_words=words(on_page, on_page.second),
    )


def _surface_words(diagram: Diagram, scene: Scene) -> str:
    """What the surface is: where it is level, what exerts the normal force."""
    words = _SURFACES.get(diagram.surface or "", "")
    carries = [each for each in diagram.forces if scene.kind_of(each) == _CARRIES and each.role in scene.forces]
    return scene.forces[carries[0].role].by if diagram.surface == "level" and carries else words


def _is_settled(on_page: Axes, acceleration: tuple[float, float]) -> bool:
    """Whether an acceleration (inward, second axis) points up or down for all numbers, or neither.

    On the lower half of a vertical circle it is up by its part towards the centre, and down by the one along the path.
    """
    inward, second = acceleration
    alone = ((abs(inward), on_page.page(inward, 0.0)), (abs(second), on_page.page(0.0, second)))
    upwards = [size * sin(radians(way)) for size, way in alone]
    return not (min(upwards) < -LEVEL and max(upwards) > LEVEL)


def redrawn(view: DiagramView, problem: Problem, changed: Diagram, scene: Scene) -> DiagramView:
    """The view with the forces of a changed diagram: arrows of the same names and lengths, fewer or other ways."""
    angle = typical_angle(problem, changed)
    on_page = axes(problem.motion.plane, changed, angle)
    known = {(force.name, force.agent): force for force in view.forces}
    forces = []
    for force in changed.forces:
        shown = force_words(scene, force.role)
        if shown is not None:
            page = on_page.page(*_parts(problem, changed, force, angle))
            arrow = known[placeless(changed, shown.name), shown.by]
            forces.append(replace(arrow, direction=page, direction_words=words(on_page, page)))
    return replace(view, forces=tuple(forces))


def _label(problem: Problem, diagram: Diagram, force: Force, symbol: str | None, notation: Notation) -> Node:
    """The symbol beside the arrow: that of the scene for a force with a law of its own, else the size."""
    if force.law in ("gravitation", "magnetic", "electric") and symbol:
        return printed_symbol(symbol)
    return notation.node(magnitude(problem, diagram, force))


def typical_angle(problem: Problem, diagram: Diagram) -> float:
    """The angle to draw, in degrees: the middle of its draws, kept between 18 and 55 so that it can be seen."""
    symbol = diagram.angle or diagram.tilt
    spec = problem.quantities.get(symbol or "")
    if spec is None or spec.draw is None:
        return 30.0
    middle = spec.draw.values[len(spec.draw.values) // 2]
    return min(max(degrees(float(middle) * spec.unit.factor), 18.0), 55.0)


def _parts(problem: Problem, diagram: Diagram, force: Force, angle: float) -> tuple[float, float]:
    values = _angle_values(problem, radians(angle))
    parts = {axis: float(evaluate(part, values)) for axis, part in components(diagram, force)}
    return parts.get("inward", 0.0), parts.get(second_axis(problem.motion.plane, diagram), 0.0)


def _angle_values(problem: Problem, angle: float) -> Mapping[str, float]:
    return {name: angle for name, spec in problem.quantities.items() if spec.unit.symbol in ("deg", "rad")}


def typical_sizes(problem: Problem, diagram: Diagram, angle: float) -> tuple[dict[str, float], tuple[float, float]]:
    """Sizes of the forces in weights, and the acceleration along (inward, second axis) in g, in a typical case.

    The unknown sizes and the acceleration are the least-squares compromise between the equations of motion (held
    firmly) and the wish that each is about one weight; a size below ``LEAST`` is raised to it and the rest redone.
    """
    free = [force for force in diagram.forces if force.law != "weight"]
    wished = dict.fromkeys(range(len(free)), 1.0)
    inward = 0.0 if diagram.spot == "rest" else 1.2
    firm = diagram.spot == "rest"
    for _ in range(len(free) + 2):
        solution = _least_squares(problem, diagram, free, angle, wished, (inward, firm))
        small = [place for place in range(len(free)) if solution[place] < LEAST and wished[place] == 1.0]
        if small:
            wished.update(dict.fromkeys(small, LEAST))
        elif solution[len(free)] < LEAST_INWARD and not firm:
            inward, firm = LEAST_INWARD, True
        else:
            break
    sizes = {force.role: max(float(size), 0.0) for force, size in zip(free, solution, strict=False)}
    sizes |= {force.role: 1.0 for force in diagram.forces if force.law == "weight"}
    return sizes, (float(solution[-2]), float(solution[-1]))


def _least_squares(
    problem: Problem,
    diagram: Diagram,
    free: list[Force],
    angle: float,
    wished: Mapping[int, float],
    inward: tuple[float, bool],
) -> NDArray[np.float64]:
    """Sizes of the free forces and the two parts of the acceleration; ``inward`` is wished for, or held where firm."""
    each = np.eye(len(free) + 2)
    rows, right = [], []
    for axis in (0, 1):
        row = np.zeros(len(free) + 2)
        for place, force in enumerate(free):
            row[place] = _parts(problem, diagram, force, angle)[axis]
        row[len(free) + axis] = -1.0
        weight = fsum(_parts(problem, diagram, other, angle)[axis] for other in diagram.forces if other.law == "weight")
        rows.append(row * _FIRM)
        right.append(-weight * _FIRM)
    for place, size in wished.items():
        care = 10.0 if size == LEAST else 1.0
        rows.append(each[place] * care)
        right.append(size * care)
    care = _FIRM if inward[1] else 1.0
    rows.append(each[len(free)] * care)
    right.append(inward[0] * care)
    if not problem.motion.tangential_acceleration or diagram.spot == "rest":
        rows.append(each[len(free) + 1] * _FIRM * _speed_is_held(problem, diagram))
        right.append(0.0)
    found = np.linalg.lstsq(np.array(rows), np.array(right), rcond=None)[0]
    return np.asarray(np.round(found, _SURE))  # its last digits are the processor's


def _speed_is_held(problem: Problem, diagram: Diagram) -> bool:
    """Whether the forces along the second axis add to zero; on a free vertical circle the weight changes the speed."""
    only_weight = all(
        not any(axis == "forward" for axis, _ in components(diagram, force))
        for force in diagram.forces
        if force.law != "weight"
    )
    return second_axis(problem.motion.plane, diagram) == "up" or not only_weight


def _needs_second(problem: Problem, diagram: Diagram) -> bool:
    return any(abs(_parts(problem, diagram, force, 30.0)[1]) > 0.01 for force in diagram.forces)


def _angles(problem: Problem, diagram: Diagram, angle: float, forces: Sequence[ForceView]) -> tuple[AngleView, ...]:
    """The angle of a force that leans inward, from the vertical; or that of the radius on a vertical circle."""
    if diagram.tilt:
        label = Notation().symbol(diagram.tilt)
        return (AngleView(label, 90.0 - angle, 90.0, f"{_spoken(label)} {_leaning(angle, forces)}"),)
    if diagram.angle:
        inward = axes(problem.motion.plane, diagram, angle).inward or 0.0
        vertical = 90.0 if diagram.angle_from == "bottom" else 270.0
        label = Notation().symbol(diagram.angle)
        start, end = sorted((inward, vertical))
        return (AngleView(label, start, end, f"{_spoken(label)} between the vertical and the radius"),)
    return ()


def _leaning(angle: float, forces: Sequence[ForceView]) -> str:
    """Between what the angle lies: it is told by name which force leans so, where another one leans otherwise."""
    inclined = [each for each in forces if abs(sin(radians(2 * each.direction))) > LEVEL]
    names = [each.name for each in inclined if abs(abs(each.direction - 90.0) - angle) < 1.0]
    if len(names) == 1:
        return f"between the vertical and the {names[0]}"
    return f"between the vertical and {'each' if len(names) > 1 else 'the'} inclined force"


def _spoken(symbol: Symbol) -> str:
    return {"θ": "theta", "φ": "phi", "α": "alpha", "β": "beta"}.get(symbol.base, symbol.base)
