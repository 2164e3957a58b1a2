"""The rules of a sitting in a pack: written in every version of QTI, told to the candidate, and proved."""

from __future__ import annotations

import zipfile
from dataclasses import replace
from pathlib import Path
from types import ModuleType

import pytest
from turnwright.bank.item.pack import Pack
from turnwright.bank.item.sitting import EXAM, PRACTICE, Sitting
from turnwright.exporters import exporter
from turnwright.exporters.packages.delivery import PLAIN
from turnwright.exporters.proof import Agreed, Report, prove

from tests.exporters import samples

VERSIONS = ("qti-3.0", "qti-2.2", "qti-2.1")
SITTINGS = {
    "silent": Sitting(2, hints=False, feedback=False, solution=False),
    "no hints": Sitting(hints=False, shuffle=True),
    "no feedback": Sitting(feedback=False),
    "no solution": Sitting(3, solution=False, minutes=45),
    "hints only": Sitting(3, feedback=False, solution=False),
    "solution only": Sitting(1, hints=False, feedback=False),
}


def every_kind(rules: Sitting) -> Pack:
    purpose = "exam" if rules == EXAM else "practice"
    return replace(samples.every_kind(purpose), rules=rules)  # type: ignore[arg-type]


def written(rules: Sitting, name: str, folder: Path) -> tuple[Path, Sitting]:
    """The pack, and the rules that its format can keep."""
    format_, target = exporter(name), folder / "fair.zip"
    adapted = format_.adapt(every_kind(rules), PLAIN)
    format_.write(adapted, target, lambda _: None)
    return target, adapted.pack.sitting


def proved(path: Path, rules: Sitting) -> Report:
    items = (item for section in samples.every_kind().sections for item in section.items())
    return prove(path, items, exam=rules == EXAM, agreed=Agreed(rules))


def member(path: Path, name: str) -> str:
    with zipfile.ZipFile(path) as archive:
        return archive.read(name).decode()


@pytest.mark.parametrize("version", VERSIONS)
@pytest.mark.parametrize("name", SITTINGS)
def test_a_pack_keeps_its_rules_and_is_valid(name: str, version: str, tmp_path: Path, standards: ModuleType) -> None:
    path, kept = written(SITTINGS[name], version, tmp_path)
    notes: list[str] = []
    assert (standards.validate_package(path, notes), notes) == ([], [])
    report = proved(path, kept)
    assert (report.findings, report.marked) == ((), 14)
    alone = prove(path)
    assert (alone.findings, alone.marked) == ((), 14)


@pytest.mark.parametrize("other", [name for name in SITTINGS if name != "no solution"])
def test_a_pack_made_under_other_rules_is_refused(other: str, tmp_path: Path) -> None:
    path, _ = written(SITTINGS["no solution"], "qti-3.0", tmp_path)
    assert not proved(path, SITTINGS[other]).ok


TAMPERED = [
    ("test.xml", 'max-attempts="3"', 'max-attempts="0"', "attempts at an item: 0, 3 expected"),
    ("test.xml", 'max-time="2700"', 'max-time="27000"', "seconds for the test: 27000, 2700 expected"),
    ("test.xml", '<qti-time-limits max-time="2700"></qti-time-limits>', "", "seconds for the test: not said, 2700"),
    ("test.xml", 'show-feedback="true"', 'show-feedback="false"', "show-feedback: false, true expected"),
    ("test.xml", '<qti-ordering shuffle="true">', "<qti-ordering>", "one order for all, shuffled ones expected"),
    ("items/q03_v001.xml", 'shuffle="true"', 'shuffle="false"', "options are not shuffled, the contrary expected"),
    ("items/q02_v001.xml", 'shuffle="false"', 'shuffle="true"', "options are shuffled, the contrary expected"),
    ("items/q01_v001.xml", ' count-attempt="false"', "", "the button 'Hint 1' uses up one of the attempts"),
    ("items/q01_v001.xml", 'identifier="SHOWN"', 'identifier="X"', "right answers bring no worked solution"),
]


@pytest.mark.parametrize(("name", "old", "new", "finding"), TAMPERED)
def test_what_breaks_the_rules_is_found(name: str, old: str, new: str, finding: str, tmp_path: Path) -> None:
    rules = Sitting(3, shuffle=True, minutes=45)
    path, _ = written(rules, "qti-3.0", tmp_path)
    with zipfile.ZipFile(path) as archive:
        files = {each: archive.read(each) for each in archive.namelist()}
    assert old.encode() in files[name]
    files[name] = files[name].replace(old.encode(), new.encode(), 1)
    with zipfile.ZipFile(path, "w") as archive:
        for each, data in files.items():
            archive.writestr(each, data)
    findings = proved(path, rules).findings
    assert any(finding in line for line in findings), findings


def test_the_candidate_is_told_the_rules(tmp_path: Path) -> None:
    told = {}
    for name, rules in {"usual": PRACTICE, "exam": EXAM, **SITTINGS}.items():
        text = member(written(rules, "qti-3.0", tmp_path)[0], "test.xml")
        told[name] = text[text.index("A partner may be used more than once.") :]
    assert "<p>You may answer each question as often as you like.</p><p>Once you have answered, the" in told["usual"]
    assert "<p>You have one attempt at each question.</p></qti-content-body>" in told["exam"]
    assert "<p>You have 45 minutes for all questions together.</p><p>You have three attempts" in told["no solution"]
    assert "worked solution" not in told["no solution"]
    assert "not count as an attempt" in told["hints only"]
    assert "hint" not in told["no hints"]


def test_feedback_points_at_no_solution_that_is_not_there(tmp_path: Path) -> None:
    path, _ = written(SITTINGS["no solution"], "qti-3.0", tmp_path)
    with zipfile.ZipFile(path) as archive:
        everything = b"".join(archive.read(each) for each in archive.namelist())
    assert b"qti-modal-feedback" in everything
    assert b"worked solution" not in everything.lower()
    assert samples.SOLUTION_WORDS.encode() not in everything


def test_hints_go_where_asking_would_cost_an_attempt_and_the_table_tells(tmp_path: Path) -> None:
    limited = exporter("qti-2.1").adapt(every_kind(Sitting(3)), PLAIN)
    assert not limited.pack.sitting.hints
    assert "hints are left out: asking for one would use up one of the attempts" in [
        each.told for each in limited.table
    ]
    endless = exporter("qti-2.1").adapt(every_kind(PRACTICE), PLAIN)
    assert endless.pack.sitting == PRACTICE
    assert sum(each.items for each in endless.table) == len(endless.pack) == 14
    assert {each.how for each in endless.table} == {"as is", "changed"}
