"""What an item asks of each of its entries, whatever its kind: one small interface for all."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, Protocol, TypeAlias

from ...bank.item.item import Paragraph
from ..markup.elements import Element
from .vocabulary import QTI, add_name, add_number, put

Cardinality: TypeAlias = Literal["single", "multiple"]

SOLUTION, SHOWN = "SOLUTION", "SHOWN"
NO_ANSWER = "NO_ANSWER"
RIGHT = "RIGHT"
COMPARE = "Compare your way with the worked solution."
FIND = "Find the first step of the worked solution that differs from your way."


@dataclass(frozen=True)
class Names:
    """What the variables of an entry are called. An outcome whose name is empty is not there.

    ``solution`` is there only where an answer to this entry alone brings the worked solution; ``label`` tells the
    parts of an item apart. ``earlier`` are the responses of the parts before it. ``solved``: the item has a worked
    solution, to which feedback may point.
    """

    response: str
    score: str
    feedback: str = ""
    solution: str = ""
    label: str = ""
    earlier: tuple[str, ...] = ()
    solved: bool = True


class Part(Protocol):
    """An entry under its names, as each place of an item file shows it."""

    @property
    def names(self) -> Names:
        """What its variables are called."""

    @property
    def feedback_cardinality(self) -> Cardinality:
        """Whether an answer brings one piece of feedback or several."""

    def declare(self, root: Element) -> None:
        """Adds the declaration of its response, with the key."""

    def add_body(self, parent: Element) -> None:
        """Adds what the candidate sees and answers."""

    def add_marking(self, processing: Element) -> None:
        """Adds the condition that sets its score and, in practice, its feedback."""

    def add_feedback(self, root: Element) -> None:
        """Adds the feedback on each kind of answer."""

    def key(self) -> Paragraph:
        """The right answer, for those who mark."""


def conclude(branch: Element, names: Names, score: str, feedback: str) -> None:
    """The score of a branch and what follows it."""
    add_number(put(branch, names.score), score)
    conclude_feedback(branch, names, feedback)


def conclude_feedback(branch: Element, names: Names, feedback: str) -> None:
    """In practice, the one piece of feedback of a branch; an answer brings the worked solution as well."""
    if names.feedback:
        add_name(put(branch, names.feedback), feedback)
    if feedback != NO_ANSWER:
        show_solution(branch, names)


def show_solution(branch: Element, names: Names) -> None:
    """Brings the worked solution, where an answer to this entry does."""
    if names.solution:
        add_name(put(branch, names.solution), SHOWN)


def add_modal(root: Element, names: Names, identifier: str, text: str, pointer: str = "") -> Element:
    """A piece of feedback with its words, which end in a ``pointer`` to the worked solution; the element with them."""
    if pointer and names.solved:
        text = f"{text} {pointer}"
    modal = QTI.add(
        root, "qti-modal-feedback", outcome_identifier=names.feedback, identifier=identifier, show_hide="show"
    )
    content = QTI.add(modal, "qti-content-body")
    QTI.add(content, "p", f"{names.label}: {text}" if names.label else text)
    return content
