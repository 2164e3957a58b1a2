"""Plots of the report as drawings of the house, so that they follow the page's colours and load nothing.

A plotting library was weighed: its SVG colours and sizes stand in style attributes, which the page's policy forbids.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from ...bank.analysis.chosen import Chosen
from ...bank.analysis.outcome import Comparison, FormOutcome, QuestionOutcome
from ...bank.item.drawing import Disc, Drawing, Label, Mark, Stroke, Tone, Trace, Weight
from ..qti.options import letter

SMALL = 13.0
THIRDS = ("lower third", "middle third", "upper third")
DASHES: tuple[tuple[float, ...], ...] = ((), (7, 4), (2, 4), (10, 4, 2, 4), (4, 3), (1, 3))
MOST_LINES = 6
BOTTOM = 204.0


@dataclass(frozen=True)
class PlotAxes:
    """A rectangle of the page with what it stands for along both sides."""

    left: float
    top: float
    width: float
    height: float
    x_from: float
    x_to: float
    y_from: float
    y_to: float

    def x(self, value: float) -> float:
        """Where a value lies along the page."""
        return self.left + (value - self.x_from) / (self.x_to - self.x_from) * self.width

    def y(self, value: float) -> float:
        """Where a value lies down the page."""
        return self.top + (self.y_to - value) / (self.y_to - self.y_from) * self.height

    def grid(self, ys: Sequence[float], shown: Callable[[float], str]) -> list[Mark]:
        """Lines across, each with its value, and the two sides."""
        marks: list[Mark] = []
        for value in ys:
            at = self.y(value)
            marks.append(Stroke(self.left, at, self.left + self.width, at, dashes=(1, 5)))
            marks.append(Label(self.left - 24, at, shown(value), SMALL, "soft"))
        bottom = self.top + self.height
        return [*marks, Stroke(self.left, self.top, self.left, bottom), self.base()]

    def base(self) -> Stroke:
        """The lower side."""
        bottom = self.top + self.height
        return Stroke(self.left, bottom, self.left + self.width, bottom)


def small(place: int) -> str:
    """The letter of an answer in plot and table; small, since options have capitals."""
    return letter(place).lower()


def percent(share: float) -> str:
    """A share as a percentage without decimals."""
    return f"{share:.0%}".replace("%", " %")


def curves(question: QuestionOutcome, names: Sequence[str], label: str) -> Drawing:
    """How answers of each sort go with ability; ``names`` tell the sorts in words, lettered as in the table."""
    shown = list(zip(question.chosen, names, strict=True))[:MOST_LINES]
    axes = PlotAxes(58, 14, 330, 190, 0, 2, 0, 1)
    marks = axes.grid((0, 0.25, 0.5, 0.75, 1), percent)
    marks += [Label(axes.x(place), 222, each, SMALL, "soft") for place, each in enumerate(THIRDS)]
    sizes = [max(1, sum(each.by_third[third] for each in question.chosen)) for third in range(3)]
    ends = _spread([axes.y(each.by_third[2] / sizes[2]) for each, _ in shown])
    for place, ((each, _), end) in enumerate(zip(shown, ends, strict=True)):
        marks += _curve(axes, each, sizes, place, end)
    told = "; ".join(f"{small(place)} {name}: {_told(each, sizes)}" for place, (each, name) in enumerate(shown))
    title = f"Answers to question {label} by third of the totals"
    return Drawing(424, 238, tuple(marks), title, f"{title}, lower, middle, upper. {told}.")


def _told(each: Chosen, sizes: Sequence[int]) -> str:
    return ", ".join(percent(count / size) for count, size in zip(each.by_third, sizes, strict=True))


def _curve(axes: PlotAxes, each: Chosen, sizes: Sequence[int], place: int, end: float) -> list[Mark]:
    points = [(axes.x(third), axes.y(each.by_third[third] / sizes[third])) for third in range(3)]
    right = each.sort == "right"
    tone: Tone = "accent" if right else "ink" if each.sort == "mistake" else "soft"
    weight: Weight = "bold" if right else "medium"
    dashes = () if right else DASHES[place % len(DASHES)]
    marks: list[Mark] = [Trace(tuple(points), weight, tone, dashes)]
    marks += [Disc(x, y, 3, "thin", tone, filled=True) for x, y in points]
    return [*marks, Label(points[2][0] + 18, end, small(place), 15, tone)]


def _spread(places: Sequence[float], apart: float = 17) -> list[float]:
    """The places moved so that none comes too near another, in their order."""
    moved = [0.0] * len(places)
    last = -math.inf
    for place in sorted(range(len(places)), key=lambda each: (places[each], each)):
        last = max(places[place], last + apart)
        moved[place] = last
    limit = BOTTOM
    for place in sorted(range(len(places)), key=lambda each: -moved[each]):
        moved[place] = min(moved[place], limit)
        limit = moved[place] - apart
    return moved


def scatter(questions: Sequence[QuestionOutcome], of: str = "") -> Drawing:
    """Facility against corrected discrimination in one form, each question by its number; limits of rules as lines."""
    axes = PlotAxes(64, 30, 590, 310, 0, 1, -0.2, 0.8)
    marks = axes.grid((-0.2, 0, 0.2, 0.4, 0.6, 0.8), lambda value: f"{value:.1f}".replace("-", "−"))
    for value in (0, 0.3, 0.5, 0.7, 0.9, 1):
        marks.append(Label(axes.x(value), 356, percent(value), SMALL, "soft"))
    for value in (0.3, 0.9):
        marks.append(Stroke(axes.x(value), 30, axes.x(value), 340, dashes=(5, 4)))
    marks.append(Stroke(64, axes.y(0.1), 654, axes.y(0.1), dashes=(5, 4)))
    marks += [Label(359, 378, "share of the marks earned (facility)", 14, "ink")]
    marks += [Label(180, 10, "corrected discrimination (r with the rest)", 14, "ink")]
    for each in questions:
        if math.isfinite(each.facility) and math.isfinite(each.item_rest):
            x, y = axes.x(each.facility), axes.y(min(0.8, max(-0.2, each.item_rest)))
            tone: Tone = "accent" if each.flags else "ink"
            marks += [
                Disc(x, y, 3.5, "thin", tone, filled=bool(each.flags)),
                Label(x, y - 12, str(each.number), SMALL, tone),
            ]
    flagged = [str(each.number) for each in questions if each.flags]
    words = f"Flagged, and filled in the plot: {', '.join(flagged)}." if flagged else "None is flagged."
    title = f"Share of the marks against discrimination{of}"
    return Drawing(
        690, 390, tuple(marks), title, f"{title} of {len(questions)} questions. {words} The table below has all values."
    )


def forms(found: Sequence[FormOutcome]) -> Drawing:
    """The shares of the marks that candidates of each form earned: the middle half as a bar, the mean as a disc."""
    height = 46 * len(found)
    axes = PlotAxes(80, 14, 560, height, 0, 1, 0, len(found))
    marks: list[Mark] = [axes.base()]
    for value in (0, 0.25, 0.5, 0.75, 1):
        at = axes.x(value)
        marks += [Stroke(at, 14, at, 14 + height, dashes=(1, 5)), Label(at, 30 + height, percent(value), SMALL, "soft")]
    told = []
    for place, form in enumerate(found):
        y = 14 + 46 * (place + 0.5)
        low, middle, high = (_quantile(form.shares, part) for part in (0.25, 0.5, 0.75))
        least, most = min(form.shares), max(form.shares)
        marks += [Stroke(axes.x(least), y, axes.x(most), y), Stroke(axes.x(low), y, axes.x(high), y, "bold", "ink")]
        marks += [Stroke(axes.x(middle), y - 9, axes.x(middle), y + 9, "medium", "ink")]
        marks += [Disc(axes.x(form.mean), y, 5, "thin", "accent", filled=True), Label(40, y, form.name[:8], 15)]
        told.append(
            f"form {form.name}: mean {percent(form.mean)}, middle half from {percent(low)} to {percent(high)}, "
            f"all from {percent(least)} to {percent(most)}"
        )
    title = "Shares of the marks by form"
    return Drawing(690, height + 44, tuple(marks), title, f"{title}. {'; '.join(told)}.")


def _quantile(values: Sequence[float], part: float) -> float:
    ordered = sorted(values)
    place = part * (len(ordered) - 1)
    low = math.floor(place)
    return ordered[low] + (ordered[min(low + 1, len(ordered) - 1)] - ordered[low]) * (place - low)


def verdict(comparison: Comparison) -> str:
    """What the tests of two forms say, in words."""
    found = comparison.found
    low, high = found.interval
    if found.shown:
        return f"equally hard within {percent(found.margin)} of the marks"
    if low > 0 or high < 0:
        return f"{comparison.second if low > 0 else comparison.first} was harder, or sat by weaker candidates"
    return "neither shown to be equal nor shown to differ: too few candidates"
