"""The title and the text alternative of a force diagram: what a teacher would say who describes it to a listener.

Directions and names only. No magnitude and no comparison of lengths is told, since a length can give away an answer.
"""

from __future__ import annotations

from ..item import formula
from .view import DiagramView, ForceView

COUNTS = ("No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine")


def title(view: DiagramView) -> str:
    """``Force diagram of the paper lantern``."""
    return f"Force diagram of {view.body}"


def alternative(view: DiagramView) -> str:
    """All that the diagram shows, in full sentences, in the order forces, lines, angles, acceleration."""
    sentences = (
        f"{title(view)} {view.place}.".replace(" .", "."),
        _forces(view),
        _path(view),
        _axes(view),
        _surface(view),
        _angles(view),
        _acceleration(view),
    )
    return " ".join(sentence for sentence in sentences if sentence)


def _count(number: int, noun: str) -> str:
    counted = COUNTS[number] if number < len(COUNTS) else "Several"
    return f"{counted} {noun} is" if number == 1 else f"{counted} {noun}s are"


def _forces(view: DiagramView) -> str:
    opening = f"{_count(len(view.forces), 'force')} drawn on {view.body}"
    return f"{opening}: {'; '.join(map(_force, view.forces))}." if view.forces else "No force is drawn."


def _force(force: ForceView) -> str:
    parts = (
        f"the {force.name}",
        f"marked {formula.spoken(force.label)}",
        f"exerted by {force.agent}" if force.agent else "",
        force.direction_words,
    )
    return ", ".join(part for part in parts if part)


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


def _angles(view: DiagramView) -> str:
    if not view.angles:
        return ""
    return f"{_count(len(view.angles), 'angle')} marked: {'; '.join(angle.words for angle in view.angles)}."


def _acceleration(view: DiagramView) -> str:
    if view.drawn_acceleration is None:
        return ""
    return f"A separate open arrow shows the acceleration, {view.acceleration_words}."
