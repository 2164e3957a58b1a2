"""Units are a closed list, their factors are those of the SI Brochure, and what does not fit is refused."""

from __future__ import annotations

import math
import signal
import string

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from turnwright.bank.errors import OverBudgetError, Place, UnitError
from turnwright.bank.quantities import units
from turnwright.bank.quantities.units import SYMBOLS, examples_of, product, unit

# SI Brochure, 9th edition, tables 4, 7 and 8; inch, foot and mile as in NIST SP 811, appendix B.8 (exact)
FACTORS = {
    "1": 1, "m": 1, "cm": 0.01, "mm": 0.001, "km": 1000, "Mm": 1e6, "in": 0.0254, "ft": 0.3048, "mi": 1609.344,
    "kg": 1, "g": 0.001, "mg": 1e-6, "t": 1000, "s": 1, "ms": 0.001, "min": 60, "h": 3600, "d": 86400,
    "N": 1, "kN": 1000, "mN": 0.001, "J": 1, "kJ": 1000, "Hz": 1, "C": 1, "T": 1, "mT": 0.001, "V": 1,
    "rad": 1, "deg": math.pi / 180, "r": 2 * math.pi, "mph": 0.44704,
    "km/h": 1 / 3.6, "r/min": math.pi / 30, "m/s^2": 1, "N*m^2/kg^2": 1, "cm/s": 0.01, "m^3": 1, "g*cm/s^2": 1e-5,
    # year and astronomical unit: IAU resolutions; light year: c times the Julian year; eV exact; u: CODATA 2022
    "nm": 1e-9, "μm": 1e-6, "au": 149_597_870_700, "ly": 9_460_730_472_580_800, "μg": 1e-9, "u": 1.66053906892e-27,
    "ns": 1e-9, "μs": 1e-6, "y": 31_557_600, "kHz": 1000, "MHz": 1e6, "MN": 1e6, "μN": 1e-6, "MJ": 1e6,
    "eV": 1.602176634e-19, "keV": 1.602176634e-16, "MeV": 1.602176634e-13, "GeV": 1.602176634e-10, "nC": 1e-9,
    "μC": 1e-6, "μT": 1e-6, "kV": 1000, "GJ": 1e9, "MV": 1e6,
    "1/min": 1 / 60, "m/s/s": 1, "s^-2": 1, "km/d": 1000 / 86400, "N/kg": 1, "kg*m/s^2": 1,
}  # fmt: skip


def test_every_unit_has_its_published_factor() -> None:
    assert {symbol: unit(symbol).factor for symbol in FACTORS} == pytest.approx(FACTORS, rel=1e-12)
    assert set(SYMBOLS) <= set(FACTORS)


@pytest.mark.parametrize(
    ("typed", "symbol"),
    [("rpm", "r/min"), ("RPM", "r/min"), ("rev/min", "r/min"), ("turns/s", "r/s"), ("rev", "r"), ("turns", "r"),
     ("kph", "km/h"), ("km/hr", "km/h"), ("kmh", "km/h"), ("°", "deg"), ("degrees", "deg"), ("°/s", "deg/s"),
     ("us", "μs"), ("\u00b5m", "μm"), ("uC", "μC"), ("yr", "y"), ("AU", "au"), ("m/s²", "m/s^2"),
     ("N·m²/kg²", "N*m^2/kg^2"), ("s⁻¹", "s^-1")],
)  # fmt: skip
def test_a_unit_is_read_as_people_type_it_and_printed_as_ever(typed: str, symbol: str) -> None:
    assert unit(typed) == unit(symbol)
    assert unit(typed).printed == unit(symbol).printed


@pytest.mark.parametrize(
    ("one", "other"),
    [("N", "kg*m/s^2"), ("J", "N*m"), ("N/kg", "m/s^2"), ("Hz", "1/s"), ("T", "N*s/C/m"), ("V", "J/C"), ("mph", "km/h"),
     ("s^-2", "1/s^2"), ("r/min", "rad/s"), ("deg", "rad"), ("m*kg", "kg*m")],
)  # fmt: skip
def test_units_of_one_dimension_fit_each_other(one: str, other: str) -> None:
    assert unit(one).fits(unit(other))


@pytest.mark.parametrize(
    ("one", "other"), [("Hz", "r/min"), ("1/s", "rad/s"), ("deg", "1"), ("m", "s"), ("N", "kg"), ("J", "N")]
)
def test_units_of_two_kinds_do_not_fit(one: str, other: str) -> None:
    assert not unit(one).fits(unit(other))
    assert not unit(other).fits(unit(one))


@pytest.mark.parametrize(
    ("symbol", "printed"),
    [("1", ""), ("deg", "°"), ("m/s^2", "m/s²"), ("N*m^2/kg^2", "N\u00a0m²/kg²"), ("s^-2", "s⁻²"), ("r/min", "r/min")],
)
def test_a_unit_is_printed_as_after_a_number(symbol: str, printed: str) -> None:
    assert unit(symbol).printed == printed


REFUSED = [
    ("metre", "found the unknown unit 'metre'; write 'm'"),
    ("kilograms", "found the unknown unit 'kilograms'; write 'kg'"),
    ("Newton", "found the unknown unit 'Newton'; write 'N'"),
    ("m s⁻¹", "found the unknown unit 'm s⁻¹'; write 'm*s^-1'"),
    ("meters per second squared", "found a unit of 25 characters"),
    ("mev", "found the unknown unit 'mev'; expected a unit such as 'MeV'"),
    ("metres per sec", "found the unknown unit 'metres per sec'; write 'm/s'"),
    ("Kg", "expected a unit such as 'kg'"),
    ("M", "found the unknown unit 'M'; expected a unit such as"),
    ("furlong", "found the unknown unit 'furlong'; expected a unit such as 'm/s', 'km/h', 'r/min', 'kg', 'N' or 'deg'"),
    ("", "found the unknown unit ''"),
    ("m/", "found the unknown unit 'm/'"),
    ("m^0", "found the unknown unit 'm^0'"),
    ("m^10", "found the unknown unit 'm^10'"),
    ("m**2", "found the unknown unit 'm**2'"),
    ("m s", "found the unknown unit 'm s'"),
    ("m\n", "found the unknown unit 'm\\n'"),
    ("m\u202e", "found the unknown unit 'm\\u202e'"),
    ("meter", "found the unknown unit 'meter'"),
    ("2*m", "found the unknown unit '2*m'"),
    ("m" * 25, "found a unit of 25 characters; at most 24 are read"),
]


@pytest.mark.parametrize(("symbol", "message"), REFUSED, ids=[each[0][:12] for each in REFUSED])
def test_an_unknown_unit_is_refused_with_one_that_may_be_meant(symbol: str, message: str) -> None:
    with pytest.raises(UnitError) as error:
        unit(symbol)
    assert message in str(error.value)


@given(st.text(string.ascii_letters + "*/^-0123456789 .()", max_size=26) | st.text(max_size=8))
def test_whatever_the_text_is_there_is_a_unit_or_one_error(symbol: str) -> None:
    try:
        found = unit(symbol)
    except UnitError as error:
        assert error.wrong and error.right
    else:
        assert found.factor > 0
        assert found.fits(found)


PINT = units.registry()


def unit_of_pint(symbol: str) -> pint.Quantity:
    return PINT.Quantity(1, "dimensionless" if symbol == "1" else symbol)


@given(st.sampled_from(sorted(FACTORS)), st.sampled_from(sorted(FACTORS)))
def test_a_fraction_of_units_has_the_fraction_of_their_factors(above: str, below: str) -> None:
    if "/" not in below and below != "1" and len(above) + len(below) < 20:
        # what stands below is a product, and every factor of it divides
        assert unit(f"{above}/{below}").factor == pytest.approx(FACTORS[above] / FACTORS[below])


@pytest.mark.parametrize(
    ("factors", "printed"),
    [
        ([("s", 2)], "s²"),
        ([("rad/s", 2)], "rad²/s²"),
        ([("m/s", -1)], "s/m"),
        ([("s", -1)], "s⁻¹"),
        ([("m/s", 1), ("s", 1)], "m"),
        ([("N", 1), ("m/s", -2)], "N\u00a0s²/m²"),
        ([("m/s^2", 1), ("rad/s", -2)], "m"),
        ([("N*m^2/kg^2", 1), ("m", 2)], "N\u00a0m⁴/kg²"),
        ([("N", 1), ("kg", -1), ("m", -1)], "N\u00a0kg⁻¹\u00a0m⁻¹"),
        ([("N", 1), ("N", -1)], ""),
    ],
)
def test_a_product_of_units_stands_in_lowest_terms(factors: list[tuple[str, int]], printed: str) -> None:
    assert product(*((unit(symbol), power) for symbol, power in factors)).in_text == printed


POWERS = st.tuples(st.sampled_from(["m", "kg", "s", "m/s", "N/kg", "rad/s", "1"]), st.sampled_from([-2, -1, 1, 2]))


@given(st.lists(POWERS, min_size=1, max_size=2))
def test_a_product_of_units_is_that_of_pint(factors: list[tuple[str, int]]) -> None:
    whole = math.prod((unit_of_pint(symbol) ** power for symbol, power in factors), start=PINT.Quantity(1))
    found = product(*((unit(symbol), power) for symbol, power in factors))
    assert found.factor == pytest.approx(whole.to_base_units().magnitude)
    assert unit_of_pint(found.symbol).dimensionality == whole.dimensionality


@pytest.mark.parametrize(
    ("symbol", "examples"),
    [("cm", "'m' or 'km'"), ("mph", "'m/s' or 'km/h'"), ("rad/s", "'rad/s' or 'r/min'"), ("1/s", "'Hz' or 'kHz'"),
     ("1", "'1'"), ("rad", "'deg' or 'rad'"), ("N*m", "'J' or 'kJ'"), ("m^3", "'m^3'"), ("T", "'T' or 'mT'")],
)  # fmt: skip
def test_the_units_that_fit_are_named_by_example(symbol: str, examples: str) -> None:
    assert examples_of(unit(symbol)) == examples


@pytest.mark.skipif(not hasattr(signal, "pthread_sigmask"), reason="needs timers of processor time")
def test_a_bell_that_rings_while_units_load_is_heard_after_that(monkeypatch: pytest.MonkeyPatch) -> None:
    """Pint keeps an error as a definition that it can't read, so that strangers' work ended with a traceback."""
    heard: list[str] = []

    def loads(**_: object) -> None:
        signal.raise_signal(signal.SIGPROF)
        for _ in range(1000):  # where the handler would run
            pass
        heard.append("loaded")

    before = signal.signal(signal.SIGPROF, lambda *_: heard.append("bell"))
    monkeypatch.setattr(pint, "UnitRegistry", loads)
    try:
        units.registry.__wrapped__()
    finally:
        signal.signal(signal.SIGPROF, before)
    assert heard == ["loaded", "bell"]


def test_a_budget_that_is_used_up_while_units_load_is_told_as_such(monkeypatch: pytest.MonkeyPatch) -> None:
    """Pint wraps whatever ends it while it reads its definitions, so that strangers' work ended with a traceback."""
    ended = OverBudgetError("a.b", Place("a.yaml"), "it took too long", "use fewer unknowns")

    def interrupted(**_: object) -> None:
        try:
            raise ended
        except OverBudgetError as error:
            raise RuntimeError("while parsing") from error

    monkeypatch.setattr(pint, "UnitRegistry", interrupted)
    with pytest.raises(OverBudgetError) as told:
        units.registry.__wrapped__()
    assert told.value is ended
