"""An outcome to one HTML page in the look of the sign-off page: no script, and nothing from outside itself."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from importlib import resources
from typing import TYPE_CHECKING

from markupsafe import Markup

from ...bank.analysis.chosen import Chosen
from ...bank.analysis.classical import TIES
from ...bank.analysis.disagreements import told_marks
from ...bank.analysis.outcome import Outcome, QuestionOutcome
from ...bank.analysis.told_thoughts import NONE_SHOWN, told_counts
from ...bank.item.drawing import Drawing
from ...bank.language import count
from ..book import markup
from ..book.page import policy
from ..results.table_file import is_formula
from . import charts

if TYPE_CHECKING:
    from jinja2 import Environment


NONE = "–"
SORTS = {"right": "Right", "other": "Another answer", "omitted": "Left out"}


@dataclass(frozen=True)
class ReportHead:
    """What stands on top of a page; ``words`` are what a student would say, by mistake.

    A mistake of a single problem is looked up as ``problem:mistake`` first.
    """

    version: str
    date: str = ""
    words: Mapping[str, str] = field(default_factory=dict)

    def thinking(self, problem: str, mistake: str) -> str:
        """The words of a mistake, empty where nobody knows them."""
        return self.words.get(f"{problem}:{mistake}") or self.words.get(mistake, "")


def report_page(outcome: Outcome, head: ReportHead) -> bytes:
    """The whole page."""
    view = _ReportView(head, len(outcome.forms) > 1)
    style = _book("book.css") + _text("report.css")
    html = (
        _environment()
        .get_template("report.html.jinja")
        .render(
            outcome=outcome,
            head=head,
            view=view,
            policy=policy(style, ""),
            style=Markup(style),  # noqa: S704
            flagged=[each for each in outcome.questions if each.flags],
            verdict=charts.verdict,
            ties=TIES,
            charts=charts,
            marked_again=told_marks(each.marked_again for each in outcome.questions),
            predicted=any(each.predicted is not None for each in outcome.questions),
            timed=any(math.isfinite(each.seconds) for each in outcome.questions),
            told_counts=told_counts,
            none_shown=NONE_SHOWN,
            lost=sum(each.count for each in outcome.notes if each.lost),
        )
    )
    html = html.replace("@@SYMBOLS@@", markup.symbols_html(view.drawings.values()))
    return markup.seen(html.replace("@@WORDS@@", markup.words_html(view.drawings.values()))).encode()


@dataclass
class _ReportView:
    """What the template asks for; it remembers the drawings that were shown."""

    head: ReportHead
    several: bool
    drawings: dict[str, Drawing] = field(default_factory=dict)

    def label(self, question: QuestionOutcome) -> str:
        """How a question is called: by its number, behind its form where there are several."""
        return f"{question.form} {question.number}" if self.several else str(question.number)

    def figure(self, drawing: Drawing) -> Markup:
        """A place for a drawing that is named by its text alternative."""
        self.drawings[markup.drawing_id(drawing)] = drawing
        return markup.drawing_html(drawing)

    def names(self, question: QuestionOutcome) -> list[str]:
        """The sorts of answers to a question in words."""
        return [SORTS.get(each.sort) or " or ".join(each.mistakes) for each in question.chosen]

    def curves(self, question: QuestionOutcome) -> Markup:
        """The plot of the answers to a question by third."""
        return self.figure(charts.curves(question, self.names(question), self.label(question)))

    def thinking(self, question: QuestionOutcome, each: Chosen) -> list[str]:
        """What those would say who gave such an answer."""
        problem = question.id.partition(".")[0]
        return [words for mistake in each.mistakes if (words := self.head.thinking(problem, mistake))]

    def said(self, mistake: str, questions: Sequence[tuple[str, str, int]]) -> str:
        """What a student would say, by the problems in which a mistake was met."""
        problems = [each[0].partition(".")[0] for each in questions]
        return next((words for each in problems if (words := self.head.thinking(each, mistake))), "")


def figure(value: float | None, decimals: int = 2) -> str:
    """A number as printed: with a minus sign, and a dash where there is none."""
    if value is None or not math.isfinite(value):
        return NONE
    text = f"{value:.{decimals}f}"
    return text.replace("-", "−") if float(text) else text.replace("-", "")


def harmless(text: object) -> str:
    """A text that stays a text when a table of the page is pasted into a spreadsheet: a formula gets an apostrophe."""
    plain = str(text)
    return f"'{plain}" if is_formula(plain) else plain


def chance(p: float | None) -> str:
    """A p value as printed."""
    if p is None or not math.isfinite(p):
        return NONE
    return "< 0.001" if p < 0.001 else f"{p:.3f}"


def anchor(question: QuestionOutcome) -> str:
    """The id of the place of a question on the page."""
    return "q:" + "".join(each if each.isalnum() else "-" for each in f"{question.form}-{question.number}")


@cache
def _environment() -> Environment:
    from jinja2 import Environment, FunctionLoader, StrictUndefined

    made = Environment(
        loader=FunctionLoader(_text), autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    made.filters |= {
        "figure": figure, "percent": lambda value: NONE if not math.isfinite(value) else charts.percent(value),
        "harmless": harmless, "chance": chance, "anchor": anchor, "letter": charts.small,
    }  # fmt: skip
    made.globals |= {"count": count}
    return made


@cache
def _text(name: str) -> str:
    return (resources.files(__package__) / "templates" / name).read_text("utf-8")


def _book(name: str) -> str:
    return (resources.files("turnwright.exporters.book") / "templates" / name).read_text("utf-8")
