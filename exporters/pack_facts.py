"""What a record says of a whole pack."""

from __future__ import annotations

from turnwright.bank.item import Pack
from turnwright.bank.prose import count
from turnwright.exporters.curriculum import Taxon, taxons

LANGUAGE = "en"


def keywords(pack: Pack) -> tuple[str, ...]:
    """Families and objectives of the questions, each once; an exam has none, for they lead back to the bank."""
    if pack.purpose == "exam":
        return ()
    words = (word for each in pack.sections for word in (each.metadata.family, *each.metadata.objectives))
    return tuple(dict.fromkeys(word for word in words if word))


def licences(pack: Pack) -> str:
    """The licences of the questions, each once."""
    return ", ".join(dict.fromkeys(each.metadata.licence for each in pack.sections))


def description(pack: Pack) -> str:
    """What the pack is, in a sentence."""
    return f"{count(len(pack.sections), 'question').capitalize()} on circular motion, in variants with other numbers."


def minutes(pack: Pack) -> int:
    """How long the questions take together: the limit of the sitting, or the sum of what each takes."""
    return pack.sitting.minutes or sum(each.metadata.minutes for each in pack.sections)


def standards(pack: Pack) -> tuple[Taxon, ...]:
    """What the questions meet in a curriculum, each once; an exam tells none."""
    if pack.purpose == "exam":
        return ()
    found = (taxon for each in pack.sections for taxon in taxons(each.metadata.alignment, standards=False))
    return tuple(dict.fromkeys(found))
