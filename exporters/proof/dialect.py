"""The formats that can be proved, as data: what names each, and how its names become those of QTI 3.0."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

from turnwright.exporters.proof.documents import MATHML, XML

__all__ = ["DIALECTS", "MATHML", "QTI_30", "SVG", "Dialect", "find_dialect"]

SVG = "{http://www.w3.org/2000/svg}"


@dataclass(frozen=True)
class Dialect:
    """One format: ``rename`` turns an element's or attribute's name, namespace and all, into its QTI 3.0 name.

    Elements of ``namespace``, or of none, have a meaning in the format; all others are content that it carries.
    """

    name: str
    manifest_namespace: str
    schema: str
    item_type: str
    test_type: str
    namespace: str
    rename: Callable[[str], str]


QTI_30 = "http://www.imsglobal.org/xsd/imsqtiasi_v3p0"


@lru_cache(maxsize=4096)
def _qti_30(name: str) -> str:
    name = name.removeprefix(f"{{{QTI_30}}}")
    return f"xml:{name.removeprefix(XML)}" if name.startswith(XML) else name


DIALECTS = (
    Dialect(
        name="qti-3.0",
        manifest_namespace="http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1",
        schema="QTI Package",
        item_type="imsqti_item_xmlv3p0",
        test_type="imsqti_test_xmlv3p0",
        namespace=QTI_30,
        rename=_qti_30,
    ),
)


def find_dialect(namespace: str, schema: str) -> Dialect | None:
    """The format of a manifest, by its namespace and by the schema that it names."""
    fitting = (each for each in DIALECTS if (each.manifest_namespace, each.schema) == (namespace, schema))
    return next(fitting, None)
