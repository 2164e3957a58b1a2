"""Rows and a manifest to all that can be said about questions, forms and the thinking of a class."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from itertools import combinations
from math import fsum
from typing import TYPE_CHECKING

import numpy as np

from ..errors import UnknownNameError
from . import classical, flags, rasch
from .assessment import SatAssessment
from .chosen import Chosen, chosen
from .differential import mantel_haenszel, strata
from .disagreements import MarkedAgain, marked_again
from .equivalence import two_means
from .outcome import Between, Comparison, FormOutcome, Outcome, QuestionOutcome, Siblings
from .rows import Rows
from .sameness import reaches
from .siblings import siblings
from .table import Table, tables
from .thoughts import by_objective, thoughts

if TYPE_CHECKING:
    from numpy.typing import NDArray


def analyse(rows: Rows, assessment: SatAssessment, reference: str = "", *, again: bool = False) -> Outcome:
    """All that the rows say. ``reference`` is the group that others are compared with, the largest one if empty.

    With ``again`` figures come from the marks by the manifest where it can tell them, not from those of the results.
    Raises UnknownNameError for a reference group that nobody is in.
    """
    made = tables(rows, assessment, again=again)
    names = sorted({name for table in made for name in table.group_names if name})
    if reference and reference not in names:
        raise UnknownNameError("group", reference, names[:3])
    found = siblings(made)
    analysed = [_form(table, found, reference, again) for table in made]
    questions = tuple(each for _, those in analysed for each in those)
    forms = tuple(form for form, _ in analysed)
    return Outcome(
        assessment.id,
        assessment.title,
        assessment.bank,
        sum(table.candidates for table in made),
        sum(len(table.answers) for table in made),
        forms,
        questions,
        tuple(_compared(*pair) for pair in combinations(forms, 2) if min(len(each.shares) for each in pair) > 1),
        thoughts(questions),
        by_objective(questions),
        rows.ledger.notes(),
    )


def _compared(first: FormOutcome, second: FormOutcome) -> Comparison:
    return Comparison(first.name, second.name, two_means(np.array(first.shares), np.array(second.shares)))


def _form(
    table: Table, found: Mapping[str, Siblings], reference: str, again: bool
) -> tuple[FormOutcome, list[QuestionOutcome]]:
    shares = classical.totals(table.scores, table.marks) / table.marks.sum()
    shares = shares[~np.isnan(shares)]
    complete = np.asarray(~np.isnan(table.scores).any(axis=1))
    form = FormOutcome(
        table.form,
        table.candidates,
        len(table.questions),
        float(table.marks.sum()),
        float(shares.mean()) if len(shares) else float("nan"),
        float(shares.std(ddof=1)) if len(shares) > 1 else float("nan"),
        classical.reliability(table.scores),
        int(complete.sum()),
        tuple(map(float, shares)),
    )
    counts = {name: int((table.groups == code).sum()) for code, name in enumerate(table.group_names) if name}
    form = replace(form, flags=flags.form_flags(form), silence=flags.silence(form, counts))
    questions = _questions(table, form, found, complete, _pairs(table, counts, reference), again=again)
    return form, [replace(each, flags=flags.question_flags(each)) for each in questions]


def _questions(
    table: Table,
    form: FormOutcome,
    found: Mapping[str, Siblings],
    complete: NDArray[np.bool_],
    pairs: list[tuple[str, str]],
    *,
    again: bool,
) -> list[QuestionOutcome]:
    scores, marks = table.scores, table.marks
    right = reaches(scores, marks)
    scale = rasch.difficulties(right[complete]) if form.complete >= flags.LEAST else rasch.none(len(marks))
    figures = zip(
        classical.facility(scores, marks),
        classical.item_total(scores, marks),
        classical.item_rest(scores, marks),
        classical.upper_lower(scores, marks),
        strict=True,
    )
    answered, marked, seconds = chosen(table), marked_again(table), _seconds(table)
    return [
        _question(
            table,
            form,
            place,
            tuple(map(float, each)),
            scale=scale,
            answered=answered[place],
            found=found[table.questions[place].id],
            seconds=seconds[place],
            pairs=pairs,
            marked=marked[place],
            again=again,
        )
        for place, each in enumerate(figures)
    ]


def _question(
    table: Table,
    form: FormOutcome,
    place: int,
    figures: tuple[float, ...],
    *,
    scale: rasch.Rasch,
    answered: tuple[Chosen, ...],
    found: Siblings,
    seconds: float,
    pairs: list[tuple[str, str]],
    marked: MarkedAgain | None,
    again: bool,
) -> QuestionOutcome:
    question = table.questions[place]
    known = ~np.isnan(table.scores[:, place])
    predicted = [each.predicted for each in question.items if each.predicted is not None]
    return QuestionOutcome(
        form=table.form,
        number=place + 1,
        id=question.id,
        kind=question.first.kind,
        version=question.first.version,
        marks=question.marks,
        objectives=question.first.objectives,
        predicted=fsum(predicted) / len(predicted) if predicted else None,
        candidates=int(known.sum()),
        facility=figures[0],
        error=_error(table.scores[known, place] / question.marks),
        item_total=figures[1],
        item_rest=figures[2],
        upper_lower=figures[3],
        omitted=float(table.omitted[:, place].mean()),
        unknown=int((~known).sum()),
        without=form.reliability.without[place],
        difficulty=scale.difficulty[place],
        difficulty_error=scale.error[place],
        seconds=seconds,
        chosen=answered,
        siblings=found,
        marked_again=marked,
        rests_on_manifest=again,
        items=tuple(each.name for each in question.items),
        between=tuple(_between(table, place, pairs)),
    )


def _error(shares: classical.Scores) -> float:
    """The standard error of a mean."""
    return float(shares.std() / np.sqrt(len(shares))) if len(shares) else float("nan")


def _seconds(table: Table) -> list[float]:
    """The median time that each question took, NaN where no file tells it."""
    timed = table.answers[["column", "duration"]].dropna()
    medians = timed.groupby("column")["duration"].median().to_dict()
    return [float(medians.get(place, np.nan)) for place in range(len(table.questions))]


def _pairs(table: Table, counts: dict[str, int], reference: str) -> list[tuple[str, str]]:
    """The groups to compare, each large enough, with the reference group."""
    large = [name for name, count in counts.items() if count >= flags.LEAST_GROUP]
    first = reference or max(large, key=lambda name: counts[name], default="")
    return [(first, name) for name in large if name != first and first in large]


def _between(table: Table, place: int, pairs: list[tuple[str, str]]) -> list[Between]:
    made: list[Between] = []
    if not pairs:
        return made
    known = ~np.isnan(table.scores).any(axis=1)
    total = table.scores.sum(axis=1)
    right = reaches(table.scores[:, place], table.marks[place])
    for reference, focal in pairs:
        codes = [table.group_names.index(name) for name in (reference, focal)]
        here = known & np.isin(table.groups, codes)
        if not here.any():
            continue
        found = mantel_haenszel(strata(right[here], total[here], table.groups[here] == codes[1]))
        if found:
            made.append(Between(reference, focal, found))
    return made
