"""Mistakes in the words of a scene: its body, its forces and what exerts them fill the slots of thought and advice."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from ..model.mistake import Mistake
from ..model.once import once
from ..model.problem import Diagram, ForceWords, Scene
from ..model.wording import IN_GENERAL, Slot, force_words, in_phrases, pieces, with_article
from ..solving.solution import SolvedQuestion
from ..writing.directions import placeless
from ..writing.letters import name_of
from ..writing.solution import asked_diagram
from .closed_form_edits import ratio_of_givens, squared_givens
from .force_edits import part_of


def told(mistake: Mistake, phrases: Mapping[str, str]) -> Mistake:
    """The mistake with these phrases in its slots."""
    if mistake.written is None:
        return mistake
    thinking, feedback = (in_phrases(each, phrases) for each in mistake.written)
    return replace(mistake, thinking=thinking, feedback=feedback)


def told_in(solved: SolvedQuestion, scene: Scene, mistakes: Iterable[Mistake]) -> tuple[Mistake, ...]:
    """Mistakes that are made in a question, in the words of one of its scenes."""
    phrases = once(solved, ("phrases", scene.name), lambda: _of_question(solved, scene))
    return tuple(told(each, phrases) for each in mistakes)


def _of_question(solved: SolvedQuestion, scene: Scene) -> Mapping[str, str]:
    both = [with_article(scene.words[each], "the") for each in _compared(solved, scene)]
    named = {"both": " and ".join(both)} if both else {}
    radius = solved.problem.motion.radius
    named |= {"radius": f"a {name_of(solved.problem, scene, radius)}"} if radius else {}
    squares = [f"a {name_of(solved.problem, scene, each)}" for each in squared_givens(solved)]
    named |= {"squared": squares[0], "last-squared": squares[-1]} if squares else {}
    return {**phrases_of(scene, asked_diagram(solved)), **named}


def _compared(solved: SolvedQuestion, scene: Scene) -> list[str]:
    """The words of the two bodies whose ratio stands in the answer; none where there is no such ratio."""
    masses = {each.mass: each.body for each in solved.problem.diagrams}
    found: dict[str, None] = {}
    for symbol in ratio_of_givens(solved):
        means = pieces(solved.problem.quantities[symbol].means)
        slots = [each.name for each in means if isinstance(each, Slot)] or [masses.get(symbol, "")]
        found |= dict.fromkeys(each for each in slots if each in scene.words)
    return list(found) if len(found) == 2 else []


def phrases_of(scene: Scene, diagram: Diagram | None) -> Mapping[str, str]:
    """The phrases of a scene, for the body and the forces of a diagram; in general words what it does not have."""
    own = {each: scene.words[each] for each in ("body", "arm", "first", "second", "inner") if each in scene.words}
    return {**IN_GENERAL, **own, **(dict(_of_diagram(scene, diagram)) if diagram else {})}


def _of_diagram(scene: Scene, diagram: Diagram) -> Iterator[tuple[str, str]]:
    yield "body", scene.words[diagram.body]
    parts: dict[str, ForceWords] = {}
    for force in diagram.forces:
        words = force_words(scene, force.role)
        if words and force.law != "weight":
            parts.setdefault(part_of(diagram, force), words)
    parts = {"hold": next(iter(parts.values())), **parts} if parts else parts
    for part, (name, agent) in _SLOTS.items():
        if part in parts:
            yield name, f"a {placeless(diagram, parts[part].name)}"
            yield agent, parts[part].by


# the part that a force plays in a diagram, with the slots of its name and of what exerts it
_SLOTS = {"hold": ("hold", "holder"), "floor": ("support", "carrier"), "friction": ("friction", "gripper")}
