"""Items without numbers: every letter is introduced, and what sets a place, a limit or a condition is carried over."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import cache

import pytest
from turnwright.bank.item import formula
from turnwright.bank.item.item import ChoiceEntry, Item, Math, NumberEntry, OrderEntry, Paragraph, Words
from turnwright.bank.model.problem import Problem, Question, Scene
from turnwright.bank.model.wording import pieces, word
from turnwright.bank.questions import of_question
from turnwright.bank.questions.kinds import Kind
from turnwright.bank.questions.of_question import QuestionModels
from turnwright.bank.questions.selection import item_models
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.bank.solving.solution import SolvedQuestion
from turnwright.bank.writing import letters

from tests.bank import models

STEPS = {1: 1, 2: 4}  # seed: the whole bank under the first one, each so many-th question under the others
LETTERS = re.compile(r"[A-Za-zθωμφαβπΔ]+(?:_[A-Za-z0-9]+)?")
FUNCTIONS = {"sin", "cos", "tan", "π"}
IN_LETTERS: tuple[Kind, ...] = ("expression", "change", "limit", "rank")


def drawn(kind: Kind, seed: int, step: int = 1) -> list[Item]:
    """The items of a kind in all scenes, from the whole bank or from each ``step``-th question."""
    solved = [models.shipped(name) for name in models.shipped_ids()[::step]]
    found = item_models(solved, shipped_mistakes(), (kind,))
    return [item for asked in found for item in asked.draw(3 if kind == "stepwise" else 9, models.GRAVITY, seed)]


@cache
def made(kind: Kind, seed: int, step: int = 1) -> list[Item]:
    """The same, made once for all tests that plant nothing."""
    return [item for _, item in models.drawn(kind, seed, step)]


def met(paragraphs: Sequence[Paragraph]) -> set[str]:
    """The letters in the formulas of some paragraphs, read off their text."""
    nodes = [part.node for each in paragraphs for part in each if isinstance(part, Math)]
    told = [formula.text(each) for each in nodes if not isinstance(each, formula.UnitNode)]
    return {each for text in told for each in LETTERS.findall(text)} - FUNCTIONS


def options(item: Item) -> Iterator[Paragraph]:
    for entry in item.entries:
        if isinstance(entry, ChoiceEntry):
            yield from (each.content for each in entry.options if isinstance(each.content, tuple))
        elif isinstance(entry, OrderEntry):
            yield from entry.options


def without_meaning(items: Sequence[Item]) -> list[str]:
    """The items with letters among their options that neither stem nor prompt has, or that it has without a word."""
    told = []
    for item in items:
        prompts = [each.prompt for each in item.entries if not isinstance(each, NumberEntry)]
        unknown = met(list(options(item))) - met([*item.stem, *prompts])
        bare = [each for each in alone((*item.stem, *prompts)) if met([each])]
        if unknown or bare:
            told.append(f"{item.question_id} {item.metadata.scene}: {sorted(unknown)} {bare}")
    return told


def alone(paragraphs: Sequence[Paragraph]) -> Iterator[Paragraph]:
    """Paragraphs that are a formula and nothing else: no word says what it is."""
    return (each for each in paragraphs if not any(isinstance(part, Words) for part in each))


@pytest.mark.parametrize("seed", STEPS)
@pytest.mark.parametrize("kind", [*IN_LETTERS, "equation"])
def test_every_letter_among_the_options_is_introduced(kind: Kind, seed: int) -> None:
    items = made(kind, seed, STEPS[seed])
    assert len(items) >= 20
    assert without_meaning(items) == []


def test_every_letter_in_the_parts_of_a_stepwise_item_is_introduced() -> None:
    assert len(made("stepwise", 1, 5)) >= 40
    assert without_meaning(made("stepwise", 1, 5)) == []


@pytest.mark.parametrize("kind", ["expression", "equation", "stepwise"])
def test_a_letter_without_meaning_is_noticed(kind: Kind, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(of_question, "introduced", lambda *_: ())
    assert len(without_meaning(drawn(kind, 1, 9))) >= 20


@pytest.mark.parametrize("kind", ["expression", "rank"])
def test_a_stem_that_is_the_story_alone_is_noticed(kind: Kind, monkeypatch: pytest.MonkeyPatch) -> None:
    """Planted: what these items said before, so that cases and expressions had letters and no word on them."""
    monkeypatch.setattr(
        of_question,
        "stem_in_letters",
        lambda _, scene, *more: letters.story_alone(scene),
    )
    monkeypatch.setattr(of_question, "introduced", lambda *_: ())
    items = drawn(kind, 1, 5)
    assert kind == "rank" or len(without_meaning(items)) >= 20  # what asks for the order names the letters of the cases
    assert len(lost(items)) >= 20


def test_no_letter_is_introduced_by_itself() -> None:
    """``Here F is F``: what each letter stands for, in words."""
    seen = set()
    for kind in ("expression", "equation"):
        for item in made(kind, 1):
            for paragraph in item.stem[1:]:
                for symbol, told in zip(paragraph[1::2], paragraph[2::2], strict=True):
                    assert isinstance(symbol, Math)
                    assert isinstance(told, Words)
                    name = re.fullmatch(r" is the (.+?)(?:, | and |\.)", told.text)
                    assert name, (item.question_id, told.text)
                    assert len(name[1]) > 3, (item.question_id, told.text)
                    assert "{" not in name[1], (item.question_id, told.text)
                    seen.add(name[1])
    assert len(seen) >= 40


def told_twice(items: Iterable[Item]) -> list[str]:
    """Stepwise items whose stem names the letter of the answer in its asking, and says once more what it is."""
    return [
        item.question_id
        for item in items
        if any(isinstance(part, Math) and part.node == item.entries[-1].symbol for part in item.stem[0])  # type: ignore[union-attr]
        and any(Math(item.entries[-1].symbol) in each for each in item.stem[1:])  # type: ignore[union-attr]
    ]


def test_no_stem_says_twice_what_the_letter_of_its_answer_is() -> None:
    assert told_twice(made("stepwise", 1, 5)) == []


def test_a_letter_that_is_told_twice_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Planted: what the stem has told is forgotten."""
    made_from = QuestionModels._asked_letter
    monkeypatch.setattr(QuestionModels, "_asked_letter", lambda self, scene, told=(): made_from(self, scene))
    assert told_twice(drawn("stepwise", 1, 9))


# --- what is carried over ---------------------------------------------------------------------


def told_by(question: Question, scene: Scene) -> list[list[str]]:
    """The words of each sentence of a stem but the last, between the gaps of its values."""
    sentences: list[list[str]] = [[""]]
    for piece in pieces(question.stem):
        text = piece if isinstance(piece, str) else word(piece, scene)
        if text is None or (not isinstance(piece, str) and not piece.mode and piece.name in question.given):
            sentences[-1].append("")
            continue
        first, *more = re.split(r"(?<=[.?!]) (?=[A-Z]|$)", text)
        sentences[-1][-1] += first
        sentences += [[each] for each in more]
    return sentences[:-1]


def lost(items: Sequence[Item]) -> list[str]:
    """The items that leave out a sentence of their question, or a given value that only its last sentence has."""
    told = []
    for item in items:
        solved = question_of(item)
        scene = next(each for each in solved.problem.scenes if each.name == item.metadata.scene)
        text = " ".join(part.text for part in item.stem[0] if isinstance(part, Words))
        for sentence in told_by(solved.question, scene):
            words = [each for part in sentence for each in re.findall(r"[\w']+", part) if each != "of"]
            if not all(each in re.findall(r"[\w']+", text) for each in words):
                told.append(f"{item.question_id} {scene.name}: {sentence}")
        shown = sum(isinstance(part, Math) for part in item.stem[0])
        if shown < len(set(solved.question.given)):
            told.append(f"{item.question_id} {scene.name}: {shown} of {solved.question.given}")
    return told


def question_of(item: Item) -> SolvedQuestion:
    return models.shipped(f"{item.metadata.problem}.{item.metadata.question.split('/')[0]}")


@pytest.mark.parametrize("seed", STEPS)
@pytest.mark.parametrize("kind", IN_LETTERS)
def test_every_sentence_of_the_question_is_carried_over(kind: Kind, seed: int) -> None:
    assert lost(made(kind, seed, STEPS[seed])) == []


def test_a_condition_in_the_asking_sentence_is_carried_over() -> None:
    """Where a question asks for a limit, what limit it is stands in the item, not only that it is the greatest."""
    tried = 0
    for item in (*made("expression", 1), *made("change", 1)):
        solved = question_of(item)
        asking = re.split(r"(?<=[.?!]) ", solved.question.stem)[-1]
        clause = re.search(r"\b(?:for|at|with|in) which (.+)[.?]", asking)
        if clause and solved.question.limiting:
            tried += 1
            told = (*item.stem, *(each.prompt for each in item.entries if not isinstance(each, NumberEntry)))
            last = " ".join(part.text for paragraph in told for part in paragraph if isinstance(part, Words))
            plain = re.findall(r"[\w’'-]+", re.sub(r"\{.*?\}", "", clause[1]))
            assert set(plain) <= set(re.findall(r"[\w’'-]+", last)), (item.question_id, last)
    assert tried >= 20


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("round-the-circle-high.contact-force", "The normal force at this point is F_N."),
        ("two-loads-on-one-cord.greatest-rate", "The inner disc, of mass m_1, is a distance r_1 from the peg."),
        ("smooth-bank.speed", "The bend is banked at an angle θ to the horizontal, and the radius of the circle is r."),
        ("big-wheel.force-at-the-top", "The rider has a mass m and moves in a circle of radius r with a period T."),
        ("weighing-a-planet.field", "Io completes an orbit of radius r_1 in a time T_1."),
        ("level-with-the-centre.mass-from-force", "At this point, the track exerts a normal force F_N on the toy car."),
        ("conical-pendulum.period", "The cord has a length L and makes an angle θ with the vertical."),
    ],
)
def test_a_stem_in_letters_reads_as_a_textbook_prints_it(name: str, told: str) -> None:
    solved = models.shipped(name)
    stems = []
    for scene in solved.problem.scenes:
        notation = of_question.QuestionModels(solved, ()).generator.notation(scene)
        stem = letters.stem_in_letters(solved, scene, notation)
        stems.append("".join(each.text if isinstance(each, Words) else formula.text(each.node) for each in stem))  # type: ignore[union-attr]
    assert any(told in each for each in stems), stems


def test_a_force_that_may_act_either_way_is_introduced_with_its_positive_way() -> None:
    """The rod pushes or pulls; without a word on the sign, two equations would be right."""
    for name, told in (("over-on-a-rod.top-from-bottom", True), ("over-on-a-cord.pull-at-the-top", False)):
        problem = models.shipped(name).problem
        symbols = {force.symbol for diagram in problem.diagrams for force in diagram.forces if force.symbol}
        assert any(letters.sense_of(problem, symbol) for symbol in symbols) is told, name


@pytest.mark.parametrize("unit", [", in revolutions per minute (r/min), at which it slips.", " in r/min."])
def test_a_stem_in_letters_names_no_unit(unit: str) -> None:
    assert "r/min" not in letters._UNIT.sub("", f"Calculate the angular speed{unit}")


# --- the letters of the solution ----------------------------------------------------------------

OF_DIAGRAM: tuple[Kind, ...] = ("direction", "diagram", "forces", "equation")
UNSAID = re.compile(r"\b(for|of|by|in|at|to|from|that|if|and|with|in units of|proportional to|the)\s*$|[:=]\s*$")


def unsaid(item: Item) -> list[str]:
    """The letters in hints and solution that nothing says the meaning of, before them or in their step."""
    prompts = [each.prompt for each in item.entries if not isinstance(each, NumberEntry)]
    known = met([*item.stem, *prompts, *options(item)])
    found = [formula.text(part.node) for hint in item.hints for part in hint if isinstance(part, Math)]
    found = [each for text in found for each in LETTERS.findall(text) if each not in FUNCTIONS | known]
    found = [each for each in found if each not in named(item.hints)]
    for step in item.solution:
        new = met(step.paragraphs) - known
        found += new - named(step.paragraphs)
        known |= new
    return found


def named(paragraphs: Sequence[Paragraph]) -> set[str]:
    """The letters that stand alone after a noun, or before "is the": the tension F; here v is the speed."""
    told = set()
    for paragraph in paragraphs:
        for place, part in enumerate(paragraph):
            before, after = (paragraph[at] if 0 <= at < len(paragraph) else None for at in (place - 1, place + 1))
            if not isinstance(part, Math) or not isinstance(part.node, formula.Symbol):
                continue
            noun = isinstance(before, Words) and not UNSAID.search(before.text)
            if noun or (isinstance(after, Words) and after.text.startswith(" is the ")):
                told.add(formula.text(part.node))
    return told


@pytest.mark.parametrize("kind", [*IN_LETTERS, *OF_DIAGRAM])
def test_every_letter_of_a_solution_without_numbers_has_its_meaning(kind: Kind) -> None:
    found = [f"{item.question_id} {item.metadata.scene}: {unsaid(item)}" for item in made(kind, 1) if unsaid(item)]
    assert not found, found[:5]


def test_a_solution_that_says_no_meanings_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    """Planted: the solution as it is in a question with numbers, which are given with their letters."""
    monkeypatch.setattr(of_question, "with_meanings", lambda steps, *_: steps)
    (item, *_) = drawn("expression", 1, 60)
    assert {"m", "v"} & set(unsaid(item)) or "ω" in unsaid(item)


# the letters that everyone uses for what they stand for; the letter of any other answer box is named by its stem
USUAL = {
    "v",
    "r",
    "m",
    "M",
    "T",
    "F",
    "N",
    "f",
    "a",
    "omega",
    "theta",
    "phi",
    "mu",
    "g",
    "h",
    "d",
    "L",
    "R",
    "q",
    "B",
    "t",
}


def unnamed(problem: Problem) -> list[str]:
    """The questions whose answer box has a letter that is not the usual one and that no stem names."""
    letters = {each.name: each.ask for each in problem.questions}
    differences = {name for name, spec in problem.quantities.items() if spec.means.startswith("difference")}
    return [
        each.name
        for each in problem.questions
        if letters[each.name] not in USUAL - differences and f"{{symbol {each.ask}}}" not in each.stem
    ]


def test_a_stem_names_the_letter_of_its_answer_box() -> None:
    for problem in models.shipped_problems().values():
        assert unnamed(problem) == [], problem.id


def test_a_letter_that_no_stem_names_is_noticed() -> None:
    problem = models.shipped_problems()["rim-and-hub"]
    asked = problem.question("inner-speed")
    bare = replace(asked, stem=asked.stem.replace(" {symbol v_2}", ""))
    assert unnamed(replace(problem, questions=(bare,))) == ["inner-speed"]
