"""Packs in QTI 3.0."""

from __future__ import annotations

from functools import partial

from turnwright.bank.item import Pack
from turnwright.exporters.adaptation import Adapted, as_is
from turnwright.exporters.delivery import Delivery
from turnwright.exporters.qti_package import write_package
from turnwright.exporters.templating import with_templates
from turnwright.exporters.version import QTI_30

NAME = "qti-3.0"
SUFFIX = ".zip"
TITLE = "QTI 3.0"


def adapt(pack: Pack, delivery: Delivery) -> Adapted:
    """The pack as it is, for the format carries every kind; its variants as the delivery wants them."""
    return with_templates(as_is(pack, delivery))


write = partial(write_package, QTI_30)
