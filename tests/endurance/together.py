"""Many runs at once: to one target, and with one solution cache that somebody damages all the while."""

from __future__ import annotations

import os
import random
import shutil
import tempfile
import threading
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

from turnwright.bank.solving import cache
from turnwright.bank.storage import entries

from tests.endurance.cases import LANTERN, bench, empty, files, pack_case
from tests.endurance.programs import Room, ended, parts, room

OVERTAKEN = "it was changed meanwhile"


def run(is_long: bool) -> Iterator[str]:
    """One line for each kind of company."""
    with tempfile.TemporaryDirectory() as scratch:
        made = room(Path(scratch))
        yield _one_target(made, 10 if is_long else 2)
        yield _damaged_cache(made, 8 if is_long else 2)
        yield _other_versions(made)


def _one_target(made: Room, rounds: int) -> str:
    """Three packs of different seeds at once; the target is one of them."""
    arguments = [("pack", *LANTERN, "--seed", str(seed), "--out", "out/pack.zip") for seed in (1, 2, 3)]
    wanted = []
    for each in arguments:
        empty(made.folder / "out")
        made.run(*each).must_be(0)
        wanted.append(files(made.folder / "out"))
    told = 0
    for _ in range(rounds):
        empty(made.folder / "out")
        runs = [ended(process).must_be(0, 2) for process in [made.start(*each) for each in arguments]]
        left = wanted.index(files(made.folder / "out"))
        assert runs[left].status == 0, "a run was told that it came too late, and its pack stands there"
        assert all(OVERTAKEN in each.err for each in runs if each.status), "a run failed for another reason"
        told += sum(each.status == 2 for each in runs)
        assert not parts(made.folder / "out"), "temporary files are left"
    return (
        f"{len(arguments)} packs at once to one target, {rounds} times: always one of them, whole, and its run ended "
        f"well; {told} runs were told that another had come first"
    )


# --- one cache --------------------------------------------------------------------------------


def _damaged_cache(made: Room, rounds: int) -> str:
    """Runs that share a cache from cold, while its entries are damaged: all write what a run without a cache writes."""
    arguments = ("pack", "--bank", "bank", "--bank", "lantern.yaml", "--variants", "1", "--out")
    nowhere = replace(made, more={entries.FOLDER_VARIABLE: entries.OFF})
    empty(made.folder / "out")
    nowhere.run(*arguments, "out/pack.zip").must_be(0)
    wanted = files(made.folder / "out")["pack.zip"]
    place = made.folder / "cache"
    done = Counter[str]()
    runs = 0
    for _ in range(rounds):
        _emptied(place)
        stop = threading.Event()
        vandal = threading.Thread(target=_vandalise, args=(place, stop, done))
        vandal.start()
        try:
            for wave in range(2):
                started = [made.start(*arguments, f"out/{wave}{name}.zip") for name in range(3)]
                for process in started:
                    ended(process).must_be(0)
                runs += len(started)
        finally:
            stop.set()
            vandal.join()
        found = files(made.folder / "out")
        assert all(content == wanted for content in found.values()), "a damaged cache changed a pack"
    _emptied(place)
    made.run(*arguments, "out/pack.zip").must_be(0)
    return (
        f"{runs} runs sharing a cache that was damaged {done.total():,} times in {len(done)} ways: all wrote what one "
        "without a cache writes"
    )


def _emptied(place: Path) -> None:
    """A cold cache."""
    for each in place.iterdir():
        if each.is_dir() and not each.is_symlink():
            shutil.rmtree(each, ignore_errors=True)
        else:
            each.unlink(missing_ok=True)


def _vandalise(place: Path, stop: threading.Event, done: Counter[str]) -> None:
    dice = random.Random()
    ways = list(WAYS)
    while not stop.wait(0.005):
        entries = [each for each in sorted(place.glob("*.json")) if each.is_file() and not each.is_symlink()]
        if not entries:
            continue
        way = dice.choice(ways)
        with suppress(OSError, ValueError, KeyError, IndexError, TypeError, RecursionError):
            WAYS[way](dice.choice(entries), dice)
            done[way] += 1


def _cut(path: Path, dice: random.Random) -> None:
    os.truncate(path, dice.randrange(path.stat().st_size))


def _flip(path: Path, dice: random.Random) -> None:
    content = bytearray(path.read_bytes())
    content[dice.randrange(len(content))] ^= 1 << dice.randrange(8)
    path.write_bytes(content)


def _other_layout(path: Path, dice: random.Random) -> None:
    """Sound digests about data of another form."""
    data = entries.opened(path.stem, path.read_bytes())
    changed = dice.choice([None, [], {}, [data], {"closed_form": ["Function", "r"], "path": [], "signs": []}])
    path.write_bytes(entries.sealed(path.stem, changed))


def _in_place_of(make: Callable[[Path], object]) -> Callable[[Path, random.Random], None]:
    def done(path: Path, _: random.Random) -> None:
        path.unlink()
        make(path)

    return done


def _other_entry(path: Path, dice: random.Random) -> None:
    others = [each for each in sorted(path.parent.glob("*.json")) if each.is_file() and not each.is_symlink()]
    path.write_bytes(dice.choice(others).read_bytes())


WAYS: dict[str, Callable[[Path, random.Random], None]] = {
    "truncated": _cut,
    "a bit flipped": _flip,
    "another layout": _other_layout,
    "another entry": _other_entry,
    "gone": _in_place_of(lambda path: None),
    "a folder": _in_place_of(Path.mkdir),
    "a pipe": _in_place_of(os.mkfifo),
    "a link to nothing": _in_place_of(lambda path: path.symlink_to("nothing")),
    "a link to itself": _in_place_of(lambda path: path.symlink_to(path)),
    "a link to an endless device": _in_place_of(lambda path: path.symlink_to("/dev/zero")),
    "10 MB": lambda path, _: path.write_text("[" * 10_000_000) and None,
    "deep nesting": lambda path, _: path.write_text("[" * 90_000 + "]" * 90_000) and None,
    "no permission": lambda path, _: path.chmod(0),
}


# --- other versions ---------------------------------------------------------------------------


def _other_versions(made: Room) -> str:
    """Entries of another layout or another SymPy have other names, so they are not read."""
    each = bench(made, pack_case(*LANTERN))
    place = made.folder / "cache"
    counts = []
    for change in ("", "cache.FORMAT += 1; ", "import sympy; sympy.__version__ = '0.0'; "):
        empty(made.folder / "out")
        code = (
            f"from turnwright.bank.solving import cache; {change}from turnwright.bank.command.main import main; main()"
        )
        made.run(*each.case.new, code=code).must_be(0)
        assert files(made.folder / "out")["pack.zip"] == each.new["pack.zip"]
        counts.append(len(list(place.glob("*.json"))))
    assert counts[0] < counts[1] < counts[2], "an entry of another version was read"
    assert entries.MOST < 100_000_000
    return f"a cache of format {cache.FORMAT}, then of another, then of another SymPy: each solved anew, the same pack"
