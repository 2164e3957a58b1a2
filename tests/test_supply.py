"""Dependencies: the lock, the lower bounds, licences."""

from __future__ import annotations

import pytest

from tests import supply
from tests.licences import EXCEPTIONS, goes


def test_the_lock_holds_all_that_pyproject_asks_for_with_hashes() -> None:
    assert list(supply.lock_faults()) == []


def test_each_requirement_has_one_lower_bound() -> None:
    assert len(list(supply.lowest())) == len(supply.direct())


def test_licences_of_all_that_is_installed_go_with_ours() -> None:
    found = supply.licences()
    assert {"numpy", "sympy", "typst", "mpmath"} <= {name.split()[0] for name, _ in found}
    assert [(name, each.told) for name, each in found if not each.goes] == []


def test_exceptions_are_among_what_is_locked() -> None:
    assert set(EXCEPTIONS) <= set(supply.locked())


@pytest.mark.parametrize(
    ("expression", "it_goes"),
    [
        ("MIT", True),
        ("MIT OR GPL-3.0-only", True),
        ("MIT AND GPL-3.0-only", False),
        ("(MIT OR X) AND Zlib", True),
        ("", False),
    ],
)
def test_an_expression_goes_where_good_licences_meet_it(expression: str, it_goes: bool) -> None:
    assert goes(expression) is it_goes
