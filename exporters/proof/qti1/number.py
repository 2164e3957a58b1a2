"""Items of QTI 1.2.1 that are answered by a number, marked within a range, or as a text among those that are right."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Context, Decimal
from itertools import pairwise

from ....bank.item.item import NumberEntry, Recognised
from ....bank.quantities.quantity import from_float, typed_number
from ....bank.quantities.units import as_symbols, symbol_in_text
from ...strangers.parsing import shown
from ..report import AcceptedBand, Edge, plain
from .html import one_form
from .trial import ItemTrial

JUST = Decimal("1e-9")  # of a width: how far beyond an edge an answer is tried
ZERO = Decimal(0)
MOST_TRIED = 2000  # numbers on one side of a key


def examine_number(trial: ItemTrial, entry: NumberEntry, practice: bool) -> Iterator[str]:
    """What is wrong with a number that should be right within its half-width."""
    key, width = entry.key, entry.half_width
    for answer in (key, key - width, key + width, from_float(entry.exact)):
        yield from trial.scores((str(answer),), trial.full, f"the right answer {plain(answer)}")
    beyond = width * (1 + JUST)
    far = 2000 * (abs(key) + 1)
    known = [each.value + sign * each.half_width for each in entry.recognised for sign in (-1, 0, 1)]
    for answer in (key - beyond, key + beyond, -key, far, *known):
        if abs(answer - key) > width:
            yield from trial.scores((str(answer),), ZERO, f"the wrong answer {plain(answer)}")
    for text in ("", "a", f"{plain(key)} {entry.unit or 'm'}"):
        yield from trial.scores((text,), ZERO, f"the answer '{shown(text)}', which is no number,")
    yield from trial.scores((), ZERO, "no answer")
    for bound in trial.rules.numbers:
        allowed = {key - width, key + width, *known}
        if practice and bound not in allowed:
            yield f"a rule compares with {plain(bound)}, which is no edge of a band that it should know"
    for each in entry.recognised if practice else ():
        for value in (each.value, each.value - each.half_width, each.value + each.half_width):
            yield from _recognised(trial, each, str(value))
        yield from _not_recognised(trial, each, entry)


def _recognised(trial: ItemTrial, wrong: Recognised, text: str) -> Iterator[str]:
    if wrong.feedback:
        yield from trial.tells((text,), wrong.feedback, f"the wrong answer {shown(text)}")


def _not_recognised(trial: ItemTrial, wrong: Recognised, entry: NumberEntry) -> Iterator[str]:
    """Its own feedback goes no further than its edges."""
    for sign in (-1, 1):
        outside = wrong.value + sign * wrong.half_width * (1 + JUST)
        in_others = any(abs(outside - each.value) <= each.half_width for each in entry.recognised)
        if not in_others and not entry.accepts(outside):
            said = trial.told(str(outside))
            if wrong.feedback and said == one_form(wrong.feedback):
                yield f"the wrong number {plain(wrong.value)} is recognised at {plain(outside)}, past its edge"


def examine_texts(trial: ItemTrial, entry: NumberEntry, practice: bool) -> Iterator[str]:
    """What is wrong with a number that is marked as text: what is right are numbers within the tolerance, and all.

    What counts as typed is read here by itself: no text is taken for right because an entry lists it.
    """
    listed = [text for _, text in trial.rules.texts]
    for text in listed:
        number = read_typed(text, entry.unit)
        right = number is not None and entry.accepts(number)
        yield from trial.scores((text,), trial.full if right else ZERO, f"the answer '{shown(text)}'")
    right_texts = frozenset(entry.spellings)
    for text in right_texts.difference(listed):
        yield from trial.scores((text,), trial.full, f"the right answer '{shown(text)}'")
    for text in entry.spellings:
        for near in (f"1{text}", f"{text}1", f"{text} {entry.unit or 'm'}", text[:-1]):
            if near not in right_texts:
                yield from trial.scores((near,), ZERO, f"the answer '{shown(near)}'")
    yield from _check_numbers(trial, entry)
    yield from trial.scores((), ZERO, "no answer")
    yield from trial.scores(("",), ZERO, "an empty answer")
    for each in entry.recognised if practice else ():
        for text in each.spellings:
            yield from _recognised(trial, each, text)


def read_typed(text: str, unit: str) -> Decimal | None:
    """The number that a text says, in ``unit``, which may stand behind it; None for anything else."""
    found = typed_number(text.replace(",", "."))
    if found is None:
        return None
    number, rest = found
    kept, wanted = ("".join(each.split()) for each in (rest, unit))
    is_unit = kept in ("", wanted) or _bare(as_symbols(kept)) == _bare(symbol_in_text(unit))
    return number if is_unit else None


def _bare(symbol: str) -> str:
    """A unit of which a computer's keyboard gives the letters and figures alone."""
    return symbol.replace("^", "").replace("*", "")


def _check_numbers(trial: ItemTrial, entry: NumberEntry) -> Iterator[str]:
    """From the key, number by number: all are right up to the edges, and the next ones wrong.

    To the asked figures they may be typed with a decimal comma and with the unit as well, to one more they may not.
    """
    for figures in (entry.figures, entry.figures + 1):
        behind = f" {entry.unit}".rstrip().replace("\u00a0", " ")
        for up in (True, False):
            number = entry.key
            for _ in range(MOST_TRIED):
                if abs(number - entry.key) > entry.half_width:
                    for text in (f"{number:f}", f"{number:E}"):
                        yield from trial.scores((text,), ZERO, f"the answer '{shown(text)}', just outside,")
                    break
                ways = [_shortest(number)]
                if figures == entry.figures:
                    ways += [[text.replace(".", ",") for text in ways[0]], [f"{text}{behind}" for text in ways[0]]]
                for texts in ways:
                    if not any(map(trial.is_full, texts)):
                        yield f"the number {plain(number)} lies within the tolerance, but '{texts[0]}' is not right"
                number = _next(number, figures, up)
            else:
                side = "above" if up else "below"
                yield f"only the first {MOST_TRIED} numbers {side} the key were tried, and more are right"
    exact = from_float(entry.exact)
    for figures in range(entry.figures, 9):
        number = Context(prec=figures).plus(exact)
        if entry.accepts(number) and not any(trial.is_full(text) for text in _shortest(number)):
            yield f"the unrounded answer, {plain(number)}, is not right"


def _shortest(number: Decimal) -> list[str]:
    """In digits, and with a power of ten."""
    return [_short(number), f"{number.normalize():E}".replace("E+", "e")]


def _short(number: Decimal) -> str:
    text = f"{number:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _next(number: Decimal, figures: int, up: bool) -> Decimal:
    context = Context(prec=figures)
    exact = context.plus(number)
    return context.next_plus(exact) if up else context.next_minus(exact)


def band_of(trial: ItemTrial) -> AcceptedBand | None:
    """The one stretch of numbers that a stranger's item takes as right, if there is just one."""
    edges = sorted(set(trial.rules.numbers))
    right = [each for each in edges if trial.is_full(str(each))]
    inside = [first for first, last in pairwise(edges) if trial.is_full(str((first + last) / 2))]
    if not right or (len(inside) > 1 and any(b != edges[edges.index(a) + 1] for a, b in pairwise(inside))):
        return None
    return AcceptedBand(Edge(right[0]), Edge(right[-1]))
