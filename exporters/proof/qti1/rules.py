"""The rules of an item of QTI 1.2.1, run one after the other on an answer, exactly.

A rule that holds sets its outcomes and brings its feedback; unless it says that the chain goes on, it ends it. Tests
that stand side by side must all hold; ``other`` holds wherever it is reached (both from memory: the grammar says where
they may stand, not what they mean, so our own files lean on neither).
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property
from itertools import groupby
from operator import ge, gt, le, lt
from typing import TypeAlias

from ...strangers.documents import Element
from ...strangers.parsing import shown
from ..processing.values import CannotMarkError, parse

Answers: TypeAlias = Mapping[str, tuple[str, ...]]
Test: TypeAlias = Callable[[Answers], bool]
SCORE = "SCORE"
MOST_WORK = 1_000_000  # rules that are tried, for one item
_COMPARE = {"vargt": gt, "vargte": ge, "varlt": lt, "varlte": le}
_ACTIONS: dict[str, Callable[[Decimal, Decimal], Decimal]] = {
    "Set": lambda old, new: new,
    "Add": lambda old, new: old + new,
    "Subtract": lambda old, new: old - new,
    "Multiply": lambda old, new: old * new,
    "Divide": lambda old, new: old / new,
}


@dataclass(frozen=True)
class RuleOutcome:
    """What an answer came to: the score, and the feedback that it brings, each with the kind it is shown as."""

    score: Decimal
    shown: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class _Rule:
    """A rule; ``asks`` are the response and the text that it asks for, folded, where that is all its test."""

    test: Test
    changes: tuple[tuple[str, str, Decimal], ...]
    feedback: tuple[tuple[str, str], ...]
    proceeds: bool
    asks: tuple[str, str] | None = None


def _refuse_strays(item: Element, rules: int) -> None:
    """Raises CannotMarkError for a question or a rule at a place where only some systems would find it."""
    placed = Counter({"presentation": 1, "resprocessing": 1, "respcondition": rules})
    found = Counter(each.name for each in item.walk() if each.name in placed)
    for name in found - placed:
        raise CannotMarkError(f"{name} stands where it has no place, and systems differ in whether they find it")


class Rules:
    """The rules of an item, ready to run; ``tried`` counts the runs."""

    def __init__(self, item: Element, kinds: Mapping[str, str]) -> None:
        self._kinds = kinds
        self._rules: list[_Rule] = []
        self._start: dict[str, Decimal] = {}
        self.most: Decimal | None = None
        self.texts: list[tuple[str, str]] = []
        self.numbers: list[Decimal] = []
        self.open_ends: list[str] = []
        self.mixed: list[str] = []
        self.tried = self._work = 0
        processings = [each for each in item.children if each.name == "resprocessing"]
        if len(processings) > 1:
            raise CannotMarkError("it has several resprocessing blocks, and systems differ in which they run")
        for processing in processings:
            self._read(processing)
        _refuse_strays(item, len(self._rules))

    def mark(self, answers: Answers) -> RuleOutcome:
        """The outcome of an answer. Raises CannotMarkError for what can't be marked exactly."""
        self.tried += 1
        values = dict(self._start)
        brought: dict[tuple[str, str], None] = {}
        for rule in self._met(answers):
            self._work += 1
            if self._work > MOST_WORK:
                raise CannotMarkError(f"its rules are too long to be run more than {self.tried - 1} times")
            if not rule.test(answers):
                continue
            for name, action, number in rule.changes:
                values[name] = _changed(values[name], action, number)
            brought.update(dict.fromkeys(rule.feedback))
            if not rule.proceeds:
                break
        return RuleOutcome(values[SCORE], tuple(brought))

    def _met(self, answers: Answers) -> Iterator[_Rule]:
        """The rules in their order, without those of a long run of texts that this answer is not."""
        given = {(ident, each.casefold()) for ident, texts in answers.items() for each in texts}
        for rules, by_text in self._runs:
            found = (place for each in given for place in by_text.get(each, ()))
            yield from (rules[place] for place in sorted(found)) if by_text else rules

    @cached_property
    def _runs(self) -> list[tuple[Sequence[_Rule], Mapping[tuple[str, str], Sequence[int]]]]:
        """The rules in runs of such as ask for one text alone, with their places by these texts, and of others."""
        runs: list[tuple[Sequence[_Rule], Mapping[tuple[str, str], Sequence[int]]]] = []
        for _, group in groupby(self._rules, key=lambda rule: rule.asks is None):
            rules, by_text = tuple(group), defaultdict[tuple[str, str], list[int]](list)
            for place, rule in enumerate(rules):
                if rule.asks:
                    by_text[rule.asks].append(place)
            runs.append((rules, by_text))
        return runs

    def __len__(self) -> int:
        return len(self._rules)

    # --- reading ---

    def _read(self, processing: Element) -> None:
        for each in processing.children:
            if each.name == "outcomes":
                self._declare(each)
            elif each.name == "respcondition":
                self._rules.append(self._rule(each))
            elif each.name != "qticomment":
                raise CannotMarkError(f"line {each.line}: {shown(each.name)} is not understood")
        if SCORE not in self._start:
            raise CannotMarkError(f"no outcome called {SCORE} is declared")

    def _declare(self, outcomes: Element) -> None:
        for each in outcomes.children:
            if each.name != "decvar":
                raise CannotMarkError(f"line {each.line}: {shown(each.name)} is not understood")
            name = each.get("varname") or SCORE
            self._start[name] = self._number(each.get("defaultval") or "0", each)
            if name == SCORE and each.get("maxvalue"):
                self.most = self._number(each.get("maxvalue"), each)

    def _rule(self, element: Element) -> _Rule:
        conditions = [each for each in element.children if each.name == "conditionvar"]
        if len(conditions) != 1 or not conditions[0].children:
            raise CannotMarkError(f"line {element.line}: a rule has no test, one expected")
        if len(conditions[0].children) > 1:
            self.open_ends.append(f"line {element.line}: several tests stand side by side in one rule")
        if conditions[0].child("other") and any(each.proceeds for each in self._rules):
            self.open_ends.append(f"line {element.line}: 'other' stands behind a rule that does not end the chain")
        changes = tuple(self._change(each) for each in element.children if each.name == "setvar")
        feedback = tuple(
            (each.get("feedbacktype") or "Response", each.get("linkrefid"))
            for each in element.children
            if each.name == "displayfeedback"
        )
        test = self._all(conditions[0].children)
        return _Rule(test, changes, feedback, _yes(element, "continue"), self._text_of(conditions[0]))

    def _text_of(self, condition: Element) -> tuple[str, str] | None:
        """The response and the text that a condition asks for, where it does nothing else."""
        (first, *more) = condition.children
        ident = first.get("respident")
        if more or first.name != "varequal" or self._kinds.get(ident) != "response_str":
            return None
        return ident, first.text.casefold()

    def _change(self, element: Element) -> tuple[str, str, Decimal]:
        name, action = element.get("varname") or SCORE, element.get("action") or "Set"
        if action not in _ACTIONS or name not in self._start:
            raise CannotMarkError(f"line {element.line}: {shown(action)} of {shown(name)} is not understood")
        return name, action, self._number(element.text, element)

    def _number(self, text: str, element: Element) -> Decimal:
        found = parse(text.strip(), "float", Decimal)
        if not isinstance(found, Decimal):
            raise CannotMarkError(f"line {element.line}: '{shown(text)}' is no number")
        return found

    # --- tests ---

    def _all(self, elements: Sequence[Element]) -> Test:
        tests = [self._test(each) for each in elements]
        return tests[0] if len(tests) == 1 else lambda answers: all(test(answers) for test in tests)

    def _test(self, element: Element) -> Test:
        name = element.name
        if name == "and":
            return self._all(element.children)
        if name == "or":
            tests = [self._test(each) for each in element.children]
            return lambda answers: any(test(answers) for test in tests)
        if name == "not":
            inner = self._all(element.children)
            return lambda answers: not inner(answers)
        if name == "other":
            return lambda answers: True
        return self._of_response(element)

    def _of_response(self, element: Element) -> Test:
        name, ident = element.name, element.get("respident")
        if ident not in self._kinds:
            raise CannotMarkError(f"line {element.line}: {name} asks for the response '{shown(ident)}', which is none")
        if name == "unanswered":
            return lambda answers: not any(answers.get(ident, ()))
        if element.get("index"):
            raise CannotMarkError(f"line {element.line}: {name} asks for one answer of several by its place")
        if name in _COMPARE:
            return self._comparison(element, ident)
        if name not in ("varequal", "varsubstring"):
            raise CannotMarkError(f"line {element.line}: the test {shown(name)} is not understood")
        return self._equality(element, ident)

    def _comparison(self, element: Element, ident: str) -> Test:
        bound, holds = self._number(element.text, element), _COMPARE[element.name]
        if self._kinds[ident] != "response_num":
            called = f"line {element.line}: {element.name} compares the response '{shown(ident)}' with a number"
            self.mixed.append(f"{called}, and that is a {self._kinds[ident]}")
        self.numbers.append(bound)
        return lambda answers: any(holds(each, bound) for each in _numbers(answers.get(ident, ())))

    def _equality(self, element: Element, ident: str) -> Test:
        wanted, kind = element.text, self._kinds[ident]
        self.texts.append((ident, wanted))
        if element.name == "varsubstring":
            return lambda answers: any(
                _fold(wanted, element) in _fold(each, element) for each in answers.get(ident, ())
            )
        if kind == "response_num":
            number = self._number(wanted, element)
            self.numbers.append(number)
            return lambda answers: number in _numbers(answers.get(ident, ()))
        if kind == "response_lid":
            return lambda answers: wanted.strip() in answers.get(ident, ())
        folded = _fold(wanted, element)
        if _yes(element, "case"):
            return lambda answers: folded in answers.get(ident, ())
        return lambda answers: folded in tuple(map(str.casefold, answers.get(ident, ())))


def _changed(old: Decimal, action: str, number: Decimal) -> Decimal:
    try:
        return _ACTIONS[action](old, number)
    except ArithmeticError:
        raise CannotMarkError(f"{action} by {number} has no result") from None


def _fold(text: str, element: Element) -> str:
    return text if _yes(element, "case") else text.casefold()


def _yes(element: Element, attribute: str) -> bool:
    return element.get(attribute).lower() == "yes"


def _numbers(answers: Sequence[str]) -> Iterator[Decimal]:
    for each in answers:
        found = parse(each.strip(), "float", Decimal)
        if isinstance(found, Decimal):
            yield found
