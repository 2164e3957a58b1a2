"""Choice questions of a solved question: numbers to choose from, or expressions, each wrong one with its thinking."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

import sympy

from ..item.item import ChoiceEntry, Math, Paragraph, Words
from ..model.mistake import Mistake
from ..model.once import once
from ..model.problem import Scene
from ..quantities.quantity import Quantity
from ..solving.solution import SolvedQuestion
from ..thinking.advice import told_in
from ..thinking.distractors import Diagnosis, WrongAnswer
from ..thinking.expression_sets import WrongExpression
from ..thinking.options import FEWEST_WRONG, mixed, right, wrong
from ..thinking.wrong_expressions import wrong_expressions
from ..variants.variant import Variant, VariantPool
from ..writing.notation import Notation


def number_choice(
    solved: SolvedQuestion, variant: Variant, others: Sequence[WrongAnswer], prompt: Paragraph
) -> ChoiceEntry:
    """A choice between the key and wrong numbers, in order of size, all with the figures and unit of the key."""
    options = [(variant.answer.value, right(_amount(variant.answer)))]
    for each in others:
        shown = Quantity(each.value, variant.answer.unit, variant.answer.figures)
        options.append((each.value, wrong(_amount(shown), *told_in(solved, variant.scene, each.mistakes))))
    ordered = sorted(options, key=lambda option: option[0])
    return ChoiceEntry(prompt, tuple(option for _, option in ordered))


def _amount(quantity: Quantity) -> Paragraph:
    return (Words(quantity.text),)


@dataclass(frozen=True)
class ChoicePool:
    """The variants of a question that have enough honest wrong answers, in the question's seeded order."""

    diagnosis: Diagnosis
    variants: VariantPool

    def draw(self, wanted: int, seed: int) -> Iterator[tuple[Variant, tuple[WrongAnswer, ...]]]:
        """Up to ``wanted`` variants with their wrong options; fewer where more are not to be had."""
        drawn = self.variants.draw_up_to(wanted * 4, seed)
        found = 0
        for place, values in enumerate(self.diagnosis.columns(drawn)):
            variant = drawn[place]
            wrong = self.diagnosis.options(variant, values, f"{self.diagnosis.solved.id} {seed} {drawn.numbers[place]}")
            if len(wrong) >= FEWEST_WRONG:
                yield variant, wrong
                found += 1
            if found == wanted:
                return


# --- expressions ----------------------------------------------------------------------------------


@dataclass(frozen=True)
class ExpressionChoice:
    """Letters only: which expression gives the asked quantity? The wrong ones come of one mistake or of two at once."""

    solved: SolvedQuestion
    catalogue: Sequence[Mistake]
    notation: Notation
    scene: Scene

    @property
    def wrong(self) -> tuple[WrongExpression, ...]:
        """Three wrong expressions; none where no three stand beside the key so that it is not told by its looks."""
        what = ("wrong expressions", tuple(sorted(self.notation.names.items())))
        make = partial(wrong_expressions, self.solved, self.catalogue, self.notation)
        return once(self.solved, what, make, *self.catalogue)

    def entry(self, prompt: Paragraph) -> ChoiceEntry | None:
        """The choice, in an order that tells nothing of the key; None where there are no wrong expressions."""
        if not self.wrong:
            return None
        options = [right(self._shown(self.solved.solution.closed_form))]
        for each in self.wrong:
            mistakes = told_in(self.solved, self.scene, each.mistakes)
            options.append(wrong(self._shown(each.form), *mistakes, both=len(mistakes) > 1))
        return ChoiceEntry(prompt, mixed(options, f"{self.solved.id} expression"), shuffle=True)

    def _shown(self, form: sympy.Expr) -> Paragraph:
        return (Math(self.notation.equation(sympy.Symbol(self.solved.solution.ask), form)),)
