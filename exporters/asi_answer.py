"""Where the answer to an item of QTI 1.2.1 goes: options, or a box."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

from turnwright.bank.drawing import Drawing
from turnwright.bank.item import ChoiceEntry, NumberEntry, Paragraph
from turnwright.exporters import hypertext
from turnwright.exporters.asi import ASI, RESPONSE, add_html
from turnwright.exporters.elements import Element
from turnwright.exporters.options import letter

Source: TypeAlias = Callable[[Drawing], str]

SEVERAL = "Choose every option that is right; there may be more than one."


def asked(entry: NumberEntry | ChoiceEntry) -> str:
    """What the page says between the stem and the place for the answer."""
    if isinstance(entry, ChoiceEntry):
        prompt = hypertext.paragraph(entry.prompt) if entry.prompt else ""
        return prompt + (f"<p>{SEVERAL}</p>" if entry.several else "")
    return _line(entry) + f"<p>{hypertext.text(_how_exact(entry))}</p>"


def _line(entry: NumberEntry) -> str:
    unit = "degrees (°)" if entry.unit == "°" else entry.unit
    name = hypertext.text(entry.name)
    told = f"Type the {name}, {hypertext.math(entry.symbol)}, in {hypertext.text(unit)}, without the unit."
    return f"<p>{told if unit else f'Type the {name}, {hypertext.math(entry.symbol)}.'}</p>"


def _how_exact(entry: NumberEntry) -> str:
    figures = "1 significant figure" if entry.figures == 1 else f"{entry.figures} significant figures"
    if not entry.spellings:
        return f"Give {figures}, with a decimal point where one is needed. A power of ten may be typed as in 1.2e3."
    power = any("e" in each for each in entry.spellings)
    more = " A power of ten is typed as in 1.2e3, without spaces." if power else ""
    return f"Give {figures}, no more and no fewer: digits only, with a decimal point where one is needed.{more}"


def add_answer(presentation: Element, entry: NumberEntry | ChoiceEntry, source: Source) -> None:
    """Adds the options or the box."""
    if isinstance(entry, ChoiceEntry):
        _add_options(presentation, entry, source)
    elif entry.spellings:
        ASI.add(ASI.add(presentation, "response_str", ident=RESPONSE, rcardinality="Single"), "render_fib")
    else:
        box = ASI.add(presentation, "response_num", ident=RESPONSE, rcardinality="Single", numtype="Decimal")
        ASI.add(box, "render_fib", fibtype="Decimal")


def _add_options(presentation: Element, entry: ChoiceEntry, source: Source) -> None:
    cardinality = "Multiple" if entry.several else "Single"
    response = ASI.add(presentation, "response_lid", ident=RESPONSE, rcardinality=cardinality)
    choice = ASI.add(response, "render_choice")
    for place, option in enumerate(entry.options):
        label = ASI.add(choice, "response_label", ident=letter(place))
        add_html(label, shown(option.content, source))


def shown(content: Paragraph | Drawing, source: Source) -> str:
    """What an option shows, as HTML."""
    return (
        hypertext.picture(source(content), content.alternative)
        if isinstance(content, Drawing)
        else hypertext.inline(content)
    )
