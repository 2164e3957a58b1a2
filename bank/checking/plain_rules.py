"""Whether the key of a choice is found by a rule that can be said in a few words: the longest, the one with a factor.

The classifier (``surface``) weighs all looks at once, and learns little of a look that few questions have. A rule is
what one candidate tells another; it is held against chance wherever it says something.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass
from typing import Any, TypeAlias

from ..item.drawing import Drawing
from ..item.item import Option
from ..thinking.balance import pieces
from .option_quality import shown
from .surface import Sighted, arrows

ENOUGH = 20  # choices in which a rule says something, below which it is not judged there

Places: TypeAlias = list[int]
Look: TypeAlias = Callable[[Option], Any]
Points: TypeAlias = Callable[[Sequence[Any]], Places]


@dataclass(frozen=True)
class Held:
    """A rule against chance: of how many of all choices it says something, and what it finds above chance there."""

    rule: str
    said: int
    choices: int
    above_chance_there: float

    @property
    def above_chance(self) -> float:
        """What it finds above chance over all choices, with a guess where it says nothing."""
        return self.above_chance_there * self.said / self.choices


def held(choices: Sequence[Sighted]) -> Iterator[Held]:
    """Every rule, held against the choices of one kind with one right option each."""
    for name, rule in RULES.items():
        gains = [gain for each in choices if (gain := _gain(rule, each.entry.options)) is not None]
        if gains:
            yield Held(name, len(gains), len(choices), sum(gains) / len(gains))


def _gain(rule: Callable[[Sequence[Option]], Places], options: Sequence[Option]) -> float | None:
    """What the rule finds above chance in one choice, a guess among those it points at; None where it says nothing."""
    found = rule(options)
    if not 0 < len(found) < len(options):
        return None
    return sum(options[place].right for place in found) / len(found) - 1 / len(options)


# --- what an option looks like ----------------------------------------------------------------------

_FACTOR = re.compile(r"[½⅓¼π]|(?<![\w.])\d+")
_MARKS: Mapping[str, str] = {
    "a root": "√",
    "a fraction": "[/½]",
    "a minus": "−",
    "a function": "sin|cos|tan",
    "(": r"\(",
}
# m a as it is known by heart, without subscripts
_BY_HEART = ("m v²/r", "m ω² r")
_SUBSCRIPT = re.compile(r"_[A-Za-z0-9]+")
_DRAWN_ON = re.compile(r"^Forces on [^:]*: ([^.]*)\.")


def sides(option: Option) -> tuple[str, str]:
    """The sides of an equation; of anything else all of it, on the right."""
    left, equals, right = shown(option).partition("=")
    return (left.strip(), right.strip()) if equals else ("", left)


def _parts(option: Option) -> frozenset[str]:
    """The arrows of a diagram as they are told; the words and signs of a text."""
    content = option.content
    if isinstance(content, Drawing):
        return frozenset(each for told in _DRAWN_ON.findall(content.alternative) for each in told.split("; "))
    return frozenset(pieces(shown(option)))


def _text(option: Option) -> str:
    """What stands on the page in letters; of a drawing nothing, whose description does not."""
    return "" if isinstance(option.content, Drawing) else shown(option)


# --- where a rule points ------------------------------------------------------------------------------


def _most(values: Sequence[Any]) -> Places:
    return [place for place, each in enumerate(values) if each == max(values)]


def _least(values: Sequence[Any]) -> Places:
    return [place for place, each in enumerate(values) if each == min(values)]


def _alone(values: Sequence[Any]) -> Places:
    """The one whose value no other has, if there is one such."""
    counts = Counter(values)
    return _one([place for place, each in enumerate(values) if counts[each] == 1])


def _one(found: Places) -> Places:
    return found if len(found) == 1 else []


def _the_most(values: Sequence[Any]) -> Places:
    return _one(_most(values))


def _the_least(values: Sequence[Any]) -> Places:
    return _one(_least(values))


def _rules() -> Iterator[tuple[str, Callable[[Sequence[Option]], Places]]]:
    numbers: Mapping[str, Look] = {
        "length": lambda option: len(_text(option)),
        "terms": lambda option: len(re.findall("[+−]", _text(option))),
        "arrows": arrows,
        "pieces": lambda option: len(_parts(option)),
    }
    marks: Mapping[str, Look] = {
        "m a known by heart": lambda option: _SUBSCRIPT.sub("", sides(option)[1]).replace("R", "r") in _BY_HEART,
        "a factor": lambda option: bool(not isinstance(option.content, Drawing) and _FACTOR.search(sides(option)[1])),
        **{name: _has(mark) for name, mark in _MARKS.items()},
    }
    alone: Mapping[str, Look] = {
        "left side": lambda option: sides(option)[0],
        "right side": lambda option: sides(option)[1] if "=" in _text(option) else "",
    }
    extremes: Mapping[str, Points] = {
        "most": _most,
        "least": _least,
        "alone most": _the_most,
        "alone least": _the_least,
    }
    for name, look in numbers.items():
        yield from ((f"{how} {name}", _pointing(look, points)) for how, points in extremes.items())
    for name, look in marks.items():
        ways = {"with": _most, "without": _least, "alone with": _the_most, "alone without": _the_least}
        yield from ((f"{how} {name}", _pointing(look, points)) for how, points in ways.items())
    for name, look in {**alone, "number of arrows": arrows}.items():
        yield f"alone with its {name}", _pointing(look, _alone)
    # what most options agree about, part by part
    yield "the usual in most parts", lambda options: _most(usual_parts([_parts(each) for each in options]))
    yield "the odd one in most parts", lambda options: _least(usual_parts([_parts(each) for each in options]))


def usual_parts(options: Sequence[Set[str]]) -> list[int]:
    """For each option in how much it agrees with how many: parts that both have, and parts that both lack."""
    counts = Counter(part for each in options for part in each)
    return [sum(count if part in each else len(options) - count for part, count in counts.items()) for each in options]


def _has(mark: str) -> Look:
    return lambda option: re.search(mark, _text(option)) is not None


def _pointing(look: Look, points: Points) -> Callable[[Sequence[Option]], Places]:
    return lambda options: points([look(each) for each in options])


RULES: Mapping[str, Callable[[Sequence[Option]], Places]] = dict(_rules())
