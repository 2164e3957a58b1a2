"""Which limit of a vertical circle has a drawing of what happens past it, and that drawing.

A body that is carried round at a steady rate (on a wheel, on a planet) is not drawn: what carries it goes on with it,
and holds it elsewhere by forces that its diagram does not have. Nor is one that does not coast through air that is
negligible: the parabola would not be true.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import lru_cache
from math import pi, sqrt

import numpy as np
from numpy.typing import NDArray

from ...drawing.strip import Holder, StripView, draw_strip
from ...item.item import Paragraph, SolutionDrawing, Words
from ...model.problem import Problem, Scene
from ...writing.limit_words import Failure, Outcome
from ...writing.plots.strip_words import HELD, LOST
from ...writing.plots.view import Points
from .failures import Limit
from .paths import Circle, Passage, Positions, circle_of, path_of

HOLDERS: Mapping[Failure, Holder] = {"goes slack": "cord", "falls": "loop", "takes off": "hump"}
ROUND, OVER = 1.08, 1.15  # how far beyond its limit the speed is, at the bottom of a circle and on a hump
COUNT_ROUND, COUNT_OVER, COUNT_TRACE = 21, 8, 41  # of positions
LOWEST = 0.32  # where the strip of a hump ends, over the centre in radii
_NO_AIR = re.compile(r"\bair resistance\b[^.]*\bnegligible\b", re.IGNORECASE)


def strip(
    problem: Problem, limit: Limit, scene: Scene, failure: Failure, outcome: Outcome, gaps: Mapping[str, str]
) -> Iterator[Paragraph]:
    """What is said and drawn of the motion past a limit; nothing where it would not be true, or tell nothing."""
    told = {"lost": LOST, "greater": HELD}.get(outcome, {}).get(failure)
    circle = circle_of(problem, limit.diagram, limit.force)
    if not told or not circle or limit.diagram.spot != "top" or not _coasts(problem, scene):
        return
    path = past_limit(circle, outcome == "lost")
    if (path.leaves is not None) != (outcome == "lost"):
        return
    view = StripView(
        HOLDERS[failure],
        *_places(path, COUNT_ROUND if circle.sense > 0 else COUNT_OVER),
        told.title.format(**gaps),
        told.alternative.format(**gaps),
    )
    yield (Words(told.lead.format(**gaps)),)
    yield (SolutionDrawing(draw_strip(view)),)


def _coasts(problem: Problem, scene: Scene) -> bool:
    """Whether nothing carries the body round, and nothing but what is in its diagram acts on it."""
    motion = problem.motion
    return not (motion.period or motion.angular_speed or motion.frequency) and bool(_NO_AIR.search(scene.story))


@lru_cache(maxsize=16)
def past_limit(circle: Circle, is_lost: bool) -> Passage:
    """The motion well beyond the limit, or well within it, in units of the radius and of g.

    Inside a circle it begins at the bottom, where the speed is least at the root of 5 g r: so the energy is that of too
    small a speed at the top. On a hump it begins at the top, where it is greatest at the root of g r; how the body came
    there is not drawn, as an arc before the top could not hold it either.
    """
    if circle.sense < 0:
        return path_of(circle, 0.0, OVER if is_lost else 1 / OVER, lowest=LOWEST)
    return path_of(circle, -pi, sqrt(5) * (1 / ROUND if is_lost else ROUND))


def _places(path: Passage, count: int) -> tuple[Points, Points, Points]:
    """The places with contact, those without, and the way on which these lie."""
    found = path.evenly(count)
    if path.leaves is None:
        return _pairs(found, found.in_contact)[:-1], (), ()
    way = path.at(np.linspace(path.leaves, path.ends, COUNT_TRACE))
    return (
        _pairs(found, found.in_contact),
        _pairs(found, ~found.in_contact),
        _pairs(way, np.ones(COUNT_TRACE, dtype=bool)),
    )


def _pairs(found: Positions, those: NDArray[np.bool_]) -> Points:
    # rounded, so that all machines draw the same
    return tuple(zip(found.x[those].round(6).tolist(), found.y[those].round(6).tolist(), strict=True))
