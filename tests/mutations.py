"""Small changes of the code that no test of its rooms notices: run by hand, to find where a test is missing.

``python -m tests.mutations mechanics --most 40 --seed 1`` makes 40 of the changes that cosmic-ray knows of, one after
the other, in a copy of the checkout, runs the tests of the room after each, and prints those that passed all of them.
The tests of a room are in ``ROOMS``; ``--tests`` names others. It needs ``cosmic-ray`` on the path (``pip install
cosmic-ray`` in an environment of its own; DEVELOPERS.md says why it is this one), and is no part of CI: a change that
changes nothing (a bound that is never met, a name that only speeds up) passes as well, so a person reads what is left.
"""

from __future__ import annotations

import argparse
import ast
import difflib
import json
import os
import random
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

ROOT = Path(__file__).parents[1]
# by room: its code, and the tests that should notice
ROOMS: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "mechanics": (
        ("bank/mechanics",),
        (*(f"tests/bank/mechanics/test_{each}.py" for each in ("branches", "built_in", "interval", "names")),
         "tests/bank/solving/test_solution.py"),
    ),
    "variants": (("bank/variants",), ("tests/bank/variants", "tests/bank/model")),
    "keys": (
        ("bank/questions/direction_keys.py", "bank/questions/rank_keys.py", "bank/questions/change_keys.py"),
        ("tests/bank/questions",),
    ),
    "papers": (("exporters/paper/keys.py", "exporters/paper/marks.py"), ("tests/exporters/paper",)),
    "forms": (("bank/forms",), ("tests/bank/forms",)),
    "analysis": (("bank/analysis",), ("tests/bank/analysis", "tests/exporters/results")),
    "storage": (("bank/storage",), ("tests/bank/storage",)),
}  # fmt: skip
KEEPING = ("cache", "lru_cache")  # decorators that change nothing but how often something is worked out
PATIENCE = 600.0  # seconds for the tests of one change


@dataclass(frozen=True)
class Mutation:
    """One change, as cosmic-ray names it."""

    module: str
    operator: str
    occurrence: int
    line: int

    def __str__(self) -> str:
        return f"{self.module}:{self.line}: {self.operator.rpartition('/')[2]}"


def main() -> int:
    """Looks for changes that pass; 1 where there are any."""
    parser = argparse.ArgumentParser(description="Changes of the code that no test of its rooms notices.")
    parser.add_argument("room", choices=ROOMS)
    parser.add_argument("--most", type=int, default=40, help="how many changes are tried")
    parser.add_argument("--seed", type=int, default=1, help="which of them")
    parser.add_argument("--tests", nargs="*", default=None, help="tests to run in place of those of the room")
    given = parser.parse_args()
    if not shutil.which("cosmic-ray"):
        parser.error("cosmic-ray is not on the path; install it in an environment of its own and add that to PATH")
    modules, tests = ROOMS[given.room]
    with tempfile.TemporaryDirectory() as folder:
        copy = _copied(Path(folder))
        wanted = given.tests or tests
        if not _passes(copy, wanted):
            parser.error(f"the tests fail without any change: {' '.join(wanted)}")
        found = [each for module in modules for each in _mutations(copy, module)]
        chosen = sorted(random.Random(given.seed).sample(found, min(given.most, len(found))), key=str)
        passed = [each for each in chosen if _survives(copy, each, wanted)]
    print(f"{len(passed)} of {len(chosen)} changes passed ({len(found)} are possible)")
    return 1 if passed else 0


def _copied(folder: Path) -> Path:
    """A copy of the files under version control, importable as ``turnwright`` from ``folder``."""
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, check=True, capture_output=True, text=True)
    copy = folder / "turnwright"
    for name in filter(None, listed.stdout.split("\0")):
        (copy / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy2(ROOT / name, copy / name)
    return copy


def _mutations(copy: Path, module: str) -> Iterator[Mutation]:
    session, config = copy.parent / "session.sqlite", copy.parent / "session.toml"
    session.unlink(missing_ok=True)
    config.write_text(
        f'[cosmic-ray]\nmodule-path = "{module}"\ntimeout = {PATIENCE}\nexcluded-modules = []\n'
        'test-command = "false"\n[cosmic-ray.distributor]\nname = "local"\n',
        "utf-8",
    )
    subprocess.run(["cosmic-ray", "init", config, session], cwd=copy, check=True)
    told = subprocess.run(["cosmic-ray", "dump", session], cwd=copy, check=True, capture_output=True, text=True)
    for line in told.stdout.splitlines():
        work, _ = json.loads(line)
        for each in work["mutations"]:
            place = tuple(each["start_pos"])
            if not any(first <= place < last for first, last in _idle_spans(copy / each["module_path"])):
                yield Mutation(each["module_path"], each["operator_name"], each["occurrence"], place[0])


@cache
def _idle_spans(path: Path) -> tuple[tuple[tuple[int, int], tuple[int, int]], ...]:
    """From which line and column to which no change can be noticed: annotations, and decorators that only keep.

    A decorator begins with its sign, one column before its name.
    """
    found: list[ast.expr] = []
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.arg | ast.AnnAssign) and node.annotation:
            found.append(node.annotation)
        if isinstance(node, ast.FunctionDef):
            found += [node.returns] if node.returns else []
            found += [each for each in node.decorator_list if ast.unparse(each).partition("(")[0] in KEEPING]
    return tuple(
        ((each.lineno, max(each.col_offset - 1, 0)), (each.end_lineno or each.lineno, each.end_col_offset or 0))
        for each in found
    )


def _survives(copy: Path, mutation: Mutation, tests: Sequence[str]) -> bool:
    """Whether all tests pass with the change, which is taken back; then it is printed."""
    path = copy / mutation.module
    before = path.read_text("utf-8")
    command = ["cosmic-ray", "apply", mutation.module, mutation.operator, str(mutation.occurrence)]
    try:
        subprocess.run(command, cwd=copy, check=True, capture_output=True)
        after = path.read_text("utf-8")
        if after == before or not _passes(copy, tests):
            return False
    finally:
        path.write_text(before, "utf-8")
    print(mutation)
    sys.stdout.writelines(list(difflib.unified_diff(before.splitlines(True), after.splitlines(True), n=0))[2:])
    sys.stdout.flush()
    return True


def _passes(copy: Path, tests: Sequence[str]) -> bool:
    python = [sys.executable, "-B", "-m", "pytest", "-q", "-x", "-n0", "-p", "no:cacheprovider", *tests]
    around = {**os.environ, "PYTHONPATH": f"{copy.parent}", "TURNWRIGHT_CACHE": "off"}
    try:
        done = subprocess.run(python, check=False, cwd=copy, env=around, capture_output=True, timeout=PATIENCE)
    except subprocess.TimeoutExpired:
        return False
    return done.returncode == 0


if __name__ == "__main__":
    sys.exit(main())
