"""How a pack is made, as plain data: so that it is made again, the same, in another process or on another day."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from ... import exporters
from ...bank.item.item import Pack
from ...bank.model.problem import Problem
from ...bank.questions.item_model import Settings
from ...bank.questions.selection import Share, find_questions, pack, share
from ...bank.reading.mistakes import shipped_mistakes
from ...bank.solving.cache import solved_question
from ..adapting.adaptation import Adapted
from ..packages.delivery import Delivery


@dataclass(frozen=True)
class Recipe:
    """What a pack is made from: the bank, the names of its questions, and what a user decided.

    ``shares`` says which variants of which questions are taken, where a pack holds a part of a pool.
    """

    bank: tuple[Problem, ...]
    names: tuple[str, ...]
    settings: Settings
    shares: tuple[Share, ...] = ()

    def pack(self, done: Callable[[int], None] = lambda _: None) -> Pack:
        """The pack; ``done`` hears of each question that is solved.

        Raises UnknownNameError, SolveError or TooFewVariantsError.
        """
        solved = []
        for problem, question in find_questions(self.bank, self.names):
            solved.append(solved_question(problem, question))
            done(1)
        if self.shares:
            return share(solved, shipped_mistakes(), self.settings, self.bank, self.shares)
        return pack(solved, shipped_mistakes(), self.settings, self.bank)


@dataclass(frozen=True)
class Making:
    """A recipe with the format that its pack is made ready for."""

    recipe: Recipe
    format_name: str
    delivery: Delivery

    def adapted(self) -> Adapted:
        """The pack, ready for the format."""
        return exporters.exporter(self.format_name).adapt(self.recipe.pack(), self.delivery)
