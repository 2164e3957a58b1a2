"""A formula tree as presentation MathML."""

from __future__ import annotations

from types import ModuleType

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lxml import etree
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
    equals,
)
from turnwright.bank.item.item import Math, Words
from turnwright.exporters.markup.elements import Element, document
from turnwright.exporters.markup.mathml import math

from tests.exporters import samples

V_TOP, R, G, THETA = Symbol("v", "top"), Symbol("r"), Symbol("g"), Symbol("θ")
TIMES, APPLY, SPACE = "\u2062", "\u2061", "\u00a0"


def shape(element: Element) -> str:
    """The children in one line, ``msub(mi v, mi top)``, with the signs that do not show spelled out."""
    return ", ".join(_shape(child) for child in element)


def _shape(element: Element) -> str:
    name = etree.QName(element).localname
    if len(element):
        return f"{name}({shape(element)})"
    text = (element.text or "").replace(TIMES, "TIMES").replace(APPLY, "APPLY").replace(SPACE, "_")
    return f"{name} {text}"


@pytest.mark.parametrize(
    ("node", "expected"),
    [
        pytest.param(V_TOP, "msub(mi v, mi top)", id="subscript"),
        pytest.param(Symbol("v", "1"), "msub(mi v, mn 1)", id="subscript that is a number"),
        pytest.param(Power(V_TOP, Number("2")), "msubsup(mi v, mi top, mn 2)", id="power of a symbol with subscript"),
        pytest.param(Row((G, R)), "mi g, mo TIMES, mi r", id="product of letters"),
        pytest.param(Row((Number("2"), Number("9.8"))), "mn 2, mo ×, mn 9.8", id="product of numbers"),
        pytest.param(
            Row((R, Power(Number("10"), Number("−3")))),
            "mi r, mo ×, msup(mn 10, mrow(mo −, mn 3))",
            id="product with a power of ten",
        ),
        pytest.param(Row((Number("9.8"), UnitNode("N/kg"))), "mn 9.8, mtext _N/kg", id="number with its unit"),
        pytest.param(Row((Number("30"), UnitNode("°"))), "mn 30, mtext °", id="degree sign"),
        pytest.param(
            equals(V_TOP, Root(Row((G, R)))),
            "msub(mi v, mi top), mo =, msqrt(mrow(mi g, mo TIMES, mi r))",
            id="least speed",
        ),
        pytest.param(Root(Fraction(G, R), 3), "mroot(mfrac(mi g, mi r), mn 3)", id="cube root"),
        pytest.param(Call("tan", THETA), "mrow(mi tan, mo APPLY, mi θ)", id="function"),
        pytest.param(
            Call("tan", Fraction(G, R), inverse=True),
            "mrow(msup(mi tan, mrow(mo −, mn 1)), mo APPLY, mrow(mo (, mfrac(mi g, mi r), mo )))",
            id="inverse function",
        ),
        pytest.param(
            Power(Call("tan", THETA), Number("2")),
            "msup(mrow(mo (, mrow(mi tan, mo APPLY, mi θ), mo )), mn 2)",
            id="power of a function",
        ),
        pytest.param(
            Power(Number("−3"), Number("2")),
            "msup(mrow(mo (, mrow(mo −, mn 3), mo )), mn 2)",
            id="power of a negative number",
        ),
        pytest.param(
            Fraction(Row((G, Operator("−"), R)), Group(Row((G, R)))),
            "mfrac(mrow(mi g, mo −, mi r), mrow(mo (, mrow(mi g, mo TIMES, mi r), mo )))",
            id="fraction of rows",
        ),
    ],
)
def test_each_part_of_a_formula_has_its_element(node: Node, expected: str) -> None:
    assert shape(math(node)) == expected


def test_letters_are_italic_and_subscripts_upright_whatever_their_length() -> None:
    variants = [part.get("mathvariant") for part in math(Row((Symbol("E", "k"), Symbol("KE", "max")))).iter("{*}mi")]
    assert variants == [None, "normal", "italic", "normal"]  # one letter is italic by itself


def test_a_minus_is_a_prefix_at_the_start_and_after_another_sign() -> None:
    signs = math(Row((Operator("−"), R, Operator("="), Operator("−"), G, Operator("−"), R))).iter("{*}mo")
    assert [sign.get("form") for sign in signs] == ["prefix", None, "prefix", None]


def test_a_formula_carries_a_reading_in_words_and_its_display() -> None:
    node = equals(V_TOP, Root(Row((G, R))))
    assert dict(math(node).items()) == {"alttext": "v top equals the square root of g times r, end of root"}
    assert math(node, block=True).get("display") == "block"


def test_a_formula_can_be_changed_without_changing_the_next_copy() -> None:
    math(V_TOP).clear()
    assert shape(math(V_TOP)) == "msub(mi v, mi top)"


LEAVES = st.one_of(
    st.sampled_from([Number("2"), Number("−0.5"), V_TOP, THETA, Symbol("μ", "s"), UnitNode("m/s²"), Operator("≤")]),
    st.builds(Number, st.from_regex(r"[0-9]\.[0-9]{1,3}", fullmatch=True)),
)


def _branches(nodes: st.SearchStrategy[Node]) -> st.SearchStrategy[Node]:
    return st.one_of(
        st.builds(Row, st.lists(nodes, max_size=4).map(tuple)),
        st.builds(Fraction, nodes, nodes),
        st.builds(Root, nodes, st.sampled_from([2, 3, 4])),
        st.builds(Power, nodes, nodes),
        st.builds(Call, st.sampled_from(["sin", "tan"]), nodes, st.booleans()),
        st.builds(Group, nodes),
    )


@given(node=st.recursive(LEAVES, _branches, max_leaves=25))
@settings(max_examples=60, deadline=None)
def test_any_tree_stands_in_a_valid_item(standards: ModuleType, node: Node) -> None:
    item = samples.with_stem(samples.least_speed(), ((Words("Take "), Math(node)), (Math(node),)))
    assert standards.validate_qti3(document(samples.practice_element(item))) == []
