"""The packs of every kind in QTI 1.2.1 and as cartridges, each written once, and the same with something changed."""

from __future__ import annotations

import zipfile
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from turnwright.bank.item.sitting import Purpose
from turnwright.exporters import exporter
from turnwright.exporters.adapting.adaptation import Adapted
from turnwright.exporters.packages.delivery import PLAIN, Delivery
from turnwright.exporters.proof import Agreed, Report, prove

from tests.exporters import samples
from tests.exporters.changes import Change, put

PLAIN_QTI, CARTRIDGE, BANK = "qti-1.2.1", "common-cartridge-1.3", "common-cartridge-1.3-bank"
FORMATS = (PLAIN_QTI, CARTRIDGE, BANK)
QUESTIONS = {PLAIN_QTI: "assessment.xml", CARTRIDGE: "assessment-1.xml", BANK: "question-bank.xml"}
GRAMMARS = {PLAIN_QTI: "qti-1.2.1", CARTRIDGE: "cartridge-questions", BANK: "cartridge-questions"}


def adapted(name: str, purpose: Purpose = "practice", delivery: Delivery = PLAIN) -> Adapted:
    """The pack of every kind, made ready for a format."""
    return exporter(name).adapt(samples.every_kind(purpose), delivery)


@cache
def members(name: str, purpose: Purpose = "practice", delivery: Delivery = PLAIN) -> Mapping[str, bytes]:
    """What the written pack holds, in its order."""
    with TemporaryDirectory() as folder:
        target = Path(folder) / "fair.zip"
        exporter(name).write(adapted(name, purpose, delivery), target, lambda _: None)
        return opened(target)


def opened(path: Path) -> dict[str, bytes]:
    """The members of a pack."""
    with zipfile.ZipFile(path) as archive:
        return {each: archive.read(each) for each in archive.namelist()}


def zipped(held: Mapping[str, bytes], target: Path) -> Path:
    """A pack of these members."""
    with zipfile.ZipFile(target, "w") as archive:
        for name, content in held.items():
            archive.writestr(name, content)
    return target


def proved(
    name: str,
    folder: Path,
    change: Change | None = None,
    purpose: Purpose = "practice",
    delivery: Delivery = PLAIN,
) -> Report:
    """The proof of the pack, after ``change`` has been at its members."""
    held = dict(members(name, purpose, delivery))
    if change:
        change(held)
        assert held != members(name, purpose, delivery), "the change changes nothing"
    target = zipped(held, folder / "fair.zip")
    made = adapted(name, purpose, delivery)
    agreed = Agreed(made.pack.sitting, made.delivery, made.pack.gravity)
    return prove(target, made.items(), exam=purpose == "exam", agreed=agreed)


def replaced(old: str, new: str, member: str = "", times: int = 1) -> Change:
    """A change of the first few places where ``old`` stands in a member, by default the file of questions."""

    def change(held: dict[str, bytes]) -> None:
        put(member or questions_in(held), old, new, times)(held)

    return change


def questions_in(held: Mapping[str, bytes]) -> str:
    """The file of questions among the members of a pack."""
    return next(each for each in QUESTIONS.values() if each in held)
