"""A pool of items as several packs with one index: each item once, and a stop loses one pack at most."""

from __future__ import annotations

import json
from collections.abc import Callable
from contextlib import nullcontext
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from turnwright import schemas
from turnwright.bank.errors import BankFaultsError, FileError, UsageError
from turnwright.bank.questions.item_model import Settings
from turnwright.bank.reading.files import read_bank
from turnwright.exporters.pool import INDEX, Pool, plan, write_pool, writing
from turnwright.exporters.proof import prove
from turnwright.exporters.running.packing import Order, write_pack

BANK = read_bank()
NAMES = ["over-the-top.pull-at-the-top", "over-the-top.least-speed"]
SETTINGS = Settings(variants=9, kinds=("number", "rank"))


def quiet(what: str, total: int) -> nullcontext[Callable[[float], None]]:
    return nullcontext(lambda steps: None)


def written(folder: Path, settings: Settings = SETTINGS, most: int = 8) -> Pool:
    return write_pool(BANK, NAMES, folder, settings, quiet, Order(), most)


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("pool")
    written(folder)
    return folder


def content(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir())}


@pytest.mark.parametrize("most", [1, 7, 8, 1000])
def test_a_plan_holds_each_variant_once_in_packs_that_are_full_but_for_the_last(most: int) -> None:
    made = plan(BANK, NAMES, SETTINGS, most)
    variants = [(each.question, at) for pack in made.packs for each in pack for at in range(each.start, each.stop)]
    assert len(variants) == len(set(variants)) == len(made)
    sizes = [sum(each.stop - each.start for each in pack) for pack in made.packs]
    assert set(sizes[:-1]) <= {most} and 0 < sizes[-1] <= most
    assert sum(question == NAMES[0] for question, _ in variants) == 9


def test_a_question_that_has_fewer_variants_gives_what_it_has() -> None:
    few = plan(BANK, ["over-the-top.least-speed"], Settings(variants=100_000, kinds=("number",)))
    (((share,),),) = (few.packs,)
    assert 9 < share.stop < 100_000


def test_the_items_of_a_pool_are_those_of_one_pack(whole: Path, tmp_path: Path) -> None:
    """Stem, key and solution of each variant, told by the bytes of the item but for the names in it."""
    write_pack(BANK, NAMES, tmp_path / "one.zip", SETTINGS, quiet)
    one = prove(tmp_path / "one.zip")
    parts = [prove(path) for path in sorted(whole.glob("*.zip"))]
    assert all(each.ok for each in parts)
    bands = [sorted(str(band) for _, band in each.bands) for each in (one, *parts)]
    assert bands[0] == sorted(band for each in bands[1:] for band in each)
    assert one.items == sum(each.items for each in parts)


def test_the_index_fits_its_schema_and_tells_of_each_pack(whole: Path) -> None:
    index = json.loads((whole / INDEX).read_text("utf-8"))
    assert list(Draft202012Validator(schemas.load("pool")).iter_errors(index)) == []
    assert index["complete"] and index["items"] == sum(each["items"] for each in index["packs"])
    assert [each["file"] for each in index["packs"]] == sorted(path.name for path in whole.glob("*.zip"))


def test_what_is_finished_is_not_made_again(whole: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Stopped in the second pack, then gone on with; and a pack that was changed since is made again."""
    real, made = writing.write_made, []

    def stopping(*arguments: object) -> object:
        made.append(arguments)
        if len(made) == 2:
            raise KeyboardInterrupt
        return real(*arguments)  # type: ignore[arg-type]

    monkeypatch.setattr(writing, "write_made", stopping)
    with pytest.raises(KeyboardInterrupt):
        written(tmp_path)
    index = json.loads((tmp_path / INDEX).read_text("utf-8"))
    assert (len(index["packs"]), index["complete"]) == (1, False)
    assert written(tmp_path).kept == 1
    assert content(tmp_path) == content(whole)
    (tmp_path / "pool-002.zip").write_bytes(b"something else")
    before = len(made)
    assert written(tmp_path).kept == len(index["packs"]) + len(list(whole.glob("*.zip"))) - 2
    assert len(made) == before + 1
    assert content(tmp_path) == content(whole)


def test_a_folder_with_another_pool_is_left_alone(whole: Path) -> None:
    before = content(whole)
    with pytest.raises(FileError, match="the folder holds another pool"):
        written(whole, Settings(variants=9, kinds=("number", "rank"), seed=2))
    assert content(whole) == before


@pytest.mark.parametrize("damage", [b"", b"[" * 100_000, b'{"pool": "pool-0123456789ab"}', b"\xff", b"1" * 10_000])
def test_an_index_that_is_none_is_refused(damage: bytes, tmp_path: Path) -> None:
    (tmp_path / INDEX).write_bytes(damage)
    with pytest.raises(BankFaultsError, match=r"pool\.json"):
        written(tmp_path)


def test_a_pool_of_nothing_is_refused(tmp_path: Path) -> None:
    with pytest.raises(UsageError, match="none of these questions"):
        write_pool(BANK, ["over-the-top.least-speed"], tmp_path, Settings(named=("rank",)), quiet, Order())
    assert list(tmp_path.iterdir()) == []
