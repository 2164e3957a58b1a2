"""A problem's force diagrams can become equations: places, axes, unit vectors, radius, speed, the kinds of forces."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ...documents.document import Path_
from ...language import either, listed
from ...model.bounds import Ceiling, ceiling_of, kinds_of
from ...model.evaluation import evaluate
from ...model.expression import names_in, parse
from ...model.problem import Diagram, Force, ForceKind, Problem, Scene

_AXES = {"vertical": ("inward", "forward"), "horizontal": ("inward", "up"), "space": ("inward", "forward")}
_CIRCLES = {"horizontal": ("a level circle", "level"), "space": ("a circle in space", "space")}
_SAMPLES = (0.31, 0.72, 1.13)  # radians; three angles tell sine from cosine, and one angle from another


def check_model(problem: Problem) -> None:
    """Note diagrams that make no equations."""
    if problem.motion.plane == "horizontal" and problem.motion.tangential_acceleration and problem.diagrams:
        path = ("motion", "tangential-acceleration")
        wrong = "the forces on a level circle are those of a steady speed"
        problem.document.fault(path, wrong, "leave it out", key=True)
    _motion_names_what_belongs_together(problem)
    for diagram in problem.diagrams:
        _place_suits_plane(problem, diagram)
        _laws_have_their_symbols(problem, diagram)
        _circle_has_radius_and_speed(problem, diagram)
        for force in diagram.forces:
            _force_is_unit_vector(problem, diagram, force)
    _energies_have_their_quantities(problem)
    _signs_are_right(problem)


# each with what it belongs to, of which one at least has to be named, the usual one first
_GOES_WITH: Mapping[str, tuple[str, ...]] = {
    "diameter": ("radius",),
    "circumference": ("radius",),
    "turns": ("duration", "angle-turned"),
    "duration": ("turns", "angle-turned", "angular-acceleration", "angular-deceleration"),
    "angle-turned": ("duration", "turns", "arc", "displacement", "angular-acceleration", "angular-deceleration"),
    "arc": ("angle-turned",),
    "displacement": ("angle-turned",),
    "initial-angular-speed": ("angular-acceleration", "angular-deceleration"),
    "initial-speed": ("initial-angular-speed",),
}
_NOT_WITH: Mapping[str, tuple[str, ...]] = {
    "angular-deceleration": ("angular-acceleration", "period", "frequency"),
    "angular-acceleration": ("period", "frequency"),
}


def _motion_names_what_belongs_together(problem: Problem) -> None:
    """A diameter is twice a radius that has a name, turns are counted in a time, and two states have a change."""
    if not problem.document.is_sound("motion"):
        return
    named = {role.replace("_", "-") for role, symbol in vars(problem.motion).items() if symbol}
    for role in (each for each in _GOES_WITH if each in named):
        if named.isdisjoint(_GOES_WITH[role]):
            other = _GOES_WITH[role][0]
            wrong = f"'{role}' stands without the '{other}' that it belongs to"
            problem.document.fault(("motion", role), wrong, f"add '{other}' with its symbol", key=True)
    for role in (each for each in ("arc", "displacement") if each in named and "radius" not in named):
        wrong = f"'{role}' stands without the 'radius' that it belongs to"
        problem.document.fault(("motion", role), wrong, "add 'radius' with its symbol", key=True)
    for role in (each for each in _NOT_WITH if each in named):
        for other in (each for each in _NOT_WITH[role] if each in named):
            wrong = f"'{other}' stands beside '{role}', and a motion that changes so has none"
            problem.document.fault(("motion", other), wrong, "leave it out", key=True)
    if problem.motion.changes and problem.diagrams:
        role = "angular-acceleration" if problem.motion.angular_acceleration else "angular-deceleration"
        right = "leave it out, or ask for the motion alone, without 'diagrams'"
        problem.document.fault(("motion", role), "the forces are those of a steady speed", right, key=True)


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
        stated = force.distance or diagram.radius or motion.radius
        apart = ("a radius", stated or not document.is_sound("motion") or not document.is_sound(*path, "distance"))
        needed = {
            "gravitation": (
                ("'centre-mass'", force.centre_mass or not document.is_sound(*path, "centre-mass")),
                apart,
                ("the quantity G", "G" in document.names("quantities")),
            ),
            "electric": (
                ("'charge'", force.charge or not document.is_sound(*path, "charge")),
                ("'centre-charge'", force.centre_charge or not document.is_sound(*path, "centre-charge")),
                apart,
                ("the quantity k", "k" in document.names("quantities")),
            ),
            "magnetic": (
                ("'charge'", force.charge or not document.is_sound(*path, "charge")),
                ("'field'", force.field or not document.is_sound(*path, "field")),
                ("a speed", diagram.speed or motion.speed or not document.is_sound("motion")),
            ),
        }.get(force.law or "", ())
        lacking = [what for what, there in needed if not there]
        if lacking:
            size = {"gravitation": "G M m/r^2", "magnetic": "q v B", "electric": "k Q q/r^2"}[force.law or ""]
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
        wrong, right = (
            "nothing says how fast the body goes round",
            "add 'speed: v', 'angular-speed: omega' or 'period: T'",
        )
        if motion.frequency:
            wrong = "the frequency alone does not stand in the equation of motion, which has m*v**2/r"
            right = "add 'speed: v' here and v to 'quantities'; the speed then follows from the frequency"
        problem.document.fault(("motion",), wrong, right)


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
            high = place.spot in ("top", "side", "angle") or energy.over_centre
            if high and not (place.radius or problem.motion.radius):
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


_NAMES: Mapping[ForceKind, str] = {
    "normal": "a normal force",
    "tension": "a tension",
    "friction": "friction",
    "spring": "the force of a spring",
    "lift": "a lift",
    "support": "a support",
    "contact": "a contact force",
    "weight": "the weight",
    "gravitation": "gravitation",
    "magnetic": "a magnetic force",
    "electric": "an electric force",
}
_VERBS: Mapping[ForceKind, tuple[str, ...]] = {
    "normal": ("pushes", "holds", "carries"),
    "tension": ("pulls", "holds", "carries"),
    "friction": ("grips", "holds", "carries"),
    "spring": ("pulls", "pushes", "holds", "carries"),
    "lift": ("pushes", "holds", "carries"),
    "support": ("pulls", "pushes", "holds", "carries"),
    "gravitation": ("pulls", "holds"),
    "magnetic": ("pulls", "pushes", "holds"),
    "electric": ("pulls", "holds"),
}
_ONE_WAY: Mapping[ForceKind, str] = {
    "normal": "a normal force can only push",
    "tension": "a tension can only pull",
    "contact": "a normal force can only push, and a tension only pull",
}


def check_kinds(problem: Problem) -> None:
    """Note kinds that contradict each other, what holds, or what a scene says."""
    for diagram, force in _forces(problem):
        _a_role_has_one_kind(problem, diagram, force)
        _size_has_the_sign(problem, force)
    _friction_has_its_ceiling(problem)
    for scene in problem.scenes:
        for force in {each.role: each for _, each in _forces(problem)}.values():
            if force.role in scene.forces and _kind_is_known(problem, force.role):
                _scene_states_what_is_open(problem, scene, force)
                _scene_says_what_it_does(problem, scene, force)


def _forces(problem: Problem) -> Iterator[tuple[Diagram, Force]]:
    return ((diagram, force) for diagram in problem.diagrams for force in diagram.forces)


def _path(diagram: Diagram, force: Force) -> Path_:
    return ("diagrams", diagram.name, "forces", force.role)


def _kind_is_known(problem: Problem, role: str) -> bool:
    """Whether nothing is wrong with this force in any diagram, so that its kind can be held against other things."""
    return all(problem.document.is_sound(*_path(*each)) for each in _forces(problem) if each[1].role == role)


def _a_role_has_one_kind(problem: Problem, diagram: Diagram, force: Force) -> None:
    first = next((where, each) for where, each in _forces(problem) if each.role == force.role)
    if first[1].kind != force.kind and _kind_is_known(problem, force.role):
        wrong = (
            f"'{force.role}' is {_NAMES[force.kind]} here and {_NAMES[first[1].kind]} in the diagram '{first[0].name}'"
        )
        field = "law" if force.law else "kind"
        problem.document.fault((*_path(diagram, force), field), wrong, "a scene names it once: give it one kind")


def _size_has_the_sign(problem: Problem, force: Force) -> None:
    spec = problem.quantities.get(force.symbol or "")
    path = ("quantities", force.symbol or "", "sign")
    if force.kind in _ONE_WAY and spec and not spec.positive and problem.document.is_sound(*path):
        wrong = f"{_ONE_WAY[force.kind]}, so '{spec.symbol}' is never negative"
        problem.document.fault(path, wrong, "leave 'sign' out, or state 'kind: support' for what can do both", key=True)


def _friction_has_its_ceiling(problem: Problem) -> None:
    if not problem.document.is_sound("holds"):
        return
    ceilings = [ceiling_of(problem, each.relation) for each in problem.holds]
    for at, ceiling in enumerate(ceilings):
        if ceiling and "friction" not in kinds_of(problem, ceiling.bounded):
            _refuse_ceiling(problem, ("holds", at, "that"), ceiling)
    bounded = {each.bounded for each in ceilings if each}
    for diagram, force in _forces(problem):
        if force.kind == "friction" and force.symbol not in bounded and _kind_is_known(problem, force.role):
            right = f"add 'that: {force.symbol} <= mu*N' under 'holds', with N for the normal force"
            problem.document.fault((*_path(diagram, force), "kind"), "this friction has no ceiling", right)


def _refuse_ceiling(problem: Problem, path: Path_, ceiling: Ceiling) -> None:
    roles = {force.role for _, force in _forces(problem) if force.symbol == ceiling.bounded}
    if not all(_kind_is_known(problem, role) for role in roles):
        return
    kind = _NAMES[next(iter(sorted(kinds_of(problem, ceiling.bounded))))]
    wrong = f"'{ceiling.bounded}' has a ceiling by '{ceiling.pressing}', as friction has, and it is {kind}"
    problem.document.fault(path, wrong, "state 'kind: friction' for it, or bound it by something else")


def _scene_states_what_is_open(problem: Problem, scene: Scene, force: Force) -> None:
    path: Path_ = ("scenes", scene.name, "forces", force.role)
    if not problem.document.is_sound(*path, "kind"):
        return
    stated = scene.forces[force.role].kind
    if force.kind == "contact" and stated is None:
        right = "add 'kind: tension' or 'kind: normal'"
        problem.document.fault(path, "this scene does not say which kind of contact this is", right)
    elif force.kind != "contact" and stated:
        wrong = f"the diagram says already that it is {_NAMES[force.kind]}"
        right = "leave 'kind' out, or state 'kind: contact' in the diagram"
        problem.document.fault((*path, "kind"), wrong, right, key=True)


def _scene_says_what_it_does(problem: Problem, scene: Scene, force: Force) -> None:
    path: Path_ = ("scenes", scene.name, "forces", force.role)
    verbs = _VERBS.get(scene.kind_of(force), ())
    if verbs and scene.forces[force.role].acts not in verbs and problem.document.is_sound(*path):
        wrong = f"{_NAMES[scene.kind_of(force)]} never {scene.forces[force.role].acts}"
        problem.document.fault((*path, "acts"), wrong, f"expected {either(verbs)}, or another kind")
