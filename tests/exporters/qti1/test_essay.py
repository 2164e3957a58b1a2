"""Numbers asked with their working, which a person marks: an essay of a cartridge, beside its worked solution."""

from __future__ import annotations

import re
from math import isnan
from pathlib import Path
from types import ModuleType

import pytest
from lxml import etree
from turnwright.bank.analysis import assessment
from turnwright.bank.analysis.marking import earned
from turnwright.bank.item.sitting import Purpose
from turnwright.exporters.packages.delivery import Delivery
from turnwright.exporters.running.assessment_facts import assessment_facts
from turnwright.schemas import grammar

from tests.exporters.changes import Change
from tests.exporters.qti1_packs import BANK, CARTRIDGE, GRAMMARS, QUESTIONS, adapted, members, proved, replaced, zipped

WORKING = Delivery(numbers="working")
NUMBERS = 4  # of the 28 items: two of the kind, and two as parts of steps


@pytest.mark.parametrize("purpose", ["practice", "exam"])
@pytest.mark.parametrize("name", [CARTRIDGE, BANK])
def test_working_is_asked_for_and_marked_by_hand(
    name: str, purpose: Purpose, tmp_path: Path, grammars_of_1: ModuleType
) -> None:
    held = members(name, purpose, WORKING)
    root = etree.fromstring(held[QUESTIONS[name]])
    assert grammars_of_1.check(zipped(held, tmp_path / "fair.zip")) == []
    assert grammar(GRAMMARS[name]).validate(root)
    essays = [item for item in root.iter("{*}item") if "cc.essay.v0p1" in item.xpath("string()")]  # type: ignore[arg-type]
    assert len(essays) == NUMBERS / (2 if name == CARTRIDGE else 1)
    for item in essays:
        page = "".join(map(str, item[1].itertext()))
        assert "Show your working, and explain each step in words." in page
        assert ("solution" in {each.get("ident") for each in item}) == (
            purpose == "practice" and "part" not in str(item.get("title"))  # steps tell it with their last part
        )
    report = proved(name, tmp_path, purpose=purpose, delivery=WORKING)
    assert report.findings == ()
    assert (report.items, report.marked) == (28, 28 - NUMBERS)
    assert report.unmarked == (f"{NUMBERS} items: it is to be marked by hand",)


def test_no_answer_is_marked_by_the_manifest_where_a_person_marks_the_working() -> None:
    made = adapted(CARTRIDGE, delivery=WORKING)
    (form,) = assessment(assessment_facts("Fair", [], 7, "9.8", [("1", made)])).forms
    working = [item for item in form.items if "number" in item.parts[0].key]
    assert len(working) == NUMBERS
    assert all(isnan(earned(item, "the cord cannot push, so v² = g r")) for item in working)
    choices = {item.name: item.parts[0].key["options"] for item in form.items if item not in working}
    assert {earned(item, *choices[item.name]) for item in form.items if len(choices.get(item.name, ())) == 1} == {1.0}


RIGHT = (
    '<respcondition continue="No"><conditionvar><varequal respident="RESPONSE" case="No">3</varequal></conditionvar>'
)
ESSAY = "cc.essay.v0p1.*?</outcomes>"


def behind(pattern: str, new: str) -> Change:
    """A change that puts something behind the first match in the file of questions."""

    def change(held: dict[str, bytes]) -> None:
        text = held[QUESTIONS[CARTRIDGE]].decode()
        place = next(re.finditer(pattern, text, re.S)).end()
        held[QUESTIONS[CARTRIDGE]] = f"{text[:place]}{new}{text[place:]}".encode()

    return change


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (replaced("<fieldentry>No</fieldentry></qtimetadatafield></qtimetadata></itemmetadata>",
                  "<fieldentry>Yes</fieldentry></qtimetadatafield></qtimetadata></itemmetadata>"),
         "does not say that no computer scores it"),
        (replaced("cc.essay.v0p1", "cc.fib.v0p1"), "an item to be marked by hand expected"),
        (behind(ESSAY, f"{RIGHT}</respcondition>"), "its rules score answers"),
        (replaced("4. Limiting case", "4. Another case"), "no answer brings the worked solution"),
        (replaced("explain each step in words", "be brief"), "page says"),
    ],
)  # fmt: skip
def test_an_essay_with_one_thing_wrong_is_refused(change: Change, told: str, tmp_path: Path) -> None:
    report = proved(CARTRIDGE, tmp_path, change, delivery=WORKING)
    assert re.search(told, "\n".join(report.findings)), report.findings
