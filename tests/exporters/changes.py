"""Changes of a written pack, by its members, for tests that plant a fault."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

Change: TypeAlias = Callable[[dict[str, bytes]], None]


def put(member: str, old: str, new: str, times: int = 1) -> Change:
    """The first few ``old`` texts of a member become ``new`` ones."""

    def change(held: dict[str, bytes]) -> None:
        text = held[member].decode()
        assert old in text, f"{old!r} is not in {member}"
        held[member] = text.replace(old, new, times).encode()

    return change


def both(*changes: Change) -> Change:
    """All of these changes."""

    def change(held: dict[str, bytes]) -> None:
        for each in changes:
            each(held)

    return change
