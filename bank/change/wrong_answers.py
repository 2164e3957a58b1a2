"""Which mistakes give a wrong answer now that gave none, or gave another one, or give none any more."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from ..model.edit import NumericEdit
from ..model.mistake import Mistake
from ..model.problem import Problem, Question
from ..solving.solution import SolvedQuestion, samples_of
from ..thinking.mistaken_forms import MistakenForm, mistaken_forms
from .changes import Change, Pair
from .letters import agree_somewhere, relettered


def may_differ(pair: Pair) -> bool:
    """Whether a question of unchanged equations can have other wrong answers."""
    return _basis(pair.old_problem, pair.old) != _basis(pair.new_problem, pair.new)


def _basis(problem: Problem, question: Question) -> tuple[Any, ...]:
    scenes = problem.scenes_of(question)
    units = {problem.spec(name, scene).unit.symbol for name in question.given for scene in scenes}
    own = {each.id: (each.edit, each.families) for each in problem.mistakes}
    return problem.family, own, frozenset(problem.without), units, problem.diagrams


def about_question(
    pair: Pair, old: SolvedQuestion, new: SolvedQuestion, catalogue: Sequence[Mistake]
) -> Iterator[Change]:
    """The mistakes gained, lost, and with other numbers."""
    (before, _), (after, idle) = mistaken_forms(old, catalogue), mistaken_forms(new, catalogue)
    was, now = ({each.mistake.id: each for each in found} for found in (before, after))
    why = {each.mistake.id: each.why for each in idle}
    for name in [each for each in was if each not in now]:
        yield Change("distractor", f"lost {name}", formed(was[name]), why.get(name) or _left_out(pair, name))
    for name in [each for each in now if each not in was]:
        yield Change("distractor", f"gained {name}", "", formed(now[name]))
    for name in [each for each in was if each in now and not _is_same(pair, was[each], now[each])]:
        yield Change("distractor", f"other numbers from {name}", formed(was[name]), formed(now[name]))


def _is_same(pair: Pair, old: MistakenForm, new: MistakenForm) -> bool:
    samples = samples_of(pair.old_problem, pair.old)
    before = {pair.named(name): values for name, values in samples.items()}
    first = relettered(old.closed_form, pair.letters)
    if old.raw != new.raw:
        return False
    return first == new.closed_form or agree_somewhere(
        first, new.closed_form, before, samples_of(pair.new_problem, pair.new)
    )


def _left_out(pair: Pair, name: str) -> str:
    return "left out under 'without'" if name in pair.new_problem.without else "no mistake of this problem any more"


def formed(found: MistakenForm) -> str:
    """The wrong answer in letters."""
    from ..item import formula
    from ..writing.notation import Notation

    raw = f", {found.raw.written} put in as they are" if found.raw else ""
    return formula.text(Notation().node(found.closed_form)) + raw


def about_lists(old: Problem, new: Problem, told: Sequence[Change]) -> Iterator[Change]:
    """Own mistakes and exclusions that came or went and show in no number of any question."""
    said = {change.what.rpartition(" ")[2] for change in told if change.kind == "distractor"}
    before, after = ({each.id: each for each in problem.mistakes} for problem in (old, new))
    for name in sorted((before.keys() | after.keys()) - said):
        yield from _own(name, before, after)
    for name in sorted((set(old.without) ^ set(new.without)) - said):
        what = f"{name} is {'no more left out' if name in old.without else 'left out now'}"
        yield Change("distractor", what, old.without.get(name, ""), new.without.get(name, ""))


def _own(name: str, before: Mapping[str, Mistake], after: Mapping[str, Mistake]) -> Iterator[Change]:
    if name not in before or name not in after:
        found = before.get(name) or after[name]
        where = "" if not isinstance(found.edit, NumericEdit) else ", which gives no number here"
        yield Change("distractor", f"own mistake {name} is {'gone' if name in before else 'new'}{where}")
    elif (before[name].edit, before[name].families) != (after[name].edit, after[name].families):
        yield Change("distractor", f"own mistake {name}", _edit(before[name]), _edit(after[name]))


def _edit(mistake: Mistake) -> str:
    return f"{mistake.edit.name}: {mistake.edit.argument}"
