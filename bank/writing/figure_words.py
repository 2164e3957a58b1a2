"""The title, the text alternative and the further description of a force diagram, as a teacher tells a listener of it.

Directions and names only. No magnitude and no comparison of lengths is told, since a length can give away an answer.
The alternative says what a reader needs, in fewer than ``MOST`` characters; the description says the rest.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..item import formula
from ..language import capital, listed
from .view import DiagramView, ForceView

MOST = 250  # characters that an alternative stays below: a longer one is heard as one sentence without a stop
COUNTS = ("No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine")
_SHORT = (
    ("vertically upwards", "up"),
    ("vertically downwards", "down"),
    ("upwards at an angle, partly towards the centre", "up and inwards"),
    ("upwards at an angle, partly away from the centre", "up and outwards"),
    ("downwards at an angle, partly towards the centre", "down and inwards"),
    ("downwards at an angle, partly away from the centre", "down and outwards"),
    ("along the path, in the direction of motion", "along the motion"),
    ("along the path, opposite to the direction of motion", "against the motion"),
)


def title(view: DiagramView) -> str:
    """``Force diagram of the paper lantern``."""
    return f"Force diagram of {view.body}"


def alternative(view: DiagramView) -> str:
    """What a reader needs: each force with its letter and its direction, then angles and the acceleration."""
    return _told(view)[0]


def description(view: DiagramView) -> str:
    """What else is to be seen, in full sentences: the place, who exerts the forces, lines and axes."""
    sentences = (
        *_told(view)[1],
        f"The diagram shows {view.body} {view.place}." if view.place else "",
        _agents(view),
        _path(view),
        _axes(view),
        _surface(view),
    )
    return " ".join(sentence for sentence in sentences if sentence)


def _told(view: DiagramView) -> tuple[str, Sequence[str]]:
    """The alternative, and the sentences for which it has no room: none, unless names are very long."""
    needed = list(_needed(view))
    if len(needed[0]) >= MOST:
        needed.insert(0, f"{COUNTS[len(view.forces)] if len(view.forces) < len(COUNTS) else 'Several'} forces.")
    said = needed[0]
    for place, sentence in enumerate(needed[1:], start=1):
        if len(said) + 1 + len(sentence) >= MOST:
            return said, needed[place:]
        said = f"{said} {sentence}"
    return said, ()


def _needed(view: DiagramView) -> Iterator[str]:
    yield f"Forces on {view.body}: {'; '.join(map(_force, view.forces))}." if view.forces else "No force is drawn."
    if view.angles:
        yield f"Angle {'; '.join(angle.words for angle in view.angles)}."
    if view.drawn_acceleration is not None:
        yield f"Acceleration {_short(view.acceleration_words)}."


def _force(force: ForceView) -> str:
    return f"{_marked(force)} {_short(force.direction_words)}"


def _marked(force: ForceView) -> str:
    """``tension (F 1)``: two forces on a body may have the same name."""
    return f"{force.name} ({formula.spoken(force.label)})"


def _short(direction: str) -> str:
    for long, short in _SHORT:
        direction = direction.replace(long, short)
    return direction


def _agents(view: DiagramView) -> str:
    told = [f"the {_marked(each)} is exerted by {each.agent}" for each in view.forces if each.agent]
    return f"{capital(listed(told))}." if told else ""


def _path(view: DiagramView) -> str:
    if view.inward is None:
        return ""
    if view.side_view:
        ellipse = "A flat dashed ellipse shows the horizontal circular path"
        return f"{ellipse}, with a dot at the centre on the vertical axis."
    return "A dashed arc shows part of the circular path, with a dot at the centre."


def _axes(view: DiagramView) -> str:
    inward, second = view.inward is not None, view.second_axis is not None
    sentences = []
    if inward:
        sentences.append(f"A dashed line shows the inward axis, which points {view.inward_words}.")
    if second:
        name = f", marked {view.second_axis_label}" if view.second_axis_label else ""
        points = f", which points {view.second_axis_words}" if view.second_axis_words else ""
        sentences.append(f"{'Another' if inward else 'A'} dashed line shows the second axis{name}{points}.")
    return " ".join(sentences)


def _surface(view: DiagramView) -> str:
    if view.surface is None:
        return ""
    return f"A light hatched line shows {view.surface_words or 'the surface that the body touches'}."
