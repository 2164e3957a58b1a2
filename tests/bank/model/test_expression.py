"""The grammar of formulas: what it reads means what Python's own arithmetic says, and it reads nothing else."""

from __future__ import annotations

import math
from collections.abc import Mapping

import pytest
import sympy
from hypothesis import example, given
from hypothesis import strategies as st
from turnwright.bank.errors import ExpressionError
from turnwright.bank.model.evaluation import evaluate
from turnwright.bank.model.expression import FUNCTIONS, is_name, names_in, parse, parse_relation

VALUES = {"r": 0.9, "v": 2.5, "m": 0.3, "g": 9.8, "v_top": 1.7, "theta": 0.6, "L2": 1.25}
PYTHON = {name: getattr(math, name) for name in FUNCTIONS} | {"pi": math.pi}

# --- what it reads ----------------------------------------------------------------------------

leaves = st.sampled_from(
    [*VALUES, "pi", "2", "0.5", ".25", "3.", "1e2", "25E-1", "sin(theta)", "cos(theta)", "tan(theta)"]
)


def larger(inner: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    pair = st.tuples(inner, inner)
    return st.one_of(
        pair.map(" + ".join),
        pair.map("-".join),
        pair.map(lambda two: f"({two[0]})*({two[1]})"),
        pair.map(lambda two: f"({two[0]}) / ({two[1]})"),
        st.tuples(inner, st.sampled_from(["2", "3", "-1", "1/2", "0.5"])).map(lambda two: f"({two[0]})**({two[1]})"),
        inner.map(lambda one: f"-({one})"),
        inner.map(lambda one: f"sqrt({one})"),
        inner.map(lambda one: f"atan( {one} )"),
    )


def python(text: str, values: Mapping[str, float]) -> float | None:
    """The value by Python's own arithmetic; None where it has no real one."""
    try:
        value = eval(text, {"__builtins__": {}}, {**PYTHON, **values})
    except (ZeroDivisionError, ValueError, OverflowError, TypeError):  # TypeError: math.sqrt of a complex number
        return None
    return value if isinstance(value, float | int) and math.isfinite(value) else None


@given(st.recursive(leaves, larger, max_leaves=7))
@example("v**2/r - g")
@example("2*pi*sqrt(L2*cos(theta)/g)")
@example("-v**2")
@example("m/r/v*g")
@example("r-v-m")
def test_a_formula_means_what_python_makes_of_it(text: str) -> None:
    expected = python(text, VALUES)
    try:
        expression = parse(text)
    except ExpressionError as error:
        known = ("zero", "real", "a root of a power of a")
        assert len(text) > 40 or expected is None or any(each in error.wrong for each in known), error
        return
    if expected is not None and 1e-9 < abs(expected) < 1e9:
        assert float(evaluate(expression, VALUES)) == pytest.approx(expected, rel=1e-6)
    assert names_in(expression) <= set(VALUES)


def test_numbers_are_exact() -> None:
    assert parse("0.1 + 0.2") == sympy.Rational(3, 10)
    assert parse("1.25e-3") == sympy.Rational(1, 800)


@pytest.mark.parametrize(
    ("text", "sign"), [("T >= 0", ">="), ("f<=mu*N", "<="), ("a > 0", ">"), ("a<b", "<"), ("r = L*2", "=")]
)
def test_a_relation_has_two_sides_and_a_sign(text: str, sign: str) -> None:
    relation = parse_relation(text)
    left, right = text.split(sign)
    assert (relation.left, relation.sign, relation.right) == (parse(left), sign, parse(right))
    assert relation.symbols == names_in(parse(left)) | names_in(parse(right))


@pytest.mark.parametrize(
    "name", ["r", "v_top", "omega", "F_N", "L2", "E", "I", "S", "N", "O", "Q", "beta", "zeta", "gamma"]
)
def test_a_letter_is_a_quantity_whatever_it_means_to_a_library(name: str) -> None:
    assert is_name(name)
    assert parse(name) == sympy.Symbol(name)


@pytest.mark.parametrize(
    "name", ["pi", "sin", "sqrt", "lambda", "in", "as", "is", "2r", "v_top_2", "_v", "v_", "", "r\n", "a" * 13]
)
def test_what_means_something_else_is_no_name(name: str) -> None:
    assert not is_name(name)


# --- what it refuses --------------------------------------------------------------------------

REFUSED = [
    ("", 1, "found something that is no formula"),
    ("r +", 1, "found something that is no formula"),
    ("2m", 1, "found something that is no formula; write a formula such as m*v**2/r, with * between factors"),
    ("m g", 3, "with * between factors"),
    ("r^2", 2, "found '^'; write a power with **, as in r**2"),
    ("r²", 2, "write a power with **, as in r**2"),
    ("m·g", 2, "write * for times"),
    ("m − 1", 3, "write the minus of the keyboard"),
    ("sin(θ)", 5, "write a Greek letter by its name, as in theta"),
    ("1,5*r", 2, "write a decimal point"),
    ("r.real", 1, "found 'r.real'"),
    ("m*(r).v", 3, "found '(r).v'"),
    ("r[0]", 2, "found '['"),
    ("{r}", 1, "found '{'"),
    ("'r'", 1, "found a quotation mark"),
    ('"r"', 1, "found a quotation mark"),
    ("f'{r}'", 2, "found a quotation mark"),
    ("lambda: r", 7, "found ':'"),
    ("r if m else v", 1, "found 'r if m else v'"),
    ("r and m", 1, "found 'r and m'"),
    ("not r", 1, "found 'not r'"),
    ("r is m", 1, "found 'r is m'"),
    ("r in m", 1, "found 'r in m'"),
    ("r == m", 3, "found '='"),
    ("(r := 2)", 4, "found ':'"),
    ("r // m", 1, "found 'r // m'"),
    ("r % m", 3, "found '%'"),
    ("r @ m", 3, "found '@'"),
    ("~r", 1, "found '~'"),
    ("r | m", 3, "found '|'"),
    ("r << 2", 3, "found '<'"),
    ("await r", 1, "found"),
    ("*r", 1, "found something that is no formula"),
    ("True", 1, "found 'True'"),
    ("None", 1, "found 'None'"),
    ("...", 1, "found '...'"),
    ("1j", 1, "found '1j'; expected a plain number of ordinary size"),
    ("0x10", 1, "found '0x10'"),
    ("1_000", 1, "found '1_000'"),
    ("1e31", 1, "found '1e31'"),
    ("1e999", 1, "found '1e999'"),
    ("1e-50*r", 1, "found a number beyond all measure"),
    ("1e30*1e30*r", 1, "found a number beyond all measure"),
    ("exp(r)", 1, "found the function 'exp'; write a * before the bracket, or use one of sqrt, sin"),
    ("m(g + v)", 1, "found the function 'm'"),
    ("r.sin(v)", 1, "found the function 'r.sin'"),
    ("sin()", 1, "found 'sin()'; sin takes one argument"),
    ("sin(*r)", 5, "found '*r'"),
    ("sin(theta + phi)", 1, "found the sine of what is no angle; write sin(theta) or sin(omega*t), of letters"),
    ("cos(sqrt(t))*r", 1, "found the cosine of what is no angle"),
    ("tan(0.5)", 1, "found the tangent of what is no angle"),
    ("v**7", 4, "found the power '7'; powers are numbers from -6 to 6, or simple fractions such as 1/2"),
    ("v**r", 4, "found the power 'r'"),
    ("v**(1/7)", 5, "found the power '1/7'"),
    ("v**0.123", 4, "found the power '0.123'"),
    ("v**-7", 4, "found the power '-7'"),
    ("9**6**6", 4, "found the power '6**6'"),
    ("((((9**6)**6)**6)**6)**6", 3, "grows too long when it is multiplied out; use fewer brackets and smaller powers"),
    ("(r + m)*(r + v)*(r + g)*(r + 1)*(r + 2)*(r + 3)*(r + 4)", 1, "grows too long when it is multiplied out"),
    ("((((r**(1/6))**(1/6))**(1/6)))", 3, "grows too long"),
    ("r/0", 3, "found a division by zero; divide by something else"),
    ("r/(m - m)", 4, "found a division by zero"),
    ("0**-1", 1, "found a division by zero"),
    ("(m - m)**0", 1, "found a division by zero"),
    ("sqrt(-2)", 1, "found a formula that has no real value; check divisions and roots"),
    ("asin(2)*r", 1, "found a formula that has no real value"),
    ("(-8)**(1/3)*0.5", 1, "found a formula that has no real value"),
    ("v_top_2", 1, "found the name 'v_top_2'; names are letters and digits with at most one subscript, as in v_top"),
    ("_r", 1, "found the name '_r'"),
    ("__import__", 1, "found the name '__import__'"),
    ("-" * 30 + "r", 22, "found too many nested parts; at most 20 levels are read"),
    ("(" * 300 + "r" + ")" * 300, 1, "found 601 characters; at most 200 are read"),
    ("  r +  ^", 8, "found '^'"),
    ("  r + [", 7, "found '['"),
    ("   r.m", 4, "found 'r.m'"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "column", "message"), REFUSED, ids=[each[0][:30] for each in REFUSED])
def test_what_is_no_formula_is_refused_at_its_place(text: str, column: int, message: str) -> None:
    with pytest.raises(ExpressionError) as error:
        parse(text)
    assert (error.value.column, message in f"{error.value.wrong}; {error.value.right}") == (column, True), error.value


RELATIONS = [
    ("N", 2, "found no relation sign; write for example 'T >= 0'"),
    ("N == 0", 3, "found '=='"),
    ("N != 0", 3, "found '!='"),
    ("0 < N < 1", 3, "found more than one relation sign"),
    ("N >=", 3, "found nothing to the right of '>='"),
    ("= N", 1, "found nothing to the left of '='"),
    ("N ≥ 0", 3, "write >="),
    ("N >= 2^m", 7, "found '^'"),
    ("N >= m.g", 6, "found 'm.g'"),
    ("N.m >= 0", 1, "found 'N.m'"),
    ("N => 0", 3, "found more than one relation sign"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "column", "message"), RELATIONS, ids=[each[0] for each in RELATIONS])
def test_what_is_no_relation_is_refused_at_its_place(text: str, column: int, message: str) -> None:
    with pytest.raises(ExpressionError) as error:
        parse_relation(text)
    assert (error.value.column, message in f"{error.value.wrong}; {error.value.right}") == (column, True), error.value


@given(st.text(max_size=40) | st.text("rm.()*+-/0123456789e_ =<>sincoqtpal", max_size=60))
@example("1if r else 2")
@example("0or r")
@example("'\\d'")
@example("a" * 5000)
def test_whatever_the_text_is_there_is_a_formula_or_one_error(text: str) -> None:
    for read in (parse, parse_relation):
        try:
            read(text)
        except ExpressionError as error:
            assert 1 <= error.column <= max(len(text), 1) + 1
            assert "\n" not in error.wrong + error.right
