"""What may stand where in an item: the proof's table against the schema of QTI 2.2, and stray elements in a pack."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

import pytest
from lxml import etree
from turnwright.exporters.proof import Agreed, prove
from turnwright.exporters.proof.reading.item_file import INSIDE, ITEM
from turnwright.exporters.qti.renaming import camel

from tests.exporters.qti1_packs import zipped
from tests.fuzz import packs

XS = "{http://www.w3.org/2001/XMLSchema}"
ONLY_IN_30 = {"context-declaration", "companion-materials-info", "catalog-info"}


def children(schema: etree._Element, node: etree._Element) -> Iterator[tuple[str, bool]]:
    """The elements that the schema lets stand in a type or group, each with whether it may come more than once."""
    for each in node.iter(f"{XS}element", f"{XS}group", f"{XS}extension"):
        name = (each.get("ref") or each.get("base") or each.get("name") or "").rpartition(":")[2]
        kind = etree.QName(each).localname
        around = [each, *each.iterancestors(f"{XS}sequence", f"{XS}choice")]
        many = any(one.get("maxOccurs", "1") != "1" for one in around)
        if kind == "element":
            yield name, many
        elif each.get("ref") or kind == "extension":
            found = schema.find(f"{XS}{'group' if kind == 'group' else 'complexType'}[@name='{name}']")
            for inner, often in children(schema, found) if found is not None else ():
                yield inner, often or many


@pytest.mark.parametrize("name", INSIDE)
def test_the_table_is_that_of_the_schema(name: str, standards: ModuleType) -> None:
    schema = etree.parse(Path(standards.__file__ or "").parent / "xsd" / "imsqti_v2p2.xsd").getroot()
    kind = schema.find(f"{XS}element[@name='{camel(name)}']")
    assert kind is not None
    (type_,) = schema.findall(f"{XS}complexType[@name='{str(kind.get('type')).rpartition(':')[2]}']")
    ours = {camel(each) for each in INSIDE[name].split() if each.rstrip("*") not in ONLY_IN_30}
    assert ours == {f"{child}*" if many else child for child, many in children(schema, type_)}


RULES = "<qti-response-processing><qti-exit-response/></qti-response-processing>"


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("<qti-correct-response>", f"<qti-correct-response>{RULES}", "has no place in qti-correct-response"),
        ("<qti-correct-response>", "<qti-correct-response>3", "the text '3' has no place in qti-correct-response"),
        ("<qti-item-body>", "<qti-value>3</qti-value><qti-item-body>", f"has no place in qti-{ITEM}"),
        ("<qti-item-body>", "<qti-item-body/><qti-item-body>", "has 2 qti-item-body, 1 expected"),
        ("</qti-response-declaration>", "<p/></qti-response-declaration>", "p has no place in qti-response-decl"),
        ("<qti-simple-choice", "<p>Or:</p><qti-simple-choice", "p has no place in qti-choice-interaction"),
    ],
)
def test_what_has_no_place_is_told(old: str, new: str, told: str, tmp_path: Path) -> None:
    base = "qti-3.0 choice"
    name = "items/q01_v001.xml"
    held = dict(packs.members(base))
    assert old in held[name].decode()
    held[name] = held[name].decode().replace(old, new, 1).encode()
    made = packs.adapted(base)
    agreed = Agreed(made.pack.sitting, made.delivery, made.pack.gravity)
    for report in (prove(zipped(held, tmp_path / "a.zip")), prove(tmp_path / "a.zip", made.items(), agreed=agreed)):
        assert any(told in each for each in report.findings), report.findings
