"""The sign-off page holds all that a reviewer needs, as text that does nothing, and asks for nothing outside itself."""

from __future__ import annotations

import base64
import hashlib
import re
from collections import Counter
from dataclasses import replace
from decimal import Decimal

import pytest
from turnwright.bank.item.item import Recognised
from turnwright.bank.model.edit import edit_of
from turnwright.bank.model.mistake import Mistake
from turnwright.bank.questions.item_model import Settings
from turnwright.bank.reading.files import read_bank
from turnwright.bank.thinking.advice import cause, feedback
from turnwright.exporters.book import Quality, page
from turnwright.exporters.book.answers import key_cell, width_text
from turnwright.exporters.book.gathering import Gathering
from turnwright.exporters.markup.elements import Element

from tests.exporters import samples
from tests.exporters.book import pages

PROGRAM = "import sys; from turnwright.bank.command.main import run; sys.exit(run(sys.argv[1:]))"
LOADING = {"src", "srcset", "data", "poster", "action", "formaction", "background", "cite", "manifest", "ping", "style"}


@pytest.fixture(scope="module")
def content() -> bytes:
    return page(pages.HEAD, pages.sheets())


@pytest.fixture(scope="module")
def root(content: bytes) -> Element:
    return pages.parsed(content)


@pytest.mark.parametrize("kind", samples.KINDS)
def test_all_that_the_items_tell_is_in_the_article(kind: str, root: Element) -> None:
    sheet = pages.sheet(kind)
    article = pages.article(root, sheet.id)
    text = pages.text_of(article)
    wanted = [words for item in sheet.told for words in pages.told_in(item)] + list(pages.solved_in(sheet.items[0]))
    assert len(wanted) > 20
    assert [words for words in wanted if words not in text] == []
    shown = Counter(each.get("alttext") for each in article.iter("math"))
    assert [each for item in sheet.told[:1] for each in pages.formulas_in(item) if each not in shown] == []


def test_a_situation_tells_its_caution_and_its_demonstration_once(root: Element) -> None:
    text = pages.text_of(root)
    for told in (samples.CAUTION, "Swing a soft ball.", "Does it stay?", "It stays while"):
        assert text.count(told) == 1, told


def test_the_head_of_an_article_states_the_facts(root: Element) -> None:
    text = pages.text_of(pages.article(root, pages.sheet("number").id))
    for fact in (
        "A lantern swung over the top", "lantern-over-the-top.least-speed/number", "Kind number", "Vertical circle",
        "algebra", "Marks 1", "Minutes 4", "Version 2", "CC-BY-4.0", "vertical-circle.least-speed",
        "contact-force.vanishes", "Checked by",
    ):  # fmt: skip
        assert fact in text


def test_the_key_stands_with_its_tolerance_and_the_right_options_are_marked(root: Element) -> None:
    number = samples.number()
    text = pages.text_of(pages.article(root, pages.sheet("number").id))
    assert f"Key v top = {number.key} m/s" in text.replace("vtop", "v top")
    assert "Right within ±0.025 m/s; three significant figures" in text
    for kind in ("choice", "pictures", "several"):
        (entry,) = samples.KINDS[kind](1).entries
        lists = pages.article(root, pages.sheet(kind).id).xpath(".//ol[@class='options']")
        marked = [bool(option.xpath(".//strong[@class='tag']")) for option in lists[0]]
        assert marked == [option.get("class") == "right" for option in lists[0]]
        assert marked == [option.right for option in entry.options]  # type: ignore[union-attr]


def test_the_table_has_a_row_for_each_variant_with_givens_and_keys(root: Element) -> None:
    rows = pages.article(root, pages.sheet("number").id).xpath(".//tbody/tr")
    cells = [[pages.text_of(cell) for cell in row] for row in rows]
    assert cells == [
        [
            str(k),
            "paper-lantern",
            f"{Decimal('0.85') + Decimal('0.05') * k} m",
            f"{samples.number(k).key} m/s ± 0.025 m/s",
        ]
        for k in (1, 2, 3)
    ]
    head = pages.article(root, pages.sheet("stepwise").id).xpath(".//thead//th")
    assert [pages.text_of(cell) for cell in head] == ["Variant", "Story", "r", "Key 1", "Key 2", "Key 3", "Key 4"]


def test_keys_in_cells_are_letters_and_what_they_stand_for() -> None:
    def cell(entry: object) -> str:
        return "".join(part.text for part in key_cell(entry))  # type: ignore[union-attr, arg-type]

    assert cell(samples.several()) == "A, C"
    assert cell(samples.pictures(2)) == "B"
    assert cell(samples.order()) == "B, D, A, C"
    assert cell(samples.matching()) == "1B, 2A, 3B"
    assert cell(samples.choice()) == f"B: {samples.number().key} m/s"


def test_a_tolerance_is_told_without_a_power_of_ten_where_it_is_easy_to_read() -> None:
    assert [width_text(Decimal(each)) for each in ("1E+1", "0.0250", "0.5", "1.5E+7")] == [
        "10", "0.025", "0.5", "1.5 × 10⁷",
    ]  # fmt: skip


def test_what_a_quality_report_leaves_open_is_told_and_listed_at_the_top() -> None:
    quality = Quality("lantern.pull", 3, {"fair": 4}, ("90 words",), ("N: so it is",), ("widen it",), {"fair: N": 12})
    sheet = replace(pages.sheet("number"), quality=quality)
    root = pages.made(sheet, pages.sheet("choice"))
    text = pages.text_of(pages.article(root, sheet.id))
    for words in ("90 words", "widen it", "N: so it is", "12: fair: N", "fair: 4", "to judge"):
        assert words in text
    assert "to judge" not in pages.text_of(pages.article(root, pages.sheet("choice").id))
    judged = root.xpath("//nav//h3[.='To judge']/following-sibling::ul[1]//a/@href")
    assert judged == [f"#{sheet.id}"]


def test_feedback_that_was_told_above_is_not_told_again_and_other_feedback_is() -> None:
    one = Mistake("one", "I halved.", edit_of("answer", "x/2"), "Look again.", "A book")
    two = Mistake("two", "I doubled.", edit_of("answer", "2*x"), "Draw it.", "A book")

    def known(*mistakes: Mistake) -> Recognised:
        why = cause(mistakes)
        return Recognised(Decimal(1), Decimal("0.1"), feedback(why), tuple(each.id for each in mistakes), cause=why)

    first = replace(samples.number(), recognised=(known(one), known(one, two), known(two), known(one)))
    item = replace(samples.least_speed(), entries=(first,))
    thoughts = {"thinking:one": one, "thinking:two": two}
    sheet = replace(pages.sheet("number"), items=(item,), shown=1, thoughts=thoughts)
    lines = [pages.text_of(each) for each in pages.made(sheet).xpath("//article//p[@class='thinking']")]
    assert lines == [
        "Your answer corresponds to this statement: “I halved.” Look again. one",
        "Several different mistakes can lead to this answer. Solve your equation again, line by line, for the quantity "
        "that is asked for. one, two",
        "Your answer corresponds to this statement: “I doubled.” Draw it. two",
        "one",
    ]


# --- nothing but text, nothing from outside -----------------------------------------------------


def test_hostile_words_are_text_everywhere() -> None:
    quiet, loud = pages.made(pages.sheet("stepwise"), pages.sheet("pictures")), pages.made(pages.hostile())
    harmless = {(each.tag, name) for each in quiet.iter("*") for name in (*each.keys(), "")}
    found = {(each.tag, name) for each in loud.iter("*") for name in (*each.keys(), "")}
    assert found - harmless <= {("mi", "mathvariant"), ("p", "class"), ("strong", "")}
    assert [len(loud.xpath(f"//{name}")) for name in ("script", "style", "img")] == [1, 1, 0]
    text = pages.text_of(loud)
    assert text.count(pages.HOSTILE_SEEN) > 30
    assert "\u202e" not in text
    assert "49" not in text


def test_nothing_is_loaded_and_every_link_leads_to_a_place_on_the_page(root: Element) -> None:
    ids = Counter(root.xpath("//@id"))
    assert [name for name, number in ids.items() if number > 1] == []
    for element in root.iter("*"):
        assert not LOADING & set(element.keys())
        assert not [name for name in element.keys() if name.startswith("on")]  # noqa: SIM118
        assert element.tag not in {"link", "iframe", "object", "embed", "base", "img", "video", "audio"}
        for name in ("href", "for", "aria-labelledby"):
            for place in (element.get(name) or "").split():
                assert place.removeprefix("#") in ids
    style = root.xpath("string(//style)")
    assert "url(" not in style
    assert "@import" not in style


def test_the_policy_names_the_digests_of_the_pages_own_style_and_script(content: bytes, root: Element) -> None:
    policy = root.xpath("string(//meta[@http-equiv='Content-Security-Policy']/@content)")
    rules = dict(rule.strip().split(" ", 1) for rule in policy.split(";"))
    assert rules["default-src"] == rules["base-uri"] == rules["form-action"] == "'none'"
    for name in ("style", "script"):
        (inside,) = re.findall(rb"<%b>(.*?)</%b>" % (name.encode(), name.encode()), content, re.S)
        digest = base64.b64encode(hashlib.sha256(inside).digest()).decode()
        assert rules[f"{name}-src"] == f"'sha256-{digest}'"


def test_each_drawing_is_on_the_page_once_and_is_shown(root: Element) -> None:
    drawn = root.xpath("//symbol/@id")
    assert len(drawn) == len(set(drawn)) == 3
    assert {f"#{each}" for each in drawn} == set(root.xpath("//use/@href"))


# --- marks and bytes -----------------------------------------------------------------------------


def marks(root: Element) -> dict[str, str]:
    return {
        each.get("id", ""): pages.text_of(each.xpath(".//p[@class='mark']/code")[0]) for each in root.iter("article")
    }


def test_the_mark_of_a_question_changes_with_its_content_and_with_nothing_else(root: Element) -> None:
    number, choice = pages.sheet("number"), pages.sheet("choice")
    before = marks(root)
    assert marks(pages.made(choice))[choice.id] == before[choice.id]
    entry = replace(samples.number(), half_width=Decimal("0.026"))
    changed = replace(number, items=(replace(number.items[0], entries=(entry,)), *number.items[1:]))
    after = marks(pages.made(changed, choice))
    assert after[choice.id] == before[choice.id]
    assert after[number.id] != before[number.id]


def test_a_date_is_on_the_page_only_where_one_is_given() -> None:
    without = pages.made(pages.sheet("number")).xpath("//header//dt[.='Date']")
    dated = pages.parsed(page(replace(pages.HEAD, date="3 May"), [pages.sheet("number")]))
    assert (without, pages.text_of(dated.xpath("//header//dt[.='Date']/..")[0])) == ([], "Date 3 May")


# --- from the bank -------------------------------------------------------------------------------


def test_the_sheets_of_a_problem_are_those_of_a_pack_and_few_variants_are_no_fault() -> None:
    from contextlib import nullcontext

    from turnwright.bank.questions.selection import find_questions, pack
    from turnwright.bank.reading.mistakes import shipped_mistakes
    from turnwright.bank.solving.cache import solved_question

    problems, settings = read_bank(), Settings(variants=3)
    gathering = Gathering(problems, ["over-the-top"], settings, 4, lambda *_: nullcontext(lambda _: None))
    sheets = list(gathering.sheets())
    solved = [solved_question(*each) for each in find_questions(problems, ["over-the-top"])]
    expected = pack(solved, shipped_mistakes(), settings, problems)
    assert [each.id for each in sheets] == [section.question_id for section in expected.sections]
    assert {each.id for each in sheets} & set(gathering.without_item) == set()
    for sheet, section in zip(sheets, expected.sections, strict=True):
        assert sheet.told == tuple(section.items())
        assert len(sheet.items) <= 4
    diagram = next(each for each in sheets if each.metadata.kind == "diagram")
    assert diagram.quality.question.startswith("over-the-top.")
    assert diagram.exist.startswith("3, one for each story")
