"""The two files of a paper: what candidates see holds every stem and no key, what markers see holds every key."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

import pytest
from turnwright.bank.errors import FigureError, TypesettingError, UsageError
from turnwright.bank.item.drawing import Disc, Drawing
from turnwright.bank.item.item import Item, NumberEntry, Option, Words
from turnwright.bank.item.pack import Pack
from turnwright.exporters.paper import Heading, PaperLayout, Papers, papers, parts_of
from turnwright.exporters.paper.keys import accepted
from turnwright.exporters.paper.marks import item_marks, step_marks
from turnwright.exporters.paper.versions import versions

from tests.exporters import samples
from tests.exporters.paper.reading import (
    elements,
    made,
    no_laws,
    opened,
    pack_of,
    poppler_text,
    runs,
    squeezed,
    text_of,
)

HOSTILE = (
    '#read("/etc/passwd") #{1+1} $x^2$ \\ *bold* _under_ @ref <label> `raw` = head [a] ~ -- // no /* no */ "q" \'s\' '
    '#eval("1+1") \\u{41} שלום'
)


@pytest.fixture(scope="module")
def three() -> Papers:
    return made(samples.pack("exam"), PaperLayout(versions=3))


def items(pack: Pack, count: int) -> Iterator[Item]:
    return (question.item for version in versions(pack, count) for question in version.questions)


@pytest.mark.parametrize("reader", [text_of, lambda content: squeezed(poppler_text(content))], ids=["pypdf", "poppler"])
def test_every_stem_is_in_the_question_paper_and_every_key_only_in_the_other(three: Papers, reader) -> None:  # type: ignore[no-untyped-def]
    asked, marking = reader(three.questions), reader(three.marking)
    for item in items(samples.pack("exam"), 3):
        for paragraph in item.stem:
            for run in runs(paragraph):
                assert squeezed(run) in asked
        entry = item.entry
        assert f"{entry.key}{squeezed(entry.unit)}" not in asked
        assert f"={entry.key}{squeezed(entry.unit)}" in marking
        assert squeezed(accepted(entry)) in marking


def test_the_question_paper_tells_nothing_of_a_solution_a_caution_or_a_mistake() -> None:
    both = made(samples.every_kind(), PaperLayout(versions=2))
    asked, marking = text_of(both.questions), text_of(both.marking)
    for secret in (samples.SOLUTION_WORDS, samples.CAUTION, samples.ROOT_FORGOTTEN, "Algebra", "Accept from"):
        assert squeezed(secret) not in asked
        assert squeezed(secret) in marking
    assert asked.count(squeezed("What is the least speed")) == 14
    assert marking.count(squeezed(samples.CAUTION)) == 1


def test_every_kind_of_entry_has_its_place_for_an_answer_and_its_key() -> None:
    both = made(samples.every_kind(), PaperLayout(versions=1))
    asked, marking = text_of(both.questions), text_of(both.marking)
    for words in ("A1.485m/s", "Choose one.", "There may be more than one.", "1.2.3.4.", "Write a letter beside"):
        assert squeezed(words) in asked
    # choice B; the picture A; several A and C; the order; the pairs; then the four parts of the last question
    rows = ("2B1", "3A1", "4A,C2", "5B,D,A,C1", "61B,2A,3B1", "7(a)A,C2", "7(c)B,D,A,C1", "7(d)1B,2A,3B1")
    for row in rows:
        assert row in marking


def test_a_changed_key_changes_the_marking_and_leaves_the_question_paper_as_it_is() -> None:
    item = samples.least_speed()
    other = replace(item, entries=(replace(item.entry, key=Decimal("7.77")),))
    one, two = made(pack_of(item)), made(pack_of(other))
    assert one.questions == two.questions
    assert "7.77m/s" in text_of(two.marking)
    assert "7.77m/s" not in text_of(one.marking)


def test_versions_differ_in_their_numbers_and_have_their_own_pages(three: Papers) -> None:
    pages = [squeezed(page.extract_text()) for page in opened(three.questions).pages]
    texts = {name: "".join(page for page in pages if f"Version{name},page" in page) for name in "ABC"}
    for name, radius in zip("ABC", ("0.90", "0.95", "1.00"), strict=True):
        assert f"radius{radius}m" in texts[name]
        assert f"Version{name},page1of1" in texts[name]
        assert sum(f"radius{other}m" in texts[name] for other in ("0.90", "0.95", "1.00")) == 1
    # each version begins on a fresh sheet, also where a printer takes both sides
    starts = [number for number, page in enumerate(pages, 1) if page.count("Name") == 1]
    assert starts == [1, 3, 5]


def test_a_question_with_fewer_variants_comes_again_and_another_order_keeps_every_question() -> None:
    pack = samples.pack("exam")
    assert [v.questions[1].item.variant for v in versions(pack, 3)] == [1, 2, 1]
    plain, mixed = versions(samples.every_kind(), 6), versions(samples.every_kind(), 6, shuffle=True)
    assert [[q.section for q in v.questions] for v in plain] == [list(range(7))] * 6
    assert all(sorted(q.section for q in v.questions) == list(range(7)) for v in mixed)
    assert len({tuple(q.section for q in v.questions) for v in mixed}) > 1
    assert mixed == versions(samples.every_kind(), 6, shuffle=True)


def test_the_marks_of_a_number_are_those_of_its_steps() -> None:
    """Two equations are set up in the sample (one in step 3, the limit in step 4), then algebra and the number."""
    item = samples.least_speed()
    assert step_marks(item) == {3: 1, 4: 1, 5: 1, 6: 1}
    assert item_marks(item) == 4
    assert item_marks(samples.pull()) == 3
    parts = samples.KINDS["stepwise"](1)
    assert item_marks(parts) == 2 + 3 + 1 + 1


def test_the_file_is_tagged_titled_and_in_english(three: Papers) -> None:
    for content in (three.questions, three.marking):
        reader = opened(content)
        root = reader.trailer["/Root"]
        assert root["/Lang"] == "en"  # type: ignore[index]
        assert root["/MarkInfo"]["/Marked"]  # type: ignore[index]
        assert root["/ViewerPreferences"]["/DisplayDocTitle"]  # type: ignore[index]
        assert reader.metadata is not None
        assert (reader.metadata.title or "").startswith("The lantern at the fair")
        assert reader.metadata.creation_date is None
        # the mark of PDF/UA-1 in the metadata stream: ISO 14289-1, clause 5 (from memory)
        assert b"pdfuaid:part>1<" in root["/Metadata"].get_data()  # type: ignore[index]


def test_figures_and_formulas_have_their_words_and_tables_their_headings(three: Papers) -> None:
    asked, marking = elements(three.questions), elements(three.marking)
    figures = [each for each in asked if each["/S"] == "/Figure"]
    assert len(figures) == 3
    assert {each["/Alt"] for each in figures} == {samples.figure().alternative}
    formulas = [each.get("/Alt") for each in (*asked, *marking) if each["/S"] == "/Formula"]
    assert all(formulas)
    assert "v top equals the square root of g times r, end of root" in formulas
    assert {"/H1", "/H2"} <= {each["/S"] for each in asked}
    assert {"/H1", "/H2", "/H3", "/TH"} <= {each["/S"] for each in marking}


def test_every_font_is_inside_and_the_figures_stay_vectors(three: Papers) -> None:
    for page in opened(three.questions).pages:
        resources = page["/Resources"]
        for font in resources.get("/Font", {}).values():  # type: ignore[attr-defined]
            (inner,) = font.get_object()["/DescendantFonts"]
            descriptor = inner.get_object()["/FontDescriptor"]
            assert {"/FontFile2", "/FontFile3"} & set(descriptor)
        assert not page.images


@pytest.mark.parametrize(("size", "points"), [("a4", (595.276, 841.89)), ("letter", (612, 792))])
def test_the_sheets_have_the_size_that_was_asked_for(size, points: tuple[float, float]) -> None:  # type: ignore[no-untyped-def]
    both = made(samples.pack("exam"), PaperLayout(size=size))
    for content in (both.questions, both.marking):
        for page in opened(content).pages:
            assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(points, abs=0.01)


def test_the_same_questions_give_the_same_bytes(three: Papers) -> None:
    again = made(samples.pack("exam"), PaperLayout(versions=3))
    assert (again.questions, again.marking) == (three.questions, three.marking)


def test_hostile_words_come_out_as_they_stand() -> None:
    """They stand in every place where words of a bank or a user come in."""
    item = samples.KINDS["stepwise"](1)
    entries = tuple(_with_words(entry) for entry in item.entries)
    metadata = replace(item.metadata, title=HOSTILE, caution=HOSTILE)
    step = replace(item.solution[0], heading=HOSTILE, paragraphs=((Words(HOSTILE),),))
    hostile = replace(item, stem=((Words(HOSTILE),),), entries=entries, metadata=metadata, solution=(step,))
    both = made(pack_of(hostile, title=HOSTILE))
    wanted = squeezed(HOSTILE).replace("שלום", "")
    assert text_of(both.questions).count(wanted) >= 5
    assert text_of(both.marking).count(wanted) >= 6
    assert "root:" not in text_of(both.questions) + text_of(both.marking)


def _with_words(entry):  # type: ignore[no-untyped-def]
    words = (Words(HOSTILE),)
    if isinstance(entry, NumberEntry):
        return replace(entry, name=HOSTILE, unit=HOSTILE)
    if hasattr(entry, "rows"):
        return replace(entry, prompt=words, rows=(words,) * 3, columns=(words,) * 2, feedback=HOSTILE)
    if hasattr(entry, "ranking"):
        return replace(entry, prompt=words, options=(words,) * 4, feedback=HOSTILE)
    return replace(entry, prompt=words, options=(Option(words, False, HOSTILE), Option(words, True)))


def test_a_word_of_a_thousand_letters_and_a_stem_of_many_pages_stay_on_the_sheets() -> None:
    long = replace(samples.least_speed(), stem=((Words("x" * 1000 + " " + "many words " * 2000),),))
    content = made(pack_of(long)).questions
    boxes = poppler_text(content, "-bbox").split("<word ")[1:]
    edges = [float(box.split('xMax="')[1].split('"')[0]) for box in boxes]
    assert max(edges) < 595.276 - 50
    assert len([box for box in boxes if ">many<" in box]) == 2000
    assert "x" * 1000 in text_of(content)


def used_of_pages(content: bytes | None) -> list[float]:
    """How far down each page but the last has words, as a share of the part that is written on."""
    pages = poppler_text(content, "-bbox").split("<page ")[1:-1]
    bottoms = [[float(each) for each in re.findall(r'yMax="([0-9.]+)"', page)] for page in pages]
    foot = 841.89 - 62.4  # what is below belongs to the footer
    return [max(each for each in page if each < foot) / foot for page in bottoms]


def test_lines_give_way_for_a_question_more_and_no_page_is_a_third_empty() -> None:
    """A school's own number of lines is kept, and then less stands on a page."""
    twelve = pack_of(*[samples.least_speed()] * 12)
    given, fixed = (made(twelve, PaperLayout(heading=Heading(lines=lines))).questions for lines in (None, 5))
    assert len(opened(given).pages) < len(opened(fixed).pages)
    assert min(used_of_pages(given)) > 2 / 3


def test_letters_that_no_font_has_are_told_and_not_printed_as_boxes() -> None:
    item = replace(samples.least_speed(), stem=((Words("A lantern 灯."),),))
    with pytest.raises(TypesettingError, match="the fonts that it brings have no letter for '灯'; write it in other"):
        made(pack_of(item))


def test_a_figure_that_cannot_be_drawn_is_told_with_its_question(monkeypatch: pytest.MonkeyPatch) -> None:
    broken = Drawing(40, 40, (Disc(float("nan"), 20, 5),), "Lantern", "A lantern")
    item = replace(samples.least_speed(), figure=broken)
    with pytest.raises(FigureError, match=r"^lantern-over-the-top\.least-speed: its figure can't be drawn"):
        made(pack_of(item))
    # also where the typesetter is the first to find out
    monkeypatch.setattr("turnwright.exporters.paper.figures.svg", lambda drawing: b"<svg")
    with pytest.raises(FigureError, match=r"^lantern-over-the-top\.least-speed: its figure can't be drawn"):
        made(pack_of(samples.least_speed()))


def test_only_the_wanted_parts_are_made() -> None:
    pack = samples.pack("exam")
    keys = papers(pack, PaperLayout(parts=("key",)), no_laws)
    assert keys.questions is None
    assert "Key,versionA" in text_of(keys.marking)
    assert "Markingguide" not in text_of(keys.marking)
    assert papers(pack, PaperLayout(parts=("questions",)), no_laws).marking is None
    assert parts_of("guide, questions") == ("questions", "guide")
    with pytest.raises(UsageError, match="no part is named"):
        parts_of(",")
