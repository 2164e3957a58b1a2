"""The sign-off page in a browser: no violation for axe-core, usable by keyboard, whole without JavaScript, in print.

The rules are those of axe-core (WCAG 2.0 to 2.2, levels A and AA, and its best practices), as its package brings them.
"""

from __future__ import annotations

import os
import shutil
import unicodedata
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import nullcontext
from pathlib import Path
from typing import Any

import pytest
from turnwright.bank.questions.item_model import Settings
from turnwright.bank.reading.files import read_bank
from turnwright.exporters.book import Sheet, page
from turnwright.exporters.book.gathering import Gathering

from tests.exporters.book import pages
from tests.exporters.paper.reading import poppler_text

playwright = pytest.importorskip("playwright.sync_api", reason="the package playwright is not installed")

ARGUMENTS = [
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
]  # fmt: skip
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22a", "wcag22aa", "best-practice"]
UNFOLDED = "document.querySelectorAll('details').forEach((each) => { each.open = true; })"
PATIENCE = 60_000  # milliseconds until a page has done what it does, on a busy machine
Opened = Callable[..., Any]


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    program = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
    if not program:
        absent = "no chromium is installed"
        pytest.fail(absent) if os.environ.get("TURNWRIGHT_NEEDS_SHARED") else pytest.skip(absent)
    playwright.expect.set_options(timeout=PATIENCE)
    with playwright.sync_playwright() as driver:
        started = driver.chromium.launch(executable_path=program, args=ARGUMENTS)
        yield started
        started.close()


@pytest.fixture(scope="module")
def sheets() -> list[Sheet]:
    """Two situations of the shipped bank, a question of each kind from either: what a browser shows takes its time."""
    names = ["over-the-top", "flat-bend"]
    every = Gathering(read_bank(), names, Settings(variants=2), 3, lambda *_: nullcontext(lambda _: None)).sheets()
    return list({(each.metadata.problem, each.metadata.kind): each for each in reversed(list(every))}.values())[::-1]


@pytest.fixture(scope="module")
def book(sheets: list[Sheet], tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("book") / "book.html"
    path.write_bytes(page(pages.HEAD, sheets))
    return path


@pytest.fixture(scope="module")
def short_book(sheets: list[Sheet], tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One question of each kind."""
    path = tmp_path_factory.mktemp("book") / "short.html"
    path.write_bytes(page(pages.HEAD, one_of_each_kind(sheets)))
    return path


@pytest.fixture(scope="module")
def shortest_book(sheets: list[Sheet], tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("book") / "shortest.html"
    path.write_bytes(page(pages.HEAD, sheets[:2]))
    return path


def one_of_each_kind(sheets: list[Sheet]) -> list[Sheet]:
    return list({each.metadata.kind: each for each in reversed(sheets)}.values())


@pytest.fixture
def opened(browser: Any, book: Path) -> Iterator[Opened]:
    contexts = []

    def open_page(path: Path = book, **settings: Any) -> Any:
        contexts.append(browser.new_context(**settings))
        shown = contexts[-1].new_page()
        shown.goto(path.as_uri())
        return shown

    yield open_page
    for context in contexts:
        context.close()


def sized(width: int, scheme: str = "light") -> dict[str, Any]:
    return {"viewport": {"width": width, "height": 900}, "color_scheme": scheme}


# Colours differ with the scheme alone, and the way the page is laid out with its width alone.
@pytest.mark.parametrize(("width", "scheme"), [(360, "dark"), (1280, "light")])
def test_axe_finds_no_violation(width: int, scheme: str, opened: Opened, short_book: Path) -> None:
    shown = opened(short_book, **sized(width, scheme))
    shown.evaluate(UNFOLDED)
    shown.wait_for_timeout(300)
    found = looked_at(shown)
    told = [(each["id"], each["help"], each["nodes"][0]["html"][:200]) for each in found["violations"]]
    assert told == []
    assert {"color-contrast", "target-size", "heading-order", "svg-img-alt"} <= {each["id"] for each in found["passes"]}


def looked_at(shown: Any) -> Any:
    """What axe finds, told without the places of all that it passes, which cost it most of its time."""
    from axe_playwright_python.sync_playwright import Axe

    options = {"resultTypes": ["violations"], "selectors": False, "runOnly": {"type": "tag", "values": TAGS}}
    return Axe().run(shown, options=options).response


def test_nothing_scrolls_sideways(opened: Opened) -> None:
    shown = opened(**sized(1280))
    shown.evaluate(UNFOLDED)
    for width in (320, 360, 768, 1280):
        shown.set_viewport_size({"width": width, "height": 900})
        assert shown.evaluate("document.documentElement.scrollWidth") <= width


def test_axe_would_find_what_is_wrong(opened: Opened, shortest_book: Path) -> None:
    shown = opened(shortest_book, **sized(768))
    shown.evaluate("document.documentElement.style.setProperty('--soft', '#cccccc')")
    shown.evaluate("document.querySelector('label').remove()")
    assert {"color-contrast", "label"} <= {each["id"] for each in looked_at(shown)["violations"]}


def test_a_wide_formula_scrolls_in_its_own_box_that_the_keyboard_reaches(opened: Opened) -> None:
    shown = opened(**sized(360))
    shown.evaluate(UNFOLDED)
    wide = "[...document.querySelectorAll('.formula, .wide, .scrolls')].filter(b => b.scrollWidth > b.clientWidth)"
    shown.locator(".question").first.scroll_into_view_if_needed()
    shown.wait_for_function(f"{wide}.some(box => box.tabIndex === 0 && box.getAttribute('aria-label'))")
    assert shown.evaluate(f"{wide}.length") > 3


def test_without_javascript_all_content_is_there_and_opens(opened: Opened, book: Path) -> None:
    root = pages.parsed(book.read_bytes())
    shown = opened(java_script_enabled=False, **sized(768))
    articles = shown.locator("article.question")
    assert articles.count() == len(root.xpath("//article")) > 20
    assert all(each.is_visible() for each in articles.all())
    assert not shown.locator("#filters").is_visible()
    for id_ in root.xpath("//article[position() mod 6 = 1]/@id"):
        article = shown.locator(f'[id="{id_}"]')
        for summary in article.locator("summary").all():
            summary.click()
        text = pages.tidy(article.inner_text())
        for wanted in pages.article(root, id_).xpath(".//p | .//td | .//dd | .//h6"):
            if not wanted.xpath(".//math | ancestor::p") and "sign" not in (wanted.get("class") or ""):
                assert pages.text_of(wanted) in text


def shown_questions(shown: Any) -> list[str]:
    return [each.get_attribute("id") for each in shown.locator("article.question:visible").all()]


def test_search_and_filter_work_by_keyboard_and_are_announced(opened: Opened, book: Path) -> None:
    root = pages.parsed(book.read_bytes())
    every = root.xpath("//article/@id")
    shown = opened(**sized(1280))
    status = shown.get_by_role("status")
    assert status.inner_text() == f"All questions are shown: {len(every)}."
    shown.keyboard.press("Tab")
    assert shown.evaluate("document.activeElement.textContent") == "To the questions"
    shown.keyboard.press("Tab")
    assert shown.evaluate("document.activeElement.id") == "words"
    assert shown.evaluate("getComputedStyle(document.activeElement).outlineStyle") == "solid"
    shown.keyboard.type("FRICTION kart")
    expected = [
        each.get("id") for each in root.iter("article")
        if all(word in pages.text_of(each).lower() for word in ("friction", "kart"))
    ]  # fmt: skip
    assert 0 < len(expected) < len(every)
    playwright.expect(status).to_have_text(f"Shown: {len(expected)} of {len(every)} questions.")
    assert shown_questions(shown) == expected
    shown.keyboard.press("Tab")
    shown.keyboard.press("Tab")
    assert shown.evaluate("document.activeElement.id") == "kind"
    shown.keyboard.type("rank")
    both = [id_ for id_ in expected if id_.endswith("/rank")]
    assert shown_questions(shown) == both
    assert status.inner_text() == f"Shown: {len(both)} of {len(every)} questions."
    lines = shown.evaluate("[...document.querySelectorAll('nav li')].filter(li => !li.hidden).length")
    assert lines == len(root.xpath("//nav//a[@href=$link]", link=f"#{both[0]}")) > 1
    for _ in range(3):
        shown.keyboard.press("Tab")
    assert shown.evaluate("document.activeElement.textContent") == "Show all questions"
    shown.keyboard.press("Enter")
    playwright.expect(status).to_have_text(f"All questions are shown: {len(every)}.")


@pytest.mark.parametrize(("filter_", "value"), [("family", "vertical-circle"), ("level", ""), ("objective", "")])
def test_each_filter_keeps_the_questions_that_have_its_value(
    filter_: str, value: str, opened: Opened, book: Path
) -> None:
    root = pages.parsed(book.read_bytes())
    shown = opened(**sized(1280))
    value = value or root.xpath(f"string(//select[@id='{filter_}']/option[2])")
    shown.select_option(f"#{filter_}", value)
    name = "data-objectives" if filter_ == "objective" else f"data-{filter_}"
    assert shown_questions(shown) == [e.get("id") for e in root.iter("article") if value in (e.get(name) or "").split()]


def test_a_link_to_a_question_that_is_filtered_out_shows_it(opened: Opened) -> None:
    shown = opened(**sized(1280))
    shown.select_option("#family", "vertical-circle")
    hidden = shown.locator('[id="flat-bend.greatest-speed"]')
    assert not hidden.is_visible()
    shown.evaluate("location.hash = '#flat-bend.greatest-speed'")
    playwright.expect(hidden).to_be_visible()


def test_a_screen_reader_finds_each_question_by_its_heading_and_each_figure_by_its_words(opened: Opened) -> None:
    shown = opened(**sized(1280))
    tree = shown.context.new_cdp_session(shown).send("Accessibility.getFullAXTree")["nodes"]
    found = [(each["role"]["value"], pages.tidy(each["name"]["value"])) for each in tree if each.get("name")]
    names = {name for role, name in found if role == "heading"}
    titles = [pages.tidy(each) for each in shown.locator("article h4").all_text_contents()]
    assert [each for each in titles if each not in names] == []
    told = [name for role, name in found if role in ("image", "img") and not name.startswith("Picture ")]
    beside = [pages.tidy(each) for each in shown.locator("figure .words").all_text_contents()]
    assert len(told) == len(beside) > 0  # the words beside a figure go on where its name ends
    assert [
        (name, words) for name, words in zip(told, beside, strict=True) if not name or not words.startswith(name)
    ] == []


def words_of(document: bytes) -> str:
    """The text of a PDF, ligatures taken apart."""
    return unicodedata.normalize("NFKC", pages.tidy(poppler_text(document)))


@pytest.mark.parametrize("script", [True, False])
def test_print_shows_what_is_folded_and_leaves_the_controls_out(
    script: bool, opened: Opened, short_book: Path, sheets: list[Sheet]
) -> None:
    shown = opened(short_book, java_script_enabled=script, **sized(768))
    text = words_of(shown.pdf(format="A4", prefer_css_page_size=True))
    count = shown.locator("article.question").count()
    first = Counter(f"1. {each.items[0].solution[0].heading}" for each in one_of_each_kind(sheets))
    assert first.total() == count
    assert {each: text.count(each) for each in first} == dict(first)
    assert text.count("Checked by") == count
    assert text.count("Index of difficulty") == count
    assert "Show all questions" not in text
    figures = [item.figure for each in one_of_each_kind(sheets) for item in each.items[:1] if item.figure]
    assert figures
    assert all(f"The figure in words {each.description[:30]}" in text for each in figures)


def test_only_what_the_filter_leaves_is_printed_and_the_paper_says_so(opened: Opened) -> None:
    shown = opened(**sized(1280))
    every = shown.locator("article.question").count()
    shown.select_option("#kind", "rank")
    text = words_of(shown.pdf())
    assert text.count("Checked by") == 1
    assert f"Shown: 1 of {every} questions." in text


def test_hostile_words_run_nothing_and_nothing_is_asked_for(opened: Opened, browser: Any, tmp_path: Path) -> None:
    path = tmp_path / "hostile.html"
    path.write_bytes(page(pages.HEAD, [pages.hostile()]))
    context = browser.new_context()
    shown = context.new_page()
    asked: list[str] = []
    said: list[str] = []
    shown.on("request", lambda request: asked.append(request.url))
    shown.on("dialog", lambda dialog: (said.append(dialog.message), dialog.dismiss()))
    shown.on("console", lambda message: said.append(message.text))
    shown.on("pageerror", lambda error: said.append(str(error)))
    shown.goto(path.as_uri())
    shown.locator("#words").fill("egnp")
    playwright.expect(shown.get_by_role("status")).to_have_text("All questions are shown: 1.")
    assert (asked, said) == ([path.as_uri()], [])
    context.close()


def test_the_policy_stops_a_script_that_is_not_the_pages_own(opened: Opened) -> None:
    shown = opened(**sized(768))
    shown.evaluate("""() => {
        const script = document.createElement('script');
        script.textContent = 'window.strange = true';
        document.body.append(script);
    }""")
    assert shown.evaluate("window.strange") is None
