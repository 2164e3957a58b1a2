"""A pack that is proved while it is written: each item from the bytes that are on their way into the archive.

So an item is drawn once, and whoever has made its bytes proves it. They are inflated and proved just as those of an
archive are, by what its manifest and tests say, which are there before the first item. What came out is kept with a
digest of each member that was looked at.

When the archive is whole, it is opened like that of a stranger. What was seen counts where all of these members stand
there with the same digests, where every item was seen, and where there is no finding about any of them. Else all is
proved from the archive, and that tells what is wrong.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from ..strangers.archive import PIECE, Archive, Limits, MemberError, digest
from ..strangers.parsing import Findings
from .block import BlockResult, Expected, Prover
from .contents.pack import Contents, Spot, read_beginning
from .report import Agreed


@dataclass(frozen=True)
class MadeMember:
    """A member on its way into the archive: its deflated bytes, with what the archive will say of them."""

    name: str
    crc: int
    size: int
    packed: bytes

    @property
    def digest(self) -> bytes:
        """What tells it from any other."""
        return digest(self.crc, self.size, self.packed)


class _Stock:
    """The members that are there now."""

    def __init__(self, members: Iterable[MadeMember] = ()) -> None:
        self._members = {each.name: each for each in members}

    def __contains__(self, name: str) -> bool:
        return name in self._members

    def read(self, name: str, most: int) -> bytes:
        """All bytes of a member, at most ``most``. Raises MemberError."""
        return b"".join(self.pieces(name, most))

    def pieces(self, name: str, most: int) -> Iterator[bytes]:
        """The bytes of a member in turn, at most ``most``; damage may show at the end only. Raises MemberError."""
        member = self._members.get(name)
        if member is None or member.size > most:
            raise MemberError("is not there, or too large")
        unpacker, packed, crc, size = zlib.decompressobj(-zlib.MAX_WBITS), member.packed, 0, 0
        try:
            while piece := unpacker.decompress(packed, PIECE):
                packed, crc, size = unpacker.unconsumed_tail, zlib.crc32(piece, crc), size + len(piece)
                if size > member.size:
                    break
                yield piece
        except zlib.error as error:
            raise MemberError(f"is damaged: {error}") from error
        if not unpacker.eof or unpacker.unused_data or (size, crc) != (member.size, member.crc):
            raise MemberError("is damaged")

    def take(self, members: Iterable[MadeMember]) -> None:
        """Has these members, and no others."""
        self._members = {each.name: each for each in members}


@dataclass(frozen=True)
class SeenItems:
    """What came out without a finding for some items, and the digests of all members that this rests on."""

    count: int
    outcome: BlockResult
    digests: Mapping[str, bytes]


class EarlyProof:
    """Proves the items of a pack as they are made; ``begin`` comes first, then ``look`` in whichever processes."""

    def __init__(self, limits: Limits, *, exam: bool, agreed: Agreed | None) -> None:
        self._limits, self._exam, self._agreed = limits, exam, agreed
        self._begun: Contents | None = None
        self._spots: list[Spot] = []
        self._stock = _Stock()
        self._prover: Prover | None = None
        self._digests: dict[str, bytes] = {}
        self._count, self._is_sound = 0, True
        self.outcome = BlockResult()

    def begin(self, members: Sequence[MadeMember]) -> None:
        """Reads manifest and tests; where something is wrong with them, no item will be seen."""
        findings = Findings()
        contents = read_beginning(_Stock(members), self._limits, findings)
        if findings.lines() or not contents.listed_tests() <= contents.tests.keys():
            return
        self._begun, self._spots = contents, list(contents.spots())
        self._digests = {each.name: each.digest for each in members}

    def look(
        self, numbers: Sequence[int], expected: Iterable[Expected], members: Sequence[MadeMember]
    ) -> SeenItems | None:
        """Proves the items of these numbers, counted from 0, by what is expected of each; None where that fails.

        ``members`` are the items, and all pictures that these may show. It changes nothing but what makes the next look
        quicker.
        """
        if self._begun is None or not all(0 <= each < len(self._spots) for each in numbers):
            return None
        self._prover = self._prover or Prover(
            self._stock, self._limits, self._begun, exam=self._exam, agreed=self._agreed
        )
        self._stock.take(members)
        places = [self._begun.place(self._spots[each]) for each in numbers]
        outcome = self._prover.prove(zip(numbers, places, strict=True), iter(expected))
        proved = {each.name for each in places}
        digests = {each.name: each.digest for each in members if each.name in proved or each.name not in self._begun}
        self._stock.take(())
        is_sound = not outcome.faults and proved <= digests.keys()
        return SeenItems(len(places), outcome, digests) if is_sound else None

    def take(self, seen: SeenItems | None) -> None:
        """Takes what was seen, in this process or another."""
        if seen is None:
            self._is_sound = False
            return
        self._count += seen.count
        self._is_sound &= all(self._digests.setdefault(name, each) == each for name, each in seen.digests.items())
        self.outcome.events += seen.outcome.events
        self.outcome.merge(seen.outcome)

    @property
    def contents(self) -> Contents:
        """What manifest and tests say."""
        assert self._begun is not None
        return self._begun

    def is_of(self, archive: Archive) -> bool:
        """Whether all items of an archive were seen just as they stand there, and manifest and tests, too."""
        if self._begun is None or not self._is_sound or self._count != len(self._spots):
            return False
        return self._begun.items.keys() <= self._digests.keys() and all(
            self._stands_in(archive, name, each) for name, each in self._digests.items()
        )

    def _stands_in(self, archive: Archive, name: str, wanted: bytes) -> bool:
        try:
            return archive.digest(name, self._limits.manifest) == wanted
        except MemberError:
            return False
