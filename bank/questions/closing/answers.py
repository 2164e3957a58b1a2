"""What to choose: the key of a question about forces, a diagram or an equation, as the last step of its solution."""

from __future__ import annotations

from ...item.formula import Node
from ...item.item import ChoiceEntry, Math, Paragraph, Step, Words
from ...language import count, listed
from ...writing import prompts
from ...writing.stem import filled
from ..about import About


def forces(about: About, entry: ChoiceEntry) -> Step:
    """The forces that are right among those offered."""
    right = [_text(each.content) for each in entry.options if each.right and isinstance(each.content, tuple)]
    told = prompts.ONE_FORCE if len(right) == 1 else prompts.FORCES
    return _step(filled(told, body=about.body, forces=listed(right)))


def diagram(about: About, entry: ChoiceEntry) -> Step:
    """The arrows of the right diagram."""
    shown: dict[str, str | int | Node] = {}
    parts = []
    for place, each in enumerate(about.view.forces):
        shown[f"label{place}"] = each.label
        told = prompts.DRAWN_FORCE.format(force=each.name, label=f"{{label{place}}}", direction=each.direction_words)
        parts.append(told)
    sentence = (prompts.MAY_BE if about.either_way else prompts.DIAGRAM).replace("{forces}", listed(parts))
    return _step(filled(sentence, count=count(len(parts), "force arrow"), **shown))


def equation(about: About, entry: ChoiceEntry) -> Step:
    """The right equation."""
    return _chosen(prompts.EQUATION, entry)


def expression(entry: ChoiceEntry) -> Step:
    """The right expression."""
    return _chosen(prompts.EXPRESSION, entry)


def _chosen(sentence: str, entry: ChoiceEntry) -> Step:
    """A sentence with the formula of the right option."""
    (content,) = (each.content for each in entry.options if each.right)
    assert isinstance(content, tuple)
    (row,) = (each.node for each in content if isinstance(each, Math))
    return _step(filled(sentence, row=row))


def _step(said: Paragraph) -> Step:
    return Step(0, prompts.ANSWER, (said,))


def _text(content: Paragraph) -> str:
    return "".join(each.text for each in content if isinstance(each, Words))
