"""What may stand where in a file: the grammar of items and tests against the schema of QTI 2.2, and what is told."""

from __future__ import annotations

import math
import pickle
import re
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

import pytest
from lxml import etree
from turnwright.exporters.proof import Agreed, prove
from turnwright.exporters.proof.dialect import DIALECTS, QTI_30
from turnwright.exporters.qti.renaming import camel
from turnwright.exporters.strangers.grammar import MOST_BREACHES, Grammar, Judge
from turnwright.exporters.strangers.parsing import DocumentError, parse_pieces
from turnwright.schemas import notation

from tests.exporters.qti1_packs import zipped
from tests.fuzz import packs

XS = "{http://www.w3.org/2001/XMLSchema}"
QTI_22 = next(each for each in DIALECTS if each.name == "qti-2.2")
# 2.2's names that stand for none of ours: those of HTML5 and of other namespaces are "other" in the table.
OTHER = re.compile(r"(qh5|ssml11|m2|m3|xi|apip):")
IRREGULAR = {"duration-lt": "durationLT", "duration-gte": "durationGTE"}


def written(name: str) -> str:
    """A name of the table as 2.2 has it."""
    return IRREGULAR.get(name) or (name if name.startswith("aria-") else camel(name))


# Where the table is wider than the schema, beside running text; of a sum the schema has a short list of its own.
WIDER = {"custom-interaction", "sum"}
# The published schema demands the name of a type of a target's value.
FREE = {"role", "aria-live", "aria-orientation", "align", "valign", "targetValue"}
TAKES = {
    "": None,
    "id": {"UniqueIdentifier.Type", "UniqueIdentifierRef.Type", "Identifier.Type"},
    "bool": {"xs:boolean"},
    "int": {"xs:int"},
    "count": {"xs:nonNegativeInteger"},
    "number": {"xs:double", "NonNegativeDouble.Type"},
}
Step = tuple[frozenset[str], int, float]  # the names of which one stands there, how often at least and at most
OFTEN = {"": (1, 1.0), "?": (0, 1.0), "*": (0, math.inf), "+": (1, math.inf)}


def repeated(steps: list[Step], least: int, most: float) -> list[Step]:
    """What may stand there when all of this comes several times."""
    if least == most:
        return steps * int(least)
    if len(steps) == 1:
        ((names, low, high),) = steps
        return [(names, low * least, high * most)]
    assert most == 1 or not steps, "no sequence of several may be repeated"
    return [(names, low * least, high) for names, low, high in steps]


class Schema:
    """The schema of 2.2, asked what each of its elements may hold, step by step."""

    def __init__(self, path: Path) -> None:
        root = etree.parse(path).getroot()
        self.types = {each.get("name"): each for each in root.iter(f"{XS}complexType")}
        self.simple = {each.get("name"): each for each in root.iter(f"{XS}simpleType") if each.get("name")}
        self.groups = {each.get("name"): each for each in root.iter(f"{XS}group") if each.get("name")}
        self.attribute_groups = {each.get("name"): each for each in root.findall(f"{XS}attributeGroup")}
        self.rules = [*root.iter("{http://purl.oclc.org/dsdl/schematron}rule")]
        self.elements = {each.get("name"): each for each in root.findall(f"{XS}element")}

    def type_of(self, name: str) -> etree._Element:
        return self.types[str(self.elements[name].get("type")).rpartition(":")[2]]

    def steps(self, node: etree._Element) -> list[Step]:
        least, most = int(node.get("minOccurs", 1)), float(node.get("maxOccurs", "1").replace("unbounded", "inf"))
        kind = etree.QName(node).localname
        if kind == "element":
            name = node.get("ref") or node.get("name") or ""
            return [] if OTHER.match(name) else repeated([(frozenset({name}), 1, 1)], least, most)
        inside = [self.steps(each) for each in node.iterchildren(f"{XS}*")]
        if kind == "choice":
            ways = [each for steps in inside for each in steps]
            assert all(way[1:] == (1, 1) for way in ways)
            names = frozenset().union(*(each for each, _, _ in ways))
            return repeated([(names, 1, 1)] if names else [], least, most)
        if kind == "group" and node.get("ref"):
            inside = [self.steps(self.groups[node.get("ref")])]
        if kind == "extension" and node.get("base") in self.types:
            inside.insert(0, self.steps(self.types[node.get("base")]))
        return repeated([each for steps in inside for each in steps], least, most)

    def attributes(self, node: etree._Element) -> Iterator[tuple[str, etree._Element]]:
        for each in node.iter(f"{XS}attribute", f"{XS}attributeGroup", f"{XS}extension"):
            name = each.get("ref") or each.get("name") or each.get("base") or ""
            if etree.QName(each).localname == "attribute":
                yield name, each
            else:
                known = self.attribute_groups if each.get("ref") else self.types
                if (found := known.get(name)) is not None and found is not node:
                    yield from self.attributes(found)

    def values(self, attribute: etree._Element) -> set[str]:
        """The values that an attribute may have, where they are told one by one."""
        holder = self.simple.get(attribute.get("type"), attribute)
        return {str(each.get("value")) for each in holder.iter(f"{XS}enumeration")}


def published(standards: ModuleType, name: str) -> Schema:
    return Schema(Path(standards.__file__ or "").parent / "xsd" / name)


@pytest.fixture(scope="module")
def schema(standards: ModuleType) -> Schema:
    return published(standards, "imsqti_v2p2.xsd")


TABLE = notation.table("qti", "2")


def of_the_table(names: list[str], table: notation.GrammarTable = TABLE) -> frozenset[str]:
    return frozenset(written(each) for name in names for each in table.expanded(name) if each in table.elements)


def steps_of(content: str, table: notation.GrammarTable = TABLE) -> list[Step]:
    """What the table says that may stand in an element."""
    found = re.findall(r"\(([^)]*)\)([?*+]?)|(%?[A-Za-z][\w-]*)([?*+]?)", content)
    steps = [
        (of_the_table(re.findall(r"[%\w-]+", many or one), table), *OFTEN[how + often])
        for many, how, one, often in found
    ]
    return [each for each in steps if each[0]]


def test_the_grammar_has_the_order_of_the_schema(schema: Schema) -> None:
    """In each element of 2.2 the same may stand, as often and in the same order; running text is told apart less."""
    assert schema.elements.keys() == {written(name) for name in TABLE.elements}
    text, wrong = of_the_table(["%flow"]), []
    for name, (content, _) in TABLE.elements.items():
        ours, its = steps_of(content), schema.steps(schema.type_of(written(name)))
        same = [step[1:] for step in ours] == [step[1:] for step in its] and all(
            mine == theirs or (theirs & {"p", "span"} and theirs < mine and mine - theirs < text)
            for (mine, _, _), (theirs, _, _) in zip(ours, its, strict=True)
        )
        if not same and name not in WIDER:
            wrong.append((name, ours, its))
    assert wrong == []


def test_the_grammar_has_the_attributes_of_the_schema(schema: Schema) -> None:
    """No attribute of 2.2 is refused, what it demands is demanded, and each takes the same values, of some more."""
    wrong = []
    for name, (_, attributes) in TABLE.elements.items():
        if attributes.split()[-1:] == ["any"]:
            continue
        its = dict(schema.attributes(schema.type_of(written(name))))
        held = notation.attributes_of(TABLE, attributes)
        ours = {each if each.startswith("xml:") else written(each): kind for each, kind in held.items()}
        for each, known in its.items():
            needed, kind = ours.get(each, (None, ""))
            kind = TABLE.attributes[kind[1:]] if kind.startswith("@") else kind
            values = schema.values(known)
            fits = (
                set(kind.split("/")) == values if values else known.get("type") in (TAKES[kind] or {known.get("type")})
            )
            if needed != ("!" if known.get("use") == "required" else "") or not (fits or each in FREE):
                wrong.append((name, each, needed, kind, values or known.get("type")))
    assert wrong == []


def test_the_grammar_of_manifests_is_that_of_the_schema(standards: ModuleType) -> None:
    """Content Packaging 1.1.4. Wider: an organization without an item, as 1.2 has it, and variants."""
    its, table = published(standards, "imscp_v1p1.xsd"), notation.table("packaging")
    assert table.elements.keys() - its.elements.keys() == {"variant"}
    assert its.elements.keys() <= table.elements.keys()
    wrong = {}
    for name, (content, line) in table.elements.items():
        if name == "variant" or content.strip() == "text":
            continue
        kind = its.type_of(name)
        known = [each for each in steps_of(content, table) if each[0] != {"variant"}]
        held = notation.attributes_of(table, line)
        held.pop("any-other", None)
        demanded = {each: "!" if at.get("use") == "required" else "" for each, at in its.attributes(kind)}
        if known != its.steps(kind) or {each: needed for each, (needed, _) in held.items()} != demanded:
            wrong[name] = (known, its.steps(kind), held, demanded)
    assert wrong.keys() == {"organization"}
    known, theirs = wrong["organization"][:2]
    assert [each for each in known if each not in theirs] == [(frozenset({"item"}), 0, math.inf)]


# What IEEE 1484.12.1 calls otherwise than IMS Meta-data 1.2.4, from which it was made, or puts elsewhere (from memory).
LATER = {"langstring": "string", "centity": "entity", "metadatascheme": "metadataschema"}
ELSEWHERE = {
    "general": {"catalogentry"}, "metametadata": {"catalogentry"}, "resource": {"catalogentry"}, "value": {"string"},
    "requirement": {"orcomposite", "minimumversion", "maximumversion", "name", "type"},
    "duration": {"duration", "datetime"}, "typicallearningtime": {"duration", "datetime"}, "taxon": {"taxon"},
    "annotation": {"entity", "person"},
}  # fmt: skip


def test_the_grammar_of_records_is_that_of_the_schema_they_come_from(standards: ModuleType) -> None:
    its, table = published(standards, "imsmd_v1p2p4.xsd"), notation.table("metadata")
    ours = {name.lower(): content for name, (content, _) in table.elements.items()}
    assert ours.keys() ^ {LATER.get(each, each) for each in its.elements} == {
        "catalogentry", "orcomposite", "person", "vcard"
    }  # fmt: skip
    differing = {}
    for name, content in ours.items():
        kind = its.types.get(f"{name}Type")
        held = {each.lower() for names, *_ in steps_of(content, table) for each in names}
        if kind is None or not held:
            continue
        theirs = {LATER.get(each, each) for names, *_ in its.steps(kind) for each in names}
        if held != theirs:
            differing[name] = held ^ theirs
    assert {each: found for each, found in differing.items() if found != ELSEWHERE.get(each)} == {}
    assert differing.keys() <= ELSEWHERE.keys()


def test_the_grammar_lets_the_elements_of_the_schema_have_data(schema: Schema) -> None:
    """What the schema says by assertions. Wider: three elements of a body for which it has none; one may have all."""
    rules = {str(each.get("context")): [str(one.get("test")) for one in each] for each in schema.rules}
    its = {name.removeprefix("//imsqti:") for name, tests in rules.items() if any("'data-'" in each for each in tests)}
    ours = {each.rpartition("}")[2] for each in notation.with_data([notation.Spelling("qti", "", "2", written)])}
    assert len(its) > 50
    assert its - ours == {"customInteraction"}
    assert ours - its == {"itemBody", "printedVariable", "simpleMatchSet"}


NOT_NAMES = {"text", "nothing", "anything", "other"}


@pytest.mark.parametrize("name", sorted(each.stem for each in notation.FOLDER.glob("*.grammar")))
def test_each_name_of_a_table_has_a_line(name: str) -> None:
    """A name without one in any version would be left out of all places where it should stand."""
    text = (notation.FOLDER / f"{name}.grammar").read_text("utf-8")
    versions = sorted(set(re.findall(r"^(\d\S*) ", text, re.MULTILINE))) or [""]
    tables = [notation.table(name, each) for each in versions]
    known = {each for table in tables for each in table.elements}
    for table in tables:
        assert table.html <= known
        used = {token for content, _ in table.elements.values() for token in re.findall(r"%?[A-Za-z][\w-]*", content)}
        stand = {each for token in (*used, *(f"%{name}" for name in table.names)) for each in table.expanded(token)}
        assert stand - NOT_NAMES <= known


NUMBER = "items/q01_v001.xml"


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("<qti-correct-response>", "<qti-correct-response><qti-null/>", "has no place in qti-correct-response"),
        ("<qti-correct-response>", "<qti-correct-response>3", "the text '3' has no place in qti-correct-response"),
        ("<qti-item-body>", "<qti-value>3</qti-value><qti-item-body>", "has no place in qti-assessment-item"),
        ("<qti-item-body>", "<qti-item-body/><qti-item-body>", "qti-item-body has no place in qti-assessment-item"),
        ("</qti-response-declaration>", "<p/></qti-response-declaration>", "p has no place in qti-response-decl"),
        ("<qti-simple-choice", "<p>Or:</p><qti-simple-choice", "p has no place in qti-choice-interaction"),
        ('time-dependent="false"', "", "qti-assessment-item has no time-dependent"),
        ('time-dependent="false"', 'time-dependent="no"', "is 'no', true or false expected"),
        ('cardinality="single"', 'cardinality="one"', "is 'one', multiple or ordered or record or single expected"),
        ("<qti-prompt>", '<qti-prompt score="3">', "qti-prompt has an attribute 'score', which is none of its"),
        ("<qti-value>", '<qti-value data-a="3">', "qti-value has an attribute 'data-a', which is none of its"),
        ("<math xmlns=", "<math ns=", "math has no place in p: it is not of the namespace of MathML"),
        ("<mi>v</mi><mi", "<mi", "msub ends too early"),
    ],
)
def test_what_has_no_place_is_told(old: str, new: str, told: str, tmp_path: Path) -> None:
    base = "qti-3.0 choice"
    held = dict(packs.members(base))
    assert old in held[NUMBER].decode()
    held[NUMBER] = held[NUMBER].decode().replace(old, new, 1).encode()
    made = packs.adapted(base)
    agreed = Agreed(made.pack.sitting, made.delivery, made.pack.gravity)
    for report in (prove(zipped(held, tmp_path / "a.zip")), prove(tmp_path / "a.zip", made.items(), agreed=agreed)):
        assert any(told in each for each in report.findings), report.findings


@pytest.mark.parametrize(
    "new",
    [
        '<qti-prompt data-shown="yes">',
        '<qti-prompt><math xmlns="http://www.w3.org/1998/Math/MathML" alttext="pi"><pi/></math>',
        '<qti-prompt><picture><source srcset="a.svg"/><img src="../media/PICTURE" alt="The cord"/></picture>',
        "<qti-prompt><ruby>v<rp>(</rp><rt>speed</rt><rp>)</rp></ruby>",
    ],
)
def test_what_any_page_may_hold_is_taken(new: str, tmp_path: Path) -> None:
    """Data of its own, a formula of content markup, a picture in several sizes, and how a word is said."""
    held = dict(packs.members("qti-3.0 choice"))
    picture = next(each for each in held if each.startswith("media/")).removeprefix("media/")
    assert picture.encode() in held[NUMBER]
    held[NUMBER] = held[NUMBER].replace(b"<qti-prompt>", new.replace("PICTURE", picture).encode())
    assert prove(zipped(held, tmp_path / "a.zip")).findings == ()


class Silent:
    """Takes all tags and keeps none."""

    line = 1

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        pass

    def end(self, tag: str) -> None:
        pass

    def data(self, text: str) -> None:
        pass

    def close(self) -> None:
        pass


def test_a_document_that_breaks_its_grammar_everywhere_is_read_no_further() -> None:
    outcomes = "<qti-outcome-declaration/>" * MOST_BREACHES
    text = f'<qti-assessment-test xmlns="http://www.imsglobal.org/xsd/imsqtiasi_v3p0">{outcomes}'
    pieces = iter([text.encode()[at : at + 4096] for at in range(0, len(text), 4096)])
    with pytest.raises(DocumentError, match="breaks the grammar"):
        parse_pieces(pieces, Silent(), 10**6, Judge(DIALECTS[0].grammar))


def test_text_whose_words_nobody_keeps_is_told_without_them() -> None:
    text = b'<qti-assessment-test xmlns="http://www.imsglobal.org/xsd/imsqtiasi_v3p0">3</qti-assessment-test>'
    judge = Judge(DIALECTS[0].grammar)
    parse_pieces(iter([text]), Silent(), 200, judge)
    assert "qti-assessment-test holds text, which has no place" in [each.split("}")[-1] for each in judge.faults()]


def test_data_has_a_place_in_the_body_of_a_format_that_knows_it() -> None:
    for dialect in DIALECTS:
        held = f'<{{}} xmlns="{dialect.namespace}" data-a="1"/>'
        inside = dialect.namespace == QTI_30
        body, outside = ("qti-prompt", "qti-value") if inside else ("prompt", "value")
        told = [
            [each for each in dialect.grammar.faults(etree.fromstring(held.format(name))) if "data-a" in each]
            for name in (body, outside)
        ]
        assert [len(each) for each in told] == [dialect.name == "qti-2.1", 1], dialect.name


def test_what_is_not_well_formed_is_told_before_what_does_not_fit() -> None:
    text = '<qti-assessment-test xmlns="http://www.imsglobal.org/xsd/imsqtiasi_v3p0"><p></qti-assessment-test>'
    with pytest.raises(DocumentError, match=r"not well-formed: Opening and ending tag mismatch"):
        parse_pieces(iter([text.encode()]), Silent(), 100, Judge(DIALECTS[0].grammar))


def test_a_grammar_reaches_other_processes_without_its_schema() -> None:
    grammar = QTI_22.grammar
    root = etree.fromstring('<assessmentTest xmlns="http://www.imsglobal.org/xsd/imsqti_v2p2"/>')
    found = list(grammar.faults(root))
    sent: Grammar = pickle.loads(pickle.dumps(grammar))
    assert found and list(sent.faults(root)) == found
