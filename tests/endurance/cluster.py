"""Real scheduler and worker processes on loopback: the bytes of one machine, also where a worker is killed at work."""

from __future__ import annotations

import json
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import AbstractContextManager, ExitStack, contextmanager
from hashlib import sha256
from pathlib import Path

ITEMS = 1_200
WORK = ("over-the-top.pull-at-the-top", "--kind", "number", "--variants", str(ITEMS))
COMMAND = Path(sys.executable).with_name("turnwright")
DASK = Path(sys.executable).with_name("dask")
PATIENCE = 60  # seconds, for processes to start or to end


def run(is_long: bool) -> Iterator[str]:
    """A pack from a cluster whose workers, or whose scheduler, are killed at work."""
    with tempfile.TemporaryDirectory() as name:
        folder, target = Path(name), Path(name) / "cluster.zip"
        wanted = _packed(folder / "local.zip", "--workers", "1")
        size = (folder / "local.zip").stat().st_size
        for share in (0, 0.1, 0.3, 0.5, 0.7, 0.9, 0.97) if is_long else (0, 0.5):
            seconds = _with_a_worker_killed(folder, size, share)
            assert _digest(target) == wanted, "the cluster gave other bytes"
            what = f"one worker killed -9 when {share:.0%} is written" if share else "undisturbed"
            yield f"{ITEMS} items from a scheduler and two workers, {what}: the bytes of one process ({seconds:.0f} s)"
        yield _with_the_scheduler_killed(folder)
        _with_a_late_worker(folder)
        assert _digest(target) == wanted, "the cluster gave other bytes"
        yield "the only worker killed -9 at work, another started then: the bytes of one process"


def _with_a_worker_killed(folder: Path, size: int, share: float) -> float:
    """Kills one of two workers when such a share of the pack is written; in the proof, where it is 1."""
    with _cluster(folder, 2) as (address, workers):
        start = time.perf_counter()
        pack = _start(folder / "cluster.zip", "--scheduler", address)
        if share:
            _until_written(pack, folder, int(size * share))
            workers[0].send_signal(signal.SIGKILL)
        _ended(pack, 0)
        return time.perf_counter() - start


def _with_the_scheduler_killed(folder: Path) -> str:
    """The command ends with one sentence, and what stood at the target stands there still."""
    target = folder / "cluster.zip"
    before = _digest(target)
    with _cluster(folder, 1) as (address, _):
        pack = _start(target, "--scheduler", address, "--seed", "2")
        _until_written(pack, folder, 1)
        _schedulers[-1].send_signal(signal.SIGKILL)
        said = _ended(pack, 2)
    assert said.count("\n") == 1 and "the scheduler is gone" in said, said
    assert _digest(target) == before and not list(folder.glob(".turnwright-*"))
    return f"scheduler killed -9 at work: status 2, the old pack as it was, and one line: {said.strip()}"


def _with_a_late_worker(folder: Path) -> None:
    """The only worker is killed; another that comes later does the rest."""
    with _cluster(folder, 1) as (address, workers):
        pack = _start(folder / "cluster.zip", "--scheduler", address)
        _until_written(pack, folder, 1)
        workers[0].send_signal(signal.SIGKILL)
        with _worker(address):
            _ended(pack, 0)


def _until_written(pack: subprocess.Popen[bytes], folder: Path, size: int) -> None:
    """Waits until so many bytes of the pack are written; it must still be at work then."""
    until = time.monotonic() + 2 * PATIENCE
    while sum(part.stat().st_size for part in folder.glob(".turnwright-*.part/new")) < size:
        assert pack.poll() is None and time.monotonic() < until, "the pack was never half written"
        time.sleep(0.02)
    time.sleep(0.2)


_schedulers: list[subprocess.Popen[bytes]] = []


@contextmanager
def _cluster(folder: Path, count: int) -> Iterator[tuple[str, list[subprocess.Popen[bytes]]]]:
    """A scheduler on loopback and so many workers."""
    with ExitStack() as stack:
        place = folder / "scheduler.json"
        place.unlink(missing_ok=True)
        options = ("--host", "127.0.0.1", "--port", "0", "--no-dashboard", "--scheduler-file", str(place))
        _schedulers.append(stack.enter_context(_process(DASK, "scheduler", *options)))
        address = _address(place)
        yield address, [stack.enter_context(_worker(address)) for _ in range(count)]


def _worker(address: str) -> AbstractContextManager[subprocess.Popen[bytes]]:
    return _process(DASK, "worker", address, "--nthreads", "1", "--no-nanny", "--no-dashboard", "--host", "127.0.0.1")


@contextmanager
def _process(*command: str | Path) -> Iterator[subprocess.Popen[bytes]]:
    with subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) as process:
        try:
            yield process
        finally:
            process.kill()


def _address(place: Path) -> str:
    until = time.monotonic() + PATIENCE
    while time.monotonic() < until:
        if place.exists() and place.stat().st_size:
            return str(json.loads(place.read_text())["address"])
        time.sleep(0.1)
    raise AssertionError("the scheduler did not start")


def _start(target: Path, *options: str) -> subprocess.Popen[bytes]:
    command = (COMMAND, "pack", *WORK, "--out", target, *options)
    return subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE)


def _ended(process: subprocess.Popen[bytes], status: int) -> str:
    """What it said on its way to this exit status."""
    out, said = process.communicate(timeout=5 * PATIENCE)
    assert process.returncode == status, (process.returncode, out, said)
    return said.decode()


def _packed(target: Path, *options: str) -> str:
    _ended(_start(target, *options), 0)
    return _digest(target)


def _digest(path: Path) -> str:
    return sha256(path.read_bytes()).hexdigest()
