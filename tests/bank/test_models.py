"""What the tests of the bank share tells what is wrong."""

from __future__ import annotations

import pytest

from tests.bank import models


def test_each_question_for_which_a_check_fails_is_named() -> None:
    @models.of_each(lambda: ("first", "second", "third"))
    def check(name: str) -> None:
        assert name == "second"

    with pytest.raises(AssertionError) as caught:
        check()
    assert "first" in str(caught.value)
    assert caught.value.__notes__ == ["check fails for 2: first, third"]
