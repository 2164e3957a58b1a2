"""The path of a body on a vertical circle that can only hold it one way: numbers in, times and places out.

It is integrated from the forces of a diagram: on the circle while the contact force has its sign, under the other
forces alone once it would change it. Angles are from the top, forward positive; x runs forward at the top, y up, both
from the centre.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, TypeAlias

import numpy as np
import sympy
from numpy.typing import NDArray

from ...mechanics.equations import terms_along
from ...model.evaluation import evaluate
from ...model.problem import Diagram, Force, Problem

Array: TypeAlias = NDArray[np.float64]
Event: TypeAlias = Callable[[float, Array], float]

_TURN = "turn from the top"  # no name of a file has blanks
_LONGEST = 60.0  # of a motion, in units of the root of r/g: a few turns
_STEP = 0.05  # longest step, in the same unit; a loss of contact that would last shorter is passed over
_EXACT: Mapping[str, Any] = {"method": "DOP853", "rtol": 1e-10, "atol": 1e-12, "dense_output": True}


@dataclass(frozen=True)
class Circle:
    """The accelerations that the forces of a diagram give a body at any place of its circle, for size and gravity.

    ``others`` are the accelerations by all forces but the contact force, inward and forward; ``free`` is what they give
    straight up to a body that has left the circle. The contact force has this ``sense``: 1 inward, -1 outward.
    """

    others: tuple[sympy.Expr, sympy.Expr]
    free: sympy.Expr
    sense: int
    radius: float = 1.0
    gravity: float = 1.0

    def contact(self, turn: float, speed: float) -> float:
        """The contact force over the mass that keeps the body on the circle: below zero where it cannot act."""
        return self.sense * (speed**2 / self.radius - self._value(self.others[0], turn))

    def gain(self, turn: float) -> float:
        """The acceleration forward along the circle."""
        return self._value(self.others[1], turn)

    @property
    def fall(self) -> float:
        """The acceleration of the free body, up positive."""
        return self._value(self.free, 0.0)

    @property
    def unit_of_time(self) -> float:
        """The root of r/g."""
        return float(np.sqrt(self.radius / self.gravity))

    def _value(self, expression: sympy.Expr, turn: float) -> float:
        return float(evaluate(expression, {_TURN: turn, "g": self.gravity}))


def circle_of(problem: Problem, diagram: Diagram, contact: Force) -> Circle | None:
    """The circle of a diagram; None where there is more than the weight and a contact force along the radius."""
    if any(each.law != "weight" for each in diagram.forces if each is not contact):
        return None
    force, mass = sympy.Symbol(contact.symbol or ""), sympy.Symbol(diagram.mass)
    anywhere = replace(diagram, spot="angle", angle=_TURN, angle_from="top")
    inward, forward = (sympy.Add(*terms_along(problem, anywhere, axis)) for axis in ("inward", "forward"))
    part = inward.coeff(force)
    if part not in (1, -1) or forward.has(force):
        return None
    alone = replace(diagram, spot="rest", forces=tuple(each for each in diagram.forces if each is not contact))
    upward = sympy.Add(*terms_along(problem, alone, "up"))
    others = sympy.expand((inward - part * force) / mass), sympy.expand(forward / mass)
    return Circle(others, sympy.expand(upward / mass), int(part))


@dataclass(frozen=True)
class Positions:
    """Where the body is at some times, how it moves, and whether it is in contact with what holds it."""

    times: Array
    x: Array
    y: Array
    velocity_x: Array
    velocity_y: Array
    in_contact: NDArray[np.bool_]


@dataclass(frozen=True)
class Passage:
    """A motion from its start to its end. ``leaves`` is when contact is lost, None where it never is.

    ``returns``: it ends where the body comes back to the circle.
    """

    circle: Circle
    ends: float
    leaves: float | None
    returns: bool
    _ride: Callable[[Array], Array] | None = field(repr=False, compare=False)
    _flight: Callable[[Array], Array] | None = field(repr=False, compare=False)

    def at(self, times: Sequence[float] | Array) -> Positions:
        """The positions at these times."""
        when = np.asarray(times, dtype=float)
        held = when < (np.inf if self.leaves is None else self.leaves)
        state = np.empty((4, len(when)))
        if self._ride and held.any():
            state[:, held] = _on_page(self.circle, self._ride(when[held]))
        if self._flight and not held.all():
            state[:, ~held] = self._flight(when[~held])
        return Positions(when, state[0], state[1], state[2], state[3], held)

    def evenly(self, count: int) -> Positions:
        """So many positions at equal times, from the start to the end."""
        return self.at(np.linspace(0.0, self.ends, count))


def path_of(circle: Circle, turn: float, speed: float, *, lowest: float = -np.inf) -> Passage:
    """The motion from a place on the circle: one turn at most, and no lower than ``lowest`` when the body is free."""
    if circle.contact(turn, speed) < 0:
        return _flown(circle, np.asarray([turn, speed]), 0.0, None, lowest)

    def motion(_: float, state: Array) -> list[float]:
        return [state[1] / circle.radius, circle.gain(state[0])]

    lost = _ending(lambda _, state: circle.contact(state[0], state[1]), -1)
    round_once = _ending(lambda _, state: state[0] - turn - 2 * np.pi, 1)
    found = _solved(circle, motion, 0.0, [turn, speed], [lost, round_once])
    if not len(found.t_events[0]):
        return Passage(circle, float(found.t[-1]), None, False, found.sol, None)
    return _flown(circle, found.y_events[0][0], float(found.t_events[0][0]), found.sol, lowest)


def _flown(circle: Circle, state: Array, since: float, ride: Any, lowest: float) -> Passage:
    """The motion goes on without contact from a state on the circle, until the body comes back to it."""
    start = _on_page(circle, state[:, np.newaxis])[:, 0]

    def motion(_: float, state: Array) -> list[float]:
        return [state[2], state[3], 0.0, circle.fall]

    # the path of a body that is just let go lies so close to the circle at first that rounding would end it there
    soon = since + circle.unit_of_time / 1000

    def beyond(time: float, state: Array) -> float:
        outside = circle.sense * (float(np.hypot(state[0], state[1])) - circle.radius)
        return outside if time > soon else min(outside, -1e-15)

    back, low = _ending(beyond, 1), _ending(lambda _, state: state[1] - lowest, -1)
    found = _solved(circle, motion, since, start, [back, low] if np.isfinite(lowest) else [back])
    return Passage(circle, float(found.t[-1]), since, len(found.t_events[0]) > 0, ride, found.sol)


def _on_page(circle: Circle, states: Array) -> Array:
    """Place and velocity from angles and speeds on the circle."""
    turn, speed = states
    sine, cosine = np.sin(turn), np.cos(turn)
    return np.stack([circle.radius * sine, circle.radius * cosine, speed * cosine, -speed * sine])


def _ending(event: Event, direction: int) -> Event:
    event.terminal, event.direction = True, direction  # type: ignore[attr-defined]
    return event


def _solved(circle: Circle, motion: Callable[..., Any], since: float, start: Any, events: Sequence[Event]) -> Any:
    from scipy.integrate import solve_ivp  # takes long to load, and few questions need it

    unit = circle.unit_of_time
    until = (since, since + _LONGEST * unit)
    return solve_ivp(motion, until, start, events=list(events), max_step=_STEP * unit, **_EXACT)
