"""Packs in QTI 3.0."""

from __future__ import annotations

from functools import partial

from turnwright.exporters.adaptation import as_is
from turnwright.exporters.qti_package import write_package
from turnwright.exporters.version import QTI_30

NAME = "qti-3.0"
SUFFIX = ".zip"
TITLE = "QTI 3.0"
adapt = as_is
write = partial(write_package, QTI_30)
