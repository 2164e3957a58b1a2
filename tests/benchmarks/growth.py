"""Pools of the shipped bank as they grow, each in a process of its own, against the floor below any program."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
import zipfile
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from lxml import etree

LADDER = (5, 50, 500)  # variants of a question: about 10^3, 10^4 and 10^5 items
MILLION = 10_000
FIRST_PACKS = 3  # what the floor is measured on: their bytes are like those of all


@dataclass(frozen=True)
class Grown:
    """A pool that was written: items and bytes on disk, seconds on the clock and of processors, megabytes at most."""

    items: int
    packs: int
    size: int
    wall: float
    cpu: float
    memory: float


@dataclass(frozen=True)
class Floor:
    """Seconds an item that no program can do without: to deflate its bytes, and to serialise its tree."""

    deflating: float
    serialising: float
    length: float


def growth(folder: Path, *, million: bool) -> None:
    """One line for each step of the ladder."""
    for variants in (*LADDER, MILLION) if million else LADDER:
        place = folder / f"pool-{variants}"
        place.mkdir(parents=True, exist_ok=True)
        grown, below = grow(place, variants), floor(place)
        each = grown.wall / grown.items
        told = (
            f"pool of {grown.items:,} items in {grown.packs} packs ({grown.size / 1e6:,.0f} MB): {grown.wall:,.0f} s",
            f"{1 / each:,.0f} items a second",
            f"{grown.cpu / grown.items * 1000:.2f} ms of processors an item",
            f"peak memory {grown.memory:.0f} MB a process",
            f"{each / below.deflating:.1f} times deflating the same bytes on one core "
            f"({below.deflating * 1000:.2f} ms an item of {below.length / 1000:.1f} kB)",
            f"{each / (below.deflating + below.serialising):.1f} times that and serialising the same trees",
        )
        print("; ".join(told), flush=True)


def grow(place: Path, variants: int) -> Grown:
    """Writes and proves a pool of number questions with the real command; memory is that of its largest process."""
    command = (Path(sys.executable).with_name("turnwright"), "pool", "--kind", "number", "--json", "--out", place)
    start = time.perf_counter()
    with subprocess.Popen((*command, "--variants", str(variants)), stdout=subprocess.PIPE) as process:
        assert process.stdout is not None
        made = json.loads(process.stdout.read())
        _, status, usage = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
    wall = time.perf_counter() - start
    assert not process.returncode and not made["kept"]
    size = sum(path.stat().st_size for path in packs(place))
    return Grown(made["items"], len(made["packs"]), size, wall, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024)


def packs(place: Path) -> list[Path]:
    """The packs of a pool."""
    return sorted(place.glob("pool-*.zip"))


def floor(place: Path) -> Floor:
    """What the items of the first packs take, read and parsed before the clock starts; one core."""
    deflating = serialising = length = 0.0
    items = 0
    for content in _items(place):
        tree = etree.fromstring(content)
        start = time.perf_counter()
        etree.tostring(tree, encoding="UTF-8", xml_declaration=True)
        serialised = time.perf_counter()
        packer = zlib.compressobj(6, zlib.DEFLATED, -zlib.MAX_WBITS)
        packer.compress(content)
        packer.flush()
        deflating += time.perf_counter() - serialised
        serialising += serialised - start
        length += len(content)
        items += 1
    return Floor(deflating / items, serialising / items, length / items)


def _items(place: Path) -> Iterator[bytes]:
    for path in packs(place)[:FIRST_PACKS]:
        with zipfile.ZipFile(path) as archive:
            yield from (archive.read(name) for name in archive.namelist() if name.startswith("items/"))
