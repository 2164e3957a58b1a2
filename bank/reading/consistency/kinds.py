"""The kind of each force agrees with what holds, with the sign of its size, and with what each scene says it does."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ...documents.document import Path_
from ...language import either
from ...mechanics.bounds import Ceiling, ceiling_of, kinds_of
from ...model.problem import Diagram, Force, ForceKind, Problem, Scene

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
