"""The versions of QTI that packages are written in: what the same pack is called, declared and typed in each."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from turnwright.exporters import namespaces
from turnwright.exporters.elements import Element
from turnwright.exporters.renaming import Renaming


@dataclass(frozen=True)
class Version:
    """What a manifest says of its version; ``form`` gives a tree with 3.0's names the names of the version.

    ``names_standards``: the standards of a curriculum have a record of their own, by their identifiers in CASE.
    """

    schema: str
    schema_version: str
    item_type: str
    test_type: str
    form: Callable[[Element], Element]
    names_standards: bool = False


def _as_it_is(element: Element) -> Element:
    return element


_RENAMING_22 = Renaming(
    spaces={
        namespaces.QTI: namespaces.QTI_22,
        namespaces.CONTENT_PACKAGING: namespaces.CONTENT_PACKAGING_2,
        namespaces.QTI_METADATA: namespaces.QTI_METADATA_22,
    },
    files=namespaces.SCHEMA_FILES_22,
)
# What 2.1 does not have yet, from memory of its model: ARIA, counting of attempts by button, uses of a rubric.
_RENAMING_21 = Renaming(
    spaces={
        namespaces.QTI: namespaces.QTI_21,
        namespaces.CONTENT_PACKAGING: namespaces.CONTENT_PACKAGING_2,
        namespaces.QTI_METADATA: namespaces.QTI_METADATA_21,
    },
    files=namespaces.SCHEMA_FILES_21,
    instead={"aria-label": "label", "count-attempt": "", "use": ""},
)

QTI_30 = Version("QTI Package", "3.0.0", "imsqti_item_xmlv3p0", "imsqti_test_xmlv3p0", _as_it_is, True)
QTI_22 = Version("QTIv2.2 Package", "1.0.0", "imsqti_item_xmlv2p2", "imsqti_test_xmlv2p2", _RENAMING_22.form)
QTI_21 = Version("QTIv2.1 Package", "1.0.0", "imsqti_item_xmlv2p1", "imsqti_test_xmlv2p1", _RENAMING_21.form)
