"""Real runs of the program, each in a process group of its own, that trials kill, starve and stop; Linux only."""

from __future__ import annotations

import os
import re
import secrets
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from turnwright.bank.reading.files import shipped_files
from turnwright.bank.storage.turns import PART

from tests.bank.forms.test_assessment import SMALL
from tests.bank.problems import written

START = "from turnwright.bank.command.main import main; main()"
OVER = 15.0  # seconds in which workers without their parent have to end
STOPPED = 600.0


@dataclass(frozen=True)
class Room:
    """A folder with a small bank, and a solution cache; the processes started here can be told from all others."""

    folder: Path
    token: str = field(default_factory=lambda: secrets.token_hex(8))
    more: Mapping[str, str] = field(default_factory=dict)

    @property
    def environment(self) -> dict[str, str]:
        """The surroundings of a run; compiled modules are kept, so that a run starts soon."""
        kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
        own = {"TURNWRIGHT_CACHE": str(self.folder / "cache"), "TURNWRIGHT_TRIAL": self.token}
        return {**kept, "PYTHONPYCACHEPREFIX": str(self.folder / "compiled"), **own, **self.more}

    def start(self, *arguments: str, **more: Any) -> subprocess.Popen[bytes]:
        """A run of the program with these arguments."""
        command = [*more.pop("before", ()), sys.executable, "-c", more.pop("code", START), *arguments]
        return subprocess.Popen(
            command, cwd=self.folder, env=self.environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
            stdin=subprocess.DEVNULL, start_new_session=True, **more,
        )  # fmt: skip

    def run(self, *arguments: str, **more: Any) -> Ended:
        """How a run ends that nobody disturbs."""
        return ended(self.start(*arguments, **more))

    def alive(self) -> list[int]:
        """The processes that were started here and have not ended."""
        mark = f"TURNWRIGHT_TRIAL={self.token}".encode()
        found = []
        for each in Path("/proc").glob("[0-9]*"):
            with suppress(OSError):
                if mark in (each / "environ").read_bytes().split(b"\0"):
                    found.append(int(each.name))
        return found

    def wait_until_empty(self) -> float:
        """How long it takes until all processes have ended. Raises where one does not."""
        start = time.perf_counter()
        while left := self.alive():
            assert time.perf_counter() - start < OVER, f"{len(left)} processes run on without their parent"
            time.sleep(0.01)
        return time.perf_counter() - start


@dataclass(frozen=True)
class Ended:
    """How a run ended, and what it said."""

    status: int
    out: str
    err: str

    def must_be(self, *statuses: int) -> Ended:
        """Itself. Raises where it ended otherwise, with a traceback, or with more than a sentence."""
        assert self.status in statuses, f"ended with {self.status}: {self.err}"
        assert "Traceback" not in self.err, self.err
        assert self.status <= 0 or len(self.err.strip().splitlines()) == 1, self.err
        return self


def ended(process: subprocess.Popen[bytes]) -> Ended:
    """How a run ends."""
    out, err = process.communicate(timeout=STOPPED)
    return Ended(process.returncode, out.decode(), err.decode())


def room(folder: Path) -> Room:
    """A room with one problem for long packs, and the three families of the small blueprint."""
    written(folder)
    for path in shipped_files():
        if path.parent.name in ("flat-curve", "wall-ride", "centrifuge"):
            place = folder / "bank" / path.parent.name / path.name
            place.parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(path, place)
    (folder / "small.yaml").write_text(SMALL, "utf-8")
    made = Room(folder)
    made.run("check", "lantern.yaml", "bank").must_be(0)
    return made


def tell(process: subprocess.Popen[bytes], number: signal.Signals, *, whole: bool) -> None:
    """Sends a signal to the group of a run, or to its first process only."""
    with suppress(ProcessLookupError):
        (os.killpg if whole else os.kill)(process.pid, number)


def until_it_listens(process: subprocess.Popen[bytes]) -> None:
    """Waits until the program hears SIGTERM: before, the interpreter itself has hardly started."""
    heard = 1 << (signal.SIGTERM - 1)
    start = time.perf_counter()
    while process.poll() is None and time.perf_counter() - start < OVER:
        found = re.search(r"SigCgt:\s*([0-9a-f]+)", Path(f"/proc/{process.pid}/status").read_text())
        if found and int(found[1], 16) & heard:
            return
        time.sleep(0.01)


def end(process: subprocess.Popen[bytes], *, whole: bool) -> None:
    """Kills the group of a run, or its first process only, and waits for that."""
    tell(process, signal.SIGKILL, whole=whole)
    process.wait(timeout=STOPPED)
    for stream in (process.stdout, process.stderr):
        if stream:
            stream.close()


def parts(folder: Path) -> list[Path]:
    """Temporary folders that runs have left."""
    return [each for each in folder.rglob(".*.part") if PART.fullmatch(each.name)]


def timed(work: Callable[[], Any], prepare: Callable[[], Any]) -> float:
    """How long it takes, once it is prepared."""
    prepare()
    start = time.perf_counter()
    work()
    return time.perf_counter() - start
