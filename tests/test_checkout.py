"""A checkout is enough to work with: installed as editable, or reached by a folder ``turnwright`` that links to it."""

from __future__ import annotations

import os
import subprocess
import sys
import venv
from importlib import metadata
from pathlib import Path

import click
import pytest

CHECKOUT = Path(__file__).resolve().parents[1]
WHERE = "import turnwright.bank, turnwright.exporters, turnwright.schemas; print(turnwright.bank.__file__)"


def told(*command: str | Path, where: Path, **environment: str) -> str:
    """What a command prints, run in a folder of its own with no other way to the package."""
    known = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")} | environment
    ran = subprocess.run(command, cwd=where, env=known, capture_output=True, text=True, timeout=120, check=False)
    assert ran.returncode == 0, ran.stdout + ran.stderr
    return ran.stdout


def is_ours(printed: str) -> bool:
    return Path(printed.strip()).resolve() == CHECKOUT / "bank" / "__init__.py"


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A tree of links to the checkout, so that what the build leaves behind stays out of it."""
    folder = tmp_path_factory.mktemp("checkout")
    for name in ("bank", "exporters", "schemas", "pyproject.toml", "README.md", "LICENSE"):
        (folder / name).symlink_to(CHECKOUT / name)
    return folder


def test_an_editable_install_imports_from_the_checkout_and_has_the_command(copy: Path, tmp_path: Path) -> None:
    backend()
    home = tmp_path / "venv"
    venv.create(home, symlinks=True)
    python = home / "bin" / "python"
    (libraries,) = home.glob("lib/python*/site-packages")
    for each in {Path(pytest.__file__).parents[1], Path(click.__file__).parents[1]}:
        with_libraries(libraries, each)
    options = ("--no-deps", "--no-build-isolation", "--no-index", "--disable-pip-version-check", "-q")
    told(sys.executable, "-m", "pip", "--python", python, "install", *options, "-e", copy, where=tmp_path)
    assert is_ours(told(python, "-c", WHERE, where=tmp_path))
    assert told(home / "bin" / "turnwright", "--help", where=tmp_path).lstrip().startswith("Usage: turnwright")
    formats = "from turnwright import exporters; print('qti-3.0' in exporters.available())"
    assert told(python, "-c", formats, where=tmp_path).strip() == "True"


def backend() -> None:
    """What builds the package has to be here, for nothing comes over a network: it is among what the tests install."""
    try:
        new_enough = int(metadata.version("setuptools").partition(".")[0]) >= 77
    except metadata.PackageNotFoundError:
        new_enough = False
    if not new_enough:
        absent = "setuptools>=77 is not installed; install '.[test]'"
        pytest.fail(absent) if os.environ.get("TURNWRIGHT_NEEDS_SHARED") else pytest.skip(absent)


def with_libraries(folder: Path, libraries: Path) -> None:
    """Links to the libraries that run the tests, but not to a Turnwright that is installed with them."""
    for each in libraries.iterdir():
        if not each.name.startswith(("turnwright", "__editable__")) and not (folder / each.name).exists():
            (folder / each.name).symlink_to(each)


def test_a_folder_that_links_to_the_checkout_is_enough_for_imports(tmp_path: Path) -> None:
    (tmp_path / "turnwright").symlink_to(CHECKOUT)
    assert is_ours(told(sys.executable, "-P", "-c", WHERE, where=tmp_path, PYTHONPATH=str(tmp_path)))
    run = "from turnwright.bank.command.main import main; main()"
    help_text = told(sys.executable, "-P", "-c", run, "--help", where=tmp_path, PYTHONPATH=str(tmp_path))
    assert "Usage:" in help_text
