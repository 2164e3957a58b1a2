"""A formula read from MathML in a pack, against the tree that it should have been written from."""

from __future__ import annotations

import pytest
from turnwright.bank.item.formula import Call, Fraction, Group, Node, Number, Power, Root, Row, Symbol, UnitNode
from turnwright.exporters.proof.words.wording import of_formula, of_mathml
from turnwright.exporters.strangers.documents import read_document

MATHML = '<math xmlns="http://www.w3.org/1998/Math/MathML">{}</math>'
FORMULAS: list[tuple[Node, str, str]] = [
    (Power(Symbol("v", "top"), Number("2")), "<msubsup><mi>v</mi><mi>top</mi><mn>2</mn></msubsup>", "2<"),
    (Root(Row((Symbol("g"), Symbol("r")))), "<msqrt><mi>g</mi><mo>\u2062</mo><mi>r</mi></msqrt>", "g<"),
    (Root(Symbol("g"), 3), "<mroot><mi>g</mi><mn>3</mn></mroot>", "3<"),
    (
        Call("tan", Symbol("θ"), inverse=True),
        "<msup><mi>tan</mi><mrow><mo>−</mo><mn>1</mn></mrow></msup><mi>θ</mi>",
        "1<",
    ),
    (
        Row((Group(Symbol("m")), UnitNode("m/s²"))),
        "<mrow><mo>(</mo><mi>m</mi><mo>)</mo></mrow><mtext>\u00a0m/s²</mtext>",
        ")<",
    ),
    (Fraction(Number("-3"), Symbol("r")), "<mfrac><mrow><mo>-</mo><mn>3</mn></mrow><mi>r</mi></mfrac>", "r<"),
]


@pytest.mark.parametrize(("node", "written", "part"), FORMULAS)
def test_a_formula_is_read_as_it_was_meant_and_a_changed_one_is_not(node: Node, written: str, part: str) -> None:
    changed = written.replace(part, f"x{part}", 1)
    found = [of_mathml(read_document(MATHML.format(each).encode(), str)) for each in (written, changed)]
    assert found[0] == of_formula(node) != found[1]
