"""The shipped bank as a pack: valid by the standard's schema, proved, the same bytes every time, moved in one piece."""

from __future__ import annotations

import zipfile
from contextlib import nullcontext
from pathlib import Path
from types import ModuleType

import pytest
from turnwright import exporters
from turnwright.bank.errors import ProofError
from turnwright.bank.item.sitting import Purpose
from turnwright.bank.questions.item_model import Settings
from turnwright.bank.questions.kinds import KINDS
from turnwright.bank.reading.files import read_bank
from turnwright.exporters.packages.delivery import PLAIN, Delivery, Mathematics
from turnwright.exporters.proof import prove
from turnwright.exporters.running.packing import Order, Written, write_pack

PROGRAM = "import sys; from turnwright.bank.command.main import run; sys.exit(run(sys.argv[1:]))"


def shipped(
    target: Path,
    purpose: Purpose = "practice",
    names: tuple[str, ...] = (),
    variants: int = 2,
    delivery: Delivery = PLAIN,
    format_name: str = "qti-3.0",
) -> Written:
    settings = Settings(purpose=purpose, variants=variants)
    order = Order((format_name,), delivery)
    return write_pack(read_bank(), names, target, settings, lambda what, total: nullcontext(lambda steps: None), order)


@pytest.mark.parametrize("purpose", ["practice", "exam"])
def test_every_file_of_the_shipped_bank_is_valid_and_proved(
    purpose: Purpose, tmp_path: Path, standards: ModuleType
) -> None:
    # an exam holds less of each item: a third of the bank is enough for it
    names = () if purpose == "practice" else tuple(each.id for each in read_bank())[::3]
    written = shipped(tmp_path / "bank.zip", purpose, names, variants=1)
    assert standards.validate_package(written.path) == []
    assert written.situations >= 14
    assert len(written.adapted.pack.sections) >= 30
    assert written.report.marked == written.report.items == len(written.adapted.pack)
    # without the items to compare with, as a stranger's pack
    alone = prove(written.path)
    assert alone.ok
    assert alone.marked == len(written.adapted.pack)


@pytest.mark.parametrize("mathematics", ["mathml", "html"])
@pytest.mark.parametrize("purpose", ["practice", "exam"])
@pytest.mark.parametrize("name", ["qti-2.2", "qti-2.1"])
def test_all_kinds_of_the_bank_are_valid_and_proved_in_older_versions(
    name: str, purpose: Purpose, mathematics: Mathematics, tmp_path: Path, standards: ModuleType
) -> None:
    names, notes = ("big-wheel",), list[str]()
    written = shipped(tmp_path / "bank.zip", purpose, names, 1, Delivery(mathematics), name)
    assert {section.metadata.kind for section in written.adapted.pack.sections} == set(KINDS)
    assert (standards.validate_package(written.path, notes), notes) == ([], [])
    assert written.report.marked == written.report.items == len(written.adapted.pack)
    alone = prove(written.path)
    assert (alone.findings, alone.format, alone.marked) == ((), name, written.report.marked)


def test_another_seed_or_g_gives_other_questions(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    from turnwright.bank.command.main import run

    packs = []
    for extra in ([], ["--seed", "2"], ["--g", "9.8"]):
        target = tmp_path / f"{len(packs)}.zip"
        assert run(["pack", "over-the-top", "--variants", "2", "--out", str(target), *extra]) == 0
        packs.append(target.read_bytes())
    assert len(set(packs)) == 3


def test_a_pack_that_marks_wrongly_is_not_handed_over(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A writer that shifts a key is caught by the reader, and the file that stood there stays."""
    from turnwright.exporters.qti import number

    target = tmp_path / "bank.zip"
    target.write_bytes(b"the pack of last year")
    honest = number.number_text
    monkeypatch.setattr(number, "number_text", lambda value: honest(value * 2))
    with pytest.raises(ProofError):
        shipped(target, names=("over-the-top",))
    assert target.read_bytes() == b"the pack of last year"
    assert [path.name for path in tmp_path.iterdir()] == ["bank.zip"]


def test_an_exam_pack_tells_no_solution(tmp_path: Path) -> None:
    written = shipped(tmp_path / "exam.zip", "exam", ("over-the-top", "flat-curve"))
    with zipfile.ZipFile(written.path) as archive:
        everything = b"".join(archive.read(name) for name in archive.namelist())
    for secret in (
        b"modal-feedback",
        b"feedback-block",
        b'rubric-block view="scorer',
        b"least-speed",
        b"over-the-top",
        b"Algebra",
        b"inward equation",
    ):
        assert secret not in everything


def test_formats_are_found_by_entry_point() -> None:
    assert {"qti-3.0", "qti-2.2", "qti-2.1"} <= set(exporters.available())
