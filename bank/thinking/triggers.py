"""What a question must have before anybody can think so: no diameter is taken for the radius where none is given.

A mistake of the catalogue names its trigger as ``needs``. Those of numbers are looked for in the solved question, those
of thoughts in the motion at the place of a diagram.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from sympy import Symbol

from ..mechanics.equations import rates
from ..model.expression import names_outside_functions
from ..model.mistake import Mistake, Trigger
from ..model.problem import Motion, Problem
from ..solving.solution import SolvedQuestion
from .closed_form_edits import used_equations
from .force_edits import is_contact


@dataclass(frozen=True)
class InNumbers:
    """A trigger of mistakes that lead to a number: when it is there, and what is told where it is not."""

    is_there: Callable[[SolvedQuestion], bool]
    why_not: str


def _gives(symbol: Callable[[Motion], str | None]) -> Callable[[SolvedQuestion], bool]:
    return lambda solved: symbol(solved.problem.motion) in solved.question.given


def _asks_diameter(solved: SolvedQuestion) -> bool:
    return solved.question.ask == solved.problem.motion.diameter


def _asks_radius(solved: SolvedQuestion) -> bool:
    problem = solved.problem
    return solved.question.ask in {rates(problem.motion, each).radius for each in (None, *problem.diagrams)}


def _counts_angle(solved: SolvedQuestion) -> bool:
    """Whether the number of revolutions is given as an angle, not in a time."""
    motion = solved.problem.motion
    angle, turns = Symbol(motion.angle_turned or ""), Symbol(motion.turns or "")
    is_given = motion.turns in solved.question.given
    return is_given and any(each.left == angle and each.right.has(turns) for each in used_equations(solved))


def _asks_turns(solved: SolvedQuestion) -> bool:
    return solved.question.ask == solved.problem.motion.turns


def _has_plain_angle(solved: SolvedQuestion) -> bool:
    """Whether the given angle stands in the answer outside of any function."""
    outside = names_outside_functions(solved.solution.closed_form)
    return bool({solved.problem.motion.angle_turned} & set(solved.question.given) & outside)


def _has_angle_in_function(solved: SolvedQuestion) -> bool:
    """Whether the given angle stands in the answer only as that between two arrows."""
    angle = solved.problem.motion.angle_turned
    return angle in solved.question.given and angle in solved.solution.symbols and not _has_plain_angle(solved)


def _has_angle_of_arc(solved: SolvedQuestion) -> bool:
    """Whether a radius goes with the given angle that stands outside of any function."""
    return _has_plain_angle(solved) and _goes_with_radius(solved)


def _asks_angle_of_arc(solved: SolvedQuestion) -> bool:
    """Whether an angle is asked for that follows from a length and a radius."""
    return solved.question.ask == solved.problem.motion.angle_turned and _goes_with_radius(solved)


def _asks_angle_turned(solved: SolvedQuestion) -> bool:
    """Whether an angle is asked for in radians that no length tells."""
    asks = solved.question.ask == solved.problem.motion.angle_turned and not _goes_with_radius(solved)
    return asks and solved.problem.answer_spec(solved.question).unit.symbol == "rad"


def _goes_with_radius(solved: SolvedQuestion) -> bool:
    return solved.problem.motion.radius in {*solved.solution.symbols, solved.question.ask}


def _has_square_of_speed(solved: SolvedQuestion) -> bool:
    """Whether an equation that the answer rests on has v² on the side of m a, or for the acceleration itself."""
    problem = solved.problem
    speeds = {here.speed for each in (None, *problem.diagrams) if (here := rates(problem.motion, each)).speed}
    sides = [each.right for each in used_equations(solved) if each.kind in ("inward", "relation")]
    return any(side.has(Symbol(speed) ** 2) for side in sides for speed in speeds if speed)


def _lets_no_force_vanish(solved: SolvedQuestion) -> bool:
    limiting = solved.question.limiting
    return not (limiting and limiting.right == 0 and str(limiting.left) in solved.system.forces)


def _leaves_contact_open(solved: SolvedQuestion) -> bool:
    """Whether there is a contact force that may be compared with the weight: no horizontal one, and none that is told.

    It is told where an equation gives it in knowns and the weight: ``N = 0``, ``N = k m g`` with a given k.
    """
    problem, question = solved.problem, solved.question
    known = {*question.given, *(each.mass for each in problem.diagrams), "g"}
    relations = [*(each.relation for each in problem.relations), *([question.limiting] if question.limiting else [])]
    return any(
        is_contact(force)
        and diagram.spot != "side"
        and not any(force.symbol in each.symbols and each.symbols - {force.symbol} <= known for each in relations)
        for diagram in problem.diagrams
        for force in diagram.forces
    )


def _adds_two_lengths(solved: SolvedQuestion) -> bool:
    radius = Symbol(solved.problem.motion.radius or "")
    return any(each.relation.left == radius and each.relation.right.is_Add for each in solved.problem.relations)


IN_NUMBERS: Mapping[Trigger, InNumbers] = {
    "gives-diameter": InNumbers(_gives(lambda motion: motion.diameter), "the question gives no diameter"),
    "asks-diameter": InNumbers(_asks_diameter, "the question asks for no diameter"),
    "asks-radius": InNumbers(_asks_radius, "the question asks for no radius"),
    "gives-circumference": InNumbers(
        _gives(lambda motion: motion.circumference), "the question gives no circumference"
    ),
    "gives-turns": InNumbers(
        lambda solved: solved.problem.motion.turns in solved.question.given and not _counts_angle(solved),
        "the question gives no number of revolutions in a time",
    ),
    "gives-turns-of-angle": InNumbers(_counts_angle, "the question gives no number of revolutions as an angle"),
    "asks-turns": InNumbers(_asks_turns, "the question asks for no number of revolutions"),
    "gives-angle-of-arc": InNumbers(_has_angle_of_arc, "the question gives no angle of an arc"),
    "asks-angle-of-arc": InNumbers(_asks_angle_of_arc, "the question asks for no angle of an arc"),
    "asks-angle-turned": InNumbers(_asks_angle_turned, "the question asks for no angle in radians alone"),
    "gives-angle-between": InNumbers(_has_angle_in_function, "the question gives no angle between two arrows"),
    "gives-angle-turned": InNumbers(_has_plain_angle, "no given angle stands outside of a function"),
    "no-vanishing-force": InNumbers(_lets_no_force_vanish, "the question is about the limit at which a force is zero"),
    "unknown-contact": InNumbers(_leaves_contact_open, "the contact force is given, or it is horizontal"),
    "radius-of-one-length": InNumbers(
        lambda solved: not _adds_two_lengths(solved), "the radius is the sum of two lengths"
    ),
    "radius-of-two-lengths": InNumbers(_adds_two_lengths, "the radius is no sum of two lengths"),
    "square-of-the-speed": InNumbers(_has_square_of_speed, "the square of the speed is not on the way to the answer"),
}


def is_steady(problem: Problem) -> bool:
    """Whether the speed stays the same: on a vertical circle only where the time for one revolution has a meaning."""
    motion = problem.motion
    if motion.tangential_acceleration or motion.changes or problem.energies:
        return False
    return motion.plane != "vertical" or bool(motion.period or motion.frequency or motion.angular_speed)


def _is_held_by_a_body(problem: Problem) -> bool:
    """Whether another body exerts each force: a magnetic field does not feel what it does in return."""
    return not any(force.law == "magnetic" for diagram in problem.diagrams for force in diagram.forces)


IN_THOUGHT: Mapping[Trigger, Callable[[Problem], bool]] = {
    "steady-speed": is_steady,
    "held-by-a-body": _is_held_by_a_body,
}


def why_not(mistake: Mistake, solved: SolvedQuestion) -> str:
    """Why nobody makes the mistake in this question; empty where its trigger is there, or it needs none."""
    trigger = IN_NUMBERS.get(mistake.needs) if mistake.needs else None
    return trigger.why_not if trigger and not trigger.is_there(solved) else ""


def may_be_thought(mistake: Mistake, problem: Problem) -> bool:
    """Whether what the mistake needs is so in the motion of this problem."""
    trigger = IN_THOUGHT.get(mistake.needs) if mistake.needs else None
    return trigger is None or trigger(problem)
