"""The same bytes in every process here: hash seeds, locales, time zones, workers, caches, kinds of processors."""

from __future__ import annotations

import json
import os
import platform
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

SCRIPT = Path(__file__).with_name("same_made.py")
LOCALES = ("tr_TR", "de_DE")  # another I for i; a decimal comma
AT_ONCE = 2


@dataclass(frozen=True)
class Place:
    """Where the work is done: variables, options of Python and of the script, a cache of its own or the first's."""

    name: str
    variables: Mapping[str, str] = field(default_factory=dict)
    python: tuple[str, ...] = ()
    options: tuple[str, ...] = ()
    umask: int = 0o022
    folder: str | None = None
    is_cold: bool = True


FIRST = Place("UTC, C.UTF-8, hash seed 0, one process", {"PYTHONHASHSEED": "0", "TZ": "UTC", "LC_ALL": "C.UTF-8"})
PLACES = (
    Place(
        "C locale without UTF-8, hash seed 1, Kathmandu, 2 workers, kept cache, umask 077, at /",
        {"PYTHONHASHSEED": "1", "TZ": "Asia/Kathmandu", "LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"},
        options=("--workers", "2"), umask=0o077, folder="/", is_cold=False,
    ),
    Place(
        "another processor: no AVX in NumPy, libm and BLAS, 3 workers",
        {"OPENBLAS_CORETYPE": "Prescott", "NPY_DISABLE_CPU_FEATURES": "{features}",
         "GLIBC_TUNABLES": "glibc.cpu.hwcaps=-AVX2,-FMA,-FMA4,-AVX512F", "PYTHONHASHSEED": "77"},
        options=("--workers", "3"),
    ),
)  # fmt: skip
MORE_PLACES = (
    Place("-O, POSIX, New York", {"PYTHONHASHSEED": "4294967295", "TZ": "America/New_York", "LANG": "POSIX"}, ("-O",)),
    Place("-X dev, Apia, warnings are errors", {"TZ": "Pacific/Apia"}, ("-X", "dev", "-W", "error"), is_cold=False),
    Place("isolated, 3 workers", {"TZ": "Europe/Zurich"}, ("-I",), ("--workers", "3"), is_cold=False),
)


def run(is_long: bool) -> Iterator[str]:
    """Raises where a file differs from what the first process made."""
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        places = [*PLACES, *_locales(root)[: None if is_long else 1], *(MORE_PLACES if is_long else ())]
        first = made(FIRST, root)
        with ThreadPoolExecutor(AT_ONCE) as pool:
            for place, other in zip(places, pool.map(lambda each: made(each, root), places), strict=True):
                wrong = differing(first, other)
                if wrong:
                    raise AssertionError(f"{place.name}: other bytes in {', '.join(wrong)}")
                yield f"same bytes: {place.name}"
    yield f"{len(first['made'])} files alike in {1 + len(places)} places; {told(first['versions'])}"


def made(place: Place, root: Path, python: str = sys.executable) -> dict[str, Any]:
    """What a fresh process makes there; ``root`` holds its files and the cache that is kept."""
    folder = Path(tempfile.mkdtemp(dir=root))
    cache = folder.with_suffix(".cache") if place.is_cold and place != FIRST else root / "cache"
    kept = ("PATH", "HOME", "LD_LIBRARY_PATH", "PYTHONPATH")  # the last leads to the tree that is tried
    variables = {name: os.environ[name] for name in kept if name in os.environ}
    variables |= {"TURNWRIGHT_CACHE": str(cache), "PYTHONPYCACHEPREFIX": str(root / "compiled")}
    variables |= {name: value.format(features=_features()) for name, value in place.variables.items()}
    done = subprocess.run(
        [python, *place.python, str(SCRIPT), str(folder), *place.options],
        env=variables, cwd=place.folder or folder, umask=place.umask, capture_output=True, check=False,
    )  # fmt: skip
    if done.returncode:
        raise AssertionError(f"{place.name}: {done.stderr.decode(errors='replace')[-2000:]}")
    found: dict[str, Any] = json.loads(done.stdout)
    shutil.rmtree(folder)
    return found


def differing(first: Mapping[str, Any], other: Mapping[str, Any]) -> list[str]:
    """The names of files that differ: in their bytes, or before deflating where the two have another zlib."""
    same_zlib = first["versions"]["zlib"] == other["versions"]["zlib"]
    ours, theirs = first["made"], other["made"]
    return [
        name
        for name in sorted({*ours, *theirs})
        if name not in ours or name not in theirs or ours[name][1] != theirs[name][1] or
        (same_zlib and ours[name][0] != theirs[name][0])
    ]  # fmt: skip


def told(versions: Mapping[str, str]) -> str:
    """The versions in a line."""
    return ", ".join(f"{name} {version}" for name, version in versions.items())


def _locales(root: Path) -> list[Place]:
    """Locales of other countries, built where the system has their sources and no such locale."""
    found = []
    for name in LOCALES:
        target = root / "locales" / f"{name}.UTF-8"
        target.parent.mkdir(exist_ok=True)
        command = ["localedef", "-i", name, "-f", "UTF-8", str(target)]
        if shutil.which("localedef") and subprocess.run(command, capture_output=True, check=False).returncode == 0:
            variables = {"LC_ALL": f"{name}.UTF-8", "LOCPATH": str(target.parent), "TZ": "Europe/Istanbul"}
            found.append(Place(f"{name}.UTF-8, honoured by the program", variables, options=("--locale",)))
    return found


def _features() -> str:
    """What NumPy can be told to leave unused of this processor."""
    from numpy._core._multiarray_umath import __cpu_dispatch__, __cpu_features__

    return " ".join(each for each in __cpu_dispatch__ if __cpu_features__.get(each)) if _is_x86() else ""


def _is_x86() -> bool:
    return platform.machine() in ("x86_64", "AMD64")
