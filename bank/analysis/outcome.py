"""What an analysis found: plain frozen values for a page, a script, or a file beside a problem."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from .chosen import Chosen
from .classical import Reliability
from .differential import Differential
from .disagreements import MarkedAgain
from .equivalence import Equivalence, Homogeneity
from .told import AnalysisNote


@dataclass(frozen=True)
class Flag:
    """One thing to look at: a rule in plain words with its source; ``variant`` is the item it is about, if any."""

    rule: str
    words: str
    source: str
    variant: str = ""


@dataclass(frozen=True)
class VariantOutcome:
    """How one variant of a question did; ``residual`` is how far it lies from its siblings, in standard errors."""

    item: str
    variant: int
    scene: str
    candidates: int
    right: int
    residual: float | None = None
    p: float | None = None

    @property
    def share(self) -> float:
        """The share of full marks."""
        return self.right / self.candidates if self.candidates else float("nan")


@dataclass(frozen=True)
class Siblings:
    """The variants of a question against each other; ``p`` is that of the chi-square corrected over all questions.

    ``pairs`` are how many pairs of variants were compared, ``equivalent`` how many of them were shown to be as hard as
    each other; ``widest`` is the pair that lies furthest apart.
    """

    variants: tuple[VariantOutcome, ...]
    test: Homogeneity | None
    p: float | None
    pairs: int
    equivalent: int
    widest: tuple[str, str, Equivalence] | None


@dataclass(frozen=True)
class Between:
    """The differential functioning of a question between two groups."""

    reference: str
    focal: str
    found: Differential


@dataclass(frozen=True)
class QuestionOutcome:
    """One question in one form; ``number`` counts inside the form, ``items`` are its variants there.

    ``siblings`` are its variants in all forms. A figure that is not defined is NaN. With ``rests_on_manifest`` its
    figures come from the marks by the manifest where it can tell them, else from those that the results tell.
    """

    form: str
    number: int
    id: str
    kind: str
    version: int
    marks: float
    objectives: tuple[str, ...]
    predicted: float | None
    candidates: int
    facility: float
    error: float
    item_total: float
    item_rest: float
    upper_lower: float
    omitted: float
    unknown: int
    without: float
    difficulty: float
    difficulty_error: float
    seconds: float
    chosen: tuple[Chosen, ...]
    siblings: Siblings
    marked_again: MarkedAgain | None
    rests_on_manifest: bool
    items: tuple[str, ...] = ()
    between: tuple[Between, ...] = ()
    flags: tuple[Flag, ...] = ()

    @property
    def is_doubtful(self) -> bool:
        """Whether its figures rest on marks that the manifest denies."""
        return self.marked_again is not None and self.marked_again.is_doubtful and not self.rests_on_manifest


@dataclass(frozen=True)
class FormOutcome:
    """One form as a whole; ``mean`` and ``spread`` are of the share of marks, ``shares`` those of all candidates."""

    name: str
    candidates: int
    questions: int
    marks: float
    mean: float
    spread: float
    reliability: Reliability
    complete: int
    shares: tuple[float, ...] = field(repr=False)
    flags: tuple[Flag, ...] = ()
    silence: tuple[str, ...] = ()


@dataclass(frozen=True)
class Comparison:
    """Two forms: the difference of their mean shares of the marks, and whether they are shown to be equivalent."""

    first: str
    second: str
    found: Equivalence


@dataclass(frozen=True)
class Evidence:
    """What the answers say of a thought: shown, no more than chance, or open, where they can't tell yet.

    ``alone`` answers are explained by it only; chance would give ``chance`` of them. ``rate`` is its share in the
    answers that could show it, with a likelihood interval at 95 %; where it is not shown only ``upper`` is known.
    """

    verdict: Literal["shown", "open", "chance"]
    alone: int
    chance: float
    rate: float
    lower: float
    upper: float


@dataclass(frozen=True)
class Thought:
    """A mistake, how many answers showed it, of how many that could, and in which questions (id, form, count).

    ``alone`` of the answers are explained by it only; the others by those of ``rivals`` as well, the commonest first.
    """

    mistake: str
    count: int
    offered: int
    questions: tuple[tuple[str, str, int], ...]
    alone: int = 0
    rivals: tuple[str, ...] = ()
    evidence: Evidence | None = None

    @property
    def joint(self) -> int:
        """How many of its answers another thought explains as well."""
        return self.count - self.alone

    @property
    def is_shown(self) -> bool:
        """Whether more answers than by chance are explained by it alone."""
        return self.evidence is not None and self.evidence.verdict == "shown"

    @property
    def is_open(self) -> bool:
        """Whether the answers can't tell yet."""
        return self.evidence is not None and self.evidence.verdict == "open"


@dataclass(frozen=True)
class Outcome:
    """All that was found; ``thoughts`` are ranked, ``by_objective`` the same for the questions of each objective."""

    assessment: str
    title: str
    bank: str
    candidates: int
    answers: int
    forms: tuple[FormOutcome, ...]
    questions: tuple[QuestionOutcome, ...]
    comparisons: tuple[Comparison, ...]
    thoughts: tuple[Thought, ...]
    by_objective: Mapping[str, tuple[Thought, ...]]
    notes: tuple[AnalysisNote, ...]

    @property
    def disagreements(self) -> tuple[QuestionOutcome, ...]:
        """The questions of which some answers have other marks by the manifest, the most such answers first."""
        found = [each for each in self.questions if each.marked_again and each.marked_again.differing]
        return tuple(sorted(found, key=lambda each: -each.marked_again.differing if each.marked_again else 0))
