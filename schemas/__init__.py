"""The JSON Schemas (2020-12) of bank files, one for each kind of file."""

from __future__ import annotations

import json
from functools import cache
from importlib import resources
from typing import Any

from referencing import Registry


@cache
def registry() -> Registry[Any]:
    """The schemas by their ids, for one that refers to another."""
    return Registry().with_contents((load(kind)["$id"], load(kind)) for kind in ("problem", "mistakes"))


@cache
def load(kind: str) -> dict[str, Any]:
    """The schema of one kind of bank file, for example ``load("problem")``."""
    text = (resources.files(__name__) / f"{kind}.json").read_text("utf-8")
    schema: dict[str, Any] = json.loads(text)
    return schema
