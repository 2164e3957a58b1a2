"""An exam does not answer itself: what one item shows, says or is printed as, and another asks for."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from turnwright.bank.item.item import Item
from turnwright.bank.item.pack import Pack, Section
from turnwright.exporters import exporter
from turnwright.exporters.packages.delivery import PLAIN
from turnwright.exporters.proof import Report, prove
from turnwright.exporters.proof.dialect import DIALECTS
from turnwright.exporters.proof.reading.item_file import read_item
from turnwright.exporters.proof.words import across
from turnwright.exporters.strangers.parsing import Doubt

from tests.exporters import samples
from tests.exporters.qti1_packs import zipped
from tests.fuzz import packs

ITEM = "items/q01_v001.xml"


def about_the_diagram(section: Section) -> Section:
    """The section as one of a kind that the force diagram of its problem answers; it shows none."""
    items = section.items

    def changed() -> Iterator[Item]:
        return (replace(each, figure=None, metadata=replace(each.metadata, kind="diagram")) for each in items())

    return replace(section, figures=(), figure_of=[None] * len(section), items=changed)


def written(folder: Path, *sections: Section) -> Report:
    """The proof of an exam with these sections, against what it was written from."""
    made = exporter("qti-3.0").adapt(Pack("The lantern", "exam", "9.8 N/kg", 7, sections), PLAIN)
    exporter("qti-3.0").write(made, folder / "fair.zip", lambda _: None)
    return prove(folder / "fair.zip", made.items(), exam=True)


def test_a_force_diagram_answers_no_other_item(tmp_path: Path) -> None:
    number, asked = samples.kind("number"), about_the_diagram(samples.kind("choice"))
    assert written(tmp_path, number, samples.kind("choice")).findings == ()
    assert written(tmp_path, asked).findings == ()
    assert written(tmp_path, number, asked).findings == (
        "the drawing of items/q01_v001.xml answers items/q02_v001.xml",
    )


@pytest.mark.parametrize(("words", "is_told"), [("at 2.97 metres per second", True), ("at 2.97", False)])
def test_what_another_item_says_is_told(words: str, is_told: bool, tmp_path: Path) -> None:
    held = {}
    for number, base in enumerate(("qti-3.0 choice-exam", "qti-3.0 number-exam")):
        held[f"{number}.xml"] = re.sub(rb"\.\./media/\w+\.svg", b"f.svg", packs.members(base)[ITEM])
    options = held["0.xml"].decode().replace("2.97 m/s", "2.97 metres per second")
    assert "2.97 metres per second" in options
    held["0.xml"] = options.encode()
    held["1.xml"] = held["1.xml"].decode().replace("What is the least speed", f"{words}, what is the speed").encode()
    drawn = packs.members("qti-3.0 choice-exam")
    held["f.svg"] = drawn[next(each for each in drawn if each.startswith("media/"))]
    resources = "".join(
        f'<resource identifier="I{each[0]}" type="imsqti_item_xmlv3p0" href="{each}"><file href="{each}"/>'
        '<file href="f.svg"/></resource>'
        for each in ("0.xml", "1.xml")
    )
    space = "http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1"
    schema = "<metadata><schema>QTI Package</schema></metadata><organizations/>"
    manifest = f'<manifest xmlns="{space}" identifier="M">{schema}<resources>{resources}</resources></manifest>'
    report = prove(zipped({"imsmanifest.xml": manifest.encode(), **held}, tmp_path / "a.zip"), exam=True)
    told = [each for each in report.warnings if "answers 0.xml" in each]
    assert bool(told) == is_told, report


def test_an_order_that_earns_marks_untouched_is_told(tmp_path: Path) -> None:
    held = dict(packs.members("qti-3.0 order-exam"))
    old, new = ("".join(f"<qti-value>{each}</qti-value>" for each in order).encode() for order in ("BDAC", "ABCD"))
    assert old in held[ITEM]
    held[ITEM] = held[ITEM].replace(old, new)
    report = prove(zipped(held, tmp_path / "a.zip"))
    assert any("in an order that scores 1 untouched" in each for each in report.warnings), report.warnings


SAYINGS = ("the cord goes slack", "the car slides outwards", "the normal force is zero")


def gathered(*numbers: int) -> across.Across:
    """What these items ask for and say: each asks for one saying, and says the next."""
    found = across.Across()
    for number in numbers:
        name, said = f"{number}.xml", SAYINGS[number % len(SAYINGS)]
        option = f'<qti-simple-choice identifier="A">{SAYINGS[number - 1]}</qti-simple-choice>'
        text = (
            f'<qti-assessment-item xmlns="{DIALECTS[0].namespace}"><qti-item-body><p>{said}</p>'
            f"<qti-choice-interaction>{option}</qti-choice-interaction></qti-item-body></qti-assessment-item>"
        )
        item = read_item(name, text.encode(), DIALECTS[0])
        found.take(name, name, item, None)
        found.asks(name, name, list(item.all("qti-simple-choice")), "A")
    return found


def test_the_first_items_are_held_against_one_another_and_what_is_left_out_is_told(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Of three items, each of which answers the next, the third is past a bound that neither block reaches."""
    whole = gathered(1, 2)
    whole.merge(gathered(3))
    answered = [f"{other}.xml says '{{}}', which answers {where}.xml" for where, other in ((1, 3), (2, 1), (3, 2))]
    said = ["".join(each.split()) for each in SAYINGS]
    told = [each.format(its) for each, its in zip(answered, said, strict=True)]
    assert list(whole.findings()) == told
    monkeypatch.setattr(across, "MOST_ANSWERS", 3)
    monkeypatch.setattr(across, "MOST_TEXTS", 3)
    cut = gathered(1, 2)
    assert list(cut.findings()) == told[1:2]
    monkeypatch.setattr(across, "MOST_ANSWERS", 2)
    cut.merge(gathered(3))
    bound = "only the first 2 answers of the exam were held against one another"
    pages = "only the first 3 pages of the exam were held against one another"
    assert list(cut.findings()) == [*told[:2], bound, pages]
    assert all(isinstance(each, Doubt) for each in cut.findings())
