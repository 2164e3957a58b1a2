"""The stem of an item without numbers: that of its question with letters for the given values, each introduced.

What the last sentence asks is asked anew by the item itself; where it sets a place, a limit or a condition it stays.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cache
from itertools import pairwise

from ..item import formula
from ..item.formula import Node
from ..item.item import Inline, Math, Paragraph, Step, Words
from ..language import article, capital
from ..model.problem import Diagram, Problem, Question, Scene
from ..model.wording import Slot, force_words, pieces, sentence, with_article, word
from ..quantities.unit_kinds import kind_of
from ..solving.solution import SolvedQuestion
from .notation import Notation
from .stem import asked_name, joined, sentences

BEFORE, AFTER = "In this question, ", "Here "
POSITIVE_INWARD = " (positive towards the centre)"
DEFINED = "{what} is {{symbol {name}}}."
_UNIT = re.compile(r",? in (?:[a-z ]+ \([^()]*\)|r/min|revolutions per minute)(?:,(?= )|(?=[.?]))")
# what tells more of a noun: its symbol stands before it, as in "the flux density B behind the slit"
_TAIL = re.compile(
    r" (?=(?:of|at|from|in|on|to|for|with|level|along|towards|between|above|below|by|since|after|before|behind|beyond|"
    r"about|across|round|through|inside|outside|until|during|just|due|that|which|taken|lost|done|(?!speed\b)[a-z]+ed)\b)"
)
_WHOLE = re.compile(r"(?:(?!of )[a-z]+ )*?(?:coefficient of static friction|moment of inertia|angle of banking)\b")
_ASKING = re.compile(
    r"(?:What (?:is|are|was)|How (?:large|great) (?:is|are)|Calculate|Determine|Find|Work out|State|Estimate) "
    r"(?:the magnitude of )?(?P<what>(?:the|their|its|\{the) ?.+?)[.?]"
)
_MEASURES = re.compile(r" (?:long|tall|high|wide|deep)\b")
_OF = re.compile(r"\b(an? (?:\w+ )?\w+) of $")
_WORD = re.compile(r"[a-z]+")
_G = re.compile(r"\b(?:times|of|to) g\b")
# the words of a question that set no place, no limit and no condition
_PLAIN = frozenset(
    _WORD.findall(
        "a an the of on in by to is are was does do did has have how what which large great magnitude fast far long "
        "high much many times one turn take takes move moves its their it they with this these size "
        "magnitude that exerts"
    )
)
# the word for what a letter stands for, and words before it that make it needless
_CALLED = {
    "length": ("distance", {"radius", "diameter", "circumference", "height", "distance", "length", "long"}),
    "mass": ("mass", {"mass", "masses"}),
    "time": ("time", {"time", "period"}),
    "speed": ("speed", {"speed"}),
    "angular speed": ("angular speed", {"speed"}),
    "acceleration": ("acceleration", {"acceleration"}),
    "force": ("force", {"force", "tension", "lift", "friction", "push", "pull", "weight"}),
    "angle": ("angle", {"angle", "latitude"}),
}  # fmt: skip

# what a body has as it moves: its name alone would not say whose it is
_OF_THE_BODY = frozenset(("speed", "centripetal acceleration", "acceleration", "total acceleration"))


def stem_in_letters(
    solved: SolvedQuestion, scene: Scene, notation: Notation, also: str = "", closing: Paragraph | None = None
) -> Paragraph:
    """The story and the question's own stem, with a symbol in the slot of each given, and in one for ``also``.

    ``closing`` is what it says in place of its asking; None for what that sentence sets.
    """
    problem, question = solved.problem, solved.question
    told = sentences(question.stem)[:-1]
    last = None if closing else statement(problem, question, scene)
    parts: list[Inline] = [Words(sentence(scene.story, scene))]
    for each in (*told, *([last] if last else [])):
        parts += [Words(" "), *_filled(problem, question, scene, notation, each)]
    if closing:
        parts += [Words(" "), *closing]
    if also:
        parts += [Words(f" The {name_of(problem, scene, also)} is "), Math(notation.symbol(also)), Words(".")]
    return tuple(joined(parts))


def story_alone(scene: Scene) -> Paragraph:
    """The story of a scene."""
    return (Words(sentence(scene.story, scene)),)


def introduced(
    problem: Problem,
    scene: Scene,
    notation: Notation,
    names: Iterable[str],
    asked: Question | None = None,
    lead: str = BEFORE,
) -> tuple[Paragraph, ...]:
    """``In this question, r is the radius of the circle and F_N is the normal force.``; () for no name.

    ``lead`` tells where the letters stand: in what comes, or ``AFTER`` a formula. What a question asks for has the name
    that it has there: v is the greatest speed in the bend.
    """
    parts = list(_introductions(problem, scene, notation, names, asked, lead))
    return (tuple(joined(parts)),) if parts else ()


def _introductions(
    problem: Problem, scene: Scene, notation: Notation, names: Iterable[str], asked: Question | None, lead: str
) -> Iterator[Inline]:
    own = {asked.ask: sentence(asked.asked_name, scene)} if asked and asked.asked_name else {}
    told = [
        (notation.symbol(name), (own.get(name) or _told_name(problem, scene, name)) + sense_of(problem, name))
        for name in names
    ]
    for place, (symbol, name) in enumerate(told):
        yield Words(lead if place == 0 else " and " if place == len(told) - 1 else ", ")
        yield Math(symbol)
        yield Words(f" is the {name}{'' if place < len(told) - 1 else '.'}")


def with_meanings(
    steps: Iterable[Step], problem: Problem, scene: Scene, notation: Notation, told: Iterable[Paragraph]
) -> Iterator[Step]:
    """The steps of a solution, each with the meanings of the letters that nobody has met before it, at its end.

    ``told`` is what a candidate has read before.
    """
    table = _letters(problem, notation)

    @cache
    def called(name: str) -> str:
        return head_and_tail(name_of(problem, scene, name))[0]

    known = set(_met(told, table))
    for step in steps:
        met = _met(step.paragraphs, table)
        own = {name for name, before in _behind_words(step.paragraphs, table) if before.endswith(called(name))}
        new = [each for each in met if each not in known | own]
        known |= {*met}
        yield replace(step, paragraphs=(*step.paragraphs, *introduced(problem, scene, notation, new, lead=AFTER)))


def _behind_words(paragraphs: Iterable[Paragraph], table: Mapping[formula.Symbol, str]) -> Iterator[tuple[str, str]]:
    """The letters that stand alone, each with the words before it, which may say what it is: the tension F."""
    for paragraph in paragraphs:
        for before, part in pairwise(paragraph):
            if isinstance(part, Math) and isinstance(before, Words) and isinstance(part.node, formula.Symbol):
                name = table.get(part.node)
                if name is not None:
                    yield name, before.text.rstrip()


def letters_of(paragraphs: Iterable[Paragraph], problem: Problem, notation: Notation) -> tuple[str, ...]:
    """The names of the quantities whose letters stand in the formulas, in the order in which they come."""
    return _met(paragraphs, _letters(problem, notation))


def _letters(problem: Problem, notation: Notation) -> dict[formula.Symbol, str]:
    """The letters of a problem, each with the name of its quantity."""
    return {notation.symbol(name): name for name in (*problem.quantities, "g")}


def _met(paragraphs: Iterable[Paragraph], table: Mapping[formula.Symbol, str]) -> tuple[str, ...]:
    nodes = (part.node for paragraph in paragraphs for part in paragraph if isinstance(part, Math))
    found = (table[symbol] for node in nodes for symbol in _symbols(node) if symbol in table)
    return tuple(dict.fromkeys(found))


def says_g(paragraphs: Iterable[Paragraph]) -> bool:
    """Whether the words speak of g, as in "3.00 times g"; as a letter of a formula it is among ``letters_of``."""
    return any(isinstance(part, Words) and _G.search(part.text) for paragraph in paragraphs for part in paragraph)


def name_of(problem: Problem, scene: Scene, name: str) -> str:
    """What a letter stands for, in words without article."""
    if name == "g":
        acts = any(force.law == "weight" for diagram in problem.diagrams for force in diagram.forces)
        return "gravitational field strength" if acts else "gravitational field strength at the Earth's surface"
    for diagram in problem.diagrams:
        for force in diagram.forces:
            shown = force_words(scene, force.role)
            if name in (force.symbol, force.size) and shown:
                return shown.name + _apart(problem, scene, diagram, shown.name, name)
    means = problem.quantities[name].means
    bodies = {each.body for each in problem.diagrams if each.mass == name}
    if means and (means != "mass" or len(bodies) != 1):
        return owned(problem, scene, sentence(means, scene))
    if len(bodies) == 1:
        return f"mass of {with_article(scene.words[bodies.pop()], 'the')}"
    return _roles(problem).get(name) or problem.quantities[name].constant or name


def owned(problem: Problem, scene: Scene, name: str) -> str:
    """The name of a quantity of the motion with the body that moves, where just one does: the speed of the car."""
    bodies = {each.body for each in problem.diagrams} or {*scene.words}
    if name in _OF_THE_BODY and len(bodies) == 1:
        return f"{name} of {with_article(scene.words[bodies.pop()], 'the')}"
    return name


def _told_name(problem: Problem, scene: Scene, name: str) -> str:
    """The same, with what exerts a force where several things touch the body: no picture may tell which it is."""
    for diagram in problem.diagrams:
        touching = {each.by for force in diagram.forces if force.law is None and (each := scene.forces.get(force.role))}
        for force in diagram.forces:
            if force.symbol == name and len(touching) > 1 and (shown := scene.forces.get(force.role)):
                return f"{shown.name}{_apart(problem, scene, diagram, shown.name, name) or f' exerted by {shown.by}'}"
    return name_of(problem, scene, name)


def sense_of(problem: Problem, name: str) -> str:
    """Which way a force counts as positive, where it may act either way, as that of a rod; else empty."""
    forces = (force for diagram in problem.diagrams for force in diagram.forces if force.symbol == name)
    inward = any(axis == "inward" for force in forces for axis, _ in force.components)
    return POSITIVE_INWARD if inward and not problem.quantities[name].positive else ""


def head_and_tail(name: str) -> tuple[str, str]:
    """A name in two parts, between which its symbol stands: the mass m of the disc."""
    whole = _WHOLE.match(name)
    tail = _TAIL.search(name, whole.end() if whole else 0)
    return (name[: tail.start()], name[tail.start() :]) if tail else (name, "")


def _apart(problem: Problem, scene: Scene, diagram: Diagram, shown: str, name: str) -> str:
    """What tells a force from another of its name: the place, or the body."""
    others = [
        each
        for each in problem.diagrams
        for force in each.forces
        if force.symbol not in (None, name) and (words := scene.forces.get(force.role)) and words.name == shown
    ]
    if not others:
        return ""
    if all(each.body == diagram.body and each.apart != diagram.apart for each in others):
        return diagram.apart
    if all(each.body != diagram.body for each in others):
        return f" on {with_article(scene.words[diagram.body], 'the')}"
    (by,) = {
        scene.forces[force.role].by for force in diagram.forces if force.symbol == name and force.role in scene.forces
    }
    return f" in {by}"


def _roles(problem: Problem) -> dict[str | None, str]:
    """What the letters of the motion stand for."""
    motion = problem.motion
    own = {name: told for each in problem.diagrams for name, told in ((each.speed, "speed"), (each.radius, "radius"))}
    return own | {
        motion.radius: "radius of the circle", motion.speed: "speed", motion.angular_speed: "angular speed",
        motion.period: "period", motion.frequency: "frequency", motion.acceleration: "centripetal acceleration",
        motion.tangential_acceleration: "acceleration along the path", motion.diameter: "diameter of the circle",
        motion.circumference: "circumference of the circle", motion.turns: "number of revolutions",
        motion.duration: "time for the revolutions" if motion.turns else "time",
        motion.initial_angular_speed: "initial angular speed", motion.initial_speed: "initial speed",
        motion.angular_acceleration: "angular acceleration", motion.angular_deceleration: "angular deceleration",
        motion.angle_turned: "angular displacement", motion.arc: "length of the arc",
        motion.displacement: "magnitude of the displacement",
    }  # fmt: skip


def _symbols(node: Node) -> Iterator[formula.Symbol]:
    if isinstance(node, formula.Symbol):
        yield node
    elif isinstance(node, formula.Row):
        for part in node.parts:
            yield from _symbols(part)
    elif isinstance(node, formula.Fraction):
        yield from (*_symbols(node.above), *_symbols(node.below))
    elif isinstance(node, formula.Root | formula.Group):
        yield from _symbols(node.body)
    elif isinstance(node, formula.Power):
        yield from _symbols(node.base)
    elif isinstance(node, formula.Call):
        yield from _symbols(node.argument)


def statement(problem: Problem, question: Question, scene: Scene) -> str:
    """What stays of the sentence that asks; nothing where it says no more than the name of what is asked."""
    asking = _UNIT.sub("", sentences(question.stem)[-1])
    asking = asking.replace(f" {{symbol {question.ask}}}", "")  # it is told by the sentence that is made of this one
    found = _ASKING.fullmatch(asking)
    named = asked_name(problem, question, scene)
    known = _PLAIN | _words(named, *scene.words.values(), *(each.by for each in scene.forces.values()))
    known |= _words(*(each.name for each in scene.forces.values()))
    if _words(sentence(asking, scene)) <= known | _words("calculate determine find state estimate work out"):
        return ""
    if not found:
        return ""  # two questions at once are one too many
    what = _capital(found["what"])
    return DEFINED.format(what=f"{what}," if "," in what else what, name=question.ask)


def _capital(what: str) -> str:
    """The start of a sentence: that of a word of the scene is in its slot."""
    return f"{{The{what[4:]}" if what.startswith("{the") else capital(what)


def _words(*texts: str) -> frozenset[str]:
    return frozenset(each for text in texts for each in _WORD.findall(text.lower()))


def _filled(problem: Problem, question: Question, scene: Scene, notation: Notation, template: str) -> Iterator[Inline]:
    """One sentence with letters for its values, each after the word for what it is where the sentence has none."""
    said = ""
    parts = list(pieces(template))
    for place, piece in enumerate(parts):
        if isinstance(piece, str):
            told = _without_of(problem, question, said, piece, parts[place + 1 : place + 2])
        elif not piece.mode and piece.name in (*question.given, *question.extra):
            told = _called(problem, piece.name, said, parts[place + 1 : place + 2])
            said += told
            yield Words(told)
            yield Math(notation.symbol(piece.name))
            continue
        elif piece.mode == "symbol":
            yield Math(notation.symbol(piece.name))
            continue
        else:
            told = word(piece, scene) or ""
        said += told
        yield Words(told)


def _without_of(problem: Problem, question: Question, before: str, said: str, after: Sequence[str | Slot]) -> str:
    """``makes an angle `` for ``makes an angle of `` before a letter: a force F, but a force of 3 N."""
    slot = after[0] if after else ""
    if isinstance(slot, str) or slot.mode or slot.name not in (*question.given, *question.extra):
        return said
    needless = _OF.search(before + said) and kind_of(problem.quantities[slot.name].unit)
    return said.removesuffix("of ") if needless else said


def _called(problem: Problem, name: str, said: str, after: Sequence[str | Slot]) -> str:
    """``a distance `` before a letter, ``mass `` after "of"; nothing where the sentence says what it is."""
    noun, needless = _CALLED.get(kind_of(problem.quantities[name].unit) or "", ("", frozenset()))
    if not noun or _words(said) & needless or (after and isinstance(after[0], str) and _MEASURES.match(after[0])):
        return ""
    return f"{noun} " if said.endswith(" of ") else f"{article(noun)} {noun} "
