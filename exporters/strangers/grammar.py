"""Documents held against the grammar of their format, and what is told of all that does not fit."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from functools import cached_property
from typing import Any, cast

from lxml import etree

from ...schemas.notation import Spelling, compiled, with_data
from .parsing import DocumentError, safe_parser, shown

MOST_BREACHES = 2000  # until a long document is read no further, since a log of them has no end
MOST_TOLD = 20  # of one document; one that breaks its grammar everywhere is as wrong
MOST_NAMED = 4  # of what might stand there instead
_BY_SCHEMA = "SCHEMASV"  # as a log of the library calls what the grammar finds
_ELEMENT = re.compile(r"Element '([^']*)'")
_ATTRIBUTE = re.compile(r"[Tt]he attribute '([^']*)'|, attribute '([^']*)'")
_VALUE = re.compile(r"'([^']*)' is not a valid value of the (?:atomic|local atomic) type(?: '([^']*)')?")
_ONE_OF = re.compile(r"[Tt]he value '([^']*)' is not an element of the set \{(.*)\}")
_EXPECTED = re.compile(r"Expected is (?:one of )?\( (.*) \)")
_KINDS = {
    "xs:boolean": "true or false",
    "xs:int": "a whole number",
    "xs:nonNegativeInteger": "a whole number",
    "xs:double": "a number",
    "xs:NCName": "a name of letters and digits that begins with a letter",
}
_MATHML = "http://www.w3.org/1998/Math/MathML"
Rename = Callable[[str], str]


class Grammar:
    """What may stand in the documents of a format; made ready when the first is held against it."""

    def __init__(self, *spellings: Spelling) -> None:
        self._spellings = spellings

    @cached_property
    def schema(self) -> etree.XMLSchema:
        """The grammar as a parser takes it."""
        return compiled(self._spellings)

    @cached_property
    def with_data(self) -> frozenset[str]:
        """The elements that may have data of their own, which a schema can't say."""
        return with_data(self._spellings)

    def told(self, log: Any) -> Sequence[Any]:
        """The first errors of a log that are faults."""
        faults: list[Any] = []
        for each in log:
            if not self.is_fault(each):
                continue
            if _VALUE.search(each.message) and faults and _ONE_OF.search(faults[-1].message):
                continue  # which is told by the values that there are
            faults.append(each)
            if len(faults) == MOST_TOLD:
                break
        return faults

    def is_fault(self, error: Any) -> bool:
        """Whether an entry of a log is a breach of this grammar, and no data that an element may have of its own."""
        if error.domain_name != _BY_SCHEMA:
            return False
        element = _ELEMENT.search(error.message) if "The attribute 'data-" in error.message else None
        return element is None or element[1] not in self.with_data

    def __getstate__(self) -> dict[str, object]:
        """What another process needs to make its own."""
        return {"_spellings": self._spellings}

    def faults(self, root: etree._Element, rename: Rename = str) -> Iterator[str]:
        """What does not fit in a document, each with its line; names are told as ``rename`` has them."""
        schema = self.schema
        if schema.validate(root):
            return
        tree = root.getroottree()
        for error in self.told(schema.error_log):
            yield f"line {error.line}: {in_words(error.message, rename, _place(tree, error.path))}"


def _place(tree: etree._ElementTree[Any], path: str | None) -> Any:
    """The element at a path of the library's; None where it has prefixes of the document's own."""
    try:
        found = cast(list[Any], tree.xpath(path)) if path else []
    except etree.XPathEvalError:
        return None
    return found[0] if found and isinstance(found[0], etree._Element) else None


class Judge:
    """Holds a document against a grammar piece by piece, and keeps none of it.

    It hears what a parser has taken already: one that holds a document against a grammar tells of nothing else.
    """

    def __init__(self, grammar: Grammar) -> None:
        self._grammar = grammar
        self._parser = safe_parser(_Nothing(), grammar.schema)

    def feed(self, piece: bytes) -> None:
        """Takes the next piece. Raises DocumentError for what is refused."""
        with suppress(etree.XMLSyntaxError):
            self._parser.feed(piece)
        if len(self._log) > MOST_BREACHES and sum(map(self._grammar.is_fault, self._log)) > MOST_BREACHES:
            raise DocumentError(f"breaks the grammar of its format in more than {MOST_BREACHES} places")

    def faults(self, rename: Rename = str) -> Iterator[str]:
        """What did not fit, of which no place is known."""
        with suppress(etree.XMLSyntaxError):
            self._parser.close()
        return (in_words(each.message, rename) for each in self._grammar.told(self._log))

    @property
    def _log(self) -> Sequence[Any]:
        return cast(Sequence[Any], self._parser.feed_error_log)


class _Nothing:
    """Takes no tag, no text, and nothing at the end."""

    def close(self) -> None:
        """Needs no end."""


def in_words(message: str, rename: Rename, element: Any = None) -> str:
    """What a library says of a fault, as we say it; ``element`` is where it was found, where that is known."""
    match = _ELEMENT.search(message)
    name = _named(match[1] if match else "", rename)
    if "This element is not expected" in message:
        around = element.getparent() if element is not None else None
        place = f"has no place in {_named(str(around.tag), rename)}" if around is not None else "has no place there"
        return f"{name} {place}{_expected(message, rename)}{_hint(match[1] if match else '')}"
    if "Missing child element" in message:
        return f"{name} ends too early{_expected(message, rename)}"
    attribute = _ATTRIBUTE.search(message)
    asked = _named(attribute[1] or attribute[2], rename) if attribute else ""
    if "is not allowed" in message and "The attribute" in message:
        return f"{name} has an attribute '{asked}', which is none of its"
    if "is required but missing" in message:
        return f"{name} has no {asked}"
    if "haracter content" in message:
        text = _text_of(element)
        return f"the text '{shown(text)}' has no place in {name}" if text else f"{name} holds text, which has no place"
    if "lement content is not allowed" in message:
        return f"{name} holds elements, where only text has a place"
    return _of_value(message, f"{asked} of {name}" if asked else name)


def _of_value(message: str, called: str) -> str:
    one_of, value = _ONE_OF.search(message), _VALUE.search(message)
    if one_of:
        known = [each.strip(" '") for each in one_of[2].split(",")]
        return f"{called} is '{shown(one_of[1])}', {_listed(known)} expected"
    if value:
        return f"{called} is '{shown(value[1])}', {_KINDS.get(value[2] or '', 'another kind of value')} expected"
    return shown(re.sub(r"\{[^}]*\}", "", message), 200)


def _named(tag: str, rename: Rename) -> str:
    """A name as it is told: without a namespace that is not the format's own."""
    return shown(rename(tag).rpartition("}")[2])


def _expected(message: str, rename: Rename) -> str:
    found = _EXPECTED.search(message)
    names = [_named(each.strip(), rename) for each in found[1].split(", ") if "##other" not in each] if found else []
    return f", {_listed(names)} expected" if 0 < len(names) <= MOST_NAMED else ""


def _listed(names: Sequence[str]) -> str:
    return " or ".join(names[:MOST_NAMED]) + (" or others" if len(names) > MOST_NAMED else "")


def _hint(tag: str) -> str:
    space, _, local = tag.rpartition("}")
    return ": it is not of the namespace of MathML" if local == "math" and _MATHML not in space else ""


def _text_of(element: Any) -> str:
    """The first text of an element that is not only space."""
    texts = [element.text, *(each.tail for each in element)] if element is not None else []
    return next((each.strip() for each in texts if each and each.strip()), "")
