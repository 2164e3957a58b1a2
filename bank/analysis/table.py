"""Rows held against the manifest: a table of scores for each form, and what had to be set aside on the way.

An answer that is absent counts as omitted, with no marks. An answer that was given but can't be used (a score out of
range) is unknown, NaN in the table; where rows could not be read at all, absent answers are unknown too.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import isfinite
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from .assessment import SatAssessment, SatItem, SatPart
from .classical import Scores
from .marking import earned
from .responses import given_to, numbers
from .rows import Rows
from .sameness import exceeds, is_within
from .told import Ledger

if TYPE_CHECKING:
    import pandas as pd


UNKNOWN = "rows of items that the manifest does not know"
OTHER_PACK = "rows of another pack or another version of this one (its mark is not in the manifest)"
OTHER_FORM = "rows of an item of another form than the rest of the candidate's answers"
OTHER_PRINT = "rows with another fingerprint than the manifest: the item was changed"
OTHER_KEY = "rows whose right answer, as the platform tells it, is not that of the manifest"
NO_SCORE = "answers without a score, or with one that is no number"
RANGE = "scores below 0 or above the marks of their item"
UNTOLD = "answers with marks and no response, which can't be marked again"
UNMARKED = "responses that are written otherwise than the pack has them, so that they can't be marked again"
ATTEMPTS = "earlier attempts, replaced by the last"
TWICE = "answers of a candidate who stands twice in the results; the last one counts"
NO_NAME = "rows without a candidate or an item"


@dataclass(frozen=True)
class QuestionColumn:
    """A column of a table: the question, and its variants in this form."""

    id: str
    marks: float
    items: tuple[SatItem, ...]

    @property
    def first(self) -> SatItem:
        """The item that tells what holds for all variants."""
        return self.items[0]


@dataclass(frozen=True)
class Table:
    """The answers to one form: a row for each candidate, a column for each question.

    ``variant`` is the place of the item met among those of its question, -1 where none was met. ``groups`` are the
    groups of the candidates by the code of ``group_names``. ``answers`` are the rows that were used, with ``row`` and
    ``column`` of the table, ``inside``, the place of the item in the question, ``score`` as the results tell it,
    ``again`` as it is by the manifest (each NaN where it is not known), and ``counted``, which stands in ``scores``.
    """

    form: str
    questions: tuple[QuestionColumn, ...]
    scores: Scores
    omitted: NDArray[np.bool_]
    variant: NDArray[np.int32]
    groups: NDArray[np.int64]
    group_names: tuple[str, ...]
    answers: pd.DataFrame
    pseudonyms: tuple[str, ...]

    @property
    def marks(self) -> Scores:
        """The marks of each question."""
        return np.array([each.marks for each in self.questions])

    @property
    def candidates(self) -> int:
        """How many candidates sat the form."""
        return len(self.scores)


def tables(rows: Rows, assessment: SatAssessment, *, again: bool = False) -> list[Table]:
    """A table for each form that somebody sat. What is set aside is added to the ledger of the rows.

    With ``again`` its scores are those by the manifest, where it can tell them.
    """
    made = _Index(assessment)
    data = _named(rows.table, rows.ledger)
    if not len(data):
        return []
    forms = made.forms_of(data)
    data = data.assign(at=made.places(data, forms, rows.ledger), form_at=forms)
    data = data[data["at"] >= 0]
    data = data.assign(column=made.column[data["at"].to_numpy()], inside=made.inside[data["at"].to_numpy()])
    data = _last(_same_print(data, made, rows.ledger), rows.ledger)
    data = data.assign(score=_checked(data, made, rows.ledger))
    data = data.assign(again=_marked_again(data, made, rows.ledger))
    data = data.assign(counted=data["again"].fillna(data["score"]) if again else data["score"])
    return [
        _table(assessment.forms[number].name, made.questions[number], data[data["form_at"] == number], rows.unplaced)
        for number in sorted(set(data["form_at"].tolist()))
    ]


def _named(table: pd.DataFrame, ledger: Ledger) -> pd.DataFrame:
    named = (table["candidate"] != "") & (table["item"] != "")
    _tell(ledger, NO_NAME, table[~named])
    return table[named]


def _tell(ledger: Ledger, what: str, rows: pd.DataFrame, *, lost: bool = True) -> None:
    if len(rows):
        ledger.add(what, _places(rows), len(rows), lost=lost)


def _places(rows: pd.DataFrame) -> Iterator[str]:
    for source, place in zip(rows["source"].head(20), rows["place"].head(20), strict=True):
        yield f"{source} line {int(place)}" if isfinite(place) else str(source)


class _Index:
    """All items of a manifest in one series, with the question and the place in it of each."""

    def __init__(self, assessment: SatAssessment) -> None:
        self.known: dict[str, dict[int, int]] = {}
        self.questions: list[tuple[QuestionColumn, ...]] = []
        self.items: list[SatItem] = []
        column, inside = [], []
        for number, form in enumerate(assessment.forms):
            groups: dict[str, list[SatItem]] = {}
            columns: dict[str, int] = {}
            for item in form.items:
                self.known.setdefault(item.name, {}).setdefault(number, len(self.items))
                group = groups.setdefault(item.question, [])
                columns.setdefault(item.question, len(columns))
                column.append(columns[item.question])
                inside.append(len(group))
                group.append(item)
                self.items.append(item)
            self.questions.append(
                tuple(QuestionColumn(name, items[0].marks, tuple(items)) for name, items in groups.items())
            )
        self.column, self.inside = np.array(column, np.int32), np.array(inside, np.int32)
        self.marks = np.array([each.marks for each in self.items])
        self.marked = np.array([each.can_be_marked for each in self.items], bool)
        self.names = [form.name for form in assessment.forms]
        self._marks_of_packs = {name.partition("_")[0] for name in self.known if "_" in name}

    def forms_of(self, data: pd.DataFrame) -> NDArray[np.int64]:
        """The form of each row's candidate, shape (rows,): the one that most of the answers name or belong to."""
        items, forms = data["item"].cat, data["form"].cat
        by_item = np.array([min(self.known.get(name, {-1: 0})) for name in items.categories])
        by_name = np.array([self.names.index(name) if name in self.names else -1 for name in forms.categories])
        votes = by_name[forms.codes]
        votes = np.where(votes >= 0, votes, by_item[items.codes])
        candidates = data["candidate"].cat.codes.to_numpy()
        counted = np.zeros((len(data["candidate"].cat.categories), len(self.names)), np.int64)
        np.add.at(counted, (candidates[votes >= 0], votes[votes >= 0]), 1)
        return np.asarray(counted.argmax(axis=1)[candidates], dtype=np.int64)

    def places(self, data: pd.DataFrame, forms: NDArray[np.int64], ledger: Ledger) -> NDArray[np.int64]:
        """The place of each row's item in the series, shape (rows,), -1 for what is set aside."""
        items = data["item"].cat
        table = np.full((len(items.categories), len(self.names)), -1, np.int64)
        known, ours = np.zeros(len(table), bool), np.zeros(len(table), bool)
        for code, name in enumerate(items.categories):
            ours[code] = str(name).partition("_")[0] in self._marks_of_packs or "_" not in str(name)
            for form, place in self.known.get(name, {}).items():
                table[code, form], known[code] = place, True
        codes = items.codes.to_numpy()
        found = table[codes, forms]
        _tell(ledger, UNKNOWN, data[~known[codes] & ours[codes]])
        _tell(ledger, OTHER_PACK, data[~known[codes] & ~ours[codes]])
        _tell(ledger, OTHER_FORM, data[known[codes] & (found < 0)])
        return found


def _same_print(data: pd.DataFrame, index: _Index, ledger: Ledger) -> pd.DataFrame:
    """The rows whose fingerprint, if they have one, is that of the manifest."""
    data = _same_key(data, index, ledger)
    prints = data["fingerprint"]
    if list(prints.cat.categories) == [""]:
        return data
    mine = np.array([each.fingerprint for each in index.items], dtype=object)[data["at"].to_numpy()]
    other = (prints != "").to_numpy() & (prints.astype(object).to_numpy() != mine)
    _tell(ledger, OTHER_PRINT, data[other])
    kept: pd.DataFrame = data[~other]
    return kept


def _same_key(data: pd.DataFrame, index: _Index, ledger: Ledger) -> pd.DataFrame:
    """The rows whose right answer, if the platform tells one, is that of the manifest."""
    if list(data["correct"].cat.categories) == [""]:
        return data
    texts, known = data["correct"].cat, {}
    pairs = list(zip(data["at"].to_numpy(), texts.codes.to_numpy(), strict=True))
    for at, code in set(pairs):
        known[at, code] = is_key(index.items[at], str(texts.categories[int(code)]))
    same = np.array([known[pair] for pair in pairs], bool)
    _tell(ledger, OTHER_KEY, data[~same])
    kept: pd.DataFrame = data[same]
    return kept


def is_key(item: SatItem, correct: str) -> bool:
    """Whether a right answer as a platform tells it can be that of the item; where nothing is known, it can."""
    given = zip(item.parts, given_to(correct, len(item.parts)), strict=True)
    return all(_fits(part, text) for part, text in given if text)


def _fits(part: SatPart, text: str) -> bool:
    right = {each.name for each in part.options if each.right}
    if right:
        return set(text.split()) >= right
    if "number" not in part.key:
        return True
    value = float(part.key["number"])
    told = [float(each) for each in numbers(text, part.key.get("unit", ""))]
    return not told or any(is_within(each, value) for each in told)


def _last(data: pd.DataFrame, ledger: Ledger) -> pd.DataFrame:
    """The last answer of each candidate to each question: by its time where it has one, else by its place."""
    stamps = data["stamp"].cat
    if list(stamps.categories) != [""]:
        rank = np.argsort(np.argsort(np.asarray(stamps.categories, dtype=object)))
        data = data.assign(when=rank[stamps.codes]).sort_values("when", kind="stable").drop(columns="when")
    columns = data["column"].to_numpy()
    key = data["candidate"].cat.codes.to_numpy().astype(np.int64) * (columns.max(initial=0) + 1) + columns
    repeated = _but_last(key)
    if not repeated.any():
        return data
    sources = data["source"].cat.codes.to_numpy()
    within = np.zeros(len(data), bool)
    apart = key * (int(sources.max()) + 1) + sources
    within[repeated] = (
        _but_last(np.unique(apart, return_inverse=True)[1])[repeated] & (data["stamp"] != "").to_numpy()[repeated]
    )
    _tell(ledger, ATTEMPTS, data[repeated & within], lost=False)
    _tell(ledger, TWICE, data[repeated & ~within])
    kept: pd.DataFrame = data[~repeated]
    return kept


def _but_last(keys: NDArray[np.int64]) -> NDArray[np.bool_]:
    """Which of these small numbers come again further on."""
    last = np.zeros(keys.max(initial=0) + 1, np.int64)
    places = np.arange(len(keys))
    np.maximum.at(last, keys, places)
    return np.asarray(last[keys] != places)


def _checked(data: pd.DataFrame, index: _Index, ledger: Ledger) -> Scores:
    """The scores; NaN for those that can't be used, 0 where an omitted answer has none."""
    scores = data["score"].to_numpy().copy()
    empty = (data["response"] == "").to_numpy()
    scores[empty & np.isnan(scores)] = 0.0
    absent = np.isnan(scores)
    _tell(ledger, NO_SCORE, data[absent])
    most = index.marks[data["at"].to_numpy()]
    outside = ~absent & ((scores < 0) | (exceeds(scores, most)))
    _tell(ledger, RANGE, data[outside])
    scores[outside] = np.nan
    return scores


def _marked_again(data: pd.DataFrame, index: _Index, ledger: Ledger) -> Scores:
    """What each response earns by the manifest, shape (rows,); NaN where that can't be told."""
    import pandas as pd

    codes, texts = data["response"].cat.codes.to_numpy().astype(np.int64), data["response"].cat.categories
    inverse, pairs = pd.factorize(data["at"].to_numpy() * len(texts) + codes)
    known = [earned(index.items[pair // len(texts)], str(texts[pair % len(texts)])) for pair in pairs.tolist()]
    found = np.array(known, float)[inverse]
    untold = ((data["response"] == "") & (data["score"] > 0)).to_numpy()
    _tell(ledger, UNTOLD, data[untold], lost=False)
    found[untold] = np.nan
    _tell(ledger, UNMARKED, data[np.isnan(found) & ~untold & index.marked[data["at"].to_numpy()]], lost=False)
    return np.asarray(found, dtype=np.float64)


def _table(form: str, questions: tuple[QuestionColumn, ...], data: pd.DataFrame, unplaced: bool) -> Table:
    import pandas as pd

    codes = data.sort_index()["candidate"].cat.codes.to_numpy()  # in the order in which the files name them
    order = np.asarray(pd.factorize(codes)[1])
    where = np.full(len(data["candidate"].cat.categories), -1)
    where[order] = np.arange(len(order))
    data = data.assign(row=where[data["candidate"].cat.codes.to_numpy()])
    rows, columns = data["row"].to_numpy(), data["column"].to_numpy()
    shape = len(order), len(questions)
    scores = np.full(shape, np.nan if unplaced else 0.0)
    scores[rows, columns] = data["counted"].to_numpy()
    omitted = np.full(shape, not unplaced)
    omitted[rows, columns] = (data["response"] == "").to_numpy() & ~(data["score"].to_numpy() > 0)
    variant = np.full(shape, -1, np.int32)
    variant[rows, columns] = data["inside"].to_numpy()
    groups, names = _groups(data, len(order))
    pseudonyms = tuple(str(each) for each in data["candidate"].cat.categories.take(list(order)))
    answers = data[["row", "column", "inside", "response", "counted", "score", "again", "duration"]]
    return Table(form, questions, scores, omitted, variant, groups, names, answers, pseudonyms)


def _groups(data: pd.DataFrame, candidates: int) -> tuple[NDArray[np.int64], tuple[str, ...]]:
    """The group of each candidate by its first row that names one; 0 for none."""
    names = [str(each) for each in data["group"].cat.categories]
    ordered = sorted(set(names) | {""})
    to = np.array([ordered.index(each) for each in names], np.int64)
    codes = to[data["group"].cat.codes.to_numpy()]
    groups = np.zeros(candidates, np.int64)
    named = codes > 0
    groups[data["row"].to_numpy()[named][::-1]] = codes[named][::-1]
    return groups, tuple(ordered)
