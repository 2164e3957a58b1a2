"""Disks that fill up, and permissions that go, in the middle of a run: the old files stay, one sentence tells why.

As root, on a small disk in memory of which all but some room is taken; elsewhere a limit of the size of files stands
for a full disk, and the other trials are left out, which is told.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
import time
from collections import Counter
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import replace
from pathlib import Path

from tests.endurance.cases import LANTERN, LONG_PACK, Bench, bench, other_cases, pack_case
from tests.endurance.programs import Ended, Room, ended, parts, room

ORDINARY = ("setpriv", "--bounding-set=-all", "--inh-caps=-all")  # root without its rights over files
KILO = 1024


def run(is_long: bool) -> Iterator[str]:
    """One line for each kind of trouble."""
    with tempfile.TemporaryDirectory() as scratch:
        made = room(Path(scratch))
        cases = [pack_case(*LANTERN), *other_cases(made)]
        if not is_long:
            cases = [each for each in cases if each.name in ("pack", "form", "merge", "results --write-back")]
        benches = [bench(made, each) for each in cases]
        for each in benches:
            yield _limited(each, 6 if is_long else 1)
        if not _may_mount(made):
            yield "disks can't be mounted here, so none was filled up or made read-only"
            return
        for each in benches:
            yield _full(each, 10 if is_long else 2)
        yield _read_only(bench(made, pack_case(*LONG_PACK)), 10 if is_long else 2)
        yield _cache_trouble(benches[0])


# --- files that may not grow ------------------------------------------------------------------


def _limited(each: Bench, times: int) -> str:
    """No file may grow beyond a limit, below the largest that is written."""
    largest = max(len(content) for name, content in each.new.items() if each.old.get(name) != content)
    for number in range(times):
        each.prepare()
        limit = largest * (number + 1) // (times + 1)
        told = each.room.run(*each.case.new, before=("prlimit", f"--fsize={limit}")).must_be(2)
        assert "larger than a file may be" in told.err, told.err
        _stays(each)
    return f"{each.case.name}: {times} limits of a file's size, {_stayed(each)}"


# --- disks that fill up -----------------------------------------------------------------------


def _full(each: Bench, times: int) -> str:
    """A disk with room for a share of what is written, beside the old files."""
    told = Counter[str]()
    size = sum(len(content) for content in each.new.values())
    with _disk(each.out):
        each.prepare()
        for number in range(times):
            space = size * number // times
            with _filled(each.out, space):
                how = each.room.run(*each.case.new)
                if how.status:
                    assert "disk is full" in how.must_be(2).err, how.err
                    _stays(each)
                else:
                    assert each.state() == "all new", "a full disk was passed over"
            told["had room enough" if how.status == 0 else "refused"] += 1
            each.prepare()
        assert told["refused"], "no disk was full"
        each.again()
    return f"{each.case.name}: disk full at {times} points: {_counted(told)}, {_stayed(each)}"


def _stays(each: Bench) -> None:
    assert each.state() == "old" or (each.case.keeps and each.state() == "some new"), "a file has changed"
    assert not parts(each.out), "temporary files are left"


def _stayed(each: Bench) -> str:
    return "each file old or new, those proved before the fault new" if each.case.keeps else "all old files stayed"


@contextmanager
def _disk(place: Path, size: str = "64m") -> Iterator[None]:
    """A disk in memory at this folder."""
    shutil.rmtree(place, ignore_errors=True)
    place.mkdir()
    subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={size},mode=777", "turnwright-trial", str(place)], check=True)
    try:
        yield
    finally:
        subprocess.run(["umount", "-l", str(place)], check=True)


@contextmanager
def _filled(place: Path, space: int) -> Iterator[None]:
    """All but so many bytes of the disk are taken."""
    state = os.statvfs(place)
    take = max(state.f_bavail * state.f_frsize - space, 0)
    ballast = place / "ballast.part"  # not counted among files
    with ballast.open("wb") as file:
        os.posix_fallocate(file.fileno(), 0, take)
    try:
        yield
    finally:
        ballast.unlink()


def _may_mount(made: Room) -> bool:
    try:
        with _disk(made.folder / "disk"):
            return True
    except (OSError, subprocess.CalledProcessError):
        return False


# --- permissions that go ----------------------------------------------------------------------


def _read_only(each: Bench, times: int) -> str:
    """The disk is made read-only while a pack is written; or the folder is, for an ordinary user."""
    told = Counter[str]()
    for number in range(times):
        with _disk(each.out):
            each.prepare()
            process = each.room.start(*each.case.new)
            time.sleep((number + 0.5) / times * each.seconds)
            # a disk with a file open for writing can't be made read-only, but its place in the tree can
            subprocess.run(["mount", "-o", "remount,bind,ro", str(each.out)], check=False, stderr=subprocess.DEVNULL)
            told[_refused(each, ended(process))] += 1
    for number in range(times):
        with _disk(each.out):
            each.prepare()
            process = each.room.start(*each.case.new, before=ORDINARY)
            time.sleep((number + 0.5) / times * each.seconds)
            each.out.chmod(0o555)
            told[_refused(each, ended(process))] += 1
    return f"pack on a disk or in a folder that becomes read-only, {2 * times} times: {_counted(told)}"


def _refused(each: Bench, how: Ended) -> str:
    """What became of a run. What can't be removed from a disk that may not be written any more stays."""
    how.must_be(0, 2)
    assert each.state() == ("all new" if how.status == 0 else "old")
    return "in time" if how.status == 0 else how.err.partition(": ")[2].partition(";")[0]


# --- the cache --------------------------------------------------------------------------------


def _cache_trouble(each: Bench) -> str:
    """A cache that can't be written costs time and nothing else; so does a full folder for temporary files."""
    for name in ("full", "read-only"):
        place = each.room.folder / f"cache {name}"
        with _disk(place, "16k"):
            if name == "full":
                with suppress(OSError), (place / "ballast").open("wb") as file:
                    file.write(bytes(64 * KILO))
            else:
                subprocess.run(["mount", "-o", "remount,ro", str(place)], check=True)
            _same(each, {"TURNWRIGHT_CACHE": str(place), "TMPDIR": str(place)})
            assert not parts(place), "temporary files are left in the cache"
    return "a cache folder, and TMPDIR, that are full or read-only: the same pack"


def _same(each: Bench, more: Mapping[str, str]) -> None:
    each.prepare()
    replace(each.room, more=more).run(*each.case.new).must_be(0)
    assert each.state() == "all new"


def _counted(told: Mapping[str, int]) -> str:
    return ", ".join(f"{number} {name}" for name, number in sorted(told.items()))
