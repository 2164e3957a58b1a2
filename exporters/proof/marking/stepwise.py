"""Several parts of one item: each earns its own marks whatever the others are, and the score is their sum."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from ...strangers.parsing import shown
from ..processing.expressions import Scope
from ..processing.values import Value
from ..report import plain
from .trial import Answer, Bench, PartTrial, listed, marks, wrong_score

MOST_ANSWERS = 12  # of each part, tried while the other parts are right
ROUNDING = Decimal("1e-9")
FAR = 1_000_000  # times the key, below zero


def examine_together(bench: Bench, trials: Sequence[PartTrial], expected: bool) -> Iterator[str]:
    """What is wrong with how the parts of an item count together; ``trials`` hold what each is worth alone.

    Where an item is ``expected``, each part must have an outcome of its own.
    """
    whole = _Whole(bench, trials)
    wrong = list(whole.wrong_names(expected))
    yield from wrong or whole.wrong_sums()


@dataclass
class _Whole:
    """All parts of an item under trial."""

    bench: Bench
    trials: Sequence[PartTrial]

    @cached_property
    def names(self) -> tuple[str, ...]:
        """The outcome with the score of each part: SCORE_2 for RESPONSE_2."""
        return tuple(f"SCORE_{each.part.response.identifier.rpartition('_')[2]}" for each in self.trials)

    @cached_property
    def declared(self) -> frozenset[str]:
        """The outcomes with scores of parts that are there."""
        return frozenset(self.bench.part_scores)

    def wrong_names(self, expected: bool) -> Iterator[str]:
        """A finding, where some parts have a score of their own and others have not."""
        if self.declared != set(self.names) and (expected or self.declared):
            found = listed(sorted(self.declared))
            yield f"the outcomes with scores of parts are {shown(found)}; {shown(listed(self.names))} expected"

    def wrong_sums(self) -> Iterator[str]:
        """What is wrong with no answer, all right, each part alone, each part beside right ones, and all wrong."""
        full = [each.full for each in self.trials]
        yield from self._check(self.bench.mark({}), [0] * len(full), "without an answer")
        yield from self._check(self._answered([each.key for each in self.trials]), full, "with all parts right")
        if self.bench.full_marks and self.bench.full_marks[0] != sum(full):
            whole = marks(self.bench.full_marks[0])
            yield f"the parts are worth {marks(sum(full))} together, full marks are {whole}"
        for place in range(len(self.trials)):
            yield from self._wrong_part(place)
        worst = [_worst(each) for each in self.trials]
        worth = [each.score(answer) for each, answer in zip(self.trials, worst, strict=True)]
        yield from self._check(self._answered(worst), worth, "with all parts wrong")

    def _wrong_part(self, place: int) -> Iterator[str]:
        """One part answered in many ways, alone and while all others are right."""
        scopes = self.trials[place].scopes
        for answer in list(scopes)[:: 1 + len(scopes) // MOST_ANSWERS]:
            quoted = shown(answer if isinstance(answer, str) else listed(answer))
            alone: list[Value] = [0] * len(self.trials)
            beside = [each.full for each in self.trials]
            alone[place] = beside[place] = scopes[answer]["SCORE"]
            yield from self._check(scopes[answer], alone, f"with part {place + 1} alone answered '{quoted}'")
            answers = [each.key for each in self.trials]
            answers[place] = answer
            scope = self._answered(answers)
            yield from self._check(scope, beside, f"with part {place + 1} answered '{quoted}'")
            if not self.trials[place].brings(answer) <= self.bench.feedback.shown(scope):
                yield f"with part {place + 1} answered '{quoted}' beside right answers, its feedback is not shown"

    def _answered(self, answers: Sequence[Answer]) -> Scope:
        """All variables after every part is answered."""
        given = zip(self.trials, answers, strict=True)
        return self.bench.mark({each.part.response.identifier: answer for each, answer in given})

    def _check(self, scope: Scope, worth: Sequence[Value], when: str) -> Iterator[str]:
        """The score is the sum of what the parts are worth, and each part's score is what it is worth."""
        if None in worth:
            return
        yield from wrong_score(scope["SCORE"], sum(worth), f"{when}, the item", ROUNDING)
        for name, value in zip(self.names, worth, strict=True):
            if name in self.declared:
                yield from wrong_score(scope[name], value, f"{when}, {name}", ROUNDING)


def _worst(trial: PartTrial) -> Answer:
    """A wrong answer; a number so far off that it follows from no wrong choice in another part."""
    if trial.part.kind == "number" and isinstance(trial.key, str):
        return plain(-FAR * (abs(Decimal(trial.key)) + 1))
    least = min(trial.score(each) or 0 for each in trial.scopes)
    return max(each for each in trial.scopes if (trial.score(each) or 0) == least)
