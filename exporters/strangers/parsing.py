"""How the bytes of a stranger's XML reach the parser, and what is told of what is wrong there.

Bytes are looked at first, whole or piece by piece, and always read as UTF-8. A finding is one line, safe to print, and
they never go on without end.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import chain
from typing import Any, Protocol, TypeAlias, cast

from lxml import etree

from ...bank.errors import visible

# Names met so far: where there is one for each item, a dict takes a third of the memory of a set.
Seen: TypeAlias = dict[str, None]

MOST_FINDINGS = 200
LONGEST_QUOTE = 80
LONGEST_PROLOG = 64 * 1024
# Possessive, so that no prolog makes the search try twice.
_PROLOG = rb"(?:\xef\xbb\xbf)?\s*+(?>(?><\?.*?\?>|<!--.*?-->)\s*+)*+"
_DOCTYPE = re.compile(_PROLOG + rb"<!DOCTYPE", re.DOTALL)
_ROOT = re.compile(_PROLOG + rb"<[^?!]", re.DOTALL)
_ENCODING = re.compile(rb"""(?:\xef\xbb\xbf)?<\?xml[^>]*?encoding\s*=\s*["']([^"'>]*)""")


@lru_cache(maxsize=512)
def shown(text: str, longest: int = LONGEST_QUOTE) -> str:
    """``text`` on one line: what a terminal might act on is escaped, and what is too long is cut."""
    line = visible(text[:longest])
    return line if len(text) <= longest else f"{line}..."


class HouseRule(str):
    """A finding against a rule of ours that no standard has: other packs are warned of it, ours must not have it."""


class Doubt(str):
    """A finding of what is allowed and seldom meant, of which every pack is warned."""


def placed(place: str, wrong: str) -> str:
    """The same finding, of the same sort, with its place before it."""
    return type(wrong)(f"{place}: {wrong}")


class Findings:
    """The findings of one run in the order of finding; past ``most`` they are only counted.

    ``strict``: rules of the house count like those of a standard.
    """

    def __init__(self, most: int = MOST_FINDINGS, *, strict: bool = True) -> None:
        self._most, self._strict = most, strict
        self._lines: list[str] = []
        self._warnings: list[str] = []
        self._count = self._warned = 0

    def add(self, where: str, wrong: str) -> None:
        """Takes one finding about the member or place ``where``."""
        is_house_rule = isinstance(wrong, HouseRule)
        line = f"{shown(where)}: {shown(wrong, 400)}" if where else shown(wrong, 400)
        if isinstance(wrong, Doubt) or (is_house_rule and not self._strict):
            self._warned += 1
            if self._warned <= self._most:
                self._warnings.append(f"{line} (a house rule)" if is_house_rule else line)
            return
        self._count += 1
        if self._count <= self._most:
            self._lines.append(line)

    def __len__(self) -> int:
        """How many were found, those included that are only counted, and warnings not."""
        return self._count

    def extend(self, where: str, wrongs: Iterable[str]) -> None:
        """Takes every finding of ``wrongs`` about the same place."""
        for wrong in wrongs:
            self.add(where, wrong)

    def lines(self) -> tuple[str, ...]:
        """All findings; the last line says how many more there were."""
        return _with_rest(self._lines, self._count, "finding")

    def warnings(self) -> tuple[str, ...]:
        """All warnings; the last line says how many more there were."""
        return _with_rest(self._warnings, self._warned, "warning")


def _with_rest(lines: Sequence[str], count: int, what: str) -> tuple[str, ...]:
    more = count - len(lines)
    return (*lines, f"and {more} more {what if more == 1 else f'{what}s'}") if more else tuple(lines)


class DocumentError(Exception):
    """A document that cannot be read; the text says why, in one line."""


class Target(Protocol):
    """What takes the tags and texts of a document one after the other; ``line`` is set to where they stand."""

    line: int

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        """Takes a start tag."""

    def end(self, tag: str) -> None:
        """Takes an end tag."""

    def data(self, text: str) -> None:
        """Takes a text, or a part of one."""

    def close(self) -> None:
        """Takes the end of the document."""


class Listener(Protocol):
    """What hears the bytes of a document once a parser has taken them."""

    def feed(self, piece: bytes) -> None:
        """Takes the next piece. Raises DocumentError for what is refused."""


class Screen:
    """A look at bytes before any parser sees them: their encoding, the absence of a DOCTYPE, the number of tags."""

    def __init__(self, beginning: bytes, most_tags: int) -> None:
        if beginning[:2] in (b"\xfe\xff", b"\xff\xfe") or b"\0" in beginning[:8]:
            raise DocumentError("is not written in UTF-8")
        declared = _ENCODING.match(beginning)
        encoding = declared[1].decode("latin-1") if declared else "UTF-8"
        if encoding.upper() not in ("UTF-8", "US-ASCII"):
            raise DocumentError(f"declares the encoding {shown(encoding, 40)}, UTF-8 expected")
        if _DOCTYPE.match(beginning):
            raise DocumentError("has a DOCTYPE, which a pack must not have")
        self._only_ascii = encoding.upper() == "US-ASCII"
        self._most, self._count = most_tags, 0

    def check(self, piece: bytes) -> None:
        """Refuses the next piece when it holds too many tags, or characters outside the declared encoding.

        Raises DocumentError for what is refused.
        """
        self._count += piece.count(b"<")
        if self._count > self._most:
            raise DocumentError(f"has more than {self._most} tags")
        if self._only_ascii and not piece.isascii():
            raise DocumentError("declares the encoding US-ASCII, but holds other characters")


def safe_parser(target: object = None, schema: etree.XMLSchema | None = None) -> etree.XMLParser:
    """A parser that expands no entity, fetches nothing and keeps to the limits of its library.

    It reads UTF-8 whatever a document declares, so that no encoding can hide a tag from the look at the bytes.
    """
    made: Any = etree.XMLParser(
        encoding="UTF-8",
        target=cast(Any, target),
        schema=schema,
        resolve_entities=False,
        no_network=True,
        load_dtd=False,
        dtd_validation=False,
        huge_tree=False,
        remove_comments=True,
        remove_pis=True,
    )
    return cast(etree.XMLParser, made)


_PARSER = safe_parser()  # to make one takes half as long as to read an item


def parse_whole(data: bytes, most_tags: int) -> etree._Element:
    """The root of a document."""
    Screen(data, most_tags).check(data)
    try:
        return etree.fromstring(data, _PARSER)
    except etree.XMLSyntaxError as error:
        raise malformed(error) from error


def parse_pieces(pieces: Iterator[bytes], target: Target, most_tags: int, listener: Listener | None = None) -> None:
    """Hands a document to ``target`` while it is read; no tree is built, so that its length costs no memory."""
    parser = safe_parser(target)
    try:
        for piece in screened(pieces, most_tags):
            _feed(parser, piece, target)
            if listener:
                listener.feed(piece)
        parser.close()
        refuse_unbound(parser)
    except etree.XMLSyntaxError as error:
        for _ in pieces:  # a member that is damaged says so at its end, and that tells more
            pass
        raise malformed(error) from error


def refuse_unbound(parser: etree.XMLParser) -> None:
    """Refuses a document whose prefixes or names are none, which a parser fed piece by piece lets pass.

    Raises DocumentError for what is refused.
    """
    error = next(iter(parser.feed_error_log.filter_from_errors()), None)
    if error is not None:
        raise DocumentError(f"is not well-formed: {shown(error.message)}, line {error.line}")


def screened(pieces: Iterator[bytes], most_tags: int) -> Iterator[bytes]:
    """The pieces, none of which is given out before the root element has been seen, or the end.

    Raises DocumentError for what is refused.
    """
    beginning = b""
    while len(beginning) < LONGEST_PROLOG and (piece := next(pieces, b"")):
        beginning += piece
    screen = Screen(beginning, most_tags)
    if len(beginning) >= LONGEST_PROLOG and not _ROOT.match(beginning):
        raise DocumentError(f"has no root element in its first {LONGEST_PROLOG} bytes")
    for piece in chain((beginning,), pieces):
        screen.check(piece)
        yield piece


def _feed(parser: etree.XMLParser, piece: bytes, target: Target) -> None:
    """Feeds line by line, since no parser tells a target where it is."""
    for index, line in enumerate(piece.split(b"\n")):
        if index:
            target.line += 1
            parser.feed(b"\n" + line)
        elif line:
            parser.feed(line)


def malformed(error: etree.XMLSyntaxError) -> DocumentError:
    """What the parser found, as an error of ours."""
    return DocumentError(f"is not well-formed: {shown(str(error))}")
