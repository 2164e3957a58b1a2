"""What several tests share."""

from __future__ import annotations

import gc
import importlib.util
import os
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Any

# Matrices are small here, and workers have a core each: threads that wait for each other double the time. It is read
# when NumPy is loaded, in this process and in those that tests start.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
# SymPy remembers a thousand results of a kind, which a bank is soon through with
os.environ.setdefault("SYMPY_CACHE_SIZE", "20000")

import pytest
from hypothesis import settings
from turnwright.bank.command import printing

# What a module calls that draws the items of the whole bank. One worker runs these modules, so that what they share is
# made once; they come first, and meanwhile the others run what does not wait for all questions to be solved.
WHOLE_BANK = re.compile(r"\bmodels\.(drawn|asked|steps|questions)\(")
# Other long modules, which come before the short ones, so that all workers end together. By then most is solved.
LONG = (
    "tests/exporters",
    "tests/test_template_pack.py",
    "tests/test_command.py",
    "tests/test_results.py",
    "tests/test_same.py",
)

# a bank in memory is millions of small values that stay: to look through all of them takes a second each time
gc.set_threshold(100_000, 20, 50)
# the same cases on every run: what CI finds, a developer finds again
settings.register_profile("steady", derandomize=True, deadline=None)
settings.load_profile("steady")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """The modules that draw the whole bank first, then the long ones, all else in its order."""
    items.sort(key=lambda each: _turn(config.rootpath, _module(each.nodeid)))


def _turn(root: Path, module: str) -> int:
    if _draws_the_bank(root / module):
        return 0
    return next((turn for turn, start in enumerate(LONG, 1) if module.startswith(start)), len(LONG) + 1)


def _module(nodeid: str) -> str:
    return nodeid.partition("::")[0]


@cache
def _draws_the_bank(module: Path) -> bool:
    return WHOLE_BANK.search(module.read_text("utf-8")) is not None


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Any:
    """A module runs on one worker, whole: what its tests share is made once. So do all that draw the whole bank."""
    from xdist.scheduler import LoadScopeScheduling

    class ByModule(LoadScopeScheduling):
        def _split_scope(self, nodeid: str) -> str:
            module = _module(nodeid)
            return "the whole bank" if _draws_the_bank(config.rootpath / module) else module

    if config.getvalue("dist") != "load":  # another way is asked for
        return None
    config.option.loadscopereorder = False  # in the order in which they are collected
    return ByModule(config, log)


def pytest_sessionfinish() -> None:
    """A last look for garbage tells what was left unclosed; the two that pytest takes find nothing more."""
    gc.collect()
    gc.freeze()


@pytest.fixture(scope="session")
def standards() -> ModuleType:
    """The validation kit for the interchange standards, which lies beside the repository and not in it."""
    return _shared("validate.py")


@pytest.fixture(scope="session")
def grammars_of_1() -> ModuleType:
    """The checker of QTI 1.2 and cartridges by the standards body's own grammars, which lies there as well."""
    return _shared("xsd/qti1/check_qti1.py")


def _shared(name: str) -> ModuleType:
    path = Path(__file__).resolve().parents[2] / "shared" / "standards" / name
    spec = importlib.util.spec_from_file_location(path.stem, path)
    if not path.is_file() or spec is None or spec.loader is None:
        absent = f"the validation kit ../shared/standards has no {name}, or is not there"
        pytest.fail(absent) if os.environ.get("TURNWRIGHT_NEEDS_SHARED") else pytest.skip(absent)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="session", autouse=True)
def _work_shared(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Solved questions and mistakes are kept apart from the user's own, unless the environment names a folder.

    All workers of a run share them.
    """
    own = tmp_path_factory.getbasetemp()
    shared = own.parent if "PYTEST_XDIST_WORKER" in os.environ else own
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(printing, "FIRST_LINE", float("inf"))  # however slow the machine is, nothing is told of progress
        if not os.environ.get("TURNWRIGHT_CACHE"):
            patch.setenv("TURNWRIGHT_CACHE", str(shared / "cache"))
        yield
