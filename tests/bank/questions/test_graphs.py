"""Graph questions: the right line is that of the closed form, worked out here by other means, and no wrong one is."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray
from turnwright.bank.drawing.labels import extent
from turnwright.bank.drawing.parts import Box, ThickLine
from turnwright.bank.item import formula
from turnwright.bank.item.drawing import Drawing, Label, Shape, Stroke, Trace
from turnwright.bank.item.formula import Symbol
from turnwright.bank.item.item import ChoiceEntry, Item, Option
from turnwright.bank.questions.graphs.keys import GraphQuestion
from turnwright.bank.questions.graphs.lines import line_of

from tests.bank import models

TELLING = re.compile(r"^Graph of the (.+) against the (.+)\. The line (.+)\.$")
AXES = 40.0, 174.0  # the origin on the page
Curve = NDArray[np.float64]


@cache
def made() -> list[tuple[GraphQuestion, Item]]:
    """The graph items of the bank in all scenes, each with its question."""
    questions = {each.solved.id: each for each in models.questions()}
    found = []
    for model, item in models.drawn("graph"):
        base = questions[model.id.partition("/")[0]]
        found.append((GraphQuestion(base.solved, base.catalogue, base.diagnosis.live), item))
    return found


def options(item: Item) -> tuple[Option, ...]:
    (entry,) = item.entries
    assert isinstance(entry, ChoiceEntry)
    return entry.options


def told(option: Option) -> str:
    """How the line goes, in the words of the text alternative."""
    assert isinstance(option.content, Drawing)
    found = TELLING.fullmatch(option.content.alternative)
    assert found, option.content.alternative
    return found[3]


def is_true(words: str, x: Curve, y: Curve) -> bool:
    """Whether words tell how a line goes that is given by many points, with y a share of its greatest value."""
    steps = np.diff(y)
    slopes = steps / np.diff(x)
    if words.startswith("is straight and horizontal") or np.ptp(y) < 1e-6:
        return bool(words.startswith("is straight and horizontal") and np.ptp(y) < 1e-6 and y[0] > 0)
    starts = {
        "at the origin": x[0] < 1e-3 and abs(y[0]) < 0.02,
        "on the vertical axis above the origin": x[0] < 1e-3 and 0.1 < y[0] < math.inf,
        "on the horizontal axis to the right of the origin": x[0] > 0.1 and abs(y[0]) < 0.02,
        "high up, close to the vertical axis,": x[0] < 0.3 and steps[0] < 0,
    }
    (start,) = (each for each in starts if f"begins {each} and" in words)
    rises = bool(np.all(steps > 0)) if " rises " in words else bool(np.all(steps < 0))
    bends = np.diff(np.abs(slopes)) / np.abs(slopes).max()
    straight = bool(np.all(np.abs(bends) < 1e-4))
    bent = {
        "in a straight line": straight,
        "more and more steeply": not straight and bool(np.all(bends > -1e-6)),
        "less and less steeply": not straight and bool(np.all(bends < 1e-6)),
    }
    (bend,) = (each for each in bent if each in words)
    ends = abs(y[-1]) < 0.02 if "as far as the horizontal axis" in words else y[-1] > 0.0
    return bool(starts[start] and rises and bent[bend] and ends)


def right_curve(question: GraphQuestion, item: Item) -> tuple[Curve, Curve]:
    """The closed form by SymPy's own printer to plain Python, over the given that the graph is plotted against.

    All else has the middle of its draws; where the answer would be negative there is nothing.
    """
    solved, asked = question.solved, question.asked
    assert asked
    scene = next(each for each in solved.problem.scenes if each.name == item.metadata.scene)
    found = asked.span(solved, scene)
    assert found
    values = {name: value for name, value in found[0].held.items() if name != asked.symbol} | {"g": 9.81}
    answer = models.function(solved.solution.closed_form)
    shares = np.linspace(1e-6, 1.0, 3001)
    along = found[0].end * (np.sqrt(shares) if asked.is_squared else shares)
    heights = np.array([answer({**values, asked.symbol: float(each)}) for each in along])
    kept = heights >= 0
    x, y = shares[kept], heights[kept]
    if y[0] > 20 * np.median(y):  # from very high
        x, y = x[y < 7 * np.median(y)], y[y < 7 * np.median(y)]
    return x, y / y.max()


def test_many_questions_have_a_graph_and_none_has_two() -> None:
    ids = [model.id for model in models.asked("graph")]
    assert len(ids) == len({each.partition("/")[0] for each in ids}) >= 140
    assert all(len(options(item)) == 4 for _, item in made())


def test_the_words_of_the_key_are_true_of_the_closed_form_and_those_of_no_other_line() -> None:
    for question, item in made()[::2]:
        curve = right_curve(question, item)
        for each in options(item):
            assert is_true(told(each), *curve) == each.right, (item.question_id, item.metadata.scene, told(each))


def test_no_mere_proportionality_is_plotted() -> None:
    """Doubling what is plotted, or its square, neither doubles nor halves an answer that begins at the origin."""
    for question, item in made()[::3]:
        assert question.asked
        if question.asked.is_squared:
            continue
        form, values = models.function(question.solved.solution.closed_form), {"g": 9.81}
        scene = next(each for each in question.solved.problem.scenes if each.name == item.metadata.scene)
        span = question.asked.span(question.solved, scene)
        assert span
        values |= span[0].held
        once, twice = (form({**values, question.asked.symbol: part * span[0].end}) for part in (0.3, 0.6))
        assert once <= 0 or min(abs(twice / once - 2), abs(twice / once - 0.5)) > 1e-6, item.question_id


# --- what is drawn ----------------------------------------------------------------------------------


def drawings() -> Iterator[Drawing]:
    for _, item in made():
        for each in options(item):
            assert isinstance(each.content, Drawing)
            yield each.content


def on_axes(drawing: Drawing) -> tuple[Curve, Curve]:
    """The points of the line, from the origin, up and to the right, with y a share of its greatest value."""
    (line,) = (mark for mark in drawing.marks if isinstance(mark, Trace))
    x, y = np.array(line.points).T
    up = AXES[1] - y
    return (x - AXES[0]) / 134.0, up / up.max()


def test_every_line_is_drawn_as_it_is_told() -> None:
    """By its points on the page: the words for those who can't see it say the same as the picture."""
    for drawing in drawings():
        x, y = on_axes(drawing)
        words = drawing.alternative.partition(". The line ")[2].rstrip(".")
        if len(x) == 2:  # straight
            x, y = np.linspace(*x, 9), np.linspace(*y, 9)
        assert is_true(words, x, y), drawing.alternative


def test_the_lines_of_one_question_differ_by_a_tenth_of_the_height_somewhere() -> None:
    for _, item in made():
        curves = [on_axes(each.content) for each in options(item) if isinstance(each.content, Drawing)]
        for place, one in enumerate(curves):
            for other in curves[place + 1 :]:
                at = np.linspace(0.02, 0.98, 49)
                ups = [np.interp(at, *each, left=0.0, right=0.0) for each in (one, other)]
                assert np.abs(ups[0] - ups[1]).max() > 0.1, item.question_id


def test_no_letter_touches_a_line_and_all_is_on_the_page() -> None:
    seen = set()
    for drawing in drawings():
        labels = [mark for mark in drawing.marks if isinstance(mark, Label)]
        boxes = [Box(mark.x, mark.y, *extent(mark.content, mark.size)) for mark in labels]
        lines = [ThickLine((m.x1, m.y1), (m.x2, m.y2), 0.75) for m in drawing.marks if isinstance(m, Stroke)]
        for mark in drawing.marks:
            points = mark.points if isinstance(mark, Shape | Trace) else ()
            lines += [ThickLine(a, b, 1.7 if isinstance(mark, Trace) else 0.75) for a, b in pairwise(points)]
        assert min(box.gap(line) for box in boxes for line in lines) > 1.0, drawing.title
        for box in boxes:
            assert all(0 <= x <= drawing.width and 0 <= y <= drawing.height for x, y in box.corners), drawing.title
        seen |= {formula.text(each.content) for each in labels if not isinstance(each.content, str)}
    assert {"v²", "F_bottom", "θ"} <= seen


def test_a_letter_on_the_line_is_noticed() -> None:
    """Planted, in the same words as the test above: its measure sees a letter that stands on the line."""
    drawing = next(drawings())
    (line,) = (mark for mark in drawing.marks if isinstance(mark, Trace))
    label = Label(*line.points[len(line.points) // 2], Symbol("v"), 18.0)
    box = Box(label.x, label.y, *extent(label.content, label.size))
    assert min(box.gap(ThickLine(a, b, 1.7)) for a, b in pairwise(line.points)) < 0


def test_a_text_that_tells_another_line_is_noticed() -> None:
    """Planted: two options with their texts exchanged."""
    question, item = made()[0]
    key = next(each for each in options(item) if each.right)
    other = next(each for each in options(item) if not each.right)
    assert isinstance(key.content, Drawing) and isinstance(other.content, Drawing)
    turned = replace(key.content, alternative=other.content.alternative)
    assert not is_true(told(replace(key, content=turned)), *right_curve(question, item))
    x, y = on_axes(turned)
    assert not is_true(told(other), np.linspace(x[0], x[-1], 9), np.interp(np.linspace(x[0], x[-1], 9), x, y))


# --- lines by themselves ------------------------------------------------------------------------------


@given(st.sampled_from([-2, -1.5, -1, -0.5, 0.5, 2 / 3, 1, 1.5, 2, 3]), st.floats(1e-6, 1e9))
def test_a_power_goes_as_powers_do(power: float, scale: float) -> None:
    found = line_of(lambda shares: scale * shares**power, positive=True)
    assert found
    bend = "straight" if power == 1 else "more" if power > 1 else "less"
    start, way = ("origin", "rises") if power > 0 else ("high", "falls")
    assert (found.look.start, found.look.way, found.look.bend) == (start, way, bend)


@pytest.mark.parametrize(
    ("function", "look"),
    [
        (lambda x: 1 + 2 * x**2, "above rises more"),
        (lambda x: 3 * x**2 - 1, "right rises more"),
        (lambda x: 2 - 3 * x, "above falls straight"),
        (lambda x: np.cos(1.4 * x), "above falls more"),
        (lambda x: 2 - 0.5 / x, "right rises less"),
        (lambda x: 0 * x + 4, "above level straight"),
        (lambda x: 1 + 0.02 * x**2, None),  # hardly bent, and hardly a rise
        (lambda x: x * (1 - x), None),  # turns round
        (lambda x: x - 0.9, None),  # begins too late
        (lambda x: 0.03 + x, None),  # neither at the origin nor clearly beside it
        (lambda x: 0 * x - 4, None),
    ],
)
def test_only_clear_lines_are_drawn(function: Callable[[Curve], Curve], look: str | None) -> None:
    found = line_of(function, positive=False) or line_of(function, positive=True)
    assert (found.look.name if found else None) == look
