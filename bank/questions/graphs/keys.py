"""A choice between graphs: the right line and three that come from mistakes, chosen so that no look tells the key."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import TypeAlias

import sympy

from ...drawing.graph import draw_graph
from ...item.draw import lot
from ...item.drawing import Drawing
from ...item.formula import Node
from ...item.item import ChoiceEntry, Option, Paragraph, Step
from ...model.edit import Edit, NumericEdit, PlottedEdit, ReportEdit, ScalingEdit
from ...model.evaluation import evaluate
from ...model.mistake import Mistake
from ...model.problem import Scene
from ...quantities.unit_kinds import kind_of
from ...solving.solution import SolvedQuestion
from ...thinking.advice import told_in
from ...thinking.mistaken_forms import MistakenForm
from ...thinking.options import mixed, right, wrong
from ...writing.letters import head_and_tail, name_of, owned
from ...writing.notation import Notation
from ...writing.numeric_steps import power_law
from ...writing.plots import graph_words
from ...writing.plots.view import GraphView
from ...writing.stem import asked_name, filled
from ...writing.view import notation_of
from ..change_keys import OF_LENGTHS, held_in, of_quantity
from .beside import WRONG, MistakenLine, chosen_beside, chosen_key
from .lines import Line, Look, Span
from .varied import Varied, varied

FALLING = ((0.0, 0.95), (1.0, 0.1))  # a line that falls in equal steps
CUT_OFF = tuple((0.7 * step / 24, 0.9 * (1 - (step / 24) ** 2)) for step in range(25))  # and one that drops to the axis
RAISED = 0.5  # of its rise: how far above the origin a line begins that is thought to
LATER = 0.4  # of the axis: where a line begins that is thought to begin later


Lines: TypeAlias = tuple[Line, Sequence[MistakenLine]]  # the right one, and wrong ones


@dataclass(frozen=True)
class GraphQuestion:
    """The graph question of a solved question, if it has one: what is plotted follows from its first scene."""

    solved: SolvedQuestion
    catalogue: tuple[Mistake, ...]
    live: tuple[MistakenForm, ...]
    _known: dict[tuple[str, str], Lines | None] = field(default_factory=dict, repr=False, compare=False)

    @cached_property
    def asked(self) -> Varied | None:
        """What the graph is plotted against; None where nothing gives a clear line and three clear wrong ones."""
        scene = self.solved.problem.scenes_of(self.solved.question)[0]
        found = [(each, made[0]) for each in varied(self.solved) if (made := self._lines(each, scene))]
        return found[chosen_key([line.look for _, line in found], self._draw)][0] if found else None

    @property
    def _draw(self) -> str:
        return f"{self.solved.id} graph"

    def entry(self, scene: Scene) -> ChoiceEntry | None:
        """The choice in a scene; None where the scene's numbers show no clear lines."""
        made = self._made(scene)
        if not made or not self.asked:
            return None
        key, others = made
        options = [right(self._drawing(scene, key))]
        options += [self._wrong(scene, self._drawing(scene, each.line), each.mistake) for each in others]
        return ChoiceEntry(self._prompt(scene, self.asked), mixed(options, self._draw), shuffle=True)

    def step(self, scene: Scene) -> Step:
        """How the right graph follows from the closed form; the number of the step is given where it stands."""
        asked, made = self.asked, self._made(scene)
        assert asked and made
        notation, law = notation_of(self.solved.problem, scene), asked.law
        answer, letter = sympy.Symbol(self.solved.question.ask), sympy.Symbol(asked.symbol)
        power = power_law(law.moving, asked.symbol)
        said = graph_words.ONE_TERM if power is None else graph_words.PROPORTIONAL if power else graph_words.NOT_IN_IT
        if law.fixed is not None:
            said = graph_words.TWO_TERMS + (graph_words.OF_NO_POWER if power is None else graph_words.OF_A_POWER)
        row = law.moving if law.fixed is None else law.fixed + law.moving
        how = filled(
            f"{said}{graph_words.AGAINST_THE_SQUARE if asked.is_squared else ''}",
            asked=notation.symbol(answer.name),
            letter=notation.symbol(letter.name),
            moving=notation.node(law.moving),
            power=notation.node(letter ** (power or 1)),
            row=notation.equation(answer, row),
            square=notation.node(letter**2),
        )
        return Step(0, graph_words.HEADING, (how, filled(graph_words.THEREFORE, told=made[0].told)))

    # --- the lines ---

    def _made(self, scene: Scene) -> Lines | None:
        """The right line of a scene and the wrong ones that stand beside it."""
        found = self._lines(self.asked, scene) if self.asked else None
        if not found:
            return None
        key, others = found
        return key, chosen_beside(key.look, others, self._draw)

    def _lines(self, asked: Varied, scene: Scene) -> Lines | None:
        """The right line and all clear wrong ones, one for each look; None where there are too few."""
        of = (asked.name, scene.name)
        if of not in self._known:
            self._known[of] = self._found(asked, scene)
        return self._known[of]

    def _found(self, asked: Varied, scene: Scene) -> Lines | None:
        found = asked.span(self.solved, scene)
        if not found:
            return None
        span, key = found
        of_look: dict[Look, list[MistakenLine]] = {}
        for each in self._mistaken(asked, scene, span, key):
            if each.line.look != key.look:
                of_look.setdefault(each.line.look, []).append(each)
        # not always the first: the right curve would be steeper than that of the likeliest mistake
        others = [min(each, key=lambda one: lot(self._draw, one.mistake.id)) for each in of_look.values()]
        return (key, others) if len(others) >= WRONG else None

    def _mistaken(self, asked: Varied, scene: Scene, span: Span, key: Line) -> Iterator[MistakenLine]:
        """The lines of the mistaken forms, then those of loose thoughts about powers."""
        problem = self.solved.problem
        positive = problem.answer_spec(self.solved.question, scene).positive
        for form in self.live:
            if _is_of_letters(form):
                line = span.line(form.closed_form, positive=positive)
                if line:
                    yield MistakenLine(line, form.mistake)
        for mistake in problem.mistakes_from(self.catalogue):
            line = self._thought(asked, scene, span, key, mistake.edit)
            if line:
                yield MistakenLine(line, mistake)

    def _thought(self, asked: Varied, scene: Scene, span: Span, key: Line, edit: Edit) -> Line | None:
        """The line of a loose thought, about a power or about how the line goes; None for any other edit."""
        letter = sympy.Symbol(asked.symbol)
        if isinstance(edit, ScalingEdit) and edit.power is not None:
            is_length = kind_of(self.solved.problem.spec(asked.symbol, scene).unit) == "length"
            fits = is_length or edit.power not in OF_LENGTHS
            return span.line(letter**edit.power, positive=True) if fits else None
        return _otherwise(edit.way, asked, span, key) if isinstance(edit, PlottedEdit) else None

    # --- what is shown ---

    def _wrong(self, scene: Scene, drawing: Drawing, mistake: Mistake) -> Option:
        asked = self.asked
        assert asked
        if isinstance(mistake.edit, ScalingEdit | PlottedEdit):
            power, is_inside = asked.law.power, asked.law.is_turned
            told = of_quantity(self.solved, scene, asked.symbol, power, mistake, is_inside=is_inside)
            return wrong(drawing, told)
        return wrong(drawing, *told_in(self.solved, scene, [mistake]))

    def _drawing(self, scene: Scene, line: Line) -> Drawing:
        problem, asked = self.solved.problem, self.asked
        assert asked
        notation = notation_of(problem, scene)
        means = name_of(problem, scene, asked.symbol)
        return draw_graph(
            GraphView(
                across=self._across(notation, asked),
                up=notation.symbol(self.solved.question.ask),
                across_words=graph_words.ACROSS[asked.is_squared].format(means=means),
                up_words=asked_name(problem, self.solved.question, scene),
                points=line.points,
                told=line.told,
            )
        )

    def _across(self, notation: Notation, asked: Varied) -> Node:
        letter = sympy.Symbol(asked.symbol)
        return notation.node(letter**2 if asked.is_squared else letter)

    def _prompt(self, scene: Scene, asked: Varied) -> Paragraph:
        problem, question = self.solved.problem, self.solved.question
        notation = notation_of(problem, scene)
        means, tail = head_and_tail(name_of(problem, scene, asked.symbol))
        name, end = head_and_tail(owned(problem, scene, asked_name(problem, question, scene)))
        held, letters = held_in(self.solved, scene, (asked.symbol,))
        form = graph_words.ASKING[lot(self._draw, scene.name)[0] % len(graph_words.ASKING)]
        sentence = form.replace("{held}", graph_words.HELD.format(held=held) if letters else "")
        sentence = sentence.replace("{varied}", graph_words.SQUARED if asked.is_squared else graph_words.PLAIN)
        return filled(
            sentence,
            name=name,
            end=end,
            asked=notation.symbol(question.ask),
            means=means,
            tail=tail,
            letter=self._across(notation, asked),
            **letters,
        )


def _otherwise(way: str, asked: Varied, span: Span, key: Line) -> Line | None:
    """The line that is thought of in this way: one that falls straight, or the right one raised, or begun later."""
    if way == "falling-line":
        return Line(Look("above", "falls", "straight"), FALLING)
    if way == "cut-off":
        return Line(Look("above", "falls", "more"), CUT_OFF, ends_on_axis=True)
    if key.look.way != "rises":
        return None
    moving = asked.law.moving
    at = LATER if way == "threshold" else 1.0
    part = float(evaluate(moving, {**span.held, asked.symbol: at * span.end}))
    return span.line(moving + (-part if way == "threshold" else RAISED * abs(part)), positive=True)


def _is_of_letters(form: MistakenForm) -> bool:
    """Whether a mistake is made in letters, about the asked quantity, and not with a calculator or a unit."""
    edit = form.mistake.edit
    of_numbers = isinstance(edit, NumericEdit) and not edit.in_letters
    return not of_numbers and not isinstance(edit, ReportEdit) and not form.is_another_quantity
