"""The trial by made-up input: every door under atheris for a fixed time, each in a process of its own.

A finding ends the trial; its input is left in a temporary folder, to be tried alone with
``python -m tests.fuzz TARGET FILE``, and goes into ``tests/fuzz/found`` once it is mended.
"""

from __future__ import annotations

import base64
import importlib.util
import os
import re
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from tests.fuzz import TARGETS
from tests.fuzz.__main__ import MISSING
from tests.fuzz.bounds import HERE

SHORT, LONG = 12, 300  # seconds for each target, reading the corpus included
SEED = 5  # of the short form, so that CI starts alike on every run
GRACE = 180
SHOWN = 400  # bytes of an input that are printed
_STATE = re.compile(
    r"^#(\d+)\s+\w+\s+cov: (\d+) ft: (\d+) corp: (\d+)/(\S+) .*?exec/s: (\d+) rss: (\d+)Mb", re.MULTILINE
)
_RAISED = re.compile(r"Uncaught Python exception: ===\n(.*?)\n\n", re.DOTALL)
_ENDED = re.compile(r"^==\d+== ERROR: (.*)$", re.MULTILINE)


class FoundError(Exception):
    """An input that broke a promise."""


@dataclass(frozen=True)
class State:
    """What libFuzzer tells of a run: inputs tried, branches and features reached, inputs kept."""

    inputs: int
    branches: int
    features: int
    kept: int
    size: str
    rate: int
    memory: int

    def __str__(self) -> str:
        return (
            f"{self.inputs:,} inputs, {self.rate:,} a second; {self.branches:,} branches, {self.features:,} features "
            f"reached; {self.kept} inputs kept ({self.size}); peak memory {self.memory} MB; nothing found"
        )


def run(is_long: bool) -> Iterator[str]:
    """A line for each target. Raises FoundError for an input that broke something, with the place of that input."""
    if importlib.util.find_spec("atheris") is None:
        raise FoundError(MISSING)
    for target in TARGETS:
        with tempfile.TemporaryDirectory(prefix="fuzzing-") as folder:
            yield f"{target}: {_run(target, LONG if is_long else SHORT, Path(folder), 0 if is_long else SEED)}"


def _run(target: str, seconds: int, folder: Path, seed: int) -> State:
    found = Path(tempfile.mkdtemp(prefix=f"found-{target}-"))
    grown = folder / "grown"
    grown.mkdir()
    options = [f"-max_total_time={seconds}", f"-artifact_prefix={found}/", f"-seed={seed}", "-print_final_stats=1"]
    done = subprocess.run(
        [sys.executable, "-m", "tests.fuzz", target, str(grown), *options],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,  # what Python raised is on one of them, what libFuzzer makes of it on the other
        encoding="utf-8",
        errors="replace",
        timeout=seconds + GRACE,
        check=False,
        cwd=HERE.parent.parent,
        env={**os.environ, "TMPDIR": str(folder)},
    )
    if done.returncode:
        raise FoundError(_told(target, done.stdout, sorted(found.iterdir())))
    found.rmdir()
    *_, last = _STATE.findall(done.stdout)
    inputs, branches, features, kept, size, rate, memory = last
    return State(int(inputs), int(branches), int(features), int(kept), size, int(rate), int(memory))


def _told(target: str, told: str, inputs: list[Path]) -> str:
    """What was found, by which input."""
    wrong = next((found[1] for found in (_RAISED.search(told), _ENDED.search(told)) if found), told)
    lines = [f"{target}: {wrong.strip()[-2000:]}"]
    for path in inputs:
        data = path.read_bytes()
        lines.append(f"the input of {len(data)} bytes is kept as {path}")
        if len(data) <= SHOWN:
            lines.append(f"in Base64: {base64.b64encode(data).decode()}")
    return "\n".join(lines)
