"""Packs in QTI 2.2: what QTI 3.0 says, in the names of 2.2."""

from __future__ import annotations

from functools import partial

from ...bank.item.item import Pack
from ..adapting.adaptation import Adapted, as_is
from ..adapting.templating import with_templates
from ..packages.delivery import Delivery
from .package import write_package
from .version import QTI_22

NAME = "qti-2.2"
SUFFIX = ".zip"
TITLE = "QTI 2.2"


def adapt(pack: Pack, delivery: Delivery) -> Adapted:
    """The pack as it is, for the format carries every kind; its variants as the delivery wants them."""
    return with_templates(as_is(pack, delivery))


write = partial(write_package, QTI_22)
