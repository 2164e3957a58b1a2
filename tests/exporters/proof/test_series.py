"""Items of a series that differ in numbers only: what is wrong with a later one is found as if it stood alone."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from functools import partial
from pathlib import Path
from typing import Any

import pytest
from turnwright.bank.item.formula import Symbol
from turnwright.bank.item.item import Item, NumberEntry, Recognised
from turnwright.bank.item.pack import Pack
from turnwright.bank.questions.item_model import Settings
from turnwright.bank.questions.selection import find_questions, pack
from turnwright.bank.reading.files import read_bank
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.bank.solving.cache import solved_question
from turnwright.exporters.adapting.adaptation import as_is
from turnwright.exporters.packages.delivery import PLAIN
from turnwright.exporters.proof import Agreed, block, prove
from turnwright.exporters.proof.again.known import ToldSolution
from turnwright.exporters.proof.again.texts import NumberText, mark
from turnwright.exporters.proof.block import Prover
from turnwright.exporters.proof.series import Alike, Series
from turnwright.exporters.qti import qti30

Change = Callable[[str], str]
NUMBER = re.compile(rb"[0-9.]*[0-9]")
ALIKE = 6  # so many of the items are read into the place of another at least


@pytest.fixture(scope="module")
def fair() -> Pack:
    (found,) = find_questions(read_bank(), ["over-the-top.pull-at-the-top"])
    return pack([solved_question(*found)], shipped_mistakes(), Settings(variants=14, kinds=("number",)))


@pytest.fixture(scope="module")
def sound(fair: Pack, tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    """The members of a pack without a fault."""
    target = tmp_path_factory.mktemp("fair") / "fair.zip"
    qti30.write(as_is(fair, PLAIN), target, lambda _: None)
    with zipfile.ZipFile(target) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


class Watched(Series):
    """Notes which items were read into the place of another."""

    def __init__(self, taken: list[str]) -> None:
        super().__init__()
        self._taken = taken

    def read(self, name: str, data: bytes) -> Alike | None:
        found = super().read(name, data)
        if found:
            self._taken.append(name)
        return found


class Alone(Series):
    """Reads every item by itself."""

    def read(self, name: str, data: bytes) -> Alike | None:
        return None


@pytest.fixture(scope="module")
def items(fair: Pack) -> list[Item]:
    return [item for section in fair.sections for item in section.items()]


def findings(fair: Pack, items: list[Item], files: dict[str, bytes], folder: Path) -> tuple[str, ...]:
    path = folder / "changed.zip"
    with zipfile.ZipFile(path, "w") as archive:
        for name, data in files.items():
            archive.writestr(name, data)
    return prove(path, items, agreed=Agreed(fair.sitting, PLAIN)).findings


@pytest.fixture(scope="module")
def again(
    fair: Pack, items: list[Item], sound: dict[str, bytes], tmp_path_factory: pytest.TempPathFactory
) -> list[str]:
    """The items of which only the numbers are looked at, since all else of them is known."""
    found: list[str] = []
    prove_again = Prover._prove_again

    def watched(prover: Prover, alike: Alike, *others: Any) -> bool:
        known = prove_again(prover, alike, *others)
        found.extend([alike.name] if known else [])
        return known

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Prover, "_prove_again", watched)
        assert findings(fair, items, sound, tmp_path_factory.mktemp("sound")) == ()
    assert len(found) > ALIKE
    return found


@pytest.fixture(scope="module")
def later(again: list[str], sound: dict[str, bytes]) -> str:
    """One of them in the midst of its series, which has slips."""
    slips = [each for each in again if b"SLIP_2" in sound[each]]
    return slips[len(slips) // 2]


def once(pattern: str, new: str | Callable[[re.Match[str]], str]) -> Change:
    """Changes the first place where the pattern matches."""

    def change(text: str) -> str:
        changed, count = re.subn(pattern, new, text, count=1, flags=re.DOTALL)
        assert count == 1, pattern
        return changed

    return change


def more(found: re.Match[str]) -> str:
    """The same with the last digit of its first group changed."""
    text, end = found[0], found.end(1) - found.start()
    digit = str((int(text[end - 1]) + 1) % 10)
    return text[: end - 1] + digit + text[end:]


def _with_entry(change: Callable[[NumberEntry], NumberEntry], item: Item) -> Item:
    return replace(item, entries=(change(item.entry),))


def _first_slip(entry: NumberEntry, **changed: Any) -> tuple[Recognised, ...]:
    return (replace(entry.recognised[0], **changed), *entry.recognised[1:])


IN_A_LABEL = "the key stands in the aria-label"
CHANGES: dict[str, tuple[Change, str]] = {
    "key": (once(r"<qti-value>([\d.]+)</qti-value>", more), "the correct response is"),
    "tolerance": (once(r'tolerance="([\d.]+) ', more), "answers from"),
    "upper tolerance": (once(r'tolerance="[\d.]+ ([\d.]+)"', more), "answers from"),
    "wider": (once(r'tolerance="([\d.]+) [\d.]+"', lambda found: f'tolerance="9{found[1]} 9{found[1]}"'), "scores 1"),
    "slip": (once(r'<qti-equal [^>]*><qti-base-value base-type="float">([\d.]+)<', more), "the wrong number"),
    "band of a slip": (
        once(
            r'tolerance="([\d.]+) [\d.]+"([^>]*><qti-base-value)', lambda found: f'tolerance="0.0001 0.0001"{found[2]}'
        ),
        "is not recognised",
    ),
    "score": (once(r'(<qti-base-value base-type="float">)1(</qti-base-value>)', r"\g<1>2\2"), "scores 2"),
    "feedback": (once(r'(<qti-base-value base-type="identifier">SLIP_)1<', r"\g<1>2<"), "brings the feedback"),
    "feedback that is not there": (once(r'(base-type="identifier">SLIP_)1<', r"\g<1>7<"), "never shown"),
    "outcome": (once(r'(<qti-set-outcome-value identifier="SCORE)"', r'\g<1>1"'), "no declared outcome"),
    "hint": (once(r'<qti-variable identifier="HINT_2"', '<qti-variable identifier="HINT_4"'), "no declared variable"),
    "drawing": (once(r'src="\.\./media/d[a-v]+\.svg"', 'src="../media/f9.svg"'), "not in the archive"),
    "stem": (once(r"<qti-item-body>.*?([\d.]+)\u00a0m(?=[ .,])", more), "the stem does not give"),
    "solution": (once(r"\d\. Substitution.*?<mn>([\d.]+)</mn>", more), "the worked solution says"),
    "half-width for those who mark": (
        once(r"<qti-rubric-block.*?Answers within ([\d.]+)", more),
        "those who mark are not told",
    ),
    "a second solution": (
        once(
            r"(<qti-content-body><h3>Worked solution.*?</qti-content-body>)(.*?use=\"scoring\">).*?</qti-content-body>",
            r"\g<1>\g<2>\g<1>",
        ),
        "is told 2 times",
    ),
    "key in the label": (
        lambda text: text.replace('aria-label="', f'aria-label="{re.findall("<qti-value>([^<]*)", text)[0]} '),
        IN_A_LABEL,
    ),
    "word of the stem": (once(r"(<qti-item-body>.*?[a-z]{5}) [a-z]+", r"\g<1> another"), "the page says"),
    "numbers of the stem": (
        once(r"(<qti-item-body>.*?)([\d.]+)(\u00a0.*?)([\d.]+)(?=\u00a0)", r"\g<1>\g<4>\g<3>\g<2>"),
        "the page says",
    ),
    "unit": (once(r"(<qti-item-body>.*?[\d.]+\u00a0)m(?=[ .,])", r"\g<1>cm"), "the page says"),
    "word of a feedback": (
        once(r'(identifier="SLIP_1" show-hide.*?<p>[A-Z][a-z]+) [a-z]+', r"\g<1> never"),
        "brings the feedback",
    ),
    "number in a feedback": (once(r'(identifier="SLIP_1" show-hide.*?<p>)', r"\g<1>17 "), ""),
    "number in a hint": (once(r"(<p>Hint 1: )", r"\g<1>17 "), ""),
    "word of the solution": (once(r"(\d\. Substitution.*?<p>)", r"\g<1>never "), "the worked solution says"),
    "formula in words": (once(r'alttext="[^"]*?([\d.]+)', more), ""),
    "title": (once(r' title="[^"]*', r"\g<0> 17"), ""),
    "figures": (once(r"to (\d) significant", more), "the page says"),
    "name": (once(r'( identifier="\w+_v)(\d+)"', r'\g<1>999"'), ""),
    "no number": (once(r"<qti-value>([\d.]+)</qti-value>", "<qti-value>1.2.3</qti-value>"), "float expected"),
    "no number in a rule": (
        once(r'(<qti-equal [^>]*><qti-base-value base-type="float">)[\d.]+', r"\g<1>1.2.3"),
        "base value",
    ),
}


# what the proof does not look at in any item, so that nobody takes the sameness of both readings for a finding
UNTOLD = ("number in a feedback", "number in a hint", "formula in words", "title", "name")


@pytest.mark.parametrize("what", CHANGES)
def test_a_fault_of_a_later_item_is_found(
    fair: Pack,
    items: list[Item],
    sound: dict[str, bytes],
    later: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    what: str,
) -> None:
    change, wrong = CHANGES[what]
    files = {**sound, later: change(sound[later].decode()).encode()}
    found = findings(fair, items, files, tmp_path)
    where = f"{later}: " if wrong != IN_A_LABEL else ""  # which is told of the whole pack
    assert any(each.startswith(where) and wrong in each for each in found) is (what not in UNTOLD), found
    monkeypatch.setattr(block, "Series", Alone)
    assert findings(fair, items, files, tmp_path) == found


ENTRIES: dict[str, Callable[[NumberEntry], NumberEntry]] = {
    "key": lambda entry: replace(entry, key=entry.key + Decimal("0.1")),
    "half-width": lambda entry: replace(entry, half_width=entry.half_width * 2),
    "wider than the next": lambda entry: replace(entry, half_width=abs(entry.key) * 3),
    "unrounded": lambda entry: replace(entry, exact=entry.exact + 3 * float(entry.half_width)),
    "unit": lambda entry: replace(entry, unit=f"k{entry.unit}"),
    "figures": lambda entry: replace(entry, figures=entry.figures + 1),
    "symbol": lambda entry: replace(entry, symbol=Symbol("Q")),
    "marks": lambda entry: replace(entry, marks=entry.marks + 1),
    "slip": lambda entry: replace(entry, recognised=_first_slip(entry, value=entry.recognised[0].value * 2)),
    "slip is right": lambda entry: replace(entry, recognised=_first_slip(entry, value=entry.key)),
    "band of a slip": lambda entry: replace(entry, recognised=_first_slip(entry, half_width=entry.half_width * 7)),
    "feedback": lambda entry: replace(entry, recognised=_first_slip(entry, feedback="You have lost your hat.")),
    "one slip more": lambda entry: replace(
        entry, recognised=(*entry.recognised, *_first_slip(entry, value=Decimal(7))[:1])
    ),
}
ITEMS: dict[str, Callable[[Item], Item]] = {
    **{what: partial(_with_entry, change) for what, change in ENTRIES.items()},
    "stem": lambda item: replace(item, stem=item.stem[::-1]),
    "hints": lambda item: replace(item, hints=item.hints[::-1]),
    "figure": lambda item: replace(item, figure=None),
    "solution": lambda item: replace(item, solution=(*item.solution, *item.solution)),
    "order of entries": lambda item: replace(item, entries=item.entries * 2),
}


@pytest.mark.parametrize("what", ITEMS)
def test_a_later_item_that_is_not_what_was_expected_is_found(
    fair: Pack,
    items: list[Item],
    sound: dict[str, bytes],
    later: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    what: str,
) -> None:
    place = sorted(name for name in sound if name.startswith("items/")).index(later)
    expected = [*items[:place], ITEMS[what](items[place]), *items[place + 1 :]]
    found = findings(fair, expected, sound, tmp_path)
    assert {each.partition(":")[0] for each in found} == {later}
    monkeypatch.setattr(block, "Series", Alone)
    assert findings(fair, expected, sound, tmp_path) == found


def test_whatever_number_of_a_later_item_is_changed_nothing_less_is_found(
    fair: Pack, items: list[Item], sound: dict[str, bytes], again: list[str], tmp_path: Path
) -> None:
    """Each number of an item in turn, in another item of the series each."""
    told, count, start = 0, 0, 0
    while start < max(len(NUMBER.findall(sound[name])) for name in again):
        files = dict(sound)
        for number, name in enumerate(again, start):
            found = list(NUMBER.finditer(sound[name]))
            if number < len(found):
                end = found[number].end()
                digit = b"%d" % ((int(sound[name][end - 1 : end]) + 1) % 10)
                files[name] = sound[name][: end - 1] + digit + sound[name][end:]
                count += 1
        start += len(again)
        found = findings(fair, items, files, tmp_path)
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(block, "Series", Alone)
            assert findings(fair, items, files, tmp_path) == found
        told += len({each.partition(":")[0] for each in found})
    assert count > 150
    assert told > count / 4


def test_a_key_with_a_figure_less_for_those_who_mark_is_not_taken(items: list[Item]) -> None:
    """The same number, so that only its figures tell: 2.5 for 2.50; and both in one line."""
    line = NumberText.of(f"Key: v = {mark(1)} N. Answers within {mark(2)} N of it are right.")
    told = ToldSolution((), (line,), 0)
    item = _with_entry(
        lambda entry: replace(entry, key=Decimal("2.50"), half_width=Decimal("0.05"), figures=3), items[0]
    )
    assert told.is_as_expected(item, {1: "2.50", 2: "0.05"})
    assert not told.is_as_expected(item, {1: "2.5", 2: "0.05"})
    apart = ToldSolution((), (NumberText.of(f"Key: {mark(1)}"), NumberText.of(f"Within {mark(2)}")), 0)
    assert not apart.is_as_expected(item, {1: "2.50", 2: "0.05"})


def test_a_mask_that_refuses_a_later_key_is_found(
    fair: Pack,
    items: list[Item],
    sound: dict[str, bytes],
    later: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """All items have the mask, so that they are still one series."""
    mask = re.compile(rb' pattern-mask="[^"]*"')
    names = sorted(each for each in sound if each.startswith("items/"))
    key = str(items[names.index(later)].entry.key)
    files = {**sound}
    for each in names:
        files[each] = mask.sub(f' pattern-mask="(?!.*{re.escape(key)}).*[0-9].*"'.encode(), sound[each])
    found = findings(fair, items, files, tmp_path)
    assert [each for each in found if each.startswith(f"{later}: the mask refuses")]
    monkeypatch.setattr(block, "Series", Alone)
    assert findings(fair, items, files, tmp_path) == found


def test_what_is_read_into_another_is_what_its_bytes_say(sound: dict[str, bytes]) -> None:
    """Every text and attribute of it, and what is kept of its marking, is that of the item read by itself."""
    from turnwright.exporters.proof.dialect import DIALECTS
    from turnwright.exporters.proof.reading.item_file import read_item

    series, count = Series(), 0
    for name, data in sound.items():
        if not name.startswith("items/"):
            continue
        alike, alone = series.read(name, data), read_item(name, data, DIALECTS[0])
        found = alike.filled() if alike else None
        if found is None:
            series.add(alone)
            continue
        count += 1
        both = list(zip(found.root.walk(), alone.root.walk(), strict=True))
        assert all((a.name, a.attributes, a.text, a.tail) == (b.name, b.attributes, b.text, b.tail) for a, b in both)
        assert found.declarations == alone.declarations
        assert found.stem() == alone.stem()
    assert count > ALIKE


def test_an_item_with_a_finding_is_the_first_of_no_series(
    fair: Pack, items: list[Item], sound: dict[str, bytes], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    taken: list[str] = []
    monkeypatch.setattr(block, "Series", lambda: Watched(taken))
    changed = {
        name: data.replace(b">SLIP_1</qti-base-value>", b">OUTSIDE</qti-base-value>") for name, data in sound.items()
    }
    found = findings(fair, items, changed, tmp_path)
    wrong = {each.partition(":")[0] for each in found}
    assert len(wrong) > ALIKE
    assert not wrong & set(taken)
