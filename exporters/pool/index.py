"""The index of a pool (schema ``pool``): its packs with what they hold, and whether all are there."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ...bank.documents.json_file import read_json
from ...bank.errors import FileError
from ...bank.questions.selection import Share

INDEX = "pool.json"


@dataclass(frozen=True)
class Finished:
    """A pack that was written and proved."""

    file: str
    items: int
    bytes: int
    sha256: str
    answers: int
    shares: tuple[Share, ...]

    def stands_in(self, folder: Path) -> bool:
        """Whether the file is still there, byte for byte."""
        place = folder / self.file
        try:
            return place.stat().st_size == self.bytes and digest_of(place) == self.sha256
        except OSError:
            return False


def digest_of(path: Path) -> str:
    """The SHA-256 digest of a file. Raises OSError."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def index_bytes(facts: dict[str, Any], finished: Sequence[Finished], *, complete: bool) -> bytes:
    """The index as a file; ``facts`` are those of the whole pool."""
    packs = [
        {
            "file": each.file,
            "items": each.items,
            "bytes": each.bytes,
            "sha256": each.sha256,
            "answers": each.answers,
            "questions": [
                {"question": share.question, "from": share.start + 1, "to": share.stop} for share in each.shares
            ],
        }
        for each in finished
    ]
    return (json.dumps({**facts, "complete": complete, "packs": packs}, ensure_ascii=False, indent=1) + "\n").encode()


def finished_before(folder: Path, facts: dict[str, Any]) -> dict[str, Finished]:
    """The packs that the index of the folder names, by their files; none where there is no index.

    Raises BankFaultsError for a file that is no index, FileError for the index of another pool.
    """
    path = folder / INDEX
    if not path.exists():
        return {}
    data = read_json(path, "pool")
    if data["pool"] != facts["pool"]:
        wrong = f"the folder holds another pool ({data['pool']}, not {facts['pool']})"
        raise FileError(
            str(path), wrong, "name an empty folder; other questions, settings or versions make another pool"
        )
    return {each["file"]: _finished(each) for each in data["packs"]}


def _finished(data: dict[str, Any]) -> Finished:
    shares = tuple(Share(each["question"], each["from"] - 1, each["to"]) for each in data["questions"])
    return Finished(data["file"], data["items"], data["bytes"], data["sha256"], data["answers"], shares)
