"""Whether an item agrees with itself: its key with what those who mark are told, and with its own worked solution.

Nothing need be known of the item. What candidates can read before they answer, hints with it, must not tell the key.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal

from ...strangers.documents import Element
from ...strangers.parsing import placed, shown
from ..processing.values import parse
from ..reading.item_file import FEEDBACK, ItemFile
from ..report import AcceptedBand, written_key
from ..words.leaks import numbers_in
from ..words.printing import numbers_of
from ..words.wording import said_by
from .parts import ReadPart
from .trial import Answer

_KEY_LINE = re.compile(r"(?:part(\d+),)?(?:key|answer|correctanswer)[:=]", re.IGNORECASE)
_LINES = frozenset({"p", "li", "td"})
_BEGINNINGS = ("key", "answer", "correct", "part")
FIGURES = 2  # of a key that hints are searched for; one digit stands anywhere by chance
LETTERS = 12  # of an option that hints are searched for, spaces left out


def key_lines(item: ItemFile, number: int, alone: bool) -> list[Element]:
    """The lines of rubrics for those who mark that call themselves the key of a part, counted from 1."""
    found = []
    for rubric in item.all("qti-rubric-block"):
        lines = rubric.walk() if "candidate" not in rubric.get("view").split() else ()
        for line in lines:
            is_likely = line.name in _LINES and line.text.lstrip().lower().startswith(_BEGINNINGS)
            match = _KEY_LINE.match(said_by(line)) if is_likely else None
            if match and (match[1] == str(number) or (alone and match[1] is None)):
                found.append(line)
    return found


def check_key_of_number(
    item: ItemFile, number: int, alone: bool, key: Decimal, band: AcceptedBand | None
) -> Iterator[str]:
    """Where a rubric gives those who mark numbers, and none of them would be right."""
    for line in key_lines(item, number, alone):
        told = list(numbers_of(line.string()))
        if told and not any(_is_right(each, key, band) for each in told):
            yield f"line {line.line}: those who mark are told '{shown(said_by(line))}', the key is {key}"


def check_number_in_solution(item: ItemFile, key: Decimal, band: AcceptedBand | None) -> Iterator[str]:
    """A worked solution that gives numbers, none of which would be right."""
    for solution in _solutions(item):
        told = list(numbers_of(solution.string()))
        if any(each != each.to_integral_value() for each in told) and not any(_is_right(n, key, band) for n in told):
            yield f"line {solution.line}: the worked solution gives no number that would be right, the key is {key}"


def _is_right(number: Decimal, key: Decimal, band: AcceptedBand | None) -> bool:
    """Whether a number is the key, or would be accepted as it, whatever its sign."""
    if band is None:
        return abs(number) == abs(key)
    return any(band.lower.value <= each <= band.upper.value for each in (number, -number))


def _solutions(item: ItemFile) -> Iterator[Element]:
    for each in item.all(*FEEDBACK):
        if "SOLUTION" in f"{each.get('outcome-identifier')} {each.get('identifier')}".upper():
            yield each


def check_key_of_options(item: ItemFile, number: int, alone: bool, part: ReadPart, key: Answer) -> Iterator[str]:
    """Where a rubric tells those who mark other options than are right, or another order or match of them."""
    wanted = list(_in_words(part, key))
    every = [said_by(each) for each in (*part.options, *part.columns)]
    for line in key_lines(item, number, alone):
        said = _KEY_LINE.sub("", said_by(line), count=1)
        if not any(each and each in said for each in every):
            continue  # it tells the key in other words
        rest, missing = said, [each for each in wanted if each not in said]
        for each in wanted if not missing else ():
            place = rest.find(each)
            if place < 0:
                missing.append(each)
                break
            rest = rest[:place] + rest[place + len(each) :] if part.kind in ("choice", "several") else rest[place:]
        wrong = [each for each in every if each and each not in wanted and each in rest]
        if missing or (wrong and part.kind in ("choice", "several")):
            yield f"line {line.line}: those who mark are told '{shown(said)}', the key is {_listed(key)}"


def _in_words(part: ReadPart, key: Answer) -> Iterator[str]:
    """What the right options say, in the order of the key; of a match, each row before its column."""
    said = {each.get("identifier"): said_by(each) for each in (*part.options, *part.columns)}
    if isinstance(key, str):
        names: Iterable[str] = (key,)
    elif part.kind == "match":
        order = {name: place for place, name in enumerate(part.names)}
        pairs = sorted((each.split() for each in key), key=lambda pair: order.get(pair[0], 0))
        names = [name for pair in pairs for name in pair]
    else:
        names = key
    return (said[each] for each in names if said.get(each))


def _listed(key: Answer) -> str:
    return shown(key if isinstance(key, str) else ", ".join(key))


def hints_of(item: ItemFile) -> list[Element]:
    """What candidates can read beside the page before they answer: hints, and rubrics that are meant for them."""
    hints = [each for each in item.all(*FEEDBACK) if "HINT" in each.get("outcome-identifier").upper()]
    return [*hints, *(each for each in item.all("qti-rubric-block") if "candidate" in each.get("view").split())]


def check_hints(item: ItemFile, keys: Sequence[Decimal]) -> Iterator[str]:
    """Hints, and rubrics for candidates, in which the key of a number stands, though the page does not give it."""
    hints = hints_of(item) if keys else []
    if not hints:
        return
    given = numbers_in(item.stem())
    for hint in hints:
        told = numbers_in(hint.string()) - given
        for key in keys:
            if is_telling(key) and written_key(key) in told:
                yield f"line {hint.line}: a hint or rubric for candidates tells the key {key}"


def is_telling(key: Decimal) -> bool:
    """Whether a key has so many figures that it stands nowhere by chance."""
    return len(written_key(key).replace(".", "").strip("0")) >= FIGURES


def check_hints_of_options(item: ItemFile, part: ReadPart, key: Answer) -> Iterator[str]:
    """Hints, and rubrics for candidates, that say what the right option says, and what no wrong one does."""
    if part.kind != "choice" or not isinstance(key, str):
        return
    said = {each.get("identifier"): said_by(each) for each in part.options}
    right, page = said.pop(key, ""), item.stem()
    if len(right) < LETTERS or right.lower() in "".join(page.split()).lower().replace(right.lower(), "", 1):
        return
    for hint in hints_of(item):
        told = said_by(hint)
        if right in told and not any(each and each in told for each in said.values()):
            yield f"line {hint.line}: a hint or rubric for candidates says what the right option says, '{shown(right)}'"


def check_mapping(part: ReadPart) -> Iterator[str]:
    """A mapping that takes marks away for what is right."""
    mapping = part.response.mapping
    right = {" ".join(each.split()) for each in part.response.correct}
    for entry in mapping.children if mapping is not None else ():
        worth = parse(entry.get("mapped-value").strip(), "float", Decimal)
        if isinstance(worth, Decimal) and worth < 0 and " ".join(entry.get("map-key").split()) in right:
            wrong = f"the mapping takes marks for the right answer '{shown(entry.get('map-key'))}'"
            yield placed(f"line {entry.line}", wrong)
