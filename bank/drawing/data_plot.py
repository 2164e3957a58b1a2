"""Measured points and the line through them as a drawing: axes with numbers, crosses, one thin line."""

from __future__ import annotations

from math import floor, log10

from ..item import formula
from ..item.drawing import Drawing, Label, Mark, Shape, Stroke
from ..item.formula import Node, Row, UnitNode
from ..quantities.quantity import from_float, print_figures
from ..writing.figure_words import COUNTS
from ..writing.plots import data_words
from ..writing.plots.view import DataView
from .labels import extent
from .parts import Point

WIDTH, HEIGHT = 340.0, 268.0
LEFT, RIGHT = 62.0, 318.0
TOP, LEVEL = 40.0, 204.0
HEAD, HEAD_HALF = 11.0, 4.5
ROOM = 20.0  # at the end of an axis
CROSS, TICK = 4.5, 5.0
SYMBOL, NUMBER = 15.0, 14.0
NICE = (1.0, 2.0, 2.5, 5.0, 10.0)
MOST_TICKS, APART = 5, 22.0  # numbers at an axis, and how far they are apart at least where one stands on another
PLAIN = (0.001, 100000.0)  # between these a number has no power of ten


def draw_data(view: DataView) -> Drawing:
    """The plot with its title and text alternative, which tells no number."""
    xs, ys = zip(*view.points, strict=True)
    ends = (0.0, max(xs)) if min(xs) > 0 else (min(xs), max(xs))
    line = [(x, view.slope * x + view.intercept) for x in ends]
    low = min(0.0, *(y for _, y in line), *ys)
    page = _Page(max(xs), low, max(*ys, *(y for _, y in line)))
    fitted = Stroke(*page.at(line[0]), *page.at(line[1]), "medium", "ink")
    marks = (*_axes(page), *_names(view), *_numbers(page), *_crosses(page, view), fitted)
    title = data_words.TITLE.format(up=formula.text(view.up), across=formula.text(view.across))
    way = data_words.RISES if view.slope > 0 else data_words.FALLS
    told = data_words.ALTERNATIVE.format(title=title, count=COUNTS[len(xs)], way=way)
    return Drawing(WIDTH, HEIGHT, marks, title, told)


class _Page:
    """Numbers to places."""

    def __init__(self, most_x: float, low: float, most_y: float) -> None:
        self.most_x, self.low, self.most_y = most_x, low, most_y
        self._across = (RIGHT - ROOM - LEFT) / most_x
        self._up = (LEVEL - TOP - ROOM) / (most_y - low)

    @property
    def level(self) -> float:
        """The height of the horizontal axis."""
        return LEVEL + self.low * self._up

    @property
    def height_above(self) -> float:
        """The height of the room above the horizontal axis."""
        return self._up * self.most_y

    def at(self, point: Point) -> Point:
        """The place of a pair of numbers."""
        return LEFT + self._across * point[0], self.level - self._up * point[1]


def _axes(page: _Page) -> tuple[Mark, ...]:
    level = page.level
    return (
        Stroke(LEFT, level, RIGHT - HEAD, level, tone="ink"),
        Shape(((RIGHT, level), (RIGHT - HEAD, level - HEAD_HALF), (RIGHT - HEAD, level + HEAD_HALF))),
        Stroke(LEFT, LEVEL, LEFT, TOP + HEAD, tone="ink"),
        Shape(((LEFT, TOP), (LEFT - HEAD_HALF, TOP + HEAD), (LEFT + HEAD_HALF, TOP + HEAD))),
    )


def _names(view: DataView) -> tuple[Label, ...]:
    across, up = _named(view.across, view.across_unit), _named(view.up, view.up_unit)
    return (
        Label(RIGHT - extent(across, SYMBOL)[0] / 2, HEIGHT - 20.0, across, SYMBOL),
        Label(max(LEFT, 8.0 + extent(up, SYMBOL)[0] / 2), TOP - 18.0, up, SYMBOL),
    )


def _named(quantity: Node, unit: str) -> Node:
    return Row((quantity, UnitNode(f"in {unit}"))) if unit else quantity


def _numbers(page: _Page) -> list[Mark]:
    """Ticks with their numbers on both axes."""
    marks: list[Mark] = []
    for value in _with_room(page):
        x, level = page.at((value, 0.0))
        marks += [Stroke(x, level, x, level + TICK, tone="ink"), Label(x, LEVEL + 15.0, _said(value), NUMBER)]
    for value in _nice(page.most_y, max(1, min(MOST_TICKS, int(page.height_above / APART)))):
        _, y = page.at((0.0, value))
        told = _said(value)
        beside = LEFT - TICK - 4.0 - extent(told, NUMBER)[0] / 2
        marks += [Stroke(LEFT - TICK, y, LEFT, y, tone="ink"), Label(beside, y, told, NUMBER)]
    return marks


def _with_room(page: _Page) -> list[float]:
    """The numbers at the horizontal axis: as many as stand there beside each other."""
    for ticks in range(MOST_TICKS, 1, -1):
        values = _nice(page.most_x, ticks)
        apart = page.at((values[0], 0.0))[0] - LEFT
        if all(extent(_said(each), NUMBER)[0] + TICK < apart for each in values):
            return values
    return _nice(page.most_x, 1)


def _nice(most: float, ticks: int = MOST_TICKS) -> list[float]:
    """Round numbers above 0 and up to the greatest, a few of them."""
    rough = most / ticks
    power = 10.0 ** floor(log10(rough))
    step = next(each * power for each in NICE if each * power >= rough * (1 - 1e-9))
    return [step * number for number in range(1, ticks + 1) if step * number <= most * (1 + 1e-9)]


def _said(value: float) -> str:
    """The number with as many places as it has; with a power of ten where it would else be long."""
    number = from_float(value).normalize()
    if PLAIN[0] <= value < PLAIN[1]:
        return f"{number:f}"
    return print_figures(number, len(number.as_tuple().digits))


def _crosses(page: _Page, view: DataView) -> list[Mark]:
    marks: list[Mark] = []
    for point in view.points:
        x, y = page.at(point)
        for way in (1, -1):
            marks.append(Stroke(x - CROSS, y - way * CROSS, x + CROSS, y + way * CROSS, "medium", "ink"))
    return marks
