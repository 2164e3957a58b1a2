"""Closed forms against derivations by hand, the order of the board, and systems that have no single answer.

Every case states its derivation in one line, from Newton's second law along inward (and the other axis); none came
from the solver.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np
import pytest
import sympy
from turnwright.bank.errors import SolveError
from turnwright.bank.model.expression import parse
from turnwright.bank.solving.algebra import numerator, roots
from turnwright.bank.solving.elimination import Stage
from turnwright.bank.solving.solution import Solution, SolvedQuestion, _distinct, samples_of, solve
from turnwright.bank.writing.numeric_steps import power_law

from tests.bank import models

VERTICAL = "motion: {plane: vertical, radius: r, speed: v}\n"
LEVEL = "motion: {plane: horizontal, radius: r, speed: v, angular-speed: omega, period: T, acceleration: a}\n"
TOP = VERTICAL + "diagrams: {top: {at: top, N: inward}}\nrelations: [N = k*m*g]\nholds: [N >= 0]"
BOTTOM = VERTICAL + "diagrams: {low: {at: bottom, N: inward}}\nrelations: [N = k*m*g]"
ROUND = """
motion: {plane: vertical, radius: r}
diagrams: {top: {at: top, speed: v_top, F_top: inward}, low: {at: bottom, speed: v_low, F_low: inward}}
energy: [{from: low, to: top}]
holds: [F_top >= 0]
quantities: {F_top: N 3 5, F_low: N 40 70, v_top: m/s 3 5, v_low: m/s 7 9}
"""
LOSSY = (
    VERTICAL
    + """
diagrams: {top: {at: top, N: inward}}
energy: [{from: {height: h, speed: 0}, to: top, loss: W}]
holds: [N >= 0]
quantities: {W: J 0.3 0.7 1.1}
"""
)
DOME = (
    VERTICAL
    + """
diagrams: {dome: {at: {angle: theta, from: top}, N: outward}}
energy: [{from: {height: 2*r, speed: 0}, to: dome}]
holds: [N >= 0]
"""
)
SWING = (
    VERTICAL
    + """
diagrams: {swing: {at: {angle: theta, from: bottom}, F: inward}}
energy: [{from: {height: r - r*cos(alpha), speed: 0}, to: swing}]
quantities: {theta: deg 12 21 33, F: N 6 7, v: m/s 0.4 0.8}
"""
)
SPEEDING_UP = (
    "motion: {plane: vertical, radius: r, speed: v, tangential-acceleration: a_t}\n"
    + """
diagrams: {dome: {at: {angle: theta, from: top}, N: outward}}
"""
)
BANK = LEVEL + "diagrams: {bank: {tilt: theta, N: {inward: sin(theta), up: cos(theta)}}}\nquantities: {N: N 25 34}"
FAST = (
    LEVEL
    + """
diagrams: {bank: {tilt: theta, N: {inward: sin(theta), up: cos(theta)}, F: {inward: cos(theta), up: -sin(theta)}}}
holds: [F <= mu*N]
"""
)
SLOW = FAST.replace("F: {inward: cos(theta), up: -sin(theta)}", "F: {inward: -cos(theta), up: sin(theta)}")
CONE = (
    LEVEL
    + """
diagrams: {bob: {tilt: theta, F: {inward: sin(theta), up: cos(theta)}}}
relations: [r = L*sin(theta)]
quantities: {F: N 25 34}
"""
)
CHAIR = CONE.replace("r = L*sin(theta)", "r = d + L*sin(theta)")
TABLE = LEVEL + "diagrams: {load: {N: up, F: inward}}\nholds: [F <= mu*N]"
DRUM = LEVEL + "diagrams: {load: {N: inward, F: up}}\nholds: [F <= mu*N]"
HOLE = LEVEL + "diagrams: {puck: {N: up, F: inward}, hanger: {at: rest, mass: M, F: up}}"
PAIR = """
motion: {plane: horizontal, radius: r, angular-speed: omega}
diagrams: {inner: {weight: none, F: inward, P: outward}, outer: {weight: none, mass: M, radius: R, P: inward}}
"""
TWO_CORDS = (
    LEVEL
    + """
diagrams: {bob: {tilt: theta, F: {inward: sin(theta), up: cos(theta)}, P: {inward: sin(theta), up: -cos(theta)}}}
relations: [r = L*sin(theta)]
holds: [P >= 0]
"""
)
ELASTIC = LEVEL + "diagrams: {load: {weight: none, F: inward}}\nrelations: [F = K*(r - L)]\nquantities: {K: N/m 90 140}"
ORBIT = LEVEL + "diagrams: {moon: {gravitation: M}}"
MAGNET = LEVEL + "diagrams: {ion: {weight: none, F: inward}}\nrelations: [F = q*v*B]"
RATES = (
    "motion: {plane: horizontal, radius: r, speed: v, angular-speed: omega, period: T, frequency: f, acceleration: a}"
)
COUNTED = """
motion: {plane: horizontal, radius: r, speed: v, period: T, acceleration: a,
  diameter: d, circumference: C, turns: k, duration: t}
quantities: {C: m 1.3 2.9 5.2, t: s 3.1 7.4 12}
"""
TURNED = COUNTED.replace("speed: v, period: T", "angular-speed: omega")
PER_SECOND = COUNTED.replace("speed: v, period: T", "speed: v, frequency: f")
PATH = COUNTED.replace("speed: v, period: T", "speed: v")
SHADOW = (
    LEVEL
    + """
relations: [d = r*cos(omega*t)]
quantities: {t: s 0.1 0.2 0.25, d: m 0.1 0.2 0.3}
"""
)
ARC = SHADOW.replace("cos(omega*t)", "sin(L/r)")
ALONG = """
motion: {plane: horizontal, radius: r, speed: v, angular-speed: omega, angle-turned: beta, turns: k, arc: s,
  duration: t}
quantities: {beta: rad 0.4 1.1 2.3, s: m 1.2 2.7 4.1, t: s 3.1 7.4 12}
"""
CHORD = """
motion: {plane: horizontal, radius: r, angle-turned: beta, displacement: c}
quantities: {beta: rad 0.4 1.1 2.3, c: m 0.3 0.6 0.7}
"""
SPIN = """
motion: {plane: horizontal, radius: r, speed: v, acceleration: a, angular-speed: omega, angular-acceleration: q,
  tangential-acceleration: b, angle-turned: beta, turns: k, arc: s, duration: t}
relations: [A**2 = a**2 + b**2, tan(theta) = b/a]
quantities: {q: rad/s^2 0.7 1.3 2.9, b: m/s^2 0.6 1.4 2.2, beta: rad 5 11 31, s: m 3 9 22, t: s 3.1 7.4 12,
  A: m/s^2 4 7 9}
"""
GAIN = SPIN.replace(
    "angular-speed: omega,", "angular-speed: omega, initial-angular-speed: p, initial-speed: u,"
).replace("quantities: {", "quantities: {p: rad/s 0.8 1.4 1.9, u: m/s 0.9 1.7 2.3, ")
LOSS = """
motion: {plane: horizontal, initial-angular-speed: p, angular-speed: omega, angular-deceleration: q, angle-turned: beta,
  turns: k, duration: t}
quantities: {p: rad/s 11 14 19, q: rad/s^2 0.2 0.3 0.4, beta: rad 5 11 31, t: s 3.1 7.4 12}
"""
STOP = LOSS.replace(" angular-speed: omega,", "")


@dataclass(frozen=True)
class Case:
    """``ask`` from ``given`` is ``expected``, which ``because`` derives."""

    model: str
    ask: str
    given: str
    expected: str
    because: str
    limiting: str | None = None


CASES = (
    Case(TOP, "v", "r", "sqrt(g*r)", "m g = m v²/r at the limit", "N = 0"),
    Case(TOP, "r", "v", "v**2/g", "m g = m v²/r at the limit", "N = 0"),
    Case(TOP, "N", "m r v", "m*(v**2/r - g)", "N + m g = m v²/r"),
    Case(TOP, "m", "r v N", "N/(v**2/r - g)", "N + m g = m v²/r"),
    Case(TOP, "r", "m v N", "m*v**2/(N + m*g)", "N + m g = m v²/r"),
    Case(TOP, "v", "r k", "sqrt((k + 1)*g*r)", "k m g + m g = m v²/r"),
    Case(TOP, "k", "r v", "v**2/(g*r) - 1", "k m g + m g = m v²/r"),
    Case(BOTTOM, "r", "m v N", "m*v**2/(N - m*g)", "N - m g = m v²/r"),
    Case(BOTTOM, "m", "N k", "N/(g*k)", "N = k m g"),
    Case(ROUND, "F_low", "m r v_top", "m*(5*g + v_top**2/r)", "v_low² = v_top² + 4 g r; F_low - m g = m v_low²/r"),
    Case(ROUND, "r", "v_low", "v_low**2/(5*g)", "v_top² = g r; v_low² = g r + 4 g r", "F_top = 0"),
    Case(ROUND, "m", "F_top F_low", "(F_low - F_top)/(6*g)", "F_low - F_top = 2 m g + m (v_low² - v_top²)/r = 6 m g"),
    Case(ROUND, "v_low", "m r F_top", "sqrt(r*F_top/m + 5*g*r)", "v_top² = (F_top/m + g) r; v_low² = v_top² + 4 g r"),
    Case(LOSSY, "h", "m r W", "5*r/2 + W/(m*g)", "m g = m v²/r; m g h = m v²/2 + 2 m g r + W", "N = 0"),
    Case(LOSSY, "W", "m r h v", "m*g*(h - 2*r) - m*v**2/2", "m g h = m v²/2 + 2 m g r + W"),
    Case(DOME, "theta", "r", "acos(2/3)", "m g cos = m v²/r, v² = 2 g r (1 - cos): cos = 2 - 2 cos", "N = 0"),
    Case(DOME, "N", "m theta", "m*g*(3*cos(theta) - 2)", "N = m g cos - m v²/r with v² = 2 g r (1 - cos)"),
    Case(DOME, "v", "r theta", "sqrt(2*g*r*(1 - cos(theta)))", "m v²/2 = m g r (1 - cos)"),
    Case(DOME, "v", "r", "sqrt(2*g*r/3)", "v² = g r cos and cos = 2/3", "N = 0"),
    Case(SWING, "F", "m theta alpha", "m*g*(3*cos(theta) - 2*cos(alpha))",
         "F = m g cos + m v²/r, v² = 2 g r (cos - cos α)"),
    Case(SWING, "alpha", "m theta F", "acos(3*cos(theta)/2 - F/(2*m*g))", "F = m g (3 cos θ - 2 cos α)"),
    Case(SWING, "theta", "r v alpha", "acos(cos(alpha) + v**2/(2*g*r))", "v² = 2 g r (cos θ - cos α)"),
    Case(SPEEDING_UP, "a_t", "theta", "g*sin(theta)", "m g sin = m a_t along the path"),
    Case(SPEEDING_UP, "theta", "a_t", "asin(a_t/g)", "m g sin = m a_t along the path"),
    Case(BANK, "theta", "r v", "atan(v**2/(g*r))", "N sin = m v²/r, N cos = m g"),
    Case(BANK, "theta", "a", "atan(a/g)", "N sin = m a, N cos = m g"),
    Case(BANK, "N", "m r v", "m*sqrt(g**2 + v**4/r**2)", "N² = (m g)² + (m v²/r)²"),
    Case(BANK, "r", "m v N", "m*v**2/sqrt(N**2 - m**2*g**2)", "(m v²/r)² = N² - (m g)²"),
    Case(BANK, "a", "m N", "sqrt(N**2/m**2 - g**2)", "(m a)² = N² - (m g)²"),
    Case(FAST, "v", "r mu theta", "sqrt(g*r*(sin(theta) + mu*cos(theta))/(cos(theta) - mu*sin(theta)))",
         "N (sin + μ cos) = m v²/r, N (cos - μ sin) = m g", "F = mu*N"),
    Case(FAST, "theta", "r v mu", "atan((v**2 - mu*g*r)/(g*r + mu*v**2))",
         "(tan + μ)/(1 - μ tan) = v²/(g r), solved for tan", "F = mu*N"),
    Case(FAST, "mu", "r T theta", "(4*pi**2*r - g*T**2*tan(theta))/(g*T**2 + 4*pi**2*r*tan(theta))",
         "(tan + μ)/(1 - μ tan) = q, q = 4 π² r/(g T²): μ = (q - tan)/(1 + q tan)", "F = mu*N"),
    Case(FAST, "F", "m r v theta", "m*(v**2/r*cos(theta) - g*sin(theta))",
         "along the slope: F + m g sin = (m v²/r) cos"),
    Case(FAST, "N", "m r omega theta", "m*(g*cos(theta) + omega**2*r*sin(theta))",
         "across the slope: N - m g cos = (m ω² r) sin"),
    Case(SLOW, "r", "v mu theta", "v**2*(1 + mu*tan(theta))/(g*(tan(theta) - mu))",
         "N (sin - μ cos) = m v²/r, N (cos + μ sin) = m g", "F = mu*N"),
    Case(SLOW, "theta", "r v mu", "atan((v**2 + mu*g*r)/(g*r - mu*v**2))",
         "(tan - μ)/(1 + μ tan) = v²/(g r), solved for tan", "F = mu*N"),
    Case(CONE, "T", "L theta", "2*pi*sqrt(L*cos(theta)/g)", "tan = ω² L sin/g, ω = 2 π/T"),
    Case(CONE, "theta", "L omega", "acos(g/(omega**2*L))", "tan = ω² L sin/g"),
    Case(CONE, "theta", "r omega", "atan(omega**2*r/g)", "F sin = m ω² r, F cos = m g"),
    Case(CONE, "theta", "L v", "acos(sqrt(v**4/(4*g**2*L**2) + 1) - v**2/(2*g*L))",
         "tan = v²/(g L sin): 1 - cos² = q cos, q = v²/(g L), cos = -q/2 + √(q²/4 + 1)"),
    Case(CONE, "theta", "L r", "asin(r/L)", "r = L sin"),
    Case(CONE, "v", "L r", "r*sqrt(g)/(L**2 - r**2)**Rational(1, 4)", "v² = g r tan, tan = r/√(L² - r²)"),
    Case(CONE, "F", "m L v", "m*(v**2 + sqrt(v**4 + 4*g**2*L**2))/(2*L)", "F = m g/cos, 1 - cos² = cos v²/(g L)"),
    Case(CONE, "L", "m F T", "F*T**2/(4*pi**2*m)", "F sin = m (2 π/T)² L sin"),
    Case(CONE, "m", "F L omega", "F/(omega**2*L)", "F sin = m ω² L sin"),
    Case(CHAIR, "d", "L theta T", "g*T**2*tan(theta)/(4*pi**2) - L*sin(theta)", "g tan = 4 π² (d + L sin)/T²"),
    Case(CHAIR, "L", "d theta v", "(v**2/(g*tan(theta)) - d)/sin(theta)", "g tan = v²/(d + L sin)"),
    Case(TABLE, "T", "r mu", "2*pi*sqrt(r/(mu*g))", "μ m g = 4 π² m r/T²", "F = mu*N"),
    Case(TABLE, "mu", "a", "a/g", "μ m g = m a", "F = mu*N"),
    Case(DRUM, "r", "mu T", "g*T**2/(4*pi**2*mu)", "m g = μ m (2 π/T)² r", "F = mu*N"),
    Case(DRUM, "F", "m", "m*g", "F = m g, whatever the turning"),
    Case(HOLE, "m", "M r T", "M*g*T**2/(4*pi**2*r)", "M g = m (2 π/T)² r"),
    Case(HOLE, "a", "m M", "M*g/m", "M g = F = m a"),
    Case(PAIR, "F", "m M r R omega", "omega**2*(m*r + M*R)", "F - P = m ω² r, P = M ω² R"),
    Case(PAIR, "omega", "m M r R F", "sqrt(F/(m*r + M*R))", "F = ω² (m r + M R)"),
    Case(TWO_CORDS, "P", "m L theta omega", "m*(omega**2*L - g/cos(theta))/2", "F + P = m ω² L, F - P = m g/cos"),
    Case(TWO_CORDS, "omega", "L theta", "sqrt(g/(L*cos(theta)))", "F = m ω² L = m g/cos", "P = 0"),
    Case(TWO_CORDS, "theta", "m F P", "acos(m*g/(F - P))", "(F - P) cos = m g"),
    Case(ELASTIC, "r", "m K L omega", "K*L/(K - m*omega**2)", "K (r - L) = m ω² r"),
    Case(ORBIT, "T", "G M r", "2*pi*sqrt(r**3/(G*M))", "G M/r² = 4 π² r/T²"),
    Case(ORBIT, "r", "G M T", "cbrt(G*M*T**2/(4*pi**2))", "r³ = G M T²/(4 π²)"),
    Case(ORBIT, "v", "G M T", "cbrt(2*pi*G*M/T)", "v² = G M/r, r = v T/(2 π)"),
    Case(ORBIT, "M", "G v T", "v**3*T/(2*pi*G)", "v² = G M/r, r = v T/(2 π)"),
    Case(MAGNET, "r", "m v q B", "m*v/(q*B)", "q v B = m v²/r"),
    Case(MAGNET, "T", "m q B", "2*pi*m/(q*B)", "q B = m ω"),
    Case(RATES, "T", "r a", "2*pi*sqrt(r/a)", "a = 4 π² r/T²"),
    Case(RATES, "a", "v f", "2*pi*f*v", "a = v ω"),
    Case(RATES, "v", "r a", "sqrt(a*r)", "a = v²/r"),
    Case(RATES, "f", "v r", "v/(2*pi*r)", "v = 2 π r f"),
    Case(COUNTED, "v", "d T", "pi*d/T", "v = 2 π r/T, r = d/2"),
    Case(COUNTED, "d", "a v", "2*v**2/a", "a = v²/r, d = 2 r"),
    Case(COUNTED, "a", "C v", "2*pi*v**2/C", "a = v²/r, r = C/(2 π)"),
    Case(COUNTED, "C", "v T", "v*T", "one period for once round"),
    Case(COUNTED, "a", "r k t", "4*pi**2*k**2*r/t**2", "a = 4 π² r/T², T = t/k"),
    Case(COUNTED, "t", "k d v", "pi*k*d/v", "k times round, π d each, at v"),
    Case(COUNTED, "k", "t T", "t/T", "T = t/k"),
    Case(TURNED, "omega", "k t", "2*pi*k/t", "k times 2 π in t"),
    Case(TURNED, "a", "d k t", "2*pi**2*k**2*d/t**2", "a = ω² d/2, ω = 2 π k/t"),
    Case(PER_SECOND, "f", "k t", "k/t", "k times in t"),
    Case(PATH, "v", "C k t", "k*C/t", "k times C in t"),
    Case(SHADOW, "d", "r omega t", "r*cos(omega*t)", "the shadow of r turned by ω t"),
    Case(SHADOW, "d", "r v t", "r*cos(v*t/r)", "ω = v/r"),
    Case(SHADOW, "r", "d T t", "d/cos(2*pi*t/T)", "ω = 2π/T"),
    Case(SHADOW, "t", "d r T", "T*acos(d/r)/(2*pi)", "cos ω t = d/r with ω = 2π/T"),
    Case(SHADOW, "omega", "d r t", "acos(d/r)/t", "cos ω t = d/r"),
    Case(ARC, "d", "r L", "r*sin(L/r)", "an arc of length L is one of the angle L/r"),
    Case(ARC, "L", "d r", "r*asin(d/r)", "sin L/r = d/r"),
    Case(ALONG, "s", "r beta", "r*beta", "s = r β"),
    Case(ALONG, "s", "v t", "v*t", "steadily along the arc"),
    Case(ALONG, "beta", "r v t", "v*t/r", "β = ω t"),
    Case(ALONG, "s", "r k", "2*pi*k*r", "β = 2 π k"),
    Case(ALONG, "v", "s k t", "s/t", "s in t, however many turns"),
    Case(CHORD, "c", "r beta", "2*r*sin(beta/2)", "half the chord is r sin(β/2)"),
    Case(SPIN, "omega", "q t", "q*t", "from rest"),
    Case(SPIN, "t", "q beta", "sqrt(2*beta/q)", "β = ½ q t²"),
    Case(SPIN, "k", "omega t", "omega*t/(4*pi)", "on average ω/2"),
    Case(SPIN, "v", "r q k", "r*sqrt(4*pi*q*k)", "ω² = 2 q 2 π k"),
    Case(SPIN, "a", "r q beta", "2*q*r*beta", "a = ω² r"),
    Case(SPIN, "s", "b t", "b*t**2/2", "along the path as along a line, whatever r is"),
    Case(SPIN, "A", "r q t", "q*r*sqrt(1 + q**2*t**4)", "a = q² t² r, b = q r"),
    Case(SPIN, "theta", "q t", "atan(1/(q*t**2))", "b/a = q r/(q² t² r)"),
    Case(SPIN, "k", "theta", "1/(4*pi*tan(theta))", "tan = q/ω² = 1/(2 β)"),
    Case(GAIN, "q", "p omega t", "(omega - p)/t", "what it gains in t"),
    Case(GAIN, "q", "p omega k", "(omega**2 - p**2)/(4*pi*k)", "ω² = p² + 2 q β"),
    Case(GAIN, "t", "p omega beta", "2*beta/(p + omega)", "on average (p + ω)/2"),
    Case(GAIN, "t", "p q beta", "(sqrt(p**2 + 2*q*beta) - p)/q", "½ q t² + p t - β = 0, the positive root"),
    Case(GAIN, "p", "q beta t", "beta/t - q*t/2", "β = p t + ½ q t²"),
    Case(GAIN, "omega", "q beta t", "beta/t + q*t/2", "counted back from the end"),
    Case(GAIN, "s", "u v t", "(u + v)*t/2", "along the path as along a line"),
    Case(GAIN, "b", "u v s", "(v**2 - u**2)/(2*s)", "along the path as along a line"),
    Case(LOSS, "t", "p omega q", "(p - omega)/q", "what it loses, over the rate"),
    Case(LOSS, "omega", "p q beta", "sqrt(p**2 - 2*q*beta)", "ω² = p² - 2 q β"),
    Case(LOSS, "k", "p q t", "(p*t - q*t**2/2)/(2*pi)", "2 π k = p t - ½ q t²"),
    Case(LOSS, "p", "omega q k", "sqrt(omega**2 + 4*pi*q*k)", "ω² = p² - 2 q β"),
    Case(STOP, "t", "p q", "p/q", "0 = p - q t"),
    Case(STOP, "k", "p t", "p*t/(4*pi)", "on average p/2"),
    Case(STOP, "p", "q k", "sqrt(4*pi*q*k)", "0 = p² - 2 q 2 π k"),
    Case(STOP, "t", "q beta", "sqrt(2*beta/q)", "the same backwards in time, from rest"),
)  # fmt: skip


def named(case: Case) -> str:
    model = next(name for name, text in globals().items() if text == case.model)
    return f"{model.lower()}-{case.ask}-from-{'-'.join(case.given.split())}{'-limit' if case.limiting else ''}"


def positive(expression: sympy.Expr) -> sympy.Expr:
    return expression.xreplace({each: sympy.Symbol(each.name, positive=True) for each in expression.free_symbols})


def by_hand(text: str) -> sympy.Expr:
    names = {
        name: sympy.Symbol(name)
        for name in (*models.QUANTITIES, *"gKCtAbcpqsu", "beta", "v_top", "v_low", "F_top", "F_low")
    }
    return sympy.parse_expr(text, local_dict={**names, "cbrt": sympy.cbrt, "Rational": sympy.Rational})


def are_equal(first: sympy.Expr, second: sympy.Expr) -> bool:
    """Whether two formulas are the same for all positive values; angles by their tangent, roots by their squares."""
    if {first.func, second.func} <= {sympy.atan, sympy.acos, sympy.asin}:
        first, second = sympy.tan(first), sympy.tan(second)
    if sympy.simplify(positive(first - second)) == 0:
        return True
    somewhere = {
        each: sympy.Rational(place, 7) for place, each in enumerate(sorted((first - second).free_symbols, key=str), 1)
    }
    same_sign = sympy.re(first.subs(somewhere).evalf()) * sympy.re(second.subs(somewhere).evalf()) > 0
    gaps = (positive(first**power - second**power).rewrite(sympy.cos) for power in (2, 4))
    return bool(same_sign) and any(sympy.simplify(gap) == 0 for gap in gaps)


@pytest.mark.parametrize("case", CASES, ids=named)
def test_a_closed_form_is_the_one_derived_by_hand(case: Case) -> None:
    found = models.solved(case.model, case.ask, case.given, case.limiting).solution.closed_form
    assert are_equal(found, by_hand(case.expected)), f"{found} for {case.expected}; {case.because}"


@pytest.mark.parametrize(
    ("model", "given", "limiting", "tangent"),
    [
        (BANK, "r v", None, "v**2/(g*r)"),
        (FAST, "r v mu", "F = mu*N", "(v**2 - mu*g*r)/(g*r + mu*v**2)"),
        (CONE, "r T", None, "4*pi**2*r/(g*T**2)"),
    ],
    ids=["bank", "rough-bank", "cone"],
)
def test_an_angle_comes_out_through_its_tangent(model: str, given: str, limiting: str | None, tangent: str) -> None:
    last = models.solved(model, "theta", given, limiting).solution.path[-1]
    assert last.left == sympy.tan(sympy.Symbol("theta"))
    assert are_equal(last.value, by_hand(tangent))


# --- the order of the board -------------------------------------------------------------------


@pytest.mark.parametrize(
    ("model", "ask", "given", "limiting", "steps"),
    [
        (BANK, "v", "r theta", None, ["N from up", "v**2 from inward"]),
        (CONE, "v", "L theta", None, ["F from up", "r from relation", "v**2 from inward"]),
        (TOP, "v", "r", "N = 0", ["N from limiting", "v**2 from inward"]),
        (FAST, "v", "r mu theta", "F = mu*N", ["F from limiting", "N from up", "v**2 from inward"]),
        (HOLE, "v", "m M r", None, ["F from up", "v**2 from inward"]),
        (DOME, "N", "m theta", None, ["v**2 from energy", "N from inward"]),
    ],
    ids=["bank", "cone", "top", "rough-bank", "hole", "dome"],
)
def test_forces_leave_in_the_order_of_the_board(
    model: str, ask: str, given: str, limiting: str | None, steps: list[str]
) -> None:
    found = models.solved(model, ask, given, limiting)
    assert [f"{each.left} from {found.system.equations[each.origin].kind}" for each in found.solution.path] == steps


def test_the_first_step_of_the_smooth_bank_takes_the_normal_force_out_of_the_upward_equation() -> None:
    found = models.shipped("smooth-bank.speed")
    first = found.solution.path[0]
    start = first.stages[0]
    assert str(first.left) == "N"
    assert start.did == "start"
    assert start.left - start.right == by_hand("N*cos(theta) - m*g")
    assert are_equal(first.value, by_hand("m*g/cos(theta)"))


def test_an_equation_without_its_fractions_has_no_root_that_only_makes_a_denominator_zero() -> None:
    """2/(c - k) = (k - 3c - 2)/(2 (k - c)) says 4 = 3c + 2 - k, so k = 3c - 2; k = c is no root of it."""
    c, k = sympy.symbols("c k")
    polynomial = numerator(2 / (c - k), (k - 3 * c - 2) / (2 * (k - c)))
    assert [answer for _, _, answer in roots(polynomial, k)] == [3 * c - 2]


def test_a_root_that_only_makes_a_denominator_zero_is_no_answer() -> None:
    """k = cos θ would do if the body had no speed at θ; with the energy from the top it is k = 3 cos θ - 2 alone."""
    pressing = DOME.replace("holds: [N >= 0]", "relations: [N = k*m*g]")
    assert are_equal(models.solved(pressing, "k", "theta").solution.closed_form, by_hand("3*cos(theta) - 2"))


def test_no_root_is_invented_where_the_true_one_is_negative() -> None:
    beyond = DOME.replace("holds: [N >= 0]", "relations: [N = k*m*g]\nquantities: {theta: deg 55 65 75}")
    assert (
        refusal(beyond, "k", "theta").wrong
        == "'k' comes out as 3*cos(theta) - 2, which is positive for none of the draws"
    )


# --- no line is false -------------------------------------------------------------------------


def lines(found: SolvedQuestion) -> Iterator[tuple[sympy.Expr, sympy.Expr]]:
    for step in found.solution.path:
        yield step.left, step.value
        yield from ((stage.left, stage.right) for stage in step.stages)


def is_true(left: sympy.Expr, right: sympy.Expr, values: Mapping[str, float]) -> bool:
    of_left, of_right = map(sympy.Add.make_args, (left, right))
    terms = models.functions(*of_left, *of_right)(values)
    gap = math.fsum((*terms[: len(of_left)], *(-each for each in terms[len(of_left) :])))
    return abs(gap) <= 1e-6 * max(map(abs, terms)) or max(map(abs, terms)) < 1e-12


def some_values(found: SolvedQuestion, wanted: int) -> Iterator[dict[str, float]]:
    """Values for all symbols of some combinations: the answer by the closed form, the rest by the equations."""
    balance, closed = models.Balance(found.system), models.function(found.solution.closed_form)
    samples = samples_of(found.problem, found.question)
    for place in range(len(samples["g"])):
        values = {name: float(column[place]) for name, column in samples.items()}
        try:
            yield balance.values({**values, found.question.ask: closed(values)})
        except (ValueError, AssertionError):
            continue  # beyond what the situation allows: a root or an angle that is not real
        wanted -= 1
        if not wanted:
            return


@models.of_each(models.with_drafts)
def test_no_line_of_a_shipped_solution_is_false(name: str) -> None:
    found = models.shipped(name)
    (values,) = some_values(found, 1)
    wrong = [f"{left} = {right}" for left, right in lines(found) if not is_true(left, right, values)]
    assert wrong == []


@pytest.mark.parametrize("case", CASES, ids=named)
def test_no_line_of_a_solved_model_is_false(case: Case) -> None:
    found = models.solved(case.model, case.ask, case.given, case.limiting)
    (values,) = some_values(found, 1)
    wrong = [f"{left} = {right}" for left, right in lines(found) if not is_true(left, right, values)]
    assert wrong == []


def constants_found(found: SolvedQuestion, solution: Solution) -> set[str]:
    """The constants of nature that a solution isolates on its way."""
    return {str(each.left) for each in solution.path} & found.system.constants - {found.question.ask}


def test_nobody_solves_for_a_constant_of_nature() -> None:
    """The orbit of one moon gives the mass of the planet, and not G, which stands in a table."""
    every = {name: models.shipped(name) for name in models.with_drafts()}
    assert [name for name, each in every.items() if constants_found(each, each.solution)] == []
    moon = every["weighing-a-planet.other-period"]
    planted = solve(replace(moon.system, constants=frozenset()), samples_of(moon.problem, moon.question))
    assert constants_found(moon, planted) == {"G"}


def test_each_line_follows_from_the_one_before() -> None:
    stages: tuple[Stage, ...] = models.solved(FAST, "v", "r mu theta", "F = mu*N").solution.path[-1].stages
    assert [stage.did for stage in stages][:2] == ["start", "put"]
    assert str(stages[0].left - stages[0].right) == "F*cos(theta) + N*sin(theta) - m*v**2/r"
    assert str(stages[1].what) == "F"


@models.of_each(models.shipped_ids)
def test_what_holds_has_the_sign_that_the_equations_give(name: str) -> None:
    found = models.shipped(name)
    decided = [each for each in found.kept if each.expression is not None]
    for values in some_values(found, 4) if decided else ():
        for each in decided:
            relation = each.reason.relation
            gap = (relation.left - relation.right) * (1 if relation.sign.startswith(">") else -1)
            size = max(abs(models.function(term)(values)) for term in sympy.Add.make_args(gap))
            exact, claimed = models.function(gap)(values), models.function(each.expression)(values)
            assert exact * claimed > 0 or abs(exact) <= 1e-6 * size, f"{each.reason.text}: {each.expression}, {values}"


# --- no answer --------------------------------------------------------------------------------


def refusal(model: str, ask: str, given: str, limiting: str | None = None) -> SolveError:
    with pytest.raises(SolveError) as caught:
        models.solved(model, ask, given, limiting)
    assert caught.value.question == "a-model.one"
    return caught.value


def test_a_question_with_too_little_given_says_what_to_give() -> None:
    error = refusal(TOP, "v", "r")
    assert error.wrong == "'v' can't be found from what is given"
    assert error.right == "give k as well"  # the mass cancels


def test_advice_is_given_only_where_it_leads_to_an_answer() -> None:
    """Planted: ω, or T, was to be given as well, which v and r fix, and which would not do without them."""
    assert refusal(SHADOW, "r", "d v t").right == "no one or two more would be enough: check the forces and relations"


def test_what_is_given_twice_over_is_refused_with_the_equation_between_the_givens() -> None:
    error = refusal(TOP, "N", "m r v k")
    assert error.wrong.startswith("k, r, v already fix each other by ")
    assert error.right == "give one of them less"


def test_a_limit_that_fixes_the_givens_is_refused() -> None:
    error = refusal(TABLE, "F", "m r omega mu", "F = mu*N")
    assert error.wrong.startswith("mu, omega, r already fix each other by ")


def test_two_admissible_values_are_refused_with_both() -> None:
    bowl = BANK.replace("quantities:", "relations: [r**2 = h*(2*R - h)]\nquantities:")
    error = refusal(bowl, "h", "r R")
    assert "two admissible values" in error.wrong
    assert error.wrong.count("sqrt(") == 2
    assert error.right == "give one more quantity"


def test_an_answer_that_no_draw_makes_positive_is_refused() -> None:
    lifted = VERTICAL + "diagrams: {top: {at: top, N: outward}}\nquantities: {N: N 40 50, m: kg 0.2 0.3}"
    error = refusal(lifted, "v", "m r N")
    assert "is positive for none of the draws" in error.wrong
    assert "check the draws and directions" in error.right


def test_a_negative_answer_is_taken_where_any_sign_is_allowed() -> None:
    signed = VERTICAL + "diagrams: {top: {at: top, F: inward}}\nquantities: {F: N any, v: m/s 0.2 0.4, r: m 2 3}"
    assert are_equal(models.solved(signed, "F", "m r v").solution.closed_form, by_hand("m*v**2/r - m*g"))


def test_a_negative_answer_is_refused_where_it_has_to_be_positive() -> None:
    error = refusal(VERTICAL + "diagrams: {top: {at: top, F: inward}}\nquantities: {v: m/s 0.2, r: m 2}", "F", "m r v")
    assert "is positive for none of the draws" in error.wrong
    assert "'sign: any'" in error.right


def test_two_tiny_answers_that_differ_are_two() -> None:
    """Charges and masses of particles are far below any absolute tolerance."""
    closed = {"one": sympy.Symbol("m"), "two": 2 * sympy.Symbol("m")}
    found = [Solution(name, form, ()) for name, form in closed.items()]
    assert len(_distinct(found, {"m": np.array([1.6e-27, 9.1e-31])})) == 2


def test_a_sum_goes_with_the_power_that_its_terms_share() -> None:
    expected = {"m": 1, "v": None, "g": None}
    force = parse("m*g - m*v**2/r")
    assert {name: power_law(force, name) for name in expected} == expected
    assert power_law(sympy.sqrt(parse("g*r + N*r/m")), "r") == sympy.Rational(1, 2)
