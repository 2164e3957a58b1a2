"""Figures of item analysis against worked values.

The tables and values are those of the fact sheet on item writing that lies beside the repository (sections 5, 7 and 8),
which works them out by hand from the published formulas; correlations are also held against SciPy and NumPy.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats
from turnwright.bank.analysis import classical, rasch
from turnwright.bank.analysis.differential import mantel_haenszel, strata
from turnwright.bank.analysis.equivalence import holm, homogeneity, two_shares
from turnwright.bank.analysis.outcome import VariantOutcome
from turnwright.bank.analysis.siblings import with_residuals

ROWS = [
    "111111",
    "111110",
    "111110",
    "111010",
    "110101",
    "111000",
    "110100",
    "101010",
    "110000",
    "010001",
    "100000",
    "001000",
]
TABLE = np.array([[float(each) for each in row] for row in ROWS])
ONE = np.ones(6)


def test_facility_and_discrimination_of_the_worked_table() -> None:
    assert classical.facility(TABLE, ONE) == pytest.approx([0.833, 0.750, 0.583, 0.417, 0.417, 0.250], abs=5e-4)
    assert classical.item_total(TABLE, ONE) == pytest.approx([0.510, 0.596, 0.468, 0.744, 0.744, 0.282], abs=5e-4)
    assert classical.item_rest(TABLE, ONE) == pytest.approx([0.297, 0.364, 0.164, 0.534, 0.534, 0.000], abs=5e-4)
    assert classical.upper_lower(TABLE, ONE) == pytest.approx([0.667, 0.667, 0.667, 1.0, 1.0, 0.0], abs=5e-4)
    total = TABLE.sum(axis=1)
    assert classical.item_total(TABLE, ONE) == pytest.approx([stats.pearsonr(each, total)[0] for each in TABLE.T])


def test_reliability_of_the_worked_tables() -> None:
    found = classical.reliability(TABLE)
    assert found.alpha == pytest.approx(0.5664, abs=5e-5)  # KR-20
    assert found.sem == pytest.approx(1.055, abs=5e-4)
    assert found.without == pytest.approx([0.527, 0.496, 0.588, 0.401, 0.401, 0.641], abs=5e-4)
    partial = np.array([(2, 3, 1), (4, 4, 3), (3, 3, 3), (5, 4, 4), (1, 2, 2)], float)
    assert classical.alpha(partial) == pytest.approx(0.8973, abs=5e-5)


def test_the_interval_of_alpha_covers_the_truth_as_often_as_it_says() -> None:
    dice = np.random.default_rng(5)
    questions, truth = 8, 8 * 0.3 / (1 + 7 * 0.3)  # Spearman-Brown of one question's reliability, 0.3
    hits = 0
    for _ in range(600):
        scores = np.sqrt(0.3) * dice.normal(size=(60, 1)) + np.sqrt(0.7) * dice.normal(size=(60, questions))
        found = classical.reliability(scores)
        hits += found.lower < truth < found.upper
    assert 0.925 < hits / 600 < 0.975


def test_unknown_scores_leave_the_known_ones_what_they_are() -> None:
    damaged = TABLE.copy()
    damaged[0, 0] = np.nan
    assert classical.facility(damaged, ONE)[0] == pytest.approx(9 / 11)
    assert classical.facility(damaged, ONE)[1:] == pytest.approx(classical.facility(TABLE, ONE)[1:])
    assert classical.totals(damaged, ONE)[0] == 6
    assert 0.4 < classical.alpha(damaged) < 0.7
    assert np.isnan(classical.item_rest(np.ones((5, 3)), np.ones(3))).all()


def test_differential_functioning_of_the_worked_strata() -> None:
    found = mantel_haenszel(np.array([(12, 8, 9, 11), (20, 10, 14, 16), (26, 4, 20, 10)], float))
    assert found is not None
    assert (found.odds, found.delta, found.error) == pytest.approx((2.3720, -2.030, 0.815), abs=5e-4)
    assert (found.chi_square, found.p) == pytest.approx((5.425, 0.0199), abs=5e-4)
    assert (found.z_from_zero, found.z_beyond_one) == pytest.approx((2.49, 1.26), abs=5e-3)
    assert found.letter == "B"


def test_rasch_difficulties_of_the_worked_table() -> None:
    found = rasch.difficulties(TABLE > 0)
    assert found.candidates == 11
    assert found.difficulty == pytest.approx([-1.670, -1.135, -0.205, 0.669, 0.669, 1.672], abs=5e-4)
    assert found.error == pytest.approx([0.74, 0.67, 0.62, 0.63, 0.63, 0.73], abs=6e-3)


def test_homogeneity_and_equivalence_of_the_worked_variants() -> None:
    found = homogeneity((62, 55, 49, 60), (90, 88, 92, 90))
    assert found is not None
    assert (found.chi_square, found.freedom, found.p) == pytest.approx((5.590, 3, 0.133), abs=5e-4)
    table = np.array([(62, 28), (55, 33), (49, 43), (60, 30)])
    assert found.chi_square == pytest.approx(stats.chi2_contingency(table, correction=False).statistic)
    few = two_shares(62, 90, 55, 88)
    assert (few.difference, few.error) == pytest.approx((0.0639, 0.0710), abs=5e-5)
    assert few.interval == pytest.approx((-0.053, 0.181), abs=5e-4)
    assert (few.p_below, few.p_above) == pytest.approx((0.0013, 0.113), abs=5e-4)
    many = two_shares(620, 900, 575, 880, margin=0.10)
    assert (few.shown, many.shown) == (False, True)
    assert many.p == pytest.approx(0.0019, abs=5e-5)


def test_a_variant_far_off_does_not_accuse_its_siblings() -> None:
    met = [
        VariantOutcome(name, place, "", 100, right)
        for place, (name, right) in enumerate(zip("abcd", (70, 12, 68, 72), strict=True))
    ]
    found = with_residuals(met)
    assert [each.item for each in found if each.p is not None and each.p < 0.05] == ["b"]
    assert (found[1].residual or 0) < -5


def test_small_variants_are_not_tested() -> None:
    assert homogeneity((3, 4), (6, 6)) is None


def test_holm_steps_down() -> None:
    assert holm([0.01, 0.04, 0.03, 0.005]) == pytest.approx([0.03, 0.06, 0.06, 0.02])  # worked by hand


# --- simulation -----------------------------------------------------------------------------------


def simulated(candidates: int, hardness: np.ndarray, seed: int, shift: np.ndarray | None = None) -> np.ndarray:
    """Right and wrong by the Rasch model; ``shift`` makes questions harder, candidate by candidate."""
    dice = np.random.default_rng(seed)
    edge = dice.normal(size=(candidates, 1)) - hardness - (0 if shift is None else shift)
    return np.asarray(dice.random(edge.shape) < 1 / (1 + np.exp(-edge)))


def test_rasch_difficulties_are_found_again() -> None:
    truth = np.linspace(-2, 2, 40)
    found = rasch.difficulties(simulated(1000, truth, 3))
    difference = np.array(found.difficulty) - truth
    slope = np.polyfit(truth, found.difficulty, 1)[0]
    print(f"Rasch, 1,000 x 40: slope {slope:.3f}, root mean square of the error {np.sqrt((difference**2).mean()):.3f}")
    assert np.corrcoef(found.difficulty, truth)[0, 1] > 0.98
    assert abs(slope - 1) < 0.03  # no spreading outward, as joint likelihood has it
    assert 0.7 < np.std(difference) / np.mean(found.error) < 1.3  # the standard errors are honest


def test_long_tests_do_not_overflow() -> None:
    found = rasch.difficulties(simulated(300, np.linspace(-6, 6, 200), 4))
    assert np.isfinite([each for each in found.difficulty if not np.isnan(each)]).all()
    assert np.nanmax(found.difficulty) > 4


def test_differential_functioning_is_found_where_it_is_and_seldom_where_it_is_not() -> None:
    hardness, focal = np.linspace(-1.5, 1.5, 20), np.arange(600) % 2 == 1
    alarms, hits = 0, 0
    for seed in range(60):
        shift = np.zeros((600, 20))
        shift[focal, 0] = 0.9
        right = simulated(600, hardness, seed, shift)
        total = right.sum(axis=1).astype(float)
        found = [mantel_haenszel(strata(right[:, place], total, focal)) for place in (0, 10)]
        assert found[0] is not None and found[1] is not None
        hits += found[0].p < 0.05 and found[0].delta < 0
        alarms += found[1].p < 0.05
    assert hits / 60 > 0.85
    assert alarms / 60 < 0.12
