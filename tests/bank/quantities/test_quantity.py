"""A quantity is worth what is printed: rounded once, half to even, with its figures and its unit."""

from __future__ import annotations

from decimal import ROUND_HALF_EVEN, Decimal
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from turnwright.bank.quantities.quantity import (
    Quantity,
    from_float,
    half_unit,
    print_exact,
    print_figures,
    print_range,
    round_figures,
    typed_number,
)
from turnwright.bank.quantities.units import unit

decimals = st.decimals(allow_nan=False, allow_infinity=False, min_value=-(10**12), max_value=10**12, places=9).filter(
    bool
)
figures_ = st.integers(1, 9)

# ISO 80000-1:2009, annex B, rule A: a half goes to the even digit
HALVES = [
    ("12.25", 3, "12.2"), ("12.35", 3, "12.4"), ("-0.125", 2, "-0.12"), ("2.5", 1, "2"), ("3.5", 1, "4"),
    ("9.995", 3, "10.0"), ("12.2500001", 3, "12.3"), ("0.0450", 1, "0.04"),
]  # fmt: skip


@pytest.mark.parametrize(("value", "figures", "rounded"), HALVES)
def test_a_half_goes_to_the_even_digit(value: str, figures: int, rounded: str) -> None:
    assert str(round_figures(Decimal(value), figures)) == rounded


@given(decimals, figures_)
def test_rounding_moves_a_value_by_half_a_unit_at_most(value: Decimal, figures: int) -> None:
    rounded = round_figures(value, figures)
    assert abs(Fraction(rounded) - Fraction(value)) <= Fraction(half_unit(value, figures))
    assert len(rounded.normalize().as_tuple().digits) <= figures
    assert round_figures(rounded, figures) == rounded
    assert round_figures(-value, figures) == -rounded


@given(decimals, figures_)
def test_rounding_agrees_with_quantize(value: Decimal, figures: int) -> None:
    step = Decimal(1).scaleb(value.adjusted() - figures + 1)
    assert round_figures(value, figures) == value.quantize(step, ROUND_HALF_EVEN)


PRINTED = [
    ("0.85", 3, "0.850"), ("2", 3, "2.00"), ("120", 3, "120"), ("120", 4, "120.0"), ("250", 2, "2.5 × 10²"),
    ("1000", 4, "1000"),
    ("1000", 3, "1.00 × 10³"), ("999.6", 3, "1.00 × 10³"), ("0.00123", 3, "0.00123"), ("0.000123", 3, "1.23 × 10⁻⁴"),
    ("5.972e24", 4, "5.972 × 10²⁴"), ("6.6743e-11", 5, "6.6743 × 10⁻¹¹"), ("-4.5", 2, "−4.5"),
    ("-2500", 2, "−2.5 × 10³"),
    ("0", 3, "0.00"), ("-0.0", 2, "0.0"), ("9.96", 2, "10"), ("5", 1, "5"), ("0.05", 1, "0.05"), ("50", 1, "5 × 10¹"),
]  # fmt: skip


@pytest.mark.parametrize(("value", "figures", "text"), PRINTED)
def test_a_number_shows_as_many_figures_as_it_has(value: str, figures: int, text: str) -> None:
    assert print_figures(Decimal(value), figures) == text


def read(text: str) -> Decimal:
    """The number that a person reads."""
    mantissa, _, power = text.replace("−", "-").partition(" × 10")
    raised = power.translate(str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-"))
    return Decimal(mantissa).scaleb(int(raised or 0))


@given(decimals, figures_)
def test_what_is_printed_is_the_rounded_value_with_its_figures(value: Decimal, figures: int) -> None:
    text = print_figures(value, figures)
    assert read(text) == round_figures(value, figures)
    mantissa = text.partition(" × ")[0].lstrip("−")
    assert len(mantissa.replace(".", "").lstrip("0")) == figures
    assert len(mantissa) <= figures + 5


@given(st.integers(-(10**8), 10**8), st.integers(1, 8))
def test_a_computed_number_has_no_binary_noise(digits: int, places: int) -> None:
    value = Decimal(digits).scaleb(-places)
    assert from_float(float(value)) == value
    assert from_float(float(value) / 3 * 3) == value
    assert from_float(float(value) + 0.1 - 0.1) == pytest.approx(value, abs=Decimal("1e-12"))


def test_a_product_that_is_just_a_half_is_rounded_as_a_half() -> None:
    product = 0.1 * 1.1 * 14.5
    assert product != 1.595
    assert round_figures(from_float(product), 3) == Decimal("1.60")


CONVERTED = [
    ("90", "km/h", 25.0), ("250", "g", 0.25), ("30", "deg", 0.5235987755982988), ("60", "r/min", 6.283185307179586),
    ("1.5", "h", 5400.0), ("12", "in", 0.3048), ("5.0", "mT", 0.005),
]  # fmt: skip


@pytest.mark.parametrize(("value", "symbol", "si"), CONVERTED)
def test_a_quantity_converts_to_si(value: str, symbol: str, si: float) -> None:
    assert Quantity(Decimal(value), unit(symbol), 9).si == pytest.approx(si, rel=1e-15)


def test_a_quantity_is_worth_no_more_than_is_printed() -> None:
    assert Quantity(Decimal("0.8547"), unit("m"), 2).si == 0.85
    assert Quantity(Decimal("0.855"), unit("m"), 2).si == 0.86


@given(decimals, figures_, st.sampled_from(["m", "cm", "km/h", "deg", "r/min", "g"]))
def test_si_is_the_printed_number_times_the_factor(value: Decimal, figures: int, symbol: str) -> None:
    quantity = Quantity(value, unit(symbol), figures)
    assume(abs(value) < 10**9)
    assert quantity.si == pytest.approx(float(read(quantity.number)) * unit(symbol).factor, rel=1e-15)


def test_a_quantity_is_printed_with_its_unit() -> None:
    shown = [("0.85", "m", 3), ("25", "deg", 2), ("0.5", "1", 2), ("5.972e24", "kg", 4), ("6.674e-11", "N*m^2/kg^2", 4)]
    assert [Quantity(Decimal(value), unit(symbol), figures).text for value, symbol, figures in shown] == [
        "0.850 m", "25°", "0.50", "5.972 × 10²⁴ kg", "6.674 × 10⁻¹¹ N\u00a0m²/kg²",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("value", "figures", "text"),
    [
        ("7", 3, "7.00"),
        ("2450", 3, "2450"),
        ("1.75", 1, "1.75"),
        ("0.00099", 1, "9.9 × 10⁻⁴"),
        ("99999", 3, "99999"),
        ("100000", 3, "1.00 × 10⁵"),
        ("-0.000000000000000000159", 3, "−1.59 × 10⁻¹⁹"),
        ("0", 3, "0.00"),
    ],
)
def test_all_digits_are_printed_and_no_row_of_zeros(value: str, figures: int, text: str) -> None:
    assert print_exact(Decimal(value), figures) == text


def test_both_ends_of_a_range_have_one_power_of_ten() -> None:
    assert print_range(Decimal("1.5575E-19"), Decimal("1.6225E-19")) == "1.5575 × 10⁻¹⁹ to 1.6225 × 10⁻¹⁹"
    assert print_range(Decimal("-2.5"), Decimal("3.10")) == "−2.5 to 3.10"


TYPED = [
    ("0.9", "0.9", ""), ("-.5kg", "-0.5", "kg"), ("6.4e6 m", "6.4e6", " m"), ("1.6 x10^-19 C", "1.6e-19", " C"),
    ("1.6x10-19C", "1.6e-19", "C"), ("1.6 × 10⁻¹⁹ C", "1.6e-19", " C"), ("2*10**30kg", "2e30", "kg"),
    ("5.97·10^24", "5.97e24", ""), ("12 500 km", "12500", " km"), ("384\u202f400.5", "384400.5", ""), ("−3", "-3", ""),
    ("5.00 eV", "5.00", " eV"), ("12 5", "12", " 5"), ("1,5", "1", ",5"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "value", "behind"), TYPED)
def test_a_number_is_read_as_people_type_it(text: str, value: str, behind: str) -> None:
    found = typed_number(text)
    assert found == (Decimal(value), behind)
    assert found[0].as_tuple().digits == Decimal(value).as_tuple().digits  # with its significant figures


def test_what_begins_with_no_number_is_none() -> None:
    assert [typed_number(each) for each in ("", "kg", "x10^3", " 5", "e5", "--3")] == [None] * 6
