"""A formula or words as runs of type on one line, for a drawing: italic letters, raised and lowered parts."""

from __future__ import annotations

from dataclasses import dataclass, replace

from turnwright.bank import formula

SUBSCRIPT_RISE = -0.22
SUPERSCRIPT_RISE = 0.38
SMALL = 0.78
NO_BREAK_SPACE = "\u00a0"


@dataclass(frozen=True)
class Run:
    """Letters of one style; ``rise`` above the baseline and ``scale`` are in heights of the label's type."""

    text: str
    italic: bool = False
    rise: float = 0.0
    scale: float = 1.0


def runs(content: formula.Node | str) -> list[Run]:
    """The runs from left to right. Roots and wide fractions come out as on a line of text."""
    if isinstance(content, str):
        return [Run(content)]
    return _runs(content)


def _runs(node: formula.Node) -> list[Run]:
    match node:
        case formula.Symbol(base=base, subscript=subscript):
            low = [Run(subscript, rise=SUBSCRIPT_RISE, scale=SMALL)] if subscript else []
            return [Run(base, italic=True), *low]
        case formula.Row():
            return _row(node)
        case formula.Power(base=formula.Number() | formula.Symbol() | formula.Group() as base, exponent=exponent):
            raised = [replace(run, rise=SUPERSCRIPT_RISE, scale=SMALL) for run in _runs(exponent)]
            return [*_runs(base), *raised]
        case formula.Fraction(above=formula.Number() | formula.Symbol() | formula.Power() as above, below=below) if (
            isinstance(below, formula.Number | formula.Symbol)
        ):
            return [*_runs(above), Run("/"), *_runs(below)]
        case formula.Group(body=body):
            return [Run("("), *_runs(body), Run(")")]
        case _:
            return [Run(formula.text(node))]


def _row(node: formula.Row) -> list[Run]:
    """Parts with a space between them, but none after a sign that belongs to what follows."""
    pieces: list[Run] = []
    before: formula.Node | None = None
    tight = True
    for part in node.parts:
        if not tight:
            pieces.append(Run(NO_BREAK_SPACE))
        pieces.extend(_runs(part))
        tight = isinstance(part, formula.Operator) and (before is None or isinstance(before, formula.Operator))
        before = part
    return pieces
