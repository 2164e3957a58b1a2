"""The JSON Schemas (2020-12) of bank files, and RELAX NG grammars of files that have no published schema to hand."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from lxml import etree
    from referencing import Registry

FOLDER = Path(__file__).parent


@cache
def registry() -> Registry[Any]:
    """The schemas by their ids, for one that refers to another."""
    from referencing import Registry

    return Registry().with_contents((load(kind)["$id"], load(kind)) for kind in ("problem", "mistakes"))


@cache
def load(kind: str) -> dict[str, Any]:
    """The schema of one kind of bank file, for example ``load("problem")``."""
    text = (FOLDER / f"{kind}.json").read_text("utf-8")
    schema: dict[str, Any] = json.loads(text)
    return schema


@cache
def grammar(name: str) -> etree.RelaxNG:
    """The RELAX NG grammar of one kind of file that an exporter writes, for example ``grammar("qti-1.2.1")``."""
    from lxml import etree

    return etree.RelaxNG(file=str(FOLDER / f"{name}.rng"))
