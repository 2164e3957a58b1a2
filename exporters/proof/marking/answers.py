"""Answers typed into a number item and marked by its own rules: the key, both edges, nothing, nonsense, far away.

Every answer is marked in exact decimals, so that an edge lies where the item says; those just beside an edge also in
doubles, as delivery systems mark, so that no rounding of theirs turns a mark. Where it is not known, the edge is found
from outside, through the marking alone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal, localcontext

from ....bank.item.item import NumberEntry
from ..processing.response import EXACT, Marking
from ..processing.values import CannotMarkError, Declaration, Value, parse
from ..reading.item_file import ItemFile
from ..report import AcceptedBand, Edge, plain

DOUBLINGS = 80
HALVINGS = 40
GUESSING = 10

IsRight = Callable[[Decimal], bool]
NUMBERS = ("float", "integer")


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


class NumberMarker:
    """One number item with its rules ready; ``key`` is the answer held to be right, ``full`` what it should score.

    One number of several parts gets the ``rules`` that all parts share, and what it is worth by itself.
    """

    def __init__(
        self,
        item: ItemFile,
        response: Declaration,
        key: Decimal,
        rules: tuple[Marking, Marking] | None = None,
        full: Decimal | None = None,
    ) -> None:
        score = item.declarations.get("SCORE")
        if score is None or (score.kind, score.cardinality) != ("outcome", "single") or score.base not in NUMBERS:
            raise CannotMarkError("no outcome called SCORE is a single number")
        self._response = response
        self._exact = rules[0] if rules else Marking(item.root, item.declarations, Decimal)
        self._binary = rules[1] if rules else Marking(item.root, item.declarations, float)
        self.tried = 0
        self.key = key
        self.whole = response.base == "integer"
        self.full_marks = self._full_marks(item) if full is None else [full]
        self.full = self.full_marks[0] if self.full_marks else self.score(key)

    def _full_marks(self, item: ItemFile) -> list[Decimal]:
        """What full marks are, by MAXSCORE and by the normal maximum, as far as they are declared."""
        scope = self._exact.mark({self._response.identifier: self._text(self.key)})
        declared = parse(item.declarations["SCORE"].normal_maximum, "float", Decimal)
        maximum = scope.get("MAXSCORE")
        whole = Decimal(maximum) if type(maximum) is int else maximum
        return [each for each in (whole, declared) if isinstance(each, Decimal)]

    def _text(self, answer: Decimal) -> str:
        return f"{answer:f}" if self.whole else str(answer)

    def score(self, answer: Decimal | str) -> Value:
        """The score of an answer, marked exactly."""
        self.tried += 1
        text = answer if isinstance(answer, str) else self._text(answer)
        return self._exact.mark({self._response.identifier: text})["SCORE"]

    def score_in_doubles(self, answer: Decimal) -> Value:
        """The score of an answer, marked in doubles."""
        return self._binary.mark({self._response.identifier: self._text(answer)})["SCORE"]

    def is_right(self, answer: Decimal) -> bool:
        """Whether an answer scores full marks."""
        return bool(self.score(answer) == self.full)


def examine(sitting: NumberMarker, expected: NumberEntry | None) -> tuple[AcceptedBand | None, list[str]]:
    """The band of right answers, as expected or else as found, and what is wrong with the marking."""
    with localcontext(EXACT):
        band, findings = _examine_band(sitting, expected)
        for answer in ("", "abc"):
            called = f"the answer '{answer}'" if answer else "an empty answer"
            findings.extend(_wrong_score(sitting.score(answer), Decimal(0), called))
        findings.extend(_examine_far(sitting, band))
    return band, findings


def _examine_band(sitting: NumberMarker, expected: NumberEntry | None) -> tuple[AcceptedBand | None, list[str]]:
    findings = list(_examine_key(sitting))
    if findings:
        return None, findings
    found = None if expected else find_band(sitting.is_right, sitting.key, sitting.whole)
    if expected:
        band = AcceptedBand(Edge(expected.key - expected.half_width), Edge(expected.key + expected.half_width))
    elif found:
        band = found
    else:
        return None, ["no answer on one side of the key is wrong, however far"]
    findings.extend(_examine_edges(sitting, band))
    if findings and expected:
        found = find_band(sitting.is_right, sitting.key, sitting.whole)
        findings.insert(0, f"answers from {found or 'far below to far above'} are right, {band} expected")
    if expected and not sitting.whole:
        unrounded = Decimal(repr(expected.exact))
        findings.extend(_wrong_score(sitting.score(unrounded), sitting.full, f"the unrounded key {plain(unrounded)}"))
    return band, findings


def _examine_key(sitting: NumberMarker) -> Iterator[str]:
    marks = sitting.full_marks
    if len(set(marks)) > 1:
        yield f"MAXSCORE says {marks[0]} and the normal maximum {marks[1]}"
    if sitting.full is None or sitting.full <= 0:
        yield f"full marks are {_marks(sitting.full)}, more than 0 expected"
        return
    yield from _examine_both(sitting, sitting.key, sitting.full, "the key")


def _examine_edges(sitting: NumberMarker, band: AcceptedBand) -> Iterator[str]:
    lower, upper = _on_grid(band, sitting.whole)
    step = Decimal(1) if sitting.whole else _step(band, sitting.key)
    for edge, inward in ((lower, step), (upper, -step)):
        wanted = sitting.full if edge.included else 0
        yield from _wrong_score(sitting.score(edge.value), wanted, f"the edge {plain(edge.value)}")
        yield from _examine_both(sitting, edge.value - inward, Decimal(0), "just outside, the answer")
        if band.width > 4 * step:
            yield from _examine_both(sitting, edge.value + inward, sitting.full, "just inside, the answer")


def _examine_both(sitting: NumberMarker, answer: Decimal, wanted: Value, what: str) -> Iterator[str]:
    """One answer marked exactly and, where that is well, in doubles."""
    called = f"{what} {plain(answer)}"
    found = list(_wrong_score(sitting.score(answer), wanted, called))
    yield from found or _wrong_score(sitting.score_in_doubles(answer), wanted, f"{called}, in doubles,")


def _on_grid(band: AcceptedBand, whole: bool) -> tuple[Edge, Edge]:
    """The edges, where whole numbers are asked for the outermost of these inside."""
    if not whole:
        return band.lower, band.upper
    lower, upper = band.lower.value, band.upper.value
    return Edge(lower.to_integral_value(ROUND_CEILING)), Edge(upper.to_integral_value(ROUND_FLOOR))


def _step(band: AcceptedBand, key: Decimal) -> Decimal:
    """A step that is small against the band and large against the rounding of doubles."""
    return max(band.width * Decimal("1e-6"), abs(key) * Decimal("1e-12")) or Decimal("1e-9")


def _examine_far(sitting: NumberMarker, band: AcceptedBand | None) -> Iterator[str]:
    """Answers a sign or a power of ten away from the key, and further, score nothing."""
    key = sitting.key
    far = 1000 * (abs(key) + 1)
    width = band.width if band else abs(key) / 100
    for answer in (-key, 10 * key, key / 10, key + far + 1000 * width, key - far - 1000 * width):
        typed = answer.to_integral_value() if sitting.whole else +answer
        if abs(typed - key) > 2 * width:
            called = f"far from the key {plain(key)}, the answer {plain(typed)}"
            yield from _wrong_score(sitting.score(typed), Decimal(0), called)


def _wrong_score(found: Value, wanted: Value, called: str) -> Iterator[str]:
    if found is None or found != wanted:
        yield f"{called} scores {_marks(found)}, {_marks(wanted)} expected"


def _marks(score: Value) -> str:
    return "nothing at all (NULL)" if score is None else plain(Decimal(score))
