"""Why each situation of a match goes with its partner: the equations that they share, and what their letters are."""

from __future__ import annotations

from collections.abc import Iterator

import sympy

from ...item.formula import Node
from ...item.item import Inline, Paragraph, Step
from ...language import capital, listed
from ...mechanics.equations import second_axis
from ...mechanics.sameness import RADIUS, SPEED, renaming
from ...model.expression import names_in
from ...model.wording import force_words
from ...writing import match_words
from ...writing.directions import placeless
from ...writing.notation import Notation
from ...writing.stem import filled, joined
from ..matching.composing import Matching
from ..matching.situations import Situation, ToldStory

_NOTATION = Notation()
ALONG = sympy.Symbol("a_t")


def step(matching: Matching) -> Step:
    """One paragraph for each pair, and one for what is left over; its number is given where it stands."""
    told = (*(_pair(*pair) for pair in matching.pairs), _left_over(matching.left_over))
    return Step(0, match_words.HEADING, (_common_letters(matching), *told))


def _common_letters(matching: Matching) -> Paragraph:
    """What the letters stand for that belong to no story, as far as they are in the equations."""
    situations = [each.situation for each in (*matching.rows, matching.left_over)]
    forms = [each.form.renamed({**_neutral(each), SPEED.name: "v", RADIUS.name: "r"}) for each in situations]
    across = (_across(each) for each, form in zip(situations, forms, strict=True) if form.equations[1] != 0)
    sums = [*(each for form in forms for each in form.equations), *across]
    known = frozenset().union(*map(names_in, sums))
    named = [each for each in match_words.MEANINGS if each in known]
    parts = [match_words.LETTER.format(letter=f"{{{each}}}", meaning=match_words.MEANINGS[each]) for each in named]
    return filled(
        match_words.LETTERS.replace("{letters}", listed(parts)), **{each: _NOTATION.symbol(each) for each in named}
    )


def _pair(first: ToldStory, second: ToldStory) -> Paragraph:
    """The equations of a pair in neutral letters, and what each letter of a force is in either story."""
    equations = _equations(first.situation)
    form = match_words.PAIR if "second" in equations else match_words.PAIR_OF_ONE
    gaps = {**equations, "other_body": second.view.body, "other_place": second.view.place, **_who(first)}
    return tuple(joined([*_said(form, gaps), *_letters(first, second)]))


def _left_over(told: ToldStory) -> Paragraph:
    equations = _equations(told.situation)
    form = match_words.LEFT_OVER if "second" in equations else match_words.LEFT_OVER_OF_ONE
    return tuple(joined([*_said(form, {**equations, **_who(told)}), *_own_letters(told)]))


def _who(told: ToldStory) -> dict[str, str | Node]:
    return {"body": told.view.body, "Body": capital(told.view.body), "place": told.view.place}


def _said(form: str, gaps: dict[str, str | Node]) -> Paragraph:
    return filled(form.replace("{across}", match_words.ACROSS), **gaps)


def _equations(situation: Situation) -> dict[str, str | Node]:
    """The equation along the radius, and that across it where there is one, in neutral letters."""
    moving = sympy.Symbol("m") * sympy.Symbol("v") ** 2 / sympy.Symbol("r")
    form = situation.form.renamed(_neutral(situation))
    inward, across = (each.xreplace({SPEED: sympy.Symbol("v"), RADIUS: sympy.Symbol("r")}) for each in form.equations)
    found: dict[str, str | Node] = {"equation": _NOTATION.equation(sympy.expand(inward + moving), moving)}
    return found if across == 0 else {**found, "second": _NOTATION.equation(across, _across(situation))}


def _across(situation: Situation) -> sympy.Expr:
    """What the sum of the forces across the radius is equal to: the speed changes where they are along the path."""
    axis = second_axis(situation.problem.motion.plane, situation.diagram)
    return sympy.Symbol("m") * ALONG if axis == "forward" else sympy.Integer(0)


def _letters(first: ToldStory, second: ToldStory) -> Iterator[Inline]:
    """What the letters of forces stand for: first in the one story, then in the other."""
    names = renaming(first.situation.form, second.situation.form) or {}
    letters = _neutral(first.situation)
    forces = sorted(name for name in names if _force(first, name) and _force(second, names[name]))
    if not forces:
        return
    gaps: dict[str, str | Node] = {"body": first.view.body, "other_body": second.view.body}
    parts = []
    for place, name in enumerate(sorted(forces, key=letters.__getitem__)):
        gaps[f"letter{place}"] = _NOTATION.symbol(letters[name])
        parts.append((f"{{letter{place}}}", _force(first, name), _force(second, names[name])))
    own, other = (listed(_stands_for(letter, each[side]) for letter, *each in parts) for side in (0, 1))
    yield from filled(match_words.HERE.replace("{first}", own).replace("{second}", other), **gaps)


def _own_letters(told: ToldStory) -> Iterator[Inline]:
    """What the letters of forces stand for in one story."""
    letters = _neutral(told.situation)
    forces = [name for name in sorted(letters, key=letters.__getitem__) if _force(told, name)]
    if forces:
        gaps: dict[str, str | Node] = {f"letter{at}": _NOTATION.symbol(letters[name]) for at, name in enumerate(forces)}
        own = listed(_stands_for(f"{{letter{at}}}", _force(told, name)) for at, name in enumerate(forces))
        yield from filled(match_words.HERE_ALONE.replace("{first}", own), body=told.view.body, **gaps)


def _stands_for(letter: str, force: tuple[str, str] | None) -> str:
    assert force is not None
    return match_words.STANDS_FOR.format(letter=letter, force=force[0], agent=force[1])


def _neutral(situation: Situation) -> dict[str, str]:
    """Letters that belong to neither story: m, θ, those of a law, and F for a force or F_1, F_2 for several."""
    diagram = situation.diagram
    forces = [each.symbol for each in diagram.forces if each.symbol in situation.form.names]
    numbered = forces if len(forces) > 1 else ()
    named = {symbol: f"F_{place}" for place, symbol in enumerate(numbered, 1)} or dict.fromkeys(forces, "F")
    angles = {name: "theta" for name in (diagram.angle, diagram.tilt) if name in situation.form.names}
    laws: dict[str | None, str] = {}
    for each in diagram.forces:
        parts = (each.centre_mass, each.charge, each.field, each.centre_charge, each.distance)
        laws.update(zip(parts, ("M", "q", "B", "Q", "d"), strict=True))
    return {name: new for name, new in (laws | {**named, **angles, diagram.mass: "m"}).items() if name}


def _force(told: ToldStory, symbol: str) -> tuple[str, str] | None:
    """The force of that symbol and its agent: ``tension``, ``the cord``; None where it is no force."""
    for force in told.situation.diagram.forces:
        shown = force_words(told.scene, force.role)
        if force.symbol == symbol and shown:
            return placeless(told.situation.diagram, shown.name), shown.by
    return None
