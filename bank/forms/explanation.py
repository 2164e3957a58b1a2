"""Why no forms meet a blueprint: rules that can't hold together, none of which can be spared.

First an elastic filter (each rule may be stretched; those that are get hard) finds a few rules that conflict, then a
deletion filter leaves each rule out that is not needed: Chinneck, Feasibility and Infeasibility in Optimization (2008).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from .linear import INFINITY, Model
from .programme import Programme, Rule, VariableGrid, add_rules, assemble, grid_of

STRETCHED = 1e-6


def conflict(programme: Programme) -> tuple[Rule, ...]:
    """The rules that can't hold together, in their order; without any one of them the others can.

    Raises ValueError where all rules can hold.
    """
    smaller = next(
        (each for each in (replace(programme, forms=1), _summed(programme)) if not _can_hold(each, each.rules)),
        programme,
    )
    # rules that not even fractions of items can meet are found at once
    suspects = _suspects(smaller, whole=False) or _suspects(smaller, whole=True)
    if not suspects:
        raise ValueError("all rules can hold together")
    if smaller.uses > 1:  # back to the rules that were summed, which may hold less than their sums
        places = [at for at, rule in enumerate(smaller.rules) if any(rule is each for each in suspects)]
        smaller, suspects = programme, [programme.rules[at] for at in places]
    return _needed(smaller, suspects)


def _summed(programme: Programme) -> Programme:
    """All forms as one: what each has to have, as often as there are forms. What it can't meet, the forms can't."""
    forms = programme.forms

    def summed(rule: Rule) -> Rule:
        bounds = (
            each if each.across else replace(each, low=each.low * forms, high=each.high * forms) for each in rule.bounds
        )
        return replace(rule, bounds=tuple(bounds))

    return replace(programme, forms=1, uses=forms, rules=tuple(map(summed, programme.rules)))


def _can_hold(programme: Programme, rules: Sequence[Rule]) -> bool:
    return assemble(programme.keeping(rules)) is not None


def _needed(programme: Programme, suspects: Sequence[Rule]) -> tuple[Rule, ...]:
    """Deletion filter: what is left when no rule can be left out without all others holding."""
    kept = list(suspects)
    for rule in suspects:
        others = [each for each in kept if each is not rule]
        if not _can_hold(programme, others):
            kept = others
    return tuple(rule for rule in programme.rules if any(rule is each for each in kept))


def _suspects(programme: Programme, *, whole: bool) -> list[Rule]:
    """Elastic filter: rules that can't hold together, perhaps more than are needed; [] where all can."""
    hard: list[Rule] = []
    while True:
        soft = [rule for rule in programme.rules if not any(rule is each for each in hard)]
        stretched = _stretched(programme, hard, soft, whole=whole)
        if stretched is None:
            return hard
        if not stretched:
            return []
        hard += stretched


def _stretched(programme: Programme, hard: Sequence[Rule], soft: Sequence[Rule], *, whole: bool) -> list[Rule] | None:
    """The soft rules that give way where the sum of all stretching is least; None where the hard ones can't hold."""
    grid = grid_of(programme.keeping(hard), whole=whole)
    add_rules(grid, hard)
    slacks = [_elastic(grid, rule) for rule in soft]
    answer = grid.model.solve()
    if answer is None:
        return None
    return [
        rule for rule, mine in zip(soft, slacks, strict=True) if any(answer.values[each] > STRETCHED for each in mine)
    ]


def _elastic(grid: VariableGrid, rule: Rule) -> list[int]:
    """Adds a rule whose bounds may be stretched, and gives the variables that say how far, in parts of the bound."""
    made: list[int] = []
    for bound in rule.bounds:
        size = max((abs(each) for each in (bound.low, bound.high) if abs(each) != INFINITY), default=1.0)
        for terms in grid.sums(bound):
            below, above = _slack(grid.model), _slack(grid.model)
            grid.model.row({**terms, below: max(size, 1.0), above: -max(size, 1.0)}, bound.low, bound.high)
            made += [below, above]
    return made


def _slack(model: Model) -> int:
    return model.variable(1.0, INFINITY, whole=False)
