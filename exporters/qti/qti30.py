"""Packs in QTI 3.0."""

from __future__ import annotations

from functools import partial

from ...bank.item.pack import Pack
from ..adapting.adaptation import Adapted, as_is
from ..markup.elements import Element
from ..packages.delivery import Delivery
from .manifest import QtiVersion
from .package import varied, write_package

NAME = "qti-3.0"
SUFFIX = ".zip"
TITLE = "QTI 3.0"


def adapt(pack: Pack, delivery: Delivery) -> Adapted:
    """The pack as it is, for the format carries every kind; its variants as the delivery wants them."""
    return varied(as_is(pack, delivery))


def _as_it_is(element: Element) -> Element:
    return element


VERSION = QtiVersion("QTI Package", "3.0.0", "imsqti_item_xmlv3p0", "imsqti_test_xmlv3p0", _as_it_is, True)
write = partial(write_package, VERSION)
