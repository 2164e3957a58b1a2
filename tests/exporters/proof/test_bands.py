"""The band of right answers, found by asking alone, against the band that answers."""

from __future__ import annotations

from decimal import Decimal, localcontext

from hypothesis import given
from hypothesis import strategies as st
from turnwright.exporters.proof.marking.answers import find_band
from turnwright.exporters.proof.processing.response import EXACT
from turnwright.exporters.proof.report import AcceptedBand, Edge

KEYS = st.decimals(-1000, 1000, places=2)
WIDTHS = st.decimals("0.001", 500, places=3)


class Judge:
    """Takes answers within a band as right, and counts how often it was asked."""

    def __init__(self, band: AcceptedBand) -> None:
        self.band, self.asked = band, 0

    def __call__(self, answer: Decimal) -> bool:
        self.asked += 1
        lower, upper = self.band.lower, self.band.upper
        above = lower.value <= answer if lower.included else lower.value < answer
        return above and (answer <= upper.value if upper.included else answer < upper.value)


@given(key=KEYS, below=WIDTHS, above=WIDTHS, included=st.tuples(st.booleans(), st.booleans()))
def test_edges_are_found_as_they_are(key: Decimal, below: Decimal, above: Decimal, included: tuple[bool, bool]) -> None:
    band = AcceptedBand(Edge(key - below, included[0]), Edge(key + above, included[1]))
    judge = Judge(band)
    with localcontext(EXACT):
        assert find_band(judge, key, whole=False) == band
    assert judge.asked < 200


@given(key=st.integers(-1000, 1000), below=st.integers(0, 500), above=st.integers(0, 500))
def test_where_whole_numbers_are_asked_edges_are_whole(key: int, below: int, above: int) -> None:
    band = AcceptedBand(Edge(Decimal(key - below)), Edge(Decimal(key + above)))
    with localcontext(EXACT):
        assert find_band(Judge(band), Decimal(key), whole=True) == band


def test_an_edge_that_no_short_number_names_is_found_closely() -> None:
    third = Decimal(1) / Decimal(3)
    with localcontext(EXACT):
        found = find_band(Judge(AcceptedBand(Edge(1 - third), Edge(1 + third))), Decimal(1), whole=False)
    assert found is not None
    assert abs(found.upper.value - 1 - third) < Decimal("1e-10")


def test_a_band_without_an_end_is_none() -> None:
    assert find_band(lambda answer: answer > 0, Decimal(5), whole=False) is None
