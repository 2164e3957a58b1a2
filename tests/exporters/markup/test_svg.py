"""A drawing as an SVG file that reaches nothing outside itself and can be read by everybody."""

from __future__ import annotations

import pytest
from lxml import etree
from turnwright.bank.item.drawing import Curve, Drawing, Label, Mark, Trace
from turnwright.bank.item.formula import Fraction, Number, Operator, Power, Root, Row, Symbol
from turnwright.exporters.markup.elements import Element
from turnwright.exporters.markup.svg import PAPER, TONES, runs, svg

from tests.exporters import samples

SAFE = {"svg", "title", "desc", "rect", "line", "ellipse", "path", "polygon", "polyline", "circle", "text", "tspan"}


def drawn(*marks: Mark, alternative: str = "A lantern") -> Element:
    return etree.fromstring(svg(Drawing(40, 20, marks, "Lantern", alternative)))


def test_only_harmless_elements_and_attributes_are_written() -> None:
    root = etree.fromstring(svg(samples.figure()))
    assert {etree.QName(element).localname for element in root.iter()} <= SAFE
    names = {etree.QName(name).localname for element in root.iter() for name in element.keys()}  # noqa: SIM118
    assert not {name for name in names if name.startswith("on") or name in ("href", "style", "class", "src")}


def test_the_text_alternative_is_inside_and_described_by_the_picture() -> None:
    root = drawn(alternative="One arrow, down: F < m g & no other.")
    texts = {element.get("id"): element.text for element in root if element.get("id")}
    assert root.get("role") == "img"
    assert texts[root.get("aria-labelledby")] == "Lantern"
    assert texts[root.get("aria-describedby")] == "One arrow, down: F < m g & no other."


def _luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it (https://www.w3.org/TR/WCAG22/#dfn-relative-luminance; from memory)."""
    parts = [int(colour[start : start + 2], 16) / 255 for start in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


@pytest.mark.parametrize("tone", TONES.values())
def test_every_tone_has_the_contrast_that_text_needs(tone: str) -> None:
    assert (_luminance(PAPER) + 0.05) / (_luminance(tone) + 0.05) >= 4.5


def test_a_quarter_from_the_right_runs_anticlockwise_to_the_top() -> None:
    path = drawn(Curve(20, 10, 8, 8, 0, 90))[-1]
    assert path.get("d") == "M 28 10 A 8 8 0 0 0 20 2"


def test_more_than_half_a_circle_takes_the_long_way() -> None:
    path = drawn(Curve(20, 10, 8, 8, 0, 270))[-1]
    assert path.get("d") == "M 28 10 A 8 8 0 1 0 20 18"


def test_a_whole_turn_is_an_ellipse() -> None:
    assert etree.QName(drawn(Curve(20, 10, 8, 4, dashes=(3, 2)))[-1]).localname == "ellipse"


def test_a_subscript_is_lowered_and_what_follows_is_back_on_the_line() -> None:
    label = drawn(Label(20, 10, Row((Symbol("v", "top"), Operator("="), Number("0"))), size=10))[-1]
    pieces = [(piece.text, piece.get("font-style"), piece.get("dy")) for piece in label]
    assert pieces == [
        ("v", "italic", None),
        ("top", None, "2.2"),
        ("\u00a0", None, "-2.2"),
        ("=", None, None),
        ("\u00a0", None, None),
        ("0", None, None),
    ]


@pytest.mark.parametrize(
    ("node", "expected"),
    [
        (Fraction(Power(Symbol("v"), Number("2")), Symbol("r")), "v2/r"),
        (Root(Row((Symbol("g"), Symbol("r")))), "√(g r)"),
        (Row((Operator("−"), Symbol("T"), Operator("="), Operator("−"), Number("2"))), "−T\u00a0=\u00a0−2"),
    ],
)
def test_a_label_keeps_to_one_line(node: Row, expected: str) -> None:
    assert "".join(run.text for run in runs(node)) == expected


def test_control_characters_never_reach_the_file() -> None:
    label = drawn(Label(20, 10, "taut\x07 & <safe>\x00"))[-1]
    assert str(label.xpath("string()")) == "taut & <safe>"


def test_a_trace_is_an_open_line_through_its_points() -> None:
    line = drawn(Trace(((1, 2), (3, 4.5), (5, 6)), "bold"))[-1]
    assert etree.QName(line).localname == "polyline"
    assert (line.get("points"), line.get("fill")) == ("1,2 3,4.5 5,6", "none")
