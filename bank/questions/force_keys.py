"""Which of some forces act on a body: wrong ones that act on another body, that nothing exerts, or that are made up."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import zip_longest

from ..item.draw import drawn_number
from ..item.item import ChoiceEntry
from ..mechanics.equations import components
from ..model import wording
from ..model.edit import DiagramEdit
from ..model.mistake import Mistake
from ..model.problem import Force
from ..thinking.options import mixed, right, wrong
from ..writing import prompts
from ..writing.directions import placeless
from ..writing.letters import story_alone
from ..writing.stem import filled
from .about import About

# How many right and wrong ones are offered, by how many act: neither number tells the other.
OFFERED = {
    1: ((1, 2), (1, 3)),
    2: ((2, 3), (1, 3), (1, 2), (1, 3), (2, 3), (2, 2)),
    3: ((2, 3), (1, 3), (3, 2), (2, 3), (3, 1), (1, 3)),
    4: ((3, 2), (2, 3), (2, 3), (1, 3)),
}
FRICTION_OFFERED = 4  # one smooth surface of so many: elsewhere friction acts, and its name must not tell
STORY_LAST = 4  # in one question of so many what its story makes one think of is offered last
MADE_UP_FIRST = 4  # in one question of so many what is made up comes before a pair
MOST_PAIRS = 1  # forces on another body: two would be struck out by the same words
EARTH_FIRST = 2  # in one of so many the weight, or its pair, may come before what touches the body
_NO_FRICTION = re.compile(r"\bsmooth\b", re.IGNORECASE)  # a story that says it in so many words answers the question
_FAR_AWAY = re.compile(r"\bfar (?:out in space|from any planet)\b")  # what is negligible is there all the same
_BACK = ("weight", "gravitation", "normal", "tension", "spring", "support", "friction")  # whose pair is well known


@dataclass(frozen=True)
class Named:
    """A force as an option names it, and the mistake that it takes to choose it, if it does not act.

    ``as_acting``: whether it is said to be exerted on the body by something, as those that act are.
    """

    said: str
    mistake: Mistake | None = None
    why: str = ""
    as_acting: bool = False
    is_made_up: bool = False


def forces(about: About) -> ChoiceEntry | None:
    """Which of some forces act, each with its agent; one or more are right. None for a body at rest."""
    if about.view.inward is None:
        return None
    draw = f"{about.problem.id} {about.diagram.name} {about.scene.name} forces"
    acting, false = _acting(about, draw), list(_not_acting(about, draw))
    ways = OFFERED[min(len(acting), max(OFFERED))]
    some, others = ways[drawn_number(f"{draw} offered") % len(ways)]
    kept, added = acting[:some], _one_as_acting(false, others)
    if all(each.is_made_up for each in added) or len(kept) + len(added) < prompts.FEWEST_FORCES:
        return None  # beside names of no force the right ones would be known by theirs
    options = [right(filled(each.said), each.why) for each in kept]
    options += [wrong(filled(each.said), each.mistake) for each in added if each.mistake]
    prompt = filled(prompts.WHICH_FORCES, body=about.body, place=about.view.place)
    return ChoiceEntry(prompt, mixed(options, draw), several=True, shuffle=True)


def _one_as_acting(false: Sequence[Named], wanted: int) -> list[Named]:
    """The first ones, with one at least that nobody can rule out by what it is said to act on, or to be exerted by."""
    first = list(false[:wanted])
    alike = next((each for each in false if each.as_acting), None)
    if alike and not any(each.as_acting for each in first):
        first[-1:] = [alike]
    return first


def _ordered(found: Sequence[Named], draw: str) -> list[Named]:
    return sorted(found, key=lambda each: drawn_number(f"{draw} {each.said}"))


def _acting(about: About, draw: str) -> list[Named]:
    """The forces that act, those that are offered first in front."""
    last = _is_earth_last(f"{draw} acting")
    found = [
        (
            last and force.law is not None,
            prompts.FORCE_BY.format(force=name, agent=agent, body=about.body),
            prompts.FORCE_ACTS.format(agent=agent),
        )
        for force, name, agent in _shown(about)
    ]
    found.sort(key=lambda each: (each[0], drawn_number(f"{draw} {each[1]}")))
    return [Named(said, why=why) for _, said, why in found]


def _is_earth_last(draw: str) -> bool:
    """Whether gravity is offered only for want of others: that it acts is known to everybody."""
    return drawn_number(f"{draw} Earth") % EARTH_FIRST > 0


def _shown(about: About) -> Iterator[tuple[Force, str, str]]:
    """Each force of the diagram with its name and its agent; what a cord exerts is told without a name."""
    for force in about.diagram.forces:
        shown = wording.force_words(about.scene, force.role)
        if shown:
            name = prompts.OTHER_NAMES.get(placeless(about.diagram, shown.name), placeless(about.diagram, shown.name))
            yield force, name, shown.by


def _not_acting(about: About, draw: str) -> Iterator[Named]:
    """What does not act: first what this story makes one think of, then by turns pairs and what is made up."""
    why: dict[str, Mistake] = {edit.way: mistake for mistake, edit in about.of(DiagramEdit)}
    story = _ordered([each for each in _of_the_story(about, why, draw) if each.mistake], f"{draw} story")
    pairs = [each for each in _on_others(about, why, draw) if each.mistake][:MOST_PAIRS]
    made_up = _ordered([each for each in _made_up(about, why, draw) if each.mistake], f"{draw} made up")
    first, second = (pairs, made_up) if drawn_number(f"{draw} first") % MADE_UP_FIRST else (made_up, pairs)
    turns = [each for both in zip_longest(first, second) for each in both if each]
    yield from (*turns, *story) if drawn_number(f"{draw} story last") % STORY_LAST == 0 else (*story, *turns)


def _of_the_story(about: About, why: Mapping[str, Mistake], draw: str) -> Iterator[Named]:
    """Forces on the body that something in this story does not exert."""
    bystander = about.scene.bystanders.get(about.diagram.name)
    if bystander:
        said = prompts.FORCE_BY.format(force=bystander.name, agent=bystander.by, body=about.body)
        yield Named(said, why.get("by-bystander"), as_acting=True)
    told = "".join(each.text for each in story_alone(about.scene) if hasattr(each, "text"))
    surfaces = [agent for force, _, agent in _shown(about) if about.scene.kind_of(force) == "normal"]
    rough = any(force.kind == "friction" for force in about.diagram.forces)
    smooth = surfaces and not rough and _NO_FRICTION.search(told)
    if smooth and drawn_number(f"{draw} friction") % FRICTION_OFFERED == 0:
        said = prompts.FORCE_BY.format(force=prompts.FRICTION, agent=surfaces[0], body=about.body)
        yield Named(said, why.get("by-smooth-surface"), as_acting=True)
    if _FAR_AWAY.search(told) and not any(force.law in ("weight", "gravitation") for force in about.diagram.forces):
        said = prompts.FORCE_BY.format(force=prompts.GRAVITY, agent=wording.WEIGHT.by, body=about.body)
        yield Named(said, why.get("gravity-everywhere"), as_acting=True)


def _on_others(about: About, why: Mapping[str, Mistake], draw: str) -> Iterator[Named]:
    """The forces that the body exerts itself on what acts on it."""
    last = _is_earth_last(f"{draw} pair")
    found = sorted(
        _shown(about), key=lambda each: (last and each[0].law is not None, drawn_number(f"{draw} {each[1]}"))
    )
    for force, name, agent in found:
        if about.scene.kind_of(force) in _BACK:
            said = prompts.FORCE_BY.format(force=name, agent=about.body, body=agent)
            yield Named(said, why.get("on-the-other"))


def _made_up(about: About, why: Mapping[str, Mistake], draw: str) -> Iterator[Named]:
    """Forces that no body exerts; none along the path where one that acts points along it.

    Each is said to be exerted by something that does not push or pull that way, if there is such.
    """
    along = any(_points(about, force, "forward") for force in about.diagram.forces)
    out = any(_points(about, force, "inward", -1) for force in about.diagram.forces)
    for way, said in prompts.NO_FORCE.items():
        by = _agent_for(about, way)
        if (way == "forward" and not along) or way == "outward" or (way == "inward" and by):
            told = prompts.SAID_BY.format(agent=by) if by else ""
            name = said[0] if way == "outward" and out else said[drawn_number(f"{draw} {way}") % len(said)]
            yield Named(name.format(body=about.body, by=told), why.get(way), as_acting=bool(by), is_made_up=True)


def _agent_for(about: About, way: str) -> str:
    """What may be said to exert a force that is none, the last in the diagram; "" where all that act could.

    What pushes outwards exerts no centrifugal force, but who says so is half right; so is who calls a force towards the
    centre, or a part of one, centripetal. Nor does what rubs push forwards.
    """
    shown = [(force, agent) for force, _, agent in _shown(about)]
    barred = {
        agent
        for force, agent in shown
        if (way == "outward" and _points(about, force, "inward", -1))
        or (way == "inward" and _points(about, force, "inward", 1))
        or (way == "forward" and force.kind == "friction")
    }
    return next((agent for _, agent in reversed(shown) if agent not in barred), "")


def _points(about: About, force: Force, wanted: str, sign: int = 0) -> bool:
    """Whether a force has a component along an axis, of a sign if one is wanted."""
    parts = [part for axis, part in components(about.diagram, force) if axis == wanted]
    return any(not sign or bool(part.could_extract_minus_sign()) == (sign < 0) for part in parts)
