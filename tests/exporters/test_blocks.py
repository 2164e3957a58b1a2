"""Work in blocks: the same results in the same order, whoever does it; and nobody is left behind."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from turnwright.bank.asked import Settings
from turnwright.bank.cache import solved_question
from turnwright.bank.catalogue import find_questions
from turnwright.bank.errors import ProofError
from turnwright.bank.item import Pack
from turnwright.bank.mistake_reader import shipped_mistakes
from turnwright.bank.reader import read_bank
from turnwright.bank.selection import pack
from turnwright.exporters import blocks, qti30
from turnwright.exporters.adaptation import as_is
from turnwright.exporters.delivery import PLAIN
from turnwright.exporters.proof import Report, prove
from turnwright.exporters.template import ToProve

TASKS = tuple(range(23))


def squared(task: int) -> int:
    return task * task


def drawn(items: int, seed: int = 1) -> Pack:
    """A pack of one question."""
    (found,) = find_questions(read_bank(), ["over-the-top.pull-at-the-top"])
    settings = Settings(variants=items, kinds=("number",), seed=seed)
    return pack([solved_question(*found)], shipped_mistakes(), settings)


@pytest.fixture(scope="module")
def fair() -> Pack:
    """A pack of three blocks of items and a bit."""
    return drawn(160)


@pytest.fixture(scope="module")
def alone(fair: Pack, tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """The pack as this process writes it, for which it is short enough."""
    return written(fair, tmp_path_factory.mktemp("alone")).read_bytes()


@pytest.fixture(params=[1, 2, 3])
def workers(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> int:
    count: int = request.param
    monkeypatch.setattr(blocks.os, "sched_getaffinity", lambda _: range(count), raising=False)
    monkeypatch.setattr(blocks, "FEW_ITEMS", 0)
    return count


def children() -> list[str]:
    """The processes that this one has started and not waited for."""
    return Path(f"/proc/{os.getpid()}/task/{os.getpid()}/children").read_text().split()


@pytest.mark.parametrize("apart", [False, True])
@pytest.mark.parametrize("count", [1, 2, 3, 40])
def test_results_come_in_the_order_of_the_tasks(count: int, apart: bool) -> None:
    assert list(blocks.in_order(TASKS, squared, count, apart=apart)) == [each * each for each in TASKS]


@pytest.mark.parametrize("apart", [False, True])
def test_what_fails_in_a_worker_is_raised_here(apart: bool) -> None:
    def failing(task: int) -> int:
        if task == 17:
            raise ProofError("fair.zip", ["the seventeenth"])
        return task

    found = blocks.in_order(TASKS, failing, 2, apart=apart)
    assert [next(found) for _ in range(17)] == list(range(17))
    with pytest.raises(ProofError, match="the seventeenth"):
        next(found)


def test_what_a_killed_worker_leaves_is_done_here() -> None:
    here = os.getpid()

    def deadly(task: int) -> int:
        if task > 8 and os.getpid() != here:
            os.kill(os.getpid(), signal.SIGKILL)
        return task

    assert list(blocks.in_order(TASKS, deadly, 2)) == list(TASKS)


@pytest.mark.skipif(not Path("/proc/self/task").is_dir(), reason="children are counted through /proc")
def test_no_worker_outlives_the_loop() -> None:
    before = children()
    found = blocks.in_order(TASKS, lambda task: bytes(10_000_000), 3)
    next(found)
    assert len(children()) == len(before) + 3
    assert isinstance(found, Iterator)
    found.close()  # type: ignore[attr-defined]
    assert children() == before


@pytest.mark.skipif(not Path("/proc/self/task").is_dir(), reason="children are counted through /proc")
def test_an_interrupt_ends_all_workers(tmp_path: Path) -> None:
    """As Ctrl-C does, it goes to the whole group; and no process of the group is left."""
    script = (
        "import time; from turnwright.exporters import blocks; print('ready', flush=True);"
        "list(blocks.in_order(range(9), lambda task: time.sleep(30), 2))"
    )
    started = subprocess.Popen(
        [sys.executable, "-c", script], stdout=subprocess.PIPE, stderr=subprocess.PIPE, start_new_session=True
    )
    with started:
        assert started.stdout is not None
        started.stdout.readline()
        time.sleep(0.5)
        os.killpg(started.pid, signal.SIGINT)
        _, said = started.communicate(timeout=20)
    assert said.count(b"Traceback") == 1  # of the parent alone
    with pytest.raises(ProcessLookupError):
        os.killpg(started.pid, 0)


def written(made: Pack, folder: Path) -> Path:
    target = folder / "fair.zip"
    qti30.write(as_is(made, PLAIN), target, lambda _: None)
    return target


def proved(made: Pack, target: Path) -> Report:
    return prove(target, ToProve(as_is(made, PLAIN)))


def test_a_pack_is_the_same_whoever_writes_and_proves_it(
    fair: Pack, alone: bytes, workers: int, tmp_path: Path
) -> None:
    target = written(fair, tmp_path)
    report = proved(fair, target)
    assert (report.ok, report.items, report.marked) == (True, 160, 160)
    assert report.figures == len(fair.sections[0].figures)
    assert target.read_bytes() == alone


def test_progress_counts_each_item_once(fair: Pack, workers: int, tmp_path: Path) -> None:
    heard: list[int] = []
    qti30.write(as_is(fair, PLAIN), tmp_path / "fair.zip", lambda _: None, heard.append)
    assert heard == list(range(1, 161))


def test_findings_are_the_same_and_in_the_same_order(workers: int, tmp_path: Path) -> None:
    """Other items are expected than were written, so that nearly every one has a finding."""
    expected = ToProve(as_is(drawn(80, seed=2), PLAIN))
    report = prove(written(drawn(70), tmp_path), expected)
    assert len(report.findings) > 100
    assert report == prove(tmp_path / "fair.zip", iter(expected))  # which can be asked in their order only
