"""Names and addresses of the standards, as data; elsewhere only these constants are written.

Taken from the fact sheet on the interchange formats (QTI 3.0 of 2022, Content Packaging 1.1.4 in its QTI 3.0 profile).
"""

from __future__ import annotations

MATHML = "http://www.w3.org/1998/Math/MathML"
SVG = "http://www.w3.org/2000/svg"
XML = "http://www.w3.org/XML/1998/namespace"
XSI = "http://www.w3.org/2001/XMLSchema-instance"

QTI = "http://www.imsglobal.org/xsd/imsqtiasi_v3p0"
CONTENT_PACKAGING = "http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1"
LOM = "http://ltsc.ieee.org/xsd/LOM"
QTI_METADATA = "http://www.imsglobal.org/xsd/imsqti_metadata_v3p0"

SCHEMA_FILES = {
    QTI: "https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqti_asiv3p0p1_v1p0.xsd",
    CONTENT_PACKAGING: "https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqtiv3p0_imscpv1p2_v1p0.xsd",
    LOM: "https://purl.imsglobal.org/spec/md/v1p3/schema/xsd/imsmd_loose_v1p3p2.xsd",
    QTI_METADATA: "https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqti_metadatav3p0_v1p0.xsd",
}

LANGUAGE_ATTRIBUTE = f"{{{XML}}}lang"
SPACE_ATTRIBUTE = f"{{{XML}}}space"
SCHEMA_LOCATION_ATTRIBUTE = f"{{{XSI}}}schemaLocation"

ITEM_TYPE = "imsqti_item_xmlv3p0"
TEST_TYPE = "imsqti_test_xmlv3p0"
WEB_CONTENT_TYPE = "webcontent"


def schema_location(*namespaces: str) -> str:
    """The value of ``xsi:schemaLocation`` for these namespaces."""
    return " ".join(f"{namespace} {SCHEMA_FILES[namespace]}" for namespace in namespaces)
