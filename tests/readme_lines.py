"""Every command that the README prints, run as a newcomer would: ``python -m tests.readme_lines``.

In a copy of the checkout, in the order of the page, in the activated environment of this Python. A synopsis of the
table of commands (``turnwright show QUESTION``) is run with something real in its gaps, unless the page prints the
command with real arguments elsewhere. The two lines that install are run by ``.ci/run`` itself.
"""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[1]
LEFT_OUT = shutil.ignore_patterns(".git", ".venv*", "build", "*.egg-info", "__pycache__", ".*_cache")
LINE = re.compile(r"(?m)^((?:turnwright|python -m|dask) .*)$|`(turnwright [^`]+)`")
GAP = re.compile(r"\[[A-Z]+\]|\b[A-Z]{3,}\b")
# something real for what the synopses leave open
REAL = {
    "check [FILES]": "check bank/problems/flat-curve/flat-bend.yaml",
    "solve QUESTION": "solve over-the-top.least-speed",
    "mistakes [QUESTIONS]": "mistakes over-the-top",
    "demo QUESTION": "demo over-the-top.least-speed",
    "diff OLD NEW": "diff bank/problems bank/problems",
    "merge FIRST SECOND --out FOLDER": "merge bank/problems/flat-curve bank/problems/turntable --out merged",
    "prove PACK": "prove turnwright-practice.zip",
    "--out FOLDER": "--out packs",
    "prove FILE": "prove bends.zip",
}
STAYS_UP = ("dask scheduler", "dask worker")  # each in a terminal of its own
STOPPED_AFTER = {"turnwright pool": 60}  # seconds: a million items; the page says that it may be stopped
FIRST_WORDS = 20  # seconds until those that stay up are up


def main() -> int:
    """Run them all; 1 if one failed, with what it printed."""
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder) / "checkout"
        shutil.copytree(ROOT, place, ignore=LEFT_OUT)
        page = (place / "README.md").read_text("utf-8")
        problem = next(text for text in re.findall(r"```yaml\n(.*?)```", page, re.S) if "\nid: " in text)
        (place / "my-problem.yaml").write_text(problem, "utf-8")
        up: list[subprocess.Popen[bytes]] = []
        try:
            return max(_run(line, place, up) for line in ("turnwright pack", *lines(page)))
        finally:
            for each in up:
                os.killpg(each.pid, signal.SIGTERM)


def lines(page: str) -> Iterator[str]:
    """The commands in the order of the page, each once, without gaps."""
    printed = [block or inline for block, inline in LINE.findall(page) if "..." not in (block or inline)]
    whole = {_command(each) for each in printed if not GAP.search(each)}
    done = set()
    for each in printed:
        line = _filled(each)
        if GAP.search(line) and _command(line) in whole:
            continue  # printed with real arguments elsewhere
        if line not in done:
            done.add(line)
            yield line


def _command(line: str) -> str:
    return " ".join(line.split()[:2])


def _filled(line: str) -> str:
    for gap, real in REAL.items():
        line = line.replace(gap, real)
    return line


def _run(line: str, place: Path, up: list[subprocess.Popen[bytes]]) -> int:
    activate = Path(sys.executable).parent / "activate"
    home = {"HOME": str(place), "XDG_DATA_HOME": str(place / "data"), "XDG_CONFIG_HOME": str(place / "config")}
    began = time.monotonic()
    with tempfile.TemporaryFile() as told:
        started = subprocess.Popen(
            ["bash", "-euo", "pipefail", "-c", f". '{activate}'; {line}"],
            cwd=place, env=os.environ | home, stdout=told, stderr=told, start_new_session=True,
        )  # fmt: skip
        if line.startswith(STAYS_UP):
            up.append(started)
            time.sleep(FIRST_WORDS)
            wrong = started.poll() is not None
        else:
            wrong = _ends_wrongly(started, STOPPED_AFTER.get(_command(line)))
        took = time.monotonic() - began
        print(f"{'FAILED' if wrong else 'ran'} ({took:.0f} s): {line}", flush=True)
        told.seek(0)
        said = told.read().decode(errors="replace")
        if wrong or "Traceback" in said:
            print(said[-3000:])
            return 1
    return 0


def _ends_wrongly(started: subprocess.Popen[bytes], stopped_after: int | None) -> bool:
    """Whether it fails; who is stopped as the page says ends as one who was told to."""
    try:
        return started.wait(stopped_after) != 0
    except subprocess.TimeoutExpired:
        os.killpg(started.pid, signal.SIGTERM)
        return started.wait(60) != 128 + signal.SIGTERM


if __name__ == "__main__":
    sys.exit(main())
