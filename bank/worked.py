"""The worked solution of one variant, in the seven steps of the board, written from the model and its elimination."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import sympy
from turnwright.bank import wording, worked_numbers
from turnwright.bank.diagram import notation_of, view_of
from turnwright.bank.elimination import Stage
from turnwright.bank.equation import Equation, force_equations
from turnwright.bank.formula import equals
from turnwright.bank.item import Inline, Math, Paragraph, Step, Words
from turnwright.bank.notation import Notation
from turnwright.bank.problem import Diagram, Scene
from turnwright.bank.solution import Solved
from turnwright.bank.solving import SolvedQuestion
from turnwright.bank.variant import Variant
from turnwright.bank.wording import capital, force_words, sentence, with_article

HEADINGS = (
    "Which way the acceleration points",
    "The force diagram",
    "Net force = mass × acceleration",
    "The limiting case",
    "Algebra, in letters",
    "Numbers and units",
    "A look back",
)
_AXIS_NAMES = {"inward": "inward", "up": "upward", "forward": "forward"}


@dataclass(frozen=True)
class Writer:
    """Writes the steps that are the same for all variants of a scene, once; numbers are put in for each variant."""

    solved: SolvedQuestion
    scene: Scene

    @cached_property
    def notation(self) -> Notation:
        """The symbols of the scene."""
        return notation_of(self.solved.problem, self.scene)

    @cached_property
    def diagrams(self) -> tuple[Diagram, ...]:
        """The diagrams that the solution draws on; that of the question where it needs none."""
        equations = [
            self.solved.system.equations[each.origin] for each in self.solved.solution.path if each.origin >= 0
        ]
        used = {equation.diagram for equation in equations}
        shown = self.solved.problem.diagram(self.solved.question.diagram)
        found = tuple(each for each in self.solved.problem.diagrams if each.name in used)
        return found or ((shown,) if shown else ())

    @cached_property
    def letters(self) -> tuple[Step, ...]:
        """Steps 1 to 5."""
        writers = (self._acceleration, self._forces, self._newton, self._limit, self._algebra)
        return tuple(Step(number, HEADINGS[number - 1], tuple(write())) for number, write in enumerate(writers, 1))

    @cached_property
    def look_back(self) -> Step:
        """Step 7."""
        return Step(7, HEADINGS[6], tuple(worked_numbers.look_back(self.solved, self.scene, self.notation)))

    def steps(self, variant: Variant) -> tuple[Step, ...]:
        """All seven steps with the numbers of one variant."""
        numbers = worked_numbers.numbers(self.solved, variant, self.notation)
        return (*self.letters, Step(6, HEADINGS[5], tuple(numbers)), self.look_back)

    # --- step 1 ---

    def _acceleration(self) -> Iterator[Paragraph]:
        if not self.diagrams:
            yield _say(
                "The body goes round in a circle at a steady speed. Its velocity changes direction all the time, and "
                "the change points to the centre: so does the acceleration."
            )
        for diagram in self.diagrams:
            view = view_of(self.solved.problem, diagram, self.scene)
            body = capital(view.body)
            if view.acceleration is None:
                yield _say(f"{body} stays at rest, so its acceleration is zero.")
            elif self.solved.problem.motion.plane == "horizontal":
                yield _say(
                    f"{body} goes round in a level circle. Its velocity keeps turning towards the centre, so the "
                    "acceleration is level and points to the centre; it has no part up or down."
                )
            else:
                yield _say(
                    f"{body} is {view.place}. The centre lies {_centre(view.inward_words)}, {_inward_reason(diagram)}"
                )

    # --- step 2 ---

    def _forces(self) -> Iterator[Paragraph]:
        if not self.diagrams:
            yield _say("The question is about the motion alone; no force is needed to answer it.")
        for diagram in self.diagrams:
            view = view_of(self.solved.problem, diagram, self.scene)
            parts: list[Inline] = [Words(f"On {view.body}: ")]
            for place, force in enumerate(view.forces):
                agent = f"{force.agent} {force.verb} it with the {force.name} "
                parts += [
                    Words(("; " if place else "") + agent),
                    Math(force.label),
                    Words(f" ({force.direction_words})"),
                ]
            yield (*parts, Words(_that_is_all(len(view.forces))))

    # --- step 3 ---

    def _newton(self) -> Iterator[Paragraph]:
        wanted = self.solved.system.known | {self.solved.question.ask}
        for diagram in self.diagrams:
            for equation in force_equations(self.solved.problem, diagram, wanted):
                yield from self._axis(diagram, equation)
        for origin in sorted({each.origin for each in self.solved.solution.path if each.origin >= 0}):
            equation = self.solved.system.equations[origin]
            if equation.kind in ("relation", "energy"):
                row = self.notation.equation(equation.terms, equation.right)
                yield _say(f"{capital(sentence(equation.because, self.scene))}:")
                yield (Math(row),)

    def _axis(self, diagram: Diagram, equation: Equation) -> Iterator[Paragraph]:
        where = self._where(diagram)
        lead = {
            "inward": f"Along the inward axis{where}, net force = m a with a towards the centre:",
            "up": f"Up{where}, where the acceleration has no part:",
            "forward": f"Forward along the path{where}:",
        }[equation.kind]
        yield _say(lead)
        yield (Math(self.notation.equation(equation.terms, equation.right)),)

    def _where(self, diagram: Diagram) -> str:
        if len(self.diagrams) == 1:
            return ""
        bodies = {each.body for each in self.diagrams}
        return (
            f" for {with_article(self.scene.words[diagram.body], 'the')}"
            if len(bodies) > 1
            else f" at the {diagram.spot}"
        )

    # --- step 4 ---

    def _limit(self) -> Iterator[Paragraph]:
        limiting = self.solved.question.limiting
        if limiting:
            row = self.notation.equation(limiting.left, limiting.right)
            yield (Words(self._limit_words() + " "), Math(row), Words("."))
            return
        if not self.solved.problem.holds:
            yield _say("Nothing is at a limit here.")
        for kept in self.solved.kept:
            relation = kept.reason.relation
            sign = {"<=": "≤", ">=": "≥"}.get(relation.sign, relation.sign)
            row = self.notation.equation(relation.left, relation.right, sign)
            ending = ". The numbers of this question keep to it." if kept.expression is not None else "."
            yield (Words(capital(sentence(kept.reason.because, self.scene)) + ": "), Math(row), Words(ending))

    def _limit_words(self) -> str:
        limiting = self.solved.question.limiting
        assert limiting is not None
        for diagram in self.solved.problem.diagrams:
            for force in diagram.forces:
                shown = force_words(self.scene, force.role)
                if not force.symbol or not shown or limiting.left != sympy.Symbol(force.symbol):
                    continue
                if limiting.right == 0:
                    return f"At the limit the {shown.name} has just reached zero:"
                return f"At the limit the {shown.name} has just reached the greatest value that it can have:"
        return "At the limit:"

    # --- step 5 ---

    def _algebra(self) -> Iterator[Paragraph]:
        *found, asked = self.solved.solution.path
        for each in found:
            if self.solved.system.equations[each.origin].kind != "limiting" or each.origin < 0:
                yield from self._isolated(each, each.left, each.value)
        yield from self._isolated(asked, asked.left, asked.value)
        symbol = sympy.Symbol(self.solved.question.ask)
        if (asked.left, asked.value) != (symbol, self.solved.solution.closed_form):
            yield _say("This gives")
            yield (Math(self.notation.equation(symbol, self.solved.solution.closed_form)),)

    def _isolated(self, solved: Solved, left: sympy.Expr, value: sympy.Expr) -> Iterator[Paragraph]:
        stages = _visible(solved.stages)
        for place, stage in enumerate(stages[1:], 1):
            yield self._stage_words(solved, stage, first=place == 1)
            yield (Math(self.notation.equation(stage.left, stage.right)),)
        last = stages[-1]
        if {last.left, last.right} == {left, value}:
            if len(stages) == 1:
                yield self._from(solved, left, value)
            return
        yield self._from(solved, left, value) if len(stages) == 1 else _say("So")
        if len(stages) > 1:
            yield (Math(self.notation.equation(left, value)),)

    def _from(self, solved: Solved, left: sympy.Expr, value: sympy.Expr) -> Paragraph:
        row = equals(self.notation.node(left), self.notation.node(value))
        return (Words(f"From {self._name(solved.origin)}: "), Math(row), Words("."))

    def _stage_words(self, solved: Solved, stage: Stage, *, first: bool) -> Paragraph:
        if stage.did == "put":
            return _say(f"Put this into {self._name(solved.origin)}:")
        above, below = sympy.fraction(stage.what)
        parts: list[str] = []
        shown: list[Inline] = [Words(f"In {self._name(solved.origin)}, " if first else "Here ")]
        if above != 1:
            shown += [Math(self.notation.node(above)), Words(" is in every term and cancels")]
            parts.append("above")
        if below != 1:
            joined = "; multiply by " if parts else "multiply every term by "
            shown += [Words(joined), Math(self.notation.node(below))]
        return (*shown, Words(":"))

    def _name(self, origin: int) -> str:
        if origin < 0:
            return "sin² + cos² = 1"
        equation = self.solved.system.equations[origin]
        if equation.kind in _AXIS_NAMES:
            diagram = self.solved.problem.diagram(equation.diagram)
            assert diagram is not None
            return f"the {_AXIS_NAMES[equation.kind]} equation{self._where(diagram)}"
        return {"energy": "the energy balance", "limiting": "the limiting case"}.get(
            equation.kind, "the relation above"
        )


def _visible(stages: tuple[Stage, ...]) -> list[Stage]:
    """The stages that change what is seen; of several put in one after the other, the last."""
    kept: list[Stage] = []
    for stage in stages:
        if kept and (kept[-1].left, kept[-1].right) == (stage.left, stage.right):
            continue
        if kept and kept[-1].did == stage.did == "put":
            kept.pop()
        kept.append(stage)
    return kept


def _that_is_all(forces: int) -> str:
    return ". This is the only force on it." if forces == 1 else f". These {wording.count(forces, 'force')} are all."


def _say(text: str) -> Paragraph:
    return (Words(text),)


def _centre(inward: str) -> str:
    return {"straight down": "straight below it", "straight up": "straight above it", "level": "level with it"}.get(
        inward, "along the radius"
    )


def _inward_reason(diagram: Diagram) -> str:
    if diagram.spot in ("side", "angle"):
        return (
            "and the velocity turns towards it: the acceleration has a part along the radius, towards the centre. "
            "Where the speed changes as well, there is also a part along the path."
        )
    return "and the velocity turns towards it: the acceleration points that way."
