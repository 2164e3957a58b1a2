"""A template item: its values are drawn, and then it is an item like any other.

``draw`` runs the template processing; ``deliver`` makes the item as a candidate meets it, with the values printed and
the right answer in place, so that all that is proved of an item can be proved of each draw.
"""

from __future__ import annotations

import decimal
import re
from collections.abc import Iterator
from decimal import Decimal
from typing import TypeAlias

from ...strangers.documents import MATHML, Element
from ...strangers.parsing import shown
from ..processing.dice import Dice
from ..processing.expressions import Context
from ..processing.response import EXACT, compile_rule
from ..processing.template_rules import RULES, Draft, TemplateExit, TemplateRestart
from ..processing.values import Arithmetic, CannotMarkError, Declaration, Texts, Value
from .item_file import TEMPLATE_PROCESSING, ItemFile, item_of

PRINTED = "qti-printed-variable"
TEMPLATE_VARIABLE = "template-identifier"
LONGEST, LONGEST_TABLE = 5000, 50_000
MOST_RESTARTS = 100  # engines give up after about as many (from memory)
Signature: TypeAlias = tuple[tuple[str, Value], ...]

_FORMAT = re.compile(r"%[-+ 0#]{0,5}[0-9]{0,2}(?:\.[0-9]{1,2})?[idfeEgGs]")


class Template:
    """The template processing of one item, compiled once, in one arithmetic."""

    def __init__(self, item: ItemFile, number: Arithmetic) -> None:
        self.item = item
        self._dice: Dice | None = None
        context = Context(item.declarations, number, self._thrown)
        rules = _rules_of(item)
        with decimal.localcontext(EXACT):
            self._rules = [compile_rule(each, context, RULES) for each in rules]
            self._start = {each.identifier: each.initial(number) for each in item.declarations.values()}

    def _thrown(self) -> Dice:
        assert self._dice is not None
        return self._dice

    def attempt(self, dice: Dice) -> Draft | None:
        """The variables after template processing, with these dice; None where a constraint is not met."""
        self._dice, draft = dice, Draft(self._start)
        with decimal.localcontext(EXACT):
            try:
                for rule in self._rules:
                    rule(draft)
            except TemplateRestart:
                return None
            except TemplateExit:
                pass
        return draft

    def draw(self, dice: Dice) -> Draft:
        """The variables once all constraints are met. Raises CannotMarkError for what can't be marked exactly."""
        for _ in range(MOST_RESTARTS):
            draft = self.attempt(dice)
            if draft is not None:
                return draft
        raise CannotMarkError(f"its template constraints are not met in {MOST_RESTARTS} draws")


def _rules_of(item: ItemFile) -> tuple[Element, ...]:
    processing = item.root.child(TEMPLATE_PROCESSING)
    assert processing is not None
    size = processing.size()
    table = sum(1 for each in processing.walk() if each.name == "qti-base-value") if size <= LONGEST_TABLE else 0
    if size - table > LONGEST:
        raise CannotMarkError(f"template processing has more than {LONGEST} elements, its table of values apart")
    return processing.children


def signature(draft: Draft) -> Signature:
    """What tells one draw from another: the right answers, and all values."""
    return tuple(sorted({**draft, **{f"{name} (right)": value for name, value in draft.correct.items()}}.items()))


class DrawnTemplate:
    """The item with its values put in; what is to be replaced in its tree is found once."""

    def __init__(self, item: ItemFile) -> None:
        self._item = item
        letters = {each.get("identifier") for each in item.all("qti-template-declaration") if _is_letter(each)}
        self._spots = item.root.spots(lambda each: _is_spot(each, letters))

    def deliver(self, draft: Draft) -> ItemFile:
        """The item as a candidate meets it after this draw."""
        item = self._item
        texts = {place: text for place, each in self._spots.items() if (text := self._text(each, draft)) is not None}
        declarations = {name: _decided(each, draft) for name, each in item.declarations.items()}
        return item_of(item.name, item.data, item.root.rewritten(texts), item.dialect, declarations)

    def _text(self, element: Element, draft: Draft) -> str | None:
        """What stands in the place of an element: nothing where it is hidden, None where it stays."""
        if element.name == TEMPLATE_PROCESSING:
            return ""
        if element.name == PRINTED:
            return printed(element, draft)
        if element.name.startswith(MATHML):
            return written(draft.get(element.text.strip()))
        return None if _is_shown(element, draft) else ""


def _is_letter(declaration: Element) -> bool:
    """Whether formulas show the value of a variable where its name stands."""
    return declaration.get("math-variable") in ("true", "1")


def _is_spot(element: Element, letters: set[str]) -> bool:
    if element.name in (TEMPLATE_PROCESSING, PRINTED):
        return True
    if letters and element.name == f"{MATHML}mi":
        return element.text.strip() in letters
    return not element.name.startswith("{") and TEMPLATE_VARIABLE in element.attributes


def _is_shown(element: Element, draft: Draft) -> bool:
    value, identifier = draft.get(element.get(TEMPLATE_VARIABLE)), element.get("identifier")
    named = identifier in value if isinstance(value, tuple) else identifier == value
    return named != (element.get("show-hide") == "hide")


def printed(element: Element, draft: Draft) -> str:
    """What a printed variable shows: its value as it is, or in its format."""
    name, form = element.get("identifier"), element.get("format")
    value = draft.get(name)
    if isinstance(value, tuple):
        place = element.get("index")
        if not place:
            return (element.get("delimiter") or ";").join(_formatted(form, each) for each in value)
        at = draft.get(place) if not place.isdigit() else int(place)
        value = value[at - 1] if isinstance(at, int) and 1 <= at <= len(value) else None
    return _formatted(form, value)


def _formatted(form: str, value: Value) -> str:
    if not form or value is None:
        return written(value)
    if not _FORMAT.fullmatch(form):
        raise CannotMarkError(f"the format '{shown(form)}' of {PRINTED} is not read yet")
    try:
        return form.replace("%i", "%d") % (value if isinstance(value, str) else float(value))
    except TypeError:
        raise CannotMarkError(f"the format '{shown(form)}' of {PRINTED} does not fit its value") from None


def written(value: Value) -> str:
    """A single value as a text that is read back as the same value; nothing for NULL."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    return repr(value) if isinstance(value, float) else str(value)


def _decided(declaration: Declaration, draft: Draft) -> Declaration:
    """The declaration of a variable after a draw."""
    name = declaration.identifier
    if declaration.kind == "template":
        return declaration._replace(default=_texts(draft[name]))
    default = _texts(draft.default[name]) if name in draft.default else declaration.default
    correct = _texts(draft.correct[name]) if name in draft.correct else declaration.correct
    return declaration._replace(default=default, correct=correct)


def _texts(value: Value) -> Texts:
    if value is None:
        return ()
    return tuple(map(written, value)) if isinstance(value, tuple) else (written(value),)


def disagreements(exact: Draft, binary: Draft) -> Iterator[str]:
    """Right answers that come out otherwise in doubles, as delivery systems work, than in exact decimals."""
    for name, value in binary.correct.items():
        other = exact.correct.get(name)
        if not isinstance(value, float) or not isinstance(other, Decimal):
            if type(value) is type(other) and value != other:
                yield f"the right answer to '{shown(name)}' depends on the arithmetic"
        elif abs(Decimal(repr(value)) - other) > abs(other) * Decimal("1e-9"):
            yield f"the right answer to '{shown(name)}' is {value!r} in doubles and {other} in decimals"
