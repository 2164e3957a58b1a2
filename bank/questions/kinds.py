"""The kinds of questions: one table of all that is known of a kind, from which everything else reads.

A new kind is a row here and its maker, in ``of_question`` or ``of_diagram``. The module loads next to nothing, so that
the help of a command can list the kinds at once.
"""

from __future__ import annotations

import difflib
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal, TypeAlias

from ..errors import UnknownNameError

Kind: TypeAlias = Literal[
    "number", "choice", "expression", "direction", "forces", "diagram", "equation", "change", "graph", "limit",
    "data", "rank", "match", "stepwise",
]  # fmt: skip
Thinking: TypeAlias = Literal["recall", "qualitative", "one-step", "multi-step"]


@dataclass(frozen=True)
class QuestionKind:
    """What is known of one kind of question.

    ``about``: whether a question or a diagram of a problem file gives it. ``entry``: what is answered. ``per``: whether
    there is an item for each variant or only for each scene. ``figure``: whether the item shows the force diagram,
    leaves it out, or leaves it out because it answers the item. ``title``: what it is called after what it is ``of``,
    and ``what`` tells it from others of the kind. ``minutes``: how long it takes, None for as long as the question
    itself. ``thinking``: what it asks for, None where that depends on the steps to the answer. ``ease`` and
    ``guessed``: see ``forms.prediction``. ``has_difficulty``: whether the stated index is told of it. ``steps``: the
    kinds that come first inside it.
    """

    name: Kind
    about: Literal["question", "diagram"]
    entry: Literal["number", "choice", "several", "order", "match", "parts"]
    per: Literal["variant", "scene"]
    figure: Literal["shown", "left out", "answers it"]
    title: str
    minutes: int | None
    thinking: Thinking | None
    ease: float
    guessed: float
    has_difficulty: bool = False
    steps: tuple[Kind, ...] = ()

    @property
    def is_derived(self) -> bool:
        """Whether it asks something else than the number that the question itself asks for."""
        return self.minutes is not None

    @property
    def is_calculated(self) -> bool:
        """Whether the answer is worked out, in numbers or letters."""
        return self.thinking not in ("recall", "qualitative")

    @property
    def has_options(self) -> bool:
        """Whether options are chosen, one or several."""
        return self.entry in ("choice", "several")

    @property
    def tells_diagram(self) -> bool:
        """Whether its answer tells something of its own force diagram."""
        return bool(self.steps) or (self.about == "diagram" and self.entry != "match")


_TABLE = (
    # name, about, entry, per, figure; title; minutes, thinking, ease, guessed
    QuestionKind("number", "question", "number", "variant", "shown",
        "{of}", None, None, 0.0, 0.0, has_difficulty=True),
    QuestionKind("choice", "question", "choice", "variant", "shown",
        "{of}: which value", None, None, 0.0, 0.25, has_difficulty=True),
    QuestionKind("expression", "question", "choice", "scene", "shown",
        "{of}: which expression", 3, None, 0.2, 0.25, has_difficulty=True),
    QuestionKind("direction", "diagram", "choice", "scene", "answers it",
        "{of}: which way the {what}", 1, "recall", 1.2, 0.25),
    QuestionKind("forces", "diagram", "several", "scene", "answers it",
        "{of}: which forces act", 2, "recall", 0.6, 0.0),
    QuestionKind("diagram", "diagram", "choice", "scene", "answers it",
        "{of}: which force diagram is correct", 2, "qualitative", 0.7, 0.25),
    QuestionKind("equation", "diagram", "choice", "scene", "left out",
        "{of}: which equation is correct", 2, "qualitative", 0.4, 0.25),
    QuestionKind("change", "question", "choice", "scene", "shown",
        "{of}: {what}", 2, "qualitative", 0.1, 0.2),
    QuestionKind("graph", "question", "choice", "scene", "left out",
        "{of}: which graph", 2, "qualitative", 0.2, 0.25),
    QuestionKind("limit", "question", "choice", "scene", "shown",
        "{of}: {what}", 2, "qualitative", 0.4, 0.25),
    QuestionKind("data", "question", "number", "scene", "left out",
        "{of}: from measured values", 12, "multi-step", -0.2, 0.0),
    QuestionKind("rank", "question", "order", "scene", "shown",
        "{of}: rank the cases", 4, "multi-step", -0.3, 0.0),
    QuestionKind("match", "diagram", "match", "scene", "left out",
        "{of}: which situations have the same equations", 5, "qualitative", -0.3, 0.0),
    QuestionKind("stepwise", "question", "parts", "variant", "answers it",
        "{of}: step by step", 8, "multi-step", 0.3, 0.1, has_difficulty=True,
        steps=("direction", "diagram", "equation")),
)  # fmt: skip
KIND: Mapping[Kind, QuestionKind] = MappingProxyType({each.name: each for each in _TABLE})
KINDS: tuple[Kind, ...] = tuple(KIND)
# where a mistaken idea, which leads to no number, stands among the options: by the name of its edit
KINDS_OF_IDEA: Mapping[str, tuple[Kind, ...]] = MappingProxyType(
    {
        "direction": ("direction",),
        "diagram": ("forces", "diagram"),
        "drawn": ("diagram", "equation"),
        "scaling": ("change", "graph"),
        "plotted": ("graph",),
        "outcome": ("limit",),
        "written": ("expression", "equation"),
    }
)


def kinds_where(holds: Callable[[QuestionKind], bool]) -> tuple[Kind, ...]:
    """The kinds of which something holds, in the order of the table."""
    return tuple(each.name for each in _TABLE if holds(each))


def kinds_of(text: str) -> tuple[Kind, ...]:
    """The kinds named in a list with commas; ``all`` for all. Raises UnknownNameError."""
    if text == "all":
        return KINDS
    wanted = [each.strip() for each in text.split(",") if each.strip()]
    for each in wanted:
        if each not in KINDS:
            raise UnknownNameError("kind of question", each, difflib.get_close_matches(each, KINDS, n=2) or KINDS)
    return kinds_where(lambda each: each.name in wanted)
