"""The hints of a number item, taken from its solution: what to look at, the equation to start from, what comes next.

A hint that would tell the answer, or what an earlier one has told, is left out: fewer hints rather than bad ones.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import sympy

from ..item.formula import Operator, Row, equals
from ..item.item import Inline, Math, Paragraph, Words
from ..language import either, listed
from ..model.problem import Diagram, Scene
from ..model.wording import force_words, with_article
from ..solving.solution import SolvedQuestion
from .algebra import is_of_ratio, limit_words
from .letters import AFTER, introduced, letters_of, name_of
from .notation import Notation
from .stem import joined

MOTION = "How is the {asked} related to {givens}?"
FIRST = "Begin with the {asked}. How is it related to {givens}?"  # where more are given than a reader keeps in mind
MOST_NAMED = 2
ENERGY = "Between which two points of the path will you apply the conservation of mechanical energy?"
# a diagram may stand beside the question: to ask which forces there are would ask for nothing
ALONG = "Which of them have a component towards or away from the centre of the circle?"
CAUSED = "Which acceleration does this force cause?"
# whether something is touched, and whether something acts without contact
DRAW = {
    (True, True): "Consider the {force} exerted by {touching} on {body}{where}, and {forces}.",
    (True, False): "Only {touching} exerts a force on {body}{where}.",
    (False, True): "Nothing touches {body}. Only {forces} acts on it{where}.",
    (False, False): "No force acts on {body}{where}.",
}
DRAW_EACH = "Nothing touches {bodies}. Only {forces} acts on each of them."  # what would be said twice
START = "Start from this equation: "
NEXT = "A later step of the solution gives: "
AS_WELL = "Use this equation as well: "


def hints(
    solved: SolvedQuestion, scene: Scene, notation: Notation, diagrams: Sequence[Diagram], lines: Sequence[Paragraph]
) -> Iterator[Paragraph]:
    """The hints; ``diagrams`` are those that the solution draws on, ``lines`` its algebra."""
    energy = any(
        solved.system.equations[each.origin].kind == "energy" for each in solved.solution.path if each.origin >= 0
    )
    yield (Words(_look(scene, diagrams) or (ENERGY if energy else _motion(solved, scene))),)
    algebra = _equations(lines)
    too_much = _too_much(solved, notation, algebra)
    start = _start(solved, notation)
    if start is None or start in too_much:
        return
    told: set[str] = set()
    first = solved.system.equations[solved.solution.path[0].origin]
    is_limit = first.kind == "limiting" and not is_of_ratio(solved)
    lead = f"{limit_words(solved, scene)} " if is_limit else START
    yield _explained(solved, scene, notation, lead, start, told)
    lead, after = _after(solved, notation, start, algebra)
    if after is not None and after != start and after not in too_much:
        yield _explained(solved, scene, notation, lead, after, told)


def _motion(solved: SolvedQuestion, scene: Scene) -> str:
    """What to look for where no force is needed: of many givens, those of the first equation that is used."""
    told, asked, given = MOTION, solved.question.ask, solved.question.given
    first = solved.solution.path[0]
    if len(given) > MOST_NAMED and first.left.is_Symbol and first.origin >= 0:
        others = solved.system.equations[first.origin].symbols - {first.left.name, "g"}
        told, asked, given = FIRST, first.left.name, tuple(sorted(others, key=lambda each: (each not in given, each)))
    name, *givens = (name_of(solved.problem, scene, each) for each in (asked, *given))
    return told.format(asked=name, givens=listed([f"the {each}" for each in givens]))


def _after(solved: SolvedQuestion, notation: Notation, start: Row, algebra: Sequence[Row]) -> tuple[str, Row | None]:
    """Newton's second law towards the centre where it does not come first; else the line after the first equation.

    Where that line only rearranges it, the next equation that is used.
    """
    used = dict.fromkeys(each.origin for each in solved.solution.path if each.origin >= 0)
    radial = [each for each in map(solved.system.equations.__getitem__, used) if each.kind == "inward"]
    if radial and (row := notation.equation(radial[0].terms, radial[0].right)) != start:
        return AS_WELL, row
    first, *line = ({*letters_of([(Math(each),)], solved.problem, notation)} for each in (start, *algebra[:1]))
    if any(each - first for each in line):
        return NEXT, algebra[0]
    rows = (solved.system.equations[each] for each in [*used][1:])
    return AS_WELL, next((notation.equation(each.terms, each.right) for each in rows), None)


def _explained(
    solved: SolvedQuestion, scene: Scene, notation: Notation, lead: str, equation: Row, told: set[str]
) -> Paragraph:
    """A hint that shows an equation, with what those of its letters mean that no hint has ``told`` yet."""
    new = [each for each in letters_of([(Math(equation),)], solved.problem, notation) if each not in told]
    told |= {*new}
    leads = bool(new) and equation.parts[0] == notation.symbol(new[0])
    if leads and f"the {name_of(solved.problem, scene, new[0])} " in lead:
        new = new[1:]  # the lead has said what stands on the left
    parts: list[Inline] = [Words(lead), Math(equation)]
    meanings = introduced(solved.problem, scene, notation, new, solved.question, AFTER)
    for meaning in meanings:
        parts += [Words(". "), *meaning]
    return tuple(joined(parts if meanings else [*parts, Words(".")]))


def _look(scene: Scene, diagrams: Sequence[Diagram]) -> str:
    """What to draw; nothing where no force is needed."""
    several = len({each.body for each in diagrams}) < len(diagrams)
    told = [_diagram(scene, each, each.apart if several else "") for each in diagrams]
    if several and len({_diagram(scene, each, "") for each in diagrams}) == 1:
        told = [_diagram(scene, diagrams[0], " and".join(each.apart for each in diagrams))]  # the same twice
    bodies = [with_article(scene.words[each.body], "the") for each in diagrams]
    forces = _distant(scene, diagrams[0]) if diagrams else ""
    if len(diagrams) > 1 and told == [DRAW[False, True].format(body=each, where="", forces=forces) for each in bodies]:
        told = [DRAW_EACH.format(bodies=either(bodies), forces=forces)]
    if all(each.spot == "rest" for each in diagrams):
        return " ".join(told)
    several = any(len(each.forces) > 1 for each in diagrams)
    return " ".join((*told, ALONG if several else CAUSED))


def _diagram(scene: Scene, diagram: Diagram, where: str) -> str:
    """What acts on one body: what is in contact with it, and whether gravity acts."""
    body = with_article(scene.words[diagram.body], "the")
    shown = [force_words(scene, force.role) for force in diagram.forces if force.law is None]
    touching = list(dict.fromkeys(each.by for each in shown if each))
    forces, force = _distant(scene, diagram), "forces" if sum(map(bool, shown)) > 1 else "force"
    drawn = DRAW[bool(touching), bool(forces)]
    return drawn.format(body=body, where=where, touching=listed(touching), forces=forces, force=force)


def _distant(scene: Scene, diagram: Diagram) -> str:
    """The forces on a body that need no contact."""
    words = [(force.law, force_words(scene, force.role)) for force in diagram.forces]
    if any(law == "weight" for law, _ in words):
        return "gravity"
    return listed([f"the {shown.name} exerted by {shown.by}" for law, shown in words if shown and law])


def _start(solved: SolvedQuestion, notation: Notation) -> Row | None:
    """The first equation that the elimination uses; None where it starts from sin² + cos² = 1."""
    first = solved.solution.path[0].origin if solved.solution.path else -1
    if first < 0:
        return None
    equation = solved.system.equations[first]
    return notation.equation(equation.terms, equation.right)


def _too_much(solved: SolvedQuestion, notation: Notation, algebra: Sequence[Row]) -> set[Row]:
    """The closed form, what the last elimination isolates (the answer but for a root), the last line of the algebra."""
    symbol, closed = sympy.Symbol(solved.solution.ask), solved.solution.closed_form
    either_way = {notation.equation(symbol, closed), equals(notation.node(closed), notation.node(symbol))}
    isolated = {notation.equation(last.left, last.value) for last in solved.solution.path[-1:]}
    return {*either_way, *isolated, *algebra[-1:]}


def _equations(lines: Sequence[Paragraph]) -> list[Row]:
    """The equations among the formulas of some paragraphs."""
    nodes = (part.node for paragraph in lines for part in paragraph if isinstance(part, Math))
    return [each for each in nodes if isinstance(each, Row) and Operator("=") in each.parts]
