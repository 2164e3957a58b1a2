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
    for name, data in kept(target):
        try:
            check(data)
        except Exception as error:
            error.add_note(f"by the input {name}")
            raise


def test_the_corpus_is_small_and_all_that_was_found_is_explained() -> None:
    inputs = dict(each for target in TARGETS for each in kept(target))
    assert sum(map(len, inputs.values())) <= MOST_BYTES
    told = (HERE / "found" / "README.md").read_text("utf-8")
    found = [name.removeprefix("found/") for name in inputs if name.startswith("found/")]
    assert found
    assert [name for name in found if f"`{name}`" not in told] == []
