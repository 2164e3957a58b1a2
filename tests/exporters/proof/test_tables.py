"""A table in a stem and a drawing in a solution, in real packs: every number of them is read back."""

from __future__ import annotations

import re
import zipfile
from decimal import Decimal
from pathlib import Path

import pytest
from turnwright.bank.item.item import SolutionDrawing
from turnwright.bank.item.pack import Pack
from turnwright.bank.item.sitting import Purpose
from turnwright.bank.questions.item_model import Settings
from turnwright.bank.questions.selection import pack
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.exporters import exporter
from turnwright.exporters.packages.delivery import PLAIN
from turnwright.exporters.proof import Agreed, prove

from tests.bank import models

NAMES = ("qti-3.0", "qti-2.2", "qti-2.1", "qti-1.2.1", "common-cartridge-1.3", "common-cartridge-1.3-bank")
HEAD = re.compile(r"<th scope=\"col\"|&lt;th scope=\"col\"&gt;")


def made(purpose: Purpose) -> Pack:
    """One question about measured values, in one scene."""
    settings = Settings(purpose=purpose, gravity=Decimal("9.8"), variants=1, kinds=("data",))
    return pack([models.shipped("over-the-top.pull-at-the-top")], shipped_mistakes(), settings)


def findings(name: str, source: Path, target: Path, old: str, new: str) -> tuple[str, ...]:
    """What the proof finds where something is changed in every member in which it stands."""
    adapted = exporter(name).adapt(made("practice"), PLAIN)
    changed = 0
    with zipfile.ZipFile(source) as found, zipfile.ZipFile(target, "w") as archive:
        for member in found.namelist():
            data = found.read(member)
            changed += old.encode() in data
            archive.writestr(member, data.replace(old.encode(), new.encode()))
    assert changed, old
    agreed = Agreed(adapted.pack.sitting, adapted.delivery, adapted.pack.gravity)
    return tuple(map(str, prove(target, adapted.items(), agreed=agreed).findings))


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The pack in all formats."""
    place = tmp_path_factory.mktemp("tables")
    for name in NAMES:
        exporter(name).write(exporter(name).adapt(made("practice"), PLAIN), place / name, lambda _: None)
    return place


@pytest.mark.parametrize("name", NAMES)
def test_a_table_has_heads_for_a_screen_reader_and_no_cell_may_change(name: str, folder: Path, tmp_path: Path) -> None:
    with zipfile.ZipFile(folder / name) as archive:
        told = "".join(archive.read(each).decode() for each in archive.namelist() if each.endswith((".xml", ".qti")))
    assert len(HEAD.findall(told)) == 2
    cell = re.findall(r"td(?:>|&gt;)([0-9.]+)(?:<|&lt;)/td", told)[3]
    assert findings(name, folder / name, tmp_path / "same", cell, cell) == ()
    for old, new in ((f"{cell}<", f"{cell}1<"), (f"{cell}&lt;", f"{cell}1&lt;")):
        if old in told:
            assert findings(name, folder / name, tmp_path / "changed", old, new)
            break
    else:
        raise AssertionError("no cell was changed")


@pytest.mark.parametrize("name", NAMES)
def test_the_line_is_drawn_for_practice_and_stands_in_no_exam(name: str, folder: Path, tmp_path: Path) -> None:
    (item,) = made("practice").sections[0].items()
    parts = (part for step in item.solution for each in step.paragraphs for part in each)
    forces, drawing = (part.drawing for part in parts if isinstance(part, SolutionDrawing))
    assert (forces.subject, drawing.subject) == ("forces", "")
    exporter(name).write(exporter(name).adapt(made("exam"), PLAIN), tmp_path / "exam", lambda _: None)
    for path, wanted in ((folder / name, True), (tmp_path / "exam", False)):
        with zipfile.ZipFile(path) as archive:
            holding = [each for each in archive.namelist() if drawing.alternative.encode() in archive.read(each)]
            assert any(each.endswith(".svg") for each in holding) == wanted
            assert bool(holding) == wanted
