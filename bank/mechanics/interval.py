"""Two states of one rotation at constant angular acceleration, and the relations between them.

Of the five relations between the two angular speeds, the angular acceleration, the angular displacement and the time,
each leaves one of the five out, and only two are independent (OpenStax University Physics vol. 1, section 10.2). A
question gets the one that leads from what is given to what is asked, as on the board; two where none does alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations

import sympy

from ..model.expression import names_in
from ..model.problem import Motion

HALF = sympy.Rational(1, 2)


@dataclass(frozen=True)
class TwoStates:
    """The symbols of the two states and of what links them; None where the problem names none.

    Where ``slows``, ``rate`` is the size of the angular deceleration. The smaller of the two angular speeds is zero
    where it has no name.
    """

    initial: str | None
    final: str | None
    rate: str
    angle: str | None
    duration: str | None
    slows: bool

    @property
    def of_rest(self) -> bool:
        """Whether the body is at rest in one of the states."""
        return (self.final if self.slows else self.initial) is None


@dataclass(frozen=True)
class StateRelation:
    """One of the relations. ``not_for`` cannot be isolated in it: it stands there in two powers."""

    left: sympy.Expr
    right: sympy.Expr
    because: str
    not_for: str | None = None

    @property
    def symbols(self) -> frozenset[str]:
        """The names of its quantities."""
        return names_in(self.left) | names_in(self.right)


def interval_of(motion: Motion) -> TwoStates | None:
    """The interval of a motion that speeds up or slows down; None for another one."""
    rate = motion.angular_acceleration or motion.angular_deceleration
    if rate is None:
        return None
    return TwoStates(
        initial=motion.initial_angular_speed,
        final=motion.angular_speed,
        rate=rate,
        angle=motion.angle_turned,
        duration=motion.duration,
        slows=motion.angular_acceleration is None,
    )


def links(interval: TwoStates) -> tuple[StateRelation, ...]:
    """The relations whose quantities are named, in the order in which they are tried."""
    zero, rate = sympy.Integer(0), sympy.Symbol(interval.rate)
    initial = _named(interval.initial, None if interval.slows else zero)
    final = _named(interval.final, zero if interval.slows else None)
    angle, time = _named(interval.angle), _named(interval.duration)
    gain = -rate if interval.slows else rate
    way, zero_end = ("decreases", " to zero") if interval.slows else ("increases", " from zero")
    at_rate = f"at constant angular {'deceleration' if interval.slows else 'acceleration'}"
    found: list[StateRelation] = []
    if initial is not None and final is not None:
        if time is not None:
            because = f"the angular speed {way}{zero_end if interval.of_rest else ''} at a constant rate"
            found.append(_link(final, initial + gain * time, because, rate))
        if angle is not None:
            because = f"{at_rate}, the angular speed and the angular displacement are related by"
            found.append(_link(final**2, initial**2 + 2 * gain * angle, because, rate))
        if angle is not None and time is not None:
            because = "the angular displacement is the average angular speed times the time"
            found.append(StateRelation(angle, (initial + final) * time / 2, because))
    if angle is not None and time is not None:
        if initial is not None and not (interval.slows and interval.of_rest):
            because = f"{at_rate}, the angular displacement is"
            found.append(StateRelation(angle, initial * time + HALF * gain * time**2, because, _twice(initial, time)))
        if final is not None and (interval.slows or not interval.of_rest):
            because = f"{at_rate}, the angular displacement in terms of the final angular speed is"
            because = because if final != 0 else f"{at_rate} to rest, the angular displacement is"
            found.append(StateRelation(angle, final * time - HALF * gain * time**2, because, _twice(final, time)))
    return tuple(found)


def _named(name: str | None, unnamed: sympy.Expr | None = None) -> sympy.Expr | None:
    return sympy.Symbol(name) if name else unnamed


def _link(left: sympy.Expr, right: sympy.Expr, because: str, rate: sympy.Symbol) -> StateRelation:
    """The relation with no zero alone on its left side: 0 = omega_0 - alpha t is omega_0 = alpha t."""
    if left == 0:
        first, rest = right.as_independent(rate, as_Add=True)
        left, right = first, -rest
    return StateRelation(left, right, because)


def _twice(speed: sympy.Expr, time: sympy.Expr) -> str | None:
    """The time, where it stands there in the first and in the second power."""
    return str(time) if speed != 0 else None


def chosen(
    found: Sequence[StateRelation],
    others: Sequence[frozenset[str]],
    given: frozenset[str],
    ask: str,
    may_cancel: frozenset[str],
) -> tuple[StateRelation, ...]:
    """The fewest links with which, and with equations of ``others``, what is given leads to what is asked.

    The names of ``may_cancel`` count as given where nothing else leads there. Where nothing does at all, the first two.
    """
    for known in (given, given | may_cancel - {ask}):
        for size in range(3):
            for some in combinations(found, size):
                equations = [*((each, None) for each in others), *((each.symbols, each.not_for) for each in some)]
                if ask in _reached(equations, known):
                    return some
    return tuple(found[:2])


def _reached(equations: Iterable[tuple[frozenset[str], str | None]], known: frozenset[str]) -> frozenset[str]:
    """All names that are known once each equation has given the only one that it has left."""
    left = list(equations)
    while True:
        for names, not_for in left:
            unknown = names - known
            if len(unknown) == 1 and not_for not in unknown:
                known |= unknown
                break
        else:
            return known
