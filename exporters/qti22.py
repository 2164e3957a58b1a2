"""Packs in QTI 2.2: what QTI 3.0 says, in the names of 2.2."""

from __future__ import annotations

from functools import partial

from turnwright.exporters.adaptation import as_is
from turnwright.exporters.qti_package import write_package
from turnwright.exporters.version import QTI_22

NAME = "qti-2.2"
SUFFIX = ".zip"
adapt = as_is
write = partial(write_package, QTI_22)
