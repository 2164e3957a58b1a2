"""What is found is told in its order, on one line each; past so many, counted, and a rule of ours may only warn."""

from __future__ import annotations

import pytest
from turnwright.exporters.strangers.parsing import Doubt, Findings, HouseRule, placed


@pytest.mark.parametrize("strict", [True, False])
def test_a_rule_of_the_house_counts_in_packs_of_ours_and_a_doubt_in_none(strict: bool) -> None:
    found = Findings(strict=strict)
    found.extend("a.xml", ["is wrong", HouseRule("says too much"), Doubt("is odd")])
    wrong, doubt = "a.xml: is wrong", "a.xml: is odd"
    if strict:
        assert (found.lines(), found.warnings()) == ((wrong, "a.xml: says too much"), (doubt,))
    else:
        assert (found.lines(), found.warnings()) == ((wrong,), ("a.xml: says too much (a house rule)", doubt))
    assert len(found) == 1 + strict


def test_past_so_many_they_are_counted() -> None:
    found = Findings(2)
    found.extend("", [f"fault {each}" for each in range(3)])
    assert found.lines() == ("fault 0", "fault 1", "and 1 more finding")
    found.extend("", [*map(str, range(2)), *(Doubt(str(each)) for each in range(4))])
    assert found.lines()[-1] == "and 3 more findings"
    assert found.warnings() == ("0", "1", "and 2 more warnings")
    assert len(found) == 5


def test_a_finding_is_one_line_whatever_it_quotes() -> None:
    found = Findings()
    found.add("a\nb", "c\x1b[31m" + "d" * 500)
    (line,) = found.lines()
    assert line.isprintable()
    assert line.endswith("d...")
    assert len(line) < 450


def test_a_finding_with_its_place_is_of_the_same_sort() -> None:
    for sort in (str, HouseRule, Doubt):
        assert type(placed("line 3", sort("is odd"))) is sort
