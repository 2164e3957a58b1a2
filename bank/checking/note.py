"""A note on a bank file: which rule it comes from, where it stands, and what the file answers to it."""

from __future__ import annotations

from dataclasses import dataclass

from ..errors import Place, visible
from ..model.note import RULES, NoteRule


@dataclass(frozen=True)
class Note:
    """Something that a program can't decide: ``about`` is the id of a question or a problem, ``found`` what was seen.

    ``mend`` is what would be right; that of the rule, if it is empty. The ``place`` is known once the note was held
    against its file, and ``answer`` is what stands there; ``field`` is where an answer would stand.
    """

    name: str
    about: str
    found: str
    mend: str = ""
    place: Place | None = None
    field: str = ""
    answer: str = ""

    @property
    def rule(self) -> NoteRule:
        """The rule by which the note was made; that of the glossary for a term."""
        return RULES.get(self.name, _OF_WORDS)

    def __str__(self) -> str:
        where = f"{self.place}: " if self.place else ""
        told = f"{where}note: {self.about or 'here'}: {self.found} ({self.rule.says}; {self.rule.source})"
        ask = f", or add '{self.name}: why it is right' to {self.field}" if self.field else ""
        return visible(f"{told}; {self.mend or self.rule.mend}{ask}")


_OF_WORDS = NoteRule("texts use the terms of textbooks", "common practice", "use the term")
