"""A blueprint and the questions of a bank as a 0-1 programme: each line of the blueprint becomes a rule of its own."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from ..errors import Place
from ..item.draw import lot
from ..language import count, listed
from ..questions.kinds import kinds_where
from . import enemies
from .blueprint import Blueprint, Range
from .candidate import Candidate
from .linear import INFINITY
from .pool import fits, is_named, suits_level
from .programme import Bound, Measure, Programme, Rule

ALIKE_FACILITY = 0.01  # a difference of mean facility that counts as much as one minute
ENOUGH = 1.0  # of these; well inside 0.02 of mean facility, the limit of the house for parallel forms
LETTERED = frozenset(kinds_where(lambda each: each.entry == "choice"))

Pairs = Sequence[tuple[str, ...]]


def programme_of(
    blueprint: Blueprint, candidates: Sequence[Candidate], found: Pairs = (), declared: Pairs = ()
) -> Programme:
    """The programme of a blueprint over some questions.

    ``declared`` are groups of enemies by id from problem files; ``found`` those that came out when items were made.
    """
    writer = _Requirements(blueprint, candidates)
    ranked = sorted(range(len(candidates)), key=lambda at: lot(blueprint.seed, candidates[at].id))
    return Programme(
        items=len(candidates),
        forms=blueprint.forms,
        rules=tuple(rule for rule in writer.rules(found, declared) if rule.bounds),
        measures=tuple(_measures(blueprint, candidates)) if blueprint.forms > 1 else (),
        enough=ENOUGH,
        order=tuple(ranked),
    )


def _measures(blueprint: Blueprint, candidates: Sequence[Candidate]) -> Iterator[Measure]:
    yield Measure("facility", tuple(each.facility for each in candidates), ALIKE_FACILITY * blueprint.questions)
    yield Measure("minutes", tuple(float(each.minutes) for each in candidates))
    yield Measure("marks", tuple(float(each.marks) for each in candidates))
    yield Measure("lettered keys", tuple(float(each.kind in LETTERED) for each in candidates))


class _Requirements:
    """Writes the rules of a blueprint."""

    def __init__(self, blueprint: Blueprint, candidates: Sequence[Candidate]) -> None:
        self.blueprint = blueprint
        self.candidates = candidates

    def rules(self, found: Pairs, declared: Pairs) -> Iterator[Rule]:
        blueprint = self.blueprint
        size = float(blueprint.questions)
        yield self._rule(f"questions: {blueprint.questions}", ("questions",), self._sum(lambda _: 1.0, size, size))
        yield from self._totals()
        yield from self._rows()
        yield from self._left_out()
        yield from self._overlap()
        yield from self._sameness()
        yield from self._enemies(found, declared)

    def _rule(self, words: str, path: tuple[str | int, ...], *bounds: Bound) -> Rule:
        return Rule(words, bounds, self.blueprint.place(*path))

    def _sum(self, value: Callable[[Candidate], float], low: float, high: float) -> Bound:
        return Bound({at: value(each) for at, each in enumerate(self.candidates)}, low, high)

    def _totals(self) -> Iterator[Rule]:
        blueprint = self.blueprint
        values: tuple[tuple[str, Range | None, Callable[[Candidate], float]], ...] = (
            ("marks", blueprint.marks, lambda each: each.marks),
            ("minutes", blueprint.minutes, lambda each: each.minutes),
        )
        for name, wanted, value in values:
            if wanted:
                yield self._rule(f"{name}: {wanted}", (name,), self._sum(value, *_limits(wanted)))
        if blueprint.difficulty:
            low, high = blueprint.difficulty.low, blueprint.difficulty.high
            # means as sums, so that the rule does not hang on how many questions there are
            least = () if low is None else (self._sum(lambda each: each.facility - low, 0.0, INFINITY),)
            most = () if high is None else (self._sum(lambda each: each.facility - high, -INFINITY, 0.0),)
            yield self._rule(f"difficulty (mean facility): {blueprint.difficulty}", ("difficulty",), *least, *most)

    def _rows(self) -> Iterator[Rule]:
        for at, row in enumerate(self.blueprint.rows):
            inside = self._of(fits(row, each) for each in self.candidates)
            yield self._rule(row.words, ("rows", at), Bound(inside, *_limits(row.count)))

    def _left_out(self) -> Iterator[Rule]:
        """What the kinds and the level leave out; no rule where nothing of it is among the questions."""
        blueprint = self.blueprint
        for words, path, inside in (
            (f"kinds: {listed(blueprint.kinds)}", "kinds", [each.kind in blueprint.kinds for each in self.candidates]),
            (f"level: {blueprint.level}", "level", [suits_level(blueprint, each) for each in self.candidates]),
        ):
            outside = self._of(not each for each in inside)
            if outside:
                yield self._rule(words, (path,), Bound(outside, high=0.0))

    def _overlap(self) -> Iterator[Rule]:
        blueprint = self.blueprint
        anchors = {at for at, each in enumerate(self.candidates) if each.id in blueprint.anchors}
        if anchors:
            words = f"anchors: {listed(blueprint.anchors)}"
            yield self._rule(words, ("anchors",), *(Bound({at: 1.0}, 1.0) for at in sorted(anchors)))
        if blueprint.forms > 1:
            words = f"forms: {blueprint.forms}, and no question but an anchor in two of them"
            once = (Bound({at: 1.0}, high=1.0, across=True) for at in range(len(self.candidates)) if at not in anchors)
            yield self._rule(words, ("forms",), *once)

    def _sameness(self) -> Iterator[Rule]:
        blueprint = self.blueprint
        if blueprint.scenes == "once":
            groups = self._groups(lambda each: each.problem)
            rooms = [len({scene for at in group for scene in self.candidates[at].scenes}) for group in groups]
            limits = (
                Bound(dict.fromkeys(group, 1.0), high=float(room)) for group, room in zip(groups, rooms, strict=True)
            )
            yield self._rule("scenes: each at most once in a form", ("scenes",), *limits)
        if blueprint.same_equations:
            most = blueprint.same_equations
            words = f"same-equations: at most {count(most, 'question')} of a form"
            groups = self._groups(lambda each: each.equation)
            limits = (Bound(dict.fromkeys(group, 1.0), high=float(most)) for group in groups)
            yield self._rule(words, ("same-equations",), *limits)

    def _enemies(self, found: Pairs, declared: Pairs) -> Iterator[Rule]:
        for at, names in enumerate(self.blueprint.enemies):
            yield self._rule(f"enemies: one of {listed(names)}", ("enemies", at), *self._one_of(names))
        always = Place(self.blueprint.document.file)
        yield Rule(
            "enemies that problem files declare", tuple(b for names in declared for b in self._one_of(names)), always
        )
        bounds = [Bound(dict.fromkeys(group, 1.0), high=1.0) for group in enemies.derived(self.candidates)]
        bounds += [bound for names in found for bound in self._one_of(names)]
        yield Rule("no question of a form gives another away or asks the same", tuple(bounds), always)

    def _one_of(self, names: Sequence[str]) -> Iterator[Bound]:
        group = self._of(any(is_named(name, each) for name in names) for each in self.candidates)
        if len(group) > 1:
            yield Bound(group, high=1.0)

    def _of(self, inside: Iterator[bool]) -> dict[int, float]:
        return {at: 1.0 for at, each in enumerate(inside) if each}

    def _groups(self, name: Callable[[Candidate], str]) -> list[list[int]]:
        found: dict[str, list[int]] = {}
        for at, each in enumerate(self.candidates):
            found.setdefault(name(each), []).append(at)
        return list(found.values())


def _limits(wanted: Range) -> tuple[float, float]:
    return (
        -INFINITY if wanted.low is None else wanted.low,
        INFINITY if wanted.high is None else wanted.high,
    )
