"""The words of examination papers: what stands in their place in everyday English, the term that is printed, and why.

The terms are those that textbooks of introductory physics share (common practice, no one source). A text of a bank is
searched without its slots: what a scene fills in is searched where the scene says it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

_SLOT = re.compile(r"\{[^{}]*\}")
_LIMITED = r"(?:\w+ )?(?:speed|radius|period|mass|rate|angular speed|acceleration|coefficient|distance|tension|force)s?"


@dataclass(frozen=True)
class Term:
    """One preferred term: what is found in its place (a pattern), what to print, and why."""

    avoid: re.Pattern[str]
    prefer: str
    why: str


@dataclass(frozen=True)
class Avoided:
    """A place in a text, counted in letters, where an avoided term stands, and the term to print."""

    at: int
    found: str
    term: Term


def _term(avoid: str, prefer: str, why: str) -> Term:
    return Term(re.compile(rf"\b(?:{avoid})\b", re.IGNORECASE), prefer, why)


_PLANE = "a circle lies in a plane, and planes are horizontal or vertical"
_LIMIT = "a limit is a minimum or a maximum"
_SEEN = "a limit is told in the words of the story"
_NAMED = "the name of the quantity"
_BOOKS = "the word in textbooks"
_COMMAND = "a command word and the name of the quantity"
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
    # motion
    _term(r"steady (?:speed|rate)", "constant speed", _BOOKS),
    _term(r"turning rate|rate of turning", "angular speed", _NAMED),
    _term(r"(?:from|at|by|of) (?:the|its|what) turning", "angular speed", _NAMED),
    _term(r"(?:turns|rounds) (?:per|a|each) minute", "revolutions per minute", "the name of the unit"),
    _term(_ONE_TURN, "period", _NAMED),
    _term(r"how fast (?:is|are|does|do|must|may|can)", "Calculate the speed of", _COMMAND),
    # limits
    _term(rf"(?:least|smallest|lowest|slowest|shortest)(?: possible)? {_LIMITED}", "minimum", _LIMIT),
    _term(rf"(?:greatest|largest|highest|longest)(?: possible)? {_LIMITED}", "maximum", _LIMIT),
    _term(r"just about to", "on the point of", _BOOKS),
    _term(r"contact is lost", "loses contact with", "a reader wants to know who loses contact with what"),
    _term(r"pass(?:es|ed)? its (?:bound|limit)", "begins to slide", _SEEN),
    _term(r"can no longer (?:act|push|pull)", "goes slack", _SEEN),
    _term(r"stays? on its circle", "stays taut", _SEEN),
    # how one quantity follows another
    _term(r"(?:greater|larger|smaller|less) by (?:the|a) factor", "increases by a factor of", _BOOKS),
    _term(r"goes as", "is proportional to", _BOOKS),
    _term(r"hangs on (?:the|its) (?:speed|mass|radius|angle|period)", "depends on", _BOOKS),
)


def avoided(text: str) -> Iterator[Avoided]:
    """Where avoided terms stand in a text, in the order of the table."""
    plain = _SLOT.sub(lambda slot: "□" * len(slot[0]), text)
    for term in TERMS:
        for found in term.avoid.finditer(plain):
            yield Avoided(found.start(), found[0], term)
