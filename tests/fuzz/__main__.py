"""Runs one target under atheris: ``python -m tests.fuzz TARGET [FOLDER...] [-option=value...]``.

The options are those of libFuzzer; the first folder takes what reaches new code. ``-runs=0`` only goes through the
corpus, and a file in place of the folders is tried alone.
"""

from __future__ import annotations

import importlib
import sys
import tempfile
from pathlib import Path

from tests.fuzz import TARGETS
from tests.fuzz.bounds import HERE, kept

MISSING = "atheris is not installed here; install it with pip install '.[endurance]' (CPython 3.11 to 3.13, Linux)"


def main(arguments: list[str]) -> None:
    """Does not come back: libFuzzer ends the process, with another status than 0 where something was found."""
    if not arguments or arguments[0] not in TARGETS:
        sys.exit(f"name one of {', '.join(TARGETS)}")
    try:
        import atheris  # type: ignore[import-not-found, unused-ignore]
    except ImportError:
        sys.exit(MISSING)
    name, *rest = arguments
    with atheris.instrument_imports(include=["turnwright"]):
        target = importlib.import_module(f"tests.fuzz.{name}")
        alone = any(Path(each).is_file() for each in rest)
        seeds = [] if alone else [_seeds(name, target.samples())]
        told = [sys.argv[0], *_defaults(name, target.LONGEST), *rest, *seeds]
        if hasattr(target, "mutated"):
            mutate = lambda data, longest, seed: target.mutated(data, longest, seed, atheris.Mutate)  # noqa: E731
            atheris.Setup(told, target.check, custom_mutator=mutate)
        else:
            atheris.Setup(told, target.check)
        atheris.Fuzz()


def _defaults(name: str, longest: int) -> list[str]:
    words = HERE / "words" / f"{name}.txt"
    return [
        f"-max_len={longest}",
        "-len_control=0",
        "-rss_limit_mb=1500",
        "-timeout=60",
        *([f"-dict={words}"] if words.exists() else []),
    ]


def _seeds(name: str, samples: object) -> str:
    """A folder with all inputs to start from."""
    folder = Path(tempfile.mkdtemp(prefix=f"{name}-seeds-"))
    assert hasattr(samples, "__iter__")
    known = (data for _, data in kept(name))
    for number, data in enumerate([*known, *samples]):
        (folder / f"{number:04}").write_bytes(data)
    return str(folder)


if __name__ == "__main__":
    main(sys.argv[1:])
