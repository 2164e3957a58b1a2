"""Numbers that follow from an earlier slip, in a real pack: marked as they should be, and every tampering is found."""

from __future__ import annotations

import re
import zipfile
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from turnwright.bank.item.item import ChoiceEntry, Item, NumberEntry, Recognised
from turnwright.bank.item.sitting import EXAM, PRACTICE
from turnwright.bank.questions.item_model import Settings
from turnwright.bank.questions.selection import pack
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.exporters.adapting.adaptation import as_is
from turnwright.exporters.packages.delivery import PLAIN
from turnwright.exporters.proof import Agreed, Report, prove
from turnwright.exporters.qti import qti30

from tests.bank import models

ITEM = "items/q01_v001.xml"
AND = r"<qti-and>.*?</qti-and>"


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Item]:
    """A pack of one stepwise item, and what it was written from."""
    settings = Settings(gravity=Decimal("9.8"), variants=1, kinds=("stepwise",))
    made = pack([models.shipped("over-the-top.pull-at-the-top")], shipped_mistakes(), settings)
    path = tmp_path_factory.mktemp("carried") / "fair.zip"
    qti30.write(as_is(made, PLAIN), path, lambda _: None)
    return path, next(made.sections[0].items())


def tampered(source: Path, target: Path, old: str, new: str) -> None:
    with zipfile.ZipFile(source) as found, zipfile.ZipFile(target, "w") as made:
        for name in found.namelist():
            text = found.read(name).decode()
            if name == ITEM:
                assert re.search(old, text), old
                text = re.sub(old, new, text, count=1)
            made.writestr(name, text)


def proved(path: Path, item: Item) -> Report:
    return prove(path, [item], agreed=Agreed(PRACTICE))


def test_a_number_that_follows_from_a_wrong_choice_earns_its_marks(written: tuple[Path, Item]) -> None:
    path, item = written
    assert item.entries[-1].carried  # type: ignore[union-attr]
    assert proved(path, item).findings == ()
    assert prove(path).findings == ()


@pytest.mark.parametrize(
    ("old", "new", "finding"),
    [
        (f"<qti-response-else-if>{AND}.*?</qti-response-else-if>", "", "after the choice"),
        (f"({AND}<qti-set-outcome-value[^>]*><qti-base-value[^>]*>)1", r"\g<1>0", "scores 0, 1 expected"),
        (f"({AND}<qti-set-outcome-value[^>]*><qti-base-value[^>]*>)1", r"\g<1>0.5", "scores 0.5, 1 expected"),
        (r'(<qti-and><qti-match>.*?identifier">)\w', r"\1Z", "scores 0, 1 expected"),
        (r"<qti-and>(<qti-match>.*?</qti-match>)(<qti-equal.*?</qti-equal>)</qti-and>", r"\2", "scores"),
        (r'(<qti-and>.*?tolerance=")[^"]*', r"\g<1>0.001 0.001", "scores 0, 1 expected"),
        (r'(<qti-and>.*?tolerance=")[^"]*', r"\g<1>0.5 0.5", "scores 1, 0 expected"),
        (r'(<qti-and>.*?float">)[^<]*', r"\g<1>77", "the wrong number 77"),
        ("CARRIED</qti-base-value>", "OUTSIDE</qti-base-value>", "brings no feedback of its own"),
    ],
)
def test_each_tampering_with_a_carried_number_is_found(
    written: tuple[Path, Item], tmp_path: Path, old: str, new: str, finding: str
) -> None:
    path, item = written
    tampered(path, tmp_path / "other.zip", old, new)
    report = proved(tmp_path / "other.zip", item)
    assert any(finding in line for line in report.findings), report.findings


def test_a_number_that_follows_from_a_slip_may_be_farther_off_than_any_other(tmp_path: Path) -> None:
    settings = Settings(gravity=Decimal("9.8"), variants=1, kinds=("stepwise",), purpose="exam")
    made = pack([models.shipped("over-the-top.pull-at-the-top")], shipped_mistakes(), settings)
    (section,) = made.sections
    item = next(section.items())
    number = item.entries[-1]
    assert isinstance(number, NumberEntry)
    first = number.carried[0]
    choice = item.entries[first.entry]
    assert isinstance(choice, ChoiceEntry)
    wrong = [place for place, option in enumerate(choice.options) if not option.right]
    far = tuple(replace(first, option=place, value=100_000 * number.key) for place in wrong)
    known = (*number.recognised, Recognised(far[0].value, far[0].half_width, "Look again.", ()))
    item = replace(item, entries=(*item.entries[:-1], replace(number, carried=far, recognised=known)))
    made = replace(made, sections=(replace(section, items=lambda: iter([item])),))
    qti30.write(as_is(made, PLAIN), tmp_path / "fair.zip", lambda _: None)
    report = prove(tmp_path / "fair.zip", [item], exam=True, agreed=Agreed(EXAM))
    assert report.findings == ()
