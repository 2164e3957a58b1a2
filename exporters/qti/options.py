"""What options are called and how they look, for all kinds of entry that have some."""

from __future__ import annotations

from collections.abc import Iterable
from string import ascii_uppercase

from ...bank.item.drawing import Drawing
from ...bank.item.item import ChoiceEntry, Paragraph, Words
from ..markup.elements import Element
from .content import Page
from .vocabulary import QTI


def letter(place: int) -> str:
    """The identifier of the option at a place on the page, counted from 0: A to Z, then A1, ..."""
    rounds, position = divmod(place, len(ascii_uppercase))
    return f"{ascii_uppercase[position]}{rounds or ''}"


def add_prompt(interaction: Element, prompt: Paragraph, page: Page) -> None:
    """What to do, as the first child of an interaction; nothing where the stem has said it."""
    if prompt:
        page.add_inline(QTI.add(interaction, "qti-prompt"), prompt)


def add_choices(parent: Element, entry: ChoiceEntry, response: str, page: Page) -> None:
    """The options of a choice entry, in the order of the page."""
    interaction = QTI.add(
        parent,
        "qti-choice-interaction",
        response_identifier=response,
        max_choices="0" if entry.several else "1",
        shuffle="true" if entry.shuffle and page.shuffle else "false",
    )
    add_prompt(interaction, entry.prompt, page)
    for place, option in enumerate(entry.options):
        choice = QTI.add(interaction, "qti-simple-choice", identifier=letter(place))
        page.add_content(choice, option.content)


def in_line(contents: Iterable[Paragraph | Drawing], between: str) -> Paragraph:
    """Options one after the other in one paragraph, a drawing by its text alternative."""
    line: list[Paragraph] = []
    for content in contents:
        line.append((Words(between),) if line else ())
        line.append((Words(content.alternative),) if isinstance(content, Drawing) else content)
    return tuple(part for paragraph in line for part in paragraph)
