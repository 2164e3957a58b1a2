"""The shipped bank as a pack: valid by the standard's schema, proved, the same bytes every time, moved in one piece."""

from __future__ import annotations

import re
import zipfile
from collections import Counter
from collections.abc import Iterator
from contextlib import nullcontext
from dataclasses import replace
from pathlib import Path
from types import ModuleType

import pytest
from turnwright import exporters
from turnwright.bank.errors import ProofError
from turnwright.bank.item.pack import Pack
from turnwright.bank.item.sitting import Purpose
from turnwright.bank.questions.item_model import Settings
from turnwright.bank.questions.kinds import KINDS
from turnwright.bank.questions.selection import models_of, one_of_each_derived, pack_of
from turnwright.bank.reading.files import read_bank
from turnwright.exporters.packages.delivery import PLAIN, Delivery, Mathematics
from turnwright.exporters.proof import prove
from turnwright.exporters.running.packing import Order, Recipe, Written, write_made

from tests.bank import models


@pytest.fixture(scope="module")
def bank() -> Pack:
    """All that the shipped bank asks, in one variant each, of the questions that other tests have at hand."""
    settings = Settings(variants=1)
    asked = models_of(models.questions(), settings.kinds, tuple(models.shipped_problems().values()))
    return pack_of(one_of_each_derived(asked), settings)


@pytest.fixture(scope="module")
def wheel() -> Pack:
    """The questions of one problem, which has every kind of question."""
    settings = Settings(variants=1)
    own = [each for each in models.questions() if each.problem.id == "big-wheel"]
    asked = models_of(own, settings.kinds, tuple(models.shipped_problems().values()))
    made = pack_of(one_of_each_derived(asked), settings)
    assert {section.metadata.kind for section in made.sections} == set(KINDS)
    return made


def recipe(*names: str, purpose: Purpose = "practice") -> Recipe:
    return Recipe(tuple(read_bank()), names, Settings(purpose=purpose, variants=1))


def shipped(
    made: Pack, target: Path, purpose: Purpose = "practice", delivery: Delivery = PLAIN, format_name: str = "qti-3.0"
) -> Written:
    """The pack written and proved; what it is for is said of the pack, its items are the same."""
    order = Order((format_name,), delivery)
    made = replace(made, purpose=purpose)
    (written,) = write_made(made, lambda _: target, lambda what, total: nullcontext(lambda steps: None), order)
    return written


def test_items_are_the_same_whatever_they_are_for(tmp_path: Path) -> None:
    """So the packs of these tests are made once for both purposes."""
    name = "over-the-top.least-speed"
    exam = shipped(recipe(name).pack(), tmp_path / "exam.zip", "exam")
    asked = shipped(recipe(name, purpose="exam").pack(), tmp_path / "asked.zip", "exam")
    assert exam.path.read_bytes() == asked.path.read_bytes()


@pytest.mark.parametrize("purpose", ["practice", "exam"])
def test_every_file_of_the_shipped_bank_is_valid_and_proved(
    purpose: Purpose, bank: Pack, tmp_path: Path, standards: ModuleType
) -> None:
    written = shipped(bank, tmp_path / "bank.zip", purpose)
    assert standards.validate_package(written.path) == []
    assert written.situations == len(read_bank())
    assert len(written.adapted.pack.sections) >= 700
    assert written.report.marked == written.report.items == len(written.adapted.pack) == len(bank)
    if purpose == "practice":  # which holds more to be proved; without the items to compare with, as a stranger's pack
        alone = prove(written.path)
        assert alone.ok
        assert alone.marked == len(bank)


# kB of the largest item unpacked, of one entry and of several: 16 would be light, and they are not so yet
LARGEST = {"alone": 30, "steps": 46}
Files = dict[str, bytes]


def heavy(files: Files) -> Iterator[str]:
    """What makes a pack for practice heavier, or harder to listen to, than it has to be."""
    drawings = Counter(files[each] for each in files if each.endswith(".svg"))
    if any(count > 1 for count in drawings.values()):
        yield "a drawing is there twice"
    for name, data in files.items():
        if not name.startswith("items/"):
            continue
        most = LARGEST["steps" if b'"RESPONSE_2"' in data else "alone"]
        if len(data) > 1000 * most:
            yield f"{name} has {len(data)} bytes, more than {most} kB"
        if data.count(b"<h3>Worked solution") != 1:
            yield f"{name} tells the solution {data.count(b'<h3>Worked solution')} times"
        read = data.decode()
        yield from (f"{name}: alt '{each}'" for each in re.findall(' alt="([^"]*)"', read) if not 0 < len(each) < 250)
        yield from (f"{name}: reading '{each}'" for each in re.findall('alttext="([^"]*)"', read) if ",," in each)


def test_a_pack_is_light_and_can_be_listened_to(wheel: Pack, tmp_path: Path) -> None:
    """Each of the faults is planted once."""
    shipped(wheel, tmp_path / "pack.zip")
    with zipfile.ZipFile(tmp_path / "pack.zip") as archive:
        files = {each: archive.read(each) for each in archive.namelist()}
    assert list(heavy(files)) == []
    items = (each for each in files if each.startswith("items/"))
    name = next(each for each in items if b' alt="' in files[each] and b'alttext="' in files[each])
    drawing = next(each for each in files if each.endswith(".svg"))
    solution = b"<h3>Worked solution"
    for wrong, told in (
        (files | {"media/d.svg": files[drawing]}, "is there twice"),
        (files | {name: files[name] + b" " * 50_000}, "bytes, more than"),
        (files | {name: files[name].replace(solution, 2 * solution)}, "the solution 2 times"),
        (files | {name: files[name].replace(b' alt="', b' alt="' + b"x" * 250)}, "alt 'xxx"),
        (files | {name: files[name].replace(b'alttext="', b'alttext="F,, ')}, "reading 'F,, "),
    ):
        assert any(told in each for each in heavy(wrong)), told


@pytest.mark.parametrize("mathematics", ["mathml", "html"])
@pytest.mark.parametrize("purpose", ["practice", "exam"])
@pytest.mark.parametrize("name", ["qti-2.2", "qti-2.1"])
def test_all_kinds_of_the_bank_are_valid_and_proved_in_older_versions(
    name: str, purpose: Purpose, mathematics: Mathematics, wheel: Pack, tmp_path: Path, standards: ModuleType
) -> None:
    notes = list[str]()
    written = shipped(wheel, tmp_path / "bank.zip", purpose, Delivery(mathematics), name)
    assert {section.metadata.kind for section in written.adapted.pack.sections} == set(KINDS)
    assert (standards.validate_package(written.path, notes), notes) == ([], [])
    assert written.report.marked == written.report.items == len(written.adapted.pack)
    alone = prove(written.path)
    assert (alone.findings, alone.format, alone.marked) == ((), name, written.report.marked)


OLDEST = ("qti-1.2.1", "common-cartridge-1.3", "common-cartridge-1.3-bank")


@pytest.mark.parametrize(("name", "purpose"), list(zip(OLDEST, ("practice", "practice", "exam"), strict=True)))
def test_the_whole_bank_keeps_to_the_grammars_of_the_oldest_formats(
    name: str, purpose: Purpose, bank: Pack, tmp_path: Path, grammars_of_1: ModuleType
) -> None:
    format_, target = exporters.exporter(name), tmp_path / "bank.zip"
    format_.write(format_.adapt(replace(bank, purpose=purpose), PLAIN), target, lambda _: None)
    assert grammars_of_1.check(target) == []


@pytest.mark.parametrize("purpose", ["practice", "exam"])
@pytest.mark.parametrize("name", OLDEST)
def test_all_kinds_of_the_bank_keep_to_the_grammars_and_are_proved_in_the_oldest_formats(
    name: str, purpose: Purpose, wheel: Pack, tmp_path: Path, grammars_of_1: ModuleType
) -> None:
    written = shipped(wheel, tmp_path / "bank.zip", purpose, Delivery(figures="png"), name)
    assert grammars_of_1.check(written.path) == []
    assert written.report.marked == written.report.items == len(written.adapted.pack)
    alone = prove(written.path)
    assert (alone.findings, alone.marked) == ((), written.report.marked)


def test_another_seed_or_g_gives_other_questions(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    from turnwright.bank.command.main import run

    packs = []
    for extra in ([], ["--seed", "2"], ["--g", "9.8"]):
        target = tmp_path / f"{len(packs)}.zip"
        assert run(["pack", "over-the-top.least-speed", "--variants", "2", "--out", str(target), *extra]) == 0
        packs.append(target.read_bytes())
    assert len(set(packs)) == 3


def test_a_pack_that_marks_wrongly_is_not_handed_over(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A writer that shifts a key is caught by the reader, and the file that stood there stays."""
    from turnwright.exporters.qti import number

    target = tmp_path / "bank.zip"
    target.write_bytes(b"the pack of last year")
    honest = number.number_text
    monkeypatch.setattr(number, "number_text", lambda value: honest(value * 2))
    made = recipe("over-the-top.least-speed").pack()
    with pytest.raises(ProofError):
        shipped(made, target)
    assert target.read_bytes() == b"the pack of last year"
    assert [path.name for path in tmp_path.iterdir()] == ["bank.zip"]


def test_an_exam_pack_tells_no_solution(tmp_path: Path) -> None:
    written = shipped(recipe("over-the-top", "flat-bend.greatest-speed").pack(), tmp_path / "exam.zip", "exam")
    alone = prove(written.path)
    assert (alone.findings, alone.exam, alone.marked) == ((), True, written.report.marked)
    with zipfile.ZipFile(written.path) as archive:
        everything = b"".join(archive.read(name) for name in archive.namelist())
    for secret in (
        b"modal-feedback",
        b"feedback-block",
        b'rubric-block view="scorer',
        b"least-speed",
        b"over-the-top",
        b"Algebra",
        b"radial equation",
    ):
        assert secret not in everything


def test_formats_are_found_by_entry_point() -> None:
    assert {"qti-3.0", "qti-2.2", "qti-2.1"} <= set(exporters.available())
