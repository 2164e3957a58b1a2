"""One item of QTI 1.2.1, plain or as a Common Cartridge takes it: what it asks, how it is marked, what it says then.

An answer goes to options, or to a box. In an exam, the item holds no feedback, no hint and no solution: the key stands
only where the marking needs it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from ...bank.item.drawing import Drawing
from ...bank.item.item import ChoiceEntry, Item, NumberEntry, Paragraph, is_by_people
from ...bank.quantities.quantity import has_power
from ...bank.writing import instructions
from ..markup import hypertext
from ..markup.elements import Element
from ..packages.instructions import asked
from ..packages.naming import QuestionNames, figure_href
from ..qti.options import letter
from .marking import HINT, OTHER, RIGHT, SOLUTION, ToldAfter, Worth, add_marking, option_feedback, wrong
from .vocabulary import QTI1, RESPONSE, add_html, fields, yes_or_no

Source: TypeAlias = Callable[[Drawing], str]
Fact: TypeAlias = tuple[str, str]
ALL_RIGHT = "Correct."
LINES = "12"  # of the box for a worked answer


def add_answer(presentation: Element, entry: NumberEntry | ChoiceEntry, source: Source, *, shuffle: bool) -> None:
    """Adds the options or the box; with ``shuffle``, options whose order means nothing may stand in any."""
    if isinstance(entry, ChoiceEntry):
        _add_options(presentation, entry, source, shuffle=shuffle)
    elif entry.with_working or entry.spellings:
        box = QTI1.add(presentation, "response_str", ident=RESPONSE, rcardinality="Single")
        QTI1.add(box, "render_fib", **({"rows": LINES} if entry.with_working else {}))
    else:
        # the grammar names numbers in digits apart from those with a power of ten
        kind = "Scientific" if has_power(entry.key, entry.figures) else "Decimal"
        box = QTI1.add(presentation, "response_num", ident=RESPONSE, rcardinality="Single", numtype=kind)
        QTI1.add(box, "render_fib", fibtype=kind)


def _add_options(presentation: Element, entry: ChoiceEntry, source: Source, *, shuffle: bool) -> None:
    cardinality = "Multiple" if entry.several else "Single"
    response = QTI1.add(presentation, "response_lid", ident=RESPONSE, rcardinality=cardinality)
    choice = QTI1.add(response, "render_choice", shuffle=yes_or_no(shuffle and entry.shuffle))
    for place, option in enumerate(entry.options):
        label = QTI1.add(choice, "response_label", ident=letter(place))
        add_html(label, shown(option.content, source))


def shown(content: Paragraph | Drawing, source: Source) -> str:
    """What an option shows, as HTML."""
    return (
        hypertext.picture(source(content), content.alternative)
        if isinstance(content, Drawing)
        else hypertext.inline(content)
    )


@dataclass(frozen=True)
class Profile:
    """How one format writes its items.

    ``facts`` are the metadata of an item; ``base`` stands before the place of a picture, ``suffix`` is what its file
    ends with. ``cautions``: whether items tell them, each where it comes first, as no instructions stand before them.
    ``most`` is what each item scores, None for its own marks; ``partial`` whether parts of it are given. ``counts``:
    whether an item says how often it may be answered.
    """

    facts: Callable[[QuestionNames, Item], Sequence[Fact]]
    base: str
    suffix: str
    most: int | None
    partial: bool
    cautions: bool = False
    counts: bool = False


def item_element(item: Item, question: QuestionNames, index: int, profile: Profile, title: str) -> Element:
    """The item at ``index`` of its question."""
    entry = only_entry(item)
    told = ToldAfter(question.sitting.feedback, bool(item.hints), bool(item.solution))
    limit = {"maxattempts": str(question.sitting.attempts)} if profile.counts and question.sitting.attempts else {}
    root = QTI1.root("item", ident=question.item(index), title=title, **limit)
    facts = profile.facts(question, item)
    if facts:
        QTI1.add(root, "itemmetadata").append(fields(facts))
    _add_presentation(root, item, question, index, profile)
    worth = Worth(item.marks if profile.most is None else profile.most, profile.partial)
    _add_processing(root, entry, worth, told)
    if told.feedback:
        caution = item.metadata.caution
        first = profile.cautions and caution in question.cautions
        _add_feedback(root, item, entry, told, caution if first else "", _source(question, profile))
    return root


def only_entry(item: Item) -> NumberEntry | ChoiceEntry:
    """The entry of an item that was adapted: one, a number or a choice."""
    (entry,) = item.entries
    if not isinstance(entry, NumberEntry | ChoiceEntry):
        raise TypeError("the item was not adapted to QTI 1.2.1")
    return entry


def _add_presentation(root: Element, item: Item, question: QuestionNames, index: int, profile: Profile) -> None:
    entry = only_entry(item)
    place = question.section.figure_of[index]
    page = [hypertext.paragraph(each) for each in item.stem if each]
    if place is not None:
        source = _href(question.figure(place), profile)
        page.append(f"<p>{hypertext.picture(source, question.section.figures[place].alternative)}</p>")
    presentation = QTI1.add(root, "presentation")
    add_html(presentation, "".join([*page, *map(hypertext.paragraph, asked(entry))]))
    add_answer(presentation, entry, _source(question, profile), shuffle=question.sitting.shuffle)


def _source(question: QuestionNames, profile: Profile) -> Source:
    """Where the file of a picture stands."""
    return lambda drawing: _href(question.picture_name(drawing), profile)


def _href(identifier: str, profile: Profile) -> str:
    return profile.base + figure_href(identifier, profile.suffix)


def _add_processing(root: Element, entry: NumberEntry | ChoiceEntry, worth: Worth, told: ToldAfter) -> None:
    if is_by_people(entry) and not told.beside_answer:
        return
    processing = QTI1.add(root, "resprocessing")
    limits = {"minvalue": "0", "maxvalue": str(worth.full), **({"defaultval": "0"} if worth.partial else {})}
    QTI1.add(QTI1.add(processing, "outcomes"), "decvar", varname="SCORE", vartype="Decimal", **limits)
    add_marking(processing, entry, worth, told)


def _add_feedback(
    root: Element, item: Item, entry: NumberEntry | ChoiceEntry, told: ToldAfter, caution: str, source: Source
) -> None:
    pointers = (f" {instructions.COMPARE}", f" {instructions.FIND}") if told.solution else ("", "")
    for identifier, words in _feedback(entry, *pointers):
        add_html(QTI1.add(root, "itemfeedback", ident=identifier), f"<p>{hypertext.text(words)}</p>")
    if told.hints:
        page = "".join(
            hypertext.paragraph(each).replace("<p>", f"<p>Hint {number}: ", 1)
            for number, each in enumerate(item.hints, 1)
        )
        feedback = QTI1.add(root, "itemfeedback", ident=HINT)
        add_html(QTI1.add(QTI1.add(feedback, "hint"), "hintmaterial"), page)
    if told.solution:
        page = hypertext.steps(item.solution, source) + (
            f"<p>Caution: {hypertext.text(caution)}</p>" if caution else ""
        )
        feedback = QTI1.add(root, "itemfeedback", ident=SOLUTION)
        add_html(QTI1.add(QTI1.add(feedback, "solution"), "solutionmaterial"), page)


def _feedback(entry: NumberEntry | ChoiceEntry, compare: str, differs: str) -> Iterator[tuple[str, str]]:
    """Each piece of feedback that some rule brings; ``compare`` and ``differs`` point at the worked solution."""
    if is_by_people(entry):
        return
    several = isinstance(entry, ChoiceEntry) and entry.several
    wrong_words = (instructions.NOT_ALL if several else instructions.NOT_RIGHT) + differs
    if isinstance(entry, ChoiceEntry):
        right = "" if entry.several else next((each.feedback for each in entry.options if each.right), "")
        yield RIGHT, right or ALL_RIGHT
        yield OTHER, wrong_words
        for place, option in enumerate(entry.options):
            if option.feedback and (entry.several or not option.right):
                yield option_feedback(place), option.feedback
        return
    yield RIGHT, ALL_RIGHT + compare
    yield OTHER, f"{wrong_words} {instructions.CHECK_FIGURES}" if entry.spellings else wrong_words
    for place, known in enumerate(entry.recognised):
        if known.spellings or not entry.spellings:
            yield wrong(place), known.feedback or wrong_words
