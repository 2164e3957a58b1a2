"""HTML that a QTI 1.2.1 file carries as a string: what it says, the pictures it shows, and what it must not hold."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from html.parser import HTMLParser

from turnwright.bank import formula
from turnwright.bank.drawing import Drawing
from turnwright.bank.item import Math, Paragraph
from turnwright.exporters.proof.parsing import DocumentError

LONGEST = 256 * 1024
_RAISED = re.compile("[⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺ⁿ]+")
_PROGRAMS = frozenset({"script", "style", "iframe", "object", "embed", "form", "input", "link", "meta", "base"})


@dataclass(frozen=True)
class Html:
    """What a piece of HTML says in one form without spaces, its words as they stand, and its pictures."""

    said: str = ""
    words: str = ""
    images: tuple[tuple[str, str], ...] = ()
    faults: tuple[str, ...] = ()


def joined(pieces: Iterable[Html]) -> Html:
    """Several pieces as one."""
    found = tuple(pieces)
    return Html(
        "".join(each.said for each in found),
        " ".join(each.words for each in found),
        tuple(image for each in found for image in each.images),
        tuple(fault for each in found for fault in each.faults),
    )


def plain(text: str) -> Html:
    """Text that is no HTML."""
    return Html(one_form(text), text)


def read_html(text: str) -> Html:
    """The piece of HTML in a string."""
    if len(text) > LONGEST:
        raise DocumentError(f"has a text of {len(text)} characters, at most {LONGEST} are read")
    reader = _Reader()
    reader.feed(text)
    reader.close()
    return Html(
        one_form("".join(reader.said)),
        " ".join(reader.words),
        tuple(reader.images),
        tuple(dict.fromkeys(reader.faults)),
    )


class _Reader(HTMLParser):
    """Takes the tags and texts of HTML; what is raised or lowered is marked as ``formula.text`` marks it."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.said: list[str] = []
        self.words: list[str] = []
        self.images: list[tuple[str, str]] = []
        self.faults: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Takes a start tag."""
        given = {name: value or "" for name, value in attrs}
        if tag in _PROGRAMS:
            self.faults.append(f"HTML holds a {tag}")
        self.faults += [f"HTML runs a program ({name})" for name in given if name.startswith("on")]
        if tag == "img":
            self.images.append((given.get("src", ""), given.get("alt", "")))
            self.said.append(given.get("alt", ""))
        self.said.append({"sub": "_", "sup": "^("}.get(tag, ""))

    def handle_endtag(self, tag: str) -> None:
        """Takes an end tag."""
        self.said.append(")" if tag == "sup" else "")

    def handle_data(self, data: str) -> None:
        """Takes a text."""
        self.said.append(data)
        self.words.append(data)


def one_form(text: str) -> str:
    """The text without spaces, in one spelling of each character; raised characters as ``^(2)``."""
    lowered = _RAISED.sub(lambda found: f"^({found[0]})", text)
    words = "".join(unicodedata.normalize("NFKC", lowered).split()).replace("-", "−")
    return words if words.isprintable() else "".join(filter(str.isprintable, words))


def expected_said(content: Paragraph | Drawing) -> str:
    """What HTML that was written from ``content`` should say."""
    if isinstance(content, Drawing):
        return one_form(content.alternative)
    return one_form("".join(formula.text(part.node) if isinstance(part, Math) else part.text for part in content))
