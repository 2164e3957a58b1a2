"""The words of examination papers: what stands in their place in everyday English, the term that is printed, and why.

The terms are those that textbooks of introductory physics share (common practice, no one source). A text of a bank is
searched without its slots: what a scene fills in is searched where the scene says it. A slot of a word stands as ■
(a noun with its article), any other as □.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

_WORD_SLOT = re.compile(r"\{(?:an?|the|by) [^{}]*\}", re.IGNORECASE)
_SLOT = re.compile(r"\{[^{}]*\}")
_LIMITED = r"(?:\w+ )?(?:speed|radius|period|mass|rate|angular speed|acceleration|coefficient|distance|tension|force)s?"


@dataclass(frozen=True)
class HouseTerm:
    """One preferred term: what is found in its place (a pattern), what to print, and why."""

    avoid: re.Pattern[str]
    prefer: str
    why: str


@dataclass(frozen=True)
class Avoided:
    """A place in a text, counted in letters, where an avoided term stands, and the term to print."""

    at: int
    found: str
    term: HouseTerm


def _term(avoid: str, prefer: str, why: str) -> HouseTerm:
    return HouseTerm(re.compile(rf"\b(?:{avoid})\b", re.IGNORECASE), prefer, why)


_PLANE = "a circle lies in a plane, and planes are horizontal or vertical"
_LIMIT = "a limit is a minimum or a maximum"
_SEEN = "a limit is told in the words of the story"
_NAMED = "the name of the quantity"
_BOOKS = "the word in textbooks"
_COMMAND = "a command word and the name of the quantity"
_KNOWN = "an item stands alone: its stem tells what it speaks of"
_SHOWN = "a story doesn't answer what is asked of it"
_SIMPLE = "the plain word for the thing"
# words after which an opening phrase goes on: "at the top of the ..."
_GOES_ON = (
    "of|on|in|to|at|by|from|between|with|about|above|below|for|and|or|round|near|through|over|under|into|along|within|"
    "per|after|before|than|that|as|which|where|when|while|is|are|not|towards|against"
)
_STARTS = r"(?:^|(?<=[.?!] ))"
_PLACE = r"(?:at|in|on|under|over|above|below|inside|during|after) (?:the|an?|one|its|their|this|many)"
# ■ stands for a word of the scene, with which the clause begins
_CLAUSE = r"(?:■+|(?:the|an?|its?|their|they)) \w+"
_NO_COMMA = rf"{_STARTS}(?:{_PLACE} (?:[\w'-]+ )*?(?!(?:{_GOES_ON})\b)[\w'-]+ {_CLAUSE}|there (?:■+|the|its|their) \w+)"
_ONE_TURN = (
    r"(?:one|a|each)(?: full)? turn (?:takes?|took|may take|lasts?|of the)|does (?:one|a)(?: full)? turn"
    r"|time (?:for|of|that) (?:a|one)(?: full)? turn"
)

TERMS: Final = (
    # the circle
    _term(r"level circles?", "horizontal circle", _PLANE),
    _term(r"upright (?:circles?|loops?)", "vertical circle", _PLANE),
    _term(r"to the level", "to the horizontal", "an angle is measured from a named line"),
    _term(r"bank angle|angle of (?:the |a )?bank", "angle of banking", _BOOKS),
    _term(r"half(?:-| of )?(?: ?a)? ball", "hemisphere", "a shape has its name in geometry"),
    _term(r"(?:shape|form) of a drum", "cylinder", "a shape has its name in geometry"),
    _term(r"at right angles to", "perpendicular to", _BOOKS),
    _term(r"(?:level|upward|downward|inward|outward) part of", "component of", "a force has components, not parts"),
    _term(r"upright (?:\w+ )?(?:drums?|cylinders?)", "vertical cylinder", _PLANE),
    _term(
        r"(?:moves?|slides?|floats?) round (?:a|the|■+) ?(?:hole|peg|pin|post)", "in a horizontal circle round", _PLANE
    ),
    _term(r"vertical loops?", "vertical, circular loop", "a loop need not be a circle"),
    _term(r"level with the centre", "at the height of the centre", _BOOKS),
    # what is small
    _term(r"can be left out", "is negligible", "an examiner says that something is small, not what to do with it"),
    _term(r"air drag", "air resistance", "one name for one force"),
    # forces
    _term(r"in size", "of magnitude", "a vector has a magnitude"),
    _term(r"how large (?:is|are|a|must|can)", "Calculate the magnitude of", _COMMAND),
    _term(r"with a friction of", "with a frictional force of", "what has a number is the force"),
    _term(r"(?:greatest|largest|most) (?:possible )?friction", "limiting friction", _BOOKS),
    _term(r"coefficient of friction", "coefficient of static friction", "there are two coefficients of friction"),
    _term(r"stands? (?:no |at )?(?:more than|most)|force that .{1,20} stands?", "must not exceed", _BOOKS),
    _term(r"(?:carries|bears|holds up) the weight", "balances the weight", "forces balance, bodies carry loads"),
    _term(r"force in weights|in weights", "apparent weight", "a ratio to the weight has a name"),
    _term(r"inward m ?[av]", "mass × centripetal acceleration", "m a is a product, not an arrow"),
    _term(
        r"(?:calculate|determine|find) the (?:\w+ )?force(?! to| on| ratio)(?!.*with its sign)",
        "Calculate the magnitude of the force",
        _COMMAND,
    ),
    _term(r"^force of (?:the|an?|■+)(?: \w+)?", "contact force", "the {name} exerted by {by} has to read well"),
    _term(
        r"tension in (?:the \w+|■+) at the (?:top|bottom)",
        "tension when the body is at",
        "the tension is in the cord, the body is at a place",
    ),
    _term(r"only the (?:\w+ )?force of .* acts", "with its engines off", _SHOWN),
    _term(r"held by nothing but .*", "exerts the only contact force on", _BOOKS),
    _term(r"(?<!magnetic )flux density", "magnetic flux density", _NAMED),
    # motion
    _term(
        r"(?:turn|rotate)(?:s|d|ed)? (?:[\w■]+ ){0,5}at constant speed",
        "constant angular speed",
        "points at different radii have different speeds",
    ),
    _term(r"turns? freely", "rotates freely", _BOOKS),
    _term(r"drives? (?:through|over)", "travels", "a person drives, a vehicle travels"),
    _term(r"from rest off", "starts from rest at the top of", "what starts from rest isn't moving yet"),
    _term(r"lets? ■+ move", "makes the body move", "what moves a body is named"),
    _term(r"in r/min", "in revolutions per minute (r/min)", "a unit is named where it is first asked for"),
    _term(r"steady (?:speed|rate)", "constant speed", _BOOKS),
    _term(r"turning rate|rate of turning", "angular speed", _NAMED),
    _term(r"(?:from|at|by|of) (?:the|its|what) turning", "angular speed", _NAMED),
    _term(r"(?:turns|rounds) (?:per|a|each) minute", "revolutions per minute", "the name of the unit"),
    _term(_ONE_TURN, "period", _NAMED),
    _term(r"how fast (?:is|are|does|do|must|may|can)", "Calculate the speed of", _COMMAND),
    _term(r"once round", "one revolution, or the circumference", "a period is the time for one revolution"),
    _term(r"acceleration towards the centre", "centripetal acceleration", _NAMED),
    _term(r"(?:the|a) (?:planet|moon) (?-i:[A-Z]\w+)", "the name alone", "a planet with a name needs no article: Mars"),
    _term(r"straight (?:above|below)", "directly above, directly below", _BOOKS),
    _term(r"on (?:its|an?|the) (?:circular )?orbit", "in its orbit", "a satellite is in orbit"),
    # limits
    _term(rf"(?:least|smallest|lowest|slowest|shortest)(?: possible)? {_LIMITED}", "minimum", _LIMIT),
    _term(rf"(?:greatest|largest|highest|longest)(?: possible)? {_LIMITED}", "maximum", _LIMIT),
    _term(r"just about to", "on the point of", _BOOKS),
    _term(r"contact is lost", "loses contact with", "a reader wants to know who loses contact with what"),
    _term(r"pass(?:es|ed)? its (?:bound|limit)", "begins to slide", _SEEN),
    _term(r"can no longer (?:act|push|pull)", "goes slack", _SEEN),
    _term(r"stays? on its circle", "stays taut", _SEEN),
    _term(r"under this condition", "for which ...", "a limit is told with its condition"),
    # how one quantity follows another
    _term(r"(?:greater|larger|smaller|less) by (?:the|a) factor", "increases by a factor of", _BOOKS),
    _term(r"goes as", "is proportional to", _BOOKS),
    _term(r"hangs on (?:the|its) (?:speed|mass|radius|angle|period)", "depends on", _BOOKS),
    # things and sentences
    _term(r"thin gas", "low-pressure gas", _SIMPLE),
    _term(r"paint spots?", "spot of paint", _SIMPLE),
    _term(r"line weights?", "sandbag", "a weight is a force"),
    _term(r"after a shower(?! of)", "after a shower of rain", _SIMPLE),
    _term(r"(?:driven|driving) (?:wheel|pulley|sprocket)s?", "the name in the story", _KNOWN),
    _term(r"all (?:rotate|turn)", "The sprockets and the wheel rotate", "a chain or a belt does not rotate"),
    _term(_NO_COMMA, "a comma after the opening phrase", "a reader pauses where the place or the time ends"),
)


def avoided(text: str) -> Iterator[Avoided]:
    """Where avoided terms stand in a text, in the order of the table."""
    plain = _SLOT.sub(_hidden("□"), _WORD_SLOT.sub(_hidden("■"), text))
    for term in TERMS:
        for found in term.avoid.finditer(plain):
            yield Avoided(found.start(), found[0], term)


def _hidden(sign: str) -> Callable[[re.Match[str]], str]:
    return lambda slot: sign * len(slot[0])
