"""How the proof reads: long documents piece by piece, formulas without a copy, and nothing past its checks for that."""

from __future__ import annotations

import tracemalloc
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from lxml import etree
from turnwright.exporters.proof import prove
from turnwright.exporters.strangers.parsing import DocumentError, parse_pieces

MANIFEST = """<manifest xmlns="http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1" identifier="M"><metadata>
<schema>QTI Package</schema></metadata><organizations/><resources><resource identifier="T" type="imsqti_test_xmlv3p0"
href="t.xml"><file href="t.xml"/>{needed}</resource>{items}</resources></manifest>"""
RESOURCE = """<resource identifier="i{n}" type="imsqti_item_xmlv3p0" href="items/{n}.xml"><metadata>{about}</metadata>
<file href="items/{n}.xml"/></resource>"""
TEST = """<qti-assessment-test xmlns="http://www.imsglobal.org/xsd/imsqtiasi_v3p0" identifier="t" title="Rides">
<qti-test-part identifier="P" navigation-mode="linear" submission-mode="individual">
<qti-assessment-section identifier="S" title="Rides" visible="false">
<qti-selection select="1"/>{refs}</qti-assessment-section></qti-test-part></qti-assessment-test>"""
ITEM = """<qti-assessment-item xmlns="http://www.imsglobal.org/xsd/imsqtiasi_v3p0" identifier="i{n}" title="The ride"
time-dependent="false">
<qti-response-declaration identifier="ANS" cardinality="single" base-type="float">
 <qti-correct-response><qti-value>12.3</qti-value></qti-correct-response></qti-response-declaration>
<qti-outcome-declaration identifier="SCORE" cardinality="single" base-type="float" normal-maximum="1"/>
<qti-item-body><p>The swing boat turns: <math xmlns="http://www.w3.org/1998/Math/MathML" alttext="a"><mi>a</mi></math>
 <qti-text-entry-interaction response-identifier="ANS"/></p></qti-item-body><qti-response-processing>
 <qti-response-condition><qti-response-if><qti-equal tolerance-mode="absolute" tolerance="0.25">
  <qti-correct identifier="ANS"/><qti-variable identifier="ANS"/></qti-equal><qti-set-outcome-value identifier="SCORE">
  <qti-base-value base-type="float">1</qti-base-value></qti-set-outcome-value></qti-response-if>
 </qti-response-condition></qti-response-processing></qti-assessment-item>"""


def pack(folder: Path, count: int, item: str = ITEM, test: str = TEST, manifest: str = MANIFEST) -> Path:
    path, numbers = folder / f"{count}.zip", range(1000, 1000 + count)
    needed = "".join(f'<dependency identifierref="i{n}"/>' for n in numbers)
    items = "".join(
        RESOURCE.format(n=n, about='<about xmlns="urn:fair">A ride at the fair.</about>' * 20) for n in numbers
    )
    refs = "".join(f'<qti-assessment-item-ref identifier="i{n}" href="items/{n}.xml"/>\n' for n in numbers)
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("imsmanifest.xml", manifest.format(needed=needed, items=items))
        archive.writestr("t.xml", test.format(refs=refs))
        for n in numbers:
            archive.writestr(f"items/{n}.xml", item.format(n=n))
    return path


def peak(path: Path) -> int:
    """The most bytes that Python held while the pack was proved."""
    tracemalloc.start()
    assert prove(path).ok
    most = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return most


def test_an_item_more_costs_little_memory(tmp_path: Path) -> None:
    few, many = pack(tmp_path, 50), pack(tmp_path, 250)
    assert prove(many).ok  # what is made once, such as compiled patterns and modules of processes, does not count
    assert peak(many) - peak(few) < 200 * 2048


def test_a_selection_may_follow_what_it_draws_from(tmp_path: Path) -> None:
    second = ITEM.replace('normal-maximum="1"', 'normal-maximum="{n}"')
    assert any("drawn alike" in each for each in prove(pack(tmp_path, 2, item=second)).findings)
    other = '<qti-assessment-item-ref identifier="x" href="items/1000.xml"><qti-weight/></qti-assessment-item-ref>'
    weighed = TEST.replace('<qti-selection select="1"/>{refs}', f'{{refs}}{other}<qti-selection select="1"/>')
    assert any("weighs unlike others of 'S'" in each for each in prove(pack(tmp_path, 2, test=weighed)).findings)


MATH = 'alttext="a"><mi>a</mi>'


@pytest.mark.parametrize(
    ("formula", "finding"),
    [
        ('alttext="a"><mi id="a">a</mi><mi id="a">a</mi>', "line 6: the id 'a' is given twice"),
        ('alttext="a"><mi id="ANS">a</mi>', "the id 'ANS' is given twice"),
        ('alttext="a"><mi\naria-describedby = "b">a</mi>', "line 7: aria-describedby names 'b'"),
        ('alttext="a"><mrow><mi data-catalog-idref="c">a</mi></mrow>', "names the catalog 'c'"),
        ('alttext="a = 12.3"><mi>a</mi>', "the key stands in the alttext 'a = 12.3'"),
        ('><mrow><mi title="12.3">a</mi></mrow>', "the key stands in the title '12.3'"),
        ("><mrow " + " ".join(f"b{n}=''" for n in range(201)) + "/>", "more than 200 attributes"),
        (">" + "<mrow>" * 100 + "</mrow>" * 100, "more than 100 deep"),
        ('><choice-interaction response-identifier="ANS"/>', "response 'ANS' has 2 interactions"),
    ],
)
def test_checks_reach_into_formulas(formula: str, finding: str, tmp_path: Path) -> None:
    findings = prove(pack(tmp_path, 1, item=ITEM.replace(MATH, formula))).findings
    assert [finding in each for each in findings if "has no place" not in each] == [True]


def test_a_number_in_a_formula_of_the_stem_may_stand_elsewhere(tmp_path: Path) -> None:
    told = ITEM.replace(MATH, 'alttext="a = 12.3"><mn>12.3</mn>')
    assert prove(pack(tmp_path, 1, item=told)).ok


class Lines:
    """A target that takes down where each tag starts."""

    def __init__(self) -> None:
        self.line = 1
        self.found: list[tuple[str, int]] = []

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        self.found.append((tag, self.line))

    def end(self, tag: str) -> None: ...

    def data(self, text: str) -> None: ...

    def close(self) -> None: ...


def pieces(text: bytes, size: int) -> Iterator[bytes]:
    return (text[at : at + size] for at in range(0, len(text), size))


@pytest.mark.parametrize("size", [1, 7, 1000])
def test_a_document_in_pieces_has_the_lines_that_a_tree_has(size: int) -> None:
    text = b'<?xml version="1.0"?>\n<a\n x="1">\r\n\n<b/> <c\n/><!-- \n -->\n<d>&lt;\n</d><e y="&#10;"/>\n</a>\n'
    lines = Lines()
    parse_pieces(pieces(text, size), lines, 100)
    tree: Any = etree.fromstring(text)
    assert lines.found == [(each.tag, each.sourceline) for each in tree.iter("*")]


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        (b"<?xml version='1.0'?>" + b" " * 100 + b"<!DOCTYPE a><a/>", "has a DOCTYPE"),
        (b"<?xml version='1.0'?>" + b" " * 100_000 + b"<!DOCTYPE a><a/>", "no root element in its first 65536 bytes"),
        (b"<?xml version='1.0'" + b" " * 500 + b"encoding='utf-7'?><a/>", "declares the encoding utf-7"),
        (b"<?xml version='1.0' encoding='US-ASCII'?><a>" + b" " * 100_000 + b"\xc3\xa9</a>", "other characters"),
        ("<?xml version='1.0' encoding='cp037'?><a/>".encode("cp037"), "is not well-formed"),
        (b"<a>" + b"<b/>" * 100 + b"</a>", "more than 100 tags"),
        (b"<a>", "is not well-formed"),
        (b"<a/><a/>", "is not well-formed"),
        (b"<a>&b;</a>", "is not well-formed"),
        (b"<a><ride:b/></a>", "prefix ride on b is not defined"),
        (b"", "is not well-formed"),
    ],
)
def test_a_hostile_document_in_pieces_is_refused(text: bytes, wrong: str) -> None:
    for size in (1, 4096):
        with pytest.raises(DocumentError, match=wrong):
            parse_pieces(pieces(text, size), Lines(), 100)


def test_damage_is_told_before_what_it_did_to_the_text(tmp_path: Path) -> None:
    path = pack(tmp_path, 1)
    with zipfile.ZipFile(path) as archive:
        content = {name: archive.read(name) for name in archive.namelist()}
    with zipfile.ZipFile(path, "w") as archive:
        for name, text in content.items():
            archive.writestr(name, text)
    path.write_bytes(path.read_bytes().replace(b"<organizations/>", b"<organizations<>"))
    assert prove(path).findings[0].startswith("imsmanifest.xml: is damaged: Bad CRC-32")
