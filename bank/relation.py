"""Built-in relations of circular motion: they join in when the motion names the quantities that they link.

Sources: definitions of uniform circular motion as in any introductory text, for example OpenStax University Physics
vol. 1, sections 4.4 (v = 2 pi r/T, a = v^2/r) and 10.1-10.3 (omega = 2 pi f, v = omega r).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import sympy
from turnwright.bank.problem import Diagram, Motion


@dataclass(frozen=True)
class Rates:
    """The symbols that describe how one body goes round, at one place; None where the problem does not name one."""

    radius: str | None
    speed: str | None
    angular_speed: str | None
    period: str | None
    frequency: str | None
    acceleration: str | None


def rates(motion: Motion, diagram: Diagram | None) -> Rates:
    """The symbols of a place: those of the motion, but for what the diagram names itself."""
    return Rates(
        radius=(diagram and diagram.radius) or motion.radius,
        speed=(diagram and diagram.speed) or motion.speed,
        angular_speed=motion.angular_speed,
        period=motion.period,
        frequency=motion.frequency,
        acceleration=motion.acceleration,
    )


def radial_acceleration(here: Rates, wanted: frozenset[str]) -> sympy.Expr:
    """The acceleration towards the centre in the quantities that the question speaks of.

    The named acceleration where it is given or asked, else omega^2 r where the turning is what is known, else v^2/r.
    """
    if here.acceleration in wanted:
        return sympy.Symbol(str(here.acceleration))
    return _from_turning(here, wanted)


def _from_turning(here: Rates, wanted: frozenset[str]) -> sympy.Expr:
    radius = sympy.Symbol(str(here.radius))
    turning = {here.angular_speed, here.period, here.frequency} & wanted
    if here.angular_speed and (here.speed is None or (turning and here.speed not in wanted)):
        return sympy.Symbol(here.angular_speed) ** 2 * radius
    if here.speed is None:
        return 4 * sympy.pi**2 * radius / sympy.Symbol(str(here.period)) ** 2
    return sympy.Symbol(here.speed) ** 2 / radius


def built_in(here: Rates, wanted: frozenset[str]) -> Iterator[tuple[sympy.Expr, sympy.Expr, str]]:
    """The relations as (left, right, reason), for the quantities that are named."""
    speed, omega, period, frequency, radius = (
        sympy.Symbol(name) if name else None
        for name in (here.speed, here.angular_speed, here.period, here.frequency, here.radius)
    )
    if here.acceleration in wanted and radius is not None:
        yield sympy.Symbol(str(here.acceleration)), _from_turning(here, wanted), "acceleration towards the centre"
    if speed is not None and omega is not None and radius is not None:
        yield speed, omega * radius, "speed on a circle"
    if period is not None and omega is not None:
        yield omega, 2 * sympy.pi / period, "one turn is 2π rad"
    elif period is not None and speed is not None and radius is not None:
        yield speed, 2 * sympy.pi * radius / period, "once round, 2πr, takes one period"
    if frequency is not None and period is not None:
        yield period, 1 / frequency, "the period is the time of one turn"
    elif frequency is not None and omega is not None:
        yield omega, 2 * sympy.pi * frequency, "one turn is 2π rad"
    elif frequency is not None and speed is not None and radius is not None:
        yield speed, 2 * sympy.pi * radius * frequency, "once round, 2πr, takes one period"
