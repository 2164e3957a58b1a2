"""Small proved packs, and packs as texts: only what differs from one of them is written.

A text begins ``pack: qti-3.0 number``: the format and the kind of question of the pack it starts from. Each further
part is a member in full under a line ``== items/q01_v001.xml``, or a line ``-- media/q01_f1.svg`` for one left out.
Anything else is taken as a file as it is.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from turnwright.bank.item.pack import Pack
from turnwright.bank.item.sitting import Purpose
from turnwright.exporters import exporter
from turnwright.exporters.adapting.adaptation import Adapted
from turnwright.exporters.packages.delivery import PLAIN, Delivery

from tests.exporters import samples, template_samples

FORMATS = ("qti-3.0", "qti-2.2", "qti-2.1", "qti-1.2.1", "common-cartridge-1.3", "common-cartridge-1.3-bank")
KINDS = ("number", "choice", "several", "order", "match", "stepwise")
EXAM = "-exam"  # behind a kind: a pack that tells no answer
TEMPLATES = ("table", "computed")
BASES = (
    *(f"{name} {kind}" for name in FORMATS for kind in KINDS),
    *(f"{name} {kind}{EXAM}" for name in FORMATS[::2] for kind in ("number", "choice")),
    *(f"{name} {way}" for name in ("qti-3.0", "qti-2.1") for way in TEMPLATES),
)
_HEAD = re.compile(rb"pack: ([a-z0-9. -]{1,60})\n")
_PART = re.compile(rb"^(==|--) ([^\n]{0,200})\n", re.MULTILINE)
_DATE = (1980, 1, 1, 0, 0, 0)


@dataclass(frozen=True)
class Change:
    """A pack as the one it starts from, with members put in place of its own, or left out where there are none."""

    base: str
    members: Mapping[str, bytes | None] = field(default_factory=dict)

    def whole(self) -> dict[str, bytes]:
        """All members."""
        held = {**members(self.base), **self.members}
        return {name: content for name, content in held.items() if content is not None}

    def written(self) -> bytes:
        """The change as a text; members that are as they were are left out."""
        first = members(self.base)
        text = b"pack: " + self.base.encode() + b"\n"
        for name, content in self.members.items():
            if content is None:
                text += b"-- " + name.encode() + b"\n"
            elif content != first.get(name):
                text += b"== " + name.encode() + b"\n" + content + b"\n"
        return text


def change_of(data: bytes) -> Change | None:
    """The change that a text stands for, or nothing where it is none."""
    head = _HEAD.match(data)
    base = head[1].decode() if head else ""
    if head is None or base not in BASES:
        return None
    found: dict[str, bytes | None] = {}
    marks = list(_PART.finditer(data, head.end()))
    for mark, following in zip(marks, [*marks[1:], None], strict=False):
        content = data[mark.end() : following.start() if following else len(data)].removesuffix(b"\n")
        found[mark[2].decode("utf-8", "replace")] = content if mark[1] == b"==" else None
    return Change(base, found)


def zipped(held: Mapping[str, bytes]) -> bytes:
    """A zip file of these members, with right sums and the same bytes every time."""
    memory = io.BytesIO()
    with zipfile.ZipFile(memory, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in held.items():
            archive.writestr(zipfile.ZipInfo(name, _DATE), content, zipfile.ZIP_DEFLATED)
    return memory.getvalue()


@cache
def adapted(base: str) -> Adapted:
    """What a pack is written from."""
    name, kind = base.split()
    if kind in TEMPLATES:
        return exporter(name).adapt(
            template_samples.pack(), Delivery(variants="table" if kind == "table" else "computed")
        )
    purpose: Purpose = "exam" if kind.endswith(EXAM) else "practice"
    pack = Pack("The lantern at the fair", purpose, "9.8 N/kg", 7, (samples.kind(kind.removesuffix(EXAM)),))
    return exporter(name).adapt(pack, PLAIN)


@cache
def members(base: str) -> Mapping[str, bytes]:
    """The members of a pack as it is written."""
    with TemporaryDirectory() as folder:
        target = Path(folder) / "fair.zip"
        exporter(base.partition(" ")[0]).write(adapted(base), target, lambda _: None)
        with zipfile.ZipFile(target) as archive:
            return {each: archive.read(each) for each in archive.namelist()}


def plain() -> Iterator[bytes]:
    """The text of each pack without a change."""
    for base in BASES:
        yield Change(base).written()
