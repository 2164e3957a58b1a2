"""What several tests share."""

from __future__ import annotations

import importlib.util
import os
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

import pytest
from hypothesis import settings
from turnwright.bank.command import printing

# Modules that make the whole bank or start a browser. They come first, on one worker, which makes what their tests
# share only once; what is left for the end is small, so that all workers end together.
LONG = ("tests/test_pack.py", "tests/exporters/book/test_browser.py", "tests/test_template_pack.py")

# the same cases on every run: what CI finds, a developer finds again
settings.register_profile("steady", derandomize=True, deadline=None)
settings.load_profile("steady")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """The long modules first, all else in its order."""
    long = {config.rootpath / each for each in LONG}
    items.sort(key=lambda each: each.path not in long)


@pytest.fixture(scope="session")
def standards() -> ModuleType:
    """The validation kit for the interchange standards, which lies beside the repository and not in it."""
    path = Path(__file__).resolve().parents[2] / "shared" / "standards" / "validate.py"
    spec = importlib.util.spec_from_file_location("validate", path)
    if not path.is_file() or spec is None or spec.loader is None:
        absent = "the validation kit ../shared/standards is not there"
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
