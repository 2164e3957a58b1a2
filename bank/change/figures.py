"""Whether a force diagram changed: its forces, which are the key of questions about it, or only how it is drawn."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import sympy

from ..model.expression import parse
from ..model.problem import Diagram, Force, Problem, Scene
from .changes import Change, Pair
from .letters import is_same_value, relettered


def about_problem(old: Problem, new: Problem, letters: Mapping[str, str]) -> Iterator[Change]:
    """The diagrams that came, went or changed, and the sketches that show something else."""
    shown = {scene.name: _seen(scene) for scene in old.scenes}
    for scene in new.scenes:
        before, after = shown.get(scene.name, ""), _seen(scene)
        if scene.name in shown and before != after:
            yield Change("figure", f"sketch of the scene {scene.name}", before or "none", after or "none")
    yield from _about_diagrams(old, new, letters)


def _seen(scene: Scene) -> str:
    """What the sketch of a scene shows, in words."""
    sketch = scene.sketch
    marks = "".join(f", {role} {symbol}" for role, symbol in sketch.marks.items()) if sketch else ""
    return f"{sketch.look} in {sketch.setting}{marks}" if sketch else ""


def _about_diagrams(old: Problem, new: Problem, letters: Mapping[str, str]) -> Iterator[Change]:
    before, after = ({each.name: each for each in problem.diagrams} for problem in (old, new))
    for name in [*before, *(each for each in after if each not in before)]:
        if name not in before or name not in after:
            yield Change("figure", f"diagram {name} is {'gone' if name in before else 'new'}")
            continue
        first, second = before[name], after[name]
        if not _has_same_forces(first, second, letters) or old.motion.plane != new.motion.plane:
            yield Change("key", f"forces in the diagram {name}", _forces(first), _forces(second), needs_version=True)
            continue
        for old_force, new_force in _of_another_kind(first, second):
            what = f"kind of the force {old_force.role} in the diagram {name}"
            yield Change("key", what, old_force.kind, new_force.kind, needs_version=True)
        if _drawn(first, letters) != _drawn(second, {}):
            yield Change("figure", f"drawing of the diagram {name}", _told(first), _told(second))


def about_question(pair: Pair) -> Iterator[Change]:
    """The diagram that is shown with a question, where it is another one."""
    old, new = pair.old_problem.diagram(pair.old.diagram), pair.new_problem.diagram(pair.new.diagram)
    before, after = (each.name if each else "none" for each in (old, new))
    if before != after:
        yield Change("figure", "shown diagram", before, after)


def _has_same_forces(old: Diagram, new: Diagram, letters: Mapping[str, str]) -> bool:
    before, after = ({each.role: each for each in diagram.forces} for diagram in (old, new))
    if before.keys() != after.keys() or (old.spot, old.angle_from) != (new.spot, new.angle_from):
        return False
    return all(_is_same_force(before[role], after[role], letters) for role in before)


def _of_another_kind(old: Diagram, new: Diagram) -> Iterator[tuple[Force, Force]]:
    """The forces of an unchanged diagram that state another kind, which decides what happens at a limit."""
    after = {force.role: force for force in new.forces}
    return ((force, after[force.role]) for force in old.forces if force.kind != after[force.role].kind)


def _is_same_force(old: Force, new: Force, letters: Mapping[str, str]) -> bool:
    before, after = (dict(each.components) for each in (old, new))
    if old.law != new.law or before.keys() != after.keys():
        return False
    return all(is_same_value(relettered(_formula(before[axis]), letters), _formula(after[axis])) for axis in before)


def _formula(text: str) -> sympy.Expr:
    return parse(str(text))


def _forces(diagram: Diagram) -> str:
    told = (
        f"{force.role} ({', '.join(f'{axis} {part}' for axis, part in force.components) or force.law})"
        for force in diagram.forces
    )
    return f"{', '.join(told)}, {diagram.spot}"


def _drawn(diagram: Diagram, letters: Mapping[str, str]) -> tuple[str | None, ...]:
    return letters.get(diagram.tilt or "", diagram.tilt), diagram.surface, diagram.body


def _told(diagram: Diagram) -> str:
    return ", ".join(f"{part} {each}" for part in ("body", "tilt", "surface") if (each := getattr(diagram, part)))
