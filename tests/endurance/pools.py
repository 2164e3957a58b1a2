"""A pool that is killed again and again, with kill -9, and gone on with: the packs of one that nobody disturbed."""

from __future__ import annotations

import json
import random
import tempfile
import time
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path

from tests.endurance.cases import LANTERN, empty, files
from tests.endurance.programs import Room, end, parts, room

PACKS = 12
POOL = ("pool", *LANTERN, "lantern.pull", "--kind", "number", "--variants", "480", "--items-per-pack", "40")


def run(is_long: bool) -> Iterator[str]:
    """Kills one pool so many times, then lets it be finished."""
    with tempfile.TemporaryDirectory() as scratch:
        made = room(Path(scratch))
        out = made.folder / "out"
        wanted, seconds = _undisturbed(made, out)
        empty(out)
        told = [_killed(made, out, seconds, wanted) for _ in range(25 if is_long else 4)]
        before = _finished(out)
        said = json.loads(made.run(*POOL, "--out", "out", "--json").must_be(0).out)
        assert said["kept"] == len(before), "finished packs were made again"
        assert _finished(out).items() >= before.items(), "finished packs were replaced"
        assert files(out) == wanted and not parts(out), "the pool is another one"
    yield (
        f"pool of {PACKS} packs ({seconds:.1f} s) killed {len(told)} times, each time gone on with; finished packs "
        f"after each: {', '.join(map(str, told))}; the last run kept {len(before)}; all bytes are those of an "
        "undisturbed one"
    )


def _undisturbed(made: Room, out: Path) -> tuple[dict[str, bytes], float]:
    empty(out)
    start = time.perf_counter()
    made.run(*POOL, "--out", "out").must_be(0)
    return files(out), time.perf_counter() - start


def _killed(made: Room, out: Path, seconds: float, wanted: dict[str, bytes]) -> int:
    """How many packs are finished after one more run that is killed; each is whole, and none is lost."""
    if len(_finished(out)) == PACKS:
        empty(out)
    before = _finished(out)
    process = made.start(*POOL, "--out", "out")
    time.sleep(seconds * random.uniform(0.2, 0.5))  # a fifth of it goes by before the first pack
    end(process, whole=random.random() < 0.5)
    made.wait_until_empty()
    after = _finished(out)
    assert after.items() >= before.items(), "a finished pack was lost or made again"
    assert all(content == wanted[name] for name, content in files(out).items() if name != "pool.json")
    return len(after)


def _finished(out: Path) -> dict[str, int]:
    """The packs that the index names, each with the number of its file on the disk; their digests are right."""
    index = out / "pool.json"
    if not index.exists():
        return {}
    found = {}
    for each in json.loads(index.read_text("utf-8"))["packs"]:
        place = out / each["file"]
        assert sha256(place.read_bytes()).hexdigest() == each["sha256"], "the index names a pack that is not whole"
        found[each["file"]] = place.stat().st_ino
    return found
