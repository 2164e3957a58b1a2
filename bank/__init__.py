"""Circular-motion problems from force diagrams: read, solve, draw variants, make items.

>>> from turnwright import bank
>>> problem = bank.read_bank()[0]                       # doctest: +SKIP
>>> solved = bank.solve_question(problem, problem.questions[0])
>>> next(bank.items(solved, Decimal("9.81"), wanted=1, seed=1)).entry.key

Names are loaded on first use, so that ``turnwright --help`` does not wait for SymPy.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from .errors import BankFaultsError, SolveError, TooFewVariantsError, TurnwrightError
    from .item.item import Item, NumberEntry
    from .item.pack import Pack
    from .model.problem import Problem, Question
    from .questions.items import items
    from .questions.selection import pack
    from .reading.files import read_bank, read_problem
    from .solving.cache import solved_question as solve_question
    from .solving.solution import Solution
    from .variants.variant import Variant, VariantPool


_HOMES = {
    "BankFaultsError": "errors",
    "Item": "item.item",
    "NumberEntry": "item.item",
    "Pack": "item.pack",
    "Problem": "model.problem",
    "Question": "model.problem",
    "Solution": "solving.solution",
    "SolveError": "errors",
    "TooFewVariantsError": "errors",
    "TurnwrightError": "errors",
    "Variant": "variants.variant",
    "VariantPool": "variants.variant",
    "items": "questions.items",
    "pack": "questions.selection",
    "read_bank": "reading.files",
    "read_problem": "reading.files",
    "solve_question": "solving.cache",
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
