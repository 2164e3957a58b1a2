"""Bytes as results: a CSV, a results report (XML), a zip file of them, a file of groups or a manifest (JSON)."""

from __future__ import annotations

import json
import math
import random
import re
import tempfile
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
from turnwright.bank.analysis import analyse, read_assessment
from turnwright.bank.analysis.rows import COLUMNS, Rows
from turnwright.bank.errors import FileError
from turnwright.exporters.results import Pseudonyms, read_results, with_groups

from tests.fuzz.bounds import is_harmless, within
from tests.fuzz.text_changes import cell_changed, value_changed
from tests.fuzz.xml_changes import changed

LONGEST = 6_000
SECONDS = 10
_NAME = re.compile("(c[0-9a-f]{16})?")
ITEMS = ("pq_q01_v001", "pq_q02_v001", "pq_q03_v001")
LINES = "candidate,item,response,score\nWren,pq_q01_v001,B,0\nWren,pq_q02_v001,3.14,1\nAda,pq_q01_v001,A,1\n"


def check(data: bytes) -> None:
    """Any bytes end as rows and their analysis, or as an error of ours that says what is wrong."""
    with within(SECONDS):
        try:
            _read(data)
        except FileError as error:
            assert is_harmless(error.wrong) and is_harmless(error.right), repr(str(error))


def _read(data: bytes) -> None:
    if data.lstrip()[:1] == b"{":
        _analysed(_rows(LINES.encode(), "csv"), _file(data, "json"))
    elif data.lstrip()[:1] == b"<" or data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        _analysed(_rows(data, "xml"))
    elif b"group" in data.partition(b"\n")[0] and b"item" not in data.partition(b"\n")[0]:
        _analysed(with_groups(_rows(LINES.encode(), "csv"), _file(data, "groups"), Pseudonyms("lantern")))
    else:
        _analysed(_rows(data, "csv"))


def _rows(data: bytes, ending: str) -> Rows:
    rows = read_results([_file(data, ending)], Pseudonyms("lantern"))
    table = rows.table
    assert list(table.columns) == list(COLUMNS)
    assert 0 < len(table) <= len(data), f"{len(table)} rows of {len(data)} bytes"
    assert all(map(_NAME.fullmatch, table["candidate"].cat.categories)), "a candidate under a name of their own"
    assert not np.isinf(table["score"]).any(), "an infinite score"
    assert not np.isinf(table["duration"]).any() and not (table["duration"] < 0).any(), "no time that anybody needs"
    assert all(is_harmless(str(note)) for note in rows.ledger.notes()), [str(each) for each in rows.ledger.notes()]
    return rows


def _analysed(rows: Rows, manifest: Path | None = None) -> None:
    """The analysis is made of numbers, and counts no answer that is not there."""
    outcome = analyse(rows, read_assessment(manifest or _manifest()))
    assert outcome.answers <= len(rows.table)
    assert outcome.candidates <= len(rows.table)
    for form in outcome.forms:
        assert all(0 <= share <= 1 for share in form.shares if not math.isnan(share)), form.shares
    assert all(is_harmless(str(note)) for note in outcome.notes)


@cache
def _folder() -> Path:
    return Path(tempfile.mkdtemp(prefix="results-"))


def _file(data: bytes, ending: str) -> Path:
    path = _folder() / f"results.{ending}"
    path.write_bytes(data)
    return path


@cache
def _manifest() -> Path:
    path = _folder() / "assessment.json"
    path.write_text(json.dumps(manifest()))
    return path


def manifest() -> dict[str, Any]:
    """A form of three items: a choice question, a number, and one in two parts."""
    letters = [{"name": name, "right": name == "A", "mistakes": [] if name == "A" else ["halved"]} for name in "ABC"]
    band = {"value": "9.86", "half_width": "0.09", "mistakes": ["root-forgotten"]}
    number = {"key": {"number": "3.14"}, "options": [], "recognised": [band]}
    choice = {"key": {"options": ["A"]}, "options": letters, "recognised": []}
    parts = {"key": {"parts": [choice["key"], number["key"]]}, "options": [], "recognised": []}
    answers = (choice, number, {**parts, "parts": [choice, number]})
    items = [_item(place, name, part) for place, (name, part) in enumerate(zip(ITEMS, answers, strict=True), 1)]
    return {
        "assessment": "fair",
        "title": "At the fair",
        "bank": {"version": "sha256:0"},
        "seed": 7,
        "gravity": "9.8",
        "forms": [{"form": "A", "items": items}],
    }


def _item(place: int, name: str, answers: dict[str, Any]) -> dict[str, Any]:
    facts = {"version": 1, "kind": "number", "variant": 1, "scene": "stage", "marks": place, "fingerprint": "0" * 64}
    return {"item": name, "question": f"lantern-over-the-top.q{place}", **facts, **answers}


def mutated(data: bytes, longest: int, seed: int, plain: Callable[[bytes, int], bytes]) -> bytes:
    """The same with something else in one place, so that the rest is still read; at times other bytes."""
    dice = random.Random(seed)
    if dice.random() < 0.3:
        return plain(data, longest)
    kind = data.lstrip()[:1]
    change = value_changed if kind == b"{" else changed if kind == b"<" else cell_changed
    return change(data, dice)[:longest]


def samples() -> Iterator[bytes]:
    """The manifest that all is held against."""
    yield json.dumps(manifest()).encode()
