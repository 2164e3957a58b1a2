"""Worked solutions and hints of the whole bank: of the diagram that is asked, only what is needed, no line skipped.

Each check gives what is wrong as a list of sentences; that it notices is shown on a planted fault.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache
from itertools import islice, pairwise
from typing import Any

import pytest
import sympy
from turnwright.bank.drawing.figure import draw_diagram
from turnwright.bank.item import formula
from turnwright.bank.item.drawing import Drawing
from turnwright.bank.item.item import Item, Math, Paragraph, SolutionDrawing, Step, Words
from turnwright.bank.model.problem import Diagram, ForceWords
from turnwright.bank.model.wording import agreeing
from turnwright.bank.questions.items import Generator
from turnwright.bank.questions.kinds import Kind
from turnwright.bank.questions.selection import item_models
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.bank.solving.solution import SolvedQuestion
from turnwright.bank.variants.variant import Variant, VariantPool
from turnwright.bank.writing import algebra, hints, solution
from turnwright.bank.writing.solution import Writer, asked_diagram
from turnwright.bank.writing.view import view_of

from tests.bank import models

SEEDS = (1, 2)
ABOUT_DIAGRAMS: tuple[Kind, ...] = ("direction", "forces", "diagram", "equation")


def text(paragraphs: Sequence[Paragraph]) -> str:
    """Paragraphs on lines of their own; formulas between braces."""
    return "\n".join("".join(map(_part, each)) for each in paragraphs)


def _part(part: Any) -> str:
    return part.text if hasattr(part, "text") else f"{{{formula.text(part.node)}}}"


def step(steps: Sequence[Step], stage: str) -> str:
    """What a step says; nothing where it is left out."""
    return next((text(each.paragraphs) for each in steps if each.stage == stage), "")


def pictures(steps: Sequence[Step], stage: str) -> list[Drawing]:
    """The drawings of a step."""
    parts = (part for each in steps if each.stage == stage for paragraph in each.paragraphs for part in paragraph)
    return [part.drawing for part in parts if isinstance(part, SolutionDrawing)]


def formulas(paragraphs: Sequence[Paragraph]) -> list[str]:
    """The formulas of some paragraphs that are equations."""
    found = [formula.text(part.node) for each in paragraphs for part in each if isinstance(part, Math)]
    return [each for each in found if " = " in each]


@cache
def variants() -> tuple[tuple[SolvedQuestion, Variant], ...]:
    """A variant for each scene of each question, from two seeds where the first does not have it early."""
    found = []
    for name in models.shipped_ids():
        solved = models.shipped(name)
        seen = set()
        for seed in SEEDS:
            for variant in VariantPool(solved, models.GRAVITY).draw_up_to(6, seed):
                if variant.scene.name not in seen:
                    seen.add(variant.scene.name)
                    found.append((solved, variant))
    return tuple(found)


def writers() -> Iterator[tuple[SolvedQuestion, Variant, Writer]]:
    """A new writer for each of them, for those who plant a fault."""
    return ((solved, variant, Writer(solved, variant.scene)) for solved, variant in variants())


@cache
def honest() -> tuple[tuple[SolvedQuestion, Variant, Writer], ...]:
    """Writers of which nothing is changed, each with what it has written."""
    return tuple(writers())


# --- the diagram that is asked ----------------------------------------------------------------


@cache
def of_kind(kind: Kind, seed: int) -> list[Item]:
    """The items of a kind in all scenes."""
    return [item for _, item in models.drawn(kind, seed)]


def of_another_diagram(items: Sequence[Item]) -> list[str]:
    """The items whose solution is not that of their diagram: place, agents and letters, from the problem file.

    A direction that needs no force is found without them.
    """
    told = []
    problems = {each.problem.id: each.problem for each in map(models.shipped, models.shipped_ids())}
    for item in items:
        problem = problems[item.metadata.problem]
        scene = next(each for each in problem.scenes if each.name == item.metadata.scene)
        diagram = problem.diagram(item.metadata.question.split("/")[0])
        assert diagram
        view = view_of(problem, diagram, scene)
        acting, *meanings = step(item.solution, "free body").splitlines() or [""]
        drawn = pictures(item.solution, "free body")
        named = {f"the {each.name} {{{formula.text(each.label)}}} exerted by {each.agent}" for each in view.forces}
        letters = {f"{{{formula.text(force.label)}}}" for force in view.forces}
        if not acting and item.metadata.kind == "direction":
            continue
        if any(each not in acting for each in named) or set(re.findall(r"\{.+?\}", acting)) != letters:
            told.append(f"{item.question_id} {scene.name}: {acting}")
        told_of, meanings = meanings[:1], meanings[1:]
        if drawn != [draw_diagram(view)] or told_of != [drawn[0].alternative]:
            told.append(f"{item.question_id} {scene.name}: another picture")
        if any(not each.startswith("Here ") for each in meanings) or not acting.startswith(f"Forces on {view.body}: "):
            told.append(f"{item.question_id} {scene.name}: {acting}")
        turning = step(item.solution, "acceleration")
        if turning and view.place.lower() not in turning.lower() and problem.motion.plane != "horizontal":
            told.append(f"{item.question_id} {scene.name}: not {view.place}")
    return told


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("kind", ABOUT_DIAGRAMS)
def test_a_question_about_a_diagram_has_the_solution_of_that_diagram(kind: Kind, seed: int) -> None:
    items = of_kind(kind, seed)
    assert len([each for each in items if step(each.solution, "free body")]) >= 40
    assert of_another_diagram(items) == []


def test_the_right_equation_stands_in_the_solution() -> None:
    items = of_kind("equation", 1)
    assert len(items) >= 40
    for item in items:
        (right,) = [each.content for each in item.entries[0].options if each.right]  # type: ignore[union-attr,misc]
        assert text([right]) in step(item.solution, "equations").splitlines(), item.question_id


def test_the_solution_of_the_first_question_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Planted: what items about a diagram had before, the steps of the question that they came with."""
    monkeypatch.setattr(Writer, "of_diagram", lambda self, diagram, stages: self.letters[:3])
    solved = [models.shipped(name) for name in models.shipped_ids()]
    items = [
        item
        for asked in item_models(solved, shipped_mistakes(), ("direction",))
        for item in asked.draw(9, models.GRAVITY, 1)
    ]
    assert len({each.split(" ")[0] for each in of_another_diagram(items)}) >= 20


def homes(solved: SolvedQuestion) -> list[Diagram]:
    """The diagrams of a body that moves in which the asked speed or force stands."""
    ask = solved.question.ask
    found = [each for each in solved.problem.diagrams if each.speed == ask or ask in {f.symbol for f in each.forces}]
    return [each for each in found if each.spot != "rest"]


def test_a_question_is_about_the_diagram_in_which_what_is_asked_lives() -> None:
    tried = 0
    for name in models.shipped_ids():
        solved = models.shipped(name)
        about = asked_diagram(solved)
        if solved.question.diagram:
            assert about == solved.problem.diagram(solved.question.diagram), name
        elif homes(solved):
            tried += 1
            assert about in homes(solved), name
    assert tried >= 20
    assert asked_diagram(models.shipped("loop-with-a-margin.speed-at-the-bottom")).name == "bottom"  # type: ignore[union-attr]


# --- only what is needed ----------------------------------------------------------------------


def stands_already(solved: SolvedQuestion) -> bool:
    """Whether one equation is all that is needed, and has the asked quantity alone on its left."""
    (first, *others) = solved.solution.path
    equation = solved.system.equations[first.origin] if first.origin >= 0 else None
    return bool(not others and equation and equation.left == sympy.Symbol(solved.question.ask) == first.left)


def wrong_in_steps(solved: SolvedQuestion, steps: Sequence[Step]) -> Iterator[str]:
    """Steps that are empty, badly numbered or of no use, and words that are no more used."""
    if [each.number for each in steps] != list(range(1, len(steps) + 1)):
        yield f"{solved.id}: numbered {[each.number for each in steps]}"
    stages = [each.stage for each in steps]
    worked = ["algebra", "numbers", "look back"][stands_already(solved) :]
    if stages[-len(worked) - 1 :] != ["equations", *worked] and stages[-len(worked) - 2 :] != [
        "equations", "limiting", *worked,
    ]:  # fmt: skip
        yield f"{solved.id}: {stages}"
    if "limiting" in stages and not (solved.question.limiting or solved.question.extra):
        yield f"{solved.id}: a condition that the answer does not need"
    used = {solved.system.equations[each.origin] for each in solved.solution.path if each.origin >= 0}
    forces = {each for each in used if each.diagram}
    shown = next(each for each in steps if each.stage == "equations")
    written = len(formulas([each for each in shown.paragraphs if len(each) == 1]))  # a law is told in a sentence
    if written != len([each for each in used if each.kind != "limiting"]):
        yield f"{solved.id}: {written} equations are set up, {len(used)} are used"
    if bool(forces) != ("free body" in stages):
        yield f"{solved.id}: {len(forces)} equations of forces, {stages}"
    for told in ("level circle", "are all.", "Nothing is", "size", "is not in the result", "grips with"):
        if told in "\n".join(text(each.paragraphs) for each in steps):
            yield f"{solved.id}: {told}"


def test_a_solution_has_the_steps_that_the_question_needs() -> None:
    found = [told for solved, variant, writer in honest() for told in wrong_in_steps(solved, writer.steps(variant))]
    assert found == []


def test_a_needless_step_and_a_needless_equation_are_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Planted: an empty step stays, and every equation of a diagram is set up."""
    solved = models.shipped("smooth-bank.normal-force")
    variant = next(iter(VariantPool(solved, models.GRAVITY).draw_up_to(1, 1)))
    writer = Writer(solved, variant.scene)
    assert list(wrong_in_steps(solved, writer.steps(variant))) == []
    *first, numbers, back = writer.steps(variant)
    kept = (*first, replace(numbers, number=numbers.number + 1), replace(back, number=back.number + 1))
    assert any("numbered" in each for each in wrong_in_steps(solved, kept))
    honest = Writer._newton
    monkeypatch.setattr(Writer, "_newton", lambda self, diagrams, alone: honest(self, diagrams, alone=True))
    assert any("are set up" in each for each in wrong_in_steps(solved, Writer(solved, variant.scene).steps(variant)))


def test_what_numbers_on_paper_are_worth_is_what_has_to_be_set_up() -> None:
    """Where nothing is at a limit, and no limit is there to be mistaken for one, there is no step for it.

    What comes after is worth the same.
    """
    for name, limiting in (("smooth-bank.normal-force", []), ("rough-bank-fast.friction", ["limiting"])):
        solved = models.shipped(name)
        variant = next(iter(VariantPool(solved, models.GRAVITY).draw_up_to(1, 1)))
        assert [each.stage for each in Writer(solved, variant.scene).steps(variant)] == [
            "acceleration", "free body", "equations", *limiting, "algebra", "numbers", "look back",
        ]  # fmt: skip
    solved = models.shipped("geostationary.height")
    variant = next(iter(VariantPool(solved, models.GRAVITY).draw_up_to(1, 1)))
    assert [each.heading for each in Writer(solved, variant.scene).steps(variant)] == [
        "Direction of the acceleration", "Force diagram", "Net force = mass × acceleration",
        "Algebra", "Substitution", "Check of the expression",
    ]  # fmt: skip


# --- no line skipped --------------------------------------------------------------------------


def skipped(solved: SolvedQuestion, steps: Sequence[Step]) -> Iterator[str]:
    """The lines after something was put in that have a tangent which no line before them had."""
    lines = [
        line for each in steps if each.stage in ("equations", "algebra") for line in text(each.paragraphs).split("\n")
    ]
    for place, (before, line) in enumerate(pairwise(lines)):
        if before.startswith("Substitute ") and "tan" in line and not any("tan" in each for each in lines[:place]):
            yield f"{solved.id}: {line}"


def test_no_tangent_comes_from_nowhere() -> None:
    assert [told for solved, _, writer in honest() for told in skipped(solved, writer.letters)] == []


def test_a_division_that_is_not_shown_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(algebra.AlgebraWriter, "_divided", lambda *_: iter(()))
    found = {told for solved, _, writer in writers() for told in skipped(solved, writer.letters)}
    assert len(found) >= 15


def test_the_rough_bank_shows_the_division_by_the_cosine() -> None:
    solved = models.shipped("rough-bank-fast.greatest-speed")
    told = step(Writer(solved, solved.problem.scenes[0]).letters, "algebra").splitlines()
    assert told[4:8] == [
        "Substitute for {f} and {F_N} in the radial equation:",
        "{m g (sin θ + μ cos θ)/(cos θ − μ sin θ) = m v²/r}",
        "Divide the numerator and the denominator by {cos θ}:",
        "{m g (μ + tan θ)/(1 − μ tan θ) = m v²/r}",
    ]


# --- hints ------------------------------------------------------------------------------------


def letters(text: str) -> set[str]:
    """The letters of a formula."""
    return set(re.findall(r"[A-Za-zθωμφ](?:_[A-Za-z0-9]+)?", re.sub("sin|cos|tan", "", text)))


def wrong_in_hints(solved: SolvedQuestion, writer: Writer) -> Iterator[str]:
    """Gravity that does not act, an equation that is not the first one used, the answer, one thing told twice."""
    first, *more = [text([each]) for each in writer.hints]
    names = {solved.system.equations[each.origin].diagram for each in solved.solution.path if each.origin >= 0}
    used = [each for each in solved.problem.diagrams if each.name in names]
    gravity = any(force.law == "weight" for each in used for force in each.forces)
    if "weight" in first or gravity != ("gravity" in first):
        yield f"{solved.id}: {first}"
    for diagram in used:
        shown = [writer.scene.forces[force.role] for force in diagram.forces if force.law is None]
        if any(each.by not in first for each in shown):
            yield f"{solved.id}: not all that is touched: {first}"
    told = [each.split(": ", 1)[1].partition(". Here ")[0].strip("{}.") for each in more]
    meant = set(re.findall(r"{(\S+)} is the ", "\n".join(more)))
    leads = (hints.START, hints.NEXT, hints.AS_WELL)  # another lead says in words what stands on the left
    meant |= {
        one
        for each, row in zip(more, told, strict=True)
        if not each.startswith(leads)
        for one in letters(row.partition(" = ")[0])
    }
    shown = " ".join(re.findall(r": {(.+?)}(?:\.|$)", "\n".join(more), re.MULTILINE))
    unknown = letters(shown) - meant
    if unknown:
        yield f"{solved.id}: letters without meaning: {sorted(unknown)}"
    if len({first, *told}) != 1 + len(told):
        yield f"{solved.id}: told twice: {told}"
    lines = formulas([part for each in writer.letters if each.stage == "algebra" for part in each.paragraphs])
    symbol = sympy.Symbol(solved.solution.ask)
    closed = formula.text(writer.notation.equation(symbol, solved.solution.closed_form))
    if {*lines[-1:], closed} & set(told):
        yield f"{solved.id}: tells the answer: {told}"
    start = solved.solution.path[0].origin
    if told and start >= 0:
        equation = solved.system.equations[start]
        if told[0] != formula.text(writer.notation.equation(equation.terms, equation.right)):
            yield f"{solved.id}: starts from {told[0]}"
    if len(told) > 1 and told[1] != lines[0]:
        others = (solved.system.equations[each.origin] for each in solved.solution.path[1:] if each.origin >= 0)
        if told[1] not in {formula.text(writer.notation.equation(each.terms, each.right)) for each in others}:
            yield f"{solved.id}: {told[1]} is neither the next line nor an equation that is used"
    if len(told) > 1 and letters(told[1]) <= letters(told[0]) and told[1] == lines[0]:
        yield f"{solved.id}: {told[1]} says no more than {told[0]}"


def test_hints_say_what_acts_and_how_it_starts_and_never_the_answer() -> None:
    assert [told for solved, _, writer in honest() for told in wrong_in_hints(solved, writer)] == []


def test_most_questions_have_several_hints() -> None:
    """Fewer hints rather than bad ones, but not none."""
    counts = [len(writer.hints) for _, _, writer in honest()]
    assert set(counts) == {1, 2, 3}
    assert sum(each > 1 for each in counts) > 0.8 * len(counts)


@pytest.mark.parametrize("fault", ["weight", "start", "answer", "letters", "rearranged"])
def test_a_bad_hint_is_noticed(fault: str, monkeypatch: pytest.MonkeyPatch) -> None:
    if fault == "weight":
        monkeypatch.setattr(hints, "_diagram", lambda *_: "Draw the weight first, then all that touches it.")
    elif fault == "start":
        monkeypatch.setattr(
            hints, "_start", lambda solved, notation: notation.equation(sympy.Symbol("F"), sympy.Symbol("a"))
        )
    elif fault == "letters":
        monkeypatch.setattr(hints, "introduced", lambda *_: ())
    elif fault == "rearranged":
        monkeypatch.setattr(
            hints, "_after", lambda solved, notation, start, algebra: (hints.NEXT, algebra[0] if algebra else None)
        )
    else:
        monkeypatch.setattr(hints, "_too_much", lambda *_: set())
    some = islice(writers(), 0, None, 4)
    found = [told for solved, _, writer in some for told in wrong_in_hints(solved, writer)]
    says = {
        "weight": "weight first", "start": "starts from", "answer": "tells the answer", "letters": "without meaning",
        "rearranged": "says no more",
    }[fault]  # fmt: skip
    assert len([each for each in found if says in each]) >= 5


# --- agreement --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("by", "acts", "verb"),
    [
        ("the chain", "pulls", "pulls"),
        ("the chains", "pulls", "pull"),
        ("the chains of the swing", "pulls", "pull"),
        ("the side of the tubes", "pushes", "pushes"),
        ("the planet Mars", "pulls", "pulls"),
        ("the glass", "pushes", "pushes"),
        ("the wires", "holds", "hold"),
        ("the tyres", "grips", "grip"),
    ],
)
def test_a_verb_agrees_with_its_agent(by: str, acts: str, verb: str) -> None:
    assert agreeing(ForceWords("tension", "F", by, acts)) == verb


def test_an_agent_in_the_plural_exerts_its_force_in_the_solution() -> None:
    solved = models.shipped("chair-ride.tension")
    scene = solved.problem.scenes[0]
    told = replace(scene, forces={"contact": replace(scene.forces["contact"], by="the chains")})
    told_forces = step(Writer(solved, told).letters, "free body")
    assert re.search(r"the tension \{\S+\} exerted by the chains", told_forces)


def test_the_words_of_a_paragraph_are_read() -> None:
    """The reader of this test, on a paragraph of its own."""
    assert text([(Words("a "), Math(formula.Symbol("F", "N")))]) == "a {F_N}"
    assert solution.HEADINGS["equations"] == "Net force = mass × acceleration"


def test_no_hint_says_the_same_of_two_bodies_twice() -> None:
    """The two ions of a draft: what acts on each is asked once."""
    solved = models.shipped("isotopes.separation")
    (variant,) = VariantPool(solved, models.GRAVITY).draw_up_to(1, 1)
    first = text([Generator(solved).item(variant, 1).hints[0]])
    assert re.match(
        r"Nothing touches the \S+ ion or the \S+ ion\. Only the magnetic force .* acts on each of them\. Which", first
    )


# --- formulas read aloud --------------------------------------------------------------------------

_NOT_SAID = re.compile(r",\s*[,.]|\s,|  |,$|^$")  # two pauses at once, a pause at the end, nothing


def badly_read(writer: Writer, variant: Variant) -> Iterator[str]:
    """Readings of formulas that stumble."""
    shown = [each for one in writer.steps(variant) for each in one.paragraphs] + list(writer.hints)
    for node in dict.fromkeys(part.node for each in shown for part in each if isinstance(part, Math)):
        if _NOT_SAID.search(said := formula.spoken(node)):
            yield said


def test_no_reading_of_a_formula_stumbles() -> None:
    assert [told for _, variant, writer in honest() for told in badly_read(writer, variant)] == []


def test_two_ends_that_follow_each_other_have_one_pause_between() -> None:
    """Planted beside it: an end that is told with its own pause, as where the inner one has it already."""
    half = formula.Fraction(formula.Row((formula.Symbol("g"), formula.Symbol("r"))), formula.Symbol("v"))
    nested = formula.Root(formula.Fraction(formula.Symbol("T"), formula.Root(half)))
    said = formula.spoken(nested)
    assert said.endswith("g times r over v, end of fraction, end of root, end of fraction, end of root")
    assert _NOT_SAID.search(said) is None
    assert _NOT_SAID.search(said.replace(", end", ",, end"))
