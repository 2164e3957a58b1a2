"""Template items: aligned from variants, written with a table of rows or a computed key, and proved row by row."""

from __future__ import annotations

import zipfile
from collections.abc import Callable, Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from types import ModuleType

import pytest
from turnwright.bank.item.formula import Number, Row, Symbol, UnitNode, equals
from turnwright.bank.item.item import Given, Item, Math, NumberEntry, Recognised, Words
from turnwright.bank.item.pack import Pack
from turnwright.bank.item.sitting import Purpose
from turnwright.exporters.adapting.adaptation import Adapted
from turnwright.exporters.adapting.alignment import UnlikeError, align
from turnwright.exporters.adapting.computing import computed
from turnwright.exporters.adapting.template import DrawnNumber, TemplateItem
from turnwright.exporters.packages.delivery import Delivery, Variants
from turnwright.exporters.proof import Report, prove
from turnwright.exporters.qti import qti30
from turnwright.exporters.running.packing import to_prove

from tests.exporters import template_samples as samples

ITEM = "items/q01_v001.xml"
WAYS: tuple[Variants, ...] = ("table", "computed")


def write(adapted: Adapted, folder: Path) -> Path:
    path = folder / "fair.zip"
    qti30.write(adapted, path, lambda _: None)
    return path


def template(way: Variants = "table") -> TemplateItem:
    (only,) = samples.adapted(way).pack.sections[0].items()
    assert isinstance(only, TemplateItem)
    return only


# --- variants laid side by side ---------------------------------------------------------------------


def test_numbers_that_differ_become_variables_one_for_each_column_however_often_it_is_printed() -> None:
    made = align(list(samples.series()))
    assert [each.values for each in made.texts[:2]] == [
        ("60.0", "75.0", "48.0", "90.0"),
        ("25.0", "32.0", "41.0", "18.5"),
    ]
    radius, angle = (part for part in made.stem[0] if isinstance(part, DrawnNumber))
    assert (radius.variable, radius.text, angle.variable) == ("TEXT_1", "60.0\u00a0cm", "TEXT_2")


def test_a_formula_keeps_its_letters_but_with_numbers_it_becomes_a_line_of_text() -> None:
    letters, with_numbers = align(list(samples.series())).solution
    assert isinstance(letters.paragraphs[0][0], Math)
    said = [(type(part).__name__, getattr(part, "text", "")) for part in with_numbers.paragraphs[0]]
    assert said == [
        ("Words", "v = √(9.8 × "), ("DrawnNumber", "60.0"), ("Words", " cm × tan "), ("DrawnNumber", "25.0°"),
        ("Words", ")"),
    ]  # fmt: skip


def test_where_one_row_has_a_longer_formula_the_whole_line_is_the_variable() -> None:
    first, second = samples.item(1), samples.item(2)
    longer = equals(Symbol("v"), Row((Number("1"), UnitNode("m/s"), Number("2"))))
    steps = (
        second.solution[0],
        replace(second.solution[1], paragraphs=((Math(longer),), *second.solution[1].paragraphs[1:])),
    )
    made = align([first, replace(second, solution=steps)])
    (line,) = made.solution[1].paragraphs[0]
    assert isinstance(line, DrawnNumber)
    assert [each.values[1] for each in made.texts if each.variable == line.variable] == ["v = 1 m/s 2"]


def _given_in_inches(item: Item) -> Item:
    return replace(item, stem=((*item.stem[0][:1], Given("r", "30", "in"), *item.stem[0][2:]),))


def _other_entry(item: Item, **changes: object) -> Item:
    return replace(item, entries=(replace(item.entry, **changes),))  # type: ignore[arg-type]


UNLIKE: dict[str, tuple[Callable[[Item], Item], str]] = {
    "words": (lambda item: replace(item, stem=((Words("A lantern"), *item.stem[0][1:]),)), "the words of the stem"),
    "a sentence": (lambda item: replace(item, stem=(item.stem[0][:2],)), "the sentences of the stem"),
    "a paragraph": (lambda item: replace(item, stem=item.stem * 2), "the number of paragraphs of the stem"),
    "a unit": (_given_in_inches, "the unit of a given"),
    "figures": (lambda item: _other_entry(item, figures=2), "what they ask for"),
    "a step": (lambda item: replace(item, solution=item.solution[:1]), "the steps of the solution"),
    "one thought for two numbers": (
        lambda item: _other_entry(item, recognised=(Recognised(Decimal(1), Decimal(0), "no", ("a",)),) * 2),
        "wrong answers of which two come from the same mistakes",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", UNLIKE)
def test_variants_that_differ_in_more_than_numbers_are_refused_with_the_difference(name: str) -> None:
    change, what = UNLIKE[name]
    with pytest.raises(UnlikeError, match=what):
        align([samples.item(1), change(samples.item(2))])


def test_two_mistakes_that_tell_the_same_stay_two_wrong_numbers() -> None:
    """The advice on an answer may fit several mistakes, so that it is no name for one of them."""
    known = [
        Recognised(Decimal(number), Decimal(0), "Check the radius.", (name,)) for number, name in ((1, "a"), (2, "b"))
    ]
    made = align(
        [_other_entry(samples.item(1), recognised=tuple(known)), _other_entry(samples.item(2), recognised=(known[1],))]
    )
    assert [(each.feedback, each.bands) for each in made.wrong_numbers] == [
        ("Check the radius.", ((Decimal(1), Decimal(0)), None)),
        ("Check the radius.", ((Decimal(2), Decimal(0)), (Decimal(2), Decimal(0)))),
    ]


def test_a_question_that_cannot_be_a_template_stays_static_and_the_table_says_why() -> None:
    pack = samples.pack()
    odd = [samples.item(1), UNLIKE["words"][0](samples.item(2))]
    section = replace(pack.sections[0], items=lambda: iter(odd), figure_of=[None, None])
    made = qti30.adapt(replace(pack, sections=(section,)), Delivery(variants="table"))
    assert list(made.pack.sections[0].items()) == odd
    assert [(each.how, each.items) for each in made.table] == [("as is", 2)]
    assert "the variants differ in the words of the stem" in made.table[0].told


def test_each_scene_has_a_template_of_its_own_and_the_test_draws_one_of_them(tmp_path: Path) -> None:
    rows = [samples.item(1), samples.item(2, "tin"), samples.item(3), samples.item(4, "tin")]
    pack = samples.pack()
    section = replace(pack.sections[0], items=lambda: iter(rows))
    made = qti30.adapt(replace(pack, sections=(section,)), Delivery(variants="table"))
    held = [
        [row.variant for row in each.rows] for each in made.pack.sections[0].items() if isinstance(each, TemplateItem)
    ]
    assert held == [[1, 3], [2, 4]]
    with zipfile.ZipFile(write(made, tmp_path)) as box:
        assert box.read("test.xml").count(b"<qti-assessment-item-ref") == 2
        assert box.read("imsmanifest.xml").count(b"itemTemplate>true") == 2


def test_a_wrong_answer_that_a_row_does_not_know_has_no_band_there() -> None:
    square, sine = template().wrong_numbers
    assert (square.feedback, sine.feedback) == (samples.ROOT_FORGOTTEN, samples.SINE)
    assert [band is not None for band in sine.bands] == [False, True, True, False]


# --- the computed key -------------------------------------------------------------------------------


def test_the_platform_rounds_the_key_as_we_do_where_that_gives_every_key() -> None:
    made = template("computed")
    assert made.computed is not None
    assert made.computed.figures == 3
    assert [row.entry.key for row in made.rows] == [each.entry.key for each in samples.series()]


def test_where_a_half_is_rounded_otherwise_every_row_keeps_its_key_unrounded() -> None:
    """2.5 at one figure is 2 to even, and 3 away from zero: then the key is 2.5, with the same tolerance around it."""
    rows = [_tie(samples.item(1), "6.25", "2"), _tie(samples.item(2), "9", "3")]
    made = computed(align(rows))
    assert made is not None
    assert made.computed is not None
    assert (made.computed.figures, [row.entry.key for row in made.rows]) == (10, [Decimal("2.5"), Decimal(3)])


def _tie(item: Item, square: str, key: str) -> Item:
    """An item whose key is the root of ``square`` at one figure."""
    from turnwright.bank.item.computation import Computation, Constant, Raised, Value

    computation = Computation(Raised(Value("x"), Constant(Decimal("0.5"))), (("x", Decimal(square)),))
    return _other_entry(
        item, key=Decimal(key), figures=1, recognised=(), half_width=Decimal("0.55"), computation=computation
    )


def test_a_question_without_a_computation_keeps_its_keys_in_the_table() -> None:
    rows = [_other_entry(each, computation=None) for each in samples.series()]
    assert computed(align(rows)) is None


# --- the file ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("purpose", ["practice", "exam"])
@pytest.mark.parametrize("way", WAYS)
def test_a_template_pack_is_valid_without_a_note_and_every_row_of_it_is_proved(
    way: Variants, purpose: Purpose, tmp_path: Path, standards: ModuleType
) -> None:
    adapted = samples.adapted(way, purpose)
    path = write(adapted, tmp_path)
    assert standards.validate_package(path) == []
    notes: list[object] = []
    with zipfile.ZipFile(path) as box:
        assert standards.validate_qti3(box.read(ITEM), notes) == notes == []
    for expected in (list(to_prove(adapted.items())), None):
        report = prove(path, expected)
        assert report.findings == ()
        assert (report.items, report.marked, report.rows, report.unmarked) == (1, 1, 4, ())


def test_an_exam_that_computes_its_key_holds_no_key_and_no_solution(tmp_path: Path) -> None:
    with zipfile.ZipFile(write(samples.adapted("computed", "exam"), tmp_path)) as box:
        text = box.read(ITEM).decode()
    for row in samples.series():
        assert f">{row.entry.key}<" not in text
    assert "feedback" not in text.lower()
    assert "rubric" not in text
    assert text.count("qti-printed-variable") == 2


def test_a_static_delivery_changes_nothing(tmp_path: Path) -> None:
    pack = samples.pack()
    assert qti30.adapt(pack, Delivery()).pack is pack
    report = _proved(write(samples.adapted("table"), tmp_path), pack)
    assert report.findings == (
        f"{ITEM}: an item without template processing expected",
        "the pack holds 1 items, 4 expected",
    )


def _proved(path: Path, pack: Pack) -> Report:
    return prove(path, to_prove(item for section in pack.sections for item in section.items()))


# --- one thing wrong at a time ----------------------------------------------------------------------


def mutations() -> Iterator[tuple[str, Variants, str, str, str]]:
    """Name, way, old text, new text and finding of each block of the file beside this one."""
    blocks = Path(__file__).with_name("test_template_mutations.txt").read_text("utf-8").split("\n# ")[1:]
    for block in blocks:
        name, way, *lines = block.strip().split("\n")
        old, new, finding = ("".join(line[2:] for line in lines if line[0] == sign) for sign in "-+=")
        yield name, "computed" if way == "computed" else "table", old, new, finding


@pytest.mark.parametrize(
    ("way", "old", "new", "finding"), [pytest.param(*each[1:], id=each[0]) for each in mutations()]
)
def test_each_thing_wrong_with_a_template_is_found(
    way: Variants, old: str, new: str, finding: str, tmp_path: Path
) -> None:
    adapted = samples.adapted(way)
    path = write(adapted, tmp_path)
    with zipfile.ZipFile(path) as box:
        members = {each: box.read(each).decode() for each in box.namelist()}
    assert old in members[ITEM]
    everywhere = -1 if old.startswith("qti-") else 1
    members[ITEM] = members[ITEM].replace(old, new, everywhere)
    with zipfile.ZipFile(path, "w") as box:
        for member, content in members.items():
            box.writestr(member, content)
    findings = prove(path, to_prove(adapted.items())).findings
    assert any(finding in each for each in findings), findings


def test_the_entry_of_a_template_is_that_of_its_first_row() -> None:
    made = template()
    assert isinstance(made.entry, NumberEntry)
    assert made.entry == made.rows[0].entry
