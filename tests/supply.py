"""What Turnwright is built on: lowest versions, the lock of the tests, licences, and whether it is kept up.

``python -m tests.supply lowest`` prints constraints for the lowest versions that ``pyproject.toml`` admits, ``lock``
writes ``tests/locked.txt`` anew, ``as-locked`` fails where something else is installed, ``licences`` lists those of all
that is installed, ``kept-up`` the releases year by year. ``lock`` and ``kept-up`` need uv, which is no dependency.
"""

from __future__ import annotations

import argparse
import datetime
import re
import subprocess
import sys
import tempfile
import tomllib
from collections.abc import Iterator
from importlib import metadata
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from tests.licences import Licence, licence

ROOT = Path(__file__).parents[1]
LOCK = ROOT / "tests" / "locked.txt"
HEAD = "# What CI installs for the tests, exactly: written by `python -m tests.supply lock`, never by hand.\n"


def direct() -> list[Requirement]:
    """The requirements of pyproject.toml, its extras included."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    extras = project["optional-dependencies"].values()
    return [Requirement(each) for each in [*project["dependencies"], *(name for extra in extras for name in extra)]]


# --- lowest versions ------------------------------------------------------------------------------


def lowest() -> Iterator[str]:
    """A constraint for each requirement: its lower bound, exactly."""
    for each in direct():
        (bound,) = [part.version for part in each.specifier if part.operator in (">=", "==")]
        yield f"{each.name}=={bound}"


# --- the lock -------------------------------------------------------------------------------------


def write_lock() -> None:
    """Resolves anew for Python 3.11 and later on Linux; only wheels, each with its hashes, no host named."""
    command = [
        "uv", "pip", "compile", "pyproject.toml", "--all-extras", "--universal", "--python-version", "3.11",
        "--upgrade", "--generate-hashes", "--only-binary", ":all:", "--no-header", "--no-annotate", "--quiet",
    ]  # fmt: skip
    done = subprocess.run(command, cwd=ROOT, check=True, capture_output=True, text=True)
    LOCK.write_text(HEAD + done.stdout, "utf-8")


def locked() -> dict[str, list[str]]:
    """The versions of each package in the lock; several where they differ by the version of Python."""
    found: dict[str, list[str]] = {}
    for name, version in re.findall(r"^([a-zA-Z0-9._-]+)==([^\s;\\]+)", LOCK.read_text("utf-8"), re.M):
        found.setdefault(canonicalize_name(name), []).append(version)
    return found


def lock_faults() -> Iterator[str]:
    """How the lock departs from pyproject.toml, or from what a lock has to be."""
    found = locked()
    for each in direct():
        versions = found.get(canonicalize_name(each.name), [])
        if not versions or not all(each.specifier.contains(version) for version in versions):
            yield f"{each}: locked at {' and '.join(versions) or 'nothing'}"
    for entry in re.split(r"\n(?=\S)", LOCK.read_text("utf-8").removeprefix(HEAD).strip()):
        if "--hash=sha256:" not in entry:
            yield f"no hash: {entry.splitlines()[0]}"
        if "://" in entry:
            yield f"a host is named: {entry.splitlines()[0]}"


def departures() -> Iterator[str]:
    """What is installed in another version than the lock has it."""
    found = locked()
    for each in installed():
        versions = found.get(canonicalize_name(each.name), [])
        if each.version not in versions:
            yield f"{each.name} {each.version}: locked at {' or '.join(versions) or 'nothing'}"


# --- licences -------------------------------------------------------------------------------------


def installed() -> list[metadata.Distribution]:
    """What is installed for Turnwright and its extras, and what that needs in turn; itself left out."""
    found: dict[str, metadata.Distribution] = {}
    waiting = [(each.name, frozenset(each.extras)) for each in direct()]
    seen: set[tuple[str, frozenset[str]]] = set()
    while waiting:
        name, extras = waiting.pop()
        if (name, extras) in seen:
            continue
        seen.add((name, extras))
        try:
            there = metadata.distribution(name)
        except metadata.PackageNotFoundError:
            continue  # of an extra, or of a system, that is not this one's
        found[canonicalize_name(name)] = there
        for text in there.requires or ():
            needed = Requirement(text)
            if needed.marker is None or any(needed.marker.evaluate({"extra": each}) for each in ("", *extras)):
                waiting.append((needed.name, frozenset(needed.extras)))
    return [found[name] for name in sorted(found)]


def licences() -> list[tuple[str, Licence]]:
    """Each installed package with its licence, as its metadata tells it."""
    return [(f"{each.name} {each.version}", licence(each)) for each in installed()]


# --- kept up --------------------------------------------------------------------------------------


def kept_up(years: int = 3) -> Iterator[str]:
    """For each direct requirement, its newest version now and a year, two and three years ago.

    The source is the registry's dates of upload, as uv heeds them; a version that stays the same had no release since.
    """
    today = datetime.datetime.now(datetime.UTC).date()
    days = [today - datetime.timedelta(days=365 * back) for back in range(years + 1)]
    newest = [_newest(day) for day in days]
    yield f"| package | {' | '.join(map(str, days))} |"
    yield f"| --- |{' --- |' * len(days)}"
    for name in sorted(newest[0]):
        yield f"| {name} | {' | '.join(each.get(name, '') for each in newest)} |"


def _newest(day: datetime.date) -> dict[str, str]:
    names = sorted({canonicalize_name(each.name) for each in direct()})
    with tempfile.NamedTemporaryFile("w", suffix=".txt") as file:
        file.write("\n".join(names))
        file.flush()
        command = [
            "uv", "pip", "compile", file.name, "--no-deps", "--python-version", "3.13", "--no-header", "--no-annotate",
            "--quiet", "--exclude-newer", f"{day}T00:00:00Z",
        ]  # fmt: skip
        done = subprocess.run(command, check=True, capture_output=True, text=True)
    return dict(line.split("==") for line in done.stdout.splitlines() if "==" in line)


def main() -> int:
    """1 where a licence is unknown or does not go with ours, or where what is installed is not what is locked."""
    parser = argparse.ArgumentParser(prog="python -m tests.supply", description=__doc__)
    parser.add_argument("what", choices=("lowest", "lock", "as-locked", "licences", "kept-up"))
    what = parser.parse_args().what
    if what == "lock":
        write_lock()
    elif what == "as-locked":
        odd = list(departures())
        print("\n".join(odd or [f"{len(installed())} packages are installed as locked"]))
        return int(bool(odd))
    elif what == "licences":
        found = licences()
        print("\n".join(f"{'' if each.goes else 'NO: '}{name}: {each.told}" for name, each in found))
        return int(not all(each.goes for _, each in found))
    else:
        print("\n".join(lowest() if what == "lowest" else kept_up()))
    return 0


if __name__ == "__main__":
    sys.exit(main())
