"""The formats that can be proved, as data: what names each, and how its names become those of QTI 3.0."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache, partial

from ...schemas.notation import Spelling, table
from ..strangers.documents import MATHML, XML
from ..strangers.grammar import Grammar

__all__ = [
    "CARTRIDGE_QUESTIONS",
    "DIALECTS",
    "DRAWINGS",
    "MANIFESTS",
    "MATHML",
    "QTI_30",
    "QUESTIONS",
    "SVG",
    "Dialect",
    "find_dialect",
]

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
    grammar: Grammar
    absent: tuple[str, ...] = ()
    absent_attributes: tuple[str, ...] = ()


QTI_30 = "http://www.imsglobal.org/xsd/imsqtiasi_v3p0"


@lru_cache(maxsize=4096)
def _qti_30(name: str) -> str:
    name = name.removeprefix(f"{{{QTI_30}}}")
    return f"xml:{name.removeprefix(XML)}" if name.startswith(XML) else name


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
        if local in table("qti").html:  # which is the same in 3.0; all others get a prefix there
            return local
        return f"{UNKNOWN}{local}" if "-" in local else f"qti-{_hyphens(local)}"
    if "-" in name and not name.startswith(_HYPHENATED):
        return f"{UNKNOWN}{name}"
    return _hyphens(name)


def _hyphens(name: str) -> str:
    return _IRREGULAR.get(name) or _CAPITAL.sub(lambda found: f"-{found[0].lower()}", name)


def _camel(name: str) -> str:
    """A name of 3.0 as 2.x has it."""
    if name in _AGAIN:
        return _AGAIN[name]
    return name if name.startswith(_HYPHENATED) else re.sub("-([a-z0-9])", lambda found: found[1].upper(), name)


_AGAIN = {new: old for old, new in _IRREGULAR.items()}
_FORMULAS, _PICTURES = Spelling("mathml", MATHML.strip("{}")), Spelling("svg", SVG.strip("{}"))
DRAWINGS = Grammar(_PICTURES)
_PACKAGING = (
    "http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1",
    "http://www.imsglobal.org/xsd/imscp_v1p1",
    *(f"http://www.imsglobal.org/xsd/imsccv1p{number}/imscp_v1p1" for number in (1, 2, 3)),
)
MANIFESTS = Grammar(
    *(Spelling("packaging", each) for each in _PACKAGING),
    Spelling("metadata", "http://ltsc.ieee.org/xsd/LOM"),
    *(
        Spelling("question-metadata", f"http://www.imsglobal.org/xsd/imsqti_metadata_{each}")
        for each in ("v2p1", "v2p2", "v3p0")
    ),
)


def _as_told(name: str) -> str:
    """A name of QTI 1 where the table has another: ``other`` is a word of its notation."""
    return "other" if name == "other_answer" else name


def _questions(version: str) -> Grammar:
    """QTI 1, in its namespace or, as it was at first, in none."""
    return Grammar(*(Spelling("qti1", each, version, _as_told) for each in (QTI_1, "")))


QTI_1 = "http://www.imsglobal.org/xsd/ims_qtiasiv1p2"
QUESTIONS, CARTRIDGE_QUESTIONS = _questions("1.2"), _questions("1.3")


def _in_2(namespace: str, *, has_data: bool) -> Grammar:
    return Grammar(Spelling("qti", namespace, "2", _camel, _camel, has_data), _FORMULAS, _PICTURES)


DIALECTS = (
    Dialect(
        name="qti-3.0",
        manifest_namespace="http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1",
        schema="QTI Package",
        item_type="imsqti_item_xmlv3p0",
        test_type="imsqti_test_xmlv3p0",
        namespace=QTI_30,
        rename=_qti_30,
        grammar=Grammar(Spelling("qti", QTI_30, "3", "qti-{}".format), _FORMULAS, _PICTURES),
    ),
    Dialect(
        name="qti-2.2",
        manifest_namespace="http://www.imsglobal.org/xsd/imscp_v1p1",
        schema="QTIv2.2 Package",
        item_type="imsqti_item_xmlv2p2",
        test_type="imsqti_test_xmlv2p2",
        namespace="http://www.imsglobal.org/xsd/imsqti_v2p2",
        rename=partial(_qti_2, "http://www.imsglobal.org/xsd/imsqti_v2p2"),
        grammar=_in_2("http://www.imsglobal.org/xsd/imsqti_v2p2", has_data=True),
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
        grammar=_in_2("http://www.imsglobal.org/xsd/imsqti_v2p1", has_data=False),
        absent=_ONLY_IN_30,
        absent_attributes=("aria-label", "aria-describedby", "countAttempt", "externalScored", "role", "use"),
    ),
)


def find_dialect(namespace: str, schema: str) -> Dialect | None:
    """The format of a manifest, by its namespace and by the schema that it names."""
    fitting = (each for each in DIALECTS if (each.manifest_namespace, each.schema) == (namespace, schema))
    return next(fitting, None)
