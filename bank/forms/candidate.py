"""Questions that a form may take, with all that a blueprint asks about; no item is made for them yet."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from math import fsum

from ..model.mistake import Mistake
from ..model.problem import Problem
from ..questions.item_model import ItemModel
from ..questions.kinds import KIND, KINDS, Kind, Thinking
from ..questions.matching.situations import alike
from ..questions.of_question import questions_of
from ..questions.selection import models_of
from ..questions.stepwise import Steps
from ..solving.solution import SolvedQuestion
from ..writing.solution import asked_diagram
from .demand import thinking_of
from .measured import FEWEST, Measured
from .prediction import Features, features_of, predicted_facility, predicted_minutes


@dataclass(frozen=True)
class Candidate:
    """One question of one kind.

    ``question`` is the question of the problem file that it asks in its own way, empty for one about a diagram alone;
    ``diagram`` the diagram that it is about. ``equation`` is alike for questions with the same equations but for names.
    ``facility`` and ``minutes`` are means over its scenes; ``measured`` says from whom the facility comes, None where
    it is predicted. ``steps`` are those before its number, each worth a mark; ``found_marks`` are what its items were
    found to be worth, once some were made.
    """

    id: str
    kind: Kind
    problem: str
    family: str
    objectives: tuple[str, ...]
    level: str
    version: int
    question: str
    diagram: str
    equation: str
    thinking: Thinking
    minutes: int
    facility: float
    scenes: tuple[str, ...]
    measured: Measured | None = None
    by_scene: Mapping[str, float] = field(default_factory=dict, compare=False)
    asked: ItemModel | None = field(default=None, compare=False, repr=False)
    steps: Steps | None = field(default=None, compare=False, repr=False)
    found_marks: int | None = None

    @cached_property
    def marks(self) -> int:
        """What it is worth. Steps have to be made to be counted, so that is done for who is asked only."""
        if self.found_marks is not None or self.steps is None:
            return self.found_marks or 1
        return 1 + len(next(iter(self.steps.of_scene.values())))

    @property
    def contents(self) -> frozenset[str]:
        """The families, problems and objectives that it belongs to."""
        return frozenset({self.family, self.problem, *self.objectives})

    def facility_in(self, scene: str) -> float:
        """The facility in one of its scenes; a measured one stands for all."""
        return self.facility if self.measured else self.by_scene.get(scene, self.facility)


def candidates(
    solved: Sequence[SolvedQuestion],
    catalogue: Sequence[Mistake],
    problems: Sequence[Problem],
    results: Mapping[str, Measured],
    done: Callable[[int], None] = lambda _: None,
) -> tuple[Candidate, ...]:
    """All questions of the solved ones that a form may take, of each kind, in bank order."""
    maker = _CandidateMaker(solved, tuple(catalogue), problems, results)
    return tuple(maker.all(done))


class _CandidateMaker:
    """Makes the candidates; holds what is looked up for each."""

    def __init__(
        self,
        solved: Sequence[SolvedQuestion],
        catalogue: tuple[Mistake, ...],
        problems: Sequence[Problem],
        results: Mapping[str, Measured],
    ) -> None:
        self.solved = {each.id: each for each in solved}
        self.first = {each.problem.id: each for each in reversed(solved)}
        self.results = results
        self.questions = {each.id: questions_of(each, catalogue) for each in solved}
        self.asked = list(models_of(self.questions.values(), KINDS, problems))
        self.equations = {
            f"{each.problem.id}.{each.diagram.name}": f"{group[0].problem.id}.{group[0].diagram.name}"
            for group in alike(problems)
            for each in group
        }
        self.features = {each.id: _features(each) for each in solved}

    def all(self, done: Callable[[int], None]) -> Iterator[Candidate]:
        for asked in self.asked:
            done(1)
            yield self._candidate(asked)

    def _candidate(self, asked: ItemModel) -> Candidate:
        facts = asked.metadata
        name = facts.question.partition("/")[0]
        own = self.solved.get(f"{facts.problem}.{name}")
        base = own or self.first[facts.problem]
        diagram = self._diagram(base, "" if own else name)
        features = self.features[own.id] if own else {scene.name: Features() for scene in base.problem.scenes}
        by_scene = {scene: predicted_facility(asked.kind, each) for scene, each in features.items()}
        known = self.results.get(asked.id)
        known = known if known and known.n >= FEWEST else None
        steps = next(iter(features.values()))
        return Candidate(
            id=asked.id, kind=asked.kind, problem=facts.problem, family=facts.family, objectives=facts.objectives,
            level=facts.level, version=facts.version, question=own.id if own else "", diagram=diagram,
            equation=self._equation(base, diagram), thinking=thinking_of(asked.kind, steps.steps + steps.limiting),
            minutes=self._minutes(asked, own, steps),
            facility=known.facility if known else fsum(by_scene.values()) / len(by_scene),
            scenes=tuple(by_scene), measured=known, by_scene=by_scene, asked=asked,
            steps=self.questions[own.id].steps if own and KIND[asked.kind].steps else None,
        )  # fmt: skip

    def _diagram(self, base: SolvedQuestion, name: str) -> str:
        found = base.problem.diagram(name) if name else asked_diagram(base)
        return f"{base.problem.id}.{found.name}" if found else ""

    def _equation(self, base: SolvedQuestion, diagram: str) -> str:
        """What the equations are called; without a force diagram they are known by the closed form."""
        return self.equations.get(diagram) or f"{base.problem.family}: {base.solution.closed_form}"

    def _minutes(self, asked: ItemModel, own: SolvedQuestion | None, features: Features) -> int:
        """The minutes that the problem file states, else predicted ones."""
        usual = asked.metadata.minutes
        stated = own and own.problem.document.values.get(("questions", own.question.name, "minutes"))
        return usual if stated else predicted_minutes(asked.kind, features, usual)


def _features(solved: SolvedQuestion) -> dict[str, Features]:
    return {scene.name: features_of(solved, scene) for scene in solved.problem.scenes_of(solved.question)}
