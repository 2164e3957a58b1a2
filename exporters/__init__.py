"""The formats a pack can be written in; each is a module found by entry point.

A format module has a ``NAME``, the ``SUFFIX`` of its files, an ``adapt`` that makes a pack ready for it, and a
``write``, perhaps a ``TITLE``, the format's name in a sentence; a department adds its own under the group
``turnwright.exporters``.
"""

from __future__ import annotations

from collections.abc import Callable
from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING, Protocol, cast

from ..bank.errors import UnknownNameError

if TYPE_CHECKING:
    from importlib.metadata import EntryPoint

    from ..bank.item.pack import Pack
    from .adapting.adaptation import Adapted
    from .packages.delivery import Delivery

__all__ = ["GROUP", "Exporter", "available", "exporter", "known", "title"]

GROUP = "turnwright.exporters"


class Exporter(Protocol):
    """What a format module offers."""

    NAME: str
    SUFFIX: str

    def adapt(self, pack: Pack, delivery: Delivery) -> Adapted:
        """The pack as the format can carry it, with the table of what went as is, changed, or not at all."""

    def write(
        self,
        adapted: Adapted,
        target: Path,
        check: Callable[[Path], None],
        progress: Callable[[int], None] | None = None,
    ) -> None:
        """Leaves the adapted pack at ``target``, once ``check`` has accepted it; else all stays as it was."""


def available() -> tuple[str, ...]:
    """The names of all formats that are installed, in alphabetical order."""
    return tuple(sorted(_entries()))


def known(name: str) -> str:
    """The name of a format, where there is one. Raises UnknownNameError, with all names, the near ones first."""
    names = available()
    if name not in names:
        near = get_close_matches(name, names, cutoff=0.4)
        raise UnknownNameError("format", name, (*near, *(each for each in names if each not in near)))
    return name


def exporter(name: str) -> Exporter:
    """The module that writes the format ``name``. Raises UnknownNameError, with all names."""
    return cast(Exporter, _entries()[known(name)].load())


def title(name: str) -> str:
    """The name of the format ``name`` in a sentence."""
    return str(getattr(exporter(name), "TITLE", name))


def _entries() -> dict[str, EntryPoint]:
    """Entry points by name: one that is found twice (an editable install) counts once."""
    from importlib.metadata import entry_points  # which takes long

    return {entry.name: entry for entry in entry_points(group=GROUP)}
