"""Mistakes: their closed forms and numbers against lines worked out by hand, and the catalogue they stand in."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache
from importlib import resources
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import sympy
import yaml
from turnwright import schemas
from turnwright.bank.errors import BankFaultsError
from turnwright.bank.model.edit import EDITS, AnswerUnitEdit, NumericEdit, OpinionEdit, UnitEdit, edit_of
from turnwright.bank.model.mistake import Mistake
from turnwright.bank.reading.mistakes import read_mistakes, shipped_mistakes
from turnwright.bank.solving.solution import samples_of
from turnwright.bank.thinking.edits import edited
from turnwright.bank.thinking.mistaken_forms import MistakenForm, mistaken_forms, wrong_values
from turnwright.bank.variants.variant import VariantPool

from tests.bank import models
from tests.bank.models import GRAVITY


def own(kind: str, argument: Any) -> Mistake:
    """A mistake that the catalogue does not have, to try an edit of which it makes no use."""
    return Mistake(f"own-{kind}", "I think so.", edit_of(kind, argument), "Look again.", "common practice, no source")


NOTHING = "there is nothing for it to change"
OWN = {
    each.id: each
    for each in (
        own("limit", "N = m*g"),
        replace(own("drop", "friction"), id="own-friction-left-out"),
        replace(own("reverse", "weight"), id="own-weight-turned-round"),
    )
}


@cache
def catalogue() -> dict[str, Mistake]:
    """The shipped mistakes, those of the problems and drafts and the tests' own by id."""
    return models.mistakes() | OWN


@cache
def form_of(question: str, mistake: str) -> MistakenForm:
    """A mistake solved for a shipped question, where it is live."""
    live, idle = mistaken_forms(models.shipped(question), [catalogue()[mistake]])
    found = [each for each in live if each.mistake.id == mistake]  # a problem's own mistakes are always tried
    assert found, idle
    return found[0]


def table(text: str) -> list[list[str]]:
    """The rows of a table: a line of names, then an indented line of cells between bars."""
    lines = text.strip().split("\n")
    return [
        [*names.split(), *(cell.strip() for cell in cells.split("|"))]
        for names, cells in zip(lines[::2], lines[1::2], strict=True)
    ]


# --- closed forms -----------------------------------------------------------------------------


@dataclass(frozen=True)
class Pair:
    """A mistake in a question, the wrong closed form, and the line that derives it by hand."""

    question: str
    mistake: str
    form: str
    line: str


# question, mistake; the wrong closed form and the lines that derive it
PAIRS = tuple(
    Pair(*each)
    for each in table("""
over-the-top.pull-at-the-top weight-left-out
  m*v**2/r | N = m v²/r
loop-from-a-ramp.least-height only-just-at-the-top
  2*r | m g h = m g 2 r, v = 0 at the top
over-on-a-cord.least-speed-at-the-bottom only-just-at-the-top
  2*sqrt(g*r) | ½ m v² = m g 2 r
inside-a-bowl.speed bowl-radius-for-the-circle
  sqrt(R*g*tan(theta)) | m g tan θ = m v²/R
leaning-into-a-bend.speed cotangent-for-the-angle
  sqrt(g*r/tan(theta)) | N = f tan θ
two-cords-on-a-post.upper-tension equal-cords-equal-tensions
  m*omega**2*L/2 | 2 F sin θ = m ω² L sin θ
chair-ride.speed whole-length-added
  sqrt(g*(d + L)*tan(theta)) | m g tan θ = m v²/(d + L)
rotating-habitat.diameter acceleration-must-be-g
  2*g/omega**2 | ω² D/2 = g
two-loads-on-one-cord.tension-ratio ratio-of-tensions-upside-down
  m_2*r_2/(m_1*r_1 + m_2*r_2) | F₂/F₁ with F₂ = m₂ ω² r₂, F₁ = F₂ + m₁ ω² r₁
cord-through-a-hole.speed ratio-of-masses-upside-down
  sqrt(m*g*r/M) | m/M for M/m in v² = M g r/m
over-the-top.speed-from-weights weight-left-out
  sqrt(k*g*r) | k m g = m v²/r
rough-bank-fast.greatest-speed own-friction-left-out
  sqrt(g*r*tan(theta)) | N sin θ = m v²/r, N cos θ = m g
over-the-top.pull-at-the-top weight-turned-round
  m*v**2/r + m*g | N − m g = m v²/r: that of the bottom
through-the-bottom.pull-at-the-bottom weight-turned-round
  m*v**2/r - m*g | N + m g = m v²/r: of the top
rough-bank-slow.least-speed friction-turned-round
  sqrt(g*r*(tan(theta) + mu)/(1 - mu*tan(theta))) | N (sin θ + μ cos θ) = m v²/r, N (cos θ − μ sin θ) = m g
level-with-the-centre.contact-force whole-weight-inward
  m*v**2/r + m*g | N − m g = m v²/r
round-the-circle.contact-force whole-weight-inward
  m*v**2/r + m*g | N − m g = m v²/r, no cos θ
off-a-dome.height-of-leaving whole-weight-inward
  r/2 | m g = m v²/r, v² = 2 g (r − h): r = 2 (r − h)
rough-bank-fast.greatest-speed friction-left-out-vertically
  sqrt(g*r*(tan(theta) + mu)) | N (sin θ + μ cos θ) = m v²/r, N cos θ = m g
smooth-bank.speed sine-and-cosine-exchanged
  sqrt(g*r/tan(theta)) | N cos θ = m v²/r, N sin θ = m g
rough-bank-fast.greatest-speed sine-and-cosine-exchanged
  sqrt(g*r*(1 + mu*tan(theta))/(tan(theta) - mu)) | N (cos θ + μ sin θ) = m v²/r, N (sin θ − μ cos θ) = m g
round-the-circle.contact-force sine-and-cosine-exchanged
  m*v**2/r + m*g*sin(theta) | N − m g sin θ = m v²/r
wall-ride.least-turning friction-carries-inward
  sqrt(mu*g/r) | f = m ω² r, N = m g, f = μ N
wall-ride.friction friction-carries-inward
  m*omega**2*r | f = m ω² r
through-the-bottom.pull-at-the-bottom outward-force-and-m-a
  m*g + 2*m*v**2/r | N − m g − m v²/r = m v²/r
over-the-crest.normal-force outward-force-and-m-a
  m*g - 2*m*v**2/r | m g − N − m v²/r = m v²/r
flat-bend.greatest-speed outward-force-and-m-a
  sqrt(mu*g*r/2) | μ m g − m v²/r = m v²/r
over-the-crest.normal-force centripetal-as-a-force
  m*g | m g − N + m v²/r = m v²/r
spring-in-a-circle.stretched-length centripetal-as-a-force
  L | k (r − L) + m ω² r = m ω² r
conical-pendulum.tension-from-period acceleration-is-g
  sqrt(2)*m*g | F sin θ = m g, F cos θ = m g
cord-through-a-hole.puck-mass acceleration-is-g
  M | M g = m g
loop-from-a-ramp.least-height half-of-m-v-squared
  3*r | ½ m v²/r = m g, h = 2 r + v²/(2 g) = 2 r + r
flat-bend.friction-below-the-limit speed-not-squared
  m*v/r | f = m v/r
loop-from-a-ramp.least-height radius-squared
  2*r + r**2/2 | g = v²/r², h = 2 r + v²/(2 g)
rotating-habitat.turning angular-speed-not-squared
  n*g/r | n g = ω r
smooth-bank.speed contact-is-the-weight
  sqrt(g*r*sin(theta)) | m g sin θ = m v²/r
conical-pendulum.period contact-is-the-weight
  2*pi*sqrt(L/g) | m g sin θ = m (2π/T)² L sin θ
smooth-bank.speed contact-is-part-of-the-weight
  sqrt(g*r*sin(theta)*cos(theta)) | m g cos θ sin θ = m v²/r
conical-pendulum.tension contact-is-part-of-the-weight
  m*g*cos(theta) | F = m g cos θ
smooth-bank.bank-angle contact-is-the-weight-inward
  asin(v**2/(g*r)) | m g sin θ = m v²/r
conical-pendulum.speed cord-taken-as-radius
  sqrt(g*L*tan(theta)) | m g tan θ = m v²/L
chair-ride.speed arm-left-out
  sqrt(g*L*sin(theta)*tan(theta)) | m g tan θ = m v²/(L sin θ)
chair-ride.speed slanting-part-left-out
  sqrt(g*d*tan(theta)) | m g tan θ = m v²/d
satellite.speed height-left-out
  sqrt(G*M/R) | G M m/R² = m v²/R
satellite.period height-taken-as-radius
  2*pi*sqrt(h**3/(G*M)) | G M m/h² = m (2π/T)² h
over-on-a-cord.least-speed-at-the-bottom same-speed-all-round
  sqrt(g*r) | m g = m v²/r, v the same
over-on-a-cord.least-speed-at-the-bottom climb-of-one-radius
  sqrt(3*g*r) | v² = g r + 2 g r
loop-from-a-ramp.least-height climb-of-one-radius
  3*r/2 | m g h = ½ m g r + m g r
loop-from-a-ramp.least-height kinetic-energy-without-half
  3*r | m g h = m g r + 2 m g r
loop-with-a-loss.least-height loss-left-out
  5*r/2 | m g h = ½ m g r + 2 m g r
loop-with-a-loss.least-height loss-as-a-gain
  5*r/2 - W/(m*g) | m g h + W = ½ m g r + 2 m g r
loop-with-a-loss.loss kinetic-energy-without-half
  m*g*(h - 2*r) - m*v**2 | m g h = m v² + 2 m g r + W
coupled-discs.common-angular-speed energy-taken-as-conserved
  omega_1*sqrt(J_1/(J_1 + J_2)) | ½ J₁ ω₁² = ½ (J₁ + J₂) ω²
to-the-middle.ratio whole-disc-at-the-rim
  (M + m_1 + m)/(M + m_1) | (M + m₁ + m) ω₁ = (M + m₁) ω₂
to-the-middle.ratio platform-left-out-both-times
  (m_1 + m)/m_1 | (m₁ + m) ω₁ = m₁ ω₂
drawn-together.ratio-of-energies inertia-with-the-cube
  R_1**3/R_2**3 | J₁/J₂ = R₁³/R₂³, J₁ ω₁ = J₂ ω₂
masses-compared.ratio masses-squared-in-the-ratio
  sqrt(r_1**3*T_2**2/(r_2**3*T_1**2)) | T² = 4π² r³/(G M²) for both
masses-compared.ratio masses-under-a-root
  (r_1**3*T_2**2/(r_2**3*T_1**2))**2 | T² = 4π² r³/(G √M) for both
ellipse.period radius-as-way-round
  sqrt(((r_p + r_a)/2)**3/(G*M)) | T² = a³/(G M): the 2π of one revolution left out, so its square
ellipse.period half-the-way-round
  pi*sqrt(((r_p + r_a)/2)**3/(G*M)) | T² = π² a³/(G M)
accelerating-voltage.radius kinetic-energy-without-half
  sqrt(m*U/q)/B | q U = m v², q v B = m v²/r
energy-of-an-orbit.escape-speed kinetic-energy-without-half
  sqrt(G*M/(R + h)) | m u² = G M m/(R + h)
ellipse.nearest-speed kinetic-energy-without-half
  sqrt(G*M*r_a/(r_p*(r_p + r_a))) | v_p² − G M/r_p = v_a² − G M/r_a, v_a = r_p v_p/r_a
cord-pulled-in.work kinetic-energy-without-half
  m*v_1**2*(r_1**2 - r_2**2)/r_2**2 | m v_2² − m v_1², v_2 = v_1 r_1/r_2
isotopes.other-radius ratio-upside-down
  m_1*r_1/m_2 | m₁/m₂ for m₂/m₁
isotopes.other-radius root-of-the-ratio
  r_1*sqrt(m_2/m_1) | √(m₂/m₁) for m₂/m₁
helix.pitch angle-from-the-other-line
  2*pi*m*v*sin(theta)/(q*B) | cos(90° − θ) = sin θ
over-the-top.least-speed own-limit
  sqrt(2*g*r) | m g + m g = m v²/r
flat-bend.greatest-speed-from-diameter diameter-as-radius
  sqrt(mu*g*d) | μ m g = m v²/d
going-round.turning radius-upside-down
  v*r | ω = v r for v/r
rotating-habitat.diameter radius-for-diameter
  n*g/omega**2 | n g = ω² r, and r is given as the answer
satellite.speed-from-circumference circumference-as-radius
  sqrt(G*M/C) | G M m/C² = m v²/C
going-round.acceleration-from-circumference circumference-over-pi-as-radius
  pi*v**2/C | a = v²/(C/π)
on-a-turntable.friction-from-revolutions revolutions-in-a-second-as-omega
  m*r*k**2/t**2 | f = m (k/t)² r
conical-pendulum.tension-from-revolutions whole-time-as-period
  4*pi**2*m*L/t**2 | F sin θ = m (2π/t)² L sin θ
conical-pendulum.speed angle-from-the-other-line
  sqrt(g*L*cos(theta)/tan(theta)) | v² = g L sin θ tan θ, θ → 90° − θ
smooth-bank.speed degrees-as-radians
  sqrt(g*r*tan(180*theta/pi)) | tan of the number of degrees
smooth-bank.bank-angle degrees-as-radians
  pi/180*atan(v**2/(g*r)) | the number of radians, called degrees
at-a-latitude.speed degrees-as-radians
  2*pi*R*cos(180*phi/pi)/T | cos of the number of degrees
going-round.speed period-as-frequency
  2*pi*r*T | v = 2π r f with T for f
going-round.speed radius-as-way-round
  r/T | v = r/T
rotating-habitat.normal-force half-the-way-round
  pi**2*m*r/T**2 | v = π r/T, N = m v²/r
at-a-latitude.slower-than-the-equator radius-as-way-round
  R*(1 - cos(phi))/T | u = R/T − R cos φ/T
over-the-top.least-speed root-not-taken
  g*r | v² = g r
wall-ride.coefficient-from-speed fraction-upside-down
  v**2/(g*r) | N/f for f/N
flat-bend.friction-below-the-limit friction-at-its-limit
  mu*m*g | f = μ N, N = m g
wall-ride.friction friction-at-its-limit
  mu*m*omega**2*r | f = μ N, N = m ω² r
rough-bank-fast.friction friction-at-its-limit
  mu*m*g/(cos(theta) - mu*sin(theta)) | f = μ N, N cos θ − f sin θ = m g
rough-bank-slow.friction friction-at-its-limit
  mu*m*g/(cos(theta) + mu*sin(theta)) | f = μ N, N cos θ + f sin θ = m g
spring-in-a-circle.spring-constant length-for-extension
  4*pi**2*m/T**2 | k r = m (2π/T)² r
two-loads-on-one-cord.inner-tension inner-cord-for-inner-load-alone
  m_1*omega**2*r_1 | F₁ = m₁ ω² r₁
two-wheels-on-one-belt.second-turning ratio-upside-down
  omega_1*r_2/r_1 | ω₂/ω₁ = r₂/r₁
rim-and-hub.inner-speed same-for-both
  v_1 | v₂ = v₁
weighing-a-planet.other-period in-proportion-to-the-ratio
  T_1*r_2/r_1 | T₂/T₁ = r₂/r₁
speeding-up-on-a-circle.total-acceleration parts-added-as-numbers
  v**2/r + b | A = a + b
speeding-up-on-a-circle.growth-from-the-total parts-added-as-numbers
  A - v**2/r | A = a + b
pendulum-on-the-way-up.total-acceleration first-component-alone
  g*sin(theta) | A = a_t for √(a² + a_t²)
pendulum-on-the-way-up.total-acceleration last-component-alone
  v**2/r | A = v²/r for √(a² + a_t²)
inside-a-cone.height-from-speed as-if-it-had-fallen
  v**2/(2*g) | ½ m v² = m g h
rotating-habitat.normal-force square-forgotten
  4*pi**2*m*r/T | N = m 4π² r/T
smooth-bank.speed gravity-left-out
  sqrt(r*tan(theta)) | tan θ = v²/r
wall-ride.friction friction-of-the-weight
  mu*m*g | f = μ m g
rotating-habitat.normal-force weight-far-from-planets
  4*pi**2*m*r/T**2 + m*g | N − m g = m (2π/T)² r
rotating-habitat.normal-force two-pi-not-squared
  2*pi*m*r/T**2 | N = m 2π r/T²
speeding-up-on-a-circle.inward-part-after-a-time square-forgotten
  b*t**2/r | v² = b t², a = v²/r
speeding-up-on-a-circle.inward-part-after-a-time last-factor-not-squared
  b**2*t/r | v² = b² t, a = v²/r
speeding-up-on-a-circle.growth-from-the-total squares-with-the-wrong-sign
  sqrt(A**2 + v**4/r**2) | b² = A² + (v²/r)²
big-wheel.bottom-from-top sign-of-a-term
  F_top + 2*m*g | F_b = 2 m g + F_t
big-wheel.bottom-from-top only-the-first-term
  2*m*g | F_b = 2 m g
loop-from-a-ramp.height-for-a-force only-the-last-term
  N_top*r/(2*m*g) | h = N r/(2 m g), without 5 r/2
smooth-bank.bank-angle inverse-not-taken
  v**2/(g*r)*pi/180 | tan θ = v²/(g r), given as degrees
banking-aircraft.angle-from-lift cosine-as-tangent
  atan(1/k) | tan θ = 1/k for cos θ = 1/k
smooth-bank.radius diameter-for-the-radius
  2*v**2/(g*tan(theta)) | 2 r
conical-pendulum.period frequency-for-the-period
  1/(2*pi*sqrt(L*cos(theta)/g)) | 1/T
smooth-bank.speed angular-speed-for-the-speed
  sqrt(g*tan(theta)/r) | ω = v/r
rim-and-hub.inner-speed ratio-squared
  v_1*r_2**2/r_1**2 | v₂/v₁ = (r₂/r₁)²
weighing-a-planet.other-period exponents-exchanged
  T_1*(r_2/r_1)**(2/3) | T³/r² is the same for both
weighing-a-planet.other-radius exponents-exchanged
  r_1*(T_2/T_1)**(3/2) | T³/r² is the same for both
spin-up-from-rest.revolutions-at-average-speed greater-angular-speed-throughout
  omega*t/(2*pi) | 2π n = ω t
spin-up-from-rest.angle-after-a-time greater-angular-speed-throughout
  alpha*t**2 | ω = α t, θ = ω t
spin-up-from-rest.angular-acceleration-from-revolutions greater-angular-speed-throughout
  omega**2/(2*pi*n) | t = ω/α, 2π n = ω t
braking-to-rest.time-for-the-last-revolutions greater-angular-speed-throughout
  sqrt(2*pi*n/alpha) | ω₀ = α t, 2π n = ω₀ t
change-of-angular-speed.revolutions-from-the-acceleration greater-angular-speed-throughout
  (omega_0*t + alpha*t**2)/(2*pi) | ω = ω₀ + α t, 2π n = ω t
change-of-angular-speed.acceleration-from-revolutions greater-angular-speed-throughout
  omega*(omega - omega_0)/(2*pi*n) | t = (ω − ω₀)/α, 2π n = ω t
change-of-angular-speed.angular-acceleration smaller-angular-speed-left-out
  omega/t | ω = α t
change-of-angular-speed.revolutions-from-the-acceleration smaller-angular-speed-left-out
  alpha*t**2/(4*pi) | 2π n = ½ α t²
change-of-angular-speed.acceleration-from-revolutions smaller-angular-speed-left-out
  omega**2/(4*pi*n) | ω² = 2 α 2π n
change-of-angular-speed.acceleration-from-revolutions difference-of-speeds-squared
  (omega - omega_0)**2/(4*pi*n) | (ω − ω₀)² = 2 α 2π n
change-of-angular-speed.final-speed-after-revolutions difference-of-speeds-squared
  omega_0 + sqrt(4*pi*alpha*n) | (ω − ω₀)² = 2 α 2π n
spin-up-from-rest.angular-acceleration-from-a-time average-for-the-change
  omega/(2*t) | ω/2 = α t
braking-to-rest.time-to-rest average-for-the-change
  omega_0/(2*alpha) | ω₀/2 = α t
spin-up-from-rest.angle-after-a-time revolutions-for-radians
  alpha*t**2/(4*pi) | n = θ/(2π)
spin-up-from-rest.angle-after-a-time time-upside-down
  alpha/(2*t**2) | 1/t for t
spin-up-from-rest.time-for-revolutions angular-acceleration-upside-down
  sqrt(4*pi*n*alpha) | 1/α for α
rolling-along.distance-for-revolutions half-the-way-round
  pi*d/2*n | n times π r
part-of-a-revolution.average-velocity distance-for-the-displacement
  r*theta/t | u = s/t, s = r θ
part-of-a-revolution.change-in-velocity right-angle-taken-for-granted
  v*sqrt(2) | w² = v² + v²
part-of-a-revolution.change-in-velocity sum-of-arrows-for-their-difference
  v*sqrt(2 + 2*cos(theta)) | w² = v² + v² + 2 v² cos θ
spin-up-from-rest.time-for-revolutions revolutions-as-radians
  sqrt(2*n/alpha) | n = ½ α t²
spin-up-from-rest.revolutions-after-a-time radians-for-revolutions
  alpha*t**2/2 | θ = ½ α t²
along-an-arc.arc-from-angle arc-of-half-the-circumference
  r*theta/2 | s/(π r) = θ/(2π)
along-an-arc.arc-from-angle arc-as-share-of-the-radius
  r*theta/(2*pi) | s/r = θ/(2π)
along-an-arc.angle-from-arc angle-from-half-the-circumference
  2*s/r | s/(π r) = θ/(2π)
along-an-arc.angle-from-arc angle-from-a-share-of-the-radius
  2*pi*s/r | s/r = θ/(2π)
off-a-dome.angle-from-speed angle-from-the-other-line
  pi/2 - acos(1 - v**2/(2*g*r)) | 90° − θ
going-round.turning answer-left-in-si
  v/r | ω = v/r in rad/s
""")
)


@pytest.mark.parametrize("pair", PAIRS, ids=[f"{each.mistake} in {each.question}" for each in PAIRS])
def test_the_closed_form_of_a_mistake_is_the_one_derived_by_hand(pair: Pair) -> None:
    known = models.shipped(pair.question)
    samples = samples_of(known.problem, known.question)
    names = sorted(samples)
    letters = {name: sympy.Symbol(name) for name in names}
    by_hand = sympy.parse_expr(pair.form, local_dict=letters)
    found, expected = (
        np.broadcast_to(_over(form, names)(*(samples[name] for name in names)), np.shape(samples["g"]))
        for form in (form_of(pair.question, pair.mistake).closed_form, by_hand)
    )
    both = np.isfinite(expected)
    assert both.sum() >= 5
    np.testing.assert_allclose(found[both], expected[both], rtol=1e-9, atol=0, err_msg=pair.line)


def _over(form: sympy.Expr, names: list[str]) -> Callable[..., Any]:
    made = sympy.lambdify([sympy.Symbol(name) for name in names], form, modules="numpy")

    def values(*numbers: Any) -> Any:
        with np.errstate(all="ignore"):
            return made(*numbers)

    return values


def test_the_hand_derived_forms_go_through_every_kind_of_edit() -> None:
    tried = {type(catalogue()[pair.mistake].edit) for pair in PAIRS}
    assert tried == set(edited.registry) - {object} | {AnswerUnitEdit}
    assert tried == {each for each in EDITS.values() if issubclass(each, NumericEdit)} - {UnitEdit}
    assert len({(pair.question, pair.mistake) for pair in PAIRS}) == len(PAIRS) >= 25


# --- numbers against published accounts of the error ----------------------------------------------


@dataclass(frozen=True)
class Account:
    """How far off an error is: the wrong number over the right one, as an account of it tells."""

    question: str
    mistake: str
    factor: str
    says: str
    source: str


# Question, mistake; the factor with k = v²/(r g), what is said of it, and the source. Sizes were worked out apart from
# this library, in the project's table of wrong ideas.
ACCOUNTS = tuple(
    Account(*each)
    for each in table("""
rotating-habitat.multiple-of-g turns-per-minute-as-they-are
  91.2 | rpm for rad/s: a × 91.2 | common practice, no source
two-wheels-on-one-belt.belt-speed turns-per-minute-as-they-are
  9.55 | rpm for rad/s: v × 9.55 | common practice, no source
rotating-habitat.multiple-of-g turns-per-second-as-radians
  1/39.5 | no 2π: a × 1/39.5 | common practice, no source
two-wheels-on-one-belt.belt-speed turns-per-second-as-radians
  1/6.28 | no 2π: v × 1/6.28 | common practice, no source
smooth-bank.radius kilometres-per-hour-as-they-are
  12.96 | km/h for m/s: v² × 12.96 | common practice, no source
laboratory-centrifuge.multiple-of-g centimetres-as-they-are
  100 | cm for m: ω² r × 100 | common practice, no source
going-round.turning centimetres-as-they-are
  0.01 | cm for m: divided by r, × 0.01 | common practice, no source
conical-pendulum.tension grams-as-they-are
  1000 | g for kg: force × 1000 | common practice, no source
satellite.speed kilometres-as-they-are
  31.6 | km for m: √(1/r) × 31.6 | common practice, no source
flat-bend.greatest-speed-from-diameter diameter-as-radius
  sqrt(2) | d for d/2: μ g r is doubled | common practice, no source
laboratory-centrifuge.multiple-of-g-from-diameter diameter-as-radius
  2 | d for d/2: ω² r is doubled | common practice, no source
flat-bend.friction-below-the-limit half-of-m-v-squared
  1/2 | ½ m v²/r | common practice, no source
flat-bend.friction-below-the-limit outward-force-and-m-a
  2 | doubles where it acts alone | idea: Hestenes, Wells, Swackhamer (1992); size: common practice
smooth-bank.speed contact-is-the-weight-inward
  sqrt(cos(theta)) | g sin θ: v low by √cos θ | common practice, no source
smooth-bank.speed contact-is-part-of-the-weight
  cos(theta) | N = m g cos θ: v low by cos θ | common practice, no source
conical-pendulum.tension contact-is-part-of-the-weight
  cos(theta)**2 | T = m g cos θ: low by cos² θ | common practice, no source
conical-pendulum.tension contact-is-the-weight
  cos(theta) | T = m g for m g/cos θ | OpenStax, University Physics vol. 1, section 6.1, warns of it
conical-pendulum.period contact-is-the-weight
  1/sqrt(cos(theta)) | 2π√(L/g): high by 1/√cos θ | common practice, no source
conical-pendulum.speed cord-taken-as-radius
  1/sqrt(sin(theta)) | L for L sin θ: v high by 1/√sin θ | common practice, no source
smooth-bank.acceleration sine-and-cosine-exchanged
  1/tan(theta)**2 | tan θ becomes cot θ | common practice, no source
wall-ride.coefficient-from-speed friction-carries-inward
  (v**2/(g*r))**2 | the reciprocal, μ = v²/(g r) | idea: OpenStax, University Physics vol. 1, section 6.2
over-the-top.pull-at-the-top weight-turned-round
  (k + 1)/(k - 1) | the equation of the bottom: high by 2 m g | common practice, no source
through-the-bottom.pull-at-the-bottom weight-turned-round
  (k - 1)/(k + 1) | low by 2 m g | common practice, no source
through-the-bottom.pull-at-the-bottom weight-left-out
  k/(k + 1) | k for k + 1 | common practice, no source
going-round.speed radius-as-way-round
  1/(2*pi) | r/T for 2π r/T | common practice, no source
going-round.turning answer-left-in-si
  2*pi/60 | rad/s for r/min: × 0.105 | common practice, no source
going-round.turning answer-per-second
  1/60 | r/s for r/min | common practice, no source
two-wheels-on-one-belt.belt-speed sixty-left-out
  60 | no 60: v × 60 | common practice, no source
satellite.speed-from-period minutes-as-they-are
  60**(1/3) | min for s: v³ goes as 1/T, × 60 | common practice, no source
at-a-latitude.slower-than-the-equator hours-as-they-are
  3600 | h for s: × 3600 | common practice, no source
along-an-arc.arc-from-angle degrees-as-they-are
  57.3 | degrees for radians: s × 57.3 | common practice, no source
along-an-arc.angle-from-arc answer-left-in-si
  0.01745 | radians, called degrees: θ × π/180 | common practice, no source
spin-up-from-rest.angular-acceleration-from-revolutions revolutions-as-radians
  6.283 | revolutions for radians: α × 2π | common practice, no source
charged-particle.speed millitesla-as-they-are
  1000 | mT for T: × 1000 | common practice, no source
isotopes.field millimetres-as-they-are
  1/1000 | mm for m: B goes as 1/s, ÷ 1000 | common practice, no source
""")
)


@pytest.mark.parametrize("account", ACCOUNTS, ids=[f"{each.mistake} in {each.question}" for each in ACCOUNTS])
def test_a_wrong_number_is_as_far_off_as_the_account_of_its_error_tells(account: Account) -> None:
    found = form_of(account.question, account.mistake)
    factor = models.function(sympy.parse_expr(account.factor).subs("k", sympy.parse_expr("v**2/(r*g)")))
    tried = 0
    for pool in VariantPool(models.shipped(account.question), GRAVITY).pools:
        numbers = np.arange(min(len(pool.grid), 12))
        ratios = wrong_values(found, pool, numbers) * pool.answer.unit.factor / pool.exact(numbers)
        for number, ratio in zip(numbers, ratios, strict=True):
            if np.isfinite(ratio):  # a scene without the unit in question has none
                x = {name: each.si for name, each in pool.grid.printed(int(number)).items()}
                assert ratio == pytest.approx(factor(x), rel=1e-3), account.says
                tried += 1
    assert tried >= 5


def test_the_mistake_that_a_printed_answer_shows_comes_out_with_its_number() -> None:
    # OpenStax, College Physics 2e, section 6.6: 7910 m/s is printed for a satellite 900 km up, where 7400 m/s is right;
    # G M of the Earth as 3.986e14 m³/s², R as 6371 km (from memory)
    numbers = {"G": 6.674e-11, "M": 3.986e14 / 6.674e-11, "R": 6.371e6, "h": 9.0e5}
    wrong = models.function(form_of("satellite.speed", "height-left-out").closed_form)(numbers)
    assert (round(wrong, -1), round(models.answer("satellite.speed", **numbers), -1)) == (7910, 7400)


@pytest.mark.parametrize(("percent", "height"), [(5, 653e3), (2, 257e3)])
def test_leaving_the_height_out_takes_as_high_an_orbit_as_tabled_to_be_seen(percent: float, height: float) -> None:
    numbers = {"G": 6.674e-11, "M": 5.97e24, "R": 6.371e6, "h": height}
    wrong = models.function(form_of("satellite.speed", "height-left-out").closed_form)(numbers)
    assert wrong / models.answer("satellite.speed", **numbers) == pytest.approx(1 + percent / 100, abs=2e-4)


# --- where a mistake does nothing -----------------------------------------------------------------


def test_numbers_that_stay_in_one_unit_throughout_are_no_mistake() -> None:
    """Radius in cm, height in cm: 5 r/2 is right without any conversion."""
    found = form_of("loop-from-a-ramp.least-height", "centimetres-as-they-are")
    for pool in VariantPool(models.shipped("loop-from-a-ramp.least-height"), GRAVITY).pools:
        assert np.isnan(wrong_values(found, pool, np.arange(len(pool.grid)))).all()


@pytest.mark.parametrize(
    ("question", "mistake", "why"),
    [
        ("over-the-top.least-speed", "own-weight-turned-round", "positive for none of the draws"),  # −m g = m v²/r
        ("over-the-top.least-speed", "weight-turned-round", "the limit at which a force is zero"),
        ("off-a-dome.speed-on-leaving", "centripetal-as-a-force", "the limit at which a force is zero"),
        ("over-the-top.least-speed", "weight-left-out", "the limit at which a force is zero"),  # 0 = m v²/r
        ("flat-bend.greatest-speed", "turns-per-minute-as-they-are", "no given is printed in r/min"),
        (
            "rough-bank-fast.greatest-speed",
            "centripetal-as-a-force",
            "can't be found",
        ),  # no v is left
        ("off-a-dome.force-at-an-angle", "climb-of-one-radius", NOTHING),
        ("wheels-on-one-axle.belt-speed", "diameter-as-radius", "gives no diameter"),
        ("going-round.speed-from-diameter", "radius-for-diameter", "asks for no diameter"),
        ("going-round.speed-from-diameter", "circumference-as-radius", "gives no circumference"),
        ("going-round.acceleration", "whole-time-as-period", "gives no number of revolutions"),
        ("going-round.acceleration", "half-of-m-v-squared", "the square of the speed"),  # a = ω² r
        ("level-with-the-centre.contact-force", "contact-is-the-weight", "horizontal"),
        ("over-the-top.speed-from-weights", "contact-is-the-weight", "is given"),  # N = k m g
        ("through-the-dip.greatest-speed", "contact-is-the-weight", "is given"),
        ("two-orbits.speed", "in-proportion-to-the-ratio", NOTHING),  # no period and no radius is asked for
        ("two-orbits.ratio-of-speeds", "exponents-exchanged", NOTHING),  # a ratio of speeds
        ("masses-compared.period", "exponents-exchanged", NOTHING),  # T³ = r²/M would change the root of k as well
        ("masses-compared.radius", "in-proportion-to-the-ratio", NOTHING),
        ("rim-and-hub.speed-difference", "radius-upside-down", NOTHING),  # r₁ − r₂
        ("laboratory-centrifuge.speed", "angular-speed-for-the-speed", NOTHING),  # it is given
        ("loop-from-a-ramp.force-at-the-top", "sign-of-a-term", NOTHING),  # −5 m g: −m g and −4 m g
        ("over-on-a-cord.top-from-bottom", "weight-turned-round", NOTHING),  # at the top, at the bottom or both?
        ("rough-bank-fast.greatest-speed", "contact-is-the-weight-inward", NOTHING),  # f = μ N: which N?
        ("rim-and-hub.inner-acceleration", "speed-not-squared", NOTHING),  # a₁ and a₂
        ("wheels-on-one-axle.rim-speed", "same-for-both", NOTHING),  # ω₁ R is no value of the other wheel
        ("weighing-a-planet.other-period", "ratio-squared", NOTHING),
        ("speeding-up-on-a-circle.total-acceleration", "first-component-alone", NOTHING),  # a_t is given
        ("speeding-up-on-a-circle.growth-from-the-total", "last-component-alone", NOTHING),  # A is no part of a_t
        ("through-a-bowl.height-from-speed", "only-the-first-term", NOTHING),  # r is given
    ],
)
def test_a_mistake_that_gives_no_other_answer_says_why(question: str, mistake: str, why: str) -> None:
    live, (idle,) = mistaken_forms(models.shipped(question), [catalogue()[mistake]])
    live = tuple(each for each in live if each.mistake.id == mistake)  # a problem's own mistakes are always tried
    assert (live, idle.mistake.id) == ((), mistake)
    assert why in idle.why


def test_a_mistake_is_tried_in_its_families_only() -> None:
    only = replace(catalogue()["root-not-taken"], families=("orbit",))
    assert mistaken_forms(models.shipped("flat-bend.greatest-speed"), [only]) == ((), ())
    assert mistaken_forms(models.shipped("satellite.speed"), [only])[0]


# --- the catalogue ----------------------------------------------------------------------------


def test_every_mistake_with_a_number_is_live_in_a_shipped_question_or_in_a_draft() -> None:
    """What came into the catalogue with a draft is live in a draft only, until that is one of the bank."""
    live = {each.mistake.id for name in models.shipped_ids() for each in models.diagnosed(name).live}
    numeric = {
        name: each for name, each in catalogue().items() if isinstance(each.edit, NumericEdit) and name not in OWN
    }
    assert live <= set(numeric)
    assert len(numeric) >= 25
    for name in models.with_drafts()[len(models.shipped_ids()) :]:
        missing = [each for each in numeric.values() if each.id not in live]
        live |= {each.mistake.id for each in mistaken_forms(models.shipped(name), missing)[0]} if missing else set()
    assert live == set(numeric)


def test_the_schema_knows_every_kind_of_edit_and_no_other() -> None:
    assert set(schemas.load("mistakes")["$defs"]["edit"]["properties"]) == set(EDITS)


def test_an_edit_tells_its_argument_as_the_catalogue_writes_it() -> None:
    root = Path(str(resources.files("turnwright.bank") / "mistakes"))
    written = {
        name: each["edit"]
        for path in root.glob("*.yaml")
        for name, each in yaml.safe_load(path.read_text("utf-8"))["mistakes"].items()
    }
    assert {each.id: {each.edit.name: each.edit.argument} for each in shipped_mistakes()} == written


def test_every_mistake_says_what_a_student_thinks_what_to_do_next_and_where_it_is_known_from() -> None:
    for each in shipped_mistakes():
        assert each.source.strip(), each.id
        assert each.thinking[-1] + each.feedback[-1] in ("..", ".?"), each.id
    thoughts = [each.thinking for each in shipped_mistakes()]
    assert len(set(thoughts)) == len(thoughts)


SCOLDING = {
    "wrong", "incorrect", "careless", "mistake", "error", "obviously", "simply", "should", "forgot", "failed", "sorry",
}  # fmt: skip


def test_no_feedback_scolds_or_judges() -> None:
    for each in shipped_mistakes():
        words = {word.strip(".,;:?!").lower() for word in each.feedback.split()}
        assert not words & SCOLDING or "should this" in each.feedback, (each.id, words & SCOLDING)


def test_the_two_ideas_that_give_the_right_number_are_asked_about_in_words_and_diagrams_only() -> None:
    """An outward force in balance, or one that cancels the weight at the top, gives the right number."""
    found = [each.edit for each in shipped_mistakes() if each.id in ("outward-force-drawn", "acceleration-outward")]
    assert {each.name for each in found} == {"diagram", "direction"}
    assert all(isinstance(each, OpinionEdit) for each in found)


# --- bad input ----------------------------------------------------------------------------------

GOOD = """\
mistakes:
  root-not-taken:
    thinking: "I stopped at the square."
    edit: {answer: x**2}
    feedback: "Look at the unit."
    source: common practice, no source
"""
SPOILED = {
    "an unknown edit": ("answer: x**2", "forget: x", "4:12", "edit.forget: this field is unknown"),
    "an unknown force": ("answer: x**2", "drop: lift", "4:18", "found 'lift'; expected weight, friction or"),
    "no edit": ("{answer: x**2}", "{}", "4:11", "expected at least one entry"),
    "two edits": ("answer: x**2", "answer: x**2, round: r", "4:11", "expected at most one entry"),
    "a formula that is none": ("x**2", "x^2", "4:20", "found '^' in 'x^2'; write a power with **"),
    "an unknown field": ("source:", "origin: x\n    source:", "6:5", "origin: this field is unknown"),
    "no source": ("    source: common practice, no source\n", "", "3:5", "the field 'source' is missing"),
    "an unknown slot": ("at the square", "at {the square}", "3:15", "found the unknown slot '{square}'; write arm, "),
    "an id with capitals": ("root-not-taken:", "RootNotTaken:", "2:3", "this name can't be used here"),
    "a feedback that is none": ('"Look at the unit."', '""', "5:15", "expected some text"),
}


def catalogue_file(folder: Path, name: str, text: str) -> Path:
    path = folder / name
    path.write_text(text, "utf-8")
    return path


@pytest.mark.parametrize(("old", "new", "place", "message"), SPOILED.values(), ids=SPOILED)
def test_what_is_wrong_with_a_catalogue_is_told_at_its_place(
    tmp_path: Path, old: str, new: str, place: str, message: str
) -> None:
    assert GOOD.count(old) == 1
    path = catalogue_file(tmp_path, "own.yaml", GOOD.replace(old, new))
    with pytest.raises(BankFaultsError) as caught:
        read_mistakes([path])
    assert any(str(fault).startswith(f"{path}:{place}: ") and message in str(fault) for fault in caught.value.faults), (
        str(caught.value)
    )


def test_all_faults_of_all_catalogue_files_are_told_in_one_run(tmp_path: Path) -> None:
    texts = {
        "a.yaml": GOOD,
        "b.yaml": GOOD.replace("x**2", "x^2"),
        "c.yaml": GOOD.replace("answer: x**2", "forget: x").replace("    source:", "    origin: x\n    source:"),
        "d.yaml": GOOD,
    }
    paths = [catalogue_file(tmp_path, name, text) for name, text in texts.items()]
    with pytest.raises(BankFaultsError) as caught:
        read_mistakes(paths)
    told = [(Path(fault.place.file).name, fault.place.line, fault.wrong) for fault in caught.value.faults]
    assert [(file, line) for file, line, _ in told] == [
        ("b.yaml", 4),
        ("c.yaml", 6),
        ("c.yaml", 4),
        ("b.yaml", 2),
        ("d.yaml", 2),
    ]
    assert [wrong for *_, wrong in told[-2:]] == ["the mistake 'root-not-taken' stands twice"] * 2


def test_an_id_that_stands_twice_in_one_file_is_told_at_the_second(tmp_path: Path) -> None:
    path = catalogue_file(tmp_path, "own.yaml", GOOD + GOOD.partition("\n")[2])
    with pytest.raises(BankFaultsError, match=r"own\.yaml:7:3: the key 'root-not-taken' stands twice"):
        read_mistakes([path])
