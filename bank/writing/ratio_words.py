"""Questions answered by ratios: what a change of one quantity does, and how cases rank."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

import sympy

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
ALONE, HELD = "", ", with {held} unchanged"
NO_FACTOR = "It changes, but not by a fixed factor."
_SAME = "It stays the same."

HEADING = "Ratio of the new value to the old value"
RATIO = "{asked} is proportional to {power}, so the ratio of its new value to its old value is {ratio}."
NOT_IN_IT = "{letter} does not appear in the result, so {asked} does not depend on it."
NO_RATIO = (
    "{asked} is not proportional to a power of {letter}: the ratio of its new value to its old value also depends on "
    "other quantities."
)
THEREFORE, ITS = "Therefore, {asked} {outcome}", "It "  # the start of an outcome
THIS = ("this quantity", "this length")  # what a thought about any quantity calls the one that is changed


def about(said: str, name: str) -> str:
    """What is said of a thought, with the name of the quantity that is changed."""
    for each in THIS:
        said = said.replace(each, f"the {name}")
    return said


@cache
def outcome(times: sympy.Expr) -> str:
    """What becomes of a quantity that is taken ``times`` as great: ``It increases by a factor of 2.``."""
    if times == 1:
        return _SAME
    verb, factor = ("increases", times) if times > 1 else ("decreases", 1 / times)
    return f"It {verb} by a factor of {_number(factor)}."


def _number(factor: sympy.Expr) -> str:
    """A whole number, or one times a root: ``9``, ``2√2``."""
    whole, rest = sympy.nsimplify(factor).as_coeff_Mul()
    if rest == 1:
        return str(whole)
    return f"{'' if whole == 1 else whole}√{rest**2}"


# --- cases put in order ---

# two forms of the asking; a scene has one of them
RANK_ASKING = (
    "Four cases differ in the {first_means} {first}{first_tail} and the {second_means} {second}{second_tail}; "
    "all other given quantities are the same. Rank the cases by the {name}, from smallest to largest.",
    "Rank these four cases by the {name}, from smallest to largest. They differ in the {first_means} "
    "{first}{first_tail} and the {second_means} {second}{second_tail}; all other given quantities are the same.",
)
RANK_HINT = "Write an expression for the {name} in symbols. How does it depend on each of the two quantities?"

CASE = "{first} = {first_value}, {second} = {second_value}"
RANK_HEADING = "Compare the cases as ratios"
LAW = (
    "With the other quantities unchanged, {asked} is proportional to {law}. Below, {first} is given in units "
    "of {first_value} and {second} in units of {second_value}."
)
WORKED = "{first} = {first_value}, {second} = {second_value}: {worked}"
ORDER = "From the smallest to the largest {asked}, the order is: "
NEXT_CASE = "; then "
