"""One item on the screen: the stem, what is right, the thinking behind what is wrong, and the solution."""

from __future__ import annotations

from typing import Any

import click

from ..item import formula
from ..item.drawing import Drawing
from ..item.item import ChoiceEntry, Entry, Item, MatchEntry, NumberEntry, Option, OrderEntry, Paragraph
from ..quantities.quantity import print_exact
from .printing import paragraph_text, print_json, print_steps, steps_data


def print_item(item: Item, as_json: bool) -> None:
    """One variant: stem, key, the thinking behind wrong options, worked solution."""
    if as_json:
        print_json(_data(item))
        return
    click.echo(f"{item.question_id}, variant {item.variant} ({item.metadata.scene})\n")
    for paragraph in item.stem:
        click.echo(paragraph_text(paragraph))
    for entry in item.entries:
        _print_entry(entry)
    if item.figure:
        click.echo(f"\nFigure: {item.figure.description}")
    print_steps(item.solution)
    if item.metadata.caution:
        click.echo(f"\nCaution: {item.metadata.caution}")


def _print_entry(entry: Entry) -> None:
    if isinstance(entry, NumberEntry):
        key = f"{print_exact(entry.key, entry.figures)} {entry.unit}".strip()
        right = f"(right within {f'{print_exact(entry.half_width)} {entry.unit}'.strip()})"
        click.echo(f"\n{formula.text(entry.symbol)} = {key}   {right}".rstrip())
        _print_recognised(entry)
        return
    click.echo(f"\n{paragraph_text(entry.prompt)}")
    if isinstance(entry, ChoiceEntry):
        for option in entry.options:
            click.echo(f" {'*' if option.right else ' '} {_shown(option.content)}")
            if not option.right:
                click.echo(f"      {', '.join(option.mistakes) or 'no named mistake'}: {option.feedback}")
    elif isinstance(entry, OrderEntry):
        for place, number in enumerate(entry.ranking, 1):
            click.echo(f" {place}. {paragraph_text(entry.options[number])}")
    else:
        for row, column in zip(entry.rows, entry.partners, strict=True):
            click.echo(f" {paragraph_text(row)}\n    goes with: {paragraph_text(entry.columns[column])}")
        for odd in _without_partner(entry):
            click.echo(f" without a partner: {odd}")


def _print_recognised(entry: NumberEntry) -> None:
    """The wrong numbers whose thinking is known."""
    if entry.recognised:
        click.echo("\nWrong numbers that are recognised:")
    for known in entry.recognised:
        number = f"{print_exact(known.value, entry.figures)} {entry.unit}".strip()
        click.echo(f"   {number}   {', '.join(known.mistakes)}: {known.feedback}")


def _without_partner(entry: MatchEntry) -> list[str]:
    """What is left over when every row has its partner."""
    return [paragraph_text(each) for place, each in enumerate(entry.columns) if place not in entry.partners]


def _shown(content: Paragraph | Drawing) -> str:
    return content.alternative if isinstance(content, Drawing) else paragraph_text(content)


def _data(item: Item) -> dict[str, Any]:
    (first, *more) = item.entries
    shown = {
        "id": item.question_id,
        "variant": item.variant,
        "scene": item.metadata.scene,
        "stem": [paragraph_text(each) for each in item.stem],
        "figure": item.figure.description if item.figure else None,
    }
    entries = entry_data(first) if not more else {"parts": [entry_data(each) for each in item.entries]}
    return {**shown, **entries, "solution": steps_data(item.solution), "caution": item.metadata.caution}


def entry_data(entry: Entry) -> dict[str, Any]:
    """An entry for a script: its key, and for each option what choosing it tells."""
    if isinstance(entry, NumberEntry):
        return {
            "key": str(entry.key),
            "half_width": str(entry.half_width),
            "unit": entry.unit,
            "figures": entry.figures,
            "recognised": [
                {"value": str(each.value), "mistakes": list(each.mistakes), "feedback": each.feedback}
                for each in entry.recognised
            ],
        }
    prompt = paragraph_text(entry.prompt)
    if isinstance(entry, ChoiceEntry):
        return {"prompt": prompt, "options": [_option(each) for each in entry.options]}
    if isinstance(entry, MatchEntry):
        pairs = zip(entry.rows, entry.partners, strict=True)
        return {
            "prompt": prompt,
            "pairs": [[paragraph_text(row), paragraph_text(entry.columns[at])] for row, at in pairs],
            "without_partner": _without_partner(entry),
        }
    return {"prompt": prompt, "order": [paragraph_text(entry.options[number]) for number in entry.ranking]}


def _option(option: Option) -> dict[str, Any]:
    return {
        "shows": _shown(option.content),
        "right": option.right,
        "mistakes": list(option.mistakes),
        "feedback": option.feedback,
    }
