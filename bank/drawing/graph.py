"""A graph as a drawing: two thin axes from 0 with a letter at each end, and one bold line; no numbers, no grid."""

from __future__ import annotations

from functools import lru_cache

from ..item.drawing import Drawing, Label, Mark, Shape, Stroke, Trace
from ..writing.plots import graph_words
from ..writing.plots.view import GraphView, Points
from .labels import extent
from .parts import Point

WIDTH, HEIGHT = 256.0, 198.0
LEFT, RIGHT = 40.0, 192.0  # of the horizontal axis
TOP, LEVEL = 34.0, 174.0  # of the vertical axis, and the height of the horizontal one
HEAD, HEAD_HALF = 11.0, 4.5  # of an axis
ROOM = 18.0  # at the end of an axis that no line reaches
SYMBOL, ZERO, GAP = 18.0, 15.0, 5.0


@lru_cache(maxsize=1024)  # all scenes that print the same letters show the same graphs
def draw_graph(view: GraphView) -> Drawing:
    """The graph with its title and text alternative."""
    marks = (*_axes(), *_letters(view), Trace(_on_page(view.points), "bold"))
    title = graph_words.TITLE.format(up=view.up_words, across=view.across_words)
    return Drawing(WIDTH, HEIGHT, marks, title, graph_words.ALTERNATIVE.format(title=title, told=view.told))


def _on_page(points: Points) -> tuple[Point, ...]:
    across, up = RIGHT - ROOM - LEFT, LEVEL - TOP - ROOM
    return tuple((LEFT + across * x, LEVEL - up * y) for x, y in points)


def _axes() -> tuple[Mark, ...]:
    return (
        Stroke(LEFT, LEVEL, RIGHT - HEAD, LEVEL, tone="ink"),
        Shape(((RIGHT, LEVEL), (RIGHT - HEAD, LEVEL - HEAD_HALF), (RIGHT - HEAD, LEVEL + HEAD_HALF))),
        Stroke(LEFT, LEVEL, LEFT, TOP + HEAD, tone="ink"),
        Shape(((LEFT, TOP), (LEFT - HEAD_HALF, TOP + HEAD), (LEFT + HEAD_HALF, TOP + HEAD))),
    )


def _letters(view: GraphView) -> tuple[Label, ...]:
    """The letters beyond the ends of the axes, where no line comes, and the 0 beside the origin."""
    across, _ = extent(view.across, SYMBOL)
    up, _ = extent(view.up, SYMBOL)
    return (
        Label(RIGHT + GAP + across / 2, LEVEL, view.across, SYMBOL),
        Label(max(LEFT, up / 2 + GAP), TOP - SYMBOL, view.up, SYMBOL),
        Label(LEFT - GAP - ZERO / 2, LEVEL, "0", ZERO),
    )
