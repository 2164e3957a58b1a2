"""Who stands beside whom in a match: rows and columns whose words do not tell which belong together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial, reduce
from itertools import combinations
from math import fsum
from operator import sub

from ...item.draw import mixed
from ...item.item import MatchEntry, Words
from ...model.problem import Scene
from ...writing import match_words
from .situations import Groups, Situation, ToldStory
from .telling import CHANCE, MOST_FOUND, ROWS, guesses, misled, singled_out, singling, told_by_places

STARTS = 6  # for each three groups of situations
_OWN = 0  # the seat of the story that is asked about; seats are rows, then their columns, then what is left over


@dataclass(frozen=True)
class Matching:
    """Rows and columns of situations, each in the scene that it is told in; ``partners[row]`` is a row's column."""

    rows: tuple[ToldStory, ...]
    columns: tuple[ToldStory, ...]
    partners: tuple[int, ...]

    @property
    def entry(self) -> MatchEntry:
        """The entry to be answered."""
        rows, columns = ([(Words(each.story),) for each in side] for side in (self.rows, self.columns))
        return MatchEntry((Words(match_words.MATCH),), tuple(rows), tuple(columns), self.partners, match_words.FEEDBACK)

    @property
    def pairs(self) -> tuple[tuple[ToldStory, ToldStory], ...]:
        """Each row with its column."""
        return tuple((row, self.columns[column]) for row, column in zip(self.rows, self.partners, strict=True))

    @property
    def left_over(self) -> ToldStory:
        """The column that has no row."""
        return next(each for place, each in enumerate(self.columns) if place not in self.partners)


def match(own: Situation, scene: Scene, groups: Groups, draw: str) -> Matching | None:
    """Three situations, ``own`` among them, to be matched with four others; None where words would tell the pairs.

    ``draw`` names the draw: it decides alike on every machine who else is there, and their order. Of those
    found, the one is taken in which who compares words is nearest to who guesses, and is led elsewhere most.
    """
    found = min(_honest(own, scene, groups, draw), key=_cost, default=None)
    if found is None:
        return None
    rows = mixed(range(ROWS), draw)
    columns = _out_of_order(mixed(found[ROWS:], f"{draw} columns", _name), [found[ROWS + row] for row in rows])
    partners = tuple(columns.index(found[ROWS + row]) for row in rows)
    return Matching(tuple(found[row] for row in rows), tuple(columns), partners)


def _out_of_order(columns: list[ToldStory], partners: Sequence[ToldStory]) -> list[ToldStory]:
    """The columns as they are, unless each partner stands opposite its row, which needs no reading."""
    return [*columns[1:], columns[0]] if columns[: len(partners)] == [*partners] else columns


def _honest(own: Situation, scene: Scene, groups: Groups, draw: str) -> Iterator[list[ToldStory]]:
    """The seatings found in which neither places nor words tell the pairs."""
    mine = next(group for group in groups if own in group)
    first = next(each for each in own.told if each.scene == scene)
    if _is_known_by_words(mine, groups):
        return
    several = (each for each in groups if each is not mine and len({one.problem.id for one in each}) > 1)
    others = [each for each in several if not _is_known_by_words(each, groups)]
    for paired in combinations(others, ROWS - 1):
        three = (mine, *paired)
        rest = tuple(each for group in groups if group not in three for each in group)
        for start in range(STARTS):
            seats = _seated([first], [*three, *three, rest], f"{draw} {start} {_group(paired)}")
            if seats and _told(seats) == (0, 0) and max(guesses(seats[:ROWS], seats[ROWS:])) <= MOST_FOUND:
                yield seats


def _is_known_by_words(group: Sequence[Situation], groups: Groups) -> bool:
    """Whether all its stories share a word or a place that no story of another group has: "orbit"."""
    own, others = (
        [each.marks | {each.place} for one in side for each in one.told]
        for side in (group, [one for other in groups if other is not group for one in other])
    )
    return bool(reduce(sub, others, own[0].intersection(*own)))


def _seated(own: Sequence[ToldStory], pools: Sequence[Sequence[Situation]], draw: str) -> list[ToldStory]:
    """A story in each seat, of its pool, no problem and no body twice; changed one by one while less is told.

    Empty where a seat can't be taken.
    """
    orders = {id(pool): mixed((story for each in pool for story in each.told), draw, _name) for pool in pools}
    drawn = [orders[id(pool)] for pool in pools]
    seats = list(own)
    for pool in drawn[len(own) :]:
        free = next(_free(pool, seats), None)
        if free is None:
            return []
        seats.append(free)
    least = _told(seats)
    moved = True
    while moved and least > (0, 0):
        moved = False
        for seat in mixed(range(_OWN + 1, len(seats)), draw):
            others = [each for at, each in enumerate(seats) if at != seat]
            by_places, by_words = partial(_by_places, others, seat), singling(seats, seat)
            known: dict[str, float] = {}  # what places tell, by the place of the story in the seat
            for story in _free(drawn[seat], others):
                if story.place not in known:
                    known[story.place] = by_places(story)
                if known[story.place] <= least[0] and (told := (known[story.place], by_words(story))) < least:
                    seats, least, moved = [*others[:seat], story, *others[seat:]], told, True
    return seats


def _by_places(others: Sequence[ToldStory], seat: int, story: ToldStory) -> float:
    changed = [*others[:seat], story, *others[seat:]]
    return told_by_places(changed[:ROWS], changed[ROWS:])


def _free(stories: Iterable[ToldStory], seats: Sequence[ToldStory]) -> Iterator[ToldStory]:
    """Those of the stories that have neither problem nor body in common with those in the seats."""
    problems, bodies = ({what(each) for each in seats} for what in (_problem, _body))
    return (each for each in stories if _problem(each) not in problems and _body(each) not in bodies)


def _told(seats: Sequence[ToldStory]) -> tuple[float, int]:
    """What counts against a seating: what places tell, then how many words do."""
    rows, columns = seats[:ROWS], seats[ROWS:]
    return told_by_places(rows, columns), singled_out(rows, columns)


def _cost(seats: Sequence[ToldStory]) -> float:
    """How far who compares is from who guesses; less for each row that a word of its own leads elsewhere."""
    rows, columns = seats[:ROWS], seats[ROWS:]
    return fsum(abs(each - CHANCE) for each in guesses(rows, columns)) - misled(rows, columns)


def _problem(story: ToldStory) -> str:
    return story.situation.problem.id


def _body(story: ToldStory) -> str:
    return story.body


def _name(story: ToldStory) -> str:
    return f"{story.situation.problem.id} {story.situation.diagram.name} {story.scene.name}"


def _group(groups: Sequence[Sequence[Situation]]) -> str:
    return " ".join(f"{each[0].problem.id} {each[0].diagram.name}" for each in groups)
