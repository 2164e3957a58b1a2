"""Whether two situations are one problem: the same equations of net force, but for the names of their quantities.

What counts is net force = m v²/r along the inward axis and the sum of the forces across it; signs count, names do not.
The constants g and G are what they are. A renaming is looked for by exhaustion, among names that are used
alike, and not for ever.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import islice, permutations, product

import sympy

from ..model.expression import names_in
from ..model.problem import Diagram, Problem
from .equations import rates, second_axis, terms_along

MOST_TRIED = 1_000  # renamings; the shipped bank needs one
CONSTANTS = frozenset({"g", "G"})
SPEED, RADIUS = sympy.symbols("its_speed its_radius")


@dataclass(frozen=True)
class EquationForm:
    """Two sums of a diagram: along the inward axis less m v²/r, which is zero, and of the forces across it."""

    equations: tuple[sympy.Expr, ...]

    @property
    def names(self) -> tuple[str, ...]:
        """The names that may be changed."""
        return tuple(sorted(frozenset().union(*map(names_in, self.equations)) - CONSTANTS))

    @cached_property
    def kinds(self) -> tuple[tuple[tuple[str, ...], ...], ...]:
        """How its names are used, without the names: alike for two forms that are one but for names."""
        return tuple(sorted(map(self.uses, self.names)))

    def uses(self, name: str) -> tuple[tuple[str, ...], ...]:
        """How a name stands in the equations, without any name in it: alike for two names that may be exchanged."""
        return tuple(tuple(sorted(_uses(equation, sympy.Symbol(name)))) for equation in self.equations)

    def renamed(self, names: Mapping[str, str]) -> EquationForm:
        """The same equations in other names."""
        new = {sympy.Symbol(old): sympy.Symbol(name) for old, name in names.items()}
        return EquationForm(tuple(each.xreplace(new) for each in self.equations))


def form_of(problem: Problem, diagram: Diagram) -> EquationForm | None:
    """The form of a diagram; None for a body at rest or without a force along the inward axis."""
    across = second_axis(problem.motion.plane, diagram)
    inward, other = (sympy.Add(*terms_along(problem, diagram, axis)) for axis in ("inward", across))
    if diagram.spot == "rest" or inward == 0:
        return None
    here = rates(problem.motion, diagram)
    plain = {sympy.Symbol(old): new for old, new in ((here.speed, SPEED), (here.radius, RADIUS)) if old}
    net = inward.xreplace(plain) - sympy.Symbol(diagram.mass) * SPEED**2 / RADIUS
    return EquationForm((net, other.xreplace(plain)))


def renaming(first: EquationForm, second: EquationForm) -> Mapping[str, str] | None:
    """New names for ``first`` that make it ``second``; None where the two are different problems."""
    if len(first.equations) != len(second.equations) or first.kinds != second.kinds:
        return None
    tried = islice(_candidates(first, second), MOST_TRIED)
    return next((names for names in tried if first.renamed(names) == second), None)


def _candidates(first: EquationForm, second: EquationForm) -> Iterator[Mapping[str, str]]:
    """All renamings that keep how each name is used."""
    groups: dict[tuple[tuple[str, ...], ...], tuple[list[str], list[str]]] = {}
    for place, form in enumerate((first, second)):
        for name in form.names:
            groups.setdefault(form.uses(name), ([], []))[place].append(name)
    ways = [
        [tuple(zip(old, order, strict=True)) for order in islice(permutations(new), MOST_TRIED)]
        for old, new in groups.values()
    ]
    for chosen in product(*ways):
        yield dict(pair for pairs in chosen for pair in pairs)


def _uses(equation: sympy.Expr, symbol: sympy.Symbol) -> Iterator[str]:
    for term in sympy.Add.make_args(equation):
        if symbol in term.free_symbols:
            number, rest = term.as_coeff_Mul()
            factors = [part.as_base_exp() for part in sympy.Mul.make_args(rest)]
            mine = sorted(f"{base.func.__name__}^{power}" for base, power in factors if symbol in base.free_symbols)
            yield f"{number} {len(factors)} {' '.join(mine)}"
