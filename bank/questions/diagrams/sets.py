"""Which wrong force diagrams are offered together, so that the right one is told by physics and not beside the others.

Who only compares learns from arrows that one diagram lacks or has alone, and from how like the others each is as it is
told to a listener. So few diagrams have an arrow too many or too few, and among the others the right one is as often
the least like all as the most like them, or one between.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import combinations, product
from math import fsum

from ...drawing.figure import draw_diagram
from ...item.draw import drawn_number, drawn_place
from ...item.item import Option
from ...model.mistake import WEIGHTS, Mistake
from ...thinking.balance import ToldPicture, alike_as_drawn, likeness, pieces
from ...thinking.options import right, wrong
from ...writing.figure_words import alternative
from ...writing.view import DiagramView

MOST_TURNED = 1  # weights of wrong diagrams: that the weight points downwards is known to anyone
OF_ODD, OF_EQUAL = 0.3, 0.1  # what each odd one counts, and each that is told as like the others as another
_USUAL = WEIGHTS.index("sometimes")


@dataclass(frozen=True)
class DrawnDiagram:
    """A diagram to choose, and the mistakes that lead to it, none for the right one.

    ``is_odd`` tells whether it has an arrow too many or too few, ``weight_turned`` whether the weight is not downwards,
    ``as_at_rest`` whether the weight and what carries the body are right, as those are in a body at rest.
    """

    view: DiagramView
    mistakes: tuple[Mistake, ...] = ()
    is_odd: bool = False
    weight_turned: bool = False
    as_at_rest: bool = True

    @cached_property
    def option(self) -> Option:
        """The option that shows it."""
        if not self.mistakes:
            return right(draw_diagram(self.view))
        return wrong(draw_diagram(self.view), *self.mistakes, both=len(self.mistakes) > 1)

    @cached_property
    def picture(self) -> ToldPicture:
        """What a listener compares."""
        rarity = sum(WEIGHTS.index(each.prior.weight) - _USUAL for each in self.mistakes)
        arrows = (f"{each.name} {each.agent} {each.direction_words}" for each in self.view.forces)
        return ToldPicture(frozenset(arrows), rarity)

    @cached_property
    def pieces(self) -> frozenset[str]:
        """The words in which it is told."""
        return frozenset(pieces(alternative(self.view)))


def chosen(
    known: Sequence[DrawnDiagram],
    draw: str,
    wanted: int,
    often: Mapping[int, Sequence[float]],
    *,
    odd: bool = False,
    at_rest: bool = False,
) -> tuple[int, ...]:
    """The places of so many wrong diagrams that stand beside the right one, which is the first; () for too few.

    ``often`` tells for so many with the arrows of the right one how often each place of it is drawn among them, from
    the least like all to the most; every place as often where nothing is told. ``odd`` tells whether one with an arrow
    too many or too few is wanted. Where ``at_rest``, the right one is not the only one in which the weight, and what
    carries the body, are as in a body at rest. Of sets that do equally well by words, that is taken which does best
    arrow for arrow.
    """
    sets = _as_told(known, _sets(known, wanted, with_odd=odd, at_rest=at_rest), draw, often)
    in_order = sorted(sets, key=lambda one: drawn_number(f"{draw} {one}"))
    return alike_as_drawn([each.picture for each in known], in_order, draw)


def _sets(known: Sequence[DrawnDiagram], wanted: int, *, with_odd: bool, at_rest: bool) -> list[tuple[int, ...]]:
    """Sets of so many wrong diagrams by their places: one odd at most, or else as few as can be, and hard to tell."""
    places = range(1, len(known))
    odd = [place for place in places if known[place].is_odd]
    fair = [place for place in places if not known[place].is_odd]

    def hard(number: int) -> Iterator[tuple[int, ...]]:
        for some, others in product(combinations(odd, number), combinations(fair, wanted - number)):
            if _is_hard(known, (*some, *others), at_rest=at_rest):
                yield tuple(sorted((*some, *others)))

    one = list(hard(1))
    few = one if with_odd and one else [*hard(0), *one]
    more = (list(hard(number)) for number in range(2, wanted + 1))
    return few or next(filter(None, more), []) or list(combinations(places, wanted))


def _is_hard(known: Sequence[DrawnDiagram], places: Sequence[int], *, at_rest: bool) -> bool:
    """Whether one weight at most is turned, and, where ``at_rest``, a wrong one is as at rest as well."""
    few_turned = sum(known[place].weight_turned for place in places) <= MOST_TURNED
    return few_turned and (not at_rest or any(known[place].as_at_rest for place in places))


def _as_told(
    known: Sequence[DrawnDiagram],
    sets: Iterable[tuple[int, ...]],
    draw: str,
    often: Mapping[int, Sequence[float]],
) -> list[tuple[int, ...]]:
    """Those sets that put the right one nearest to its drawn place by how like the others it is told."""
    told = [each.pieces for each in known]
    shares = [[likeness(one, other) for other in told] for one in told]

    @lru_cache
    def drawn(fair: int) -> float:
        """From 0 for the least to 1 for the most, among so many with the same arrows."""
        return drawn_place(often.get(fair, (1.0,) * fair), draw, "words") / max(fair - 1, 1)

    def cost(places: tuple[int, ...]) -> float:
        here = (0, *places)
        fair = [at for at in here if not known[at].is_odd]
        look = [round(fsum(shares[at][other] for other in here if other != at), 9) for at in fair]
        equal = len(look) - len(set(look))
        return round(abs(_place(look) - drawn(len(fair))) + OF_ODD * (len(here) - len(fair)) + OF_EQUAL * equal, 6)

    costs = {one: cost(one) for one in sets}
    least = min(costs.values(), default=0.0)
    return [one for one, each in costs.items() if each <= least]


def _place(look: Collection[float]) -> float:
    """The place of the first among all, from 0 for the least to 1 for the most; equals share theirs."""
    own, *rest = look
    return fsum((each < own) + (each == own) / 2 for each in rest) / max(len(rest), 1)
