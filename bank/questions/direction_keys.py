"""Questions about which way something points: acceleration, net force, velocities and forces in return.

On the page a way becomes the name of a direction; which, each scene draws for itself.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from ..item.draw import drawn_number
from ..item.item import ChoiceEntry, Paragraph, Words
from ..language import capital
from ..model.edit import DirectionEdit
from ..model.mistake import Mistake
from ..model.wording import force_words
from ..thinking.force_edits import is_friction
from ..thinking.options import FEWEST_WRONG, mixed, right, wrong
from ..writing import bearings
from ..writing.bearings import Ground
from ..writing.letters import sense_of
from ..writing.stem import filled
from ..writing.view import ForceView
from .about import About
from .ways import BACKWARD, FORWARD, INWARD, NONE_SEEN, OUTWARD, Way, acceleration_way, change_way, components, net_way

ALONG = 0.999  # the cosine of what a force along the radius may lean
_LASTING = ("weight", "gravitation", "electric")
MOST_WRONG = 3
STEP_OF = " before "
ONE_IN = 4  # choices has a wrong option of another form than the key
# the ways of which a mistake is made, by the word that its edit says, for the questions about one moment
_AT_ONCE = {"outward": OUTWARD, "forward": FORWARD, "backward": BACKWARD, "none": None}
_SET_FREE = {"free-outward": OUTWARD, "free-between": 3, "free-inward": INWARD, "free-backward": BACKWARD}
_IN_RETURN = {"pair-forward": FORWARD, "pair-backward": BACKWARD}


@dataclass(frozen=True)
class AskedDirection:
    """One question about a direction: what it is called, how its id ends, and what makes its entry."""

    what: str
    suffix: str
    make: Callable[[About], ChoiceEntry | None]


# --- how a scene names directions -----------------------------------------------------------------


@dataclass(frozen=True)
class Bearings:
    """Where the centre lies and which way the body moves, on the page: ``turn`` is 1 if forward is anticlockwise.

    ``by_body``: whether the sentence tells where the body lies from the centre, not the centre from the body.
    """

    ground: Ground
    inward: int
    turn: int
    by_body: bool = False

    def name(self, way: Way) -> str:
        """The name of a way."""
        return bearings.NOWHERE if way is None else bearings.WAYS[self.ground][self._page(way)]

    def _page(self, way: int) -> int:
        return (self.inward + self.turn * way) % 8

    def told(self, body: str) -> dict[str, str]:
        """What fills the gaps of the sentence before the question about a body."""
        ways, quarter = bearings.WAYS[self.ground], self.inward // 2
        inward = bearings.CENTRE_PLACES[self.ground][quarter].format(body=body)
        outward_of = bearings.BODY_PLACES[self.ground][(quarter + 2) % 4]
        return {"forward": ways[self._page(FORWARD)], "inward": inward, "outward_of": outward_of}

    def setting(self, about: About) -> str:
        """The sentence before the question."""
        told = bearings.SETTINGS[self.ground][self.by_body]
        return f"{bearings.ON_ITS_WAY[about.diagram.angle_from or 'top']} {told}" if self.ground == "radius" else told


def bearings_of(about: About, what: str) -> Bearings:
    """The bearings that a scene is told in for a question; a draw decides what the model leaves open.

    Where the centre may lie anywhere, it lies another way in each scene of a problem and in each question of which this
    is a step, so that no way is right more often than another.
    """
    drawn = drawn_number(f"{_draw_of(about, what)} bearings")
    turn, by_body = (1 if drawn % 2 else -1), drawn // 8 % 2 == 1
    inward = (drawn_number(f"{about.problem.id} {about.diagram.name} bearings") + _place(about, what)) % 4 * 2
    spot = about.diagram.spot
    if spot == "angle":
        return Bearings("radius", 0, 1)
    if about.problem.motion.plane == "horizontal":
        return Bearings("above", inward, turn, by_body)
    if spot == "side":  # on its way up, as the equations have it
        return Bearings("side", 4 if turn < 0 else 0, turn, by_body)
    if spot in ("top", "bottom") and not about.diagram.place:
        return Bearings("side", 6 if spot == "top" else 2, turn, by_body)
    return Bearings("page", inward, turn, by_body)


def _place(about: About, what: str) -> int:
    """The place of a scene in its problem; of a question of which this is a step, that of both together."""
    _, _, question = what.partition(STEP_OF)
    places = {each.name: place for place, each in enumerate(about.problem.questions)}
    return about.problem.scenes.index(about.scene) + places.get(question, 0)


# --- questions ------------------------------------------------------------------------------------


def acceleration(about: About, step_of: str = "") -> ChoiceEntry | None:
    """Which way the acceleration points; None for a body at rest. ``step_of`` is the question that it is a step of.

    No step tells ways by the radius: where the acceleration is asked for, "inwards" would be part of every key.
    """
    if step_of and about.diagram.spot == "angle":
        return None
    what = f"acceleration{STEP_OF}{step_of}" if step_of else "acceleration"
    return _of_moment(about, what, bearings.ACCELERATION, acceleration_way(about))


def net_force(about: About) -> ChoiceEntry | None:
    """Which way the net force points; None for a body at rest, and where it is the only force."""
    if len(about.view.forces) < 2:
        return None
    return _of_moment(about, "net force", bearings.NET_FORCE, net_way(about))


def _of_moment(about: About, what: str, asked: str, key: Way) -> ChoiceEntry | None:
    if about.view.inward is None or key is None:
        return None
    if key % 2:
        return _changing(about, what, asked, key)
    return _entry(about, what, asked, key, _thoughts(about, _AT_ONCE))


def changing_speed(about: About) -> ChoiceEntry | None:
    """Which way the acceleration points while the speed changes; None but where friction on the level can do that."""
    friction = any(is_friction(force) for force in about.diagram.forces)
    if not friction or about.diagram.surface != "level":
        return None
    grows = is_said_to_speed_up(about)
    asked = bearings.SPEEDING_UP if grows else bearings.SLOWING_DOWN
    return _changing(about, "changing speed", asked, 1 if grows else 7)


def is_said_to_speed_up(about: About) -> bool:
    """Whether the speed is said to increase where it is said to change."""
    return drawn_number(f"{about.problem.id} {about.scene.name} speed") % 2 == 0


def _changing(about: About, what: str, asked: str, key: int) -> ChoiceEntry | None:
    """The choice where the way has two components, of which one is got wrong: turned round, the other left out or both.

    Each component of the key is then in two of the four options, so that it is not what most of them agree about.
    """
    forward = key in (1, 3)
    along, against = (FORWARD, BACKWARD) if forward else (BACKWARD, FORWARD)
    outward_and_along, inward_and_against = (3, 7) if forward else (5, 1)
    of_inward: dict[str, Way] = {
        "only-inward": INWARD, "outward": OUTWARD, "outward-and-along": outward_and_along,
    }  # fmt: skip
    of_along: dict[str, Way] = {
        "only-along": along, "backward" if forward else "forward": against, "inward-and-against": inward_and_against,
    }  # fmt: skip
    ways = of_along if drawn_number(f"{_draw_of(about, what)} component") % 2 else of_inward
    return _entry(about, what, asked, key, _thoughts(about, ways), as_they_are=True)


def set_free(about: About) -> ChoiceEntry | None:
    """Which way the body moves just after what holds it on its circle is gone; None where nothing could let go."""
    holding = max(_loose(about), key=lambda force: components(about, force.direction)[0], default=None)
    if holding is None or components(about, holding.direction)[0] < NONE_SEEN:
        return None
    return _entry(
        about,
        "set free",
        bearings.SET_FREE,
        FORWARD,
        _thoughts(about, _SET_FREE),
        force=holding.name,
        agent=holding.agent,
    )


def _loose(about: About) -> list[ForceView]:
    """The forces that could end: not those of gravity; none for a body at rest."""
    lasting = {force_words(about.scene, force.role) for force in about.diagram.forces if force.law in _LASTING}
    names = {shown.name for shown in lasting if shown}
    return [] if about.view.inward is None else [each for each in about.view.forces if each.name not in names]


def in_return(about: About) -> ChoiceEntry | None:
    """Which way the body pushes or pulls back at what touches it; None where no such force lies along the radius.

    Nor is it asked of a force that may act either way, as that of a rod: the story does not tell which.
    """
    either_way = any(sense_of(about.problem, force.symbol) for force in about.diagram.forces if force.symbol)
    magnetic = any(force.law == "magnetic" for force in about.diagram.forces)
    touching = [] if magnetic or either_way else _loose(about)
    for force in touching:
        inward, _ = components(about, force.direction)
        if abs(inward) > ALONG:
            own = INWARD if inward > 0 else OUTWARD
            thoughts = _thoughts(about, {"pair-same": own, **_IN_RETURN})
            alone = sum(each.agent == force.agent for each in touching) == 1
            returned = "force" if alone else force.name
            what, asked, key = "in return", bearings.IN_RETURN, OUTWARD - own
            return _entry(about, what, asked, key, thoughts, agent=force.agent, returned=returned)
    return None


def velocity_later(about: About) -> ChoiceEntry | None:
    """Which way the velocity points a part of a revolution later; None where the speed may change."""
    return _later(about, "-velocity-later", bearings.VELOCITY_LATER, INWARD)


def acceleration_later(about: About) -> ChoiceEntry | None:
    """Which way the acceleration points a part of a revolution later; None where the speed may change."""
    return _later(about, "-acceleration-later", bearings.ACCELERATION_LATER, FORWARD)


def _later(about: About, suffix: str, asked: str, other: int) -> ChoiceEntry | None:
    if not _revolves_steadily(about):
        return None
    what, now, parts = TURNING[suffix]
    eighths = _part(about, what, parts)
    ways: dict[str, Way] = {
        "later-now": now,
        "later-other-sense": (now + eighths) % 8,
        "later-other-arrow": (other - eighths) % 8,
        "later-half": (now - 4) % 8,
        "later-quarter": (now - 2) % 8,
    }
    return _entry(about, what, asked, (now - eighths) % 8, _thoughts(about, ways), part=bearings.PARTS[eighths][0])


def change(about: About) -> ChoiceEntry | None:
    """Which way the velocity changes over a part of a revolution; None where the speed may change, and on a bend."""
    if not _revolves_steadily(about):
        return None
    what, _, parts = TURNING["-change"]
    eighths = _part(about, what, parts)
    ways: dict[str, Way] = {
        "change-none": None,
        "change-inward": INWARD,
        "change-first": FORWARD,
        "change-last": (FORWARD - eighths) % 8,
    }
    if eighths == 2:
        ways |= {"change-sum": 1, "change-reversed": 3}
    else:
        ways |= {"change-outward": OUTWARD}
    if eighths == 4:  # after a whole revolution the velocity is as it was, whichever is subtracted
        ways |= {"change-reversed": FORWARD}
    thoughts = _thoughts(about, ways)
    return _entry(about, what, bearings.CHANGE, change_way(eighths), thoughts, next=bearings.PARTS[eighths][1])


# what turns with the body, by the end of the id of the question: its draw, where it points first, the parts asked about
TURNING: Mapping[str, tuple[str, int, tuple[int, ...]]] = {
    "-velocity-later": ("velocity later", FORWARD, (2, 4, 6)),
    "-acceleration-later": ("acceleration later", INWARD, (2, 4, 6)),
    "-change": ("change", FORWARD, (2, 4, 8)),
}


def turning(suffix: str, about: About) -> dict[str, str]:
    """What passes, through how much the arrow turns meanwhile, and where it points before and after."""
    what, now, parts = TURNING[suffix]
    told, eighths = bearings_of(about, what), _part(about, what, parts)
    names = {"now": told.name(now), "last": told.name((now - eighths) % 8)}
    side, sense = bearings.SENSES[told.turn]
    seen = bearings.FROM_ABOVE if told.ground == "above" else ""
    bends = bearings.BENDS.format(side=side, sense=sense, seen=seen)
    return {**names, "part": bearings.PARTS[eighths][0], "degrees": f"{45 * eighths}°", "sense": sense, "bends": bends}


def _is_steady(about: About) -> bool:
    motion = about.problem.motion
    return about.view.inward is not None and motion.plane != "vertical" and not motion.tangential_acceleration


def _part(about: About, what: str, parts: Sequence[int]) -> int:
    """The eighths of a revolution that a scene is asked about: each scene of a problem another."""
    start = drawn_number(f"{about.problem.id} {about.diagram.name} {what}")
    return parts[(start + about.problem.scenes.index(about.scene)) % len(parts)]


def _revolves_steadily(about: About) -> bool:
    """Whether the body goes all the way round: a motion on a bend, which ends, has no period and no angular speed."""
    motion = about.problem.motion
    goes_round = motion.plane == "space" or any((motion.period, motion.angular_speed, motion.frequency))
    return goes_round and _is_steady(about)


def _thoughts(about: About, ways: Mapping[str, Way]) -> Iterator[tuple[Mistake, Way]]:
    """The mistakes about directions that lead to these ways, in the order of the catalogue."""
    return ((mistake, ways[edit.way]) for mistake, edit in about.of(DirectionEdit) if edit.way in ways)


def _entry(
    about: About,
    what: str,
    asked: str,
    key: Way,
    thoughts: Iterable[tuple[Mistake, Way]],
    *,
    as_they_are: bool = False,
    **gaps: str,
) -> ChoiceEntry | None:
    """The choice between the key and the ways of some mistakes, each way once: all ``as_they_are``, or three."""
    draw = _draw_of(about, what)
    told = bearings_of(about, what)
    also = bearings.NET_FORCE_TOO if asked == bearings.NET_FORCE else ""
    ways: dict[Way, Mistake] = {}
    for mistake, way in thoughts:
        if way != key:
            ways.setdefault(way, replace(mistake, feedback=mistake.feedback + also))
    kept = list(ways) if as_they_are else _kept(key, ways, draw)
    if len(kept) < FEWEST_WRONG:
        return None
    options = [right(_named(told, key)), *(wrong(_named(told, way), ways[way]) for way in kept)]
    gaps |= {**told.told(about.body), "body": about.body, "Body": capital(about.body)}
    gaps["where"] = _where(about)
    return ChoiceEntry(filled(f"{told.setting(about)} {asked}", **gaps), mixed(options, draw), shuffle=True)


def _draw_of(about: About, what: str) -> str:
    return f"{about.problem.id} {about.diagram.name} {about.scene.name} {what}"


def _where(about: About) -> str:
    """Where the body is; that it still touches what pushes it, where it could lose contact."""
    pushing = [each for each in about.view.forces if each.verb in ("pushes", "push")]
    touching = bearings.STILL_TOUCHING.format(agent=pushing[0].agent) if pushing else ""
    if touching and about.diagram.place:  # which says no more than that
        return touching
    return ", ".join(each for each in (touching, about.view.place) if each)


def _kept(key: Way, ways: Iterable[Way], draw: str) -> list[Way]:
    """Three of the wrong ways, most of them of the form of the key; now and then one of another form among them."""
    ordered = sorted(ways, key=lambda way: drawn_number(f"{draw} {way}"))
    alike = [way for way in ordered if _form(way) == _form(key)]
    others = [way for way in ordered if way not in alike]
    mixed_in = 1 if others and drawn_number(draw) % ONE_IN == 0 else 0
    first = alike[: MOST_WRONG - mixed_in]
    return [*first, *others[: MOST_WRONG - len(first)]]


def _form(way: Way) -> str:
    return "none" if way is None else ("slanting" if way % 2 else "straight")


def _named(told: Bearings, way: Way) -> Paragraph:
    return (Words(told.name(way)),)


ASKED = (
    AskedDirection("acceleration points", "", acceleration),
    AskedDirection("net force points", "-net-force", net_force),
    AskedDirection("acceleration points at a changing speed", "-changing-speed", changing_speed),
    AskedDirection("body moves when set free", "-set-free", set_free),
    AskedDirection("force in return points", "-in-return", in_return),
    AskedDirection("velocity points later", "-velocity-later", velocity_later),
    AskedDirection("acceleration points later", "-acceleration-later", acceleration_later),
    AskedDirection("velocity changes", "-change", change),
)
