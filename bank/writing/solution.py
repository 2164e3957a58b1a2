"""The worked solution of one variant, in the steps of the board, written from the model and its elimination.

A step that this question does not need is left out, and those after it are numbered on.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from ..item.drawing import Drawing
from ..item.formula import Node, equals
from ..item.item import Inline, Math, Paragraph, SolutionDrawing, Stage, Step, Words
from ..mechanics.equations import Equation, force_equations, magnitude, wanted_of
from ..model.problem import Diagram, Problem, Scene
from ..model.wording import capital, force_words, sentence, with_article
from ..solving.solution import SolvedQuestion
from ..variants.variant import Variant
from . import algebra, numeric_steps
from .algebra import AlgebraWriter
from .directions import inward_words, placeless
from .hints import hints
from .letters import head_and_tail, sense_of, with_meanings
from .notation import Notation
from .stem import filled
from .view import DiagramView, notation_of, view_of

HEADINGS: dict[Stage, str] = {
    "acceleration": "Direction of the acceleration",
    "free body": "Force diagram",
    "equations": "Net force = mass × acceleration",
    "limiting": "Limiting condition",
    "algebra": "Algebra",
    "numbers": "Substitution",
    "look back": "Check of the expression",
}
_ALONG = "The acceleration of {body} {place} has a component towards the centre and a component along the path."
# only a motion that repeats is stated to be uniform: a body may as well fall round, or walk outward while it turns
UNIFORM = (
    "In uniform circular motion the direction of the velocity changes continuously. The acceleration is directed "
    "towards the centre of the circle."
)
ROUND = (
    "The direction of the velocity changes continuously, so the acceleration has a component towards the centre of the "
    "circle."
)
AT_REST = "{Body} is at rest, so its acceleration is zero."
TURNS_BACK = (
    "Where {body} turns back, its speed is zero for a moment, so its acceleration has no component towards the centre. "
    "The acceleration is directed along the path."
)
TOWARDS = {
    "level": "The acceleration of {body} is horizontal, towards the centre; its vertical component is zero.",
    "space": "{Place}, {body} has an acceleration that is directed towards the centre.",
    "top": "{Place}, the acceleration of {body} is directed vertically downwards, towards the centre.",
    "bottom": "{Place}, the acceleration of {body} is directed vertically upwards, towards the centre.",
    "side": _ALONG,
    "angle": _ALONG,
}
_OPPOSITE = {"vertically downwards": "vertically upwards", "vertically upwards": "vertically downwards"}
NO_OTHERS = ". No other forces act."
# where the author says that a force does act along the path, which the model leaves out
NONE_ACROSS = ". No other forces have a component towards or away from the centre, or a vertical component."
FORWARD_FORCE = "forward-force-drawn"  # the mistake that is none there
EITHER_WAY = "along the radius, taken as positive towards the centre"
SIGNED = {
    True: "{asked} is positive, so the {name} exerted by {agent} is directed towards the centre{upright}.",
    False: "{asked} is negative, so the {name} exerted by {agent} is directed away from the centre{upright}.",
}
HEIGHTS = "Heights are measured from {level}."
LOWEST, CENTRE = "the lowest point of the path", "the centre of the circle"
LINKS = "Relations between the quantities"  # in place of net forces, where the question is about the motion alone
CONDITION = "Condition"  # in place of the limiting case, where nothing is at its limit


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

    ``asked`` is a diagram that is asked about besides the number, so that the solution tells it as well. ``drawn``
    draws the forces of a diagram, which then stand below their names.
    """

    solved: SolvedQuestion
    scene: Scene
    asked: Diagram | None = None
    drawn: Callable[[Diagram], Drawing] | None = None

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
        return _numbered((*forces, self._limit(), self._step("algebra", self._algebra)))

    def of_diagram(self, diagram: Diagram, stages: Sequence[Stage]) -> tuple[Step, ...]:
        """The steps of one diagram at some stages up to its equations, whatever the question itself draws on."""
        return _numbered([each for each in self._of_diagrams((diagram,), alone=True) if each.stage in stages])

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
        return tuple(hints(self.solved, self.scene, self.notation, self.diagrams, self._algebra))

    def without_numbers(self) -> tuple[Step, ...]:
        """All steps but the numbers."""
        return _numbered((*self.letters, self.look_back))

    def steps(self, variant: Variant) -> tuple[Step, ...]:
        """All steps with the numbers of one variant."""
        found = numeric_steps.numbers(self.solved, variant, self.notation, self.form)
        numbers = (*found, *self._sense(variant))
        return _numbered((*self._explained, self._step("numbers", numbers), self._after_numbers))

    @cached_property
    def _explained(self) -> tuple[Step, ...]:
        """The steps before the numbers, with what their letters mean: a stem with numbers names none."""
        return _numbered(tuple(with_meanings(self.letters, self.solved.problem, self.scene, self.notation, ())))

    @cached_property
    def _after_numbers(self) -> Step:
        """The look back under its number there, the same object for all variants."""
        return replace(self.look_back, number=len(self._explained) + 2)

    @property
    def _seen(self) -> frozenset[str]:
        """The names of the quantities in the equations that the solution draws on."""
        return frozenset().union(*(each.symbols for each in self.used))

    def _step(self, stage: Stage, paragraphs: Iterable[Paragraph], heading: str = "") -> Step:
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
        spoken = {motion.acceleration, motion.tangential_acceleration} & self._seen
        if motion.changes and not spoken:
            return
        if motion.tangential_acceleration or motion.changes:
            yield _say(
                "Both the direction and the magnitude of the velocity change, so the acceleration has a component "
                "towards the centre and a component along the path."
            )
        elif motion.acceleration in wanted_of(self.solved.problem, self.solved.question):
            yield _say(UNIFORM if motion.period or motion.frequency or motion.turns else ROUND)

    def _acceleration(self, diagrams: Sequence[Diagram]) -> Iterator[Paragraph]:
        for diagram in diagrams:
            view = view_of(self.solved.problem, diagram, self.scene)
            if view.acceleration is None:
                yield _say(AT_REST.format(Body=capital(view.body)))
            else:
                level = self.solved.problem.motion.plane == "horizontal"
                told = TOWARDS["level" if level else diagram.spot]
                told = TURNS_BACK if diagram == algebra.turns_back(self.solved) else told
                yield _say(told.format(Place=capital(view.place), place=view.place, body=view.body))

    # --- the force diagram ---

    def _forces(self, diagrams: Sequence[Diagram]) -> Iterator[Paragraph]:
        problem = self.solved.problem
        last = NONE_ACROSS if FORWARD_FORCE in problem.without else NO_OTHERS
        for diagram in diagrams:
            view = view_of(problem, diagram, self.scene)
            parts: list[Inline] = [Words(f"Forces on {view.body}{_spot(diagram, diagrams)}: ")]
            directions = told_directions(problem, diagram, self.scene, view)
            for place, (force, direction) in enumerate(zip(view.forces, directions, strict=True)):
                head, tail = head_and_tail(force.name)
                parts += [
                    Words(f"{'; ' if place else ''}the {head} "),
                    Math(force.label),
                    Words(f"{'' if tail == f' in {force.agent}' else tail} exerted by {force.agent} ({direction})"),
                ]
            yield (*parts, Words(last))
            if self.drawn:
                yield (SolutionDrawing(self.drawn(diagram)),)

    def _sense(self, variant: Variant) -> Iterator[Paragraph]:
        """Which way the asked force points, where only its sign tells it."""
        problem, ask = self.solved.problem, self.solved.question.ask
        homes = [each for each in problem.diagrams if ask in {force.symbol for force in each.forces}]
        if not homes or not sense_of(problem, ask):
            return
        (force,) = (each for each in homes[0].forces if each.symbol == ask)
        shown = force_words(self.scene, force.role)
        is_positive = variant.answer.value > 0
        inward = inward_words(homes[0])
        upright = f", {inward if is_positive else _OPPOSITE[inward]}" if inward in _OPPOSITE else ""
        if shown:
            gaps = {"name": placeless(homes[0], shown.name), "agent": shown.by, "upright": upright}
            yield filled(SIGNED[is_positive], asked=self.notation.symbol(ask), **gaps)

    # --- the equations ---

    def _newton(self, diagrams: Sequence[Diagram], *, alone: bool) -> Iterator[Paragraph]:
        wanted = wanted_of(self.solved.problem, self.solved.question)
        for diagram in diagrams:
            equations = force_equations(self.solved.problem, diagram, wanted)
            told = [each for each in equations if alone or diagram == self.asked or each in self.used]
            yield from self._laws(diagram) if told else ()
            for equation in told:
                yield from self._axis(diagram, diagrams, equation)
        if not alone:
            yield from self._relations()

    def _laws(self, diagram: Diagram) -> Iterator[Paragraph]:
        """What the forces of a diagram are that follow from a law, in the letters of their arrows."""
        problem = self.solved.problem
        view = view_of(problem, diagram, self.scene)
        shown = [force for force in diagram.forces if force_words(self.scene, force.role)]
        for drawn, force in zip(view.forces, shown, strict=True):
            if force.law not in (None, "weight") and not force.size:
                row = equals(drawn.label, self.notation.node(magnitude(problem, diagram, force)))
                yield (Words(f"The {head_and_tail(drawn.name)[0]} is "), Math(row), Words("."))

    def _links(self) -> Step:
        return self._step("equations", self._relations(), LINKS)

    def _relations(self) -> Iterator[Paragraph]:
        told: set[Paragraph] = set()
        for equation in self.used:
            if equation.kind in ("relation", "energy"):
                heights = tuple(self._heights(equation))
                yield from (each for each in heights if each not in told)
                told.update(heights)
                yield _say(f"{capital(sentence(equation.because, self.scene))}:")
                yield (Math(self.notation.equation(equation.terms, equation.right)),)

    def _heights(self, equation: Equation) -> Iterator[Paragraph]:
        """From where the heights of an energy balance are measured."""
        for each in self.solved.problem.energies if equation.kind == "energy" else ():
            if each.because == equation.because:
                yield _say(HEIGHTS.format(level=CENTRE if each.over_centre else LOWEST))

    def _axis(self, diagram: Diagram, diagrams: Sequence[Diagram], equation: Equation) -> Iterator[Paragraph]:
        where = self._where(diagram, diagrams)
        lead = {
            "inward": f"Towards the centre{where}, net force = mass × acceleration:",
            "up": f"Vertically{where}, net force = 0:",
            "forward": f"Along the path{where}:",
        }[equation.kind]
        yield _say(lead)
        yield (Math(self.notation.equation(equation.terms, equation.right)),)
        if equation.kind == "inward" and diagram.spot == "side":
            yield _say("The weight acts along the path here, so it has no component towards the centre.")

    def _where(self, diagram: Diagram, diagrams: Sequence[Diagram]) -> str:
        """What tells the equations of this diagram from those of another: the body, or the place."""
        if len(diagrams) == 1:
            return ""
        bodies = {each.body for each in diagrams}
        if len(bodies) > 1:
            return f" for {with_article(self.scene.words[diagram.body], 'the')}"
        return diagram.apart

    def _limit(self) -> Step:
        if self.solved.question.limiting:
            heading = CONDITION if algebra.turns_back(self.solved) else ""
            return self._step("limiting", algebra.limiting_case(self.solved, self.scene, self.notation), heading)
        told = algebra.what_holds(self.solved, self.scene, self.notation, self._seen)
        return self._step("limiting", told, CONDITION)

    # --- algebra ---

    @cached_property
    def _algebra(self) -> tuple[Paragraph, ...]:
        named = {each.name: self._where(each, self.diagrams) for each in self.solved.problem.diagrams}
        writer = AlgebraWriter(self.solved.system, self.solved.solution, self.notation, named.__getitem__)
        return tuple(writer.paragraphs())


def told_directions(problem: Problem, diagram: Diagram, scene: Scene, view: DiagramView) -> tuple[str, ...]:
    """The directions of the forces of a view; of one that may act either way, the sense that counts as positive."""
    shown = [force for force in diagram.forces if force_words(scene, force.role)]
    either_way = [bool(force.symbol and sense_of(problem, force.symbol)) for force in shown]
    return tuple(
        EITHER_WAY if is_open else each.direction_words for each, is_open in zip(view.forces, either_way, strict=True)
    )


def _numbered(steps: Sequence[Step]) -> tuple[Step, ...]:
    """The steps that say something, numbered from 1; one that has its number is the same object, known to writers."""
    said = (step for step in steps if step.paragraphs)
    return tuple(step if step.number == at else replace(step, number=at) for at, step in enumerate(said, 1))


def _say(text: str) -> Paragraph:
    return (Words(text),)


def _spot(diagram: Diagram, diagrams: Sequence[Diagram]) -> str:
    """`` at the top`` where one body is looked at in several places."""
    alone = sum(each.body == diagram.body for each in diagrams) == 1
    return "" if alone else diagram.apart
