"""A pack that is proved while it is written: the report is that of its archive, and nothing else is believed."""

from __future__ import annotations

import zipfile
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from turnwright.bank.item.item import Item, NumberEntry
from turnwright.bank.item.pack import ItemSeries, Pack
from turnwright.bank.questions.item_model import Settings
from turnwright.bank.questions.selection import find_questions, pack
from turnwright.bank.reading.files import read_bank
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.bank.solving.cache import solved_question
from turnwright.exporters.adapting.adaptation import Adapted, as_is
from turnwright.exporters.packages.delivery import PLAIN
from turnwright.exporters.packages.package import Packed, packed
from turnwright.exporters.proof import EarlyProof, Report
from turnwright.exporters.qti import qti30
from turnwright.exporters.running.packing import ProofOnTheWay
from turnwright.exporters.workers import ALONE, Processes, Workers

from tests.exporters.changes import Change

COUNT = 24


@pytest.fixture(scope="module")
def fair() -> Pack:
    (found,) = find_questions(read_bank(), ["over-the-top.pull-at-the-top"])
    return pack([solved_question(*found)], shipped_mistakes(), Settings(variants=COUNT, kinds=("number",)))


def written(made: Adapted, target: Path, proof: ProofOnTheWay, change: Change | None = None) -> list[Report]:
    """The reports of the proof on the way and of that of the archive alone, after the archive was changed."""
    reports = []

    def check(path: Path) -> None:
        if change:
            with zipfile.ZipFile(path) as archive:
                members = {name: archive.read(name) for name in archive.namelist()}
            change(members)
            with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
                for name, data in members.items():
                    archive.writestr(name, data)
        for each in (proof, ProofOnTheWay(made, lambda _: None)):
            reports.append(replace(each.report(path), path=""))

    qti30.write(replace(made, witness=proof), target, check)
    return reports


@pytest.mark.parametrize("workers", [ALONE, Processes(2)])
def test_what_was_seen_is_reported_as_the_archive_alone_would_be(workers: Workers, fair: Pack, tmp_path: Path) -> None:
    made = replace(as_is(fair, PLAIN), chosen=workers)
    told: list[int] = []
    on_the_way, alone = written(made, tmp_path / "pack.zip", ProofOnTheWay(made, told.append))
    assert on_the_way.ok
    assert on_the_way.marked == COUNT == sum(told)
    assert on_the_way == alone


def test_no_item_is_drawn_again(fair: Pack, tmp_path: Path) -> None:
    (section,) = fair.sections
    series = section.items
    assert isinstance(series, ItemSeries)
    drawn: list[int] = []

    def counted(item: Item) -> Item:
        drawn.append(item.variant)
        return item

    made = replace(
        as_is(replace(fair, sections=(replace(section, items=series.changed(counted)),)), PLAIN), chosen=ALONE
    )
    proof = ProofOnTheWay(made, lambda _: None)
    reports: list[Report] = []
    qti30.write(replace(made, witness=proof), tmp_path / "pack.zip", lambda path: reports.append(proof.report(path)))
    assert reports[0].ok
    assert len([each for each in drawn if each > 1]) == COUNT - 1  # the first tells of its section, too


def _items(members: dict[str, bytes]) -> list[str]:
    return [name for name in members if name.startswith("items/")]


def _other_key(members: dict[str, bytes]) -> None:
    name = _items(members)[-3]
    start = members[name].index(b"<qti-value>") + len(b"<qti-value>")
    members[name] = members[name][:start] + b"9" + members[name][start:]


def _exchanged(members: dict[str, bytes]) -> None:
    one, other = _items(members)[4:6]
    members[one], members[other] = members[other], members[one]


def _lost(members: dict[str, bytes]) -> None:
    del members[_items(members)[7]]


def _added(members: dict[str, bytes]) -> None:
    members["items/more.xml"] = members[_items(members)[0]]


def _unlisted(members: dict[str, bytes]) -> None:
    members["imsmanifest.xml"] = members["imsmanifest.xml"].replace(b"<file href", b"<file hrefs", 3)


def _more_attempts(members: dict[str, bytes]) -> None:
    members["test.xml"] = members["test.xml"].replace(b'max-attempts="', b'max-attempts="7')


def _program_in_a_picture(members: dict[str, bytes]) -> None:
    name = next(each for each in members if each.endswith(".svg"))
    members[name] = members[name].replace(b"</desc>", b"</desc><script/>", 1)


CHANGES = (_other_key, _exchanged, _lost, _added, _unlisted, _more_attempts, _program_in_a_picture)


@pytest.mark.parametrize("change", CHANGES)
def test_what_is_changed_after_it_was_seen_is_told(change: Change, fair: Pack, tmp_path: Path) -> None:
    made = replace(as_is(fair, PLAIN), chosen=ALONE)
    on_the_way, alone = written(made, tmp_path / "pack.zip", ProofOnTheWay(made, lambda _: None), change)
    assert on_the_way.findings
    assert on_the_way == alone


class Careless(ProofOnTheWay):
    """Is shown other items than are written, or loses what it has seen, or takes it twice."""

    def __init__(self, made: Adapted, way: str) -> None:
        super().__init__(made, lambda _: None)
        self._way = way

    def look(self, numbers: Sequence[int], items: Sequence[Item], members: Sequence[Packed]) -> Any:
        if self._way == "other bytes":
            members = [packed(each.name, b"<p/>") for each in members]
        if self._way == "other items":
            items = [*items[1:], items[0]]
        if self._way == "other numbers":
            numbers = [*numbers[1:], numbers[0]]
        return super().look(numbers, items, members)

    def take(self, seen: Sequence[Any]) -> None:
        super().take({"none": [], "twice": [*seen, *seen]}.get(self._way, seen))


@pytest.mark.parametrize("way", ["other bytes", "other items", "other numbers", "none", "twice"])
def test_what_was_not_seen_well_is_proved_from_the_archive(
    way: str, fair: Pack, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    made = replace(as_is(fair, PLAIN), chosen=ALONE)
    believed: list[bool] = []
    is_of = EarlyProof.is_of
    monkeypatch.setattr(EarlyProof, "is_of", lambda *given: believed.append(is_of(*given)) or believed[-1])
    on_the_way, alone = written(made, tmp_path / "pack.zip", Careless(made, way))
    assert believed == [False, False]  # the second has seen nothing
    assert on_the_way == alone
    assert on_the_way.ok


def test_what_the_writer_does_wrong_is_told(fair: Pack, tmp_path: Path) -> None:
    """The items that are expected are those that were drawn; what is written of them has another key."""
    (section,) = fair.sections
    series = section.items
    assert isinstance(series, ItemSeries)
    made = replace(as_is(fair, PLAIN), chosen=ALONE)

    def wrong(item: Item) -> Item:
        assert isinstance(item.entry, NumberEntry)
        return replace(item, entries=(replace(item.entry, key=item.entry.key * 2),)) if item.variant == 9 else item

    other = replace(fair, sections=(replace(section, items=series.changed(wrong)),))
    reports: list[Report] = []
    honest = iter(series)

    class Expecting(Careless):
        def look(self, numbers: Sequence[int], items: Sequence[Item], members: Sequence[Packed]) -> Any:
            return super().look(numbers, [next(honest) for _ in items], members)

    proof = Expecting(made, "")
    qti30.write(
        replace(as_is(other, PLAIN), chosen=ALONE, witness=proof),
        tmp_path / "pack.zip",
        lambda path: reports.append(proof.report(path)),
    )
    (found,) = {each.partition(":")[0] for each in reports[0].findings}
    assert found.startswith("items/")
    assert not reports[0].ok
