"""A question about measured values: the table, what is asked, its key from the printed numbers, and the line drawn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import TypeAlias

import sympy

from ...drawing.data_plot import draw_data
from ...item.formula import Node, Operator, Row, equals, replaced
from ...item.formula import Symbol as Letter
from ...item.item import Given, Math, NumberEntry, Paragraph, SolutionDrawing, Step, ValueTable, Words
from ...language import capital, listed
from ...model.problem import Scene
from ...quantities.quantity import Quantity, from_float, half_unit, round_figures
from ...quantities.unit_kinds import working_unit
from ...quantities.units import product
from ...solving.solution import SolvedQuestion
from ...writing.letters import head_and_tail, name_of, owned
from ...writing.notation import Notation, amount, as_a_factor
from ...writing.numeric_steps import conversions, working
from ...writing.plots import data_words
from ...writing.plots.view import DataView
from ...writing.stem import asked_name, electronvolts, filled
from ...writing.view import notation_of, view_of
from ..fixed import is_of_the_world
from .straight import SLOPE, straight_lines
from .table import SCATTER, MeasuredTable, measured

TableOf: TypeAlias = tuple[str, Decimal, int]  # the scene, g, the seed
BY_HAND = Decimal("0.05")  # of the key: what drawing a line by hand may be off (common practice, no source)
FIGURES = 4  # of what is worked out on the way
TOLERANCE_FIGURES = 3


@dataclass(frozen=True)
class DataQuestion:
    """The question about measured values that a solved question gives, if it gives one."""

    solved: SolvedQuestion
    _known: dict[TableOf, MeasuredTable | None] = field(default_factory=dict, repr=False, compare=False)

    def table(self, scene: Scene, gravity: Decimal, seed: int) -> MeasuredTable | None:
        """The table of a scene under a seed; None where it has none, and in a scene where nobody can measure."""
        if scene.is_imagined:
            return None
        of = (scene.name, gravity, seed)
        if of not in self._known:
            draw = f"{self.solved.id} {scene.name} {seed} data"
            tables = (measured(self.solved, each, scene, gravity, draw) for each in straight_lines(self.solved))
            self._known[of] = next((each for each in tables if each), None)
        return self._known[of]

    def entry(self, scene: Scene, made: MeasuredTable) -> NumberEntry:
        """The number that is asked for, from the least-squares line through the printed numbers."""
        problem, wanted = self.solved.problem, made.line.wanted
        spec = problem.spec(wanted, scene)
        exact = made.wanted / spec.unit.factor
        figures = _figures(exact)
        key = round_figures(from_float(exact), figures)
        return NumberEntry(
            symbol=notation_of(problem, scene).symbol(wanted),
            name=name_of(problem, scene, wanted),
            key=key,
            exact=exact,
            half_width=round_figures(abs(key) * BY_HAND + half_unit(key, figures), TOLERANCE_FIGURES),
            unit=spec.unit.in_text,
            figures=figures,
        )

    def setting(self, scene: Scene, made: MeasuredTable) -> Paragraph:
        """What is measured, at the end of the stem."""
        problem, question, notation = self.solved.problem, self.solved.question, notation_of(self.solved.problem, scene)
        name, end = head_and_tail(owned(problem, scene, asked_name(problem, question, scene)) + self._on_what(scene))
        means, tail = head_and_tail(name_of(problem, scene, made.line.symbol))
        return filled(
            data_words.MEASURED,
            name=name,
            asked=notation.symbol(question.ask),
            end=end,
            means=means,
            letter=notation.symbol(made.line.symbol),
            tail=tail,
        )

    def _on_what(self, scene: Scene) -> str:
        """On which body, and where, a contact force acts that is called by no more than its kind."""
        problem, ask = self.solved.problem, self.solved.question.ask
        plain = asked_name(problem, self.solved.question, scene)
        for diagram in problem.diagrams:
            shown = next((scene.forces.get(each.role) for each in diagram.forces if each.symbol == ask), None)
            if shown and shown.acts == "pushes" and shown.name == plain:
                view = view_of(problem, diagram, scene)
                return f" on {view.body}" + (f" {view.place}" if problem.motion.plane == "vertical" else "")
        return ""

    def told(self, scene: Scene, made: MeasuredTable) -> list[Paragraph]:
        """The known values, the table, how good it is, and what is asked."""
        problem, notation = self.solved.problem, notation_of(self.solved.problem, scene)
        asked = notation.symbol(self.solved.question.ask)
        used = made.line.slope.free_symbols
        known = [name for name in made.told if sympy.Symbol(name) in used and name != "g"]
        parts: list[Paragraph] = list(self._unchanged(scene, made, known))
        if known:
            held = listed(f"{{{name}}} = {{value_{name}}}" for name in known)
            gaps: dict[str, Node | Given] = {name: notation.symbol(name) for name in known}
            gaps |= {f"value_{name}": _printed(name, made.told[name]) for name in known}
            parts.append(filled(data_words.HELD.format(held=held), **gaps))
        units = [column[0].unit for column in (made.across, made.up)] + [made.told[name].unit for name in known]
        units.append(problem.spec(made.line.wanted, scene).unit)
        parts += [(Math(each), Words(".")) for each in electronvolts(units)]
        percent = f"{100 * SCATTER:g}"
        parts += [filled(data_words.SCATTER.replace("{percent}", percent), asked=asked), (self._table(notation, made),)]
        name, end = head_and_tail(name_of(problem, scene, made.line.wanted))
        parts.append(filled(data_words.ASKING, name=name, end=end, wanted=notation.symbol(made.line.wanted)))
        if sympy.Symbol("g") in used:
            parts.append(filled("Take {g} = {value}.", g=notation.symbol("g"), value=_printed("g", made.told["g"])))
        return parts

    def _unchanged(self, scene: Scene, made: MeasuredTable, known: Sequence[str]) -> Iterator[Paragraph]:
        """What else stays as it is, told or not, unless it is a fact of the world."""
        problem, notation = self.solved.problem, notation_of(self.solved.problem, scene)
        told = {*made.told, made.line.wanted} - {*known, "g"}
        letters = sorted(each.name for each in made.line.row.free_symbols if each.name in told)
        kept = [each for each in letters if not is_of_the_world(self.solved, scene, each)]
        if not kept:
            return
        named = [head_and_tail(name_of(problem, scene, each)) for each in kept]
        said = listed(f"the {head} {{{each}}}{tail}" for each, (head, tail) in zip(kept, named, strict=True))
        text = data_words.UNCHANGED[min(len(kept), 2)].format(Kept=capital(said))
        yield filled(text, **{each: notation.symbol(each) for each in kept})

    def _table(self, notation: Notation, made: MeasuredTable) -> ValueTable:
        names = (made.line.symbol, self.solved.question.ask)
        columns = (made.across, made.up)
        heads = tuple(_head(notation.symbol(name), column) for name, column in zip(names, columns, strict=True))
        rows = zip(*columns, strict=True)
        return ValueTable(heads, tuple(tuple(Given("", each.number, "") for each in row) for row in rows))

    def steps(self, scene: Scene, made: MeasuredTable) -> tuple[Step, Step]:
        """What to plot with the line drawn, and what follows from its slope; they are numbered where they stand."""
        notation, line = notation_of(self.solved.problem, scene), made.line
        answer, letter = sympy.Symbol(self.solved.question.ask), sympy.Symbol(line.symbol)
        up, across = notation.node(answer**line.up), notation.node(letter**line.across)
        spec = self.solved.problem.spec(line.wanted, scene)
        xs, ys = made.points
        slope, intercept = made.fit
        right, upwards = (product(each).in_text for each in made.powers)
        points = tuple(zip(xs.tolist(), ys.tolist(), strict=True))
        view = DataView(across, up, right, upwards, points, slope, intercept)
        exact = made.wanted / spec.unit.factor
        wanted = Quantity(round_figures(from_float(exact), _figures(exact)), spec.unit, _figures(exact))
        fitted = data_words.FITTED_FROM_ORIGIN if line.is_through_origin else data_words.FITTED
        through = data_words.ORIGIN if line.is_through_origin else data_words.BESIDE
        drawn: tuple[Paragraph, ...] = (
            filled(data_words.LAW, row=equals(up, notation.node(line.row)), up=up, across=across, line=through),
            filled(data_words.SLOPE, slope=notation.node(line.slope)),
            *_converted(notation, made, (line.symbol, self.solved.question.ask)),
            (SolutionDrawing(draw_data(view)),),
        )
        rise = Quantity(round_figures(from_float(slope), FIGURES), made.slope_unit, FIGURES)
        result: tuple[Paragraph, ...] = (
            filled(fitted, slope=_printed("", rise)),
            filled(data_words.HENCE, row=_put_in(notation, made, rise, wanted)),
        )
        return Step(0, data_words.HEADING, drawn, "algebra"), Step(0, data_words.RESULT, result, "numbers")


def _figures(exact: float) -> int:
    """How many figures a number from a graph has: two, but three where it begins with a 1 or has three places."""
    return 3 if f"{abs(exact):e}"[0] == "1" or abs(exact) >= 99.5 else 2


def _converted(notation: Notation, made: MeasuredTable, names: Sequence[str]) -> Iterator[Paragraph]:
    """The units that the table has and the graph has not."""
    yield from conversions(column[0].unit for column in (made.across, made.up))
    for name, column in zip(names, (made.across, made.up), strict=True):
        printed, worked = column[0].unit, working_unit(column[0].unit)
        if printed.factor != worked.factor:
            yield filled(data_words.CONVERTED, letter=notation.symbol(name), unit=worked.in_text)


def _put_in(notation: Notation, made: MeasuredTable, slope: Quantity, wanted: Quantity) -> Row:
    """What is wanted: the slope and the known values put in, the value in the unit of the work, the answer."""
    line = made.line
    known = {**{name: working(each) for name, each in made.told.items()}, SLOPE.name: slope}
    amounts: dict[Node, Node] = {notation.symbol(name): as_a_factor(each) for name, each in known.items()}
    row = replaced(notation.for_numbers.node(line.inverse), amounts)
    si = working_unit(wanted.unit)
    value = Quantity(round_figures(from_float(made.wanted / si.factor), FIGURES), si, FIGURES)
    parts: list[Node] = [notation.symbol(line.wanted), Operator("="), row]
    if line.inverse != SLOPE:
        parts += [Operator("="), amount(value)]
    return Row((*parts, Operator("≈"), amount(wanted)))


def _printed(symbol: str, quantity: Quantity) -> Given:
    return Given(symbol, quantity.number, quantity.unit.in_text)


def _head(symbol: Letter, column: Sequence[Quantity]) -> tuple[Math | Words, ...]:
    unit = column[0].unit.in_text
    return (Math(symbol), Words(f" in {unit}")) if unit else (Math(symbol),)
