"""What stands where in an item, as far as its meaning hangs on it: a stray element is read by some, and not by all."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from types import MappingProxyType

from turnwright.exporters.proof.documents import Element
from turnwright.exporters.proof.findings import shown
from turnwright.exporters.proof.item_file import ItemFile

ITEM = "assessment-item"
# What may stand in an element: once, or as often as one likes (*). From the schema of QTI 2.2 (imsqti_v2p2.xsd), which
# the tests hold it against; the last line of an item is what 3.0 has beside it, from memory.
INSIDE: Mapping[str, str] = MappingProxyType(
    {
        ITEM: "response-declaration* outcome-declaration* template-declaration* template-processing stylesheet* "
        "assessment-stimulus-ref* item-body response-processing modal-feedback* apip-accessibility "
        "context-declaration* companion-materials-info catalog-info",
        "response-declaration": "default-value correct-response mapping area-mapping",
        "outcome-declaration": "default-value match-table interpolation-table",
        "template-declaration": "default-value",
        "correct-response": "value*",
        "default-value": "value*",
        "mapping": "map-entry*",
        "choice-interaction": "prompt simple-choice*",
        "order-interaction": "prompt simple-choice*",
        "match-interaction": "prompt simple-match-set*",
        "simple-match-set": "simple-associable-choice*",
    }
)
_ONCE = {
    f"qti-{name}": {f"qti-{each.rstrip('*')}": not each.endswith("*") for each in inside.split()}
    for name, inside in INSIDE.items()
}


def check_structure(item: ItemFile) -> Iterator[str]:
    """Elements and texts at places where the format has none, and two where it has one."""
    for name, inside in _ONCE.items():
        for element in item.all(name):
            yield from _check(element, inside)


def _check(element: Element, inside: Mapping[str, bool]) -> Iterator[str]:
    found = Counter(each.name for each in element.children)
    for each in element.children:
        is_extension = each.name.startswith("{") and element.name == f"qti-{ITEM}"
        if each.name not in inside and not is_extension:
            yield f"line {each.line}: {shown(each.name)} has no place in {element.name}"
        elif inside.get(each.name) and found[each.name] > 1:
            yield f"line {each.line}: {element.name} has {found[each.name]} {each.name}, 1 expected"
    for text in filter(None, (each.strip() for each in (element.text, *(each.tail for each in element.children)))):
        yield f"line {element.line}: the text '{shown(text)}' has no place in {element.name}"
