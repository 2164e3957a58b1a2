"""What a record says of a whole pack."""

from __future__ import annotations

from turnwright.bank.item import Pack

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
