"""Blueprint files: each fault at its place, and what the bank does not have is told at its place as well."""

from __future__ import annotations

from pathlib import Path

import pytest
from turnwright.bank.errors import BankFaultsError, BlueprintError
from turnwright.bank.forms.assessment import assess
from turnwright.bank.forms.blueprint import Range
from turnwright.bank.forms.candidate import Candidate

from tests.bank.forms.samples import GOOD, blueprint, candidate
from tests.bank.problems import place, varied


def test_a_good_blueprint_is_read_with_its_usual_values(tmp_path: Path) -> None:
    found = blueprint(tmp_path)
    assert (found.forms, found.questions, found.seed, found.purpose, found.scenes) == (2, 3, 3, "exam", "once")
    assert found.minutes == Range(6, 15)
    assert [row.words for row in found.rows] == ["vertical-circle: 1 to 2", "the rest: 1 to 2"]


@pytest.mark.parametrize(
    ("old", "new", "wrong"),
    [
        ("forms: 2", "forms: 0", "forms: found '0'; expected 1 or more"),
        ("seed: 3", "seeds: 3", "seeds: this field is unknown; did you mean 'seed'?"),
        ("[number, choice]", "[number, choices]", "kinds.1: found 'choices'; did you mean 'choice'?"),
        ("{from: 6, to: 15}", "{from: 60, to: 15}", "minutes: 'from' is 60 and 'to' is 15; put the smaller one first"),
        ("{content: [vertical-circle], count: {from: 1, to: 2}}", "{content: [orbit]}", "rows.0: the field 'count' is"),
        ("{from: 1, to: 2}}\n  - {name", "{}}\n  - {name", "rows.0.count: found an empty mapping"),
    ],
)
def test_each_fault_is_told_at_its_place(old: str, new: str, wrong: str, tmp_path: Path) -> None:
    with pytest.raises(BankFaultsError) as raised:
        blueprint(tmp_path, varied((old, new), text=GOOD))
    (fault,) = raised.value.faults
    assert wrong in str(fault)
    assert fault.place.line == place(GOOD, old)[0]
    assert fault.place.column > 1 or "seeds" in wrong


def test_all_names_that_the_bank_does_not_have_are_told_at_once(tmp_path: Path) -> None:
    text = varied(("[flat-curve, orbit]", "[vertical-circel]"), text=GOOD) + "anchors: [lantern-a.aa]\n"
    with pytest.raises(BankFaultsError) as raised:
        assess(blueprint(tmp_path, text), [candidate("a")])
    told = [str(each) for each in raised.value.faults]
    assert len(told) == 2
    assert "no question of the bank is called 'lantern-a.aa'; did you mean lantern-a.a?" in told[0]
    assert "did you mean vertical-circle?" in told[1]


def bank() -> list[Candidate]:
    circles = [candidate(f"c{number}") for number in range(4)]
    return [*circles, *(candidate(f"o{number}", family="orbit") for number in range(4))]


@pytest.mark.parametrize(
    ("changes", "lines"),
    [
        ((("{from: 6, to: 15}", "{from: 5, to: 11}"),), ["questions: 3", "minutes: 5 to 11"]),
        ((("[number, choice]", "[choice]"),), ["the rest: 1 to 2", "kinds: choice"]),
        (
            (("count: {from: 1, to: 2}}\n  -", "count: {from: 3, to: 3}}\n  -"),),
            ["vertical-circle: 3", "forms: 2, and no question but an anchor in two of them"],
        ),
    ],
)
def test_a_blueprint_that_cannot_be_met_is_explained_by_its_own_lines(
    changes: tuple[tuple[str, str], ...], lines: list[str], tmp_path: Path
) -> None:
    text = varied(*changes, text=GOOD)
    if "forms" in lines[-1]:
        text = text.replace("- {name: the rest, content: [flat-curve, orbit], count: {from: 1, to: 2}}", "").rstrip()
    text = text.replace("flat-curve, ", "")
    with pytest.raises(BlueprintError) as raised:
        assess(blueprint(tmp_path, text), bank())
    assert sorted(words for _, words in raised.value.lines) == sorted(lines)
    for where, words in raised.value.lines:
        assert where is not None
        # the first word of a line, or the contents of a row, stand in the line of the file that is named
        piece = words.partition(":")[0]
        assert piece in text.splitlines()[where.line - 1]
