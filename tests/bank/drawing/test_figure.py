"""The force diagram: nothing collides, whatever the directions, and each arrow says what the view says."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, combinations_with_replacement, pairwise, product
from math import cos, dist, hypot, radians, sin

import pytest
from turnwright.bank.drawing.figure import draw_diagram
from turnwright.bank.drawing.layout import side_offsets
from turnwright.bank.item import formula
from turnwright.bank.item.drawing import Curve, Disc, Drawing, Label, Shape, Stroke
from turnwright.bank.writing.view import AngleView, DiagramView, ForceView, Setting

Point = tuple[float, float]
Polygon = tuple[Point, ...]

THETA = formula.Symbol("θ")
LABELS: tuple[formula.Node, ...] = (
    formula.Row((formula.Symbol("m"), formula.Symbol("g"))),
    formula.Symbol("T"),
    formula.Symbol("F", "N"),
    formula.Symbol("f"),
)
NAMES = (("weight", "the Earth", "pulls"), ("tension", "the cord", "pulls"), ("normal force", "the track", "pushes"))


# --- the test's own geometry: convex polygons and the separating-axis theorem ------------------


def apart(first: Polygon, second: Polygon) -> bool:
    """Two convex polygons are apart when the shadow on the normal of some edge shows it (separating axes)."""
    for polygon in (first, second):
        for (ax, ay), (bx, by) in pairwise((*polygon, polygon[0])):
            normal = (ay - by, bx - ax)
            shadows = [[x * normal[0] + y * normal[1] for x, y in each] for each in (first, second)]
            if max(shadows[0]) < min(shadows[1]) or max(shadows[1]) < min(shadows[0]):
                return True
    return False


def bar(stroke: Stroke, width: float) -> Polygon:
    """A stroke as a rectangle of its width."""
    length = hypot(stroke.x2 - stroke.x1, stroke.y2 - stroke.y1)
    nx, ny = (stroke.y1 - stroke.y2) / length * width / 2, (stroke.x2 - stroke.x1) / length * width / 2
    return (
        (stroke.x1 + nx, stroke.y1 + ny),
        (stroke.x2 + nx, stroke.y2 + ny),
        (stroke.x2 - nx, stroke.y2 - ny),
        (stroke.x1 - nx, stroke.y1 - ny),
    )


def ring(x: float, y: float, radius: float) -> Polygon:
    """A disc as a polygon that covers it."""
    reach = radius / cos(radians(5))
    return tuple((x + reach * cos(radians(turn)), y + reach * sin(radians(turn))) for turn in range(0, 360, 10))


def box(label: Label) -> Polygon:
    """The room of a label's letters, as wide as the wider of two typefaces would have it.

    In heights of the type, from memory of the metrics of Times and Latin Modern: "to the centre" 4.9 and 6.1,
    "m g" 1.5 and 1.6, single letters at most 0.8, subscripts at 0.72 of their size.
    """
    content = label.content
    if isinstance(content, formula.Symbol):
        width = 0.8 + 0.6 * len(content.subscript)
    else:
        width = 0.47 * len(content) if isinstance(content, str) else 0.55 * len(formula.text(content))
    dx, dy = width * label.size / 2, label.size / 2
    return (
        (label.x - dx, label.y - dy),
        (label.x + dx, label.y - dy),
        (label.x + dx, label.y + dy),
        (label.x - dx, label.y + dy),
    )


@dataclass(frozen=True)
class Seen:
    """The marks of a drawing told apart as a reader would: by form, not by tone."""

    body: Disc
    shafts: list[Stroke]
    arrows: list[list[Polygon]]
    open_arrow: list[Stroke]
    lines: list[Stroke]
    labels: list[Label]


def see(drawing: Drawing) -> Seen:
    strokes = [mark for mark in drawing.marks if isinstance(mark, Stroke)]
    heads = [mark.points for mark in drawing.marks if isinstance(mark, Shape)]
    shafts = [stroke for stroke in strokes if stroke.weight == "bold"]
    return Seen(
        body=next(mark for mark in drawing.marks if isinstance(mark, Disc) and not mark.filled),
        shafts=shafts,
        arrows=[[bar(shaft, 3.25), head] for shaft, head in zip(shafts, heads, strict=True)],
        open_arrow=[stroke for stroke in strokes if stroke.tone == "accent"],
        lines=[stroke for stroke in strokes if stroke.tone == "soft" and not is_upright_axis(stroke, drawing)],
        labels=[mark for mark in drawing.marks if isinstance(mark, Label)],
    )


def is_upright_axis(stroke: Stroke, drawing: Drawing) -> bool:
    """The dashed axis of a level circle passes through the middle of its ellipse and belongs to the path."""
    paths = [mark for mark in drawing.marks if isinstance(mark, Curve) and mark.rx != mark.ry]
    return any(abs(stroke.x1 - path.cx) + abs(stroke.x2 - path.cx) < 1e-6 for path in paths)


# --- a grid of layouts ------------------------------------------------------------------------


def view(
    directions: tuple[float, ...],
    lengths: tuple[float, ...] = (1.0, 0.7, 0.4, 0.0),
    setting: Setting = "vertical-circle",
    inward: float | None = 90.0,
    surface: float | None = None,
    angle: tuple[float, float] | None = None,
    second: float | None = None,
) -> DiagramView:
    forces = tuple(
        ForceView(label, *NAMES[index % 3], direction, length, "that way")
        for index, (label, direction, length) in enumerate(zip(LABELS, directions, lengths, strict=False))
    )
    angles = (AngleView(THETA, *angle, "theta between the cord and the vertical"),) if angle else ()
    return DiagramView(
        *("the lantern", "on its circle", setting, inward, "that way", inward, "that way", forces, angles, surface),
        second_axis=second,
        second_axis_label="up" if second == 90 else "forward",
    )


def grid() -> Iterator[DiagramView]:
    for towards in (270, 90, 180, 0, 225, 130, 20, 350):  # round a vertical circle
        for force, length in product((towards, towards + 180, towards + 40), (0.2, 0.7, 1.0)):
            yield view((270, force), (1.0, length), inward=towards)
        yield view((270, towards + 180), inward=towards, surface=towards + 90, second=towards - 90)
        yield view((270, towards, towards), (0.3, 1.0, 0.6), inward=towards)
        yield view((270, towards, towards + 90), inward=towards, angle=(270, towards))
    for towards, bank in product((0, 180), (0, 8, 20, 35, 60, 80)):  # a level circle from the side, flat or banked
        rise, normal = (-bank, 90 - bank) if towards == 0 else (bank, 90 + bank)
        for friction in ((), (rise,), (rise + 180,)):
            directions, marked = (270, normal, *friction), (90, normal) if bank else None
            yield view(directions, (0.8, 1.0, 0.5), "level-circle", towards, rise, marked, 90)
            yield view(directions, (0.5, 0.6, 0.1), "level-circle", towards, None, marked)
    for directions in combinations_with_replacement(range(0, 360, 45), 2):
        yield view(tuple(map(float, directions)), setting="at-rest", inward=None)
    for directions in list(combinations(range(0, 360, 40), 3))[::2]:
        yield view(tuple(map(float, directions)), inward=0.0, setting="level-circle")
    dice = random.Random(1851)
    for count in (3, 4) * 60:
        directions = tuple(float(dice.randrange(0, 360, 5)) for _ in range(count))
        lengths = tuple(dice.random() for _ in range(count))
        kind: Setting = dice.choice(("vertical-circle", "level-circle"))
        towards = dice.choice((0, 180)) if kind == "level-circle" else dice.randrange(0, 360, 15)
        angle = (90.0, directions[0]) if dice.random() < 0.5 and directions[0] not in (90.0, 270.0) else None
        yield view(directions, lengths, kind, towards, dice.choice((None, 0, 20, 90)), angle, dice.choice((None, 90)))


LAYOUTS = list(grid())


@pytest.fixture(scope="module")
def drawings() -> list[Drawing]:
    return [draw_diagram(each) for each in LAYOUTS]


def test_the_grid_has_at_least_three_hundred_layouts() -> None:
    assert len(LAYOUTS) >= 300


def test_no_label_touches_an_arrow_the_body_a_line_or_another_label_or_leaves_the_page(drawings: list[Drawing]) -> None:
    faults = [(index, fault) for index, drawing in enumerate(drawings) for fault in label_faults(drawing)]
    assert faults == []


def label_faults(drawing: Drawing) -> Iterator[str]:
    seen = see(drawing)
    solids = [polygon for arrow in seen.arrows for polygon in arrow]
    solids += [ring(seen.body.cx, seen.body.cy, seen.body.radius)]
    solids += [bar(stroke, 2.0) for stroke in (*seen.open_arrow, *seen.lines)]
    for label in seen.labels:
        if not all(apart(box(label), solid) for solid in solids):
            yield f"{label.content} touches a mark"
        if not all(0 <= x <= drawing.width and 0 <= y <= drawing.height for x, y in box(label)):
            yield f"{label.content} leaves the page"
    for first, second in combinations(seen.labels, 2):
        if not apart(box(first), box(second)):
            yield f"{first.content} touches {second.content}"


def test_each_force_begins_on_the_edge_of_the_body_and_points_the_way_the_view_says(drawings: list[Drawing]) -> None:
    for given, drawing in zip(LAYOUTS, drawings, strict=True):
        seen = see(drawing)
        for force, shaft, (_, head) in zip(given.forces, seen.shafts, seen.arrows, strict=True):
            assert dist((shaft.x1, shaft.y1), (seen.body.cx, seen.body.cy)) <= seen.body.radius + 0.01
            length = dist((shaft.x1, shaft.y1), head[0])
            assert length >= 34 - 1e-9
            assert (head[0][0] - shaft.x1) / length == pytest.approx(cos(radians(force.direction)), abs=1e-9)
            assert (shaft.y1 - head[0][1]) / length == pytest.approx(sin(radians(force.direction)), abs=1e-9)


def test_no_two_forces_touch(drawings: list[Drawing]) -> None:
    for given, drawing in zip(LAYOUTS, drawings, strict=True):
        for first, second in combinations(see(drawing).arrows, 2):
            assert all(apart(one, other) for one, other in product(first, second)), given


def test_the_acceleration_touches_no_force_and_not_the_body(drawings: list[Drawing]) -> None:
    for given, drawing in zip(LAYOUTS, drawings, strict=True):
        seen = see(drawing)
        solids = [
            ring(seen.body.cx, seen.body.cy, seen.body.radius),
            *(part for arrow in seen.arrows for part in arrow),
        ]
        assert len(seen.open_arrow) == (0 if given.acceleration is None else 4)
        assert all(apart(bar(stroke, 2.25), solid) for stroke, solid in product(seen.open_arrow, solids)), given


def test_every_arrow_is_on_the_page(drawings: list[Drawing]) -> None:
    for given, drawing in zip(LAYOUTS, drawings, strict=True):
        seen = see(drawing)
        points = [point for arrow in seen.arrows for part in arrow for point in part]
        points += [point for stroke in seen.open_arrow for point in bar(stroke, 2.25)]
        assert all(0 < x < drawing.width and 0 < y < drawing.height for x, y in points), given


def test_marks_of_different_tone_differ_in_their_form_as_well(drawings: list[Drawing]) -> None:
    tones: dict[tuple[object, ...], set[str]] = {}
    for drawing in drawings:
        for mark in drawing.marks:
            if isinstance(mark, Stroke | Curve):
                tones.setdefault((type(mark), mark.weight, bool(mark.dashes)), set()).add(mark.tone)
    assert len(tones) >= 4
    assert all(len(each) == 1 for each in tones.values()), tones


def test_all_type_is_at_least_thirteen_units_high_on_a_page_of_320(drawings: list[Drawing]) -> None:
    sizes = {label.size for drawing in drawings for label in see(drawing).labels}
    assert min(sizes) >= 13
    assert {drawing.width for drawing in drawings} == {320}


def test_every_force_has_its_label_nearer_to_it_than_an_arrows_length(drawings: list[Drawing]) -> None:
    for drawing in drawings:
        seen = see(drawing)
        for label, arrow in zip(seen.labels, seen.arrows, strict=False):
            corners = [corner for part in arrow for corner in part]
            assert min(dist((label.x, label.y), corner) for corner in corners) <= 45


def test_two_forces_of_one_direction_stand_side_by_side() -> None:
    left, right = (shaft for shaft in see(draw_diagram(view((270, 270), inward=270))).shafts)
    assert abs(left.x1 - right.x1) == pytest.approx(17)
    assert left.x1 == pytest.approx(left.x2) and right.x1 == pytest.approx(right.x2)


def test_arrows_that_are_apart_anyway_do_not_step_aside() -> None:
    assert side_offsets((270, 90, 0)) == (0, 0, 0)
    assert side_offsets((350, 10, 180)) == pytest.approx((-2.3436, 2.3436, 0), abs=1e-3)  # (17 - 36 sin 20°)/2


def test_arrow_lengths_keep_the_ratio_of_the_forces() -> None:
    seen = see(draw_diagram(view((270, 90, 0), (1.0, 0.5, 0.01))))
    lengths = [dist((shaft.x1, shaft.y1), head[0]) for shaft, (_, head) in zip(seen.shafts, seen.arrows, strict=True)]
    assert lengths[0] == pytest.approx(2 * lengths[1])
    assert lengths[2] == pytest.approx(34)


def test_the_surface_lies_behind_the_push_of_the_track() -> None:
    forces = (
        ForceView(LABELS[0], "weight", "the Earth", "pulls", 270, 0.5, "straight down"),
        ForceView(LABELS[2], "normal force", "the track", "pushes", 270, 1.0, "straight down"),
    )
    inside_the_loop = DiagramView("the car", "at the top", "vertical-circle", 270, "", None, "", forces, surface=0)
    drawing = draw_diagram(inside_the_loop)
    path, track = (mark for mark in drawing.marks if isinstance(mark, Curve))
    assert track.ry - path.ry == pytest.approx(see(drawing).body.radius + 2)


def test_the_same_view_gives_the_same_drawing() -> None:
    assert [draw_diagram(each) for each in LAYOUTS[-9:]] == [draw_diagram(each) for each in LAYOUTS[-9:]]
