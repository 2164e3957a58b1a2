"""Data and a template to PDF. Typst sets the page; its templates are fixed files, and what strangers wrote is data."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from turnwright.bank.errors import FigureError, TypesettingError
from turnwright.exporters.png import png

TEMPLATES = Path(__file__).parent / "templates"
STANDARD = "ua-1"  # PDF/UA-1, ISO 14289-1: tagged, with title, language and text alternatives
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
        wrong = " ".join(str(error.message).split())
        raise TypesettingError(wrong, "change the words it names, or leave the question out") from error


def _blame_figure(figures: Mapping[str, Any], owners: Mapping[str, str]) -> None:
    """Raises FigureError for the first figure that can't be drawn by itself."""
    for name, figure in figures.items():
        try:
            png(figure["svg"].encode(), TRIAL)
        except FigureError as error:
            raise FigureError(owners[name], error.wrong) from error
