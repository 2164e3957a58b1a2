"""Feedback speaks of what is in the item: its own things, its own forces, roots and units only where there are some."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache

import pytest
import sympy
from turnwright.bank.command.printing import paragraph_text
from turnwright.bank.item.drawing import Drawing
from turnwright.bank.item.item import ChoiceEntry, Entry, Item, NumberEntry, Option, Recognised
from turnwright.bank.model.problem import Problem, Question, Scene
from turnwright.bank.model.wording import IN_GENERAL, force_words, with_article
from turnwright.bank.questions.kinds import Kind

from tests.bank import models

KINDS: tuple[Kind, ...] = ("number", "choice", "expression", "change", "limit", "direction", "diagram", "equation")
STEPS = {"number": 2, "choice": 2}  # each so many-th question; of the other kinds the whole bank
# what may hold, carry or move a body in one story and not in another
THINGS = (
    "cord", "chain", "wire", "thread", "string", "rope", "arm", "beam", "rod", "stick", "spring", "track", "road",
    "wall", "table", "ice", "bowl", "dome", "seat", "floor", "planet", "satellite", "moon", "wheel", "pulley",
    "sprocket", "tube", "deck", "scale", "pipe",
)  # fmt: skip
FORCES = (
    "normal force", "contact force", "support force", "tension", "lift", "spring force", "frictional force",
    "gravitational force", "magnetic force",
)  # fmt: skip
SLOTS = ("body", "holder", "arm", "first", "second")  # whose general phrases are not those of any scene


@dataclass(frozen=True)
class ToldFeedback:
    """One feedback with the item that it stands in and what that is made of."""

    text: str
    advice: str
    item: Item
    entry: Entry
    problem: Problem
    question: Question | None
    scene: Scene
    content: str


@cache
def told() -> list[ToldFeedback]:
    """The feedback on every wrong answer, in every scene."""
    return [
        ToldFeedback(text, advice, item, entry, problem, _question(problem, item), scene, content)
        for kind in KINDS
        for _, item in models.drawn(kind, step=STEPS.get(kind, 1))
        for problem in [models.shipped_problems()[item.metadata.problem]]
        for scene in problem.scenes
        if scene.name == item.metadata.scene
        for entry in item.entries
        for text, advice, content in _feedback(entry)
    ]


def _question(problem: Problem, item: Item) -> Question | None:
    name = item.metadata.question.partition("/")[0]
    return next((each for each in problem.questions if each.name == name), None)


def _feedback(entry: Entry) -> Iterator[tuple[str, str, str]]:
    if isinstance(entry, NumberEntry):
        yield from ((each.feedback, _advice(each), "") for each in entry.recognised)
    elif isinstance(entry, ChoiceEntry):
        wrong = (each for each in entry.options if not each.right)
        yield from ((each.feedback, _advice(each), _content(each.content)) for each in wrong)


def _advice(wrong: Option | Recognised) -> str:
    """The advice apart; every wrong answer of these kinds has its cause, which its feedback tells."""
    assert wrong.cause is not None
    advice = wrong.cause.advice.text
    assert wrong.feedback.endswith(advice)
    return advice


def _content(content: object) -> str:
    return content.alternative if isinstance(content, Drawing) else paragraph_text(content)  # type: ignore[arg-type]


def page(each: ToldFeedback) -> str:
    """All that a candidate reads before the answer."""
    prompts = [entry.prompt for entry in each.item.entries if not isinstance(entry, NumberEntry)]
    names = [entry.name for entry in each.item.entries if isinstance(entry, NumberEntry)]
    figure = [each.item.figure.description] if each.item.figure else []
    return " ".join([*map(paragraph_text, (*each.item.stem, *prompts)), *names, *figure, each.content])


# --- what is looked for ---------------------------------------------------------------------------


def foreign_things(each: ToldFeedback) -> Iterator[str]:
    """Things that neither the item has nor what exerts the forces of its scene."""
    shown = " ".join([page(each), *(words.by for words in each.scene.forces.values())]).lower()
    yield from (thing for thing in THINGS if re.search(rf"\b{thing}s?\b", each.text) and thing not in shown)


def foreign_forces(each: ToldFeedback) -> Iterator[str]:
    """Forces by another name than that of the scene, and forces where the item has none."""
    shown = {words.name for diagram in each.problem.diagrams for force in diagram.forces
             if (words := force_words(each.scene, force.role))}  # fmt: skip
    text = re.sub(r"like the normal force on a block|What does the text say.*", "", each.text)
    for name in FORCES:
        if name in text and not any(one.startswith(name) for one in shown) and name not in page(each):
            yield name
    if not each.problem.diagrams and re.search(r"\bforces?\b|\bF_N\b|\bweight\b", text):
        yield "a force"


def general_words(each: ToldFeedback) -> Iterator[str]:
    """What stands in a slot where no scene is chosen."""
    own = {*each.scene.words.values(), *(words.by for words in each.scene.forces.values())}
    others = {
        name: phrase for name, phrase in IN_GENERAL.items() if name in ("body", "holder", "arm", "first", "second")
    }
    for phrase in others.values():
        if phrase not in own and re.search(rf"\b{with_article(phrase, 'the')}\b", each.text, re.IGNORECASE):
            yield phrase
    yield from re.findall(r"\{.*?\}", each.text)


def groundless(each: ToldFeedback) -> Iterator[str]:
    """A root where the closed form has none; the unit of a result where there is no result, or none with a unit."""
    if re.search(r"\broots?\b", each.advice) and each.question is not None:
        closed = models.shipped(f"{each.problem.id}.{each.question.name}").solution.closed_form
        if not any(power.exp.is_Rational and power.exp.q > 1 for power in closed.atoms(sympy.Pow)):
            yield "a root"
    has_unit = isinstance(each.entry, NumberEntry) and each.entry.unit
    if re.search(r"unit of (your|the) (answer|result)", each.text) and not has_unit:
        yield "a unit"
    if "more than one mistake" in each.text and isinstance(each.entry, NumberEntry):
        yield "two mistakes"


CHECKS = (foreign_things, foreign_forces, general_words, groundless)


def faults(found: Sequence[ToldFeedback]) -> list[tuple[str, str, str, str]]:
    """What these say of things that are not there."""
    return [
        (each.item.question_id, each.scene.name, fault, each.text)
        for each in found
        for check in CHECKS
        for fault in check(each)
    ]


# --- the bank -------------------------------------------------------------------------------------


def test_feedback_speaks_only_of_what_is_in_its_item() -> None:
    assert len(told()) > 8000
    assert faults(told()) == []


@pytest.mark.parametrize(
    ("planted", "fault"),
    [
        ("The radius of the circle is the length of the cord.", "cord"),
        ("The contact force always equals m g.", "contact force"),
        ("What exerts the force on the body?", "a body"),
        ("Only {holder} pulls.", "{holder}"),
    ],
)
def test_a_word_that_is_not_that_of_the_scene_is_caught(planted: str, fault: str) -> None:
    """Planted: what the catalogue said before it had slots, told of a chair on a chain."""
    chair = next(each for each in told() if each.problem.id == "chair-ride" and each.scene.name == "fair")
    assert faults([chair]) == []
    assert fault in {one[2] for one in faults([replace(chair, text=planted)])}


def test_forces_roots_and_units_are_caught_where_there_are_none() -> None:
    """Planted: half of m v² as a force in a motion without forces, a root, the unit of a ratio."""
    going = next(each for each in told() if each.problem.id == "going-round")
    assert {one[2] for one in faults([replace(going, text="So the force is ½ m v²/r.")])} == {"a force"}
    no_root = next(each for each in told() if each.question and each.question.name == "normal-force")
    told_root = replace(no_root, advice="Does a root apply to it?")
    assert {one[2] for one in faults([told_root])} == {"a root"}
    ratio = next(each for each in told() if isinstance(each.entry, NumberEntry) and not each.entry.unit)
    assert {one[2] for one in faults([replace(ratio, text="Check the unit of your result.")])} == {"a unit"}
    number = next(each for each in told() if isinstance(each.entry, NumberEntry) and each.entry.unit)
    assert faults([replace(number, text="Check the unit of your result.")]) == []


# --- one thought for one mistake, advice for this expression ---------------------------------------


def _turned(equation: str) -> str:
    """The equation with the sign of every term of its left side changed, its terms in the order of the alphabet."""
    left, _, right = equation.partition(" = ")
    signed = re.findall(r"[+−]? ?[^+−]+", left)
    turned = sorted(("" if each[0] == "−" else "−") + each.strip("+− ") for each in signed)
    return f"{turned} = {right}"


def _as_it_is(equation: str) -> str:
    left, _, right = equation.partition(" = ")
    terms = sorted(("−" if each[0] == "−" else "") + each.strip("+− ") for each in re.findall(r"[+−]? ?[^+−]+", left))
    return f"{terms} = {right}"


def test_an_equation_with_every_force_turned_round_is_told_as_one_thought() -> None:
    told_of_centre, turned = set(), set()
    for model, item in models.drawn("equation"):
        (entry,) = item.entries
        assert isinstance(entry, ChoiceEntry)
        (key,) = (_content(each.content) for each in entry.options if each.right)
        for option in entry.options:
            name = (model.id, item.metadata.scene, _content(option.content))
            if "on the other side of" in option.feedback:
                told_of_centre.add(name)
            if not option.right and len(option.mistakes) > 1 and _as_it_is(name[2]) == _turned(key):
                turned.add(name)
    assert len(turned) >= 5
    assert told_of_centre == turned


@pytest.mark.parametrize(
    ("question", "symbol", "advice"),
    [
        ("rough-bank-slow.least-speed", "m", r"Does the (total )?mass[^?.]* appear in it\?"),
        ("through-the-dip.normal-force", "r", r"Which of the terms contain the radius[^?.]*, and which do not\?"),
        ("going-round.acceleration", "r", r"Is the radius[^?.]* in the numerator or in the denominator"),
    ],
)
def test_what_to_look_at_follows_from_the_closed_form(question: str, symbol: str, advice: str) -> None:
    items = [item for model, item in models.drawn("change") if model.id.startswith(f"{question}/change-{symbol}-")]
    told = [text for item in items for entry in item.entries for text, *_ in _feedback(entry)]
    found = [text for text in told if "proportional" in text]
    assert found
    assert all(re.search(rf"Write the expression for the [^.?]+ in symbols\. {advice}", text) for text in found)
