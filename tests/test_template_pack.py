"""Template packs of the shipped bank: one question of each family, a few rows each, valid, proved, and as we solve."""

from __future__ import annotations

import zipfile
from contextlib import nullcontext
from types import ModuleType

import pytest
from turnwright.bank.item.sitting import Purpose
from turnwright.bank.questions.item_model import Settings
from turnwright.bank.questions.selection import find_item_model
from turnwright.bank.reading.files import read_bank
from turnwright.exporters.adapting.template import TemplateItem
from turnwright.exporters.packages.delivery import Delivery, Variants
from turnwright.exporters.running.packing import Order, Written, write_pack

# how many rows; a table proves each row in full
WAYS: tuple[tuple[Variants, Purpose, int], ...] = (("table", "practice", 8), ("computed", "exam", 20))


def one_of_each_family() -> tuple[str, ...]:
    found = {problem.family: f"{problem.id}.{problem.questions[0].name}" for problem in reversed(read_bank())}
    return tuple(sorted(found.values()))


@pytest.fixture(scope="module")
def packs(tmp_path_factory: pytest.TempPathFactory) -> dict[Variants, Written]:
    """The pack in each way, proved."""
    folder, progress = tmp_path_factory.mktemp("packs"), nullcontext(lambda steps: None)
    made: dict[Variants, Written] = {}
    for way, purpose, rows in WAYS:
        settings = Settings(purpose=purpose, variants=rows, kinds=("number",))
        target, order = folder / f"{way}.zip", Order(delivery=Delivery(variants=way))
        made[way] = write_pack(read_bank(), one_of_each_family(), target, settings, lambda *_: progress, order)
    return made


@pytest.mark.parametrize(("way", "rows"), [(way, rows) for way, _, rows in WAYS])
def test_a_question_of_each_family_is_valid_and_proved_row_by_row(
    way: Variants, rows: int, packs: dict[Variants, Written], standards: ModuleType
) -> None:
    made = packs[way]
    assert standards.validate_package(made.path) == []
    notes: list[object] = []
    with zipfile.ZipFile(made.path) as box:
        items = [name for name in box.namelist() if name.startswith("items/")]
        assert [fault for name in items for fault in standards.validate_qti3(box.read(name), notes)] == notes == []
    held = [count for section in made.adapted.pack.sections for count in section.held]
    assert sum(held) == rows * len(made.adapted.pack.sections)
    assert (made.report.marked, made.report.rows) == (len(items), sum(held) - held.count(1))


def test_every_template_of_these_computes_its_key_and_rounds_it(
    packs: dict[Variants, Written],
) -> None:
    unrounded = set()
    for section in packs["computed"].adapted.pack.sections:
        for item in section.items():
            if isinstance(item, TemplateItem):
                assert item.computed is not None
                if item.computed.figures != item.entry.figures:
                    unrounded.add(section.question_id)
    # an exact half, such as 11.25 at three figures, would be rounded to even by us and upwards by a platform
    assert unrounded == set()


def test_a_computation_gives_the_solvers_own_number() -> None:
    problems = read_bank()
    for name in one_of_each_family():
        for item in find_item_model(problems, name).draw(5, Settings().gravity, 1):
            entry = item.entry
            assert entry.computation is not None
            assert entry.computation.result == pytest.approx(entry.exact, rel=1e-11)
