"""Runs are killed at random moments, with kill -9: each file is then the old one or the new one, whole."""

from __future__ import annotations

import random
import shutil
import signal
import tempfile
import time
import zipfile
from collections import Counter
from collections.abc import Iterator, Mapping
from pathlib import Path

from tests.endurance.cases import LANTERN, LONG_PACK, Bench, bench, other_cases, pack_case
from tests.endurance.programs import Room, end, ended, parts, room, tell, until_it_listens

SHORT, LONG = 8, 60
BUDGET = 20  # seconds that the short form spends on killing packs
# system calls on the way of a file to its place: strace kills on entering one
CALLS = ("mkdir", "flock", "fsync", "chmod", "rename", "rmdir")


def run(is_long: bool) -> Iterator[str]:
    """One line for each kind of killing."""
    with tempfile.TemporaryDirectory() as scratch:
        made = room(Path(scratch))
        each = bench(made, pack_case(*LONG_PACK), times=3)
        yield _packs(each, LONG if is_long else SHORT)
        yield _stops(each, 24 if is_long else 4)
        yield _at_calls(made, 3 if is_long else 1)
        for case in other_cases(made):
            if is_long or case.name in ("form", "merge"):
                yield _others(bench(made, case), 10 if is_long else 2)


def _packs(each: Bench, times: int) -> str:
    told, slowest, left, start = Counter[str](), 0.0, 0, time.perf_counter()
    for number, moment in enumerate(_moments(each, times)):
        if times == SHORT and number > 3 and time.perf_counter() - start > BUDGET:
            break
        each.prepare()
        process = each.room.start(*each.case.new)
        time.sleep(moment)
        end(process, whole=number % 3 != 2)
        slowest = max(slowest, each.room.wait_until_empty())
        told[each.state()] += 1
        left += bool(parts(each.out))
        with zipfile.ZipFile(each.out / "pack.zip") as archive:
            assert archive.testzip() is None
        if number % 4 == 3:
            each.room.run("prove", "out/pack.zip").must_be(0)
            each.again()
    each.again()
    return (
        f"pack ({each.seconds:.1f} s) killed {told.total()} times, every third time without its workers, which then "
        f"ended within {slowest:.1f} s: {_counted(told)}, nothing lost; {left} left temporary files, which the next "
        "run cleared away"
    )


def _moments(each: Bench, times: int) -> Iterator[float]:
    """Random moments, spread over the whole run."""
    dice = random.Random()
    for number in random.sample(range(times), times):
        yield (number + dice.random()) / times * 1.1 * each.seconds


def _stops(each: Bench, times: int) -> str:
    """Told to end, by Ctrl-C or SIGTERM to the group or to the first process, a run leaves nothing."""
    told, statuses = Counter[str](), Counter[str]()
    for number, moment in enumerate(_moments(each, times)):
        each.prepare()
        process = each.room.start(*each.case.new)
        until_it_listens(process)
        time.sleep(0.7 * moment)
        asked = (signal.SIGINT, signal.SIGTERM)[number % 2]
        tell(process, asked, whole=number % 4 < 2)
        # one that is done, and whose interpreter is about to go, is ended by the signal itself
        how = ended(process).must_be(0, 128 + asked, -asked)
        each.room.wait_until_empty()
        told[each.state()] += 1
        statuses[str(how.status)] += 1
        assert how.status >= 0 or each.state() == "all new", "a run was ended before it could clear up"
        assert not parts(each.out), "a run that was told to end left temporary files"
    return f"pack told to end {times} times: {_counted(told)}; exit status {_counted(statuses)}; nothing left"


def _at_calls(made: Room, most: int) -> str:
    """Kills on entering each of the system calls that put a file in its place, where strace is there to do so."""
    if not shutil.which("strace"):
        return "no strace here, so nothing was killed at chosen system calls"
    each = bench(made, pack_case(*LANTERN, "lantern.pull", "--kind", "number"))
    told = Counter[str]()
    for call in CALLS:
        for count in range(1, most + 1):
            each.prepare()
            inject = f"inject={call}:signal=KILL:when={count}"
            made.start(*each.case.new, before=("strace", "-f", "-qq", "-o", "trace", "-e", inject)).communicate()
            made.wait_until_empty()
            killed = "SIGKILL" in (made.folder / "trace").read_text()
            told[f"{each.state()} ({'killed at ' + call if killed else 'ended'})"] += 1
    each.again()
    return "pack killed on entering system calls: " + _counted(told)


def _others(each: Bench, times: int) -> str:
    told = Counter[str]()
    for moment in _moments(each, times):
        each.prepare()
        process = each.room.start(*each.case.new)
        time.sleep(moment)
        end(process, whole=True)
        each.room.wait_until_empty()
        told[each.state()] += 1
    each.again()
    return f"{each.case.name} ({each.seconds:.1f} s) killed {times} times: {_counted(told)}; the next run wrote all"


def _counted(told: Mapping[str, int]) -> str:
    return ", ".join(f"{number} {name}" for name, number in sorted(told.items()))
