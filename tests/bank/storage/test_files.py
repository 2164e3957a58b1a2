"""Files take their places whole and flushed; two written as one are both new, or both as they were."""

from __future__ import annotations

import errno
import os
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from turnwright.bank.command import main
from turnwright.bank.command.main import Stopped
from turnwright.bank.errors import FileError
from turnwright.bank.storage import leftovers
from turnwright.bank.storage.files import replacement, write_together, write_tree
from turnwright.bank.storage.leftovers import part

OLD, NEW = b"last year's paper", b"this year's paper"


@pytest.fixture
def pair(tmp_path: Path) -> tuple[Path, Path]:
    """Two papers of last year."""
    paths = (tmp_path / "fair.pdf", tmp_path / "fair-marking.pdf")
    for path in paths:
        path.write_bytes(OLD)
    return paths


def are(pair: tuple[Path, Path], content: bytes) -> bool:
    names = sorted(path.name for path in pair[0].parent.iterdir())
    return names == ["fair-marking.pdf", "fair.pdf"] and all(path.read_bytes() == content for path in pair)


def test_both_are_replaced_and_keep_their_modes(pair: tuple[Path, Path]) -> None:
    pair[0].chmod(0o640)
    write_together(dict.fromkeys(pair, NEW))
    assert are(pair, NEW)
    assert pair[0].stat().st_mode & 0o777 == 0o640


@pytest.mark.parametrize("at", [1, 2])
def test_a_disk_that_fills_up_at_either_file_leaves_both(
    pair: tuple[Path, Path], at: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    calls = 0

    def full(*_: Any) -> None:
        nonlocal calls
        calls += 1
        if calls == at:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(FileError, match="its disk is full; free some space"):
        write_together(dict.fromkeys(pair, NEW))
    assert are(pair, OLD)


@pytest.mark.parametrize("linked", [True, False])
def test_a_second_move_that_fails_takes_back_the_first(
    pair: tuple[Path, Path], linked: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    honest = Path.replace

    def replace(self: Path, target: Path) -> Path:
        if target.name == "fair-marking.pdf":
            raise PermissionError(errno.EACCES, "")
        return honest(self, target)

    def no_links(*_: Any) -> None:
        raise OSError(errno.EOPNOTSUPP, "")

    monkeypatch.setattr(Path, "replace", replace)
    if not linked:
        monkeypatch.setattr(os, "link", no_links)
    with pytest.raises(FileError, match=r"fair-marking\.pdf: it may not be written"):
        write_together(dict.fromkeys(pair, NEW))
    assert are(pair, OLD)
    # and where nothing stood there before, nothing stands there afterwards
    for path in pair:
        path.unlink()
    with pytest.raises(FileError):
        write_together(dict.fromkeys(pair, NEW))
    assert list(pair[0].parent.iterdir()) == []


def test_a_folder_that_may_not_be_written_leaves_both(pair: tuple[Path, Path], monkeypatch: pytest.MonkeyPatch) -> None:
    """The refusal is the system's own, made here by hand: who runs tests as root may write everywhere."""
    honest = Path.open

    def refused(self: Path, mode: str = "r", *more: Any) -> Any:
        if mode == "xb":
            raise PermissionError(errno.EACCES, "")
        return honest(self, mode, *more)

    monkeypatch.setattr(Path, "open", refused)
    with pytest.raises(FileError, match="it may not be written; choose a folder that you may write to"):
        write_together(dict.fromkeys(pair, NEW))
    monkeypatch.undo()
    assert are(pair, OLD)


def test_a_folder_that_is_missing_is_told_before_anything_is_written(pair: tuple[Path, Path]) -> None:
    missing = pair[0].parent / "missing" / "fair.pdf"
    with pytest.raises(FileError, match="its folder does not exist"):
        write_together({pair[0]: NEW, missing: NEW})
    assert are(pair, OLD)


# --- flushed, and in order --------------------------------------------------------------------


def write_one(target: Path) -> None:
    with replacement(target) as fresh:
        fresh.file.write(NEW)


WRITERS: dict[str, Callable[[Path], None]] = {
    "one": write_one,
    "together": lambda target: write_together({target: NEW}),
    "tree": lambda target: write_tree({"deep/fair.txt": NEW}, target, lambda _: None),
}


@pytest.mark.skipif(not Path("/proc/self/fd").exists(), reason="needs the paths of open files")
@pytest.mark.parametrize("name", WRITERS)
def test_a_file_is_flushed_whole_then_moved_then_its_folder_is_flushed(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen: list[str] = []
    flush, move = os.fsync, Path.replace

    def flushed(descriptor: int) -> None:
        place = Path(f"/proc/self/fd/{descriptor}").readlink()
        whole = place.is_dir() or place.read_bytes() == NEW
        seen.append(f"flushed {'folder' if place == tmp_path else 'part'}{'' if whole else ', half'}")
        flush(descriptor)

    def moved(self: Path, target: Path) -> Path:
        assert not target.exists()
        seen.append("moved")
        return move(self, target)

    monkeypatch.setattr(os, "fsync", flushed)
    monkeypatch.setattr(Path, "replace", moved)
    WRITERS[name](tmp_path / "fair")
    inner = 2 if name == "tree" else 0  # folders that were made
    assert seen == ["flushed part"] * (1 + inner) + ["moved", "flushed folder"]
    assert [each.name for each in tmp_path.iterdir()] == ["fair"]


def test_a_file_that_may_not_grow_leaves_the_old_ones(pair: tuple[Path, Path]) -> None:
    resource = pytest.importorskip("resource", reason="only Unix limits the size of a file")
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (1000, hard))
    try:
        with pytest.raises(FileError, match="larger than a file may be here"):
            write_together({pair[0]: NEW, pair[1]: NEW * 1000})
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert are(pair, OLD)


# --- parts that runs leave --------------------------------------------------------------------


def test_a_run_clears_away_what_a_killed_one_left_and_nothing_else(tmp_path: Path) -> None:
    left = tmp_path / ".turnwright-0123456789abcdef.part"
    (left / "deep").mkdir(parents=True)
    (left / "deep" / "new").write_bytes(NEW)
    others = [".turnwright-notes.part", ".turnwright-0123456789abcdef.part.txt", "fair.part"]
    for name in others:
        (tmp_path / name).mkdir()
    with part(tmp_path) as living:
        (living / "new").write_bytes(NEW)
        write_together({tmp_path / "fair.pdf": NEW})
        assert (living / "new").read_bytes() == NEW, "the part of a run that lives is gone"
    assert sorted(each.name for each in tmp_path.iterdir()) == sorted([*others, "fair.pdf"])


def test_a_link_with_the_name_of_a_part_leads_nobody_to_remove_what_it_shows(tmp_path: Path) -> None:
    (tmp_path / "own").mkdir()
    (tmp_path / "own" / "notes").write_bytes(OLD)
    (tmp_path / ".turnwright-0123456789abcdef.part").symlink_to(tmp_path / "own")
    leftovers.clear(tmp_path)
    assert (tmp_path / "own" / "notes").read_bytes() == OLD


def test_a_part_that_another_run_takes_for_stale_while_it_is_locked_is_made_anew(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    honest, tried = leftovers._lock, []

    def late(path: Path) -> int | None:
        tried.append(path)
        held = honest(path)
        if len(tried) == 1:
            path.rmdir()
        return held

    monkeypatch.setattr(leftovers, "_lock", late)
    with part(tmp_path) as made:
        assert made.is_dir()
        assert made == tried[1] != tried[0]
    assert not list(tmp_path.iterdir())


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs forks")
def test_a_fork_takes_no_part_from_its_parent(tmp_path: Path) -> None:
    script = (
        "import os, sys; from pathlib import Path; from turnwright.bank.storage.leftovers import part\n"
        "with part(Path(sys.argv[1])) as made:\n"
        "    child = os.fork()\n"
        "    if child: os.waitpid(child, 0); assert made.exists()\n"
    )
    assert subprocess.run([sys.executable, "-c", script, str(tmp_path)], check=False).returncode == 0
    assert not list(tmp_path.iterdir())


# --- told to end ------------------------------------------------------------------------------


@pytest.mark.skipif(sys.platform == "win32", reason="needs signals")
@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_a_run_that_is_told_to_end_takes_its_temporary_files_with_it(tmp_path: Path, number: int) -> None:
    (tmp_path / "fair.zip").write_bytes(OLD)
    script = (
        "import os, signal, sys; from pathlib import Path; from turnwright.bank.command import main\n"
        "from turnwright.bank.storage import files\n"
        "signal.signal(int(sys.argv[2]), signal.SIG_DFL)\n"  # this run itself may be one that ignores it
        "def write(**_):\n"
        "    with files.replacement(Path(sys.argv[1])) as fresh:\n"
        "        fresh.file.write(b'half'); os.kill(os.getpid(), int(sys.argv[2]))\n"
        "main.turnwright.main = lambda *_, **__: write()\n"
        "main.main()"
    )
    ended = subprocess.run(
        [sys.executable, "-c", script, str(tmp_path / "fair.zip"), str(int(number))], capture_output=True, check=False
    )
    assert (ended.returncode, ended.stderr) == (128 + number, f"{main.STOPPED}\n".encode())
    assert [each.name for each in tmp_path.iterdir()] == ["fair.zip"]
    assert (tmp_path / "fair.zip").read_bytes() == OLD
    assert Stopped(number).exit_status == ended.returncode
