"""Checks that the schema cannot make: names, dimensions, draws and words fit together inside one problem."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import sympy
from turnwright.bank import constants
from turnwright.bank.dimension import UnequalDimensionsError, same_dimension
from turnwright.bank.document import Path_
from turnwright.bank.expression import Relation, parse
from turnwright.bank.problem import Diagram, Force, Problem, QuantitySpec, Question, Scene
from turnwright.bank.quantity import round_figures
from turnwright.bank.unit import Unit, examples_of, unit
from turnwright.bank.wording import Slot, pieces, word

_ROLE_UNITS = {
    "radius": "m",
    "speed": "m/s",
    "angular_speed": "rad/s",
    "period": "s",
    "frequency": "Hz",
    "acceleration": "m/s^2",
    "tangential_acceleration": "m/s^2",
    "mass": "kg",
    "angle": "deg",
    "tilt": "deg",
}


def check_consistency(problem: Problem) -> None:
    """Note every inconsistency of the problem in its document."""
    if not _symbols_are_known(problem):
        return
    _roles_have_their_dimension(problem)
    _forces_are_unit_vectors(problem)
    _relations_are_homogeneous(problem)
    _quantities_can_be_drawn(problem)
    for scene in problem.scenes:
        _scene_has_its_words(problem, scene)
    for question in problem.questions:
        _question_is_complete(problem, question)
        _stem_prints_what_is_given(problem, question)


def units_of(problem: Problem) -> Mapping[str, Unit]:
    """The unit of every symbol, g included."""
    return {"g": unit("N/kg"), **{name: spec.unit for name, spec in problem.quantities.items()}}


# --- symbols and dimensions -------------------------------------------------------------------


def _role_symbols(problem: Problem) -> Iterator[tuple[Path_, str, str]]:
    for role, unit_symbol in _ROLE_UNITS.items():
        name = getattr(problem.motion, role, None)
        if name:
            yield ("motion", role.replace("_", "-")), name, unit_symbol
    for diagram in problem.diagrams:
        path = ("diagrams", diagram.name)
        for role in ("mass", "speed", "radius", "angle", "tilt"):
            name = getattr(diagram, role)
            if name:
                yield (*path, role if role != "angle" else "at"), name, _ROLE_UNITS[role]
        for force in diagram.forces:
            here = (*path, "forces", force.role)
            if force.symbol:
                yield (*here, "symbol"), force.symbol, "N"
            for key, name, unit_symbol in (
                ("centre-mass", force.centre_mass, "kg"),
                ("charge", force.charge, "C"),
                ("field", force.field, "T"),
            ):
                if name:
                    yield (*here, key), name, unit_symbol


def _formulas(problem: Problem) -> Iterator[tuple[Path_, sympy.Expr, sympy.Expr]]:
    for kind, key, reasons in (("relations", "equation", problem.relations), ("holds", "that", problem.holds)):
        for at, reason in enumerate(reasons):
            yield (kind, at, key), reason.relation.left, reason.relation.right
    for question in problem.questions:
        if question.limiting:
            yield ("questions", question.name, "limiting"), question.limiting.left, question.limiting.right


def _all_names(problem: Problem) -> Iterator[tuple[Path_, str]]:
    for path, name, _ in _role_symbols(problem):
        yield path, name
    for path, left, right in _formulas(problem):
        yield from ((path, symbol.name) for symbol in sorted((left - right).free_symbols, key=str))
    for diagram in problem.diagrams:
        for force in diagram.forces:
            for axis, part in force.components:
                here = ("diagrams", diagram.name, "forces", force.role, "components", axis)
                yield from ((here, symbol.name) for symbol in sorted(parse(part).free_symbols, key=str))
    for at, energy in enumerate(problem.energies):
        for end, level in (("from", energy.start), ("to", energy.end)):
            for key in ("height", "speed"):
                formula = parse(getattr(level, key))
                yield from ((("energy", at, end, key), symbol.name) for symbol in sorted(formula.free_symbols, key=str))
    for question in problem.questions:
        path = ("questions", question.name)
        yield (*path, "ask"), question.ask
        yield from (((*path, "given"), name) for name in question.given)
        yield from (((*path, "extra"), name) for name in question.extra)


def _symbols_are_known(problem: Problem) -> bool:
    known = set(problem.quantities)
    right = "add it to 'quantities' with its unit"
    for path, name in _all_names(problem):
        if name not in known and name != "g":
            problem.document.fault(path, f"the symbol '{name}' is not defined", right)
    if "g" in known:
        problem.document.fault(("quantities", "g"), "g is stated by the pack", "remove it", key=True)
    for diagram in problem.diagrams:
        for force in diagram.forces:
            if force.law == "gravitation" and not (force.centre_mass and "G" in known and _radius(problem, diagram)):
                path = ("diagrams", diagram.name, "forces", force.role)
                problem.document.fault(
                    path, "gravitation lacks a symbol", "name centre-mass, a radius and the quantity G"
                )
            if force.law == "magnetic" and not (force.charge and force.field and _speed(problem, diagram)):
                path = ("diagrams", diagram.name, "forces", force.role)
                problem.document.fault(path, "the magnetic force lacks a symbol", "name charge, field and a speed")
    return not problem.document.faults


def _speed(problem: Problem, diagram: Diagram) -> str | None:
    return diagram.speed or problem.motion.speed


def _radius(problem: Problem, diagram: Diagram) -> str | None:
    return diagram.radius or problem.motion.radius


def _roles_have_their_dimension(problem: Problem) -> None:
    for _, name, unit_symbol in _role_symbols(problem):
        found, expected = problem.quantities[name].unit, unit(unit_symbol)
        if found.dimension != expected.dimension:
            wrong = f"found '{found.symbol}'"
            right = f"expected a unit such as {examples_of(expected.dimension)}"
            problem.document.fault(("quantities", name, "unit"), wrong, right)


def _forces_are_unit_vectors(problem: Problem) -> None:
    for diagram in problem.diagrams:
        allowed = ("inward", "up") if problem.motion.plane == "horizontal" else ("inward", "forward")
        allowed = ("up",) if diagram.spot == "rest" else allowed
        for force in diagram.forces:
            path = ("diagrams", diagram.name, "forces", force.role)
            strange = [axis for axis, _ in force.components if axis not in allowed]
            if strange:
                problem.document.fault(
                    path, f"found the axis '{strange[0]}'", f"here the axes are {' and '.join(allowed)}"
                )
            elif force.components and not _is_unit(force):
                squares = " + ".join(f"({part})²" for _, part in force.components)
                problem.document.fault(path, f"{squares} is not 1", "check sine and cosine of the components")


def _is_unit(force: Force) -> bool:
    total = sum(parse(part) ** 2 for _, part in force.components)
    # three angles tell sine from cosine and a sign apart; no algebra is needed for a yes or no
    samples = (dict.fromkeys(total.free_symbols, angle) for angle in (0.3, 0.7, 1.1))
    return all(abs(complex(total.subs(sample)) - 1) < 1e-9 for sample in samples)


def _relations_are_homogeneous(problem: Problem) -> None:
    units = units_of(problem)
    for path, left, right in _formulas(problem):
        try:
            same_dimension((left, right), units)
        except UnequalDimensionsError as error:
            problem.document.fault(path, str(error), "both sides of a relation, and all its terms, have one dimension")


# --- numbers ----------------------------------------------------------------------------------


def _quantities_can_be_drawn(problem: Problem) -> None:
    for name, spec in problem.quantities.items():
        path: Path_ = ("quantities", name)
        if spec.constant:
            _constant_is_known(problem, path, spec)
        _figures_hold_draws(problem, path, spec)
    for scene in problem.scenes:
        for name, spec in scene.quantities.items():
            path = ("scenes", scene.name, "quantities", name)
            if spec.unit.dimension != problem.quantities[name].unit.dimension:
                right = f"expected a unit such as {examples_of(problem.quantities[name].unit.dimension)}"
                problem.document.fault((*path, "unit"), f"found '{spec.unit.symbol}'", right)
            _figures_hold_draws(problem, path, spec)


def _constant_is_known(problem: Problem, path: Path_, spec: QuantitySpec) -> None:
    known = constants.known(spec.constant or "")
    if known is None:
        right = f"use a CODATA name such as '{constants.EXAMPLE}'"
        problem.document.fault((*path, "constant"), f"no CODATA constant is called '{spec.constant}'", right)
    elif known.dimension != spec.unit.dimension:
        problem.document.fault((*path, "unit"), f"found '{spec.unit.symbol}'", "expected the unit of the constant")


def _figures_hold_draws(problem: Problem, path: Path_, spec: QuantitySpec) -> None:
    for value in spec.draw.values if spec.draw else ():
        if round_figures(value, spec.figures) != value:
            wrong = f"{value} can't be printed with {spec.figures} figures"
            problem.document.fault(
                (*path, "draw"), wrong, f"raise 'figures' to {len(value.normalize().as_tuple().digits)}"
            )
            return
        if value <= 0 and spec.positive:
            problem.document.fault((*path, "draw"), f"found {value}", "expected values above 0, or 'sign: any'")
            return
    if spec.plausible and spec.plausible[0] >= spec.plausible[1]:
        problem.document.fault((*path, "plausible"), "the range is empty", "'from' is less than 'to'")


# --- words ------------------------------------------------------------------------------------


def _scene_has_its_words(problem: Problem, scene: Scene) -> None:
    path: Path_ = ("scenes", scene.name)
    for body in sorted({diagram.body for diagram in problem.diagrams} - set(scene.words)):
        problem.document.fault((*path, "words"), f"the body '{body}' has no word here", f"add '{body}: a ...'")
    roles = {force.role for diagram in problem.diagrams for force in diagram.forces if force.law != "weight"}
    for role in sorted(roles - set(scene.forces)):
        wrong = f"the force '{role}' has no name here"
        problem.document.fault(
            (*path, "words"), wrong, f"add '{role}: {{name: ..., by: ..., acts: ...}}' under 'forces'"
        )
    for role in sorted(set(scene.forces) - roles):
        problem.document.fault((*path, "forces", role), "no diagram has this force", "remove it", key=True)
    _slots_are_words(problem, scene, scene.story, (*path, "story"))
    for at, reason in enumerate(problem.holds):
        _slots_are_words(problem, scene, reason.because, ("holds", at, "because"))
    printed = [words.symbol for words in scene.forces.values() if words.symbol]
    shown = printed + [name for name in problem.quantities if not _renamed(problem, scene, name)]
    for name in sorted({name for name in shown if shown.count(name) > 1}):
        problem.document.fault((*path, "forces"), f"two quantities are printed as '{name}'", "give one another symbol")


def _renamed(problem: Problem, scene: Scene, symbol: str) -> bool:
    forces = (force for diagram in problem.diagrams for force in diagram.forces if force.symbol == symbol)
    return any(scene.forces[force.role].symbol for force in forces if force.role in scene.forces)


def _slots_are_words(problem: Problem, scene: Scene, template: str, path: Path_) -> None:
    for slot in (piece for piece in pieces(template) if isinstance(piece, Slot)):
        if word(slot, scene) is None:
            wrong = f"the slot '{{{(slot.mode + ' ' + slot.name).strip()}}}' means nothing in the scene '{scene.name}'"
            problem.document.fault(path, wrong, "use a word or a force of the scene, as in {the load} or {by contact}")


# --- questions --------------------------------------------------------------------------------


def _question_is_complete(problem: Problem, question: Question) -> None:
    path: Path_ = ("questions", question.name)
    document = problem.document
    for at, name in enumerate(question.scenes):
        if name not in {scene.name for scene in problem.scenes}:
            document.fault((*path, "scenes", at), f"no scene is called '{name}'", "name a scene of this file")
            return
    if question.ask in (*question.given, *question.extra):
        document.fault((*path, "ask"), f"'{question.ask}' is given", "ask for something else")
    if question.diagram and question.diagram not in {diagram.name for diagram in problem.diagrams}:
        document.fault((*path, "diagram"), f"no diagram is called '{question.diagram}'", "name a diagram of this file")
    if question.unit and question.unit.dimension != problem.quantities[question.ask].unit.dimension:
        right = f"expected a unit such as {examples_of(problem.quantities[question.ask].unit.dimension)}"
        document.fault((*path, "unit"), f"found '{question.unit.symbol}'", right)
    for scene in problem.scenes_of(question):
        for name in (*question.given, *question.extra):
            spec = problem.spec(name, scene)
            if spec.draw is None and spec.constant is None:
                document.fault((*path, "given"), f"'{name}' has no values to draw", f"add 'draw' to quantities.{name}")
                return
        if problem.answer_spec(question, scene).plausible is None:
            wrong = f"no plausible range is stated for '{question.ask}' in the scene '{scene.name}'"
            document.fault(
                (*path, "ask"), wrong, f"add 'plausible' to quantities.{question.ask}, the scene or the question"
            )
            return
    if question.limiting and not any(_is_edge(question.limiting, reason.relation) for reason in problem.holds):
        right = "it is the edge of one of 'holds': for N >= 0 it is N = 0"
        document.fault((*path, "limiting"), "this is no edge of what holds", right)


def _is_edge(limiting: Relation, hold: Relation) -> bool:
    gap, edge = limiting.left - limiting.right, hold.left - hold.right
    return limiting.sign == "=" and bool(sympy.expand(gap - edge) == 0 or sympy.expand(gap + edge) == 0)


def _stem_prints_what_is_given(problem: Problem, question: Question) -> None:
    path: Path_ = ("questions", question.name, "stem")
    wanted = set(question.given) | set(question.extra)
    printed = set()
    for slot in (piece for piece in pieces(question.stem) if isinstance(piece, Slot)):
        if slot.mode == "symbol" and slot.name in problem.quantities:
            continue
        if not slot.mode and slot.name in wanted:
            printed.add(slot.name)
            continue
        for scene in problem.scenes_of(question):
            if word(slot, scene) is None:
                shown = f"{{{(slot.mode + ' ' + slot.name).strip()}}}"
                wrong = f"the slot '{shown}' means nothing in the scene '{scene.name}'"
                problem.document.fault(path, wrong, "use a given quantity, a word or a force of the scene")
                break
    for name in sorted(wanted - printed - {"g"}):
        problem.document.fault(path, f"the given '{name}' is not printed", f"add the slot {{{name}}}")
