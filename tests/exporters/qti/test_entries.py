"""Every kind of entry: marked as its docstring in the bank says, with feedback in practice and silence in an exam."""

from __future__ import annotations

import itertools
import re
import zipfile
from collections import defaultdict
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from types import ModuleType
from typing import TypeAlias

import pytest
from lxml import etree
from turnwright.bank.item.item import Item
from turnwright.bank.item.pack import Pack, Section
from turnwright.bank.item.sitting import Purpose
from turnwright.exporters.adapting.adaptation import as_is
from turnwright.exporters.markup.elements import Element
from turnwright.exporters.packages.delivery import PLAIN
from turnwright.exporters.packages.naming import SectionError
from turnwright.exporters.proof.marking.item_proof import check_mask
from turnwright.exporters.qti import qti30
from turnwright.exporters.qti.number import MASK
from turnwright.exporters.qti.options import letter

from tests.exporters import samples
from tests.exporters.marking import Marking, Value, attribute, found

PLACES = {name: number for number, name in enumerate(samples.KINDS, start=1)}
PURPOSES = ("practice", "exam")
Files: TypeAlias = dict[str, bytes]
Packs: TypeAlias = dict[Purpose, Files]


def members(pack: Pack, folder: Path) -> Files:
    """What the written package holds."""
    qti30.write(as_is(pack, PLAIN), folder / "fair.zip", lambda _: None)
    with zipfile.ZipFile(folder / "fair.zip") as archive:
        return {name: archive.read(name) for name in archive.namelist()}


@pytest.fixture(scope="module")
def packs(tmp_path_factory: pytest.TempPathFactory) -> Packs:
    """A pack of every kind for each purpose."""
    folder = tmp_path_factory.mktemp("packs")
    return {
        "practice": members(samples.every_kind("practice"), folder),
        "exam": members(samples.every_kind("exam"), folder),
    }


def item(files: Files, kind: str) -> Element:
    """The first item of this kind."""
    return etree.fromstring(files[f"items/q{PLACES[kind]:02}_v001.xml"])


def only(*sections: Section) -> Pack:
    """A practice pack of these sections."""
    return replace(samples.every_kind(), sections=sections)


def text(element: Element) -> str:
    """All words of an element."""
    return str(element.xpath("string()"))


# --- all kinds together ---


@pytest.mark.parametrize("purpose", PURPOSES)
def test_every_kind_is_valid_with_all_its_references(standards: ModuleType, tmp_path: Path, purpose: Purpose) -> None:
    notes: list[str] = []
    members(samples.every_kind(purpose), tmp_path)
    assert standards.validate_package(tmp_path / "fair.zip", notes) == []
    assert notes == []


@pytest.mark.parametrize("purpose", PURPOSES)
def test_every_kind_is_the_same_bytes_in_two_runs(packs: Packs, tmp_path: Path, purpose: Purpose) -> None:
    assert members(samples.every_kind(purpose), tmp_path) == packs[purpose]


def test_an_exam_of_every_kind_says_nothing_of_mistakes_hints_and_feedback(packs: Packs) -> None:
    practice, exam = b"\n".join(packs["practice"].values()), b"\n".join(packs["exam"].values())
    spoken = [
        *samples.HINTS,
        samples.FEEDBACK,
        samples.ROOT_FORGOTTEN,
        "The centre is below.",
        "Nothing pushes outward.",
    ]
    for words in spoken:
        assert words.encode() in practice
        assert words.encode() not in exam
    assert not re.search(rb"(?i)(?<!show-)feedback(?!Type)|\bhint|slip_|scorer|endAttempt|end-attempt", exam)
    square = str(samples.number().recognised[0].value).encode()
    assert square in packs["practice"]["items/q01_v001.xml"]
    assert square not in packs["exam"]["items/q01_v001.xml"]


@pytest.mark.parametrize("purpose", PURPOSES)
def test_no_file_names_the_mistake_behind_a_wrong_answer(packs: Packs, purpose: Purpose) -> None:
    told = b"\n".join(packs[purpose].values())
    assert not re.search(rb"root-forgotten|outward-force|halved", told)


def test_the_most_that_a_candidate_can_earn_is_the_sum_over_the_questions(packs: Packs) -> None:
    test = etree.fromstring(packs["practice"]["test.xml"])
    most = found(test, "qti-outcome-declaration[@identifier='MAXSCORE']/qti-default-value/qti-value")
    assert [each.text for each in most] == [str(6 + 1 + 5)]


def test_a_candidate_is_told_how_each_kind_is_marked_and_of_no_other(packs: Packs, tmp_path: Path) -> None:
    everything = packs["practice"]["test.xml"].decode()
    numbers = members(samples.pack(), tmp_path)["test.xml"].decode()
    for words in (
        "Type each answer",
        "correctly left out",
        "two neighbouring entries",
        "each correct pair",
        "Asking for a hint",
    ):
        assert words in everything
        assert (words in numbers) == (words == "Type each answer")


def test_variants_that_are_worth_different_marks_are_refused(tmp_path: Path) -> None:
    def dearer(first: Item, second: Item) -> tuple[Item, Item]:
        return first, replace(second, entries=(replace(samples.several(2), marks=3),))

    section = samples.kind("several")
    uneven = replace(section, items=lambda: iter(dearer(*section.items())))
    with pytest.raises(SectionError, match="variant 2 is worth 3, the first is worth 2; all variants"):
        members(only(uneven), tmp_path)
    assert list(tmp_path.iterdir()) == []


# --- numbers ---


@pytest.mark.parametrize(
    ("typed", "score", "feedback", "solution"),
    [
        (None, 0, "NO_ANSWER", None),
        ("2.97", 1, "RIGHT", "SHOWN"),
        ("2.995", 1, "RIGHT", "SHOWN"),
        ("8.8209", 0, "SLIP_1", "SHOWN"),
        ("8.74", 0, "SLIP_1", "SHOWN"),
        ("8.73", 0, "OUTSIDE", "SHOWN"),
    ],
)
def test_a_wrong_number_that_is_known_brings_its_own_feedback(
    packs: Packs, typed: str | None, score: int, feedback: str, solution: str | None
) -> None:
    marked = Marking(item(packs["practice"], "number"), {"RESPONSE": Fraction(typed) if typed else None})
    assert (marked["SCORE"], marked["FEEDBACK"], marked["SOLUTION"]) == (score, feedback, solution)


# --- choices ---


@pytest.mark.parametrize("purpose", PURPOSES)
def test_only_the_right_option_earns_the_marks_and_each_names_its_feedback(packs: Packs, purpose: Purpose) -> None:
    written = item(packs[purpose], "choice")
    scores = {}
    for name in ("A", "B", "C"):
        marked = Marking(written, {"RESPONSE": name})
        scores[name] = marked["SCORE"]
        assert marked.values.get("FEEDBACK") == (name if purpose == "practice" else None)
    assert scores == {"A": 0, "B": 1, "C": 0}
    told = {each.get("identifier"): text(each) for each in found(written, "qti-modal-feedback")}
    assert told.get("C") == (samples.ROOT_FORGOTTEN if purpose == "practice" else None)


def test_options_stand_in_the_order_of_the_entry_and_shuffle_only_where_it_says_so(packs: Packs) -> None:
    wanted: list[tuple[Purpose, str, str]] = [
        ("exam", "choice", "false"),
        ("exam", "pictures", "true"),
        ("practice", "pictures", "false"),
    ]
    for purpose, kind, shuffle in wanted:
        (interaction,) = found(item(packs[purpose], kind), "qti-item-body/qti-choice-interaction")
        assert (interaction.get("shuffle"), interaction.get("max-choices")) == (shuffle, "1")
    options = found(item(packs["practice"], "choice"), ".//qti-simple-choice")
    assert [text(each) for each in options] == ["1.485 m/s", "2.97 m/s", "8.8209 m/s"]
    assert [letter(place) for place in (0, 25, 26, 52)] == ["A", "Z", "A1", "A2"]


def test_each_option_decided_rightly_is_worth_its_share(packs: Packs) -> None:
    written, right = item(packs["practice"], "several"), {"A": True, "B": False, "C": True}
    for count in range(4):
        for chosen in itertools.combinations("ABC", count):
            decided = sum((name in chosen) == is_right for name, is_right in right.items())
            marked = Marking(written, {"RESPONSE": frozenset(chosen) or None})
            assert marked["SCORE"] == (Fraction(2 * decided, 3) if chosen else 0)
            whole = "NO_ANSWER" if not chosen else "RIGHT" if decided == 3 else "PARTLY"
            assert marked["FEEDBACK"] == {whole, *chosen}
            assert marked["SOLUTION"] == ("SHOWN" if chosen else None)


def test_feedback_on_one_of_several_options_shows_the_option_and_not_its_letter(packs: Packs) -> None:
    (modal,) = found(item(packs["practice"], "several"), "qti-modal-feedback[@identifier='B']")
    assert [text(each) for each in modal[0]] == ["a force outward", "Nothing pushes outward."]


def test_drawings_that_options_share_are_written_once_under_names_that_tell_nothing(
    packs: Packs, tmp_path: Path
) -> None:
    drawings = [each.get("src") for each in found(item(packs["practice"], "pictures"), ".//qti-simple-choice/img")]
    assert len(set(drawings)) == 2
    assert all(re.fullmatch(r"\.\./media/d[a-v]{12}\.svg", each or "") for each in drawings)
    alternatives = [each.get("alt") for each in found(item(packs["practice"], "pictures"), ".//qti-simple-choice/img")]
    assert alternatives == [samples.arrow(down=True).alternative, samples.arrow(down=False).alternative]
    section = samples.kind("pictures")
    turned = replace(section, pictures=section.pictures[::-1])
    assert members(only(section), tmp_path) == members(only(turned), tmp_path)


def test_a_drawing_that_the_section_does_not_tell_of_is_refused(tmp_path: Path) -> None:
    silent = replace(samples.kind("pictures"), pictures=())
    with pytest.raises(SectionError, match="a drawing that the section does not list"):
        members(only(silent), tmp_path)


# --- orders and matches ---


def test_an_order_earns_all_marks_or_half_of_them_where_two_neighbours_are_exchanged(packs: Packs) -> None:
    written = item(packs["practice"], "order")
    earned: dict[tuple[Value, Value], list[str]] = defaultdict(list)
    for order in itertools.permutations("ABCD"):
        marked = Marking(written, {"RESPONSE": order})
        earned[marked["SCORE"], marked["FEEDBACK"]].append("".join(order))
    # 8, 6, 9 and 7 m/s stand on the page as A, B, C and D
    assert earned[Fraction(1), "RIGHT"] == ["BDAC"]
    assert earned[Fraction(1, 2), "PARTLY"] == ["BADC", "BDCA", "DBAC"]
    assert len(earned[Fraction(0), "OTHER"]) == 20
    assert Marking(written, {})["SCORE"] == 0


def test_each_right_pair_is_worth_its_share_and_all_of_them_exactly_the_marks(packs: Packs) -> None:
    written = item(packs["practice"], "match")
    for columns in itertools.product((None, "C1", "C2"), repeat=3):
        pairs = frozenset(f"R{row} {column}" for row, column in enumerate(columns, start=1) if column)
        right = len(pairs & {"R1 C2", "R2 C1", "R3 C2"})
        score = Marking(written, {"RESPONSE": pairs or None})["SCORE"]
        assert isinstance(score, Fraction)
        assert abs(score - Fraction(right, 3)) < Fraction(1, 10**5)
        assert (score == 1) == (right == 3)
        assert (score == 0) == (right == 0)
    worth = [Fraction(attribute(each, "mapped-value")) for each in found(written, ".//qti-map-entry")]
    assert sum(worth) == 1


def test_a_column_may_serve_every_row_so_that_its_use_tells_nothing(packs: Packs) -> None:
    (interaction,) = found(item(packs["exam"], "match"), ".//qti-match-interaction")
    assert interaction.get("max-associations") == "3"
    most = [[each.get("match-max") for each in members] for members in found(interaction, "qti-simple-match-set")]
    assert most == [["1", "1", "1"], ["3", "3"]]


# --- several parts, and hints ---

ALL_RIGHT: dict[str, Value] = {
    "RESPONSE_1": frozenset({"A", "C"}),
    "RESPONSE_2": Fraction("2.97"),
    "RESPONSE_3": ("B", "D", "A", "C"),
    "RESPONSE_4": frozenset({"R1 C2", "R2 C1", "R3 C2"}),
}


@pytest.mark.parametrize("purpose", PURPOSES)
def test_the_parts_of_an_item_are_marked_each_by_itself_and_summed(packs: Packs, purpose: Purpose) -> None:
    written = item(packs[purpose], "stepwise")
    assert Marking(written, ALL_RIGHT)["SCORE"] == Marking(written, ALL_RIGHT)["MAXSCORE"] == 2 + 1 + 1 + 1
    for number, marks in enumerate((2, 1, 1, 1), start=1):
        marked = Marking(written, {f"RESPONSE_{number}": ALL_RIGHT[f"RESPONSE_{number}"]})
        assert [marked[f"SCORE_{each}"] for each in range(1, 5)] == [marks * (each == number) for each in range(1, 5)]
        assert marked["SCORE"] == marks


def test_the_solution_of_several_parts_waits_until_each_has_an_answer(packs: Packs) -> None:
    written = item(packs["practice"], "stepwise")
    assert Marking(written, {**ALL_RIGHT, "RESPONSE_2": Fraction(5)})["SOLUTION"] == "SHOWN"
    for name in ALL_RIGHT:
        assert Marking(written, {**ALL_RIGHT, name: None})["SOLUTION"] is None
    headings = found(written, "qti-item-body/div/h3")
    assert [each.text for each in headings] == ["Part 1", "Part 2", "Part 3", "Part 4"]
    for modal in found(written, "qti-modal-feedback"):
        assert f"Part {attribute(modal, 'outcome-identifier').removeprefix('FEEDBACK_')}: " in text(modal)


@pytest.mark.parametrize("kind", ["number", "stepwise"])
def test_a_hint_shows_its_level_and_those_before_and_neither_scores_nor_solves(packs: Packs, kind: str) -> None:
    written = item(packs["practice"], kind)
    answers: dict[str, Value] = {"RESPONSE": Fraction("2.97")} if kind == "number" else ALL_RIGHT
    plain = Marking(written, {**answers, "HINT_1": False, "HINT_2": False, "HINT_3": False})
    assert (plain["HINT"], plain["SOLUTION"]) == (None, "SHOWN")
    for level in (1, 2, 3):
        asked = Marking(written, {**answers, f"HINT_{level}": True})
        assert asked["HINT"] == {f"LEVEL_{each}" for each in range(1, level + 1)}
        assert asked["SCORE"] == plain["SCORE"]
        told = {name for name, value in asked.values.items() if name.startswith(("FEEDBACK", "SOLUTION")) and value}
        assert told == set()
    requests = found(written, "qti-item-body/p/qti-end-attempt-interaction")
    assert [each.get("count-attempt") for each in requests] == ["false"] * 3


# --- the mask of a box ----------------------------------------------------------------------------

TYPED = (
    "2.52", "+2.52", "-2.52", "−2.52", " 2.52 ", "2,52", "2", "2.", ".5", "12 500", "12\u202f500.5", "12,500", "2.5e3",
    "2.5E-3", "2,5e+3", "2.5x10^3", "2.5 x 10^-3", "2.5×10^3", "2.5 × 10^(−3)", "2.5*10^3", "2.5·10³", "2.5 × 10⁻³",
)  # fmt: skip
NO_NUMBERS = ("", " ", "v", "2.52 m/s", "2.52kN", "one", "2.5e", "2.5 × 10", "2.5^3", "1/2", "--2")


@pytest.mark.parametrize("read_by", ["XML Schema", "Python"])
def test_a_box_takes_numbers_as_people_type_them_and_nothing_else(read_by: str) -> None:
    """By the patterns of XML Schema, of which QTI 2.x speaks, and by those of a language that has HTML's."""
    takes = _by_schema() if read_by == "XML Schema" else lambda text: re.fullmatch(MASK, text) is not None
    assert [each for each in TYPED if not takes(each)] == []
    assert [each for each in NO_NUMBERS if takes(each)] == []


def _by_schema() -> Callable[[str], bool]:
    schema = etree.XMLSchema(
        etree.fromstring(
            '<xs:schema xmlns:xs="http://www.w3.org/2001/XMLSchema"><xs:element name="t"><xs:simpleType>'
            f'<xs:restriction base="xs:string"><xs:pattern value="{MASK}"/></xs:restriction>'
            "</xs:simpleType></xs:element></xs:schema>"
        )
    )

    def takes(text: str) -> bool:
        element = etree.Element("t")
        element.text = text
        return bool(schema.validate(element))

    return takes


@pytest.mark.parametrize(
    ("mask", "wrong"),
    [(r"[0-9]+", "refuses"), (r"[0-9.]*", "refuses"), (".*", "which is no number"), ("[", "no pattern")],
)
def test_a_mask_that_is_too_narrow_or_too_wide_is_found(mask: str, wrong: str) -> None:
    assert list(check_mask(MASK, Decimal("-12.34"))) == []
    assert any(wrong in each for each in check_mask(mask, Decimal("-12.34")))
