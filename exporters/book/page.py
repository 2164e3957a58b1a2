"""Sheets to one HTML page that asks for nothing outside itself and runs nothing but its own small script.

HTML and the meaning of its elements: the HTML standard (https://html.spec.whatwg.org); the policy of what may run:
Content Security Policy Level 3 (https://www.w3.org/TR/CSP3/), from memory.
"""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cache
from importlib import resources
from typing import TYPE_CHECKING

from markupsafe import Markup

from ...bank.item.drawing import Drawing
from ...bank.item.item import (
    ChoiceEntry,
    Entry,
    Item,
    MatchEntry,
    NumberEntry,
    Option,
    OrderEntry,
    Paragraph,
    Recognised,
    SolutionDrawing,
)
from ...bank.language import capital, count
from ...bank.model.mistake import Mistake
from ...bank.quantities.quantity import print_figures
from ...bank.writing.notation import printed_symbol
from ..qti.options import letter
from . import answers, contents, markup
from .sheet import BookHead, Sheet

if TYPE_CHECKING:
    from jinja2 import Environment, Template


_NAMES: dict[type[Entry], str] = {
    NumberEntry: "number", ChoiceEntry: "choice", OrderEntry: "order", MatchEntry: "match",
}  # fmt: skip
MARK = 12  # letters of a sheet's mark: enough that two readings of a sheet with one mark are the same


@dataclass
class BookPage:
    """A page in the making: sheets are added one by one, and only their HTML is kept."""

    head: BookHead
    _entries: list[contents.ContentsEntry] = field(default_factory=list)
    _sheets: list[Markup] = field(default_factory=list)
    _situations: dict[str, Markup] = field(default_factory=dict)
    _marks: list[str] = field(default_factory=list)
    _drawings: dict[str, Drawing] = field(default_factory=dict)
    _named: dict[str, Drawing] = field(default_factory=dict)
    _thoughts: dict[str, Mistake] = field(default_factory=dict)
    _variants: dict[str, int] = field(default_factory=dict)

    @property
    def questions(self) -> tuple[str, ...]:
        """The ids of the questions on it."""
        return tuple(each.id for each in self._entries)

    @property
    def to_judge(self) -> tuple[str, ...]:
        """The ids of the solved questions whose quality report leaves something to judge."""
        return tuple(each.source for each in contents.to_judge(self._entries))

    def add(self, sheet: Sheet) -> None:
        """Adds a sheet behind those that are there."""
        view = _BookView(sheet)
        html = Markup(_template("sheet").render(sheet=sheet, view=view))  # noqa: S704
        self._marks.append(_mark(html))
        self._sheets.append(html)
        self._entries.append(contents.entry_of(sheet))
        if sheet.metadata.problem not in self._situations:
            shown = _template("situation").render(situation=sheet.situation)
            self._situations[sheet.metadata.problem] = Markup(shown)  # noqa: S704
        self._drawings.update(view.drawings)
        self._named.update(view.named)
        self._thoughts.update(view.thoughts)
        self._variants[sheet.quality.question] = sheet.quality.variants

    def html(self, without_item: Sequence[str] = ()) -> bytes:
        """The whole page; ``without_item`` are ids of questions that have none."""
        style, script = _text("book.css"), _text("book.js")
        text = _template("page").render(
            head=self.head,
            policy=policy(style, script),
            style=Markup(style),  # noqa: S704
            script=Markup(script),  # noqa: S704
            entries=self._entries,
            families=contents.families(self._entries),
            objectives=contents.by_objective(self._entries),
            kinds=contents.counts(self._entries, lambda each: each.kind),
            levels=contents.values(self._entries, lambda each: (each.level,)),
            to_judge=contents.to_judge(self._entries),
            variants=sum(self._variants.values()),
            mark=_mark("".join([*self._marks, *map(_mark, self._situations.values())])),
            marks=self._marks,
            sheets=self._sheets,
            situations=self._situations,
            thoughts=sorted(self._thoughts.items()),
            symbols=markup.symbols_html(self._drawings.values()),
            words=markup.words_html(self._named.values()),
            without_item=without_item,
        )
        return markup.seen(text).encode()


def page(head: BookHead, sheets: Sequence[Sheet]) -> bytes:
    """The page of some sheets."""
    made = BookPage(head)
    for each in sheets:
        made.add(each)
    return made.html()


def policy(style: str, script: str) -> str:
    """What the page may load and run: its own style and script, known by their digests, and nothing else."""
    allowed = f"style-src {_digest(style)}; script-src {_digest(script)}"
    return f"default-src 'none'; {allowed}; base-uri 'none'; form-action 'none'"


def _digest(text: str) -> str:
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def _mark(text: str) -> str:
    """A short digest in groups of four: it changes when anything in the text does."""
    digest = hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:MARK]
    return "-".join(digest[start : start + 4] for start in range(0, MARK, 4))


@dataclass
class _BookView:
    """What the template of a sheet asks for; it remembers the drawings and mistakes that were shown."""

    sheet: Sheet
    drawings: dict[str, Drawing] = field(default_factory=dict)
    named: dict[str, Drawing] = field(default_factory=dict)
    thoughts: dict[str, Mistake] = field(default_factory=dict)
    _told: set[str] = field(default_factory=set)

    @property
    def table(self) -> answers.AnswerTable:
        """The table of variants."""
        return answers.table(self.sheet.items)

    def figure(self, drawing: Drawing) -> Markup:
        """A place for a drawing that is named by its text alternative."""
        self.drawings[markup.drawing_id(drawing)] = drawing
        self.named[markup.drawing_id(drawing)] = drawing
        return markup.drawing_html(drawing)

    def picture(self, drawing: Drawing, name: str) -> Markup:
        """A place for a drawing that has its text alternative beside it."""
        self.drawings[markup.drawing_id(drawing)] = drawing
        return markup.drawing_html(drawing, name)

    def told(self, paragraph: Paragraph) -> Markup:
        """A paragraph of a solution, which may be a drawing."""
        if len(paragraph) == 1 and isinstance(paragraph[0], SolutionDrawing):
            return self.figure(paragraph[0].drawing)
        return markup.paragraph_html(paragraph)

    def same_figure(self, item: Item) -> int | None:
        """The variant that has shown the figure of ``item`` before."""
        told = self.sheet.told
        return next((each.variant for each in told[: told.index(item)] if each.figure == item.figure), None)

    def more(self, item: Item) -> bool:
        """Whether an item has more to tell than numbers with their keys."""
        return any(not isinstance(each, NumberEntry) or each.recognised for each in item.entries)

    def number(self, value: Decimal, figures: int) -> str:
        """A number as printed."""
        return print_figures(value, figures)

    def told_before(self, wrong: Recognised | Option) -> bool:
        """Whether a reader of the sheet has met this feedback, whole or in its parts; from now on it counts as met."""
        text, why = wrong.feedback, wrong.cause
        parts = {text} | ({why.advice.text} if why and not why.together else set())
        before = text in self._told or (len(parts) > 1 and parts - {text} <= self._told)
        self._told |= parts
        return before

    def thought(self, mistake: str) -> str:
        """The id of the place of a mistake on the page, empty for one that nobody knows."""
        for place in (f"thinking:{self.sheet.metadata.problem}:{mistake}", f"thinking:{mistake}"):
            if place in self.sheet.thoughts:
                self.thoughts[place] = self.sheet.thoughts[place]
                return place
        return ""


def named(name: str) -> str:
    """A name with hyphens as a heading: ``vertical-circle`` gives ``Vertical circle``."""
    return capital(name.replace("-", " ")) if name else name


@cache
def _environment() -> Environment:
    from jinja2 import Environment, FunctionLoader, StrictUndefined

    made = Environment(
        loader=FunctionLoader(_text),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters |= {
        "paragraph": markup.paragraph_html,
        "inline": markup.inline_html,
        "formula": markup.formula_html,
        "symbol": lambda name: markup.symbol_html(printed_symbol(name)),
        "entry_name": lambda entry: _NAMES[type(entry)],
        "is_drawing": lambda content: isinstance(content, Drawing),
        "letter": letter,
        "key": answers.key_text,
        "width": answers.width_text,
        "named": named,
    }
    made.globals |= {"count": count, "with_unit": answers.with_unit}
    return made


@cache
def _text(name: str) -> str:
    return (resources.files(__package__) / "templates" / name).read_text("utf-8")


def _template(name: str) -> Template:
    return _environment().get_template(f"{name}.html.jinja")
