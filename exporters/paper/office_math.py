"""Formulas of a paper as Office Math elements (ISO/IEC 29500-1, 22.1), which stay formulas in an editable document.

What comes in are the shapes of ``formulas``; element names are the standard's.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any

from lxml import etree

MATH = "http://schemas.openxmlformats.org/officeDocument/2006/math"
XML_SPACE = "{http://www.w3.org/XML/1998/namespace}space"
THIN_SPACE = "\u2009"


def office_math(shape: list[Any]) -> etree._Element:
    """The formula of a shape, ready to stand in a paragraph."""
    return _element("oMath", *_parts(shape))


def _element(name: str, *inside: etree._Element, val: str = "") -> etree._Element:
    element = etree.Element(f"{{{MATH}}}{name}", nsmap={"m": MATH})
    if val:
        element.set(f"{{{MATH}}}val", val)
    element.extend(inside)
    return element


def _parts(shape: list[Any] | None) -> list[etree._Element]:
    return _WAYS[shape[0]](*shape[1:]) if shape else []


def _run(letters: str, style: str) -> list[etree._Element]:
    """Letters in one style: ``p`` upright, ``i`` italic."""
    text = _element("t")
    text.text = letters
    text.set(XML_SPACE, "preserve")
    return [_element("r", _element("rPr", _element("sty", val=style)), text)]


def _row(*parts: list[Any]) -> list[etree._Element]:
    return [element for part in parts for element in _parts(part)]


def _fraction(above: list[Any], below: list[Any]) -> list[etree._Element]:
    return [_element("f", _element("num", *_parts(above)), _element("den", *_parts(below)))]


def _root(index: str | None, body: list[Any]) -> list[etree._Element]:
    hidden = () if index else (_element("degHide", val="1"),)
    degree = _run(index, "p") if index else []
    return [_element("rad", _element("radPr", *hidden), _element("deg", *degree), _element("e", *_parts(body)))]


def _script(base: list[Any], lower: list[Any] | None, upper: list[Any] | None) -> list[etree._Element]:
    name = "sSubSup" if lower and upper else "sSub" if lower else "sSup"
    scripts = [_element(each, *_parts(part)) for each, part in (("sub", lower), ("sup", upper)) if part]
    return [_element(name, _element("e", *_parts(base)), *scripts)]


def _brackets(body: list[Any]) -> list[etree._Element]:
    return [_element("d", _element("e", *_parts(body)))]


_WAYS: Mapping[str, Callable[..., list[etree._Element]]] = MappingProxyType(
    {
        "text": lambda letters: _run(letters, "p"),
        "italic": lambda letters: _run(letters, "i"),
        "sign": lambda sign: _run(sign, "p"),
        "function": lambda name: _run(f"{name}{THIN_SPACE}", "p"),
        "space": lambda: _run(THIN_SPACE, "p"),
        "row": _row,
        "fraction": _fraction,
        "root": _root,
        "script": _script,
        "brackets": _brackets,
    }
)
