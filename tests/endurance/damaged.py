"""A thousand damages of the index: flipped bits, cut and forged entries, those of other files and versions."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from pathlib import Path

from turnwright.bank.storage import entries

from tests.bank.index.damages import DAMAGES, trial

FULL, SHORT = 1_000, 100


def run(is_long: bool) -> Iterator[str]:
    """What was tried. Raises AssertionError for a damage that changed an output or an exit status."""
    number, before = FULL if is_long else SHORT, os.environ.get(entries.FOLDER_VARIABLE)
    with tempfile.TemporaryDirectory() as folder:
        os.environ[entries.FOLDER_VARIABLE] = f"{folder}/cache"
        try:
            changed = list(trial(Path(folder), number, 7))
        finally:
            if before is None:
                del os.environ[entries.FOLDER_VARIABLE]
            else:
                os.environ[entries.FOLDER_VARIABLE] = before
    assert not changed, changed[0]
    yield f"{number:,} damages of {len(DAMAGES)} kinds, each looked at twice: no output and no exit status changed"
