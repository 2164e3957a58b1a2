"""Makes one of everything that has to be the same bytes everywhere, and prints what came of it as JSON.

Run by path (``python tests/endurance/same_made.py FOLDER [--workers N] [--brief] [--locale]``), from anywhere, by any
Python in which Turnwright is installed. It tells the digest of each file and, of a zip, that of its members before they
were deflated, since another zlib may deflate otherwise.
"""

from __future__ import annotations

import argparse
import contextlib
import hashlib
import io
import json
import locale
import os
import platform
import zipfile
import zlib
from importlib import metadata
from pathlib import Path

PROBLEMS = ("rough-bank-fast", "over-the-top")  # every kind of question; a level and an upright circle, an angle
MANY, FEW, BRIEF = 25, 3, 20  # variants: so many that processes share the work; as few as show every kind
FEW_ITEMS = 10  # in the brief form: beyond so many, processes share the work
LIBRARIES = ("lxml", "numpy", "scipy", "sympy", "typst")
Made = dict[str, tuple[str, str]]


def main() -> None:
    """Makes all, then prints digests and versions."""
    parser = argparse.ArgumentParser()
    parser.add_argument("folder", type=Path)
    parser.add_argument("--workers", type=int, default=1)
    parser.add_argument("--brief", action="store_true", help="one pack only")
    parser.add_argument("--locale", action="store_true", help="as a program that honours the user's locale")
    asked = parser.parse_args()
    if asked.locale:
        locale.setlocale(locale.LC_ALL, "")
    os.sched_getaffinity = lambda _: set(range(asked.workers))  # type: ignore[attr-defined,assignment]
    if asked.brief:
        from turnwright.exporters.workers import processes

        processes.FEW_ITEMS = FEW_ITEMS
    made = brief(asked.folder) if asked.brief else whole(asked.folder)
    print(json.dumps({"made": made, "versions": versions()}))


def whole(folder: Path) -> Made:
    """Packs in every format and in every way to carry them, and what people read."""
    with contextlib.redirect_stdout(io.StringIO()) as told:
        _packs(folder)
        _documents(folder)
    said = hashlib.sha256(told.getvalue().replace(str(folder), "FOLDER").encode()).hexdigest()
    return {**{path.name: digests(path) for path in sorted(folder.iterdir())}, "what was printed": (said, said)}


def brief(folder: Path) -> Made:
    """One pack of one question, with those about its diagram."""
    from turnwright.bank import read_problem
    from turnwright.bank.questions.item_model import Settings
    from turnwright.bank.questions.selection import pack
    from turnwright.bank.reading.files import shipped_files
    from turnwright.bank.reading.mistakes import shipped_mistakes
    from turnwright.bank.solving.solution import solve_question
    from turnwright.exporters.packages.delivery import PLAIN

    problem = read_problem(next(each for each in shipped_files() if each.stem == PROBLEMS[0]))
    solved = [solve_question(problem, problem.question("greatest-speed"))]
    settings = Settings(variants=BRIEF, kinds=("number", "choice", "diagram", "equation"))
    _write("qti-3.0", pack(solved, shipped_mistakes(), settings, [problem]), PLAIN, folder, "brief")
    return {path.name: digests(path) for path in folder.iterdir()}


def _packs(folder: Path) -> None:
    from turnwright.bank import read_bank
    from turnwright.bank.questions.item_model import Settings
    from turnwright.bank.questions.selection import pack
    from turnwright.bank.reading.mistakes import shipped_mistakes
    from turnwright.bank.solving.cache import solved_question
    from turnwright.exporters import available
    from turnwright.exporters.packages.delivery import PLAIN, Delivery

    bank = read_bank()
    chosen = [each for each in bank if each.id in PROBLEMS]
    assert len(chosen) == len(PROBLEMS), "the shipped bank has lost a problem"
    solved = [solved_question(problem, question) for problem in chosen for question in problem.questions]
    many, few = (pack(solved, shipped_mistakes(), Settings(variants=count), bank) for count in (MANY, FEW))
    _write("qti-3.0", many, PLAIN, folder, "many")
    _write("qti-3.0", many, Delivery(variants="computed"), folder, "computed")
    _write("qti-2.2", few, Delivery("html", "png", "table"), folder, "html-png")
    for name in available():
        _write(name, few, PLAIN, folder, "few")


def _write(name: str, pack: object, delivery: object, folder: Path, word: str) -> None:
    """A pack without its proof, which other tests are about and which changes no byte."""
    from turnwright.exporters import exporter

    format_ = exporter(name)
    adapted = format_.adapt(pack, delivery)  # type: ignore[arg-type]
    format_.write(adapted, folder / f"{name}-{word}{format_.SUFFIX}", lambda _: None)


def _documents(folder: Path) -> None:
    """What people and other programs read, by the commands that write it."""
    from turnwright.bank.command.main import run

    first, last = PROBLEMS
    exam = ["--for", "exam", "--variants", "2", "--kind", "number,choice", "--manifest", str(folder / "manifest.json")]
    for arguments in (
        ["pack", last, *exam, "--out", str(folder / "exam.zip")],
        ["paper", first, "--versions", "2", "--shuffle", "--parts", "all", "--out", str(folder / "paper.pdf")],
        ["book", last, "--variants", "1", "--out", str(folder / "book.html")],
        ["show", f"{first}.greatest-speed", "--figure", str(folder / "figure.svg")],
        ["mistakes", last, "--json"],
    ):
        if status := run(arguments):
            raise RuntimeError(f"{arguments} ended with {status}")


def digests(path: Path) -> tuple[str, str]:
    """The digest of a file's bytes, and that of what a zip holds, in its order, without its deflating."""
    data = path.read_bytes()
    bytes_ = hashlib.sha256(data).hexdigest()
    if not zipfile.is_zipfile(path):
        return bytes_, bytes_
    inside = hashlib.sha256()
    with zipfile.ZipFile(path) as archive:
        for info in archive.infolist():
            inside.update(f"{info.filename} {info.date_time} {info.external_attr} {info.file_size}\n".encode())
            inside.update(archive.read(info))
    return bytes_, inside.hexdigest()


def versions() -> dict[str, str]:
    """The versions that could make a difference."""
    libraries = {name: metadata.version(name) for name in LIBRARIES}
    return {"Python": platform.python_version(), "zlib": zlib.ZLIB_RUNTIME_VERSION, **libraries}


if __name__ == "__main__":
    main()
