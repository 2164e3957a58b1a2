"""The formats that can be proved, as data: what names each, and how its names become those of QTI 3.0."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache, partial

from ..strangers.documents import MATHML, XML

__all__ = ["DIALECTS", "MATHML", "QTI_30", "SVG", "Dialect", "find_dialect"]

SVG = "{http://www.w3.org/2000/svg}"


@dataclass(frozen=True)
class Dialect:
    """One format: ``rename`` turns an element's or attribute's name, namespace and all, into its QTI 3.0 name.

    Elements of ``namespace``, or of none, have a meaning in the format; all others are content that it carries.
    ``absent`` are elements by their 3.0 names and ``absent_attributes`` by their own that only other formats have.
    """

    name: str
    manifest_namespace: str
    schema: str
    item_type: str
    test_type: str
    namespace: str
    rename: Callable[[str], str]
    absent: tuple[str, ...] = ()
    absent_attributes: tuple[str, ...] = ()


QTI_30 = "http://www.imsglobal.org/xsd/imsqtiasi_v3p0"


@lru_cache(maxsize=4096)
def _qti_30(name: str) -> str:
    name = name.removeprefix(f"{{{QTI_30}}}")
    return f"xml:{name.removeprefix(XML)}" if name.startswith(XML) else name


# Names that QTI 2.x shares with HTML, which are the same in 3.0; all others get a prefix there.
_HTML_NAMES = """
a abbr acronym address article aside audio b bdi bdo big blockquote br caption cite code col colgroup dd dfn div dl dt
em figcaption figure footer h1 h2 h3 h4 h5 h6 header hr i img kbd label li nav object ol p param pre q section small
source span strong sub sup table tbody td tfoot th thead tr track tt ul var video
"""
_HTML = frozenset(_HTML_NAMES.split())
_IRREGULAR = {"durationLT": "duration-lt", "durationGTE": "duration-gte"}
_CAPITAL = re.compile(r"(?<=[a-z0-9])[A-Z]")
_HYPHENATED = ("aria-", "data-")
_ONLY_IN_30 = ("qti-content-body", "qti-catalog-info", "qti-portable-custom-interaction")
UNKNOWN = "?"


@lru_cache(maxsize=4096)
def _qti_2(namespace: str, name: str) -> str:
    """A name of QTI 2.x as 3.0 has it; one that only 3.0 could have is marked, so that it means nothing."""
    if name.startswith("{"):
        space, _, local = name[1:].rpartition("}")
        if space != namespace:
            return f"xml:{local}" if f"{{{space}}}" == XML else name
        if local in _HTML:
            return local
        return f"{UNKNOWN}{local}" if "-" in local else f"qti-{_hyphens(local)}"
    if "-" in name and not name.startswith(_HYPHENATED):
        return f"{UNKNOWN}{name}"
    return _hyphens(name)


def _hyphens(name: str) -> str:
    return _IRREGULAR.get(name) or _CAPITAL.sub(lambda found: f"-{found[0].lower()}", name)


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
    Dialect(
        name="qti-2.2",
        manifest_namespace="http://www.imsglobal.org/xsd/imscp_v1p1",
        schema="QTIv2.2 Package",
        item_type="imsqti_item_xmlv2p2",
        test_type="imsqti_test_xmlv2p2",
        namespace="http://www.imsglobal.org/xsd/imsqti_v2p2",
        rename=partial(_qti_2, "http://www.imsglobal.org/xsd/imsqti_v2p2"),
        absent=_ONLY_IN_30,
    ),
    Dialect(
        name="qti-2.1",
        manifest_namespace="http://www.imsglobal.org/xsd/imscp_v1p1",
        schema="QTIv2.1 Package",
        item_type="imsqti_item_xmlv2p1",
        test_type="imsqti_test_xmlv2p1",
        namespace="http://www.imsglobal.org/xsd/imsqti_v2p1",
        rename=partial(_qti_2, "http://www.imsglobal.org/xsd/imsqti_v2p1"),
        absent=_ONLY_IN_30,
        absent_attributes=("aria-label", "aria-describedby", "countAttempt", "externalScored", "role", "use"),
    ),
)


def find_dialect(namespace: str, schema: str) -> Dialect | None:
    """The format of a manifest, by its namespace and by the schema that it names."""
    fitting = (each for each in DIALECTS if (each.manifest_namespace, each.schema) == (namespace, schema))
    return next(fitting, None)
