"""How often, how long, in which order: what QTI 1.2.1 and cartridges carry of a sitting, as their grammars have it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from types import ModuleType

import pytest
from lxml import etree
from turnwright.bank.item.sitting import PRACTICE, Sitting
from turnwright.exporters import exporter
from turnwright.exporters.packages.delivery import PLAIN
from turnwright.exporters.proof import Agreed, Report, prove

from tests.exporters import samples
from tests.exporters.qti1_packs import BANK, CARTRIDGE, FORMATS, PLAIN_QTI, QUESTIONS, opened, zipped

LIMITED = Sitting(6, shuffle=True, minutes=45)


def written(name: str, rules: Sitting, folder: Path) -> tuple[dict[str, bytes], Callable[[Path], Report], list[str]]:
    """The members of a pack under these rules, its proof, and what was told of changes to the rules."""
    format_, target = exporter(name), folder / "fair.zip"
    made = format_.adapt(replace(samples.every_kind(), rules=rules), PLAIN)
    format_.write(made, target, lambda _: None)
    agreed = Agreed(made.pack.sitting, made.delivery, made.pack.gravity)
    told = [f"{row.kind}: {row.told}" for row in made.table if row.kind in ("(attempts)", "(shuffle)")]
    told += [row.kind for row in made.table if row.kind == "(attempts and minutes)"]
    return opened(target), lambda path: prove(path, made.items(), exam=False, agreed=agreed), told


@pytest.mark.parametrize("rules", [PRACTICE, LIMITED, Sitting(3)])
@pytest.mark.parametrize("name", FORMATS)
def test_the_rules_of_a_sitting_are_written_as_the_standard_has_them(
    name: str, rules: Sitting, tmp_path: Path, grammars_of_1: ModuleType
) -> None:
    held, proof, told = written(name, rules, tmp_path)
    assert grammars_of_1.check(tmp_path / "fair.zip") == []
    assert proof(tmp_path / "fair.zip").findings == ()
    root = etree.fromstring(held[QUESTIONS[name]])
    facts = {label.text: label.getnext().text for label in root.iter("{*}fieldlabel")}  # type: ignore[union-attr]
    attempts = {item.get("maxattempts") for item in root.iter("{*}item")}
    assert attempts == {str(rules.attempts) if name == PLAIN_QTI and rules.attempts else None}
    if name == PLAIN_QTI:
        assert root.findtext(".//{*}duration") == ("PT45M" if rules.minutes else None)
        assert (root[0].find("{*}selection_ordering") is not None) == rules.shuffle
        assert told == []
    elif name == CARTRIDGE:
        wanted = {PRACTICE: "unlimited", LIMITED: "5", Sitting(3): "3"}
        assert facts["cc_maxattempts"] == wanted[rules]
        assert facts.get("qmd_timelimit") == ("45" if rules.minutes else None)
        assert any("6 attempts become 5" in each for each in told) == (rules == LIMITED)
    else:
        assert ("(attempts and minutes)" in told) == (rules != PRACTICE)
    mixed = [each.get("shuffle") for each in root.iter("{*}render_choice")]
    assert ("Yes" in mixed) == rules.shuffle
    assert "No" in mixed  # options whose order means something


@pytest.mark.parametrize(
    ("name", "old", "new", "told"),
    [
        (PLAIN_QTI, "PT45M", "PT54M", "duration is 'PT54M'"),
        (PLAIN_QTI, 'maxattempts="6"', 'maxattempts="7"', "maxattempts is '7', '6' expected"),
        (PLAIN_QTI, ' maxattempts="6"', "", "maxattempts is '', '6' expected"),
        (PLAIN_QTI, 'order_type="Random"></order></selection_ordering><section', 'order_type="Fixed"></order>'
         "</selection_ordering><section", "order is 'Fixed'"),
        (CARTRIDGE, "<fieldentry>5<", "<fieldentry>4<", "cc_maxattempts is '4'"),
        (CARTRIDGE, "<fieldentry>45<", "<fieldentry>46<", "qmd_timelimit is '46'"),
        (CARTRIDGE, 'shuffle="Yes"', 'shuffle="No"', "not shuffled"),
        (BANK, 'shuffle="No"', 'shuffle="Yes"', "the options are shuffled"),
        (BANK, "<item ident", '<item maxattempts="6" ident', "maxattempts is '6'"),
    ],
)  # fmt: skip
def test_another_limit_than_agreed_is_found(name: str, old: str, new: str, told: str, tmp_path: Path) -> None:
    held, proof, _ = written(name, LIMITED, tmp_path)
    text = held[QUESTIONS[name]].decode()
    assert old in text
    held[QUESTIONS[name]] = text.replace(old, new, 1).encode()
    assert any(told in each for each in proof(zipped(held, tmp_path / "other.zip")).findings)
