"""The mistakes that a problem adds and leaves out, held against the catalogue."""

from __future__ import annotations

import difflib

from turnwright.bank.mistake_reader import shipped_mistakes
from turnwright.bank.problem import Problem


def check_mistakes(problem: Problem) -> None:
    """Note a mistake that the catalogue has already, and one left out that it does not have."""
    known = [each.id for each in shipped_mistakes()]
    for each in problem.mistakes:
        if each.id in known:
            wrong = f"the mistake '{each.id}' is in the catalogue already"
            problem.document.fault(("mistakes", each.id), wrong, "remove it, or give it another id", key=True)
    for name in problem.without:
        if name not in known:
            near = difflib.get_close_matches(name, known, n=1)
            right = f"did you mean '{near[0]}'?" if near else "'turnwright mistakes' lists the catalogue"
            problem.document.fault(("without", name), f"the catalogue has no mistake '{name}'", right, key=True)
