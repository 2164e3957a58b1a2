"""The command that writes the sign-off page: what it prints, and that it leaves all as it was where it can't."""

from __future__ import annotations

import errno
import json
import os
from pathlib import Path
from typing import Any

import pytest
from turnwright.bank.command.main import run

OLD = b"<!doctype html><title>last year's page</title>"


@pytest.fixture
def target(tmp_path: Path) -> Path:
    """The page of last year, which survives every failure."""
    path = tmp_path / "book.html"
    path.write_bytes(OLD)
    return path


def ended(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    capsys.readouterr()
    return (run(["book", *arguments]), *capsys.readouterr())


def test_a_page_is_written_and_told_to_a_script(target: Path, capsys: pytest.CaptureFixture[str]) -> None:
    arguments = ("over-the-top", "flat-bend", "--kind", "number,rank", "--variants", "1", "--g", "9.81")
    status, out, err = ended(capsys, *arguments, "--out", str(target), "--json")
    told = json.loads(out)
    assert (status, err) == (0, "")
    assert told["bytes"] == target.stat().st_size > 10_000
    assert told["path"] == str(target.resolve())
    assert (told["g"], told["seed"], told["variants"]) == ("9.81 N/kg", 1, 1)
    assert "over-the-top.least-speed" in told["questions"]
    assert {each.partition("/")[2] or "number" for each in told["questions"]} >= {"number", "rank"}
    assert told["to_judge"] == []  # its file answers what can't be decided
    content = target.read_text("utf-8")
    assert "9.81\u00a0N/kg" in content
    assert [each.name for each in target.parent.iterdir()] == [target.name]


def test_a_person_is_told_what_to_do_next(target: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = ended(capsys, "over-the-top.least-speed", "--kind", "number", "--out", str(target))
    assert status == 0
    assert out.startswith(f"{target}: one question, {target.stat().st_size // 1000} kB (g = 9.81 N/kg, seed 1).\n")
    assert "Next: open the file in a browser" in out


def test_a_full_disk_leaves_the_old_page_and_nothing_beside_it(
    target: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: Any) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    status, out, err = ended(capsys, "over-the-top.least-speed", "--kind", "number", "--out", str(target))
    assert (status, out, err) == (
        2,
        "",
        f"turnwright: {target}: its disk is full; free some space, or choose a folder on another disk\n",
    )
    assert target.read_bytes() == OLD
    assert [each.name for each in target.parent.iterdir()] == [target.name]


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("no-such",), "no question, problem or family is called 'no-such'"),
        (("over-the-top", "--kind", "riddle"), "no kind of question is called 'riddle'"),
        (
            ("over-the-top.least-speed", "--out", "missing/book.html"),
            "missing/book.html: its folder does not exist; make the folder first",
        ),
        (("over-the-top.least-speed", "--out", "."), ".: it is a folder; name a file to write"),
        (("over-the-top", "--variants", "0"), "Invalid value for '--variants'"),
        (("over-the-top", "--date", "3\nMay"), "Invalid value for '--date'"),
    ],
)
def test_what_can_not_be_done_is_told_in_one_line(
    arguments: tuple[str, ...],
    said: str,
    target: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(target.parent)
    status, out, err = ended(capsys, *arguments)
    assert (status, out, len(err.splitlines())) == (2, "", 1)
    assert said in err
    assert target.read_bytes() == OLD
    assert [each.name for each in target.parent.iterdir()] == [target.name]
