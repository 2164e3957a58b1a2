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
