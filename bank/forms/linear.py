"""A linear programme with 0-1 variables, built row by row and solved by HiGHS.

SciPy is used because it carries HiGHS, an exact branch-and-cut solver: Huangfu, Hall, Math. Prog. Comp. 10, 119 (2018).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from ..errors import UnsolvedError

INFINITY = float("inf")
INFEASIBLE = 2  # as scipy.optimize.milp has it


@dataclass(frozen=True)
class Optimum:
    """The value of each variable, what they cost, and a bound that no answer goes below."""

    values: NDArray[np.float64]
    cost: float
    bound: float


@dataclass
class Model:
    """Variables with their costs and bounds, and rows over them; always in the order of their making."""

    costs: list[float] = field(default_factory=list)
    most: list[float] = field(default_factory=list)
    whole: list[int] = field(default_factory=list)
    _entries: tuple[list[float], list[int], list[int]] = field(default_factory=lambda: ([], [], []))
    _low: list[float] = field(default_factory=list)
    _high: list[float] = field(default_factory=list)

    def variable(self, cost: float = 0.0, most: float = 1.0, *, whole: bool = True) -> int:
        """The number of a new variable between 0 and ``most``."""
        self.costs.append(cost)
        self.most.append(most)
        self.whole.append(int(whole))
        return len(self.costs) - 1

    def row(self, terms: Mapping[int, float], low: float = -INFINITY, high: float = INFINITY) -> None:
        """Adds a row: the sum of the terms lies between ``low`` and ``high``."""
        number = len(self._low)
        values, rows, columns = self._entries
        values += terms.values()
        rows += [number] * len(terms)
        columns += terms
        self._low.append(low)
        self._high.append(high)

    def solve(self, nodes: int | None = None, gap: float = 0.0) -> Optimum | None:
        """The best answer, within ``gap`` or after ``nodes``; None where there is none. Raises UnsolvedError."""
        from scipy.optimize import Bounds, LinearConstraint, milp
        from scipy.sparse import csr_array

        values, rows, columns = self._entries
        table = csr_array((values, (rows, columns)), shape=(len(self._low), len(self.costs)))
        # no limit of time: the same input has to give the same forms on a slow machine
        options: dict[str, float] = {"mip_rel_gap": gap, **({} if nodes is None else {"node_limit": nodes})}
        found = milp(
            np.array(self.costs), integrality=np.array(self.whole), bounds=Bounds(0, np.array(self.most)),
            constraints=LinearConstraint(table, np.array(self._low), np.array(self._high)), options=options,
        )  # fmt: skip
        if found.status == INFEASIBLE:
            return None
        if found.x is None:
            raise UnsolvedError(nodes)
        bound = found.fun if found.mip_dual_bound is None else found.mip_dual_bound
        return Optimum(np.asarray(found.x), float(found.fun), float(bound))
