"""A good problem file as text, and variations of it: what the tests of loading start from."""

from __future__ import annotations

from pathlib import Path

from turnwright.bank.documents.document import Document, parse_document
from turnwright.bank.reading.files import problem_of

GOOD = """\
id: lantern
version: 1
title: A lantern swung over the top
family: vertical-circle
level: algebra
licence: CC-BY-4.0
objectives: [vertical-circle.least-speed]
motion: {plane: vertical, radius: r, speed: v}
diagrams:
  top:
    body: load
    mass: m
    at: top
    forces:
      weight: {}
      pull: {kind: contact, symbol: N, toward: inward}
  bottom:
    body: load
    mass: m
    at: bottom
    speed: v_low
    forces:
      weight: {}
      pull-low: {kind: contact, symbol: N_low, toward: inward}
relations:
  - equation: N = k*m*g
    because: "{the pull} is k times the weight"
energy:
  - from: bottom
    to: top
    because: "{by pull} is perpendicular to the path"
holds:
  - that: N >= 0
    because: "{by pull} can only {act pull}"
quantities:
  r: {means: radius of the circle, unit: m, draw: {from: 0.60, to: 1.20, step: 0.05}, plausible: {from: 0.2, to: 3}}
  m: {means: mass, unit: g, draw: [120, 160, 240, 360], plausible: {from: 50, to: 900}}
  v: {means: speed at the top, unit: m/s, draw: {from: 3.60, to: 6.00, step: 0.20}, plausible: {from: 1, to: 9}}
  v_low: {means: speed at the bottom, unit: km/h, plausible: {from: 10, to: 50}}
  k: {means: ratio of the pull to the weight, unit: "1", draw: {from: 0.50, to: 2.00, step: 0.25}}
  theta: {means: angle, unit: deg, draw: [25.0, 35.0]}
  N: {unit: N, plausible: {from: 0.1, to: 40}}
  N_low: {unit: N, plausible: {from: 0.1, to: 80}}
scenes:
  stage:
    story: "On the school stage, {a load} is swung round on {a cord}."
    words: {load: a paper lantern, cord: a light cord}
    forces:
      pull: {kind: tension, name: tension, symbol: F, by: the cord, acts: pulls}
      pull-low: {kind: tension, name: tension below, symbol: F_low, by: the cord, acts: pulls}
  fair:
    story: "At the fair, {a load} runs round the inside of a loop of track."
    words: {load: a toy cart}
    forces:
      pull: {kind: normal, name: normal force, symbol: F, by: the track, acts: pushes}
      pull-low: {kind: normal, name: normal force below, symbol: F_low, by: the track, acts: pushes}
    quantities:
      r: {unit: cm, draw: {from: 40, to: 80, step: 2}, plausible: {from: 20, to: 200}}
answered:
  unused-equation: "The diagram at the bottom is only shown."
questions:
  least-speed:
    title: Minimum speed at the top
    ask: v
    given: [r]
    limiting: N = 0
    stem: "The radius is {r}. What is the minimum speed of {the load} at the top?"
  pull:
    title: Force at the top
    ask: N
    given: [m, r, v]
    name: size of {the pull}
    stem: "The mass is {m}, the radius {r}, the speed {v}. Calculate the magnitude of {the pull}."
  low:
    title: Speed at the bottom
    ask: v_low
    given: [r, v]
    extra: [m]
    stem: "The mass is {m}, the radius {r}, and at the top the speed is {v}. Calculate the speed of {the load} at the bottom."
"""  # noqa: E501

WHEEL = """\
id: wheel
version: 1
title: A wheel that speeds up
family: kinematics
level: algebra
licence: CC-BY-4.0
objectives: [kinematics.angular-acceleration]
motion: {plane: horizontal, radius: r, angular-speed: omega, acceleration: a}
relations:
  - {equation: omega = omega_0 + alpha*t, because: "the angular acceleration is constant, and so"}
quantities:
  r: {means: radius of the circle, unit: m, draw: {from: 0.20, to: 0.60, step: 0.02}}
  omega_0: {means: initial angular speed, unit: rad/s, draw: [0]}
  omega: {means: angular speed, unit: rad/s, plausible: {from: 0.1, to: 90}}
  alpha: {means: angular acceleration, unit: rad/s^2, draw: {from: 0.50, to: 2.00, step: 0.05}}
  t: {means: time, unit: s, draw: {from: 2.00, to: 6.00, step: 0.20}, plausible: {from: 1, to: 9}}
  a: {means: centripetal acceleration, unit: m/s^2, plausible: {from: 0.1, to: 90}}
scenes:
  wheel:
    story: "In a workshop, {a wheel} rotates about an upright axle."
    words: {wheel: a potter's wheel}
questions:
  turning:
    title: Angular speed after some time
    ask: omega
    given: [omega_0, alpha, t]
    stem: "{The wheel} starts from rest. Its angular acceleration is {alpha}. Calculate its angular speed after {t}."
  inward:
    title: Centripetal acceleration after some time
    ask: a
    given: [omega_0, alpha, t, r]
    stem: "{The wheel} starts from rest. Its angular acceleration is {alpha}. Calculate the centripetal acceleration of a point at a distance of {r} from its axle after {t}."
"""  # noqa: E501


def varied(*changes: tuple[str, str], text: str = GOOD) -> str:
    """The text with each old piece, which stands there once, put for the new one."""
    for old, new in changes:
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times"
        text = text.replace(old, new)
    return text


def place(text: str, piece: str) -> tuple[int, int]:
    """Line and column, from 1, where a piece of the text begins; the piece stands there once."""
    assert text.count(piece) == 1, f"{piece!r} stands {text.count(piece)} times"
    before = text[: text.index(piece)]
    return before.count("\n") + 1, len(before) - before.rfind("\n")


def read(text: str | bytes) -> Document:
    """The document of a problem text, with all its faults."""
    document = parse_document(text if isinstance(text, bytes) else text.encode(), "lantern.yaml")
    problem_of(document)
    return document


def written(folder: Path, text: str | bytes = GOOD, name: str = "lantern.yaml") -> Path:
    """A file with that text."""
    path = folder / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return path
