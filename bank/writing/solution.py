"""The worked solution of one variant, in the steps of the board, written from the model and its elimination.

A step that this question does not need is left out, and those after it are numbered on.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from ..item.formula import Node
from ..item.item import Inline, Math, Paragraph, Stage, Step, Words
from ..mechanics.equations import Equation, force_equations, wanted_of
from ..model.problem import Diagram, Scene
from ..model.wording import capital, sentence, with_article
from ..solving.solution import SolvedQuestion
from ..variants.variant import Variant
from . import algebra, numeric_steps
from .algebra import AlgebraWriter
from .hints import hints
from .notation import Notation
from .view import notation_of, view_of

HEADINGS: dict[Stage, str] = {
    "acceleration": "Which way the acceleration points",
    "free body": "The force diagram",
    "equations": "Net force = mass × acceleration",
    "limiting": "The limiting case",
    "algebra": "Algebra, in letters",
    "numbers": "Numbers and units",
    "look back": "A look back",
}
LINKS = "What links the quantities"  # in place of net forces, where the question is about the motion alone
CONDITION = "What must hold"  # in place of the limiting case, where nothing is at its limit


def asked_diagram(solved: SolvedQuestion) -> Diagram | None:
    """The diagram that a question is about; None where its problem has none.

    The one that it names; else that in which the speed or the force lives that is asked for; else the first that its
    solution draws on, one of a body that moves before one at rest; else the first of the problem.
    """
    problem, question = solved.problem, solved.question
    if question.diagram or not problem.diagrams:
        return problem.diagram(question.diagram)
    moving = sorted(problem.diagrams, key=lambda each: each.spot == "rest")
    homes = [each for each in moving if question.ask in (each.speed, *(force.symbol for force in each.forces))]
    named = [solved.system.equations[each.origin].diagram for each in solved.solution.path if each.origin >= 0]
    drawn = sorted((each for each in moving if each.name in named), key=lambda each: each.spot == "rest")
    return (*homes, *drawn, *problem.diagrams)[0]


@dataclass(frozen=True)
class Writer:
    """Writes the steps that are the same for all variants of a scene, once; numbers are put in for each variant.

    ``asked`` is a diagram that is asked about besides the number, so that the solution tells it as well.
    """

    solved: SolvedQuestion
    scene: Scene
    asked: Diagram | None = None

    @cached_property
    def notation(self) -> Notation:
        """The symbols of the scene."""
        return notation_of(self.solved.problem, self.scene)

    @cached_property
    def used(self) -> tuple[Equation, ...]:
        """The equations that the elimination draws on, in board order."""
        origins = {each.origin for each in self.solved.solution.path if each.origin >= 0}
        return tuple(self.solved.system.equations[each] for each in sorted(origins))

    @cached_property
    def diagrams(self) -> tuple[Diagram, ...]:
        """The diagrams that the solution draws on, in file order; none where it needs no force."""
        names = {each.diagram for each in self.used}
        return tuple(each for each in self.solved.problem.diagrams if each.name in names or each == self.asked)

    @cached_property
    def letters(self) -> tuple[Step, ...]:
        """The steps before the numbers."""
        forces = self._of_diagrams(self.diagrams) if self.diagrams else (self._turning(), self._links())
        return _numbered((*forces, self._limit(), self._step("algebra", self._algebra())))

    def of_diagram(self, diagram: Diagram) -> tuple[Step, ...]:
        """The steps up to the equations of one diagram, whatever the question itself draws on."""
        return _numbered(self._of_diagrams((diagram,), alone=True))

    @cached_property
    def form(self) -> Node:
        """The closed form, ready for numbers in place of its symbols."""
        return self.notation.for_numbers.node(self.solved.solution.closed_form)

    @cached_property
    def look_back(self) -> Step:
        """The step after the numbers, numbered as if it were the first."""
        told = numeric_steps.look_back(self.solved, self.scene, self.notation, self._seen)
        return self._step("look back", told)

    @cached_property
    def hints(self) -> tuple[Paragraph, ...]:
        """What to look at, the equation to start from and the line after it, as far as they tell something."""
        lines = tuple(self._algebra())
        return tuple(hints(self.solved, self.scene, self.notation, self.diagrams, lines))

    def without_numbers(self) -> tuple[Step, ...]:
        """All steps but the numbers."""
        return _numbered((*self.letters, self.look_back))

    def steps(self, variant: Variant) -> tuple[Step, ...]:
        """All steps with the numbers of one variant."""
        numbers = numeric_steps.numbers(self.solved, variant, self.notation, self.form)
        return _numbered((*self.letters, self._step("numbers", numbers), self.look_back))

    @property
    def _seen(self) -> frozenset[str]:
        """The names of the quantities in the equations that the solution draws on."""
        return frozenset().union(*(each.symbols for each in self.used))

    def _step(self, stage: Stage, paragraphs: Iterator[Paragraph], heading: str = "") -> Step:
        return Step(1, heading or HEADINGS[stage], tuple(paragraphs), stage)

    def _of_diagrams(self, diagrams: Sequence[Diagram], *, alone: bool = False) -> tuple[Step, ...]:
        return (
            self._step("acceleration", self._acceleration(diagrams)),
            self._step("free body", self._forces(diagrams)),
            self._step("equations", self._newton(diagrams, alone=alone)),
        )

    # --- which way the acceleration points ---

    def _turning(self) -> Step:
        """Of a question about the motion alone: nothing where it does not speak of the acceleration."""
        return self._step("acceleration", self._of_motion())

    def _of_motion(self) -> Iterator[Paragraph]:
        motion = self.solved.problem.motion
        if motion.tangential_acceleration:
            yield _say(
                "The velocity turns towards the centre, and its magnitude changes. So the acceleration has a component "
                "towards the centre and a component along the path."
            )
        elif motion.acceleration in wanted_of(self.solved.problem, self.solved.question):
            yield _say(
                "The body moves in a circle at constant speed. The direction of its velocity changes all the time, "
                "and the change points to the centre: so does the acceleration."
            )

    def _acceleration(self, diagrams: Sequence[Diagram]) -> Iterator[Paragraph]:
        for diagram in diagrams:
            view = view_of(self.solved.problem, diagram, self.scene)
            body = capital(view.body)
            if view.acceleration is None:
                yield _say(f"{body} stays at rest, so its acceleration is zero.")
            elif self.solved.problem.motion.plane == "horizontal":
                yield _say(
                    f"{body} moves in a horizontal circle. The velocity keeps turning towards the centre, so the "
                    "acceleration is horizontal and points to the centre; it has no vertical component."
                )
            elif diagram.spot == "space":
                yield _say(
                    f"{body} goes round {view.place}. The velocity keeps turning towards the centre, and "
                    "so the acceleration points to the centre."
                )
            else:
                yield _say(f"{body} is {view.place}. The centre lies {_centre(diagram)}, {_inward_reason(diagram)}")

    # --- the force diagram ---

    def _forces(self, diagrams: Sequence[Diagram]) -> Iterator[Paragraph]:
        for diagram in diagrams:
            view = view_of(self.solved.problem, diagram, self.scene)
            parts: list[Inline] = [Words(f"On {view.body}{_spot(diagram, diagrams)}: ")]
            for place, force in enumerate(view.forces):
                agent = f"{force.agent} {force.verb} with the {force.name} "
                parts += [
                    Words(("; " if place else "") + agent),
                    Math(force.label),
                    Words(f" ({force.direction_words})"),
                ]
            alone = len(view.forces) == 1
            yield (*parts, Words(". This is the only force on it." if alone else ". No other forces act."))

    # --- the equations ---

    def _newton(self, diagrams: Sequence[Diagram], *, alone: bool) -> Iterator[Paragraph]:
        wanted = wanted_of(self.solved.problem, self.solved.question)
        for diagram in diagrams:
            for equation in force_equations(self.solved.problem, diagram, wanted):
                if alone or diagram == self.asked or equation in self.used:
                    yield from self._axis(diagram, diagrams, equation)
        if not alone:
            yield from self._relations()

    def _links(self) -> Step:
        return self._step("equations", self._relations(), LINKS)

    def _relations(self) -> Iterator[Paragraph]:
        for equation in self.used:
            if equation.kind in ("relation", "energy"):
                yield _say(f"{capital(sentence(equation.because, self.scene))}:")
                yield (Math(self.notation.equation(equation.terms, equation.right)),)

    def _axis(self, diagram: Diagram, diagrams: Sequence[Diagram], equation: Equation) -> Iterator[Paragraph]:
        where = self._where(diagram, diagrams)
        lead = {
            "inward": f"Along the inward axis{where}, net force = m a with a towards the centre:",
            "up": f"Vertically{where}, where the acceleration has no component:",
            "forward": f"Forward along the path{where}:",
        }[equation.kind]
        yield _say(lead)
        yield (Math(self.notation.equation(equation.terms, equation.right)),)
        if equation.kind == "inward" and diagram.spot == "side":
            yield _say("The weight acts along the path there. It has no component along the inward axis.")

    def _where(self, diagram: Diagram, diagrams: Sequence[Diagram]) -> str:
        """What tells the equations of this diagram from those of another: the body, or the place."""
        if len(diagrams) == 1:
            return ""
        bodies = {each.body for each in diagrams}
        if len(bodies) > 1:
            return f" for {with_article(self.scene.words[diagram.body], 'the')}"
        return f" at the {diagram.spot}"

    def _limit(self) -> Step:
        if self.solved.question.limiting:
            return self._step("limiting", algebra.limiting_case(self.solved, self.scene, self.notation))
        told = algebra.what_holds(self.solved, self.scene, self.notation, self._seen)
        return self._step("limiting", told, CONDITION)

    # --- algebra ---

    def _algebra(self) -> Iterator[Paragraph]:
        named = {each.name: self._where(each, self.diagrams) for each in self.solved.problem.diagrams}
        writer = AlgebraWriter(self.solved.system, self.solved.solution, self.notation, named.__getitem__)
        return writer.paragraphs()


def _numbered(steps: Sequence[Step]) -> tuple[Step, ...]:
    """The steps that say something, numbered from 1."""
    said = (step for step in steps if step.paragraphs)
    return tuple(replace(step, number=number) for number, step in enumerate(said, 1))


def _say(text: str) -> Paragraph:
    return (Words(text),)


def _spot(diagram: Diagram, diagrams: Sequence[Diagram]) -> str:
    """`` at the top`` where one body is looked at in several places."""
    alone = sum(each.body == diagram.body for each in diagrams) == 1
    return "" if alone else f" at the {diagram.spot}"


def _centre(diagram: Diagram) -> str:
    places = {"top": "straight below it", "bottom": "straight above it", "side": "level with it"}
    return places.get(diagram.spot, "at the other end of the slanting radius")


def _inward_reason(diagram: Diagram) -> str:
    if diagram.spot in ("side", "angle"):
        return (
            "and the velocity turns towards it: the acceleration has a component along the radius, towards the "
            "centre. Where the speed changes as well, there is also a component along the path."
        )
    return "and the velocity turns towards it: the acceleration points that way."
