"""Whether the manifest names the standards that the items of a pack meet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from xml.sax.saxutils import escape

from turnwright.bank.curriculum import Alignment
from turnwright.exporters.proof.findings import shown


def missing_standards(manifest: bytes, wanted: Iterable[Alignment]) -> Iterator[str]:
    """The codes and identifiers that no element of the manifest holds."""
    for name in dict.fromkeys(name for each in wanted for name in (each.code, each.guid) if name):
        if f">{escape(name)}<".encode() not in manifest:
            yield f"names no standard '{shown(name)}', which is expected"
