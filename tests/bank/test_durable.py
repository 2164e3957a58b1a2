"""Two files written as one: both are new, or both are as they were."""

from __future__ import annotations

import errno
import os
from pathlib import Path
from typing import Any

import pytest
from turnwright.bank.durable import write_together
from turnwright.bank.errors import FileError

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
