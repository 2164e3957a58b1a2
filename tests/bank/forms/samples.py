"""Small banks of candidates and programmes for the tests of forms, and forms by listing all of them."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, product
from pathlib import Path
from typing import Any

from turnwright.bank.forms.blueprint import Blueprint
from turnwright.bank.forms.blueprint_reader import read_blueprint
from turnwright.bank.forms.candidate import Candidate
from turnwright.bank.forms.programme import Bound, Programme, Rule

GOOD = """\
id: fair-week
title: Fair week
forms: 2
questions: 3
seed: 3
kinds: [number, choice]
minutes: {from: 6, to: 15}
rows:
  - {content: [vertical-circle], count: {from: 1, to: 2}}
  - {name: the rest, content: [flat-curve, orbit], count: {from: 1, to: 2}}
"""


def blueprint(folder: Path, text: str = GOOD) -> Blueprint:
    path = folder / "fair.yaml"
    path.write_text(text, "utf-8")
    return read_blueprint(path)


def candidate(name: str, **changes: Any) -> Candidate:
    """A number question of the vertical circle, ``lantern.NAME``, but for the changes."""
    facts: dict[str, Any] = {
        "kind": "number", "problem": f"lantern-{name}", "family": "vertical-circle", "objectives": (),
        "level": "algebra", "version": 1, "diagram": "", "equation": name, "thinking": "multi-step",
        "minutes": 4, "facility": 0.6, "scenes": ("stage", "fair"),
    }  # fmt: skip
    facts |= changes
    own = f"{facts['problem']}.{name}"
    return Candidate(**{"id": own, "question": own, **facts})


def bound(items: Iterator[int] | list[int], low: float = float("-inf"), high: float = float("inf")) -> Bound:
    return Bound(dict.fromkeys(items, 1.0), low, high)


def once(items: int) -> Rule:
    """No item in two forms."""
    return Rule("overlap", tuple(Bound({item: 1.0}, high=1.0, across=True) for item in range(items)))


def every_choice(programme: Programme, size: int) -> Iterator[tuple[tuple[int, ...], ...]]:
    """All forms of that size that keep the rules, by listing."""
    one = list(combinations(range(programme.items), size))
    for forms in product(one, repeat=programme.forms):
        if programme.holds(forms):
            yield forms
