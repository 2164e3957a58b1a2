"""What is told of a mistake: thought and advice in the words of a scene, and what fits where several lead to a number.

The body of the scene, its forces and what exerts them fill the slots.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import replace

from ..item.item import Cause, Words
from ..language import capital
from ..model import edit as edits
from ..model.edit import Edit
from ..model.mistake import Mistake, likeliest_first
from ..model.once import once
from ..model.problem import Diagram, ForceWords, Scene
from ..model.wording import IN_GENERAL, Slot, force_words, in_phrases, pieces, with_article
from ..solving.solution import SolvedQuestion
from ..writing.advice import (
    BOTH,
    CHECK_UNIT,
    CHECK_UNITS,
    NEXT_MOVE,
    ONE,
    ONWARDS,
    OTHER_SENSE,
    OTHER_SIDE,
    PLACES,
    SEVERAL,
    WHICH_SENSE,
    WHICH_SIDE,
    Stage,
)
from ..writing.directions import placeless
from ..writing.letters import name_of
from ..writing.solution import asked_diagram
from .closed_form_edits import ratio_of_givens, squared_givens
from .force_edits import part_of

STAGES: Mapping[type[Edit], Stage] = {
    edits.DropEdit: "forces",
    edits.ReverseEdit: "forces",
    edits.ExtraForceEdit: "forces",
    edits.DiagramEdit: "forces",
    edits.DrawnEdit: "forces",
    edits.ContactEdit: "contact",
    edits.InwardContactEdit: "contact",
    edits.WeightPartEdit: "components",
    edits.FlattenEdit: "components",
    edits.AccelerationEdit: "acceleration",
    edits.DirectionEdit: "direction",
    edits.RelationEdit: "radius",
    edits.RoundEdit: "way-round",
    edits.IntervalEdit: "two-states",
    edits.EnergyEdit: "energy",
    edits.InsteadEdit: "last-step",
    edits.LimitEdit: "limit",
    edits.OutcomeEdit: "limit",
    edits.UnitEdit: "units",
    edits.AnswerEdit: "last-step",
    edits.FrictionEdit: "contact",
    edits.RatioEdit: "last-step",
    edits.PartsEdit: "components",
    edits.SquareEdit: "last-step",
    edits.GravityEdit: "last-step",
    edits.SumEdit: "last-step",
    edits.InverseEdit: "calculator",
    edits.ReportEdit: "last-step",
    edits.AnswerUnitEdit: "units",
    edits.ScalingEdit: "power",
    edits.PlottedEdit: "power",
    edits.WrittenEdit: "last-step",
}


def stage(edit: Edit) -> Stage:
    """The stage of the work at which an edit changes something. Raises KeyError for one that has no stage yet."""
    match edit:
        case edits.GivenEdit(role="radius" | "diameter" | "circumference"):
            return "radius"
        case edits.GivenEdit():
            return "given"
        case edits.RelationEdit(what="whole-length" | "arc-for-chord" as what):
            return "spring" if what == "whole-length" else "arc"
        case edits.AngleEdit(what="radians"):
            return "calculator"
        case edits.ExchangeEdit(what="contact-friction"):
            return "forces"
        case edits.AngleEdit() | edits.ExchangeEdit():
            return "components"
    return STAGES[type(edit)]


def cause(found: Sequence[Mistake], *, together: bool = False) -> Cause:
    """Where a wrong answer comes from: one of some mistakes, at least one, or all of them ``together``."""
    mistakes = likeliest_first(found)
    return Cause(tuple(Words(each.thinking) for each in mistakes), Words(advice(mistakes)), together)


def turned_all_round(body: str) -> Cause:
    """Where an equation comes from in which every force is turned round: the centre is taken for elsewhere."""
    return Cause((Words(OTHER_SIDE.format(body=body)),), Words(WHICH_SIDE))


def of_another_unit(mistake: Mistake) -> Cause:
    """Where an equation comes from whose right side has not the unit of its left side."""
    return Cause((Words(mistake.thinking),), Words(CHECK_UNIT))


def of_other_units(mistakes: Sequence[Mistake]) -> Cause:
    """Where an equation comes from in which several letters together make the units of its sides differ."""
    return Cause(tuple(Words(each.thinking) for each in mistakes), Words(CHECK_UNITS), together=True)


def of_other_sense(force: str) -> Cause:
    """Where an equation comes from in which a force has a minus sign though its letter may be negative itself."""
    return Cause((Words(capital(OTHER_SENSE.format(force=force))),), Words(WHICH_SENSE.format(force=force)))


def feedback(why: Cause) -> str:
    """What to tell the candidate about a wrong answer that comes from there."""
    if why.together:
        return BOTH.format(advice=why.advice.text)
    if len(why.thoughts) > 1:
        return SEVERAL.format(advice=why.advice.text)
    return ONE.format(thought=why.thoughts[0].text, advice=why.advice.text)


def advice(mistakes: Sequence[Mistake]) -> str:
    """The advice of all of them where it is the same, else one that helps whichever of them it was."""
    own = {each.feedback for each in mistakes}
    return own.pop() if len(own) == 1 else _neutral({stage(each.edit) for each in mistakes})


def _neutral(stages: Set[Stage]) -> str:
    """What helps wherever in these stages the mistake was made: one check, from the first of them on."""
    if len(stages) == 1:
        return NEXT_MOVE[next(iter(stages))]
    return ONWARDS.format(place=next(place for each, place in PLACES.items() if each in stages))


# --- in the words of a scene ---


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
