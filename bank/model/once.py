"""What is worked out from a frozen value is worked out once: it stays with the value, and goes with it."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from typing import Any, TypeVar

_Made = TypeVar("_Made")


class _Store(dict[Hashable, Any]):
    """What was made; a copy of the value, in this process or another, starts without."""

    def __reduce__(self) -> tuple[type[_Store], tuple[()]]:
        return _Store, ()


def once(owner: object, what: Hashable, make: Callable[[], _Made], *of: object) -> _Made:
    """What ``make`` gives for a frozen value, and for these very other values; made at the first call.

    ``owner`` is an instance of a dataclass without slots; a changed copy (``dataclasses.replace``) is another one.
    """
    facts = vars(owner)
    store = facts["_made"] if "_made" in facts else facts.setdefault("_made", _Store())
    key = (what, *map(id, of))
    if key not in store:
        store[key] = (make(), of)  # what the result is of is kept as well, so that no other value takes its id
    made: _Made = store[key][0]
    return made
