"""A formula reaches the typesetter as data of ten shapes, set as a physics text prints it."""

from __future__ import annotations

from dataclasses import replace

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
from turnwright.bank.item.item import Math, Words
from turnwright.exporters.paper.formulas import formula_data

from tests.exporters import samples
from tests.exporters.paper.reading import made, pack_of, text_of

M, G, THETA = Symbol("m"), Symbol("g"), Symbol("θ")


@pytest.mark.parametrize(
    ("node", "data"),
    [
        (Symbol("F", "N"), ["script", ["italic", "F"], ["text", "N"], None]),
        (Power(Symbol("v", "top"), Number("2")), ["script", ["italic", "v"], ["text", "top"], ["text", "2"]]),
        (Number("-0.5"), ["row", ["sign", "−"], ["text", "0.5"]]),
        (Power(Number("−2"), Number("2")),
         ["script", ["brackets", ["row", ["sign", "−"], ["text", "2"]]], None, ["text", "2"]]),
        (Row((M, G)), ["row", ["italic", "m"], ["space"], ["italic", "g"]]),
        (Row((Number("2"), Number("3"))), ["row", ["text", "2"], ["sign", "×"], ["text", "3"]]),
        (Row((Number("9.8"), UnitNode("N/kg"))), ["row", ["text", "9.8"], ["text", "\u00a0"], ["text", "N/kg"]]),
        (Row((Number("30"), UnitNode("°"))), ["row", ["text", "30"], ["text", "°"]]),
        (Row((M, Call("sin", THETA))), ["row", ["italic", "m"], ["row", ["function", "sin"], ["italic", "θ"]]]),
        (Row((Operator("−"), M, Operator("+"), G)),
         ["row", ["sign", "−"], ["italic", "m"], ["sign", "+"], ["italic", "g"]]),
        (Root(Group(M), 3), ["root", "3", ["brackets", ["italic", "m"]]]),
        (Fraction(M, G), ["fraction", ["italic", "m"], ["italic", "g"]]),
        (Call("tan", Row((M, G)), inverse=True),
         ["row", ["script", ["function", "tan"], None, ["row", ["sign", "−"], ["text", "1"]]],
          ["brackets", ["row", ["italic", "m"], ["space"], ["italic", "g"]]]]),
    ],
)  # fmt: skip
def test_each_node_has_its_shape(node: Node, data: list[object]) -> None:
    assert formula_data(node) == data


def test_every_shape_is_set() -> None:
    everything = Row((
        Symbol("F", "N"), Operator("="), Fraction(Row((M, Power(Symbol("v"), Number("2")))), Symbol("r")),
        Operator("−"), Root(Row((G, Symbol("L"))), 3), Operator("+"), Call("sin", THETA, inverse=True),
        Operator("×"), Group(Row((Number("2.5"), UnitNode("kN")))),
    ))  # fmt: skip
    item = replace(samples.pull(), stem=((Words("Here: "), Math(everything), Words(".")),))
    text = text_of(made(pack_of(item)).questions)
    for piece in ("FN", "sin", "θ", "2.5kN", "−1", "×"):
        assert piece in text
