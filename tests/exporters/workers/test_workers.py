"""Work split into tasks: the same results in the same order, whoever does it; and nobody is left behind."""

from __future__ import annotations

import os
import pickle
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from concurrent.futures import Future
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from pickle import PicklingError

import pytest
from turnwright.bank.errors import ProofError
from turnwright.bank.questions.item_model import Settings
from turnwright.bank.reading.files import read_bank
from turnwright.exporters.adapting.adaptation import Adapted
from turnwright.exporters.packages.delivery import PLAIN
from turnwright.exporters.proof import Report, prove, proving
from turnwright.exporters.qti import package, qti30
from turnwright.exporters.running.packing import Making, Recipe, ToProve
from turnwright.exporters.workers import ALONE, Processes, Workers, cluster, in_order, portable
from turnwright.exporters.workers.cluster import Cluster, ClusterError
from turnwright.exporters.workers.processes import WaitingTasks
from turnwright.exporters.workers.tasks import AHEAD

TASKS = tuple(range(23))
FORKS = Processes(3, "fork")
SPAWNED = Processes(1, "spawn")
BANK = read_bank()
needs_proc = pytest.mark.skipif(not Path("/proc/self/task").is_dir(), reason="children are counted through /proc")


@dataclass(frozen=True)
class Adding:
    """The preparation of work that other processes can do."""

    more: int

    def prepare(self) -> Callable[[int], int]:
        return self.more.__add__


def squared(task: int) -> int:
    return task * task


def children() -> list[str]:
    """The processes that this one has started and not waited for."""
    return Path(f"/proc/{os.getpid()}/task/{os.getpid()}/children").read_text().split()


@pytest.mark.parametrize("workers", [ALONE, FORKS], ids=["alone", "fork"])
def test_results_come_in_the_order_of_the_tasks(workers: Workers) -> None:
    assert list(in_order(TASKS, squared, workers)) == [each * each for each in TASKS]


def test_what_nobody_can_prepare_is_done_here() -> None:
    assert list(in_order(TASKS, lambda task: os.getpid(), SPAWNED)) == [os.getpid()] * len(TASKS)


def test_few_tasks_are_given_out_before_their_results_are_asked_for() -> None:
    asked: list[int] = []
    found = in_order((asked.append(each) or each for each in TASKS), squared, FORKS)
    next(found)
    assert len(asked) == AHEAD * FORKS.size


def test_a_worker_takes_its_own_kinds_first_and_never_waits_beside_a_task() -> None:
    waiting = WaitingTasks()

    def put(names: str) -> None:
        for name in names.split():
            waiting.put((Future(), print, (name,)), name[0] if name != "x" else None)

    def taken(workers: str) -> str:
        found = (waiting.get(int(each)) for each in workers)
        return " ".join(each[2][0] for each in found if each)

    put("a1 b1 c1 a2 b2 c2 x")
    assert taken("01") == "a1 b1"
    assert taken("10") == "b2 a2"
    assert taken("10") == "c1 x"  # a kind of another worker is left to it while there is anything else
    assert taken("0") == "c2"
    put("a3 c3")
    assert taken("11") == "c3 a3"
    put("b3 c4 a4")
    assert taken("000") == "a4 c4 b3"
    waiting.close()
    assert waiting.get(0) is None


def test_what_fails_in_a_worker_is_raised_here() -> None:
    def failing(task: int) -> int:
        if task == 17:
            raise ProofError("fair.zip", ["the seventeenth"])
        return task

    found = in_order(TASKS, failing, FORKS)
    assert [next(found) for _ in range(17)] == list(range(17))
    with pytest.raises(ProofError, match="the seventeenth"):
        next(found)


def test_results_that_can_not_travel_are_made_here() -> None:
    found = list(in_order(TASKS[:3], lambda task: lambda: task, FORKS))
    assert [each() for each in found] == [0, 1, 2]


def test_a_task_that_can_not_travel_is_told() -> None:
    with pytest.raises((PicklingError, AttributeError, TypeError)):
        list(in_order([lambda: 1] * 3, lambda task: task(), FORKS))


def test_what_lost_workers_had_in_hand_is_done_again(tmp_path: Path) -> None:
    """Each task from the ninth on is lost once."""

    def unlucky(task: int) -> int:
        if task > 8 and not (tmp_path / str(task)).exists():
            (tmp_path / str(task)).touch()
            os.kill(os.getpid(), signal.SIGKILL)
        return task

    assert list(in_order(TASKS, unlucky, FORKS)) == list(TASKS)


def test_what_kills_every_worker_is_done_here() -> None:
    here = os.getpid()

    def deadly(task: int) -> int:
        if task == 8 and os.getpid() != here:
            os.kill(os.getpid(), signal.SIGKILL)
        return task

    assert list(in_order(TASKS, deadly, FORKS)) == list(TASKS)


@needs_proc
def test_no_worker_outlives_the_loop() -> None:
    before = children()
    found = in_order(TASKS, lambda task: bytes(1_000_000), FORKS)
    next(found)
    assert len(children()) == len(before) + 3
    assert isinstance(found, Iterator)
    found.close()  # type: ignore[attr-defined]
    assert children() == before


@needs_proc
@pytest.mark.parametrize(("blow", "whom"), [(signal.SIGINT, os.killpg), (signal.SIGKILL, os.kill)])
def test_no_worker_outlives_its_parent(blow: signal.Signals, whom: Callable[[int, int], None]) -> None:
    """Ctrl-C goes to the whole group; a parent that is killed can tell nobody."""
    script = (
        # a shell's background job hands on that Ctrl-C is ignored
        "import signal, time; signal.signal(signal.SIGINT, signal.default_int_handler);"
        "from turnwright.exporters.workers import in_order, Processes; print('ready', flush=True);"
        "list(in_order(range(9), lambda task: time.sleep(30), Processes(2, 'fork')))"
    )
    started = subprocess.Popen(
        [sys.executable, "-c", script], stdout=subprocess.PIPE, stderr=subprocess.PIPE, start_new_session=True
    )
    with started:
        assert started.stdout is not None
        started.stdout.readline()
        time.sleep(0.5)
        whom(started.pid, blow)
        _, said = started.communicate(timeout=20)
    assert said.count(b"Traceback") == (blow == signal.SIGINT)  # of the parent alone
    for _ in range(50):
        try:
            os.killpg(started.pid, 0)
        except ProcessLookupError:
            return
        time.sleep(0.1)
    pytest.fail("a worker is left")


@needs_proc
def test_a_parent_that_is_stopped_while_it_starts_its_workers_ends_with_them() -> None:
    script = (
        "from turnwright.exporters.workers import in_order, Processes, processes; real, started = "
        "processes.ProcessExecutor._started, []\n"
        "def start(self):\n    if started: raise KeyboardInterrupt\n    started.append(1); return real(self)\n"
        "processes.ProcessExecutor._started = start; list(in_order(range(9), str, Processes(2, 'fork')))"
    )
    ended = subprocess.run([sys.executable, "-c", script], capture_output=True, timeout=20, check=False)
    assert ended.returncode != 0 and b"KeyboardInterrupt" in ended.stderr


# --- packs -----------------------------------------------------------------------------------------


def drawn(items: int, workers: Workers, seed: int = 1) -> Adapted:
    """A pack of one question, with how it is made."""
    settings = Settings(variants=items, kinds=("number",), seed=seed)
    recipe = Recipe(BANK, ("over-the-top.pull-at-the-top",), settings)
    making = Making(recipe, qti30.NAME, PLAIN)
    return replace(making.adapted(), chosen=workers, making=making)


@pytest.fixture(autouse=True)
def small_blocks(monkeypatch: pytest.MonkeyPatch) -> None:
    """Packs of three blocks of items and a bit."""
    monkeypatch.setattr(package, "ITEMS", 20)
    monkeypatch.setattr(proving, "ITEMS", 20)


def written(adapted: Adapted, folder: Path, heard: list[int] | None = None) -> Path:
    target = folder / "fair.zip"
    qti30.write(adapted, target, lambda _: None, (heard if heard is not None else []).append)
    return target


@pytest.fixture(scope="module")
def alone(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """The pack as this process writes it."""
    return written(drawn(70, ALONE), tmp_path_factory.mktemp("alone")).read_bytes()


@pytest.mark.parametrize("workers", [FORKS, SPAWNED], ids=["fork", "spawn"])
def test_a_pack_is_the_same_whoever_writes_and_proves_it(workers: Workers, alone: bytes, tmp_path: Path) -> None:
    heard: list[int] = []
    adapted = drawn(70, workers)
    target = written(adapted, tmp_path, heard)
    assert target.read_bytes() == alone
    assert heard == list(range(1, 71))
    report = prove(target, ToProve(adapted))
    assert (report.ok, report.items, report.marked) == (True, 70, 70)
    (section,) = adapted.pack.sections
    assert report.figures == len(section.figures) + len(section.plots)


@pytest.mark.parametrize("workers", [ALONE, FORKS], ids=["alone", "fork"])
def test_findings_are_the_same_and_in_the_same_order(workers: Workers, tmp_path: Path) -> None:
    """Other items are expected than were written, so that nearly every one has a finding."""
    target = written(drawn(30, ALONE), tmp_path)
    report: Report = prove(target, ToProve(drawn(45, workers, seed=2)))
    assert len(report.findings) > 50
    in_turn = prove(target, iter(ToProve(drawn(45, ALONE, seed=2))))  # which can be asked in their order only
    assert report == in_turn


# --- a cluster -------------------------------------------------------------------------------------


def test_a_pack_is_the_same_from_a_cluster(alone: bytes, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Real scheduler and worker processes, one of them killed, are a trial of tests/endurance."""
    distributed = pytest.importorskip("distributed", reason="the extra 'cluster' is not installed")
    with (
        distributed.LocalCluster(n_workers=2, processes=False, dashboard_address=":0") as local,
        Cluster(local.scheduler_address) as workers,
    ):
        adapted = drawn(70, workers)
        target = written(adapted, tmp_path)
        assert target.read_bytes() == alone
        assert prove(target, ToProve(adapted)).ok
        for module, version in ((portable, "2"), (cluster, "1")):
            monkeypatch.setattr(module, "tools", lambda version=version: {"sympy": version})
        monkeypatch.setattr(cluster, "luggage", lambda _: portable.Luggage(pickle.dumps(({"sympy": "1"}, None))))
        with pytest.raises(ClusterError, match=r"other versions, which may give other bytes \(sympy 2, here 1\)"):
            list(in_order(TASKS[:1], squared, workers, partial(Adding, 1)))


def test_leaving_a_cluster_while_a_result_is_under_way_prints_nothing(caplog: pytest.LogCaptureFixture) -> None:
    """The client's loop logs what it was fetching when its connection closed, with a traceback."""
    distributed = pytest.importorskip("distributed", reason="the extra 'cluster' is not installed")
    ended = threading.Event()

    async def under_way() -> None:
        ended.set()
        raise ConnectionError("stream is closed")

    with (
        distributed.LocalCluster(n_workers=1, processes=False, dashboard_address=":0") as local,
        Cluster(local.scheduler_address) as workers,
    ):
        loop = workers._client.loop
        loop.add_callback(under_way)
        assert ended.wait(60)
        after = threading.Event()
        loop.add_callback(after.set)
        assert after.wait(10)
    assert not [each for each in caplog.records if each.name == "tornado.application"]


def test_a_cluster_that_does_not_answer_is_told() -> None:
    pytest.importorskip("distributed", reason="the extra 'cluster' is not installed")
    with pytest.raises(ClusterError, match="no scheduler answers there"), Cluster("tcp://127.0.0.1:9", patience=0.5):
        pass
