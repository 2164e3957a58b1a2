"""Names of candidates, replaced as soon as they are read: a keyed digest, which needs the salt to be made again."""

from __future__ import annotations

import hmac
import secrets

LETTERS = (
    16  # of the digest in hexadecimal: two candidates in a million share one by chance once in 10 million readings
)


class Pseudonyms:
    """Makes pseudonyms with one salt. It keeps no name; without a salt it makes one that nobody gets to know."""

    def __init__(self, salt: str = "") -> None:
        self._key = salt.encode("utf-8", "surrogatepass") or secrets.token_bytes(32)

    def of(self, name: str) -> str:
        """The pseudonym of a name; spaces around it don't count, and no name has none."""
        name = name.strip()
        if not name:
            return ""
        return "c" + hmac.digest(self._key, name.encode("utf-8", "surrogatepass"), "sha256").hex()[:LETTERS]
