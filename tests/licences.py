"""Which licences go with Apache-2.0, and what a package's metadata says of its own."""

from __future__ import annotations

import re
from dataclasses import dataclass
from importlib import metadata

# Permissive, or weak copyleft by the file: a program may depend on them unchanged whatever its own licence
GOOD = frozenset(
    (
        "0BSD", "Apache-2.0", "BSD-2-Clause", "BSD-3-Clause", "BSL-1.0", "CC0-1.0", "ISC", "MIT", "MIT-0", "MPL-2.0",
        "PSF-2.0", "Python-2.0", "Unlicense", "Zlib",
    )
)  # fmt: skip
# What metadata says where it has no expression: the trove classifiers and free words in use among our dependencies
MEANT = {
    "Apache Software License": "Apache-2.0",
    "Apache 2.0": "Apache-2.0",
    "BSD License": "BSD-3-Clause",
    "BSD": "BSD-3-Clause",
    "ISC License (ISCL)": "ISC",
    "MIT License": "MIT",
    "Mozilla Public License 2.0 (MPL 2.0)": "MPL-2.0",
    "Python Software Foundation License": "PSF-2.0",
}
# Packages whose metadata is silent, or whose licence is not in the list: read by a person, with the reason
EXCEPTIONS = {
    "atheris": "Apache-2.0 by its LICENSE file; for trials only, not distributed",
    "axe-playwright-python": "MIT by its LICENSE file, and axe-core in it MPL-2.0; for tests only, not distributed",
}


@dataclass(frozen=True)
class Licence:
    """What the licence is, in words, and whether it goes with ours."""

    told: str
    goes: bool


def licence(package: metadata.Distribution) -> Licence:
    """The licence of an installed package; one that is unknown doesn't go."""
    said = package.metadata
    name = package.name.lower().replace("_", "-")
    if name in EXCEPTIONS:
        return Licence(EXCEPTIONS[name], True)
    if expression := said.get("License-Expression"):
        return Licence(expression, goes(expression))
    classifiers = [each for each in said.get_all("Classifier", []) if each.startswith("License ::")]
    words = [each.rpartition(" :: ")[2] for each in classifiers] or [(said.get("License") or "nothing").strip()]
    meant = [MEANT.get(each, each) for each in words]
    return Licence(" AND ".join(meant).splitlines()[0], all(each in GOOD for each in meant))


def goes(expression: str) -> bool:
    """Whether an SPDX expression can be met with good licences: one of each OR, all of each AND."""
    tokens = re.findall(r"[()]|[\w.+-]+", expression)
    text = " ".join(
        each.lower() if each in ("AND", "OR") else each if each in "()" else str(each in GOOD) for each in tokens
    )
    return bool(re.fullmatch(r"(True|False|and|or|[() ])+", text) and eval(text))
