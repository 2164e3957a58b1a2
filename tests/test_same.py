"""The same pack from another process: the short form of ``tests.endurance.same``."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from tests.endurance import same, same_made


def test_another_process_makes_the_same_bytes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    variables = {"PYTHONHASHSEED": "3", "TZ": "Asia/Kathmandu", "LC_ALL": "C", "PYTHONUTF8": "0"}
    place = same.Place("elsewhere", variables, options=("--brief", "--workers", "2"), umask=0o077, folder="/")
    (tmp_path / "here").mkdir()
    monkeypatch.setattr("os.sched_getaffinity", lambda _: {0})
    with ThreadPoolExecutor() as pool:
        elsewhere = pool.submit(same.made, place, tmp_path)
        here = {"made": same_made.brief(tmp_path / "here"), "versions": same_made.versions()}
        assert same.differing(here, elsewhere.result()) == []


def test_a_differing_byte_is_told_and_another_zlib_counts_by_what_the_zip_holds() -> None:
    first = {"made": {"a.zip": ("1", "2")}, "versions": {"zlib": "1"}}
    deflated = {"made": {"a.zip": ("9", "2")}, "versions": {"zlib": "1"}}
    assert same.differing(first, deflated) == ["a.zip"]
    assert same.differing(first, {**deflated, "versions": {"zlib": "2"}}) == []
    assert same.differing(first, {"made": {"a.zip": ("1", "3")}, "versions": {"zlib": "2"}}) == ["a.zip"]
    assert same.differing(first, {"made": {}, "versions": {"zlib": "1"}}) == ["a.zip"]
