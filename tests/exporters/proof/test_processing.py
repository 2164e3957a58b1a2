"""The interpreter of response processing against the words of the standard and against plain formulas."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from turnwright.exporters.proof.processing.response import Marking
from turnwright.exporters.proof.processing.values import CannotMarkError, Value, read_declarations
from turnwright.exporters.strangers.documents import Element, read_document

DECLARATIONS = """
<qti-response-declaration identifier="X" cardinality="single" base-type="float">
 <qti-default-value><qti-value>7</qti-value></qti-default-value>
 <qti-correct-response><qti-value>12.5</qti-value></qti-correct-response></qti-response-declaration>
<qti-response-declaration identifier="S" cardinality="single" base-type="string"/>
<qti-response-declaration identifier="C" cardinality="single" base-type="identifier">
 <qti-mapping default-value="-1" lower-bound="0" upper-bound="2"><qti-map-entry map-key="A" mapped-value="1.5"/>
  <qti-map-entry map-key="B" mapped-value="3" case-sensitive="false"/></qti-mapping></qti-response-declaration>
<qti-outcome-declaration identifier="T" cardinality="single" base-type="float">
 <qti-default-value><qti-value>0.5</qti-value></qti-default-value></qti-outcome-declaration>
"""


def item(rules: str, out: str = "boolean", cardinality: str = "single") -> Element:
    outcome = f'<qti-outcome-declaration identifier="OUT" cardinality="{cardinality}" base-type="{out}"/>'
    processing = f"<qti-response-processing>{rules}</qti-response-processing>"
    return read_document(f"<item>{DECLARATIONS}{outcome}{processing}</item>".encode(), str)


def mark(root: Element, number: Any = Decimal, **answers: str) -> Value:
    return Marking(root, read_declarations(root), number).mark(answers)["OUT"]


def put(expression: str) -> str:
    return f'<qti-set-outcome-value identifier="OUT">{expression}</qti-set-outcome-value>'


def value(expression: str, out: str = "boolean", number: Any = Decimal, **answers: str) -> Value:
    return mark(item(put(expression), out), number, **answers)


def base(text: object, kind: str = "float") -> str:
    return f'<qti-base-value base-type="{kind}">{text}</qti-base-value>'


def of(name: str, *operands: str, attributes: str = "") -> str:
    return f"<qti-{name} {attributes}>{''.join(operands)}</qti-{name}>"


X = '<qti-variable identifier="X"/>'
NULL, TRUE, FALSE = "<qti-null/>", base("true", "boolean"), base("false", "boolean")
A, B, C = (base(each, "identifier") for each in "ABC")


@pytest.mark.parametrize(
    ("expression", "expected"),
    [
        (of("and", TRUE, NULL), None),
        (of("and", FALSE, NULL), False),
        (of("or", TRUE, NULL), True),
        (of("or", FALSE, NULL), None),
        (of("not", NULL), None),
        (of("not", FALSE), True),
        (of("is-null", NULL), True),
        (of("is-null", '<qti-variable identifier="S"/>'), True),
        (of("is-null", of("multiple")), True),
        (of("is-null", of("divide", base(1), base(0))), True),
        (of("match", A, A), True),
        (of("match", A, NULL), None),
        (of("match", of("multiple", A, B), of("multiple", B, A)), True),
        (of("match", of("multiple", A, A, B), of("multiple", B, B, A)), False),
        (of("match", of("ordered", A, B), of("ordered", B, A)), False),
        (of("lt", base(2), base(2)), False),
        (of("lte", base(2), base(2)), True),
        (of("gt", base(3), base(2)), True),
        (of("gte", base(2), base(3)), False),
        (of("gte", base(2), NULL), None),
        (of("member", A, of("multiple", B, A)), True),
        (of("member", C, of("ordered", B, A)), False),
        (of("contains", of("multiple", A, B, C), of("multiple", C, A)), True),
        (of("contains", of("multiple", A, B, C), of("multiple", B, B)), False),
        (of("contains", of("ordered", A, B, C), of("ordered", B, C)), True),
        (of("contains", of("ordered", A, B, C), of("ordered", C, A)), False),
        (of("string-match", base("Ride", "string"), base("ride", "string")), False),
        (of("string-match", base("Ride", "string"), base("ride", "string"), attributes='case-sensitive="false"'), True),
        (of("string-match", base("rides", "string"), base("ride", "string"), attributes='substring="true"'), True),
        (of("equal", base("0.3"), of("sum", base("0.1"), base("0.2"))), True),
        (of("equal-rounded", base("1.68572"), base("1.69"), attributes='figures="3"'), True),
        (of("equal-rounded", base("1.68572"), base("1.68"), attributes='figures="3"'), False),
        (of("equal-rounded", base("2.25"), base("2.3"), attributes='rounding-mode="decimalPlaces" figures="1"'), True),
    ],
)
def test_truth_values_and_null_follow_the_standard(expression: str, expected: bool | None) -> None:
    assert value(expression) is expected
    if "0.1<" not in expression:  # the one case that doubles round
        assert value(expression, number=float) is expected


@pytest.mark.parametrize(
    ("expression", "expected"),
    [
        (of("sum", base("1.5"), base(2), base(3, "integer")), "6.5"),
        (of("sum", of("multiple", base(1), base(2)), base(3)), "6"),
        (of("product", base("1.5"), base(-4)), "-6"),
        (of("sum", base(1), NULL), None),
        (of("subtract", base(1), base(3)), "-2"),
        (of("divide", base(1), base(8)), "0.125"),
        (of("divide", base(1), base(0)), None),
        (of("power", base(2), base(10)), "1024"),
        (of("power", base(4), base("0.5")), "2"),
        (of("power", base(-8), base("0.5")), None),
        (of("power", base("1e200"), base(2)), None),
        (of("math-operator", base("-2.5"), attributes='name="abs"'), "2.5"),
        (of("round", base("6.5")), "7"),
        (of("round", base("-6.5")), "-6"),
        (of("round", base("6.49")), "6"),
        (of("truncate", base("-6.8")), "-6"),
        (of("truncate", base("6.8")), "6"),
        (of("integer-to-float", base(3, "integer")), "3"),
        ('<qti-correct identifier="X"/>', "12.5"),
        ('<qti-default identifier="X"/>', "7"),
        ('<qti-variable identifier="T"/>', "0.5"),
    ],
)
def test_arithmetic_follows_the_standard(expression: str, expected: str | None) -> None:
    for number in (Decimal, float):
        assert value(expression, "float", number) == (None if expected is None else number(expected))


@pytest.mark.parametrize(
    ("answer", "mapped"), [("A", "1.5"), ("a", "0"), ("b", "2"), ("B", "2"), ("Z", "0"), ("", "-1")]
)
def test_a_response_is_mapped_within_the_bounds(answer: str, mapped: str) -> None:
    assert value('<qti-map-response identifier="C"/>', "float", C=answer) == Decimal(mapped)


@pytest.mark.parametrize(
    "typed", ["", " ", "abc", "12,5", "12.5 m", "NaN", "INF", "1e999", "0x1F", "--1", "1_000", "١"]
)
def test_what_is_no_number_is_null(typed: str) -> None:
    assert value(of("is-null", X), X=typed) is True


@pytest.mark.parametrize(("typed", "number"), [(" 12.5 ", "12.5"), ("+3", "3"), (".5", "0.5"), ("1.2E-3", "0.0012")])
def test_a_number_is_read_as_xml_writes_it(typed: str, number: str) -> None:
    assert value(X, "float", X=typed) == Decimal(number)


def test_a_condition_that_is_null_counts_as_false() -> None:
    branches = (
        of("response-if", of("equal", base(1), X), put(base(1))),
        of("response-else-if", of("is-null", X), put(base(2))),
        of("response-else-if", TRUE, put(base(3))),
        of("response-else", put(base(4))),
    )
    root = item(of("response-condition", *branches), "float")
    assert [mark(root, X=typed) for typed in ("1", "", "5")] == [1, 2, 3]


def test_a_rule_sees_what_earlier_rules_have_set_and_a_new_marking_starts_afresh() -> None:
    add = put(of("sum", '<qti-variable identifier="OUT"/>', X))
    root = item(add + add, "float")
    marking = Marking(root, read_declarations(root), Decimal)
    assert [marking.mark({"X": "2"})["OUT"] for _ in range(2)] == [4, 4]


@pytest.mark.parametrize(
    "rules",
    [
        put(of("random", base(1))),
        put(of("equal", A, base(1))),
        put(of("match", A, of("multiple", A))),
        put(of("match", A, base("A", "string"))),
        put(of("and", base(1), TRUE)),
        put(of("equal", base(1), base(1), attributes='tolerance-mode="absolute"')),
        put(of("equal", base(1), base(1), attributes='tolerance-mode="about" tolerance="1"')),
        put(of("equal", base(1), base(1), attributes='tolerance-mode="absolute" tolerance="1 2 3"')),
        put(of("equal-rounded", base(1), base(1), attributes='figures="0"')),
        put(of("math-operator", base(1), attributes='name="root"')),
        put(base("ten")),
        put(base(1)),
        put(of("not", TRUE, TRUE)),
        put('<qti-variable identifier="nobody"/>'),
        put("<qti-not>" * 60 + TRUE + "</qti-not>" * 60),
        "<qti-exit-response/>",
        of("response-condition", of("response-else", put(TRUE))),
        of("response-condition", of("response-if", X, put(TRUE))),
        put(TRUE) * 3000,
    ],
)
def test_what_is_not_understood_is_refused_and_does_not_crash(rules: str) -> None:
    with pytest.raises(CannotMarkError):
        value_of = item(rules)
        mark(value_of)


def test_a_container_cannot_grow_without_end() -> None:
    double = put(of("multiple", A, *['<qti-variable identifier="OUT"/>'] * 2))
    with pytest.raises(CannotMarkError, match="grows past 1000"):
        mark(item(double * 60, "identifier", "multiple"))


@pytest.mark.parametrize("text", ["1e308", "1e-308", "1.0000000001", "-1e300"])
def test_hostile_powers_end_quickly(text: str) -> None:
    for number in (Decimal, float):
        value(of("power", base(text), base("1e300")), "float", number)
        value(of("round", of("product", *[base(text)] * 50)), "integer", number)


DECIMALS = st.decimals(-1000, 1000, places=3)
TOLERANCES = st.decimals(0, 200, places=2)


@given(x=DECIMALS, y=DECIMALS, below=TOLERANCES, above=TOLERANCES, closed=st.tuples(st.booleans(), st.booleans()))
def test_equal_agrees_with_its_formula(
    x: Decimal, y: Decimal, below: Decimal, above: Decimal, closed: tuple[bool, bool]
) -> None:
    bounds = " ".join(
        f'include-{side}-bound="{str(each).lower()}"' for side, each in zip(("lower", "upper"), closed, strict=True)
    )
    for mode, low, high in (
        ("absolute", x - below, x + above),
        ("relative", x * (1 - below / 100), x * (1 + above / 100)),
    ):
        expected = low < y < high or (closed[0] and y == low < high) or (closed[1] and y == high > low)
        if y == low == high:
            expected = closed == (True, True)
        attributes = f'tolerance-mode="{mode}" tolerance="{below} {above}" {bounds}'
        assert value(of("equal", base(x), base(y), attributes=attributes)) is expected


@given(x=DECIMALS, y=DECIMALS, tolerance=TOLERANCES)
def test_one_tolerance_serves_both_sides_and_bounds_are_included_by_default(
    x: Decimal, y: Decimal, tolerance: Decimal
) -> None:
    attributes = f'tolerance-mode="absolute" tolerance="{tolerance}"'
    assert value(of("equal", base(x), base(y), attributes=attributes)) is (abs(x - y) <= tolerance)


def test_a_tolerance_may_be_the_name_of_a_variable() -> None:
    attributes = 'tolerance-mode="absolute" tolerance="T"'
    found = [value(of("equal", base(2), X, attributes=attributes), X=typed) for typed in ("2.5", "2.51", "")]
    assert found == [True, False, None]
