"""The same bytes from every Python that is found here, each with what a newcomer's pip installs for it."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any, TypeAlias

from tests.endurance.same import FIRST, Place, differing, made, told

ROOT = Path(__file__).parents[2]
Version: TypeAlias = tuple[int, int, int, str]

OLDEST = (3, 11)
ASKED = "import json, sys; print(json.dumps([*sys.version_info[:3], sys.version_info.releaselevel]))"


def run(is_long: bool) -> Iterator[str]:
    """Raises where a Python makes other files than this one, or where Turnwright can't be installed in it.

    A Python that is not released yet is passed over where its libraries can't be had. ``is_long`` changes nothing.
    """
    found = pythons()
    yield f"found: {', '.join(map(_name, found))}"
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        first = made(FIRST, root)
        yield f"compared with: {told(first['versions'])}"
        wheel = _wheel(root)
        with ThreadPoolExecutor(2) as pool:
            others = {each: path for each, path in found.items() if each[:3] != sys.version_info[:3]}
            results = pool.map(lambda each: _made_by(*each, root, wheel), others.items())
            for version, other in zip(others, results, strict=True):
                if other is None:
                    yield f"Python {_name(version)}: passed over, its libraries can't be had yet"
                    continue
                if wrong := differing(first, other):
                    raise AssertionError(f"Python {_name(version)}: other bytes in {', '.join(wrong)}")
                yield f"same {len(other['made'])} files: {told(other['versions'])}"


def pythons() -> dict[Version, Path]:
    """The newest of each minor version from 3.11 on, on the path or among those that pyenv keeps."""
    folders = [Path(each) for each in os.environ.get("PATH", "").split(os.pathsep) if each]
    kept = Path(os.environ.get("PYENV_ROOT", Path.home() / ".pyenv")) / "versions"
    folders += [each / "bin" for each in sorted(kept.glob("3.*"))]
    found: dict[tuple[int, ...], tuple[Version, Path]] = {}
    for path in (each for folder in folders if folder.is_dir() for each in sorted(folder.glob("python3.*"))):
        version = _version(path) if re.fullmatch(r"python3\.\d+", path.name) else None
        if version and version[:2] >= OLDEST and version > found.get(version[:2], (version[:2], path))[0]:
            found[version[:2]] = version, path
    return dict(found[minor] for minor in sorted(found))


def _version(python: Path) -> Version | None:
    """What a program says of itself; None where it does not start, such as a signpost to a version that is not set."""
    try:
        done = subprocess.run([python, "-c", ASKED], capture_output=True, check=True, timeout=20)
    except (OSError, subprocess.SubprocessError):
        return None
    major, minor, micro, level = json.loads(done.stdout)
    return major, minor, micro, level


def _name(version: Version) -> str:
    return ".".join(map(str, version[:3])) + ("" if version[3] == "final" else f" ({version[3]})")


def _wheel(root: Path) -> Path:
    """Turnwright as this checkout has it, built apart from the checkout's own build folder."""
    subprocess.run(
        [sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "-w", str(root / "wheel"), str(_copy(root))],
        check=True,
    )
    return next((root / "wheel").glob("*.whl"))


def _copy(root: Path) -> Path:
    """The files of the checkout that a build reads, so that nothing is left in the checkout."""
    copy = root / "source"
    copy.mkdir()
    for name in ("pyproject.toml", "README.md", "LICENSE", "bank", "exporters", "schemas"):
        subprocess.run(["cp", "-r", str(ROOT / name), str(copy)], check=True)
    return copy


def _made_by(version: Version, path: Path, root: Path, wheel: Path) -> dict[str, Any] | None:
    """What this Python makes in an environment of its own; None for an unreleased one without libraries."""
    folder = root / f"python-{_name(version)}"
    subprocess.run([path, "-m", "venv", folder], check=True, capture_output=True)
    python = folder / "bin" / "python"
    command = [python, "-m", "pip", "install", "-q", "--only-binary", ":all:", wheel]
    done = subprocess.run(command, check=False, capture_output=True, text=True)
    if done.returncode and version[3] == "final":
        raise AssertionError(f"Python {_name(version)}: {done.stderr[-2000:]}")
    return None if done.returncode else made(Place(f"Python {_name(version)}", FIRST.variables), root, str(python))
