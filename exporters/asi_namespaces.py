"""Names and addresses of QTI 1.2.1 and Common Cartridge 1.3, as data.

Taken from section 6 of the fact sheet on the interchange formats, which is from memory: no document of the standards
body was to hand. Names of QTI's first generation are called ASI: assessment, section, item.
"""

from __future__ import annotations

ASI = "http://www.imsglobal.org/xsd/ims_qtiasiv1p2"
PLAIN_SCHEMA = "http://www.imsglobal.org/xsd/ims_qtiasiv1p2p1.xsd"
CARTRIDGE_SCHEMA = "http://www.imsglobal.org/profile/cc/ccv1p3/ccv1p3_qtiasiv1p2p1_v1p0.xsd"

PLAIN_PACKAGING = "http://www.imsglobal.org/xsd/imscp_v1p1"
PLAIN_METADATA = "http://www.imsglobal.org/xsd/imsmd_v1p2"
PLAIN_TYPE = "imsqti_xmlv1p2"

CARTRIDGE = "http://www.imsglobal.org/xsd/imsccv1p3/imscp_v1p1"
CARTRIDGE_PACKAGING_SCHEMA = "http://www.imsglobal.org/profile/cc/ccv1p3/ccv1p3_imscp_v1p2_v1p0.xsd"
CARTRIDGE_LOM = "http://ltsc.ieee.org/xsd/imsccv1p3/LOM/manifest"
CARTRIDGE_LOM_SCHEMA = "http://www.imsglobal.org/profile/cc/ccv1p3/LOM/ccv1p3_lommanifest_v1p0.xsd"
ASSESSMENT_TYPE = "imsqti_xmlv1p2/imscc_xmlv1p3/assessment"
BANK_TYPE = "imsqti_xmlv1p2/imscc_xmlv1p3/question-bank"
