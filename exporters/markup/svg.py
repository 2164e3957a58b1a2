"""A drawing as an SVG file of its own: no script, style sheet, font or link, nothing that reaches outside the file.

All type and lines are set to be told apart in greyscale: the tones differ from white by the contrast that WCAG 2.2
asks of text (4.5 to 1), and what matters more is also heavier. A formula, or words, is a run of type on one line:
italic letters, raised and lowered parts.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache

from ...bank.errors import FigureError
from ...bank.item import formula
from ...bank.item.drawing import Curve, Disc, Drawing, Label, Mark, Shape, Stroke, Tone, Trace, Weight
from . import elements
from .elements import Element, Vocabulary, document

SUBSCRIPT_RISE = -0.22
SUPERSCRIPT_RISE = 0.38
SMALL = 0.78
NO_BREAK_SPACE = "\u00a0"
SVG = Vocabulary(elements.SVG)
PAPER = "#ffffff"
TONES: dict[Tone, str] = {"ink": "#1a1d24", "soft": "#646b78", "accent": "#9c2f10"}
WEIGHTS: dict[Weight, float] = {"thin": 1.5, "medium": 2.25, "bold": 3.25}
FONTS = "'Latin Modern Roman', 'STIX Two Text', 'Times New Roman', 'Liberation Serif', serif"
HALO = 0.28  # width of the white edge of a label, in heights of its type
BASELINE = 0.33  # how far the baseline lies below the middle of a line, in heights of its type


@dataclass(frozen=True)
class TypeRun:
    """Letters of one style; ``rise`` above the baseline and ``scale`` are in heights of the label's type."""

    text: str
    italic: bool = False
    rise: float = 0.0
    scale: float = 1.0


def runs(content: formula.Node | str) -> list[TypeRun]:
    """The runs from left to right. Roots and wide fractions come out as on a line of text."""
    if isinstance(content, str):
        return [TypeRun(content)]
    return _runs(content)


def _runs(node: formula.Node) -> list[TypeRun]:
    match node:
        case formula.Symbol(base=base, subscript=subscript):
            low = [TypeRun(subscript, rise=SUBSCRIPT_RISE, scale=SMALL)] if subscript else []
            return [TypeRun(base, italic=True), *low]
        case formula.Row():
            return _row(node)
        case formula.Power(base=formula.Number() | formula.Symbol() | formula.Group() as base, exponent=exponent):
            raised = [replace(run, rise=SUPERSCRIPT_RISE, scale=SMALL) for run in _runs(exponent)]
            return [*_runs(base), *raised]
        case formula.Fraction(above=formula.Number() | formula.Symbol() | formula.Power() as above, below=below) if (
            isinstance(below, formula.Number | formula.Symbol)
        ):
            return [*_runs(above), TypeRun("/"), *_runs(below)]
        case formula.Group(body=body):
            return [TypeRun("("), *_runs(body), TypeRun(")")]
        case _:
            return [TypeRun(formula.text(node))]


def _row(node: formula.Row) -> list[TypeRun]:
    """Parts with a space between them, but none after a sign that belongs to what follows."""
    pieces: list[TypeRun] = []
    before: formula.Node | None = None
    tight = True
    for part in node.parts:
        if not tight:
            pieces.append(TypeRun(NO_BREAK_SPACE))
        pieces.extend(_runs(part))
        tight = isinstance(part, formula.Operator) and (before is None or isinstance(before, formula.Operator))
        before = part
    return pieces


@lru_cache(maxsize=1024)  # a drawing is named by its file before it is written, and many questions show the same
def svg(drawing: Drawing) -> bytes:
    """The file for this drawing, with its description inside. Raises FigureError for a place that is no number."""
    try:
        return _file(drawing)
    except ValueError as error:
        raise FigureError(drawing.title, str(error)) from error


def _file(drawing: Drawing) -> bytes:
    width, height = _number(drawing.width), _number(drawing.height)
    root = SVG.root(
        "svg",
        width=width,
        height=height,
        role="img",
        aria_labelledby="title",
        aria_describedby="desc",
        font_family=FONTS,
        stroke_linejoin="round",
    )
    root.set("viewBox", f"0 0 {width} {height}")
    root.set(elements.LANGUAGE_ATTRIBUTE, "en")
    SVG.add(root, "title", drawing.title, id="title")
    SVG.add(root, "desc", drawing.description, id="desc")
    SVG.add(root, "rect", width=width, height=height, fill=PAPER)
    for mark in drawing.marks:
        _ADDERS[type(mark)](root, mark)
    return document(root)


def _number(value: float) -> str:
    """At most two decimals, and no sign before a zero."""
    if not math.isfinite(value):
        raise ValueError("a place or a length in it is no number")
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _line(mark: Stroke | Curve | Trace) -> dict[str, str]:
    """How the line of an open mark is painted."""
    dashes = {"stroke_dasharray": " ".join(_number(length) for length in mark.dashes)} if mark.dashes else {}
    width = _number(WEIGHTS[mark.weight])
    return {"fill": "none", "stroke": TONES[mark.tone], "stroke_width": width, **dashes}


def _area(mark: Shape | Disc) -> dict[str, str]:
    """How a closed mark is painted."""
    tone = TONES[mark.tone]
    return {"fill": tone if mark.filled else PAPER, "stroke": tone, "stroke_width": _number(WEIGHTS[mark.weight])}


def _add_stroke(root: Element, mark: Stroke) -> None:
    ends = {name: _number(getattr(mark, name)) for name in ("x1", "y1", "x2", "y2")}
    SVG.add(root, "line", **ends, **_line(mark))


def _add_curve(root: Element, mark: Curve) -> None:
    if abs(mark.end - mark.start) >= 360:
        sizes = {name: _number(getattr(mark, name)) for name in ("cx", "cy", "rx", "ry")}
        SVG.add(root, "ellipse", **sizes, **_line(mark))
    else:
        SVG.add(root, "path", d=_arc(mark), **_line(mark))


def _arc(mark: Curve) -> str:
    """Path data; the page's y axis points down, so that anticlockwise is SVG's sweep 0."""
    first, last = _on_curve(mark, mark.start), _on_curve(mark, mark.end)
    large = int(abs(mark.end - mark.start) > 180)
    sweep = int(mark.end < mark.start)
    return f"M {first} A {_number(mark.rx)} {_number(mark.ry)} 0 {large} {sweep} {last}"


def _on_curve(mark: Curve, degrees: float) -> str:
    angle = math.radians(degrees)
    return f"{_number(mark.cx + mark.rx * math.cos(angle))} {_number(mark.cy - mark.ry * math.sin(angle))}"


def _add_trace(root: Element, mark: Trace) -> None:
    SVG.add(root, "polyline", points=_points(mark), **_line(mark))


def _add_shape(root: Element, mark: Shape) -> None:
    SVG.add(root, "polygon", points=_points(mark), **_area(mark))


def _points(mark: Trace | Shape) -> str:
    return " ".join(f"{_number(x)},{_number(y)}" for x, y in mark.points)


def _add_disc(root: Element, mark: Disc) -> None:
    SVG.add(root, "circle", cx=_number(mark.cx), cy=_number(mark.cy), r=_number(mark.radius), **_area(mark))


def _add_label(root: Element, mark: Label) -> None:
    """The label twice: its white edge first, since not every renderer can paint the edge below the letters."""
    edge = {"fill": PAPER, "stroke": PAPER, "stroke_width": _number(HALO * mark.size), "aria_hidden": "true"}
    for paint in (edge, {"fill": TONES[mark.tone]}):
        place = {"x": _number(mark.x), "y": _number(mark.y + BASELINE * mark.size)}
        line = SVG.add(root, "text", **place, font_size=_number(mark.size), text_anchor="middle", **paint)
        line.set(elements.SPACE_ATTRIBUTE, "preserve")
        _add_runs(line, runs(mark.content), mark.size)


def _add_runs(line: Element, pieces: list[TypeRun], size: float) -> None:
    height = 0.0
    for piece in pieces:
        style = {"font_style": "italic"} if piece.italic else {}
        if piece.rise:
            style["font_size"] = _number(piece.scale * size)
        if piece.rise != height:
            style["dy"] = _number((height - piece.rise) * size)
        SVG.add(line, "tspan", piece.text, **style)
        height = piece.rise


_ADDERS: dict[type[Mark], Callable[..., None]] = {
    Stroke: _add_stroke,
    Curve: _add_curve,
    Trace: _add_trace,
    Shape: _add_shape,
    Disc: _add_disc,
    Label: _add_label,
}
