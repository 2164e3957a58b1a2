"""Answers typed into a number item and marked by its own rules: the key, both edges, nothing, nonsense, far away.

Every answer is marked in exact decimals, so that an edge lies where the item says; those just beside an edge also in
doubles, as delivery systems mark, so that no rounding of theirs turns a mark. Where it is not known, the edge is found
from outside, through the marking alone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal, localcontext

from ....bank.item.item import NumberEntry
from ....bank.quantities.quantity import from_float
from ..processing.response import EXACT
from ..processing.values import Value
from ..report import AcceptedBand, Edge, plain
from .parts import ReadPart
from .trial import Bench, PartTrial

DOUBLINGS = 80
HALVINGS = 40
GUESSING = 10

IsRight = Callable[[Decimal], bool]


def find_band(is_right: IsRight, key: Decimal, whole: bool) -> AcceptedBand | None:
    """The run of right answers around the right answer ``key``; None when it has no end on one side."""
    lower, upper = (_find_edge(is_right, key, side, whole) for side in (-1, 1))
    return AcceptedBand(lower, upper) if lower and upper else None


def _find_edge(is_right: IsRight, key: Decimal, side: int, whole: bool) -> Edge | None:
    """Steps twice as long each time until an answer is wrong, then halves the gap."""
    step = Decimal(1) if whole else abs(key) * Decimal("1e-6") or Decimal("1e-9")
    right = key
    for _ in range(DOUBLINGS):
        wrong = key + side * step
        if not is_right(wrong):
            return (_narrow_whole if whole else _narrow)(is_right, right, wrong)
        right, step = wrong, 2 * step
    return None


def _narrow(is_right: IsRight, right: Decimal, wrong: Decimal) -> Edge:
    """Halves the gap, and asks now and then whether right answers end just at the shortest number in it."""
    finest = (wrong - right) / 2**HALVINGS
    for halving in range(1, HALVINGS + 1):
        middle = (right + wrong) / 2
        right, wrong = (middle, wrong) if is_right(middle) else (right, middle)
        if halving % GUESSING == 0:
            edge = _shortest_edge(is_right, right, wrong)
            beside = edge.value + (finest if edge.included else -finest)
            if is_right(beside) != edge.included:
                break
    return edge


def _shortest_edge(is_right: IsRight, right: Decimal, wrong: Decimal) -> Edge:
    value = shortest_between(*sorted((right, wrong)))
    return Edge(value, is_right(value))


def _narrow_whole(is_right: IsRight, right: Decimal, wrong: Decimal) -> Edge:
    for _ in range(DOUBLINGS + HALVINGS):
        if abs(wrong - right) <= 1:
            break
        middle = ((right + wrong) / 2).to_integral_value(ROUND_FLOOR)
        right, wrong = (middle, wrong) if is_right(middle) else (right, middle)
    return Edge(right)


def shortest_between(low: Decimal, high: Decimal) -> Decimal:
    """The number with the fewest decimal places from ``low`` to ``high``, both included."""
    if low <= 0 <= high:
        return Decimal(0)
    largest = max(abs(low), abs(high)).adjusted()
    for place in range(largest, largest - 38, -1):
        grid = Decimal(1).scaleb(place)
        candidate = (low / grid).to_integral_value(ROUND_CEILING) * grid
        if candidate <= high:
            return candidate
    return high


class NumberTrial(PartTrial):
    """A number under trial; ``number`` is its key, ``full_marks`` what the item says of full marks, ``typed`` counts.

    What is typed to find edges is marked anew each time: no answer of these comes again.
    """

    def __init__(self, bench: Bench, part: ReadPart, key: Decimal, alone: bool, worth: Value = None) -> None:
        self.number, self.whole, self.typed = key, part.response.base == "integer", 0
        self._exact, self._binary, self._name = bench.exact, bench.binary, part.response.identifier
        self.full_marks = bench.maxima({self._name: self._text(key)}) if alone else ()
        if alone:
            worth = self.full_marks[0] if self.full_marks else self.type(key)
        super().__init__(bench, part, str(key), worth)

    def _text(self, answer: Decimal) -> str:
        return f"{answer:f}" if self.whole else str(answer)

    def type(self, answer: Decimal | str) -> Value:
        """The score of an answer, marked exactly."""
        self.typed += 1
        text = answer if isinstance(answer, str) else self._text(answer)
        return self._exact.mark({self._name: text})["SCORE"]

    def type_in_doubles(self, answer: Decimal) -> Value:
        """The score of an answer, marked in doubles."""
        return self._binary.mark({self._name: self._text(answer)})["SCORE"]

    def is_right(self, answer: Decimal) -> bool:
        """Whether an answer scores full marks."""
        return bool(self.type(answer) == self.full)


def examine(trial: NumberTrial, expected: NumberEntry | None) -> tuple[AcceptedBand | None, list[str]]:
    """The band of right answers, as expected or else as found, and what is wrong with the marking."""
    with localcontext(EXACT):
        band, findings = _examine_band(trial, expected)
        for answer in ("", "abc"):
            called = f"the answer '{answer}'" if answer else "an empty answer"
            findings.extend(_wrong_score(trial.type(answer), Decimal(0), called))
        findings.extend(_examine_far(trial, band))
    return band, findings


def _examine_band(trial: NumberTrial, expected: NumberEntry | None) -> tuple[AcceptedBand | None, list[str]]:
    findings = list(_examine_key(trial))
    if findings:
        return None, findings
    found = None if expected else find_band(trial.is_right, trial.number, trial.whole)
    if expected:
        band = AcceptedBand(Edge(expected.key - expected.half_width), Edge(expected.key + expected.half_width))
    elif found:
        band = found
    else:
        return None, ["no answer on one side of the key is wrong, however far"]
    findings.extend(_examine_edges(trial, band))
    if findings and expected:
        found = find_band(trial.is_right, trial.number, trial.whole)
        findings.insert(0, f"answers from {found or 'far below to far above'} are right, {band} expected")
    if expected and not trial.whole:
        unrounded = from_float(expected.exact)
        findings.extend(_wrong_score(trial.type(unrounded), trial.full, f"the unrounded key {plain(unrounded)}"))
    return band, findings


def _examine_key(trial: NumberTrial) -> Iterator[str]:
    marks = trial.full_marks
    if len(set(marks)) > 1:
        yield f"MAXSCORE says {marks[0]} and the normal maximum {marks[1]}"
    if trial.full is None or trial.full <= 0:
        yield f"full marks are {_marks(trial.full)}, more than 0 expected"
        return
    yield from _examine_both(trial, trial.number, trial.full, "the key")


def _examine_edges(trial: NumberTrial, band: AcceptedBand) -> Iterator[str]:
    lower, upper = _on_grid(band, trial.whole)
    step = Decimal(1) if trial.whole else _step(band, trial.number)
    for edge, inward in ((lower, step), (upper, -step)):
        wanted = trial.full if edge.included else 0
        yield from _wrong_score(trial.type(edge.value), wanted, f"the edge {plain(edge.value)}")
        for answer, inside in _beside(edge, inward, band.width):
            worth, where = (trial.full, "inside") if inside else (Decimal(0), "outside")
            yield from _examine_both(trial, answer, worth, f"just {where}, the answer")


def beside_edges(band: AcceptedBand, key: Decimal) -> Iterator[tuple[Decimal, bool]]:
    """The numbers typed just beside the edges of a band, each with whether it is inside."""
    step = _step(band, key)
    for edge, inward in ((band.lower, step), (band.upper, -step)):
        yield from _beside(edge, inward, band.width)


def _beside(edge: Edge, inward: Decimal, width: Decimal) -> Iterator[tuple[Decimal, bool]]:
    yield edge.value - inward, False
    if width > 4 * abs(inward):
        yield edge.value + inward, True


def _examine_both(trial: NumberTrial, answer: Decimal, wanted: Value, what: str) -> Iterator[str]:
    """One answer marked exactly and, where that is well, in doubles."""
    called = f"{what} {plain(answer)}"
    found = list(_wrong_score(trial.type(answer), wanted, called))
    yield from found or _wrong_score(trial.type_in_doubles(answer), wanted, f"{called}, in doubles,")


def _on_grid(band: AcceptedBand, whole: bool) -> tuple[Edge, Edge]:
    """The edges, where whole numbers are asked for the outermost of these inside."""
    if not whole:
        return band.lower, band.upper
    lower, upper = band.lower.value, band.upper.value
    return Edge(lower.to_integral_value(ROUND_CEILING)), Edge(upper.to_integral_value(ROUND_FLOOR))


def _step(band: AcceptedBand, key: Decimal) -> Decimal:
    """A step that is small against the band and large against the rounding of doubles."""
    return max(band.width * Decimal("1e-6"), abs(key) * Decimal("1e-12")) or Decimal("1e-9")


def _examine_far(trial: NumberTrial, band: AcceptedBand | None) -> Iterator[str]:
    """Answers a sign or a power of ten away from the key, and further, score nothing."""
    key = trial.number
    far = 1000 * (abs(key) + 1)
    width = band.width if band else abs(key) / 100
    for answer in (-key, 10 * key, key / 10, key + far + 1000 * width, key - far - 1000 * width):
        typed = answer.to_integral_value() if trial.whole else +answer
        if abs(typed - key) > 2 * width:
            called = f"far from the key {plain(key)}, the answer {plain(typed)}"
            yield from _wrong_score(trial.type(typed), Decimal(0), called)


def _wrong_score(found: Value, wanted: Value, called: str) -> Iterator[str]:
    if found is None or found != wanted:
        yield f"{called} scores {_marks(found)}, {_marks(wanted)} expected"


def _marks(score: Value) -> str:
    return "nothing at all (NULL)" if score is None else plain(Decimal(score))
