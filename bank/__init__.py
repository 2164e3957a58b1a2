"""Circular-motion problems from force diagrams: read, solve, draw variants, make items.

>>> from turnwright import bank
>>> problem = bank.read_bank()[0]                       # doctest: +SKIP
>>> solved = bank.solve_question(problem, problem.questions[0])
>>> next(bank.items(solved, Decimal("9.8"), wanted=1, seed=1)).entry.key

Names are loaded on first use, so that ``turnwright --help`` does not wait for SymPy.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from turnwright.bank.cache import solved_question as solve_question
    from turnwright.bank.errors import BankFaultsError, SolveError, TooFewVariantsError, TurnwrightError
    from turnwright.bank.generation import items
    from turnwright.bank.item import Item, NumberEntry, Pack
    from turnwright.bank.problem import Problem, Question
    from turnwright.bank.reader import read_bank, read_problem
    from turnwright.bank.selection import pack
    from turnwright.bank.solution import Solution
    from turnwright.bank.variant import Variant, VariantPool

_HOMES = {
    "BankFaultsError": "errors",
    "Item": "item",
    "NumberEntry": "item",
    "Pack": "item",
    "Problem": "problem",
    "Question": "problem",
    "Solution": "solution",
    "SolveError": "errors",
    "TooFewVariantsError": "errors",
    "TurnwrightError": "errors",
    "Variant": "variant",
    "VariantPool": "variant",
    "items": "generation",
    "pack": "selection",
    "read_bank": "reader",
    "read_problem": "reader",
    "solve_question": "cache",
}

__all__ = [
    "BankFaultsError",
    "Item",
    "NumberEntry",
    "Pack",
    "Problem",
    "Question",
    "Solution",
    "SolveError",
    "TooFewVariantsError",
    "TurnwrightError",
    "Variant",
    "VariantPool",
    "items",
    "pack",
    "read_bank",
    "read_problem",
    "solve_question",
]


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    module = import_module(f"{__name__}.{_HOMES[name]}")
    return getattr(module, "solved_question" if name == "solve_question" else name)
