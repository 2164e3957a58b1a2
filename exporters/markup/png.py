"""A drawing as PNG, for systems that refuse SVG: set by Typst's own renderer, alike on every machine."""

from __future__ import annotations

import json
from pathlib import Path

from ...bank.errors import FigureError

WIDEST = 8000
_POINTS_PER_INCH = 72
_TEMPLATES = Path(__file__).parent / "templates"  # all that a link in a picture could reach: no picture


def png(svg_bytes: bytes, pixels_wide: int) -> bytes:
    """The picture of an SVG file on white, ``pixels_wide`` pixels wide and as high as its shape asks.

    Only the fonts that the renderer brings are used. Raises FigureError for what is no SVG picture.
    """
    import typst

    if not 1 <= pixels_wide <= WIDEST:
        raise ValueError(f"a picture is 1 to {WIDEST} pixels wide, not {pixels_wide}")
    try:
        inputs = {"svg": svg_bytes.decode(), "width": json.dumps(pixels_wide)}
        made = typst.compile(
            str(_TEMPLATES / "drawing.typ"),
            root=str(_TEMPLATES),
            format="png",
            ppi=_POINTS_PER_INCH,
            ignore_system_fonts=True,
            sys_inputs=inputs,
            timestamp=0,
        )
    except (typst.TypstError, UnicodeDecodeError) as error:
        raise FigureError("the drawing", getattr(error, "message", "it is no text")) from error
    return made
