"""Hostile files at the real command: it ends by itself, in bounds, with a plain message, and leaves nothing behind.

Each input goes to a process of its own, which runs the command as the program does. Bounds: processor time by the
budget of a file (see ``turnwright.bank.limits.budget``) and what reading takes, memory by the worker's share.
"""

from __future__ import annotations

import os
import random
import resource
import signal
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from turnwright.bank.limits import budget, worker

from tests import hostile_files
from tests.hostile_files import Files, written

SECONDS = 0.3  # of a step of a question
SHORT_RUN, LONG_RUN = 36.0, 900.0
MOST_SECONDS = (2 * budget.OF_A_FILE + 4) * SECONDS + 12  # two shares: of workers, and of the process itself
MOST_MEMORY = 1_500_000  # kB
STATUSES = (0, 1, 2)
COMMANDS = (
    ("check", "bank"), ("list", "--bank", "bank"), ("pack", "--bank", "bank", "--out", "out.zip", "--variants", "2"),
    ("mistakes", "--bank", "bank"), ("book", "--bank", "bank", "--out", "out.html"), ("diff", "bank", "bank"),
    ("show", "--bank", "bank", "a-stranger.question-0"), ("solve", "--bank", "bank", "a-stranger.question-0"),
    ("paper", "--bank", "bank", "--out", "out.pdf"), ("merge", "bank", "bank", "--out", "out"),
)  # fmt: skip


@dataclass(frozen=True)
class Trial:
    """One command on some files."""

    kind: str
    files: Files
    arguments: tuple[str, ...]


@dataclass(frozen=True)
class Outcome:
    """How the process ended, what it took (its workers included), and what it said."""

    status: int
    seconds: float
    memory: int
    said: str
    left: tuple[str, ...]


def run(is_long: bool) -> Iterator[str]:
    """One line for each kind of input, and what the worst of each took."""
    import turnwright.exporters.running.packing  # noqa: F401  what every process needs is loaded once
    from turnwright.bank.reading.files import read_bank, shipped_files

    read_bank(shipped_files()[:1])

    end = time.monotonic() + (LONG_RUN if is_long else SHORT_RUN)
    count: Counter[str] = Counter()
    ended = 0
    statuses: Counter[int] = Counter()
    worst: dict[str, tuple[float, int]] = {}
    for trial in trials(random.Random(20_26)):
        if time.monotonic() > end:
            break
        found = outcome(trial)
        refuse(trial, found)
        count[trial.kind] += 1
        statuses[found.status] += 1
        ended += "of processor time" in found.said
        before = worst.get(trial.kind, (0.0, 0))
        worst[trial.kind] = max(before[0], found.seconds), max(before[1], found.memory)
    for kind, number in sorted(count.items()):
        seconds, memory = worst[kind]
        yield f"{number} inputs of the kind {kind}: at most {seconds:.1f} s of processor time, {memory // 1000} MB"
    if not ended or not statuses[0]:
        raise AssertionError(
            "nothing was ended for its time, or nothing was taken: the inputs are not what they should be"
        )
    told = ", ".join(f"{number} ended with {status}" for status, number in sorted(statuses.items()))
    yield f"{count.total()} inputs, with {SECONDS} s for a step: {told}; {ended} over their time; nothing left behind"


# --- what is tried ------------------------------------------------------------------------------


def trials(chance: random.Random) -> Iterator[Trial]:
    """Trials without end, the kinds in turn."""
    kinds: tuple[Callable[[random.Random], Trial], ...] = (
        _of("systems", lambda chance: written(hostile_files.systems(chance))),
        _of("documents", hostile_files.documents, most=1),
        _of("formulas", lambda chance: written(hostile_files.formulas(chance)), most=2),
        _manifest,
        _results,
        _pack,
        _of("markup", lambda _: written(hostile_files.with_markup(_plain()))),
        _of("invisible characters", lambda chance: written(_with_hidden(chance)), most=1),
        _names,
        _of("grids", lambda chance: written(hostile_files.grids(chance))),
        _of("mistakes", lambda chance: written(hostile_files.mistakes(chance))),
    )
    while True:
        for kind in kinds:
            yield kind(chance)


def _of(kind: str, make: Callable[[random.Random], bytes], most: int = len(COMMANDS)) -> Callable[..., Trial]:
    """Trials of a problem file under the first so many commands."""
    return lambda chance: Trial(kind, {"bank/a.yaml": make(chance)}, chance.choice(COMMANDS[:most]))


def _plain() -> dict[str, Any]:
    told = {"thinking": "I think so.", "feedback": "Look again.", "source": "common practice, no source"}
    more = {"caution": "Mind.", "mistakes": {"own": {**told, "edit": {"answer": "2*x"}}}}
    return hostile_files.problem(["x0 = a*b/c"], values=9, more=more)


def _with_hidden(chance: random.Random) -> dict[str, Any]:
    def put(_: str, text: str) -> str:
        return text + chance.choice(("", "", chance.choice(hostile_files.HIDDEN)))

    data = _plain()
    list(hostile_files.texts(data, put))
    return data


def _manifest(chance: random.Random) -> Trial:
    return Trial("manifests", {"m.json": hostile_files.manifests(chance)}, ("form", "--check", "m.json"))


def _results(chance: random.Random) -> Trial:
    files = hostile_files.results(chance)
    manifest = (Path(__file__).parent / "manifest.json").read_bytes()
    return Trial("results", {**files, "m.json": manifest}, ("results", *files, "--pack", "m.json"))


def _pack(chance: random.Random) -> Trial:
    return Trial("packs", {"p.zip": hostile_files.zipped(chance)}, ("prove", "p.zip"))


def _names(chance: random.Random) -> Trial:
    name = chance.choice(
        ("\x1b[31mzz\nb.yaml", "-rf.yaml", "\u202elmay.yaml", "CON.yaml", "a" * 200 + ".yaml", "..yaml")
    )
    return Trial("names", {f"bank/{name}": hostile_files.documents(chance)}, ("check", "bank"))


# --- one trial ------------------------------------------------------------------------------------


def outcome(trial: Trial) -> Outcome:
    """What became of a trial in a process of its own; its working folder and its temporary one are new."""
    with tempfile.TemporaryDirectory() as folder:
        place, temporary, said = Path(folder, "here"), Path(folder, "tmp"), Path(folder, "said")
        for each in (place, temporary):
            each.mkdir()
        for name, content in trial.files.items():
            (place / name).parent.mkdir(exist_ok=True)
            (place / name).write_bytes(content)
        before = set(place.rglob("*"))
        process = os.fork()
        if not process:
            _command(trial.arguments, place, temporary, said)
        _, status, used = os.wait4(process, 0)
        _wait_for_group(process)
        made = {each for each in place.rglob("*") if each not in before}
        odd = sorted(each.name for each in (*made, *temporary.rglob("*")) if not each.name.startswith("out"))
        left = [name for name in odd if not any(parent.name == "out" for parent in (place / name).parents)]
        inside_out = {each.name for each in (place / "out").rglob("*")} if (place / "out").is_dir() else set()
        return Outcome(
            os.waitstatus_to_exitcode(status),
            used.ru_utime + used.ru_stime,
            used.ru_maxrss,
            said.read_text("utf-8", "replace"),
            tuple(name for name in left if name not in inside_out),
        )


def _command(arguments: tuple[str, ...], place: Path, temporary: Path, said: Path) -> None:
    """Runs the command and never comes back."""
    status = 99
    try:
        os.setsid()
        output = os.open(said, os.O_WRONLY | os.O_CREAT)
        for stream in (1, 2):
            os.dup2(output, stream)
        os.chdir(place)
        os.environ |= {budget.SECONDS_VARIABLE: str(SECONDS), "TMPDIR": str(temporary)}
        os.environ["TURNWRIGHT_CACHE"] = str(place.parent / "cache")
        tempfile.tempdir = None
        seconds = round(2 * MOST_SECONDS)
        resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds))
        from turnwright.bank.command.main import run as run_command

        status = run_command(list(arguments))
        sys.stdout.flush()
        sys.stderr.flush()
    except BaseException:
        traceback.print_exc()
        sys.stderr.flush()
    finally:
        worker.end()  # as where the program ends by itself
        os._exit(status)


def _wait_for_group(leader: int) -> None:
    """Raise where a worker outlives its command by a second."""
    for _ in range(100):
        try:
            os.killpg(leader, 0)
        except (ProcessLookupError, PermissionError):
            return
        time.sleep(0.01)
    os.killpg(leader, signal.SIGKILL)
    raise AssertionError("a worker was left behind")


def refuse(trial: Trial, found: Outcome) -> None:
    """Raise where a trial did not end as it should."""
    wrong = [
        name
        for name, is_wrong in (
            (f"ended with {found.status}", found.status not in STATUSES),
            ("a traceback", "Traceback" in found.said),
            (f"{found.seconds:.1f} s", found.seconds > MOST_SECONDS),
            (f"{found.memory} kB", found.memory > MOST_MEMORY),
            (
                "a letter that a terminal acts on",
                any(not each.isprintable() and each not in "\n\t" for each in found.said),
            ),
            (f"left {found.left}", bool(found.left)),
            ("no word", not found.said.strip()),
        )
        if is_wrong
    ]
    if wrong:
        shown = "\n".join(f"{name}: {content[:2000]!r}" for name, content in trial.files.items())
        raise AssertionError(
            f"{trial.kind}, {' '.join(trial.arguments)}: {', '.join(wrong)}\n{found.said[-3000:]}\n{shown}"
        )
