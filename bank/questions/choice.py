"""Choice questions of a solved question: numbers to choose from, or expressions, each wrong one with its thinking."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import sympy

from ..item.item import ChoiceEntry, Math, Paragraph, Words
from ..model.edit import NumericEdit
from ..model.evaluation import agree
from ..model.once import once
from ..model.problem import Scene
from ..quantities.quantity import Quantity
from ..solving.solution import SolvedQuestion, samples_of
from ..thinking.distractors import Diagnosis, WrongAnswer
from ..thinking.mistaken_forms import MistakenForm
from ..thinking.options import FEWEST_WRONG, mixed, right, wrong
from ..thinking.telling import told_in
from ..variants.variant import Variant, VariantPool
from ..writing.notation import Notation

MOST_EXPRESSIONS = 4


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
    """Letters only: which expression gives the asked quantity? The wrong ones are the closed forms of mistakes."""

    diagnosis: Diagnosis
    notation: Notation
    scene: Scene

    @property
    def wrong(self) -> tuple[MistakenForm, ...]:
        """The mistakes whose closed forms differ from the key and each other as expressions, four at most."""
        return once(self.diagnosis, "wrong expressions", self._wrong)

    def _wrong(self) -> tuple[MistakenForm, ...]:
        kept: list[MistakenForm] = []
        solved = self.diagnosis.solved
        samples = samples_of(solved.problem, solved.question)
        for new in self.diagnosis.live:
            forms = [solved.solution.closed_form, *(each.closed_form for each in kept)]
            if _is_in_letters(new) and all(agree(new.closed_form, form, samples) is False for form in forms):
                kept.append(new)
            if len(kept) == MOST_EXPRESSIONS:
                break
        return tuple(kept)

    def entry(self, prompt: Paragraph) -> ChoiceEntry | None:
        """The choice, in an order that tells nothing of the key; None where fewer than two wrong expressions exist."""
        if len(self.wrong) < FEWEST_WRONG:
            return None
        solution = self.diagnosis.solved.solution
        options = [right(self._shown(solution.closed_form))]
        told = told_in(self.diagnosis.solved, self.scene, (each.mistake for each in self.wrong))
        options += [
            wrong(self._shown(each.closed_form), mistake) for each, mistake in zip(self.wrong, told, strict=True)
        ]
        return ChoiceEntry(prompt, mixed(options, f"{self.diagnosis.solved.id} expression"), shuffle=True)

    def _shown(self, form: sympy.Expr) -> Paragraph:
        return (Math(self.notation.equation(sympy.Symbol(self.diagnosis.solved.solution.ask), form)),)


def _is_in_letters(form: MistakenForm) -> bool:
    return isinstance(form.mistake.edit, NumericEdit) and form.mistake.edit.in_letters
