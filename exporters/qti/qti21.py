"""Packs in QTI 2.1: what QTI 3.0 says, in the names of 2.1, but for hints.

2.1 has no way to ask for a hint that does not end an attempt which counts (from memory of its model). Where attempts
have no end that costs nothing; where they are limited, the hints are left out, since asking could cost the answer.
"""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from ...bank.item.pack import Pack, Section
from ..adapting.adaptation import Adapted, told
from ..markup import elements
from ..packages.delivery import Delivery
from .manifest import QtiVersion
from .package import varied, write_package
from .renaming import Renaming

NAME = "qti-2.1"
SUFFIX = ".zip"
TITLE = "QTI 2.1"
COUNTED = "asking for a hint counts as one of the attempts, which have no end"
LEFT_OUT = "hints are left out: asking for one would use up one of the attempts"


def adapt(pack: Pack, delivery: Delivery) -> Adapted:
    """The pack, without hints where they would cost attempts."""
    rules = pack.sitting
    words = LEFT_OUT if rules.attempts else COUNTED

    def changed(section: Section) -> str:
        first = next(section.items(), None) if rules.hints else None
        return words if first is not None and first.hints else ""

    adapted = told(pack, delivery, changed)
    silent = replace(pack, rules=replace(rules, hints=rules.hints and not rules.attempts))
    return varied(replace(adapted, pack=silent))


# What 2.1 does not have yet, from memory of its model: ARIA, counting of attempts by button, uses of a rubric.
_RENAMING = Renaming(
    spaces={
        elements.QTI: elements.QTI_21,
        elements.CONTENT_PACKAGING: elements.CONTENT_PACKAGING_2,
        elements.QTI_METADATA: elements.QTI_METADATA_21,
    },
    files=elements.SCHEMA_FILES_21,
    instead={"aria-label": "label", "count-attempt": "", "use": ""},
)
VERSION = QtiVersion("QTIv2.1 Package", "1.0.0", "imsqti_item_xmlv2p1", "imsqti_test_xmlv2p1", _RENAMING.form)
write = partial(write_package, VERSION)
