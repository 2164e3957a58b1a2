"""The picture above a question is the one that was asked for, and what a file says of a sketch is checked."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from turnwright.bank.errors import BankFaultsError
from turnwright.bank.item.drawing import Drawing
from turnwright.bank.item.item import Item, SolutionDrawing
from turnwright.bank.questions.item_model import Settings
from turnwright.bank.questions.kinds import KIND, KINDS
from turnwright.bank.questions.selection import select
from turnwright.bank.questions.stem_pictures import StemPicture
from turnwright.bank.reading.files import read_problem, shipped_files

from tests.bank import models

FILE = next(each for each in shipped_files() if each.stem == "loop-from-a-ramp")


def items(picture: StemPicture) -> list[Item]:
    """One item of each question of a problem that has all kinds."""
    bank = tuple(models.shipped_problems().values())
    chosen = select(bank, ["big-wheel"], Settings(kinds=KINDS, every=True, stem_picture=picture))
    return [item for asked in chosen.models for item in asked.draw(1, Decimal("9.8"), 1)]


def drawn_in_solution(item: Item) -> list[Drawing]:
    parts = (part for step in item.solution for paragraph in step.paragraphs for part in paragraph)
    return [part.drawing for part in parts if isinstance(part, SolutionDrawing)]


def test_a_sketch_stands_above_a_question_and_the_force_diagram_in_its_solution() -> None:
    for item in items("sketch"):
        kind = KIND[item.metadata.kind]  # type: ignore[index]
        assert (item.figure is not None) == (kind.name not in ("graph", "match")), item.question_id
        assert item.figure is None or item.figure.subject == "situation"
        told = any(step.stage == "free body" for step in item.solution)
        assert any(each.subject == "forces" for each in drawn_in_solution(item)) == told, item.question_id


def test_the_force_diagram_stands_only_above_what_it_does_not_answer() -> None:
    shown = {item.metadata.kind for item in items("forces") if item.figure}
    assert shown == {each.name for each in KIND.values() if each.figure == "shown"}
    assert all(item.figure.subject == "forces" for item in items("forces") if item.figure)


def test_no_picture_stands_where_none_is_wanted() -> None:
    assert not any(item.figure for item in items("none"))


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("of: ramp-loop-toy", "of: ramp-loop-toi", r"sketch\.of: found 'ramp-loop-toi'; did you mean 'ramp-loop-toy'"),
        ("body: car,", "body: cars,", r"sketch\.body: found 'cars'; did you mean 'car'"),
        ("height: h}", "height: H}", r"'H'"),
        ("height: h}", "height: m}", r"quantities\.m\.unit: found '\w+'; expected a unit such as 'm'"),
    ],
)
def test_what_a_file_says_of_a_sketch_is_checked(old: str, new: str, says: str, tmp_path: Path) -> None:
    text = FILE.read_text("utf-8")
    assert old in text
    path = tmp_path / FILE.name
    path.write_text(text.replace(old, new, 1), "utf-8")
    with pytest.raises(BankFaultsError, match=says):
        read_problem(path)


def test_a_body_that_nobody_describes_is_a_ball(tmp_path: Path) -> None:
    path = tmp_path / FILE.name
    path.write_text(FILE.read_text("utf-8").replace(", body: car", "", 1), "utf-8")
    (look, *_) = [scene.sketch.look for scene in read_problem(path).scenes if scene.sketch]
    assert look == "ball"
