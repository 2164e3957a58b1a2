"""Formulas as plain HTML: what stands on the line is read in one way only."""

from __future__ import annotations

import pytest
from turnwright.bank.item.formula import (
    Call,
    Fraction,
    Group,
    Node,
    Number,
    Operator,
    Power,
    Root,
    Row,
    Symbol,
    UnitNode,
)
from turnwright.exporters.markup.elements import Vocabulary, document
from turnwright.exporters.markup.htmlmath import add_html, inline_html, markup

G, R, V = Symbol("g"), Symbol("r"), Symbol("v", "top")
THETA, MU, TWO = Symbol("θ"), Symbol("μ", "s"), Number("2")
SUM = Row((Number("1"), Operator("+"), MU))

CASES: list[tuple[Node, str]] = [
    (Power(V, TWO), "<i>v</i><sub>top</sub><sup>2</sup>"),
    (Row((V, Operator("="), Root(Row((G, R))))), "<i>v</i><sub>top</sub> = √(<i>g</i>\u00a0<i>r</i>)"),
    (Fraction(Row((G, Power(R, TWO))), R), "<i>g</i>\u00a0<i>r</i><sup>2</sup>/<i>r</i>"),
    (Fraction(SUM, Row((G, R))), "(1 + <i>μ</i><sub>s</sub>)/(<i>g</i>\u00a0<i>r</i>)"),
    # a fraction with a factor behind it would swallow the factor
    (Row((Fraction(Number("1"), TWO), G)), "(1/2)\u00a0<i>g</i>"),
    (Row((G, Fraction(SUM, R))), "<i>g</i>\u00a0(1 + <i>μ</i><sub>s</sub>)/<i>r</i>"),
    # a fraction of fractions
    (Fraction(Fraction(G, R), R), "(<i>g</i>/<i>r</i>)/<i>r</i>"),
    (Fraction(G, Fraction(R, TWO)), "<i>g</i>/(<i>r</i>/2)"),
    # a unit with a stroke of its own
    (Fraction(Row((Number("9.81"), UnitNode("N/kg"))), Call("cos", THETA)), "(9.81\u00a0N/kg)/cos\u00a0<i>θ</i>"),
    (Fraction(Row((Number("9.81"), UnitNode("N"))), Call("cos", THETA)), "9.81\u00a0N/cos\u00a0<i>θ</i>"),
    (Call("tan", THETA, inverse=True), "tan<sup>−1</sup>\u00a0<i>θ</i>"),
    (Call("tan", Row((Number("6.25"), UnitNode("°")))), "tan(6.25°)"),
    (Power(Number("-3"), TWO), "(−3)<sup>2</sup>"),
    (Root(Group(SUM), 3), "∛(1 + <i>μ</i><sub>s</sub>)"),
    # two numbers beside each other would be one
    (Row((TWO, Number("9.8"), UnitNode("N/kg"))), "2\u00a0×\u00a09.8\u00a0N/kg"),
    (Row((Operator("−"), G, Operator("<"), R)), "−<i>g</i> &lt; <i>r</i>"),
]


@pytest.mark.parametrize(("node", "html"), CASES)
def test_a_formula_on_one_line_keeps_its_meaning(node: Node, html: str) -> None:
    assert markup(inline_html(node)) == html


@pytest.mark.parametrize(("node", "html"), CASES)
def test_elements_and_text_are_the_same_markup(node: Node, html: str) -> None:
    words = Vocabulary("http://www.w3.org/1999/xhtml")
    paragraph = words.root("p")
    add_html(paragraph, inline_html(node), words)
    written = document(paragraph).decode().partition("?>\n")[2]
    assert written == f'<p xmlns="http://www.w3.org/1999/xhtml">{html}</p>'
