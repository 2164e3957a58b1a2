"""Whole commands as a user types them: medians of processes, warm and cold, beside an empty Python and SymPy alone."""

from __future__ import annotations

import os
import re
import resource
import shutil
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

COMMAND = str(Path(sys.executable).with_name("turnwright"))
README = Path(__file__).parents[2] / "README.md"
QUESTION = "over-the-top.least-speed"
WARM, COLD = 5, 1  # runs of which the median is told
FEW, MANY = 40, 2_000  # files
BARE, SYMPY = ("python -c pass", "python -c 'import sympy'")
COMMANDS: Mapping[str, Sequence[str]] = {
    "list": ("list",),
    "show QUESTION": ("show", QUESTION),
    "solve QUESTION": ("solve", QUESTION, "--set", "r=0.9"),
    "demo QUESTION": ("demo", QUESTION),
    "mistakes QUESTION": ("mistakes", QUESTION),
    "show NOTHING": ("show", "banana"),
    "pack --format NOTHING": ("pack", "--format", "nope"),
}


@dataclass(frozen=True)
class Took:
    """Medians of seconds on the clock, and of the processors."""

    wall: float
    cpu: float


def commands(folder: Path, files: int = MANY) -> None:
    """One line for each command; then those for a bank of many files against one of few."""
    print(f"load of the machine when this began: {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores")
    bare = median((sys.executable, "-c", "pass"), WARM)
    print(f"{BARE}: {_told(bare)}; {SYMPY}: {_told(median((sys.executable, '-c', 'import sympy'), WARM))}")
    cache = folder / "cache"
    for name, arguments in COMMANDS.items():
        warm = _warm(arguments, cache)
        cold = median((COMMAND, *arguments), COLD, _emptied(folder / "cold"), folder / "cold")
        print(f"{name}: warm {_told(warm)}, {warm.cpu / bare.cpu:.1f} times {BARE}; cold {_told(cold)}", flush=True)
    _first_run(folder)
    _checked(folder)
    _many_files(folder, cache, files)
    print(f"load of the machine when this ended: {os.getloadavg()[0]:.1f}")


def median(
    command: Sequence[str], runs: int, prepare: Callable[[], object] = lambda: None, cache: Path | None = None
) -> Took:
    """What a process takes, of so many runs; ``prepare`` is called before each, and is not counted."""
    environment = {**os.environ, **({"TURNWRIGHT_CACHE": str(cache)} if cache else {})}
    took = []
    for _ in range(runs):
        prepare()
        before, start = _children(), time.perf_counter()
        subprocess.run(command, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False)
        took.append((time.perf_counter() - start, _children() - before))
    return Took(*(statistics.median(each) for each in zip(*took, strict=True)))


def _children() -> float:
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def _warm(arguments: Sequence[str], cache: Path) -> Took:
    median((COMMAND, *arguments), 2, cache=cache)
    return median((COMMAND, *arguments), WARM, cache=cache)


def _emptied(cache: Path) -> Callable[[], object]:
    return lambda: shutil.rmtree(cache, ignore_errors=True)


def _told(took: Took) -> str:
    unit, factor = ("ms", 1000) if took.cpu < 1 else ("s", 1)
    figures = 0 if unit == "ms" else 1
    return f"{took.wall * factor:.{figures}f} {unit} ({took.cpu * factor:.{figures}f} of processors)"


def _first_run(folder: Path) -> None:
    """``turnwright pack`` with nothing else, cold: until its first words, and to its end."""
    place = folder / "first"
    place.mkdir()
    environment = {**os.environ, "TURNWRIGHT_CACHE": str(folder / "first-cache")}
    before, start = _children(), time.perf_counter()
    with subprocess.Popen(
        (COMMAND, "pack"), cwd=place, env=environment, stderr=subprocess.PIPE, stdout=subprocess.DEVNULL
    ) as process:
        assert process.stderr is not None
        process.stderr.read(1)
        words = time.perf_counter() - start
        process.stderr.read()
    took = Took(time.perf_counter() - start, _children() - before)
    assert process.returncode == 0
    print(f"pack with nothing else, cold: first words after {words:.1f} s, done after {_told(took)}", flush=True)


def _checked(folder: Path) -> None:
    """``check`` of the whole shipped bank from cold, and of one file with a change nobody has seen."""
    whole = median((COMMAND, "check"), 1, _emptied(folder / "cold"), folder / "cold")
    path = folder / "changed.yaml"
    stamp = iter(range(100))
    text = lantern("my-problem")

    def change() -> None:
        path.write_text(f"{text}# {next(stamp)}\n", "utf-8")

    one = median((COMMAND, "check", str(path)), COLD, change, folder / "cache")
    print(f"check of the shipped bank, cold: {_told(whole)}; of one changed file: {_told(one)}", flush=True)


def lantern(name: str) -> str:
    """The problem of the README under another id."""
    (text,) = re.findall(r"```yaml\n(# yaml-language-server.*?)```", README.read_text("utf-8"), re.DOTALL)
    return re.sub(r"(?m)^id: \S+", f"id: {name}", text)


def _many_files(folder: Path, cache: Path, files: int) -> None:
    """Questions of a stranger's bank of many files against one of few, and what it takes to read them once."""
    told: dict[int, dict[str, Took]] = {}
    for number in (FEW, files):
        bank = folder / f"bank-{number}"
        bank.mkdir()
        for at in range(number):
            (bank / f"lantern-{at}.yaml").write_text(lantern(f"lantern-{at}"), "utf-8")
        named = ("lantern-7.least-speed", "--bank", str(bank))
        first = median((COMMAND, "show", *named), 1, cache=cache)
        shown = {name: _warm((name, *named), cache) for name in ("show", "list")}
        told[number] = {"first": first, **shown}
        print(
            f"a bank of {number:,} files: read for the first time {_told(first)}; then show QUESTION "
            f"{_told(shown['show'])}, list QUESTION {_told(shown['list'])}",
            flush=True,
        )
    ratios = [f"{name} {told[files][name].cpu / told[FEW][name].cpu:.1f}" for name in ("show", "list")]
    print(f"{files:,} files against {FEW}, processor time: {', '.join(ratios)}")
