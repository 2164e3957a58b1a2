"""Elimination in the order of the board: the limit first, then forces, then geometry and kinematics.

Each unknown leaves through an equation that is linear in it (or in one power of it); what cancels is cancelled
at once, and an equation that only serves to find something not asked for is left aside.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache
from typing import Literal, TypeAlias

import sympy
from sympy import Expr, Symbol

from ..mechanics.equations import System
from .algebra import (
    COSINE,
    REMEMBERED,
    SINE,
    angle_of,
    common_factor,
    divided,
    exponents_in,
    isolate,
    letters,
    names_inside,
    neat,
    numerator,
    put_inside,
    terms_of,
)
from .rational import expanded

MOST_NODES = 300
FEW_NODES = 24  # where a plain way is short or there is none: a mistaken system
HOLD = "hold"
FOUND = "found:"
_SECOND_AXIS = ("up", "forward")


@dataclass(frozen=True)
class Stage:
    """A line on the board: what was done, and the equation after it."""

    did: Literal["start", "put", "cancel", "isolate"]
    left: Expr
    right: Expr
    what: Expr | None = None


@dataclass(frozen=True)
class WorkedLine:
    """An equation on its way: ``origin`` is its number in the system (-1 for sin² + cos² = 1).

    ``dropped`` is the positive factor that a hold has lost on its right side.
    """

    origin: int
    kind: str
    left: Expr
    right: Expr
    stages: tuple[Stage, ...] = ()
    uses: tuple[int, ...] = ()
    dropped: Expr = sympy.S.One

    @cached_property
    def names(self) -> frozenset[str]:
        """The letters in it; those of ω t where its cosine is there."""
        return frozenset().union(*(names_inside(symbol.name) for symbol in (self.left - self.right).free_symbols))

    def has_inside(self, symbol: Symbol) -> bool:
        """Whether a sine or cosine is of a formula with this letter, out of which nothing is isolated."""
        angles = (angle_of(each.name) for side in (self.left, self.right) for each in side.free_symbols)
        return any(angle is not None and angle.has(symbol) for angle in angles)

    def then(self, did: Literal["put", "cancel"], left: Expr, right: Expr, what: Expr) -> WorkedLine:
        """The line after one more thing was done to it."""
        return replace(self, left=left, right=right, stages=(*self.stages, Stage(did, left, right, what)))


@dataclass(frozen=True)
class Move:
    """An unknown that was expressed by the rest: ``symbol`` to the power ``power`` is ``value``, out of ``line``."""

    symbol: str
    power: int
    value: Expr
    line: WorkedLine


@dataclass(frozen=True)
class State:
    """The lines that are left, and the moves made."""

    lines: tuple[WorkedLine, ...]
    moves: tuple[Move, ...] = ()


Names: TypeAlias = frozenset[str]


@dataclass
class Search:
    """A bounded depth-first walk through orders of elimination, the board's order first.

    ``radicals`` lets an unknown that is a root be found first and then stand as a known letter (``FOUND`` and its
    name), where no order keeps all lines free of roots.
    """

    system: System
    targets: Names
    extra: tuple[WorkedLine, ...] = ()
    radicals: bool = False
    most: int = MOST_NODES
    nodes: int = 0
    start: tuple[WorkedLine, ...] = field(init=False)
    unknown: Names = field(init=False)

    def __post_init__(self) -> None:
        self.start = (*start_lines(self.system), *self.extra)
        known = self.system.known
        known |= {letter + name for name in known for letter in (SINE, COSINE)}
        self.unknown = frozenset(name for line in self.start for name in line.names) - known

    def ends(self) -> Iterator[State]:
        """States in which some line holds nothing unknown but the targets."""
        yield from self._from(self._tidied(State(self.start)))

    def contradiction(self) -> WorkedLine | None:
        """An equation that the known quantities alone would have to obey, or None."""
        state: State | None = self._tidied(State(self.start))
        while state is not None:
            for line in state.lines:
                if line.kind != "identity" and not line.names & self.unknown:
                    return line
            tries = (self._eliminate(state, name, line) for name, line in self._choices(state))
            after = next((each for each in tries if each is not None), None)
            state = self._tidied(after) if after else None
        return None

    def _from(self, state: State) -> Iterator[State]:
        self.nodes += 1
        if self.nodes > self.most:
            return
        if any(self.is_end(line) for line in state.lines):
            yield state
            return
        for symbol, line in self._choices(state):
            after = self._eliminate(state, symbol, line)
            if after is not None:
                yield from self._from(self._tidied(after))

    def is_end(self, line: WorkedLine) -> bool:
        """Whether the line gives a target: it holds one, and no other unknown."""
        found = line.names & self.unknown
        fresh = line.kind == "identity" and not line.stages
        return not fresh and bool(found) and found <= self.targets

    def _choices(self, state: State) -> Iterator[tuple[str, WorkedLine]]:
        ranked = []
        for line in (each for each in state.lines if each.kind != HOLD):
            for name in line.names & (self.unknown - self.targets):
                ranked.append((self._rank(name, line, state), name, line))
        for _, name, line in sorted(ranked, key=lambda each: each[0]):
            yield name, line

    def _rank(self, name: str, line: WorkedLine, state: State) -> tuple[object, ...]:
        """Sorting key: the limit, then forces (from the axis that only links), then what stands alone on a side."""
        is_force = name in self.system.forces
        holds_target = bool(line.names & self.targets)
        alone = line.left == Symbol(name)
        if line.kind == "limiting":
            group = 0 if alone else 1
        elif is_force:
            group = 2 if line.kind in _SECOND_AXIS else 3
        elif line.kind == "relation":
            group = 4 if alone else 7 if holds_target else 5
        else:
            group = 5 if name in self.system.speeds else 7
        spread = sum(name in other.names for other in state.lines)
        is_constant = name in self.system.constants  # nobody solves for a constant of nature
        return group, holds_target, spread, line.origin, len(line.names), is_constant, name

    def _eliminate(self, state: State, name: str, line: WorkedLine) -> State | None:
        symbol = Symbol(name)
        others = [other for other in state.lines if other is not line]
        found = None if line.has_inside(symbol) else isolate(line.left, line.right, symbol)
        if found is None or found[1] is sympy.nan or found[1].has(sympy.zoo):
            return None
        power, value = found
        move = Move(name, power, value, line)
        if self.radicals and power > 1:
            power, value = 1, Symbol(FOUND + name)
        elif power > 1 and any(
            other.has_inside(symbol)
            or any(exponent % power for exponent in exponents_in(other.left - other.right, symbol))
            for other in others
        ):
            return None
        uses = tuple(sorted({*line.uses, len(state.moves)}))
        lines = tuple(_put(other, symbol, power, value, uses) if name in other.names else other for other in others)
        return State(lines, (*state.moves, move))

    def _tidied(self, state: State) -> State:
        lines = [self._cancelled(line) for line in state.lines]
        lines = [line for line in lines if numerator(line.left, line.right) != 0]
        while True:
            names = [name for line in lines for name in line.names & self.unknown - self.targets]
            single = {name for name in names if names.count(name) == 1}
            kept = [line for line in lines if not self._only_serves(line, single)]
            if len(kept) == len(lines):
                return replace(state, lines=tuple(lines))
            lines = kept

    def _only_serves(self, line: WorkedLine, single: set[str]) -> bool:
        """Whether the line only fixes an unknown that no other line holds; a mass does not count, for it may cancel."""
        if line.kind == HOLD:
            return False
        return any(name in single and (name in self.system.forces or line.kind == "relation") for name in line.names)

    def _cancelled(self, line: WorkedLine) -> WorkedLine:
        """The line without what all its terms share; quantities are positive, so dividing is allowed.

        Of a hold only the sign counts, so it also loses unknown factors that its other side does not have.
        """
        if line.kind == "identity":
            return line
        if line.kind == HOLD:
            factor = self._unknown_factor(line.right)
            return replace(line, right=divided(line.right, factor), dropped=line.dropped * factor)
        several = len(terms_of(line.left, line.right)) > 1
        factor = common_factor(line.left, line.right) if several else sympy.Integer(1)
        if factor == 1:
            return line
        return line.then("cancel", divided(line.left, factor), divided(line.right, factor), factor)

    def _unknown_factor(self, side: Expr) -> Expr:
        """What all terms of a side share and is positive without being known; 1 where nothing else would be left."""
        factors = common_factor(side).as_powers_dict().items()
        factor = sympy.Mul(*(base**power for base, power in factors if base.is_Symbol and self.is_idle(base.name)))
        return sympy.Integer(1) if divided(side, factor).is_number else factor

    def is_idle(self, name: str) -> bool:
        """Whether a letter is unknown and positive: no force, nothing signed, nothing that this line is to tell."""
        return name in self.unknown - self.targets - self.system.forces - self.system.signed


def start_lines(system: System) -> tuple[WorkedLine, ...]:
    """The equations with sine and cosine as letters, and sin² + cos² = 1 for each angle that is not known."""
    lines = []
    angles: set[str] = set()
    for number, equation in enumerate(system.equations):
        left, right = letters(equation.left), letters(equation.right)
        line = WorkedLine(number, equation.kind, left, right, (Stage("start", left, right),))
        angles |= {name[4:] for name in line.names if name.startswith((SINE, COSINE))}
        lines.append(line)
    for angle in sorted(angles - system.known):
        square = Symbol(SINE + angle) ** 2 + Symbol(COSINE + angle) ** 2
        lines.append(WorkedLine(-1, "identity", square, sympy.Integer(1)))
    return tuple(lines)


def _put(line: WorkedLine, symbol: Symbol, power: int, value: Expr, uses: tuple[int, ...]) -> WorkedLine:
    left, right = (_replace(side, symbol, power, value) for side in (line.left, line.right))
    uses = tuple(sorted({*line.uses, *uses}))
    return replace(line.then("put", left, right, symbol**power), uses=uses)


@lru_cache(maxsize=REMEMBERED)
def _replace(side: Expr, symbol: Symbol, power: int, value: Expr) -> Expr:
    side = put_inside(side, symbol, value) if power == 1 else side
    if not side.has(symbol):
        return side
    if power == 1:
        replaced = side.xreplace({symbol: value})
    else:
        replaced = side.replace(
            lambda part: part.is_Pow and part.base == symbol,
            lambda part: value ** (part.exp / power),
        )
    return _simpler(replaced)


def _simpler(side: Expr) -> Expr:
    """The side as a sum of plain terms where it is one, else as one fraction."""
    plain, short = expanded(side), neat(side)
    is_plain = all(base.is_Symbol or base.is_number for term in terms_of(plain) for base in term.as_powers_dict())
    return plain if is_plain and sympy.count_ops(plain) <= sympy.count_ops(short) + 2 else short
