"""Questions derived from the model: each key against a check made here, from vectors, equations and numbers."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import cache, reduce
from itertools import pairwise, permutations

import numpy as np
import pytest
from turnwright.bank.checking.surface import MOST_ABOVE_CHANCE
from turnwright.bank.item.drawing import Drawing, Label
from turnwright.bank.item.formula import Node, Operator, Row, text
from turnwright.bank.item.item import (
    ChoiceEntry,
    Given,
    Item,
    MatchEntry,
    Math,
    NumberEntry,
    Option,
    OrderEntry,
    Paragraph,
    Words,
)
from turnwright.bank.mechanics.equations import components, magnitude, system_of
from turnwright.bank.model.edit import ScalingEdit, WrittenEdit
from turnwright.bank.model.mistake import Mistake
from turnwright.bank.model.problem import Diagram, Problem, Scene
from turnwright.bank.model.wording import force_words, with_article
from turnwright.bank.questions import force_keys
from turnwright.bank.questions.item_model import ItemModel
from turnwright.bank.questions.kinds import Kind
from turnwright.bank.questions.limiting.changes import CHANGES
from turnwright.bank.questions.limiting.keys import near_limit
from turnwright.bank.questions.matching.situations import ToldStory, alike
from turnwright.bank.questions.rank_keys import MULTIPLES
from turnwright.bank.questions.selection import item_models
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.bank.solving.solution import SolvedQuestion
from turnwright.bank.variants.variant import Variant, VariantPool
from turnwright.bank.writing.letters import letters_of
from turnwright.bank.writing.view import DiagramView, notation_of, view_of

from tests.bank import models
from tests.bank.drawing.told import told_forces
from tests.bank.models import GRAVITY

G = float(GRAVITY)


@dataclass(frozen=True)
class Made:
    """An item of a derived question, and where it comes from."""

    asked: ItemModel
    item: Item

    @property
    def problem(self) -> Problem:
        return problems()[self.asked.metadata.problem]

    @property
    def scene(self) -> Scene:
        return next(each for each in self.problem.scenes if each.name == self.item.metadata.scene)

    @property
    def view(self) -> DiagramView:
        """What is to be seen in the right diagram."""
        return view_of(self.problem, self.diagram, self.scene)

    @property
    def diagram(self) -> Diagram:
        found = self.problem.diagram(self.asked.metadata.question.split("/")[0])
        assert found
        return found

    @property
    def question(self) -> SolvedQuestion:
        """The question of the problem file that it was derived from."""
        return models.shipped(f"{self.problem.id}.{self.asked.metadata.question.split('/')[0]}")

    @property
    def choice(self) -> ChoiceEntry:
        (entry,) = self.item.entries
        assert isinstance(entry, ChoiceEntry)
        return entry

    @property
    def right(self) -> list[Option]:
        return [option for option in self.choice.options if option.right]


def problems() -> dict[str, Problem]:
    return models.shipped_problems()


@cache
def made(kind: Kind, step: int = 1) -> list[Made]:
    """The items of one kind, one for each scene, from the whole bank or from each ``step``-th question."""
    return [Made(asked, item) for asked, item in models.drawn(kind, 1, step)]


def words(option: Option) -> str:
    """An option in words alone."""
    assert isinstance(option.content, tuple)
    return words_of(option.content)


def words_of(paragraph: Paragraph) -> str:
    """A paragraph that is words alone."""
    (part,) = paragraph
    assert isinstance(part, Words)
    return part.text


def numbers_of(variant: Variant) -> dict[str, float]:
    """The printed givens in SI, and g."""
    return {"g": G, **{name: each.si for name, each in variant.given.items()}}


def variants(known: SolvedQuestion, wanted: int) -> list[Variant]:
    """Some variants of a question."""
    return list(VariantPool(known, GRAVITY).draw_up_to(wanted, 1))


# --- all choices ----------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", ["direction", "diagram", "equation", "change", "limit"])
def test_exactly_one_of_three_to_five_options_is_marked_right(kind: Kind) -> None:
    assert len(made(kind)) >= 40
    for each in made(kind):
        assert not each.choice.several
        assert len(each.right) == 1, each.item.question_id
        assert 3 <= len(each.choice.options) <= 5, each.item.question_id


# One force in place of another is two mistakes, and in an equation a third may stand beside them.
MOST_MISTAKES: dict[Kind, int] = {"equation": 3}


@pytest.mark.parametrize("kind", ["direction", "forces", "diagram", "equation", "change", "limit"])
def test_every_wrong_option_brings_feedback_and_names_a_mistake(kind: Kind) -> None:
    known = {each.id: each for each in shipped_mistakes()}
    for each in made(kind):
        for option in each.choice.options:
            assert option.feedback, each.item.question_id
            if option.right:
                assert not option.mistakes, each.item.question_id
            else:
                assert 1 <= len(option.mistakes) <= MOST_MISTAKES.get(kind, 2), each.item.question_id
                one = known[option.mistakes[0]] if len(option.mistakes) == 1 else None
                of_sense = "taken as positive towards the centre" in option.feedback  # what the sign of a letter means
                said = [_any_words(told) for told in told_of(one, kind)] if one and not of_sense else []
                assert all(re.search(told, option.feedback) for told in said), each.item.question_id


def told_of(mistake: Mistake, kind: Kind) -> tuple[str, ...]:
    """What a mistake says with its slots. What to look at depends on the closed form, or is the unit of an equation."""
    both = mistake.written or (mistake.thinking, mistake.feedback)
    in_an_equation = isinstance(mistake.edit, WrittenEdit) and kind == "equation"
    return both[:1] if isinstance(mistake.edit, ScalingEdit) or in_an_equation else both


def _any_words(told: str) -> str:
    """A pattern for what a mistake says, where slots are filled, and "this quantity" and "the answer" have names."""
    return re.sub(r"this\\ (?:quantity|length)|[Tt]he\\ answer|\\\{.+?\\\}", ".+?", re.escape(told))


def test_a_thought_about_any_quantity_is_told_of_the_one_that_is_changed() -> None:
    """No wrong answer is told of "this quantity", and what is named in its place stands in the question."""
    named = 0
    for each in made("change"):
        prompt = "".join(part.text if isinstance(part, Words) else "" for part in each.choice.prompt)
        for option in each.choice.options:
            assert not re.search(r"\b(this (quantity|length)|[Tt]he answer)\b", option.feedback.split("”")[0])
            told = re.search(
                r"proportional to (?:the (?:square (?:root )?|power 3/2 )of )?the ([a-z ]+)", option.feedback
            )
            if told and not option.right:
                named += 1
                assert told[1].split()[0] in prompt, (each.item.question_id, option.feedback)
    assert named >= 500


@pytest.mark.parametrize("kind", ["direction", "forces", "diagram", "equation", "change", "limit"])
def test_no_two_options_are_alike(kind: Kind) -> None:
    for each in made(kind):
        contents = [option.content for option in each.choice.options]
        assert all(contents.count(content) == 1 for content in contents), each.item.question_id


@pytest.mark.parametrize("kind", ["direction", "diagram", "equation"])
def test_the_right_option_stands_in_no_fixed_place(kind: Kind) -> None:
    places = Counter(each.choice.options.index(each.right[0]) for each in made(kind))
    assert min(places[place] for place in range(4)) >= len(made(kind)) / 12, places


# --- direction, forces, diagram -------------------------------------------------------------------


def acting(each: Made) -> set[str]:
    """The forces on the body as the problem file has them, in the words of the scene; a tension is told as a pull."""
    found = (force_words(each.scene, force.role) for force in each.diagram.forces)
    other = {"weight": "gravitational force", "tension": "pull"}
    named = {(shown.name.partition(" at the ")[0], shown.by) for shown in found if shown}
    return {f"the {other.get(name, name)} exerted by {by} on {body_of(each)}" for name, by in named}


def body_of(each: Made) -> str:
    """The body with its article."""
    return with_article(each.scene.words[each.diagram.body], "the")


def test_the_right_forces_are_forces_of_the_problem_and_no_wrong_one_is() -> None:
    for each in made("forces"):
        assert each.choice.several
        right = {words(option) for option in each.right}
        wrong = {words(option) for option in each.choice.options} - right
        assert right <= acting(each), each.item.question_id
        assert right, each.item.question_id
        assert wrong, each.item.question_id
        assert not wrong & acting(each), each.item.question_id
        assert 3 <= len(right | wrong) <= 6, each.item.question_id


def test_what_is_on_the_body_is_not_right_for_that_alone() -> None:
    """Who only looks for the body at the end, as the question names it, guesses little better than by chance."""
    found = [
        (words(option).endswith(f" on {body_of(each)}"), option.right)
        for each in made("forces")
        for option in each.choice.options
    ]
    right = sum(told for _, told in found) / len(found)
    guessed = sum(on_body is told for on_body, told in found) / len(found)
    assert guessed <= max(right, 1 - right) + MOST_ABOVE_CHANCE


def test_no_force_is_found_by_what_it_is_said_to_act_on_and_to_be_exerted_by() -> None:
    """In 74 of 126 questions those that something exerted on the body were the right ones, and no others."""
    for each in made("forces"):
        said = re.compile(rf" exerted by .+ on {body_of(each)}$")
        alike = [option for option in each.choice.options if said.search(words(option))]
        assert {*each.right} < {*alike}, each.item.question_id


def test_forces_found_by_what_exerts_them_are_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(force_keys, "_one_as_acting", lambda false, wanted: list(false[:wanted]))
    monkeypatch.setattr(force_keys, "_agent_for", lambda about, way: "")
    asked = item_models([models.shipped("breaking-cord.greatest-speed")], shipped_mistakes(), ("forces",))
    found = [Made(each, item) for each in asked for item in each.draw(9, GRAVITY, 1)]
    monkeypatch.setitem(globals(), "made", lambda kind: found)
    with pytest.raises(AssertionError):
        test_no_force_is_found_by_what_it_is_said_to_act_on_and_to_be_exerted_by()


def test_beside_forces_that_nothing_exerts_stands_one_that_something_does() -> None:
    """Of magnetic, centrifugal and driving force, all said to be exerted by the field, readers took the first."""
    made_up = {"outward-force-drawn", "forward-force-drawn", "centripetal-force-drawn"}
    for each in made("forces"):
        thoughts = {mistake for option in each.choice.options for mistake in option.mistakes}
        assert thoughts - made_up, each.item.question_id
        assert "additional" not in " ".join(map(words, each.choice.options)), each.item.question_id


def test_no_two_wrong_forces_are_struck_out_by_one_reading() -> None:
    """Of forces that the body itself exerts there is one at most: "on the gondola" would strike them all."""
    for each in made("forces"):
        ways = Counter(mistake for option in each.choice.options for mistake in option.mistakes)
        assert max(ways.values()) == 1, each.item.question_id


def test_two_forces_of_the_body_on_others_are_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(force_keys, "MOST_PAIRS", 9)
    asked = item_models([models.shipped(each) for each in models.shipped_ids()[::5]], shipped_mistakes(), ("forces",))
    found = [Made(each, item) for each in asked for item in each.draw(9, GRAVITY, 1)]
    monkeypatch.setitem(globals(), "made", lambda kind: found)
    with pytest.raises(AssertionError):
        test_no_two_wrong_forces_are_struck_out_by_one_reading()


def test_friction_is_a_wrong_answer_only_where_the_story_excludes_it() -> None:
    """And gravity only where no equation has it."""
    seen = set()
    for each in made("forces"):
        story = each.scene.story.lower()
        thoughts = {mistake for option in each.choice.options for mistake in option.mistakes}
        if "friction-of-a-smooth-surface" in thoughts:
            assert "smooth" in story or "friction" in story, each.item.question_id
        if "gravity-everywhere" in thoughts:
            assert re.search(r"gravity .*negligible|far (out in space|from any planet)", story), each.item.question_id
            assert not {force.law for force in each.diagram.forces} & {"weight", "gravitation"}, each.item.question_id
        seen |= thoughts
    assert seen >= {"friction-of-a-smooth-surface", "gravity-everywhere", "force-passed-on", "force-on-the-other-body"}


def test_exactly_one_diagram_shows_the_forces_of_the_problem() -> None:
    for each in made("diagram"):
        fits = []
        for option in each.choice.options:
            assert isinstance(option.content, Drawing)
            told = [f"{name}, by {agent}: {way}" for name, agent, way in told_forces(option.content)]
            labels = [
                mark for mark in option.content.marks if isinstance(mark, Label) and not isinstance(mark.content, str)
            ]
            assert len(labels) >= len(told) >= 1, each.item.question_id
            true = {f"{one.name}, by {one.agent}: {one.direction_words}" for one in each.view.forces}
            fits.append(set(told) == true and len(told) == len(true))
        assert fits == [option.right for option in each.choice.options], each.item.question_id
        assert sum(fits) == 1, each.item.question_id


def test_diagrams_to_choose_from_can_be_told_apart_by_ear_and_do_not_say_which_is_right() -> None:
    for each in made("diagram"):
        drawings = [option.content for option in each.choice.options]
        assert all(isinstance(drawing, Drawing) for drawing in drawings)
        assert len({drawing.alternative for drawing in drawings if isinstance(drawing, Drawing)}) == len(drawings)
        assert len({drawing.title for drawing in drawings if isinstance(drawing, Drawing)}) == 1
        assert not any(
            "cceleration" in d.description or "wrong" in d.description for d in drawings if isinstance(d, Drawing)
        )


def test_a_force_along_a_level_path_is_not_drawn_up_the_page() -> None:
    seen = set()
    for each in made("diagram"):
        forward = any("forward-force-drawn" in option.mistakes for option in each.choice.options)
        level = view_of(each.problem, each.diagram, each.scene).side_view
        assert not (level and forward), each.item.question_id
        seen.add((level, forward))
    assert seen >= {(True, False), (False, True)}


def test_a_body_at_rest_is_not_asked_about_circles() -> None:
    asked = (*made("direction"), *made("forces"), *made("diagram"), *made("equation"))
    assert all(each.diagram.spot != "rest" for each in asked)


# --- equation -------------------------------------------------------------------------------------


@cache
def off_the_limit(name: str) -> models.Balance:
    """The equations of a question without its limiting case, which would make wrong equations true as well."""
    known = models.shipped(name)
    return models.Balance(system_of(known.problem, replace(known.question, limiting=None)))


def consistent(known: SolvedQuestion, variant: Variant, factor: float = 1.0) -> dict[str, float]:
    """Numbers that meet all equations, by least squares, with the asked quantity ``factor`` times its answer."""
    given = {**numbers_of(variant), known.question.ask: variant.exact_si * factor}
    return off_the_limit(known.id).values(given)


def asked_first(problem: Problem) -> SolvedQuestion:
    """The question that the items about a diagram come with."""
    ids = [name for name in models.shipped_ids() if name.startswith(f"{problem.id}.")]
    return next(models.shipped(name) for name in ids if models.shipped(name).solution.path)


def gap(option: Option, values: dict[str, float], scene: Scene, problem: Problem) -> float:
    """The difference of the two sides of an equation as shown, as a share of the larger one."""
    assert isinstance(option.content, tuple)
    (part,) = option.content
    assert isinstance(part, Math)
    assert isinstance(part.node, Row)
    left, _, right = part.node.parts
    notation = notation_of(problem, scene)
    shown = {notation.symbol(name): value for name, value in values.items()}
    one, other = models.shown_value(left, shown), models.shown_value(right, shown)
    return abs(one - other) / max(abs(one), abs(other))


def test_exactly_one_equation_balances_at_consistent_numbers() -> None:
    """With the forces from all equations of motion by least squares, a little off the limit where there is one."""
    seen = set()
    for each in made("equation"):
        if (each.asked.id, each.scene.name) in seen:
            continue
        seen.add((each.asked.id, each.scene.name))
        known = asked_first(each.problem)
        factor = 1.3 if known.question.limiting else 1.0
        for variant in variants(known, 2):
            values = consistent(known, variant, factor)
            gaps = [gap(option, values, each.scene, each.problem) for option in each.choice.options]
            balances = [found < 1e-6 for found in gaps]
            assert balances == [option.right for option in each.choice.options], (each.item.question_id, gaps)
            assert sorted(gaps)[1] > 1e-3, (each.item.question_id, gaps)


# --- change ---------------------------------------------------------------------------------------

ROOTS = {"√2": math.sqrt(2), "√3": math.sqrt(3), "2√2": math.sqrt(8), "3√3": math.sqrt(27)}
NO_FACTOR = tuple(f"It {verb}, but not by a fixed factor." for verb in ("changes", "must change"))
DONE = {"doubled": 2.0, "halved": 0.5, "tripled": 3.0, "quadrupled": 4.0, "quartered": 0.25}
TOLD = {**DONE, "reduced to a quarter": 0.25}


def factor(text: str) -> float | None:
    """What an option says, as a number; None where it says that there is none."""
    plain = {"It stays the same.": 1.0, "It must stay the same.": 1.0, **dict.fromkeys(NO_FACTOR)}
    if text in plain:
        return plain[text]
    verb, number = text.removeprefix("It ").removeprefix("must ").removesuffix(".").split(" by a factor of ")
    size = ROOTS.get(number) or float(number)
    return {"increase": size, "decrease": 1 / size}[verb.removesuffix("s")]


def changed(each: Made) -> tuple[str, float]:
    """The symbol that is changed and how many times it is taken, from the title of the question."""
    symbol, _, done = each.asked.metadata.title.rpartition(": ")[2].partition(" ")
    prompt = "".join(part.text for part in each.choice.prompt if isinstance(part, Words))
    (times,) = (times for told, times in TOLD.items() if f" is {told}" in prompt)
    assert times == DONE[done], prompt
    return symbol, times


def factors(known: SolvedQuestion, symbol: str, times: float) -> Iterator[float]:
    """New answer over old one, for variants that are still real and keep what holds after the change."""
    work_out = models.formula_of(known.id)
    margins = [models.function(each.expression) for each in known.kept if each.expression is not None]
    for variant in variants(known, 40):
        numbers = numbers_of(variant)
        if symbol not in known.solution.symbols:
            yield by_least_squares(known, variant, symbol)
            return
        after = {**numbers, symbol: times * numbers[symbol]}
        try:
            possible = all(margin(after) > -1e-12 for margin in margins)
            found = work_out(after) / work_out(numbers)
        except ValueError:
            continue
        if possible and (found > 0 or not known.problem.quantities[known.question.ask].positive):
            yield found


def by_least_squares(known: SolvedQuestion, variant: Variant, mass: str) -> float:
    """1 where the equations hold with the same answer for a mass and for twice the mass."""
    balance = models.Balance(known.system)
    for size in (0.7, 1.4):
        balance.values({**numbers_of(variant), known.question.ask: variant.exact_si, mass: size})
    return 1.0


def test_changing_a_quantity_changes_the_answer_as_the_key_says() -> None:
    seen = Counter[str]()
    ways = Counter[float]()
    for each in {one.asked.id: one for one in made("change")}.values():
        symbol, times = changed(each)
        ways[times] += 1
        found = list(factors(each.question, symbol, times))
        assert found, each.asked.id
        key = words(each.right[0])
        seen[key] += 1
        right = factor(key)
        if right is None:
            assert len(found) < 2 or max(found) - min(found) > 1e-4, each.asked.id
        else:
            assert found == pytest.approx([right] * len(found), rel=1e-9), each.asked.id
        others = [factor(words(option)) for option in each.choice.options if not option.right]
        assert all(any(abs(ratio - other) > 0.01 for ratio in found) for other in others if other is not None), (
            each.asked.id
        )
    assert len(seen) >= 12, seen
    assert min(ways[times] for times in DONE.values()) >= 40, ways


def test_changes_are_of_what_matters_and_of_a_mass_once_a_problem() -> None:
    asked = {each.asked.id: each for each in made("change")}.values()
    keys = Counter(words(each.right[0]) for each in asked)
    assert sum(factor(key) == 1 for key in keys.elements()) < 0.2 * len(asked)
    assert sum(keys[each] for each in NO_FACTOR) < 0.2 * len(asked)
    masses = [each for each in asked if is_a_mass(each)]
    assert all(factor(words(each.right[0])) == 1 for each in masses)
    assert max(Counter(each.problem.id for each in masses).values()) == 1
    assert len(masses) >= 20


def is_a_mass(each: Made) -> bool:
    return changed(each)[0] in {diagram.mass for diagram in each.problem.diagrams}


def test_no_change_of_the_motion_is_said_to_change_a_mass_a_charge_or_a_coefficient() -> None:
    """A crate has the coefficient that it has; who says that it stays the same is right."""
    for each in made("change"):
        assert each.question.question.ask not in ("mu", "q", "m", "M"), each.asked.id


def test_nothing_is_changed_that_has_a_name_of_its_own() -> None:
    """The radius of the orbit of Io is what it is; of a planet that a story makes up it may be what one likes."""
    told = ["".join(part.text for part in each.choice.prompt if isinstance(part, Words)) for each in made("change")]
    assert not [each for each in told if re.search(r"[a-z,] [A-Z][a-z]", each)]


def test_the_solution_of_a_change_tells_the_ratio_in_one_line() -> None:
    for each in made("change"):
        last = each.item.solution[-1]
        line, therefore = last.paragraphs
        key = words(each.right[0])
        told = key if key in NO_FACTOR else key.removeprefix("It ")
        assert words_of(therefore[-1:]).strip() == told, each.item.question_id
        assert last.heading == "Ratio of the new value to the old value"
        assert last.number == len(each.item.solution)
        right = factor(words(each.right[0]))
        if right is None or right == 1:
            assert isinstance(line[-1], Words), each.item.question_id
        else:
            assert models.shown_value(ratio_shown(line), {}) == pytest.approx(right), each.item.question_id


def ratio_shown(line: Paragraph) -> Node:
    """The ratio that a line ends with, before its full stop."""
    return last_of(line[:-1])


# --- limit ----------------------------------------------------------------------------------------

# what an outcome says of the force at its limit, against before; what is lost says nothing of it
SAYS = {
    "is greater": 1, "is the same": 0, "is smaller": -1, "a greater frictional force": 1,
    "the same frictional force": 0, "a smaller frictional force": -1, "pushes on it": 1, "inwards": 1,
    "without": 0, "outwards": -1, "pulls on it": -1, "still about to": 0,
}  # fmt: skip
LOST = ("slides", "breaks", "loses contact", "goes slack")
RATES = {"v", "omega", "T", "v_bottom", "v_top"}


def slight(each: Made) -> tuple[str, float]:
    """The symbol that is changed and how many times it is taken, from the title of the question."""
    *symbol, _, change = each.asked.metadata.title.rpartition(": ")[2].split()
    return (symbol or [each.question.question.ask])[0], CHANGES[change]  # type: ignore[index]


def at_its_limit(known: SolvedQuestion, symbol: str, variant: Variant, factor: float) -> tuple[float, float]:
    """What is left up to the limit and the force there, by least squares; one quantity is taken ``factor`` times."""
    question, limiting = known.question, known.question.limiting
    assert limiting
    (holds,) = (
        each.relation
        for each in known.problem.holds
        if {each.relation.left, each.relation.right} == {limiting.left, limiting.right}
    )
    masses = {diagram.mass: 0.7 for diagram in known.problem.diagrams if diagram.mass not in question.given}
    values = {**numbers_of(variant), **masses, question.ask: variant.exact_si}
    system = system_of(known.problem, replace(question, limiting=None, given=(*question.given, *masses)))
    values = models.Balance(system).values({**values, symbol: factor * values[symbol]})
    left, right = (models.function(side)(values) for side in (holds.left, holds.right))
    return (left - right if holds.sign.startswith(">") else right - left), left


def is_lost(says: str) -> bool:
    return any(verb in says for verb in LOST)


def test_after_a_slight_change_happens_what_the_forces_say() -> None:
    tried = Counter[int | None]()
    for each in {one.asked.id: one for one in made("limit")}.values():
        symbol, factor = slight(each)
        says = words(each.right[0])
        for variant in variants(each.question, 2):
            (_, before), (left, after) = (at_its_limit(each.question, symbol, variant, x) for x in (1.0, factor))
            nothing = 1e-5 * max(abs(before), abs(after), 0.1)  # newtons; solvers leave 1e-8
            assert is_lost(says) == (left < -nothing), (each.asked.id, says, left)
            if not is_lost(says):
                (sense,) = {sense for told, sense in SAYS.items() if told in says}
                assert sense == (after > before + nothing) - (after < before - nothing), (each.asked.id, says)
        tried[None if is_lost(says) else sense] += 1
    assert len(tried) == 4
    assert min(tried.values()) >= 9, tried


def test_what_happens_is_the_same_in_all_stories_of_a_question() -> None:
    found = {(each.asked.id, is_lost(words(each.right[0]))) for each in made("limit")}
    assert len(found) == len({name for name, _ in found})


def test_each_outcome_of_a_question_is_right_for_one_of_its_changes() -> None:
    """What is offered and never right would tell the key: little, but for one of two ways to end the motion."""
    offered, right = Counter[str](), Counter[str]()
    for each in made("limit"):
        offered.update((each.question.id + words(option)) for option in each.choice.options)
        right.update((each.question.id + words(option)) for option in each.right)
    assert all(offered[each] <= 4 * right[each] for each in right)
    assert sum(offered[each] for each in offered if each not in right) <= 0.3 * offered.total()


def test_a_change_of_a_length_that_somebody_chooses_is_answered_as_it_is_asked() -> None:
    forms = Counter[bool]()
    for each in made("change"):
        must = "must the " in "".join(part.text for part in each.choice.prompt if isinstance(part, Words))
        forms[must] += 1
        told = [words(option) for option in each.choice.options]
        assert all(one.startswith("It must ") == must for one in told), each.asked.id


def test_what_stays_constant_is_named_with_its_letter_in_changes_and_rankings() -> None:
    """Each given quantity that is drawn stands in the prompt: the changed ones, and those that stay what they are."""
    for each in (*made("change"), *made("rank")):
        (entry,) = each.item.entries
        assert isinstance(entry, ChoiceEntry | OrderEntry)
        problem, question = each.problem, each.question.question
        notation = notation_of(problem, each.scene)
        told = letters_of([entry.prompt], problem, notation)
        drawn = [problem.quantities[name] for name in question.given]
        wanted = [one.symbol for one in drawn if not one.constant and one.draw and len(one.draw.values) > 1]
        assert {question.ask, *wanted} <= {*told}, each.item.question_id


def without(text: str, *names: str) -> str:
    """The text without these names, the longest first."""
    return reduce(lambda left, name: left.replace(name, ""), sorted(names, key=len, reverse=True), text)


def test_an_outcome_names_only_forces_and_agents_of_its_story() -> None:
    told = [shown for problem in problems().values() for scene in problem.scenes for shown in scene.forces.values()]
    # what touches the body exerts a contact force, whatever a story calls it
    names, agents = {each.name for each in told} - {"contact force"}, {each.by for each in told}
    for each in made("limit"):
        own = [part for shown in each.scene.forces.values() for part in (shown.name, shown.by)]
        for option in each.choice.options:
            told_of = words(option)[0].lower() + words(option)[1:]
            rest = without(told_of, *own, *(f"the {word.split(' ', 1)[1]}" for word in each.scene.words.values()))
            assert not [other for other in names | agents if other in rest], (each.asked.id, words(option))


def test_a_cord_breaks_where_no_friction_is() -> None:
    """What the two loads on one cord were told before a force stated its kind: that the friction is not enough."""
    says = {each.scene.name: words(each.right[0]) for each in made("limit") if breaks_among_others(each)}
    assert says == {
        scene: f"The inner part of the cord breaks, and the inner {body} at first moves along the tangent."
        for scene, body in (("air-table", "puck"), ("science-centre", "disc"), ("rod", "bead"))
    }


def breaks_among_others(each: Made) -> bool:
    return each.question.id == "two-loads-on-one-cord.greatest-rate" and is_lost(words(each.right[0]))


@pytest.mark.parametrize(
    ("kind", "hold"),
    [
        ("support", "N >= 0"),  # a rod pushes beyond zero
        ("spring", "N >= 0"),
        ("tension", "N <= k*m*g"),  # comfort values that somebody chose
        ("normal", "N <= k*m*g"),
        ("normal", "N >= k*m*g"),
        ("normal", "N <= P"),  # a surface is not seen to break
    ],
)
def test_no_limit_is_asked_about_where_nothing_is_seen_to_fail(kind: str, hold: str) -> None:
    text = (
        "motion: {plane: vertical, radius: r, speed: v}\ndiagrams: {top: {at: top, N: inward}}\n"
        f"holds: [{hold}]\nkinds: {{N: {kind}}}\nquantities: {{P: N 24 31 38}}"
    )
    given = "m r" + "".join(f" {name}" for name in "kP" if name in hold.split("=")[1])
    known = models.solved(text, "v", given, re.sub("[<>]=", "=", hold))
    assert near_limit(known) is None


def test_all_questions_that_ask_for_a_limiting_rate_have_both_sides_but_where_nothing_fails() -> None:
    limiting = {
        name
        for name in models.shipped_ids()
        if models.shipped(name).question.limiting and models.shipped(name).question.ask in RATES
    }
    assert limiting - {each.question.id for each in made("limit")} == {
        "over-on-a-rod.least-speed-at-the-bottom",  # v_top = 0: no force is at its edge
        "conical-pendulum.narrow-cone",  # no motion is slower
        "loop-with-a-margin.speed-at-the-top",  # a margin that somebody chose
        "loop-with-a-margin.speed-at-the-bottom",
        "through-the-dip.greatest-speed",
        "off-a-dome.speed-on-leaving",  # nobody sets the speed there
    }


# --- rank -----------------------------------------------------------------------------------------


def case_values(each: Made, entry: OrderEntry) -> list[float]:
    """The asked quantity of each case from its numbers as printed, by plain arithmetic, the others as in a variant."""
    (base, *_) = [one for one in variants(each.question, 60) if one.scene.name == each.scene.name]
    found = []
    for option in entry.options:
        given = [part for part in option if isinstance(part, Given)]
        assert len(given) == 2
        numbers = {part.symbol: models.number(part.number) * models.factor(part.unit) for part in given}
        found.append(models.formula_of(each.question.id)({**numbers_of(base), **numbers}))
    return found


def test_cases_are_ranked_by_their_values_and_none_are_near() -> None:
    orders = Counter[tuple[int, ...]]()
    for each in made("rank"):
        (entry,) = each.item.entries
        assert isinstance(entry, OrderEntry)
        values = case_values(each, entry)
        assert len(values) == 4
        assert list(entry.ranking) == sorted(range(len(values)), key=values.__getitem__), each.item.question_id
        ranked = sorted(values)
        for low, high in pairwise(ranked):
            assert high - low > 0.05 * max(abs(low), abs(high)), each.item.question_id
        orders[entry.ranking] += 1
    assert sum(orders.values()) >= 100
    # 19 of 24 are not as printed, nor its reverse, nor one exchange of neighbours away; nearly each is right once
    assert 16 <= len(orders) <= 19


def test_cases_stand_in_simple_ratios_and_the_solution_tells_those_of_the_answers() -> None:
    for each in made("rank"):
        (entry,) = each.item.entries
        assert isinstance(entry, OrderEntry)
        for place in (0, 1):
            numbers = [models.number([part for part in one if isinstance(part, Given)][place].number)
                       for one in entry.options]  # fmt: skip
            wholes = {number / min(numbers) for number in numbers}
            assert all(
                any(ratio == pytest.approx(one / other, rel=1e-9) for one in MULTIPLES for other in MULTIPLES)
                for ratio in wholes
            ), each.item.question_id
        last = each.item.solution[-1]
        told = [models.shown_value(ratio, {}) for line in last.paragraphs[1:-1] if (ratio := last_of(line))]
        values = case_values(each, entry)
        assert [one / told[0] for one in told] == pytest.approx([one / values[0] for one in values], rel=1e-9)


def last_of(line: Paragraph) -> Node:
    """The right-hand side of the formula that a line ends with; the left-hand side of one that is rounded."""
    assert isinstance(line[-1], Math)
    node = line[-1].node
    if isinstance(node, Row) and Operator("≈") in node.parts:
        return node.parts[0]
    return node.parts[-1] if isinstance(node, Row) and Operator("=") in node.parts else node


# --- step by step ---------------------------------------------------------------------------------


def test_a_stepwise_item_goes_from_the_direction_over_diagram_and_equation_to_the_number() -> None:
    tried = carried = drawn = 0
    for asked in models.asked("stepwise", 5):
        for item in asked.draw(1, GRAVITY, 1):
            *steps, last = item.entries
            assert isinstance(last, NumberEntry)
            assert steps
            for step in steps:
                assert isinstance(step, ChoiceEntry)
                assert sum(option.right for option in step.options) == 1
            drawn += any(
                isinstance(step.options[0].content, Drawing) for step in steps if isinstance(step, ChoiceEntry)
            )
            for follows in last.carried:  # a wrong option, and the number that its mistake leads to
                option = steps[follows.entry].options[follows.option]
                behind = [each for each in last.recognised if each.value == follows.value]
                assert set(option.mistakes) & set(behind[0].mistakes)
                assert not last.accepts(follows.value)
            carried += len(last.carried)
            tried += 1
    assert tried >= 20
    assert carried >= 5  # the wrong equations are chosen by what they tell of the key, not by what follows from them
    assert drawn >= 0.5 * tried  # kinematics has none, and some equations rule out what could be drawn wrong


# --- the same problem in other stories ------------------------------------------------------------


def sums(problem: Problem, diagram: Diagram) -> tuple[tuple[str, ...], Callable[[dict[str, float]], list[float]]]:
    """The names in a diagram's sums along and across the inward axis less m v²/r, and a function of their values."""
    names = sorted({str(each) for force in diagram.forces for each in magnitude(problem, diagram, force).free_symbols}
                   | {str(each) for force in diagram.forces for _, part in components(diagram, force)
                      for each in part.free_symbols} | {diagram.mass})  # fmt: skip
    speed = diagram.speed or problem.motion.speed or "its speed"
    radius = diagram.radius or problem.motion.radius or "its radius"
    names = sorted({*names, speed, radius} - {"g", "G"})

    parts = [("inward" if axis == "inward" else "across", models.function(magnitude(problem, diagram, force) * part))
             for force in diagram.forces for axis, part in components(diagram, force)]  # fmt: skip

    def worked_out(values: dict[str, float]) -> list[float]:
        total = {"inward": -values[diagram.mass] * values[speed] ** 2 / values[radius], "across": 0.0}
        for side, size in parts:
            total[side] += size(values)
        return list(total.values())

    return tuple(names), worked_out


def the_diagram(problem: str, name: str) -> Diagram:
    """A diagram of the bank."""
    found = problems()[problem].diagram(name)
    assert found
    return found


@cache
def same(first: tuple[str, str], second: tuple[str, str]) -> bool:
    """Whether some renaming, of all there are, makes the sums of two diagrams equal at random numbers."""
    (names, one), (others, two) = (
        sums(problems()[problem], the_diagram(problem, name)) for problem, name in (first, second)
    )
    if len(names) != len(others):
        return False
    random = np.random.default_rng(7)
    trials = [dict(zip(others, random.uniform(0.3, 1.4, len(others)), strict=True)) for _ in range(2)]
    wanted = [two({**values, "g": 9.81, "G": 0.7}) for values in trials]
    return any(
        all(
            one({**dict(zip(names, (values[other] for other in order), strict=True)), "g": 9.81, "G": 0.7})
            == pytest.approx(sums_)
            for values, sums_ in zip(trials, wanted, strict=True)
        )
        for order in permutations(others)
    )


def test_each_row_matches_its_partner_and_no_other_column_by_all_renamings() -> None:
    # one story may be told in two problems: then it is one structure
    stories = {
        ToldStory(situation, scene).story: (situation.problem.id, situation.diagram.name)
        for group in alike(tuple(problems().values()))
        for situation in group
        for scene in situation.problem.scenes
    }
    items = made("match")
    assert len({each.asked.id for each in items}) >= 19
    for each in items:
        (entry,) = each.item.entries
        assert isinstance(entry, MatchEntry)
        assert (len(entry.rows), len(entry.columns)) == (3, 4)
        rows, columns = ([stories[words_of(told)] for told in side] for side in (entry.rows, entry.columns))
        assert len({words_of(told) for told in (*entry.rows, *entry.columns)}) == 7, each.item.question_id
        for row, partner in zip(rows, entry.partners, strict=True):
            fits = [same(row, column) for column in columns]
            assert fits == [place == partner for place in range(4)], each.item.question_id


def test_the_solution_of_a_match_tells_the_equation_in_letters_of_neither_story() -> None:
    for each in made("match"):
        last = each.item.solution[-1]
        assert last.number == len(each.item.solution)
        letters = {text(part.node) for line in last.paragraphs for part in line if isinstance(part, Math)}
        told = [one for one in letters if "=" in one]
        assert 1 <= len(told) <= 8
        assert all(one.endswith(("= m v²/r", "= 0", "= m a_t")) for one in told), told


def test_all_variants_of_a_stepwise_question_have_the_same_steps() -> None:
    """One of its scenes has no diagrams to choose from, so that no scene is asked to choose one."""
    solved = models.shipped("geostationary.height")
    (asked,) = item_models([solved], shipped_mistakes(), ("stepwise",))
    shapes = {(each.metadata.scene, tuple(map(type, each.entries))) for each in asked.draw(9, models.GRAVITY, 1)}
    assert len({scene for scene, _ in shapes}) > 1
    assert len({entries for _, entries in shapes}) == 1
