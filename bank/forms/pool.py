"""Which questions of a bank a blueprint may take, and whether all that it names is there."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Sequence

from ..documents.document import Path_
from ..errors import BankFaultsError
from ..item.draw import lot
from .blueprint import Blueprint, BlueprintRow
from .candidate import Candidate


def fits(row: BlueprintRow, candidate: Candidate) -> bool:
    """Whether a question belongs to a row of the table."""
    return (
        (not row.content or bool(candidate.contents & set(row.content)))
        and (not row.thinking or candidate.thinking in row.thinking)
        and (not row.kinds or candidate.kind in row.kinds)
    )


def is_named(name: str, candidate: Candidate) -> bool:
    """Whether an enemy's name means a question: its id, or that of the question that it asks in another kind."""
    return name in (candidate.id, candidate.question)


def suits_level(blueprint: Blueprint, candidate: Candidate) -> bool:
    """Whether the mathematics of a question is at hand; who has calculus has algebra as well."""
    return blueprint.level != "algebra" or candidate.level == "algebra"


def allowed(blueprint: Blueprint, candidates: Iterable[Candidate]) -> list[Candidate]:
    """The questions of the kinds and the level of a blueprint."""
    return [each for each in candidates if each.kind in blueprint.kinds and suits_level(blueprint, each)]


def pool(blueprint: Blueprint, candidates: Sequence[Candidate]) -> list[Candidate]:
    """The questions that fit a row or are anchors; of those that differ in nothing that a blueprint asks, one.

    Which one the seed decides. Those that the blueprint names are all kept.
    """
    names = {*blueprint.anchors, *(name for group in blueprint.enemies for name in group)}
    kept: dict[object, Candidate] = {}
    for each in candidates:
        if each.id not in blueprint.anchors and not any(fits(row, each) for row in blueprint.rows):
            continue
        alike = each.id if each.id in names else _likeness(each)
        other = kept.get(alike)
        if other is None or lot(blueprint.seed, each.id) < lot(blueprint.seed, other.id):
            kept[alike] = each
    wanted = {each.id for each in kept.values()}
    return [each for each in candidates if each.id in wanted]


def _likeness(each: Candidate) -> object:
    values = (each.facility, each.minutes, each.marks, each.thinking, each.contents)
    return (each.kind, each.problem, each.question, each.diagram, each.equation, *values)


def check_names(blueprint: Blueprint, candidates: Sequence[Candidate]) -> None:
    """Raises BankFaultsError with every name of a blueprint that the bank does not have."""
    ids = {each.id for each in candidates} | {each.question for each in candidates}
    contents = frozenset().union(*(each.contents for each in candidates)) if candidates else frozenset()
    document = blueprint.document
    faults = len(document.faults)

    def check(path: Path_, name: str, known: Iterable[str], what: str) -> None:
        if name not in known:
            near = difflib.get_close_matches(name, sorted(known), n=2, cutoff=0.5)
            hint = f"did you mean {' or '.join(near)}?" if near else "'turnwright list' shows what there is"
            document.fault(path, f"no {what} of the bank is called '{name}'", hint)

    for at, name in enumerate(blueprint.anchors):
        check(("anchors", at), name, {each.id for each in candidates}, "question")
    for at, group in enumerate(blueprint.enemies):
        for place, name in enumerate(group):
            check(("enemies", at, place), name, ids, "question")
    for at, row in enumerate(blueprint.rows):
        for place, name in enumerate(row.content):
            check(("rows", at, "content", place), name, contents, "family, problem or objective")
    if len(document.faults) > faults:
        raise BankFaultsError(document.faults)
