"""The rooms of the project: who imports whom, read from the sources alone, so that it needs no install.

A room may import itself and the rooms above it in ``ROOMS``. A room is a module or a folder with all below it; the
longest path that fits a module is its room.
"""

from __future__ import annotations

import ast
import tomllib
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from graphlib import CycleError, TopologicalSorter
from pathlib import Path, PurePosixPath

import pytest

ROOT = Path(__file__).resolve().parents[1]
TOPS = ("bank", "exporters", "schemas")
MOST_MODULES = 20  # in a folder, beside its __init__

ROOMS = (
    "schemas",
    *(
        f"bank/{each}"
        for each in ("errors", "language", "storage", "quantities", "item", "documents", "model", "limits")
    ),
    *(f"bank/{each}" for each in ("limits", "reading", "mechanics", "solving", "variants", "writing", "thinking")),
    *(
        f"bank/{each}"
        for each in ("drawing", "questions", "index", "checking", "forms", "analysis", "change", "__init__")
    ),
    *(f"exporters/{each}" for each in ("strangers", "markup", "packages", "workers", "adapting", "__init__")),
    *(f"exporters/{each}" for each in ("qti", "qti1")),
    *(f"exporters/proof/{each}" for each in ("dialect", "report", "processing", "reading", "words", "contents")),
    *(f"exporters/proof/{each}" for each in ("marking", "again", "series", "block", "early", "qti1")),
    *(f"exporters/proof/{each}" for each in ("proving", "__init__")),
    *(f"exporters/{each}" for each in ("paper", "book", "results", "report", "running", "pool")),
    "bank/command",
)

# Modules that are called like their room all the same: what the room is about, or the name that a format goes by.
CALLED_LIKE_THEIR_ROOM = {
    "bank/change/changes.py",
    "bank/item/item.py",
    "exporters/qti/qti21.py",
    "exporters/qti/qti22.py",
    "exporters/qti/qti30.py",
    "exporters/qti1/qti121.py",
}

Imports = dict[str, set[str]]


def sources() -> dict[str, str]:
    """All modules of the checkout by their path, as ``bank/item/item.py``."""
    paths = (path for top in TOPS for path in sorted((ROOT / top).rglob("*.py")))
    return {path.relative_to(ROOT).as_posix(): path.read_text(encoding="utf-8") for path in paths}


@cache
def nodes(source: str) -> tuple[ast.AST, ...]:
    """The imports and classes of a module, with what is inside of other classes and functions."""
    told = (ast.Import, ast.ImportFrom, ast.ClassDef)
    return tuple(each for each in ast.walk(ast.parse(source)) if isinstance(each, told))


def imported(path: str, source: str, known: Mapping[str, str]) -> Iterator[tuple[int, str]]:
    """The modules that a module imports, in functions and under TYPE_CHECKING, too, each with its line.

    What is no module of ``known`` is given as the path at which it should stand.
    """
    for node in nodes(source):
        if not isinstance(node, ast.ImportFrom) or not node.level:
            continue
        place = PurePosixPath(path).parents[node.level - 1].joinpath(*(node.module or "").split("."))
        for name in node.names:
            below = str(place / name.name)
            found = next((each for each in (f"{below}.py", f"{below}/__init__.py") if each in known), "")
            yield (
                node.lineno,
                found
                or next((each for each in (f"{place}.py", f"{place}/__init__.py") if each in known), f"{place}.py"),
            )


def outside(path: str, source: str) -> Iterator[str]:
    """Imports of our own modules by an absolute name, which an install elsewhere could answer."""
    for node in nodes(source):
        if isinstance(node, ast.Import):
            names = [each.name for each in node.names]
        elif isinstance(node, ast.ImportFrom) and not node.level:
            names = [node.module or ""]
        else:
            continue
        for name in names:
            if name.partition(".")[0] in ("turnwright", *TOPS):
                yield f"{path}, line {node.lineno}: imports {name} by an absolute name"


def missing(modules: Mapping[str, str]) -> list[str]:
    """Relative imports of what is no file of the checkout."""
    return [
        f"{path}, line {line}: imports {found}, which is not there"
        for path, source in modules.items()
        for line, found in imported(path, source, modules)
        if found not in modules
    ]


def graph(modules: Mapping[str, str]) -> Imports:
    """What each module imports of the others."""
    return {path: {found for _, found in imported(path, source, modules)} - {path} for path, source in modules.items()}


def ring(modules: Mapping[str, str]) -> list[str]:
    """Modules that import one another in a ring; none where there is no ring."""
    try:
        TopologicalSorter(graph(modules)).prepare()
    except CycleError as error:
        return list(error.args[1])
    return []


def room_of(path: str, rooms: Sequence[str]) -> str:
    """The room of a module; empty where it has none."""
    fitting = [each for each in rooms if path == f"{each}.py" or path.startswith(f"{each}/")]
    return max(fitting, key=len, default="")


def upward(modules: Mapping[str, str], rooms: Sequence[str]) -> list[str]:
    """Modules without a room, and imports of a room further down."""
    wrong = []
    for path, source in modules.items():
        room = room_of(path, rooms)
        if not room:
            wrong.append(f"{path} stands in no room")
            continue
        for line, found in imported(path, source, modules):
            other = room_of(found, rooms)
            if other and rooms.index(other) > rooms.index(room):
                wrong.append(f"{path}, line {line}: {room} imports {other}, which comes after it")
    return wrong


def crowded(modules: Mapping[str, str]) -> list[str]:
    """Folders with more modules than one can look over."""
    counts = Counter(str(PurePosixPath(path).parent) for path in modules if not path.endswith("/__init__.py"))
    return [f"{folder} has {count} modules" for folder, count in counts.items() if count > MOST_MODULES]


def repeating(modules: Mapping[str, str]) -> list[str]:
    """Modules that begin with the name of their folder, which their path says already."""
    return [path for path in modules if PurePosixPath(path).name.startswith(PurePosixPath(path).parent.name)]


def doubled(modules: Mapping[str, str]) -> list[str]:
    """Classes of the same name in two modules, with what is inside of other classes and functions."""
    found: dict[str, list[str]] = {}
    for path, source in modules.items():
        for node in nodes(source):
            if isinstance(node, ast.ClassDef):
                found.setdefault(node.name, []).append(path)
    return [f"{name} is a class in {' and in '.join(paths)}" for name, paths in found.items() if len(paths) > 1]


def unlisted(modules: Mapping[str, str], packages: Sequence[str]) -> list[str]:
    """Folders with modules that are not among the packages, and packages that are no such folder."""
    folders = {"turnwright." + str(PurePosixPath(path).parent).replace("/", ".") for path in modules}
    return sorted(folders ^ set(packages))


@pytest.fixture(scope="module")
def modules() -> dict[str, str]:
    found = sources()
    assert len(found) > 250  # the checkout is there
    return found


def test_imports_name_files_of_the_checkout(modules: dict[str, str]) -> None:
    assert missing(modules) == []
    assert [each for path, source in modules.items() for each in outside(path, source)] == []


def test_no_modules_import_one_another_in_a_ring(modules: dict[str, str]) -> None:
    assert ring(modules) == []


def test_rooms_import_only_rooms_above_them(modules: dict[str, str]) -> None:
    assert upward(modules, ROOMS) == []
    assert [each for each in ROOMS if not any(room_of(path, ROOMS) == each for path in modules)] == []  # all are there


def test_folders_can_be_looked_over_and_names_say_something_new(modules: dict[str, str]) -> None:
    assert crowded(modules) == []
    assert set(repeating(modules)) == CALLED_LIKE_THEIR_ROOM
    assert doubled(modules) == []


def test_every_folder_is_a_package_that_is_installed(modules: dict[str, str]) -> None:
    with (ROOT / "pyproject.toml").open("rb") as file:
        assert unlisted(modules, tomllib.load(file)["tool"]["setuptools"]["packages"]) == []


# Planted faults: small trees of modules that each break one rule.

PLANTED = {
    "bank/__init__.py": "",
    "bank/lamp/__init__.py": "",
    "bank/lamp/wick.py": "WICK = 1",
    "bank/tower/__init__.py": "",
    "bank/tower/stairs.py": "from ..lamp.wick import WICK",
}
PLANTED_ROOMS = ("bank/lamp", "bank/tower", "bank/__init__")
LATE = "def light():\n    from ..tower import stairs"
FOR_TYPES = "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    from ..tower.stairs import Stairs"


def test_a_sound_tree_has_no_fault() -> None:
    assert missing(PLANTED) == ring(PLANTED) == upward(PLANTED, PLANTED_ROOMS) == crowded(PLANTED) == []
    assert repeating(PLANTED) == []
    assert unlisted(PLANTED, ["turnwright.bank", "turnwright.bank.lamp", "turnwright.bank.tower"]) == []


@pytest.mark.parametrize("planted", [LATE, FOR_TYPES, "from .. import tower"], ids=["late", "for types", "a folder"])
def test_an_import_from_a_lower_room_is_found(planted: str) -> None:
    (wrong,) = upward({**PLANTED, "bank/lamp/wick.py": planted}, PLANTED_ROOMS)
    assert wrong.startswith("bank/lamp/wick.py, line ")
    assert wrong.endswith(": bank/lamp imports bank/tower, which comes after it")


@pytest.mark.parametrize("planted", [LATE, FOR_TYPES], ids=["late", "for types"])
def test_a_ring_is_found(planted: str) -> None:
    found = ring({**PLANTED, "bank/lamp/wick.py": planted})
    assert set(found) == {"bank/lamp/wick.py", "bank/tower/stairs.py"}


def test_a_module_without_a_room_is_found() -> None:
    assert upward({**PLANTED, "bank/attic.py": ""}, PLANTED_ROOMS) == ["bank/attic.py stands in no room"]


def test_an_import_of_what_is_not_there_is_found() -> None:
    planted = {**PLANTED, "bank/tower/stairs.py": "\nfrom ..lamp.flame import FLAME"}
    assert missing(planted) == ["bank/tower/stairs.py, line 2: imports bank/lamp/flame.py, which is not there"]
    assert list(outside("bank/door.py", "from turnwright.bank import lamp")) == [
        "bank/door.py, line 1: imports turnwright.bank by an absolute name"
    ]


def test_a_crowd_a_name_twice_and_a_folder_left_out_are_found() -> None:
    crowd = {f"bank/lamp/part{number}.py": "" for number in range(20)}
    assert crowded({**PLANTED, **crowd}) == ["bank/lamp has 21 modules"]
    assert repeating({**PLANTED, "bank/lamp/lamps.py": ""}) == ["bank/lamp/lamps.py"]
    twice = {"bank/lamp/wick.py": "class Flame: ...", "bank/tower.py": "def stair():\n    class Flame: ..."}
    assert doubled(twice) == ["Flame is a class in bank/lamp/wick.py and in bank/tower.py"]
    assert unlisted(PLANTED, ["turnwright.bank", "turnwright.bank.lamp"]) == ["turnwright.bank.tower"]
