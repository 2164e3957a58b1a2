"""What the sign-off page tells of a question, and of the whole: plain data, made before a word of HTML is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from ...bank.item.item import Item, Metadata
from ...bank.model.mistake import Mistake
from ...bank.writing.demonstration import Card


@dataclass(frozen=True)
class Quality:
    """What was found about the solved question that a sheet's items come from.

    ``difficulty`` is the index of each scene, ``dropped`` how many combinations of draws break what; ``notes``
    wait for a person's judgement, and of the ``answered`` ones the file says why it is right.
    """

    question: str
    variants: int
    difficulty: Mapping[str, int]
    notes: tuple[str, ...] = ()
    answered: tuple[str, ...] = ()
    faults: tuple[str, ...] = ()
    dropped: Mapping[str, int] = field(default_factory=dict)

    @property
    def clear(self) -> bool:
        """Whether nothing waits for the judgement of a person."""
        return not (self.notes or self.faults)


@dataclass(frozen=True)
class SituationSheet:
    """What all questions of a problem share: its title, the cautions of its stories, how it is shown in class.

    ``without_card`` says why it is not shown, where somebody has written it.
    """

    title: str
    cautions: tuple[str, ...] = ()
    card: Card | None = None
    without_card: str = ""


@dataclass(frozen=True)
class Sheet:
    """One question for those who check it: ``items`` are its first variants, of which ``shown`` are told in full.

    ``exist`` says in words how many there are. ``thoughts`` are the mistakes that may stand behind a wrong answer.
    """

    metadata: Metadata
    situation: SituationSheet
    items: tuple[Item, ...]
    shown: int
    exist: str
    quality: Quality
    thoughts: Mapping[str, Mistake] = field(default_factory=dict)

    @property
    def id(self) -> str:
        """The id of the question."""
        return f"{self.metadata.problem}.{self.metadata.question}"

    @property
    def told(self) -> tuple[Item, ...]:
        """The items told in full."""
        return self.items[: self.shown]


@dataclass(frozen=True)
class BookHead:
    """The facts that stand above all sheets."""

    title: str
    gravity: str
    seed: int
    version: str
    date: str = ""
