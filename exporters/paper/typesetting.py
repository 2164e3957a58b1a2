"""Data and a template to PDF. Typst sets the page; its templates are fixed files, and what strangers wrote is data."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Literal

from ...bank.errors import FigureError, TypesettingError
from ..markup.png import png

TEMPLATES = Path(__file__).parent / "templates"
STANDARD: Literal["ua-1"] = "ua-1"  # PDF/UA-1, ISO 14289-1: tagged, with title, language and text alternatives
_NO_LETTER = re.compile('the text `"(.*)"` could not be displayed')
TRIAL = 40  # pixels: enough to learn whether a picture can be drawn


def typeset(template: str, data: Mapping[str, Any], owners: Mapping[str, str]) -> bytes:
    """The PDF of a template filled with data, the same bytes every time: no date, no fonts of the machine.

    ``owners`` tells which question shows each of ``data["figures"]``. Raises FigureError or TypesettingError.
    """
    import typst

    inputs = {"paper": json.dumps(data, ensure_ascii=False)}
    try:
        return typst.compile(
            str(TEMPLATES / template),
            root=str(TEMPLATES),
            format="pdf",
            ignore_system_fonts=True,
            sys_inputs=inputs,
            pdf_standards=[STANDARD],
            timestamp=0,
        )
    except typst.TypstError as error:
        _blame_figure(data["figures"], owners)
        raise _refusal(str(error.message)) from error


def _refusal(message: str) -> TypesettingError:
    missing = _NO_LETTER.search(message)
    if missing:
        wrong = f"the fonts that it brings have no letter for '{missing[1]}'"
        return TypesettingError(wrong, "write it in other letters, or leave the question out")
    return TypesettingError(" ".join(message.split()), "change what it names, or leave the question out")


def _blame_figure(figures: Mapping[str, Any], owners: Mapping[str, str]) -> None:
    """Raises FigureError for the first figure that can't be drawn by itself."""
    for name, figure in figures.items():
        try:
            png(figure["svg"].encode(), TRIAL)
        except FigureError as error:
            raise FigureError(owners[name], error.wrong) from error
