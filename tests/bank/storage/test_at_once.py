"""Two runs and one file, and a run that is killed between two moves: no work goes silently, no pair stays torn."""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from pathlib import Path

import pytest
from turnwright.bank.errors import FileError, OvertakenError
from turnwright.bank.storage import files, journal, leftovers, turns
from turnwright.bank.storage.files import replacement, rewrite, write_together
from turnwright.bank.storage.leftovers import part

OLD, NEW, OTHER = b"last year's paper", b"this year's paper", b"what another run wrote"
NAMES = ("fair.pdf", "fair-marking.pdf")

needs_forks = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs forks")


def contents(folder: Path) -> dict[str, bytes]:
    return {each.name: each.read_bytes() for each in folder.iterdir()}


@pytest.mark.parametrize("stands", [True, False])
def test_who_comes_second_is_told_and_what_came_first_stays(tmp_path: Path, stands: bool) -> None:
    target = tmp_path / "fair.zip"
    if stands:
        target.write_bytes(OLD)
    with (
        pytest.raises(OvertakenError, match=r"fair\.zip: it was changed meanwhile"),
        replacement(target) as fresh,
    ):
        fresh.file.write(NEW)
        write_together({target: OTHER})
    assert contents(tmp_path) == {"fair.zip": OTHER}


def test_of_files_written_together_none_is_written_where_one_was_overtaken(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    paths = [tmp_path / name for name in NAMES]
    write = files._write

    def overtaken(path: Path, content: bytes) -> None:
        write(path, content)
        if path.name == "1.new":
            paths[1].write_bytes(OTHER)

    monkeypatch.setattr(files, "_write", overtaken)
    with pytest.raises(OvertakenError, match="fair-marking"):
        write_together(dict.fromkeys(paths, NEW))
    assert contents(tmp_path) == {"fair-marking.pdf": OTHER}


# --- what is read, changed and written again --------------------------------------------------


def one_more(target: Path, name: str, meanwhile: Callable[[], None] = lambda: None) -> None:
    """The list in a file, with one more name."""

    def made() -> dict[Path, bytes]:
        held = json.loads(target.read_text("utf-8")) if target.exists() else []
        meanwhile()
        return {target: json.dumps([*held, name]).encode()}

    rewrite([target], made)


def test_a_file_that_another_run_changes_while_it_is_read_is_read_again(tmp_path: Path) -> None:
    target, others = tmp_path / "values.json", ["second", "third"]

    def meanwhile() -> None:
        if others:
            one_more(target, others.pop(0))

    one_more(target, "first", meanwhile)
    assert json.loads(target.read_text("utf-8")) == ["second", "third", "first"]


@needs_forks
def test_what_a_killed_run_has_left_to_be_moved_is_read(tmp_path: Path) -> None:
    target = tmp_path / NAMES[1]
    target.write_text("[]", "utf-8")
    killed_at(tmp_path, 1, b'["left"]')
    one_more(target, "next")
    assert json.loads(target.read_text("utf-8")) == ["left", "next"]


@needs_forks
def test_ten_processes_at_once_lose_nothing(tmp_path: Path) -> None:
    target = tmp_path / "values.json"
    started = []
    for number in range(10):
        child = os.fork()
        if not child:
            try:
                one_more(target, f"run {number}")
            finally:
                os._exit(0)
        started.append(child)
    for child in started:
        os.waitpid(child, 0)
    assert sorted(json.loads(target.read_text("utf-8"))) == [f"run {number}" for number in range(10)]
    assert [each.name for each in tmp_path.iterdir()] == ["values.json"]


# --- one step ---------------------------------------------------------------------------------


def killed_at(folder: Path, move: int, content: bytes = NEW) -> None:
    """A run that writes both papers and is killed on entering a move, with no time to clear away anything."""
    child = os.fork()
    if not child:
        try:
            honest, moved = Path.replace, []

            def replace(self: Path, target: Path) -> Path:
                if target.name in NAMES:
                    moved.append(target)
                    if len(moved) == move:
                        os._exit(9)
                return honest(self, target)

            Path.replace = replace  # type: ignore[method-assign]
            write_together({folder / name: content for name in NAMES})
        finally:
            os._exit(1)
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 9


@needs_forks
@pytest.mark.parametrize("move", [1, 2])
@pytest.mark.parametrize("stands", [True, False])
def test_the_next_run_makes_the_moves_that_a_killed_one_has_left(tmp_path: Path, move: int, stands: bool) -> None:
    for name in NAMES if stands else ():
        (tmp_path / name).write_bytes(OLD)
    killed_at(tmp_path, move)
    torn = {each.read_bytes() for each in tmp_path.glob("*.pdf")}
    assert NEW not in torn if move == 1 else NEW in torn
    with part(tmp_path):
        pass
    assert contents(tmp_path) == dict.fromkeys(NAMES, NEW)


@needs_forks
def test_a_file_that_was_changed_after_the_kill_stays(tmp_path: Path) -> None:
    for name in NAMES:
        (tmp_path / name).write_bytes(OLD)
    killed_at(tmp_path, 2)
    (tmp_path / NAMES[1]).write_bytes(OTHER)
    write_together({tmp_path / "notes.txt": NEW})
    assert contents(tmp_path) == {NAMES[0]: NEW, NAMES[1]: OTHER, "notes.txt": NEW}


STRANGE = (
    '[["0.new", "../fresh.pdf", []]]',
    '[["../../own.pdf", "fair.pdf", []]]',
    '[["0.new", "fair.pdf", []], [0, 1, 2]]',
    "[" * 9999,
    '{"a": 1}',
)


@pytest.mark.parametrize("moves", STRANGE)
def test_a_list_that_leads_out_of_the_folder_or_is_none_moves_nothing(tmp_path: Path, moves: str) -> None:
    folder = tmp_path / "out"
    left = folder / ".turnwright-0123456789abcdef.part"
    left.mkdir(parents=True)
    (tmp_path / "own.pdf").write_bytes(OLD)
    (left / "0.new").write_bytes(OTHER)
    (left / "moves.json").write_text(moves, "utf-8")
    leftovers.clear(folder)
    assert list(folder.iterdir()) == []
    folder.rmdir()
    assert contents(tmp_path) == {"own.pdf": OLD}


@needs_forks
def test_what_can_not_be_moved_now_is_left_to_a_later_run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    killed_at(tmp_path, 2)

    def refused(self: Path, target: Path) -> Path:
        raise PermissionError(13, "a viewer has it open", str(target))

    with monkeypatch.context() as patched:
        patched.setattr(Path, "replace", refused)
        leftovers.clear(tmp_path)
    assert not (tmp_path / NAMES[1]).exists()
    with part(tmp_path):
        pass
    assert contents(tmp_path) == dict.fromkeys(NAMES, NEW)


@pytest.mark.parametrize("kind", ["too large", "another user's"])
def test_a_list_that_is_not_looked_into_takes_nothing_with_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, kind: str
) -> None:
    left = tmp_path / ".turnwright-0123456789abcdef.part"
    left.mkdir()
    (left / "0.new").write_bytes(NEW)
    (left / "moves.json").write_text('[["0.new", "fair.pdf", []]]', "utf-8")
    if kind == "too large":
        monkeypatch.setattr(journal, "LARGEST", 5)
    else:
        monkeypatch.setattr(os, "geteuid", lambda: left.stat().st_uid + 1, raising=False)
    leftovers.clear(tmp_path)
    assert [each.name for each in tmp_path.iterdir()] == [left.name]
    assert (left / "0.new").read_bytes() == NEW


# --- turns ------------------------------------------------------------------------------------


@needs_forks
def test_moves_are_made_in_turn(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """While one run moves, no other can begin: each folder is locked once, by whatever path it is named."""
    (tmp_path / "out").mkdir()
    (tmp_path / "also").symlink_to("out")
    honest, is_free = Path.replace, []

    def looked(self: Path, target: Path) -> Path:
        if target.suffix == ".pdf":
            with pytest.raises(FileError, match="another run is moving files in it"), turns.turn([target.parent]):
                is_free.append(target)
        return honest(self, target)

    monkeypatch.setattr(turns, "PATIENCE", 0.0)
    monkeypatch.setattr(Path, "replace", looked)
    with turns.turn([tmp_path / "out", tmp_path / "also"]):
        pass
    write_together({tmp_path / "out" / NAMES[0]: NEW, tmp_path / "also" / NAMES[1]: NEW})
    with replacement(tmp_path / "out" / NAMES[0]) as fresh:
        fresh.file.write(NEW)
    assert not is_free
    assert contents(tmp_path / "out") == dict.fromkeys(NAMES, NEW)


@needs_forks
def test_a_fork_that_is_made_meanwhile_keeps_no_turn(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(turns, "PATIENCE", 0.0)
    waits, goes = os.pipe()
    with turns.turn([tmp_path]):
        child = os.fork()
        if not child:
            os.close(goes)
            os.read(waits, 1)
            os._exit(0)
    try:
        with turns.turn([tmp_path]):
            pass
    finally:
        os.close(goes)
        os.waitpid(child, 0)
        os.close(waits)


# --- disks without locks ----------------------------------------------------------------------


def test_without_locks_a_part_goes_when_nothing_in_it_has_changed_for_a_day(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(leftovers, "_lock", lambda path: None)
    ages = {"0" * 16: 25, "1" * 16: 23}  # hours
    for name, hours in ages.items():
        left = tmp_path / f".turnwright-{name}.part"
        left.mkdir()
        (left / "new").write_bytes(NEW)
        when = left.stat().st_mtime_ns - hours * 3600 * 10**9
        for each in (left / "new", left):
            os.utime(each, ns=(when, when))
    busy = tmp_path / f".turnwright-{'2' * 16}.part"
    busy.mkdir()
    (busy / "new").write_bytes(NEW)
    os.utime(busy, ns=(0, 0))  # its file is being written now
    write_together({tmp_path / "fair.pdf": NEW})
    assert sorted(contents_of(tmp_path)) == [f".turnwright-{'1' * 16}.part", busy.name, "fair.pdf"]


def contents_of(folder: Path) -> list[str]:
    return [each.name for each in folder.iterdir()]


def test_a_run_writes_into_its_own_temporary_folder(tmp_path: Path) -> None:
    """Forms are packed there before any is moved: the folder is locked by the run itself, which would wait for ever."""
    with part(tmp_path) as own:
        with replacement(own / "form-A.zip") as fresh:
            fresh.file.write(b"a")
        write_together({own / "form-B.zip": b"b"})
        assert sorted(each.name for each in own.iterdir()) == ["form-A.zip", "form-B.zip"]
