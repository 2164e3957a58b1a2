"""What a docstring owes its reader: the errors of our own that a function raises itself, and the shape of arrays."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[1]
OWN_ERROR = re.compile(r"[A-Z]\w*Error$")
BUILT_IN = {
    "ArithmeticError", "AttributeError", "IndexError", "KeyError", "OSError", "RuntimeError", "TypeError", "ValueError",
}  # fmt: skip
SHAPE = re.compile(r"shape|array|each (combination|sample|drawn variant)|combinations")


def functions(source: str) -> Iterator[ast.FunctionDef]:
    """The public functions and methods of a module; what stands inside another function is not public."""
    tree = ast.parse(source)
    for node in (*tree.body, *(inner for each in tree.body if isinstance(each, ast.ClassDef) for inner in each.body)):
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
            yield node


def raised(function: ast.FunctionDef) -> set[str]:
    """The errors of our own that a function raises by itself."""
    found = {each.exc for each in ast.walk(function) if isinstance(each, ast.Raise)}
    names = {ast.unparse(each.func if isinstance(each, ast.Call) else each) for each in found if each}
    return {name for name in names if OWN_ERROR.match(name)} - BUILT_IN


def silent(source: str) -> list[str]:
    """The public functions whose docstring leaves out an error, or the shape of an array."""
    found = []
    for each in functions(source):
        told = " ".join((ast.get_docstring(each) or "").split())
        arrays = "NDArray" in ast.unparse(each.args) + (ast.unparse(each.returns) if each.returns else "")
        found += [f"{each.name} raises {error}" for error in sorted(raised(each)) if error not in told]
        found += [f"{each.name} has an array without a shape"] if arrays and not SHAPE.search(told) else []
    return found


def test_docstrings_name_errors_and_shapes() -> None:
    # a command's docstring is the help that its user reads
    files = [
        path for part in ("bank", "exporters") for path in (ROOT / part).rglob("*.py") if path.parent.name != "command"
    ]
    told = {str(path.relative_to(ROOT)): silent(path.read_text("utf-8")) for path in files}
    assert {path: each for path, each in told.items() if each} == {}


def test_a_silent_docstring_is_found() -> None:
    planted = "def f(x: NDArray[np.bool_]) -> None:\n    'Does it.'\n    raise FileError('no')"
    assert silent(planted) == ["f raises FileError", "f has an array without a shape"]
