"""How an item asks for its answer, in words: what stands between its stem and the place for the answer."""

from __future__ import annotations

from collections.abc import Iterator

from turnwright.bank.item import ChoiceEntry, Math, NumberEntry, Paragraph, Words

SEVERAL = "Choose every option that is right; there may be more than one."


def how_exact(entry: NumberEntry) -> str:
    """How exact a number is to be, where symbol and unit stand around its box."""
    return f"Give the answer to {_figures(entry)}, with a decimal point where one is needed."


def asked(entry: NumberEntry | ChoiceEntry) -> Iterator[Paragraph]:
    """The whole task, where nothing can stand around the place for the answer."""
    if isinstance(entry, NumberEntry):
        unit = "degrees (°)" if entry.unit == "°" else entry.unit
        end = f", in {unit}, without the unit." if unit else "."
        yield Words(f"Type the {entry.name}, "), Math(entry.symbol), Words(end)
        yield (Words(_how_to_type(entry)),)
        return
    if entry.prompt:
        yield entry.prompt
    if entry.several:
        yield (Words(SEVERAL),)


def _how_to_type(entry: NumberEntry) -> str:
    figures = f"Give {_figures(entry)}"
    if not entry.spellings:
        return f"{figures}, with a decimal point where one is needed. A power of ten may be typed as in 1.2e3."
    power = any("e" in each for each in entry.spellings)
    more = " A power of ten is typed as in 1.2e3, without spaces." if power else ""
    return f"{figures}, no more and no fewer: digits only, with a decimal point where one is needed.{more}"


def _figures(entry: NumberEntry) -> str:
    return "1 significant figure" if entry.figures == 1 else f"{entry.figures} significant figures"
