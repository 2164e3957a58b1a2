"""Names and addresses of the standards, as data; elsewhere only these constants are written.

Taken from the fact sheet on the interchange formats (QTI 3.0 of 2022, Content Packaging 1.1.4 in its QTI 3.0 profile;
QTI 2.2 from its schema and its example packages). What is said of QTI 2.1 there, and the namespace of the QTI metadata
of 2.2, is from memory; where the sheet knows no schema file, none is named, since a location is a hint and no more.
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
STANDARDS = "http://www.imsglobal.org/xsd/qti/qtiv3p0/imscsmd_v1p1"

QTI_22 = "http://www.imsglobal.org/xsd/imsqti_v2p2"
QTI_21 = "http://www.imsglobal.org/xsd/imsqti_v2p1"
CONTENT_PACKAGING_2 = "http://www.imsglobal.org/xsd/imscp_v1p1"
QTI_METADATA_22 = "http://www.imsglobal.org/xsd/imsqti_metadata_v2p2"
QTI_METADATA_21 = "http://www.imsglobal.org/xsd/imsqti_metadata_v2p1"

SCHEMA_FILES = {
    QTI: "https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqti_asiv3p0p1_v1p0.xsd",
    CONTENT_PACKAGING: "https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqtiv3p0_imscpv1p2_v1p0.xsd",
    LOM: "https://purl.imsglobal.org/spec/md/v1p3/schema/xsd/imsmd_loose_v1p3p2.xsd",
    STANDARDS: "https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqtiv3p0_csmv1p1_v1p0.xsd",
    QTI_METADATA: "https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqti_metadatav3p0_v1p0.xsd",
}
SCHEMA_FILES_22 = {
    QTI_22: "http://www.imsglobal.org/xsd/qti/qtiv2p2/imsqti_v2p2p2.xsd",
    CONTENT_PACKAGING_2: "http://www.imsglobal.org/xsd/qti/qtiv2p2/qtiv2p2_imscpv1p2_v1p0.xsd",
}
SCHEMA_FILES_21 = {
    QTI_21: "http://www.imsglobal.org/xsd/qti/qtiv2p1/imsqti_v2p1.xsd",
    CONTENT_PACKAGING_2: "http://www.imsglobal.org/xsd/qti/qtiv2p1/qtiv2p1_imscpv1p2_v1p0.xsd",
}

LANGUAGE_ATTRIBUTE = f"{{{XML}}}lang"
SPACE_ATTRIBUTE = f"{{{XML}}}space"
SCHEMA_LOCATION_ATTRIBUTE = f"{{{XSI}}}schemaLocation"

WEB_CONTENT_TYPE = "webcontent"


def schema_location(*namespaces: str) -> str:
    """The value of ``xsi:schemaLocation`` for these namespaces."""
    return " ".join(f"{namespace} {SCHEMA_FILES[namespace]}" for namespace in namespaces)
