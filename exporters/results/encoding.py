"""The text of a CSV file whose encoding nobody stated, in blocks of whole lines, as UTF-8.

UTF-16 is known by its mark or its zeros; else a line that is no UTF-8 is read as Latin-1.
"""

from __future__ import annotations

import codecs
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

_MARKS = ((codecs.BOM_UTF8, "utf-8"), (codecs.BOM_UTF16_LE, "utf-16-le"), (codecs.BOM_UTF16_BE, "utf-16-be"))
BLOCK = 8 * 1024 * 1024
LONGEST_LINE = 1024 * 1024
KEPT = 20


def sniffed(beginning: bytes) -> tuple[str, int]:
    """The encoding that the first bytes speak for, and the length of its mark."""
    for mark, name in _MARKS:
        if beginning.startswith(mark):
            return name, len(mark)
    even, odd = beginning[0:400:2].count(0), beginning[1:400:2].count(0)
    if max(even, odd) * 4 > len(beginning[:400]):
        return ("utf-16-le" if odd > even else "utf-16-be"), 0
    return "utf-8", 0


@dataclass
class Text:
    """A file in the reading; ``latin`` are the first lines that are not UTF-8, ``odd`` is how many they are.

    ``mixed``: other lines of the file hold letters that are UTF-8.
    """

    pieces: Iterable[bytes]
    encoding: str = "utf-8"
    odd: int = 0
    latin: list[int] = field(default_factory=list)
    mixed: bool = False

    def blocks(self) -> Iterator[tuple[int, bytes]]:
        """Whole lines in UTF-8, each ended by a line feed alone, with the number of the first."""
        number, rest = 1, b""
        for piece in self._in_utf8():
            end = piece.rfind(b"\n") + 1
            if not end and len(rest) < LONGEST_LINE:
                rest += piece
                continue
            block, rest = self._clean(rest + piece[:end], number), piece[end:]
            yield number, block
            number += block.count(b"\n")
        if rest:
            yield number, self._clean(rest, number)

    def _in_utf8(self) -> Iterator[bytes]:
        pieces = _larger(self.pieces)
        first = next(pieces, b"")
        self.encoding, mark = sniffed(first)
        if self.encoding == "utf-8":
            yield first[mark:]
            yield from pieces
            return
        decoder = codecs.getincrementaldecoder(self.encoding)("replace")
        yield decoder.decode(first[mark:]).encode()
        for piece in pieces:
            yield decoder.decode(piece).encode()
        yield decoder.decode(b"", True).encode()

    def _clean(self, block: bytes, number: int) -> bytes:
        """The block with ends of line and letters in one way."""
        if b"\r" in block:
            block = block.replace(b"\r\n", b"\n").replace(b"\r", b" ")
        block = block.replace(b"\0", b" ")
        if not block.endswith(b"\n"):
            block += b"\n"
        if block.isascii():
            return block
        try:
            block.decode("utf-8")
        except UnicodeDecodeError:
            return b"".join(self._line(each, place) for place, each in enumerate(_lines(block), number))
        self.mixed = True
        return block

    def _line(self, line: bytes, number: int) -> bytes:
        try:
            text = line.decode("utf-8")
        except UnicodeDecodeError:
            self.odd += 1
            if len(self.latin) < KEPT:
                self.latin.append(number)
            return line.decode("latin-1").encode()
        self.mixed = self.mixed or not text.isascii()
        return line


def _larger(pieces: Iterable[bytes]) -> Iterator[bytes]:
    """The same bytes in larger pieces."""
    held: list[bytes] = []
    size = 0
    for piece in pieces:
        held.append(piece)
        size += len(piece)
        if size >= BLOCK:
            yield b"".join(held)
            held, size = [], 0
    yield b"".join(held)


def _lines(block: bytes) -> list[bytes]:
    """The lines of a block with their line feeds; no other letter ends a line."""
    return [each + b"\n" for each in block.split(b"\n")[:-1]]
