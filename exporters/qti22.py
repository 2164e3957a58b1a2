"""Packs in QTI 2.2: what QTI 3.0 says, in the names of 2.2."""

from __future__ import annotations

from functools import partial

from turnwright.bank.item import Pack
from turnwright.exporters.adaptation import Adapted, as_is
from turnwright.exporters.delivery import Delivery
from turnwright.exporters.qti_package import write_package
from turnwright.exporters.templating import with_templates
from turnwright.exporters.version import QTI_22

NAME = "qti-2.2"
SUFFIX = ".zip"
TITLE = "QTI 2.2"


def adapt(pack: Pack, delivery: Delivery) -> Adapted:
    """The pack as it is, for the format carries every kind; its variants as the delivery wants them."""
    return with_templates(as_is(pack, delivery))


write = partial(write_package, QTI_22)
