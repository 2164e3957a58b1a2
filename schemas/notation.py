"""Grammars of whole formats, each a table of its own: what may stand in an element, and which attributes it has.

A line of a table is ``element: what stands in it ; attributes``, and goes on where the next one is indented::

    %rule = condition set-value          names that stand for all of these
    @shown = identifier!:id show         attributes that several elements have
    branch: test rule* ; @shown          one after the other: ? once or not, * as often as one likes, + at least once
    page: text (p | %rule)* ; any        text, with any of these in any order; and whatever attributes
    2 value: nothing ; show!:yes/no      a line that holds for version 2 alone; ! is required, then the type or values
    each %rule: test* ; @shown           the same line for each of the names

``other`` is an element of another namespace, held against that one's table where there is one; ``anything`` is what is
not looked at. ``any-other`` are attributes of other namespaces, ``any-data`` those whose names begin with ``data-``: an
XML Schema has no word for these, so that who reads its findings asks ``with_data``. Names after ``html:`` are written
as they are. A name that has a line in other versions alone does not stand in this one.

A table is turned into an XML Schema in memory, for a library checks those while it parses.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from lxml import etree

FOLDER = Path(__file__).parent
XML_SPACE = "http://www.w3.org/XML/1998/namespace"
XS = "http://www.w3.org/2001/XMLSchema"
_TYPES = {
    "": "xs:string",
    "id": "xs:NCName",
    "bool": "xs:boolean",
    "int": "xs:int",
    "count": "xs:nonNegativeInteger",
    "number": "xs:double",
}
_TOKEN = re.compile(r"[%@]?[A-Za-z][\w-]*|[()|?*+]")
_ATTRIBUTE = re.compile(r"((?:xml:)?[A-Za-z][\w-]*)(!?)(?::(@?[\w/.-]+))?$")
_XML = f"""<xs:schema xmlns:xs="{XS}" targetNamespace="{XML_SPACE}">
<xs:attribute name="lang" type="xs:string"/><xs:attribute name="base" type="xs:string"/>
<xs:attribute name="space" type="xs:string"/><xs:attribute name="id" type="xs:string"/></xs:schema>"""
_ANYTHING = '<xs:any namespace="##any" processContents="skip" minOccurs="0" maxOccurs="unbounded"/>'
_OTHER = "other"
_NOWHERE = "urn:no-namespace"


@dataclass(frozen=True)
class Spelling:
    """A table as one format writes it: ``element`` turns a name of the table into that of a file.

    ``version`` are the lines that hold, beside those that hold for all. A format without ``has_data`` knows no
    ``any-data``.
    """

    table: str
    namespace: str
    version: str = ""
    element: Callable[[str], str] = str
    attribute: Callable[[str], str] = str
    has_data: bool = True


@dataclass
class GrammarTable:
    """What a table says for one version."""

    html: set[str] = field(default_factory=set)
    names: dict[str, list[str]] = field(default_factory=dict)
    attributes: dict[str, str] = field(default_factory=dict)
    elements: dict[str, tuple[str, str]] = field(default_factory=dict)

    def expanded(self, name: str) -> Iterator[str]:
        """The elements that a name stands for."""
        if not name.startswith("%"):
            yield name
            return
        for each in self.names[name[1:]]:
            yield from self.expanded(each)


def _lines(text: str) -> Iterator[str]:
    """The lines of a table with what follows them."""
    whole = re.sub(r"\n[ \t]+(?=\S)", " ", re.sub(r"^#.*$", "", text, flags=re.MULTILINE))
    return (each for each in whole.splitlines() if each.strip())


def _of_version(text: str, version: str) -> Iterator[str]:
    """The lines that hold for a version, without its name."""
    for line in _lines(text):
        only, _, rest = line.partition(" ")
        if not only[:1].isdigit():
            yield line
        elif only == version:
            yield rest


def read(text: str, version: str = "") -> GrammarTable:
    """A table, with the lines that hold for a version: a line of its own counts more than one for all."""
    found = GrammarTable()
    for line in _of_version(text, version):
        if " = " in line and line[0] in "%@":
            name, _, rest = line.partition(" = ")
            if line[0] == "%":
                found.names[name[1:]] = rest.split()
            else:
                found.attributes[name[1:]] = rest
            continue
        name, _, rest = line.partition(":")
        content, _, attributes = rest.partition(";")
        if name == "html":
            found.html.update(rest.split())
        elif name.startswith("each "):
            each_of = name.removeprefix("each ").strip()
            found.elements.update(dict.fromkeys(found.expanded(each_of), (content.strip(), attributes.strip())))
        else:
            found.elements[name.strip()] = (content.strip(), attributes.strip())
    return found


def attributes_of(table: GrammarTable, line: str) -> dict[str, tuple[str, str]]:
    """The attributes that a line gives an element: each with ``!`` where it is required, and its type or values."""
    found: dict[str, tuple[str, str]] = {}
    for each in line.split():
        if each.startswith("@"):
            found |= attributes_of(table, table.attributes[each[1:]])
            continue
        match = _ATTRIBUTE.match(each)
        assert match, f"'{each}' is no attribute"
        found[match[1]] = match[2], match[3] or ""
    return found


def written(spelling: Spelling, table: GrammarTable, name: str) -> str:
    """A name of a table as a file has it."""
    return name if name in table.html else spelling.element(name)


class _TableSchema:
    """The XML Schema of a table."""

    def __init__(self, spelling: Spelling, table: GrammarTable) -> None:
        self._spelling, self._table = spelling, table

    def text(self, imported: Sequence[str]) -> str:
        """The schema, which leans on those of the namespaces ``imported``."""
        space = self._spelling.namespace
        named = f'xmlns="{space}" targetNamespace="{space}" ' if space else ""
        imports = "".join(f'<xs:import namespace="{each}" schemaLocation="{each}"/>' for each in imported)
        types = {line: f"line-{number}" for number, line in enumerate(dict.fromkeys(self._table.elements.values()))}
        inside = [self._type(kind, *line) for line, kind in types.items()]
        inside += [
            f'<xs:element name="{self._written(name)}" type="{types[line]}"/>'
            for name, line in self._table.elements.items()
        ]
        return (
            f'<xs:schema xmlns:xs="{XS}" {named}elementFormDefault="qualified">{imports}{"".join(inside)}</xs:schema>'
        )

    def _written(self, name: str) -> str:
        return written(self._spelling, self._table, name)

    def _type(self, name: str, content: str, attributes: str) -> str:
        """What elements of one line have in common: it takes a library its time to make an automaton of each type."""
        tokens = _TOKEN.findall(content)
        mixed = tokens[:1] in (["text"], ["anything"])
        if tokens[:1] == ["anything"]:
            inside = f"<xs:sequence>{_ANYTHING}</xs:sequence>"
        elif tokens in ([], ["nothing"], ["text"]):
            inside = ""
        else:
            inside = self._sequence(tokens[1:] if mixed else tokens)
        kind = ' mixed="true"' if mixed else ""
        held = "".join(self._attributes(attributes))
        return f'<xs:complexType name="{name}"{kind}>{inside}{held}</xs:complexType>'

    # --- what stands inside ---

    def _sequence(self, tokens: Sequence[str]) -> str:
        found, at = [], 0
        while at < len(tokens):
            if tokens[at] == "(":
                end = tokens.index(")", at)
                names, at = [each for each in tokens[at + 1 : end] if each != "|"], end + 1
            else:
                names, at = [tokens[at]], at + 1
            often = tokens[at] if at < len(tokens) and tokens[at] in "?*+" else ""
            at += bool(often)
            found.append(self._choice(names, often))
        return f"<xs:sequence>{''.join(found)}</xs:sequence>"

    def _choice(self, names: Sequence[str], often: str) -> str:
        every = dict.fromkeys(each for name in names for each in self._table.expanded(name))
        known = [each for each in every if each == _OTHER or each in self._table.elements]
        return f"<xs:choice{_OFTEN[often]}>{''.join(map(self._one, known))}</xs:choice>"

    def _one(self, name: str) -> str:
        if name == _OTHER:
            return '<xs:any namespace="##other" processContents="lax"/>'
        return f'<xs:element ref="{self._written(name)}"/>'

    # --- attributes ---

    def _attributes(self, line: str) -> Iterator[str]:
        if line.split()[-1:] == ["any"]:
            yield '<xs:anyAttribute processContents="skip"/>'
            return
        found = attributes_of(self._table, line)
        last = '<xs:anyAttribute namespace="##other" processContents="skip"/>' if found.pop("any-other", None) else ""
        found.pop("any-data", None)
        yield from (self._attribute(name, *rest) for name, rest in found.items())
        yield last

    def _attribute(self, name: str, required: str, kind: str) -> str:
        use = ' use="required"' if required else ""
        if name.startswith("xml:"):
            return f'<xs:attribute ref="{name}"{use}/>'
        kind = self._table.attributes[kind[1:]] if kind.startswith("@") else kind
        written = self._spelling.attribute(name)
        if kind in _TYPES:
            return f'<xs:attribute name="{written}" type="{_TYPES[kind]}"{use}/>'
        values = "".join(f'<xs:enumeration value="{each}"/>' for each in kind.split("/"))
        restricted = f'<xs:restriction base="xs:string">{values}</xs:restriction>'
        return f'<xs:attribute name="{written}"{use}><xs:simpleType>{restricted}</xs:simpleType></xs:attribute>'


_OFTEN = {
    "": "",
    "?": ' minOccurs="0"',
    "*": ' minOccurs="0" maxOccurs="unbounded"',
    "+": ' maxOccurs="unbounded"',
}


def compiled(spellings: Sequence[Spelling]) -> etree.XMLSchema:
    """The grammar of a file whose root is of the first of these spellings, or of any other."""
    from lxml import etree

    texts = {
        each.namespace: _TableSchema(each, table(each.table, each.version)).text([XML_SPACE]) for each in spellings
    }
    texts[XML_SPACE] = _XML

    class Made(etree.Resolver):
        """Gives the schemas made here, and nothing else."""

        def resolve(self, system_url: str | None, public_id: str | None, context: Any) -> Any:
            """The schema of a namespace."""
            known = "" if system_url == _NOWHERE else system_url or ""
            return self.resolve_string(texts[known], context, base_url=system_url)

    parser = etree.XMLParser(no_network=True, resolve_entities=False)
    parser.resolvers.add(Made())
    imports = "".join(f'<xs:import namespace="{each}" schemaLocation="{each}"/>' for each in texts if each)
    included = f'<xs:include schemaLocation="{_NOWHERE}"/>' if "" in texts else ""
    return etree.XMLSchema(etree.fromstring(f'<xs:schema xmlns:xs="{XS}">{imports}{included}</xs:schema>', parser))


def with_data(spellings: Sequence[Spelling]) -> frozenset[str]:
    """The elements that may have data of their own, each with its namespace."""
    tables = [(each, table(each.table, each.version)) for each in spellings if each.has_data]
    return frozenset(
        f"{{{spelling.namespace}}}{written(spelling, held, name)}"
        for spelling, held in tables
        for name, (_, attributes) in held.elements.items()
        if "any-data" in attributes_of(held, attributes)
    )


@cache
def table(name: str, version: str = "") -> GrammarTable:
    """The table in the file ``name.grammar``."""
    return read((FOLDER / f"{name}.grammar").read_text("utf-8"), version)
