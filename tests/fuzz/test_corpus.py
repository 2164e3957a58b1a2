"""What the fuzzer found and what it learnt from is read again, without the fuzzer."""

from __future__ import annotations

import importlib

import pytest

from tests.fuzz import TARGETS
from tests.fuzz.bounds import HERE, kept

MOST_BYTES = 300_000


@pytest.mark.parametrize("target", TARGETS)
def test_no_input_that_was_kept_breaks_a_promise(target: str) -> None:
    check = importlib.import_module(f"tests.fuzz.{target}").check
    paths = kept(target)
    assert paths
    for path in paths:
        try:
            check(path.read_bytes())
        except Exception as error:
            error.add_note(f"by the input {path.relative_to(HERE)}")
            raise


def test_the_corpus_is_small_and_all_that_was_found_is_explained() -> None:
    paths = [path for target in TARGETS for path in kept(target)]
    assert sum(path.stat().st_size for path in paths) <= MOST_BYTES
    told = (HERE / "found" / "README.md").read_text("utf-8")
    found = [path for path in paths if "found" in path.parts]
    assert [path.name for path in found if f"`{path.parent.name}/{path.name}`" not in told] == []
