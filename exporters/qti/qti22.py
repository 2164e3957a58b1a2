"""Packs in QTI 2.2: what QTI 3.0 says, in the names of 2.2."""

from __future__ import annotations

from functools import partial

from ...bank.item.pack import Pack
from ..adapting.adaptation import Adapted, as_is
from ..markup import elements
from ..packages.delivery import Delivery
from .manifest import QtiVersion
from .package import varied, write_package
from .renaming import Renaming

NAME = "qti-2.2"
SUFFIX = ".zip"
TITLE = "QTI 2.2"


def adapt(pack: Pack, delivery: Delivery) -> Adapted:
    """The pack as it is, for the format carries every kind; its variants as the delivery wants them."""
    return varied(as_is(pack, delivery))


_RENAMING = Renaming(
    spaces={
        elements.QTI: elements.QTI_22,
        elements.CONTENT_PACKAGING: elements.CONTENT_PACKAGING_2,
        elements.QTI_METADATA: elements.QTI_METADATA_22,
    },
    files=elements.SCHEMA_FILES_22,
)
VERSION = QtiVersion("QTIv2.2 Package", "1.0.0", "imsqti_item_xmlv2p2", "imsqti_test_xmlv2p2", _RENAMING.form)
write = partial(write_package, VERSION)
