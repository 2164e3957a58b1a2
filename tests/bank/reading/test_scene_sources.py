"""Every story of the shipped bank says where its numbers come from, and owns up where that is no document."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from turnwright.bank.documents.document import parse_document, read_document
from turnwright.bank.reading.files import shipped_files

from tests.bank.problems import GOOD

OWNED_UP = re.compile(
    r"Common practice[^.]*, no source|common practice[^.]*, no source|from memory|CODATA 2022|^Invented"
)


def without_source(scenes: Mapping[str, Mapping[str, Any]]) -> list[str]:
    return [name for name, scene in scenes.items() if not OWNED_UP.search(scene.get("source", ""))]


def test_every_story_says_where_its_numbers_come_from() -> None:
    for path in shipped_files():
        assert without_source(read_document(path).data["scenes"]) == [], path.name


def test_a_story_without_a_source_is_noticed() -> None:
    assert without_source(parse_document(GOOD.encode(), "lantern.yaml").data["scenes"]) == ["stage", "fair"]
