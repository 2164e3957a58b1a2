"""The advice for a wrong answer: that of its mistake, or one that fits all where several mistakes lead to it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set

from ..item.item import Cause, Words
from ..model import edit as edits
from ..model.edit import Edit
from ..model.mistake import Mistake, likeliest_first
from ..writing.advice import BOTH, CHECK_UNIT, NEXT_MOVE, ONE, ONWARDS, OTHER_SIDE, PLACES, SEVERAL, WHICH_SIDE, Stage

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
    edits.EnergyEdit: "energy",
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
    edits.WrittenEdit: "last-step",
}


def stage(edit: Edit) -> Stage:
    """The stage of the work at which an edit changes something. Raises KeyError for one that has no stage yet."""
    match edit:
        case edits.GivenEdit(role="radius" | "diameter" | "circumference"):
            return "radius"
        case edits.GivenEdit():
            return "given"
        case edits.RelationEdit(what="whole-length"):
            return "spring"
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
