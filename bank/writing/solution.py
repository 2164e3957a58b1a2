"""The worked solution of one variant, in the seven steps of the board, written from the model and its elimination."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import sympy

from ..item.formula import Node, Operator, Row
from ..item.item import Inline, Math, Paragraph, Step, Words
from ..mechanics.equations import Equation, force_equations, wanted_of
from ..model import wording
from ..model.problem import Diagram, Scene
from ..model.wording import capital, force_words, sentence, with_article
from ..solving.solution import SolvedQuestion
from ..variants.variant import Variant
from . import numeric_steps
from .algebra import AlgebraWriter
from .notation import Notation
from .view import notation_of, view_of

HEADINGS = (
    "Which way the acceleration points",
    "The force diagram",
    "Net force = mass × acceleration",
    "The limiting case",
    "Algebra, in letters",
    "Numbers and units",
    "A look back",
)
_HINTS = ("The equation to start from: ", "The next line: ")
# where no force is asked about, the board links the quantities of the motion
MOTION_HEADINGS = (*HEADINGS[:2], "What links the quantities", *HEADINGS[3:])


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
        headings = HEADINGS if self.diagrams else MOTION_HEADINGS
        return tuple(Step(number, headings[number - 1], tuple(write())) for number, write in enumerate(writers, 1))

    @cached_property
    def form(self) -> Node:
        """The closed form, ready for numbers in place of its symbols."""
        return self.notation.for_numbers.node(self.solved.solution.closed_form)

    @cached_property
    def look_back(self) -> Step:
        """Step 7."""
        return Step(7, HEADINGS[6], tuple(numeric_steps.look_back(self.solved, self.scene, self.notation)))

    @cached_property
    def hints(self) -> tuple[Paragraph, ...]:
        """Three hints, taken from the solution: what to look at, the equation, the next line."""
        look = "Write down how the quantities of the motion are linked."
        if self.diagrams:
            body = with_article(self.scene.words[self.diagrams[0].body], "the")
            look = f"Draw the force diagram of {body}: weight first, then all that touches it. Mark the inward axis."
        formulas = [_formulas(self.letters[number - 1].paragraphs) for number in (3, 5)]
        shown = [(Words(say), each[0]) for say, each in zip(_HINTS, formulas, strict=True) if each]
        return ((Words(look),), *shown)

    def steps(self, variant: Variant) -> tuple[Step, ...]:
        """All seven steps with the numbers of one variant."""
        numbers = numeric_steps.numbers(self.solved, variant, self.notation, self.form)
        return (*self.letters, Step(6, HEADINGS[5], tuple(numbers)), self.look_back)

    # --- step 1 ---

    def _acceleration(self) -> Iterator[Paragraph]:
        if not self.diagrams and self.solved.problem.motion.tangential_acceleration:
            yield _say(
                "The velocity turns towards the centre, and its size changes. So the acceleration has a part towards "
                "the centre and a part along the path."
            )
        elif not self.diagrams:
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
                    f"{body} goes round in a level circle. The velocity keeps turning towards the centre, so the "
                    "acceleration is level and points to the centre; it has no part up or down."
                )
            elif diagram.spot == "space":
                yield _say(
                    f"{body} goes round {view.place}. The velocity keeps turning towards the centre, and "
                    "so the acceleration points to the centre."
                )
            else:
                yield _say(f"{body} is {view.place}. The centre lies {_centre(diagram)}, {_inward_reason(diagram)}")

    # --- step 2 ---

    def _forces(self) -> Iterator[Paragraph]:
        if not self.diagrams:
            yield _say("The question is about the motion alone; no force is needed to answer it.")
        for diagram in self.diagrams:
            view = view_of(self.solved.problem, diagram, self.scene)
            parts: list[Inline] = [Words(f"On {view.body}{self._spot(diagram)}: ")]
            for place, force in enumerate(view.forces):
                agent = f"{force.agent} {force.verb} with the {force.name} "
                parts += [
                    Words(("; " if place else "") + agent),
                    Math(force.label),
                    Words(f" ({force.direction_words})"),
                ]
            yield (*parts, Words(_that_is_all(len(view.forces))))

    # --- step 3 ---

    def _newton(self) -> Iterator[Paragraph]:
        wanted = wanted_of(self.solved.problem, self.solved.question)
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
        if equation.kind == "inward" and diagram.spot == "side":
            yield _say("The weight acts along the path there. It has no part along the inward axis.")

    def _where(self, diagram: Diagram) -> str:
        """What tells the equations of this diagram from those of another: the body, or the place."""
        if len(self.diagrams) == 1:
            return ""
        bodies = {each.body for each in self.diagrams}
        if len(bodies) > 1:
            return f" for {with_article(self.scene.words[diagram.body], 'the')}"
        return f" at the {diagram.spot}"

    def _spot(self, diagram: Diagram) -> str:
        """`` at the top`` where one body is looked at in several places."""
        alone = sum(each.body == diagram.body for each in self.diagrams) == 1
        return "" if alone else f" at the {diagram.spot}"

    # --- step 4 ---

    def _limit(self) -> Iterator[Paragraph]:
        limiting = self.solved.question.limiting
        if limiting:
            row = self.notation.equation(limiting.left, limiting.right)
            yield (Words(self._limit_words() + " "), Math(row), Words("."))
            return
        decided = [kept for kept in self.solved.kept if kept.expression is not None]
        if not decided:
            yield _say("Nothing is at a limit here.")
        for kept in decided:
            relation = kept.reason.relation
            sign = {"<=": "≤", ">=": "≥"}.get(relation.sign, relation.sign)
            row = self.notation.equation(relation.left, relation.right, sign)
            because = capital(sentence(kept.reason.because, self.scene))
            yield (Words(f"{because}: "), Math(row), Words(". The numbers of this question keep to it."))

    def _limit_words(self) -> str:
        """What has happened at the limit, in the scene's name for the force that is at its edge."""
        limiting = self.solved.question.limiting
        assert limiting is not None
        for diagram in self.solved.problem.diagrams:
            for force in diagram.forces:
                shown = force_words(self.scene, force.role)
                symbol = sympy.Symbol(force.symbol or "")
                if not force.symbol or not shown or symbol not in (limiting.left, limiting.right):
                    continue
                if sympy.Integer(0) in (limiting.left, limiting.right):
                    return f"At the limit the {shown.name} has just reached zero:"
                return f"At the limit the {shown.name} has its {self._extreme(symbol)} possible value:"
        return "At the limit:"

    def _extreme(self, symbol: sympy.Symbol) -> str:
        """Whether what holds keeps a force below its limit or above it."""
        limiting = self.solved.question.limiting
        assert limiting is not None
        for reason in self.solved.problem.holds:
            relation = reason.relation
            if {relation.left, relation.right} == {limiting.left, limiting.right}:
                below = relation.sign.startswith("<") == (symbol == relation.left)
                return "greatest" if below else "least"
        return "greatest"

    # --- step 5 ---

    def _algebra(self) -> Iterator[Paragraph]:
        named = {each.name: self._where(each) for each in self.solved.problem.diagrams}
        writer = AlgebraWriter(self.solved.system, self.solved.solution, self.notation, named.__getitem__)
        return writer.paragraphs()


def _formulas(paragraphs: tuple[Paragraph, ...]) -> list[Math]:
    """The equations among the formulas of some paragraphs."""
    found = (part for paragraph in paragraphs for part in paragraph if isinstance(part, Math))
    return [each for each in found if isinstance(each.node, Row) and Operator("=") in each.node.parts]


def _that_is_all(forces: int) -> str:
    return ". This is the only force on it." if forces == 1 else f". These {wording.count(forces, 'force')} are all."


def _say(text: str) -> Paragraph:
    return (Words(text),)


def _centre(diagram: Diagram) -> str:
    places = {"top": "straight below it", "bottom": "straight above it", "side": "level with it"}
    return places.get(diagram.spot, "at the other end of the slanting radius")


def _inward_reason(diagram: Diagram) -> str:
    if diagram.spot in ("side", "angle"):
        return (
            "and the velocity turns towards it: the acceleration has a part along the radius, towards the centre. "
            "Where the speed changes as well, there is also a part along the path."
        )
    return "and the velocity turns towards it: the acceleration points that way."
