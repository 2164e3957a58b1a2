"""The rules of template processing: values are drawn, and with them what is right, before anybody answers."""

from __future__ import annotations

from types import MappingProxyType

from ...strangers.documents import Element
from .expressions import Context, Scope
from .response import Rule, Table, assigned, condition, truth
from .values import CannotMarkError, Value


class Draft(Scope):
    """All variables while a template is processed, with the right answers and the defaults that it decides on."""

    def __init__(self, start: Scope) -> None:
        super().__init__(start)
        self.correct: dict[str, Value] = {}
        self.default: dict[str, Value] = {}


class TemplateExit(Exception):  # noqa: N818  (no error: the rules are done)
    """The rest of the rules is left out."""


class TemplateRestart(Exception):  # noqa: N818  (no error: the values are drawn again)
    """A constraint is not met."""


def _draft(scope: Scope) -> Draft:
    assert isinstance(scope, Draft)
    return scope


def _set_template_value(element: Element, context: Context, table: Table, depth: int) -> Rule:
    variable, value_of = assigned(element, context, ("template",))

    def run(scope: Scope) -> None:
        scope[variable.identifier] = value_of(scope)

    return run


def _set_correct_response(element: Element, context: Context, table: Table, depth: int) -> Rule:
    response, value_of = assigned(element, context, ("response",))

    def run(scope: Scope) -> None:
        _draft(scope).correct[response.identifier] = value_of(scope)

    return run


def _set_default_value(element: Element, context: Context, table: Table, depth: int) -> Rule:
    variable, value_of = assigned(element, context, ("response", "outcome"))

    def run(scope: Scope) -> None:
        _draft(scope).default[variable.identifier] = value_of(scope)

    return run


def _template_constraint(element: Element, context: Context, table: Table, depth: int) -> Rule:
    """Draws again unless its one condition is true; NULL is not (from memory)."""
    if depth or len(element.children) != 1:
        raise CannotMarkError(f"{element.name} needs one condition, and a place outside all others")
    met = truth(element, element.children[0], context)

    def run(scope: Scope) -> None:
        if met(scope) is not True:
            raise TemplateRestart

    return run


def _exit_template(element: Element, context: Context, table: Table, depth: int) -> Rule:
    def run(scope: Scope) -> None:
        raise TemplateExit

    return run


RULES: Table = MappingProxyType(
    {
        "qti-set-template-value": _set_template_value,
        "qti-set-correct-response": _set_correct_response,
        "qti-set-default-value": _set_default_value,
        "qti-template-condition": condition("template"),
        "qti-template-constraint": _template_constraint,
        "qti-exit-template": _exit_template,
    }
)
