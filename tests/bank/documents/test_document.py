"""Bytes from a stranger become plain data with places, or faults with places; nothing is run, raised or endless."""

from __future__ import annotations

import os
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from turnwright.bank.documents.document import (
    LARGEST_FILE,
    MOST_ITEMS,
    MOST_NODES,
    Document,
    parse_document,
    read_document,
)
from turnwright.bank.errors import Place
from turnwright.bank.limits.budget import within

from tests.bank.problems import GOOD, place, read

WRONG = [
    ("a colon in a text", "title: at the fair: a lantern\n", 1, 19, "found a colon where none can stand"),
    ("a tab", "motion:\n\tplane: vertical\n", 2, 1, "found a tab; indent with spaces"),
    ("a line out of line", "a: 1\n   b: 2\n  c: 3\n", 2, 5, "found a colon where none can stand"),
    ("a key too far left", "a:\n    b: 2\n  c: 3\n", 3, 3, "this line does not line up with those above it"),
    ("a key without colon", "a: 1\nb\nc: 2\n", 3, 1, "this key has no colon; write 'key: value'"),
    ("an open curly bracket", "a: {b: 1\nc: 2\n", 2, 2, "a curly bracket is not closed, or a comma is missing"),
    ("an open square bracket", "a: [1, 2\nb: 3\n", 2, 2, "a square bracket is not closed, or a comma is missing"),
    ("an open quotation mark", 'a: 1\nb: "lantern\nc: 2\n', 2, 4, "a quotation mark is not closed; close it"),
    ("a value that begins with an at", "a: @fair\n", 1, 4, "a value can't begin like this; put quotation"),
    ("a backslash", 'a: "\\theta \\mu"\n', 1, 13, "found a backslash that means nothing"),
    ("an escape for no character", 'a: 1\nb: "x\\UFFFFFFFF"\n', 2, 6, "found an escape for no character"),
    ("a second document", "a: 1\n---\nb: 2\n", 3, 1, "a second document starts here; keep one problem in a file"),
    ("a key twice", "a: 1\nb: 2\na: 3\n", 3, 1, "the key 'a' stands twice (first in line 1); keep one of the two"),
    ("a key twice in a flow", "m: {r: 1, v: 2, r: 3}\n", 1, 17, "the key 'r' stands twice (first in line 1)"),
    ("a tag", "a: !!python/object/apply:os.system [echo]\n", 1, 4, "found the tag 'tag:yaml.org,2002:python/object"),
    ("a tag of a number", "a: !!float 1\n", 1, 4, "found the tag 'tag:yaml.org,2002:float'; remove it"),
    ("a tag on a key", "!mine a: 1\n", 1, 1, "found the tag '!mine'"),
    ("an anchor", "a: &lamp 1\n", 1, 4, "found the anchor '&lamp'; remove it, and write each value out"),
    ("an anchor on a key", "&lamp a: 1\n", 1, 1, "found the anchor '&lamp'"),
    ("an alias", "a: 1\nb: *lamp\n", 2, 4, "found the alias '*lamp'; write the value out"),
    ("an alias as a key", "*lamp : 1\n", 1, 1, "found a key that is not a word; keys are plain words"),
    ("a mapping as a key", "{a: 1}: 2\n", 1, 1, "found a key that is not a word"),
    ("nothing", "", 1, 1, "the file is empty; write a problem, or remove the file"),
    ("a comment only", "# a lantern\n", 1, 1, "the file is empty"),
    ("a NUL", "a: 1\nb: la\x00mp\n", 2, 6, "found the invisible character U+0000; remove it"),
    ("a zero-width blank", "a: lan\u200btern\n", 1, 7, "found the invisible character U+200B; remove it"),
    ("a turned direction", "a: lan\u202etern\n", 1, 7, "found the invisible character U+202E"),
    ("a line separator", "a: lan\u2028tern\n", 1, 7, "found the invisible character U+2028"),
    ("no character at all", "a: lan\uffffern\n", 1, 7, "found the invisible character U+FFFF"),
    ("an escaped zero-width blank", 'a: "lan\\u200btern"\n', 1, 4, "U+200B, written as an escape; remove it"),
    ("an escaped bell", 'a: "lan\\atern"\n', 1, 4, "U+0007, written as an escape"),
    ("half a character", 'a: "lan\\ud800tern"\n', 1, 4, "U+D800, written as an escape"),
    ("too deep", "a: " + "[" * 20 + "]" * 20, 1, 20, "this is nested too deeply; keep to 16 levels"),
    ("too long a list", "a: [" + "1," * (MOST_ITEMS + 1) + "]", 1, 1005, "this list is too long; keep to 500 items"),
    ("too many values", "\n".join(f"k{n}: [{'1,' * 400}]" for n in range(30)), 25, 755, "there are too many values"),
    ("too long", "# " + "x" * LARGEST_FILE, 1, 1, "the file is too long; a problem file has at most 200,000 bytes"),
    ("another encoding", "a: 1\nb: Kreis größe\n".encode("latin-1"), 2, 12, "the file is not UTF-8 (found the byte F6"),
    ("16 bits a letter", "a: 1\n".encode("utf-16"), 1, 1, "not UTF-8 (found the byte FF); save it as UTF-8"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "line", "column", "message"), [each[1:] for each in WRONG], ids=[w[0] for w in WRONG])
def test_what_is_wrong_with_a_file_is_told_at_its_place(
    text: str | bytes, line: int, column: int, message: str
) -> None:
    document = parse_document(text if isinstance(text, bytes) else text.encode(), "lantern.yaml")
    (fault,) = document.faults
    assert str(fault).startswith(f"lantern.yaml:{line}:{column}: ")
    assert message in str(fault)


def test_what_does_not_stop_the_reading_is_told_in_one_run() -> None:
    text = "a: !mine 1\nb: &lamp 2\nb: 3\nc: \u200b\n"
    assert [fault.place.line for fault in parse_document(text.replace("\u200b", "x").encode(), "f").faults] == [1, 2, 3]
    assert [fault.place.column for fault in parse_document(b"a: \xe2\x80\x8b \xe2\x80\x8b", "f").faults] == [4, 6]


def test_a_byte_order_mark_is_no_fault() -> None:
    document = parse_document(b"\xef\xbb\xbfid: lantern\n", "f")
    assert (document.data, document.faults, document.place(("id",)).column) == ({"id": "lantern"}, [], 5)


def test_numbers_keep_their_digits_and_quoted_ones_stay_text() -> None:
    text = 'a: [1, -2, 0.60, 6.4e6, 1e999, 0x10, 1_000, 1:30, 2026-01-01, ""]\nb: [true, No, ~, "1", yes]\n'
    document = parse_document(text.encode(), "f")
    assert document.data["a"] == [
        1,
        -2,
        Decimal("0.60"),
        Decimal("6.4e6"),
        "1e999",
        "0x10",
        "1_000",
        "1:30",
        "2026-01-01",
        "",
    ]
    assert str(document.data["a"][2]) == "0.60"
    assert document.data["b"] == [True, "No", None, "1", "yes"]


def test_a_text_over_several_lines_becomes_one_line() -> None:
    document = parse_document(b'a: |\n  one\n  two\nb: "three\\nfour\\n"\n', "f")
    assert document.data == {"a": "one two", "b": "three four"}


def test_every_value_and_key_of_a_problem_has_its_place() -> None:
    document = read(GOOD)
    lines = GOOD.splitlines()
    for path, spot in document.keys.items():
        assert lines[spot.line - 1][spot.column - 1 :].startswith(str(path[-1]))
    assert document.place(("quantities", "v", "plausible", "to")) == document.place(
        ("quantities", "v", "plausible", "to", "x")
    )
    spot = document.place(("questions", "low", "given", 1))
    assert (spot.line, spot.column) == place(GOOD, "v]\n    extra")


def test_the_places_of_later_items_move_up_when_one_is_dropped() -> None:
    document = parse_document(b"a:\n  - x: 1\n  - x: 2\n  - x: 3\nb: 4\n", "f")
    document.drop(("a", 0))
    assert document.data == {"a": [{"x": 2}, {"x": 3}], "b": 4}
    assert [document.place(("a", at, "x")).line for at in (0, 1)] == [3, 4]
    assert [document.place(("a", at, "x"), key=True).column for at in (0, 1)] == [5, 5]
    assert document.place(("b",)).line == 5


def test_what_is_no_readable_file_is_a_fault(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.yaml")
    for name, wrong in (
        ("missing.yaml", "the file can't be read (No such file or directory)"),
        (".", "this is not an ordinary file"),
        ("pipe.yaml", "this is not an ordinary file"),
        ("nul\x00.yaml", "the file can't be read (this is no file name)"),
        ("long" * 100, "the file can't be read (File name too long)"),
    ):
        (fault,) = read_document(tmp_path / name, "f").faults
        assert fault.wrong == wrong


@given(st.binary(max_size=300) | st.text(max_size=300).map(lambda text: text.encode("utf-8", "surrogatepass")))
@example(b"%YAML 9.9\n---\na")
@example(b"? a\n: b")
@example(b"a: !<tag:x> b")
@example(b"a: !a!b c")
@example(b'"\\x"')
@example(b"- - - -")
@example(b"{[")
def test_whatever_the_bytes_are_there_is_data_or_a_fault(raw: bytes) -> None:
    document = parse_document(raw, "f")
    assert document.whole or document.faults
    assert all(
        "\n" not in str(fault) and fault.place.line >= 1 and fault.place.column >= 1 for fault in document.faults
    )


@pytest.mark.parametrize(
    "piece", ["[", "{", "- ", "a: ", "? ", '"', "&a ", "!!x ", "|\n", "# \n", "\n", "\\", "'", "{a: "]
)
def test_no_file_takes_long(piece: str) -> None:
    with within(Document("a"), "a", Place("a"), 60):  # seconds of the processor: it ends, and how fast is no test
        document = read((piece * (LARGEST_FILE // len(piece))).encode())
    assert document.faults
    assert not [each for each in document.faults if "processor time" in each.wrong]


def test_the_bounds_leave_room_for_a_long_problem() -> None:
    assert len(read(GOOD).values) * 10 < MOST_NODES
    assert len(GOOD) * 10 < LARGEST_FILE
