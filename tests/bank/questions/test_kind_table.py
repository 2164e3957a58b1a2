"""The table of kinds: the only place that lists them, and what it says against what items are."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path
from typing import get_args

import pytest
from turnwright import schemas
from turnwright.bank.command.options import KIND_HELP
from turnwright.bank.errors import UnknownNameError
from turnwright.bank.item.item import ChoiceEntry, Item, MatchEntry, NumberEntry, OrderEntry
from turnwright.bank.questions.kinds import KIND, KINDS, Kind, QuestionKind, kinds_of
from turnwright.bank.questions.selection import item_models
from turnwright.bank.reading.mistakes import shipped_mistakes

from tests.bank import models
from tests.bank.models import GRAVITY

ROOT = Path(__file__).parents[3]
TABLE = "bank/questions/kinds.py"
MAKERS = {"bank/questions/of_question.py", "bank/questions/of_diagram.py"}
STEPS = {"bank/writing/advice.py"}  # its keys are steps of the work, and some have the name of a kind
ENTRIES = {"number", "choice", "match"}  # kinds of what is answered, too, which formats list
ANSWERED: dict[str, type] = {
    "number": NumberEntry,
    "choice": ChoiceEntry,
    "several": ChoiceEntry,
    "order": OrderEntry,
    "match": MatchEntry,
}


def listed(source: str) -> Iterator[set[str]]:
    """The kinds that stand together in one list, set or mapping of a module, where it is no list of entries."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Tuple | ast.List | ast.Set):
            parts = node.elts
        elif isinstance(node, ast.Dict):
            parts = [each for each in node.keys if each]
        else:
            continue
        named = {each.value for each in parts if isinstance(each, ast.Constant)} & set(KINDS)
        if len(named) > 1 and named - ENTRIES:
            yield named


def test_no_module_but_the_table_and_the_makers_lists_kinds() -> None:
    modules = [path for room in ("bank", "exporters") for path in sorted((ROOT / room).rglob("*.py"))]
    spelled = {str(path.relative_to(ROOT)): list(listed(path.read_text("utf-8"))) for path in modules}
    assert spelled.pop(TABLE)
    assert {name for name, found in spelled.items() if found} <= MAKERS | STEPS


@pytest.mark.parametrize(
    "source", ['A = ("rank", "limit")', 'A = {"number": 1, "stepwise": 2}', 'A = ["number", "rank"]']
)
def test_a_list_of_kinds_is_found(source: str) -> None:
    assert list(listed(source))


def test_the_schema_of_blueprints_the_help_and_the_readme_name_all_kinds() -> None:
    assert get_args(Kind) == KINDS
    enums = re.findall(r'"enum": (\["number", [^]]*\])', (ROOT / "schemas" / "blueprint.json").read_text("utf-8"))
    assert [ast.literal_eval(each) for each in enums] == [list(KINDS)] * 2
    assert schemas.load("blueprint")["properties"]["kinds"]["items"]["enum"] == list(KINDS)
    assert f"{', '.join(KINDS)};" in KIND_HELP
    table = (ROOT / "README.md").read_text("utf-8").partition("| kind | what is asked |")[2].partition("\n\n")[0]
    assert set(re.findall(r"`(\w+)`", "".join(row.split("|")[1] for row in table.splitlines()[2:]))) == set(KINDS)


def test_kinds_are_read_in_the_order_of_the_table_and_an_unknown_one_is_refused() -> None:
    assert kinds_of("rank, number") == ("number", "rank")
    assert kinds_of("all") == KINDS
    with pytest.raises(UnknownNameError, match="stepwise"):
        kinds_of("number,stepwize")


def agrees(item: Item, kind: QuestionKind) -> bool:
    """Whether an item is what the table says of its kind."""
    several = {each.several for each in item.entries if isinstance(each, ChoiceEntry)}
    return (
        (kind.entry == "parts" or [type(each) for each in item.entries] == [ANSWERED[kind.entry]])
        and several <= {kind.entry == "several"}
        and (item.forces is not None) == (kind.figure == "shown")
        and (item.metadata.difficulty is not None) == kind.has_difficulty
        and kind.minutes in (None, item.metadata.minutes)
    )


def test_items_are_what_the_table_says_of_their_kind() -> None:
    solved = [
        models.shipped(name)
        for name in ("over-the-top.least-speed", "flat-bend.greatest-speed", "over-the-top.pull-at-the-top")
    ]
    met = set()
    for asked in item_models(solved, shipped_mistakes(), KINDS, [each.problem for each in solved]):
        items = list(asked.draw(30, GRAVITY, 1))
        assert all(agrees(item, KIND[asked.kind]) for item in items), asked.id
        scenes = [item.metadata.scene for item in items]
        assert (len(set(scenes)) < len(scenes)) == (KIND[asked.kind].per == "variant"), asked.id
        met.add(asked.kind)
    assert met >= set(KINDS) - {"match"}
