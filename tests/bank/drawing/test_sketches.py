"""Sketches of all scenes of the bank: on the page, letters free, nothing of forces, each word of a file drawn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise, product
from math import cos, hypot, radians, sin

import pytest
from turnwright import schemas
from turnwright.bank.checking.telling_pictures import told_by_picture
from turnwright.bank.drawing.labels import extent
from turnwright.bank.drawing.sketches.looks import LOOKS
from turnwright.bank.drawing.sketches.pen import Pen
from turnwright.bank.drawing.sketches.sketch import SETTINGS, draw_sketch
from turnwright.bank.item.drawing import Curve, Disc, Drawing, Label, Mark, Shape, Stroke, Trace
from turnwright.bank.item.formula import Symbol
from turnwright.bank.item.item import Item
from turnwright.bank.model.problem import Scene
from turnwright.bank.questions.kinds import KINDS
from turnwright.bank.writing.figure_words import MOST
from turnwright.bank.writing.sketched.view import SketchView, sketch_of

from tests.bank import models

Place = tuple[float, float]
FIVE_CENTIMETRES = 50.0 / 25.4 * 72.0  # in points
SMALLEST_TYPE, THINNEST = 8.0, 0.5  # points: of letters the house rule for papers; of a line what a printer holds


def scenes() -> Iterator[tuple[str, Scene]]:
    for problem in models.shipped_problems().values():
        yield from ((problem.id, scene) for scene in problem.scenes)


def views() -> Iterator[SketchView]:
    """Every scene at each of its places, bare, with the letters of each question, and with all that it can mark."""
    for problem in models.shipped_problems().values():
        for scene in problem.scenes:
            told = {frozenset[str](), frozenset(problem.quantities)} | {
                frozenset(each.told) for each in problem.questions
            }
            for diagram in problem.diagrams or (None,):
                found = (sketch_of(problem, diagram, scene, letters) for letters in sorted(map(sorted, told)))
                yield from (each for each in found if each)


# --- where things are, measured apart from what has drawn them ---


def points(mark: Mark) -> list[Place]:
    """Points along what is drawn, close together."""
    match mark:
        case Stroke():
            return between((mark.x1, mark.y1), (mark.x2, mark.y2))
        case Trace(points=corners):
            return [each for a, b in pairwise(corners) for each in between(a, b)]
        case Shape(points=corners):
            return [each for a, b in pairwise((*corners, corners[0])) for each in between(a, b)]
        case Disc():
            return round_about(Curve(mark.cx, mark.cy, mark.radius, mark.radius))
        case Curve():
            return round_about(mark)
        case _:
            return []


def between(start: Place, end: Place) -> list[Place]:
    (x, y), across, down = start, end[0] - start[0], end[1] - start[1]
    steps = max(1, round(hypot(across, down)))
    return [(x + across * k / steps, y + down * k / steps) for k in range(steps + 1)]


def round_about(curve: Curve) -> list[Place]:
    steps = max(8, round(radians(curve.end - curve.start) * max(curve.rx, curve.ry)))
    turns = [radians(curve.start + (curve.end - curve.start) * k / steps) for k in range(steps + 1)]
    return [(curve.cx + curve.rx * cos(turn), curve.cy - curve.ry * sin(turn)) for turn in turns]


def box(label: Label) -> tuple[float, float, float, float]:
    width, height = extent(label.content, label.size)
    return label.x - width / 2, label.y - 0.8 * height / 2, label.x + width / 2, label.y + 0.8 * height / 2


def crossed(drawing: Drawing) -> list[str]:
    """Letters that touch a line or each other, and what leaves the page."""
    found = []
    labels = [mark for mark in drawing.marks if isinstance(mark, Label)]
    drawn = [point for mark in drawing.marks for point in points(mark)]
    for at, label in enumerate(labels):
        left, top, right, bottom = box(label)
        if any(left < x < right and top < y < bottom for x, y in drawn):
            found.append(f"{label.content} on a line")
        for other in labels[at + 1 :]:
            its = box(other)
            if left < its[2] and its[0] < right and top < its[3] and its[1] < bottom:
                found.append(f"{label.content} on {other.content}")
        if left < 0 or top < 0 or right > drawing.width or bottom > drawing.height:
            found.append(f"{label.content} leaves the page")
    if any(not (2 <= x <= drawing.width - 2 and 2 <= y <= drawing.height - 2) for x, y in drawn):
        found.append("a line leaves the page")
    return found


# --- the whole bank ---


def test_every_scene_of_the_bank_has_a_sketch() -> None:
    assert [f"{problem}/{scene.name}" for problem, scene in scenes() if scene.sketch is None] == []


def test_settings_and_looks_of_the_schema_are_those_that_can_be_drawn_and_all_are_used() -> None:
    field = schemas.load("problem")["$defs"]["scene"]["properties"]["sketch"]["properties"]
    assert (set(field["of"]["enum"]), set(field["body"]["enum"])) == (set(SETTINGS), set(LOOKS))
    used = [scene.sketch for _, scene in scenes()] + [scene.sketch for each in models.drafts() for scene in each.scenes]
    assert {each.setting for each in used if each} == set(SETTINGS)


def test_letters_touch_nothing_and_all_is_on_the_page() -> None:
    seen = 0
    for view in views():
        drawing = draw_sketch(view)
        assert crossed(drawing) == [], view
        seen += len(view.marks)
    assert seen > 300


def test_every_letter_of_a_sketch_is_told_and_stands_once() -> None:
    for view in views():
        drawing = draw_sketch(view)
        written = [mark.content for mark in drawing.marks if isinstance(mark, Label)]
        assert len(written) == len(set(written)) <= len(view.marks), view
        assert set(written) <= {label for _, label in view.marks}
        assert len(written) == len(view.marks), (view.setting, view.marks)


def test_a_sketch_is_said_in_few_words_of_no_force_and_is_readable_at_five_centimetres() -> None:
    for view in views():
        drawing = draw_sketch(view)
        assert 20 < len(drawing.alternative) < MOST, view
        assert drawing.subject == "situation"
        scale = FIVE_CENTIMETRES / drawing.width
        assert all(mark.size * scale >= SMALLEST_TYPE for mark in drawing.marks if isinstance(mark, Label))
        assert 1.5 * scale >= THINNEST  # the thinnest line of a drawing
        bold = [mark for mark in drawing.marks if getattr(mark, "weight", "") == "bold"]
        assert bold == [], view  # as the arrows of forces are


@pytest.mark.parametrize("kind", KINDS)
def test_no_picture_above_a_question_answers_it(kind: str) -> None:
    told = [f"{item.question_id}: {each}" for _, item in models.drawn(kind) for each in told_by_picture(item)]  # type: ignore[arg-type]
    assert told == []


@pytest.mark.parametrize("setting", sorted(SETTINGS))
def test_a_setting_can_be_drawn_wherever_an_author_puts_it(setting: str) -> None:
    """Of any body at any place, though it may look odd; the file is a stranger's."""
    marks = (("radius", Symbol("r")), ("angle", Symbol("θ")), ("height", Symbol("h")))
    for spot, inward in product(("angle", "level", None), (135.0, 270.0, None)):
        look, angle = ("ball", 18.0) if spot else ("gymnast", 55.0)
        view = SketchView(setting, look, spot, inward, angle, marks, "A sketch", "It shows something.")  # type: ignore[arg-type]
        assert draw_sketch(view).marks


# --- planted ---


def test_a_letter_on_a_line_and_a_line_off_the_page_are_noticed() -> None:
    pen = Pen({"radius": Symbol("r")})
    pen.line((-5.0, 50.0), (200.0, 50.0))
    drawing = Drawing(260, 190, (*pen.marks, Label(100, 50, Symbol("r")), Label(104, 52, Symbol("L"))), "", "")
    assert len(crossed(drawing)) == 4
    pen.length("radius", (20.0, 50.0), (120.0, 50.0))
    assert "on a line" not in str(crossed(Drawing(260, 190, (*pen.marks, *pen.labels()), "", "")))


def with_figure(item: Item, figure: Drawing | None) -> Sequence[str]:
    return list(told_by_picture(replace(item, figure=figure)))


def test_a_force_diagram_above_its_question_and_a_sketch_that_tells_are_noticed() -> None:
    _, number = models.drawn("number")[0]
    _, direction = models.drawn("direction")[0]
    assert number.figure and number.forces
    assert with_figure(direction, number.forces) == ["its force diagram stands above it and answers it"]
    assert with_figure(number, number.forces) == []
    told = replace(number.figure, alternative="The weight pulls the car down.")
    assert with_figure(number, told) == ["its sketch tells of 'weight'"]
    (key,) = (option.content for option in direction.entries[0].options if option.right)  # type: ignore[union-attr]
    said = replace(number.figure, alternative=f"It goes {key[0].text}")
    assert len(with_figure(direction, said)) == 1
    assert not with_figure(direction, replace(number.figure, alternative=f"It goes {key[0].text}most"))
