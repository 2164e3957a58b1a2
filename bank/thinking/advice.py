"""The advice for a wrong answer: that of its mistake, or one that fits all where several mistakes lead to it."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence, Set

from ..model import edit as edits
from ..model.edit import Edit
from ..model.mistake import Mistake, likeliest_first
from ..writing.advice import BOTH, NEXT_MOVE, ONE, ONWARDS, OTHER_SIDE, PLACES, SEVERAL, WHICH_SIDE, Stage

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
    edits.RoundEdit: "radius",
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
        case edits.AngleEdit(what="radians"):
            return "calculator"
        case edits.ExchangeEdit(what="contact-friction"):
            return "forces"
        case edits.AngleEdit() | edits.ExchangeEdit():
            return "components"
    return STAGES[type(edit)]


def feedback(found: Sequence[Mistake]) -> str:
    """What to tell about a wrong answer that comes from some mistakes, at least one."""
    mistakes = likeliest_first(found)
    if len(mistakes) > 1:
        return SEVERAL.format(advice=advice(mistakes))
    return ONE.format(thought=mistakes[0].thinking, advice=mistakes[0].feedback)


def feedback_on_both(found: Sequence[Mistake]) -> str:
    """What to tell about a wrong answer that takes two ways of thinking at once."""
    return BOTH.format(advice=advice(likeliest_first(found)))


def feedback_on_the_centre(body: str) -> str:
    """What to tell about an equation in which every force is turned round: the centre is taken for elsewhere."""
    return ONE.format(thought=OTHER_SIDE.format(body=body), advice=WHICH_SIDE)


def advice_in(told: str) -> str:
    """The advice in feedback that was put together here; none in any other text."""
    return next((found[1] for opening in _OPENINGS if (found := opening.fullmatch(told))), "")


_OPENINGS = tuple(
    re.compile(
        re.escape(form.format(thought="THOUGHT", advice="ADVICE")).replace("THOUGHT", ".*?").replace("ADVICE", "(.*)")
    )
    for form in (ONE, SEVERAL)
)


def advice(mistakes: Sequence[Mistake]) -> str:
    """The advice of all of them where it is the same, else one that helps whichever of them it was."""
    own = {each.feedback for each in mistakes}
    return own.pop() if len(own) == 1 else _neutral({stage(each.edit) for each in mistakes})


def _neutral(stages: Set[Stage]) -> str:
    """What helps wherever in these stages the mistake was made: one check, from the first of them on."""
    if len(stages) == 1:
        return NEXT_MOVE[next(iter(stages))]
    return ONWARDS.format(place=next(place for each, place in PLACES.items() if each in stages))
