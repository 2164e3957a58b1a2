"""Questions answered by ratios: what a change of one quantity does, and how cases rank."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

import sympy

from ..language import capital, listed
from .letters import head_and_tail

# what is done to the quantity, in the title of the question, in its id, and in its text
DONE: Mapping[sympy.Rational, str] = MappingProxyType({
    sympy.Integer(2): "doubled",
    sympy.Rational(1, 2): "halved",
    sympy.Integer(3): "tripled",
    sympy.Integer(4): "quadrupled",
    sympy.Rational(1, 4): "quartered",
})  # fmt: skip
TOLD: Mapping[sympy.Rational, str] = MappingProxyType({**DONE, sympy.Rational(1, 4): "reduced to a quarter"})
# two forms of the asking; a scene has one of them. They share no word with the outcomes, which would seem to answer
ASKING = (
    "Suppose that the {means} {letter}{tail} is {done}{held}. What happens to the {name} {asked}{end}?",
    "What happens to the {name} {asked}{end} if the {means} {letter}{tail} is {done}{held}?",
)
# and of a radius, a height or another length, to which nothing happens by itself
ASKING_LENGTH = (
    "Suppose that the {means} {letter}{tail} is {done}{held}. How must the {name} {asked}{end} change?",
    "How must the {name} {asked}{end} change if the {means} {letter}{tail} is {done}{held}?",
)
EMPTY = ("number", "ratio", "difference", "fraction")  # words that say nothing without what comes after them
ALONE, HELD = "", ", with {held} unchanged"


@dataclass(frozen=True)
class Outcomes:
    """What becomes of a quantity, in words: of what follows from the rest, or of a length, which somebody chooses."""

    greater: str
    smaller: str
    same: str
    no_factor: str

    def of(self, times: sympy.Expr | None) -> str:
        """What becomes of a quantity that is taken ``times`` as great, None for no fixed factor."""
        if times is None:
            return self.no_factor
        if times == 1:
            return self.same
        form, factor = (self.greater, times) if times > 1 else (self.smaller, 1 / times)
        return form.format(factor=_number(factor))


FOLLOWS = Outcomes(
    greater="It increases by a factor of {factor}.",
    smaller="It decreases by a factor of {factor}.",
    same="It stays the same.",
    no_factor="It changes, but not by a fixed factor.",
)
CHOSEN = Outcomes(
    greater="It must increase by a factor of {factor}.",
    smaller="It must decrease by a factor of {factor}.",
    same="It must stay the same.",
    no_factor="It must change, but not by a fixed factor.",
)

HEADING = "Ratio of the new value to the old value"
RATIO = "{asked} is proportional to {power}, so the ratio of its new value to its old value is {ratio}."
NOT_IN_IT = "{letter} does not appear in the result, so {asked} does not depend on it."
NO_RATIO = (
    "The expression for {asked} has a term that contains {letter} and one that does not. Therefore, {asked} is not "
    "proportional to a power of {letter}, and it does not change by a fixed factor."
)
THEREFORE, ITS = "Therefore, {asked} {outcome}", "It "  # the start of an outcome
THIS = ("this quantity", "this length")  # what a thought about any quantity calls the one that is changed
ANSWER = "the answer"  # and the one that is asked for


_WRITE = "Write the expression for the answer in symbols. "
_APPEARS = _WRITE + (
    "Is this quantity in the numerator or in the denominator of your expression, and to what power is it raised there?"
)
_IS_ABSENT = _WRITE + "Does this quantity appear in it?"
_IS_INSIDE = _WRITE + "Which function of this quantity does it contain?"
_IS_NO_MATTER = _WRITE + "Does this quantity appear in it? If so, to what power?"
_IS_IN_A_TERM = _WRITE + "Which of the terms contain this quantity, and which do not?"


def where_to_look(power: sympy.Rational | None, thought: sympy.Rational, *, is_inside: bool = False) -> str:
    """What to look at in the right expression, by the power with which the quantity stands there; None: in a term.

    ``is_inside``: it stands inside a function. Who thinks that it does not matter, a ``thought`` of power 0, is not
    asked where it stands.
    """
    if is_inside:
        return _IS_INSIDE if thought else _IS_ABSENT
    if power and not thought:
        return _IS_NO_MATTER
    return _IS_IN_A_TERM if power is None else _APPEARS if power else _IS_ABSENT


def about(said: str, name: str, asked: str) -> str:
    """What is said of a thought, with the names of the quantity that is changed and of the one that is asked for."""
    for each, of in (*((this, name) for this in THIS), (ANSWER, asked)):
        said = said.replace(each, f"the {of}").replace(capital(each), f"The {of}")
    return said


@cache
def _number(factor: sympy.Expr) -> str:
    """A whole number, or one times a root: ``9``, ``2√2``."""
    whole, rest = sympy.nsimplify(factor).as_coeff_Mul()
    if rest == 1:
        return str(whole)
    return f"{'' if whole == 1 else whole}√{rest**2}"


# --- cases put in order ---

# two forms of the asking; a scene has one of them
RANK_ASKING = (
    "Four cases differ in the {first_means} {first}{first_tail}, in the {second_means} {second}{second_tail}, or in "
    "both.{held} Rank the cases by the {name} {asked}{end}, from smallest to largest.",
    "Rank these four cases by the {name} {asked}{end}, from smallest to largest. They differ in the "
    "{first_means} {first}{first_tail}, in the {second_means} {second}{second_tail}, or in both.{held}",
)
ALIKE = " {Held} {are} the same in all cases."
RANK_HINT = "Write an expression for the {name} in symbols. How does it depend on each of the two quantities?"

CASE = "{first} = {first_value}, {second} = {second_value}"
RANK_HEADING = "Compare the cases as ratios"
LAW = (
    "In these cases, {asked} is proportional to {law}. Below, {first} is given in units of {first_value} and {second} "
    "in units of {second_value}."
)
WORKED = "{first} = {first_value}, {second} = {second_value}: {worked}"
ORDER = "From the smallest to the largest {asked}, the order is: "
NEXT_CASE = "; then "


def held_words(names: Mapping[str, str], others: Sequence[str]) -> str:
    """Quantities that stay what they are, each with a gap for its letter: ``the mass {m} and the radius {r}``.

    ``names`` tells by gap what each is called. What the stem has told is left out, unless it tells two of them apart,
    or one from the ``others`` of the sentence, or says what is counted or compared.
    """
    parts = {gap: head_and_tail(name) for gap, name in names.items()}
    heads = [head for head, _ in (*parts.values(), *map(head_and_tail, others))]
    full = {head for head in heads if heads.count(head) > 1 or head.split()[-1] in EMPTY}
    return listed(f"the {head} {{{gap}}}{tail if head in full else ''}" for gap, (head, tail) in parts.items())
