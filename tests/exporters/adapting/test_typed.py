"""Texts that count as a number where a format compares answers as text: all ways to type it, and no other number."""

from __future__ import annotations

from dataclasses import replace
from decimal import Context, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from turnwright.bank.item.item import NumberEntry
from turnwright.exporters.adapting.typed import MOST_NUMBERS, known_as, typed_as
from turnwright.exporters.proof.qti1.number import read_typed

from tests.exporters import samples


def entry(key: str, width: str, figures: int, unit: str = "m/s", exact: float | None = None) -> NumberEntry:
    number = Decimal(key)
    return replace(
        samples.least_speed().entry,
        key=number,
        half_width=Decimal(width),
        exact=float(number) if exact is None else exact,
        figures=figures,
        unit=unit,
    )


# key, half-width, figures, unit, unrounded; then what counts, and what does not: written down by hand
CASES = (
    (
        ("2.97", "0.025", 3, "m/s", 2.9698485),
        "2.97|2,97|+2.97|2.970|2.97 m/s|2.97m/s|2,97 m/s|2.95|2.995|2.945|2.9698|2.96984|2.96985|2.9698485",
        "2.94|3|3.0|3.00|2.944|2.996|2.9731|12.97|-2.97|2.97 km/h|2.97 m|2.97.|2..97||297",
    ),
    (("3.00", "0.06", 3, "", 3.001), "3|3.0|3,0|3.00|3.000|+3|2.94|3.06|3.001", "3.07|2.93|4|30|3.061"),
    (
        ("1250", "25", 3, "m/s²", 1249.63),
        "1250|1 250|1.25e3|1,25e3|1.25e+3|1.25x10^3|1.25 x 10^3|1.25×10³|1.25 × 10³|1.25*10^3|1250 m/s²|1250 m/s^2|"
        "1.25e3 m/s²|1249.6|1249.63|1230|1275|1.243e3",
        "1220|1280|1.25|1,250|1.25e4|1.25e-3|125|1.25 × 10⁴|1250 m/s",
    ),
    (
        ("-0.000250", "0.000005", 3, "", -0.0002497),
        "-0.00025|−0.00025|-.00025|-2.5e-4|−2.5e-4|-2,5e-4|-2.50×10⁻⁴|-2.5 x 10^-4|-0.0002497|-0.000245|-0.0002550",
        "0.00025|2.5e-4|-2.5e4|-0.000256|-0.0025",
    ),
    (("30.0", "0.5", 3, "°", 30.02), "30|30.0|30°|30 °|30.0 degrees|30 deg|30,5|29.5|30.02", "30.6|29.4|31|3|300"),
    (
        ("45.0", "0.9", 3, "revolutions per minute", 45.02),
        "45|45.0 rpm|45 r/min|44.1 revolutions per minute|45.02",
        "45 r/s|45 rps|44.0|45 revolutions",
    ),
    (("72.0", "1.4", 3, "km/h", 72.02), "72|72 km/h|72.0 kph|72 kmh|70.6", "72 mph|72 km|73.5 kph|20 m/s"),
    (("9.99", "0.12", 3, "N", 9.987), "9.99|10|10.0|10.1|10.05|9.87|10,1 N", "10.2|10.12|9.86|10.11 m"),
)


@pytest.mark.parametrize(("what", "right", "wrong"), CASES)
def test_a_number_counts_as_people_type_it(what: tuple[str, str, int, str, float], right: str, wrong: str) -> None:
    texts = typed_as(entry(*what))
    assert texts is not None
    assert set(right.split("|")) - {*texts} == set()
    assert set(wrong.split("|")) & {*texts} == set()


def test_what_cannot_be_listed_is_told_apart() -> None:
    assert typed_as(entry("45.00", "0.50", 4)) is None
    assert typed_as(entry("0.1", "0.2", 2)) is None


def within(asked: NumberEntry, figures: int, most: int) -> int:
    """How many numbers of so many figures lie within the tolerance; past ``most`` they are not counted."""
    context = Context(prec=figures)
    number, found = context.next_plus(context.next_minus(asked.key - asked.half_width)), 0
    while found <= most and number <= asked.key + asked.half_width:
        found += number >= asked.key - asked.half_width
        number = context.next_plus(number)
    return found


@given(
    st.decimals("0.001", "9999", places=4, allow_nan=False),
    st.integers(1, 4),
    st.decimals("0.005", "0.04", places=3),
    st.sampled_from(["", "m/s²", "°", "N", "revolutions per minute"]),
    st.booleans(),
)
def test_every_text_of_a_number_is_read_within_its_tolerance(
    size: Decimal, figures: int, share: Decimal, unit: str, negative: bool
) -> None:
    """Read by the proof, which knows nothing of how the texts were made."""
    asked = entry(str(-size if negative else size), str(size * share), figures, unit)
    texts = typed_as(asked)
    if texts is None:  # there are too many numbers, which are counted one by one
        assert any(
            within(asked, finer, most) > most
            for finer, most in ((figures, MOST_NUMBERS), (figures + 1, 10 * (MOST_NUMBERS + 1)))
        )
        return
    assert texts
    for text in texts:
        number = read_typed(text, unit)
        assert number is not None and asked.accepts(number), text


def test_texts_of_a_wrong_number_are_few() -> None:
    (wrong,) = samples.number().recognised
    texts = known_as(wrong, 3)
    assert {"8.82", "8,82"} <= {*texts}
    assert len(texts) <= 60
    numbers = {Decimal(each.replace(",", ".")) for each in texts}
    assert all(abs(each - wrong.value) <= wrong.half_width for each in numbers)
    assert min(numbers) < wrong.value < max(numbers), "they lie on both sides"
