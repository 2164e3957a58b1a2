"""A drawing as PNG: the right size, white paper, something on it, and the same bytes every time."""

from __future__ import annotations

import struct
import zlib
from pathlib import Path

import pytest
from turnwright.bank.errors import FigureError
from turnwright.exporters.markup.png import png
from turnwright.exporters.markup.svg import svg

from tests.exporters import samples

WIDE = 420


def pixels(content: bytes) -> tuple[int, int, list[bytes]]:
    """Width, height and rows of red, green, blue and alpha; PNG (ISO/IEC 15948) with 8 bits a sample, from memory."""
    assert content[:8] == b"\x89PNG\r\n\x1a\n"
    width, height, depth, colour = struct.unpack(">IIBB", content[16:26])
    assert (depth, colour) == (8, 6)
    data, place = b"", 8
    while place < len(content):
        length, kind = struct.unpack(">I4s", content[place : place + 8])
        data += content[place + 8 : place + 8 + length] if kind == b"IDAT" else b""
        place += length + 12
    return width, height, _rows(zlib.decompress(data), width * 4)


def _rows(raw: bytes, stride: int) -> list[bytes]:
    """Takes back the filters of the lines: none, left, up, average, nearest."""
    rows, above = [], bytes(stride)
    for start in range(0, len(raw), stride + 1):
        how, line = raw[start], bytearray(raw[start + 1 : start + 1 + stride])
        for place in range(stride):
            left, up, corner = (line[place - 4], above[place], above[place - 4]) if place >= 4 else (0, above[place], 0)
            line[place] = (line[place] + (0, left, up, (left + up) // 2, _nearest(left, up, corner))[how]) % 256
        above = bytes(line)
        rows.append(above)
    return rows


def _nearest(left: int, up: int, corner: int) -> int:
    guess = left + up - corner
    return min((left, up, corner), key=lambda each: abs(guess - each))


def test_a_drawing_has_the_asked_width_its_own_shape_and_white_paper() -> None:
    width, height, rows = pixels(png(svg(samples.figure()), WIDE))
    assert (width, height) == (WIDE, 360)  # the sample is 420 by 360
    assert rows[0][:4] == rows[-1][-4:] == b"\xff\xff\xff\xff"
    inked = sum(row[place : place + 4] != b"\xff\xff\xff\xff" for row in rows for place in range(0, len(row), 4))
    assert WIDE * 360 * 0.01 < inked < WIDE * 360 * 0.2
    # the bob at the top of the circle: its outline is dark, its inside white
    assert max(rows[70][(210 - 13) * 4 : (210 - 13) * 4 + 3]) < 100


def test_the_same_drawing_gives_the_same_bytes_and_another_size_another_picture() -> None:
    assert png(svg(samples.figure()), WIDE) == png(svg(samples.figure()), WIDE)
    assert pixels(png(svg(samples.figure()), 2 * WIDE))[:2] == (2 * WIDE, 720)


@pytest.mark.parametrize("content", [b"<svg", b"\xff\xfe", b"lantern"])
def test_what_is_no_picture_is_refused_in_plain_words(content: bytes) -> None:
    with pytest.raises(FigureError, match="can't be drawn"):
        png(content, WIDE)


def test_a_picture_reaches_no_other_picture(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "secret.png").write_bytes(png(svg(samples.figure()), WIDE))
    monkeypatch.chdir(tmp_path)
    for place in ("secret.png", str(tmp_path / "secret.png"), "../secret.png"):
        link = f'<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><image href="{place}"/></svg>'
        with pytest.raises(FigureError, match="linked image"):
            png(link.encode(), WIDE)
