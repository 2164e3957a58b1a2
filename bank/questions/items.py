"""Variants to items: the stem, the figure, the number entry and the worked solution of each."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cached_property, partial

from ..drawing.figure import draw_diagram
from ..drawing.sketches.sketch import draw_sketch
from ..item.computation import Computation, Node
from ..item.drawing import Drawing
from ..item.item import ChoiceEntry, Item, Metadata, NumberEntry, Paragraph, Recognised, Stage, Step
from ..model.problem import Diagram, Scene
from ..quantities.quantity import round_figures
from ..quantities.unit_kinds import working_unit
from ..quantities.units import Unit
from ..solving.solution import SolvedQuestion
from ..variants.key_computation import computation_of, decimal_of
from ..variants.variant import Variant, VariantPool
from ..writing.letters import name_of
from ..writing.notation import Notation
from ..writing.sketched.view import sketch_of
from ..writing.solution import Writer, asked_diagram
from ..writing.stem import asked_name, stem
from ..writing.view import view_of


@dataclass(frozen=True)
class Generator:
    """Makes the items of one question; what a scene shares is made once.

    ``asked`` is a diagram that they ask about besides the number, ``closing`` what their stems say in place of asking:
    printed words of a limit, which is not named then, or words with slots.
    """

    solved: SolvedQuestion
    asked: Diagram | None = None
    closing: Callable[[Scene], Paragraph | str | None] = lambda _: None
    _writers: dict[str, Writer] = field(default_factory=dict, repr=False, compare=False)

    def item(
        self,
        variant: Variant,
        number: int,
        recognised: tuple[Recognised, ...] = (),
        as_choice: Callable[[], ChoiceEntry | None] | None = None,
    ) -> Item:
        """The item of a variant; ``number`` counts from 1, ``recognised`` are wrong answers with their own feedback."""
        writer = self._writer(variant.scene)
        problem, question = self.solved.problem, self.solved.question
        return Item(
            variant=number,
            stem=stem(
                problem,
                question,
                variant.scene,
                variant.given,
                writer.notation,
                "g" in self.solved.solution.symbols,
                self.closing(variant.scene),
            ),
            figure=self.figure(variant.scene),
            entries=(
                NumberEntry(
                    symbol=writer.notation.symbol(question.ask),
                    name=self._name(variant.scene),
                    key=round_figures(variant.answer.value, variant.answer.figures),
                    exact=float(variant.answer.value),
                    half_width=variant.half_width,
                    unit=variant.answer.unit.in_text,
                    figures=variant.answer.figures,
                    recognised=recognised,
                    as_choice=as_choice,
                    computation=self._computation(variant),
                ),
            ),
            solution=writer.steps(variant),
            metadata=self.metadata(variant.scene),
            hints=writer.hints,
            forces=self.forces(variant.scene),
        )

    def _name(self, scene: Scene) -> str:
        """What is asked for, in words: nothing of a limit where the stem does not ask for it by that name."""
        problem, question = self.solved.problem, self.solved.question
        is_of_limit = isinstance(self.closing(scene), tuple)
        return name_of(problem, scene, question.ask) if is_of_limit else asked_name(problem, question, scene)

    def letters(self, scene: Scene) -> tuple[Step, ...]:
        """The worked solution without numbers."""
        return self._writer(scene).without_numbers()

    def of_diagram(self, scene: Scene, diagram: Diagram, stages: Sequence[Stage]) -> tuple[Step, ...]:
        """The steps of one diagram at some of the stages up to its equations."""
        return self._writer(scene).of_diagram(diagram, stages)

    def notation(self, scene: Scene) -> Notation:
        """The symbols of a scene."""
        return self._writer(scene).notation

    def figure(self, scene: Scene) -> Drawing | None:
        """The sketch of a scene without letters; the same for all variants."""
        return self.sketch(scene, self._asked_diagram)

    def sketch(self, scene: Scene, diagram: Diagram | None, letters: Collection[str] = ()) -> Drawing | None:
        """The sketch of a scene, with these letters at its lengths and angles; None where its file tells of none."""
        view = sketch_of(self.solved.problem, diagram, scene, letters)
        return draw_sketch(view) if view else None

    def forces(self, scene: Scene) -> Drawing | None:
        """The force diagram of what is asked about; None where no force is in it."""
        return self.force_diagram(scene, self._asked_diagram) if self._asked_diagram else None

    def force_diagram(self, scene: Scene, diagram: Diagram) -> Drawing:
        """The force diagram of a body in a scene."""
        return draw_diagram(view_of(self.solved.problem, diagram, scene))

    @cached_property
    def _asked_diagram(self) -> Diagram | None:
        return asked_diagram(self.solved)

    def metadata(self, scene: Scene) -> Metadata:
        """What a catalogue wants to know; the same for all variants in a scene."""
        if scene.name not in self._facts:
            self._facts[scene.name] = self._metadata(scene)
        return self._facts[scene.name]

    def _metadata(self, scene: Scene) -> Metadata:
        problem, question = self.solved.problem, self.solved.question
        return Metadata(
            problem=problem.id,
            question=question.name,
            version=problem.version,
            title=question.title,
            family=problem.family,
            objectives=question.objectives,
            level=question.level,
            scene=scene.name,
            licence=problem.licence,
            minutes=question.minutes,
            caution=problem.caution_in(scene),
            difficulty=difficulty(self.solved, scene),
            alignment=question.alignment,
        )

    def _computation(self, variant: Variant) -> Computation:
        used = sorted(self.solved.solution.symbols & set(variant.given))
        values = tuple((name, decimal_of(variant.given[name].si)) for name in used)
        return Computation(_form(self._forms, self.solved, variant.answer.unit), values)

    @cached_property
    def _forms(self) -> dict[Unit, Node]:
        return {}

    @cached_property
    def _facts(self) -> dict[str, Metadata]:
        return {}

    def _writer(self, scene: Scene) -> Writer:
        if scene.name not in self._writers:
            self._writers[scene.name] = Writer(self.solved, scene, self.asked, partial(self.force_diagram, scene))
        return self._writers[scene.name]


def _form(made: dict[Unit, Node], solved: SolvedQuestion, unit: Unit) -> Node:
    if unit not in made:
        made[unit] = computation_of(solved.solution.closed_form, unit)
    return made[unit]


def items(solved: SolvedQuestion, gravity: Decimal, wanted: int, seed: int) -> Iterator[Item]:
    """The first ``wanted`` items of a question under a seed. Raises TooFewVariantsError."""
    generator = Generator(solved)
    drawn = VariantPool(solved, gravity).draw(wanted, seed)
    return (generator.item(variant, number) for number, variant in enumerate(drawn, 1))


def difficulty(solved: SolvedQuestion, scene: Scene) -> int:
    """The stated index of difficulty of a question in a scene: what a student has to do.

    It counts eliminations on the way, conversions of units, a limiting case, an angle to find; variants of a question
    differ in it only by the units of their scenes.
    """
    conversions = 0
    for name in solved.question.given:
        printed = solved.problem.spec(name, scene).unit
        conversions += name in solved.solution.symbols and working_unit(printed) != printed
    answer = solved.problem.answer_spec(solved.question, scene).unit
    asked_angle = answer.symbol == "deg"
    converted_back = working_unit(answer) != answer
    limiting = solved.question.limiting is not None
    return len(solved.solution.path) + conversions + converted_back + limiting + asked_angle


def difficulties(solved: SolvedQuestion) -> dict[str, int]:
    """The index of difficulty of a question in each of its scenes, by name."""
    return {scene.name: difficulty(solved, scene) for scene in solved.problem.scenes_of(solved.question)}


def difficulty_spread(solved: SolvedQuestion) -> int:
    """How much the scenes of a question differ in difficulty."""
    found = difficulties(solved).values()
    return max(found) - min(found)
