"""A department's own spelling and unit of g: in all that is read, in nothing else, and proved like any other pack."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from turnwright.bank.command.main import run
from turnwright.bank.item.house_style import AMERICAN, BRITISH, HouseStyle
from turnwright.bank.item.item import Item
from turnwright.bank.questions.item_model import Settings
from turnwright.bank.questions.kinds import Kind
from turnwright.bank.questions.selection import pack_of, select
from turnwright.bank.reading.files import read_bank

# British endings, found without the table under test; and words that only look as if they had one
BRITISH_ENDINGS = re.compile(
    r"\b\w*(?:our|ours|oured|ouring|tre|tres|tred|yse|ysed|lled|lling|ogue|gramme|grey|tyre|kerb|towards)\b",
    re.IGNORECASE,
)
ALIKE = re.compile(
    r"(p|f|h|t|y)?ours?|(p)our(ed|ing)|\w*(pu|ro|ca|fa|fi|contro|spe|sta|prope|ki|dri|she|wa|ti|spi)ll(ed|ing)"
)
NAMES = ("over-the-top", "geostationary", "going-round", "wall-ride", "rough-bank-fast.greatest-speed/expression")
KINDS: tuple[Kind, ...] = ("number", "direction", "forces", "limit")
AMERICAN_STYLE = HouseStyle("en-US", "m/s²")


def texts(value: Any) -> Iterator[str]:
    """All texts of a value, whatever they are for."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for each in value:
            yield from texts(each)
    elif is_dataclass(value) and not isinstance(value, type):
        for each in fields(value):
            if each.name not in ("as_choice", "computation", "metadata", "mistakes"):
                yield from texts(getattr(value, each.name))


def first_items(style: HouseStyle) -> list[Item]:
    settings = Settings(variants=1, style=style, gravity=Decimal("9.81"), kinds=KINDS)
    made = pack_of(select(read_bank(), NAMES, settings).models, settings)
    return [item for section in made.sections for item in section.items()]


def test_no_british_form_is_left_and_g_has_one_unit() -> None:
    british, american = first_items(BRITISH), first_items(AMERICAN_STYLE)
    told = {word for item in american for text in texts(item) for word in BRITISH_ENDINGS.findall(text)}
    assert {each for each in told if not ALIKE.fullmatch(each.lower())} == set()
    assert any("centre" in text for item in british for text in texts(item))  # the check sees something
    assert not any("N/kg" in text for item in american for text in texts(item))
    assert [item.entry.key for item in american if item.metadata.kind == "number"] == [
        item.entry.key for item in british if item.metadata.kind == "number"
    ]


def test_words_keep_their_capitals_and_their_neighbours() -> None:
    told = AMERICAN_STYLE.words("Centre of a kilometre of grey tyres, travelled at 9.8 N/kg; the parameter is four.")
    assert told == "Center of a kilometer of gray tires, traveled at 9.8 m/s²; the parameter is four."
    assert BRITISH.words("Centre") == "Centre"
    assert not set(AMERICAN) & set(AMERICAN.values())


@pytest.mark.parametrize("form", ["qti-3.0", "qti-2.1", "qti-1.2.1"])
def test_a_pack_in_another_style_is_proved(form: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    wanted = ("--spelling", "en-US", "--g-unit", "m/s2", "--variants", "1", "--format", form)
    out = str(tmp_path / "a.zip")
    assert run(["pack", "over-the-top", "rough-bank-fast.greatest-speed", *wanted, "--out", out]) == 0
    assert "g = 9.81 m/s²" in capsys.readouterr().out
    assert run(["prove", out]) == 0
