"""A JSON file that a program wrote, as a document that can be held against a schema; bounded, and never trusted."""

from __future__ import annotations

import json
from decimal import Decimal
from itertools import islice
from pathlib import Path
from typing import Any

from ..errors import BankFaultsError, Fault, Place
from .document import MOST_HIDDEN, Document, hidden_texts
from .shape import check_shape

LARGEST = 20_000_000


def read_json(path: Path, kind: str) -> Any:
    """The data of a JSON file of one kind. Raises BankFaultsError with all its faults."""
    document = Document(str(path))
    try:
        with path.open("rb") as stream:
            raw = stream.read(LARGEST + 1)
        if len(raw) > LARGEST:
            document.fault((), "the file is too long", f"a file of this kind has at most {LARGEST:,} bytes")
        else:
            document.data = json.loads(raw.decode("utf-8"), parse_float=Decimal, parse_constant=_no_number)
            check_shape(document, kind)
            for where, found in islice(hidden_texts(document.data), MOST_HIDDEN):
                document.fault(where, f"found the invisible character {found}", "take the file as it was written")
    except json.JSONDecodeError as error:
        place = Place(document.file, error.lineno, error.colno)
        document.faults.append(Fault(place, f"this is no JSON ({error.msg})", "take the file as it was written"))
    except (ValueError, RecursionError):
        document.fault((), "this is no JSON text in UTF-8", "take the file as it was written")
    except OSError as error:
        document.fault((), f"the file can't be read ({error.strerror})", "name a readable file")
    if document.faults:
        raise BankFaultsError(document.faults)
    return document.data


def _no_number(name: str) -> Any:
    raise ValueError(name)
