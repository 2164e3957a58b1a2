"""Whether all that an item refers to is there: variables, choices, files, text alternatives, ids, feedback."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Container, Iterable, Iterator, Mapping
from types import MappingProxyType

from ...strangers.archive import Members
from ...strangers.documents import Element
from ...strangers.parsing import HouseRule, placed, shown
from ..processing.values import BUILT_IN, KINDS, check_declarations
from .item_file import FEEDBACK, ItemFile, check_grammar

Check = Callable[[ItemFile], Iterator[str]]

_ANY = ("response", "outcome", "template")

# Elements that name a variable: the attribute, and the kinds of variable that are meant.
VARIABLES: Mapping[str, tuple[str, tuple[str, ...]]] = MappingProxyType(
    {
        "qti-variable": ("identifier", _ANY),
        "qti-default": ("identifier", _ANY),
        "qti-correct": ("identifier", ("response",)),
        "qti-map-response": ("identifier", ("response",)),
        "qti-map-response-point": ("identifier", ("response",)),
        "qti-set-outcome-value": ("identifier", ("outcome",)),
        "qti-lookup-outcome-value": ("identifier", ("outcome",)),
        "qti-set-template-value": ("identifier", ("template",)),
        "qti-set-correct-response": ("identifier", ("response",)),
        "qti-set-default-value": ("identifier", ("response", "outcome")),
        "qti-printed-variable": ("identifier", ("outcome", "template")),
        "qti-template-inline": ("template-identifier", ("template",)),
        "qti-template-block": ("template-identifier", ("template",)),
        **dict.fromkeys(FEEDBACK, ("outcome-identifier", ("outcome",))),
    }
)


def check_references(item: ItemFile, archive: Members, provided: Container[str]) -> Iterator[str]:
    """What is wrong with the references of an item; ``provided`` are the members that its resource brings along."""
    yield from check_declarations(item.declarations)
    for check in CHECKS:
        yield from check(item)
    yield from _check_links(item, archive, provided)


def check_references_again(item: ItemFile, archive: Members, provided: Container[str]) -> Iterator[str]:
    """What is wrong with the references of an item that differs in numbers only from one without a fault.

    No number of these is in a name, so that the same names refer to the same things; but each item has its resource,
    and its own right answer.
    """
    answers = {name: each for name, each in item.declarations.items() if each.correct}
    yield from check_declarations(answers)
    yield from _check_links(item, archive, provided)


def _at(element: Element, wrong: str) -> str:
    return placed(f"line {element.line}", wrong)


def _check_ids(item: ItemFile) -> Iterator[str]:
    seen: set[str] = set()
    ids = [(each.get("id"), each) for each in item.holders("id")]
    responses = [(each.get("identifier"), each) for each in item.all("qti-response-declaration")]  # XML ids, too
    for identifier, element in (*ids, *responses):
        if identifier in seen:
            yield _at(element, f"the id '{shown(identifier)}' is given twice")
        seen.add(identifier)


def _check_variable_names(item: ItemFile) -> Iterator[str]:
    seen = {each.identifier for each in BUILT_IN}
    for element in item.all(*KINDS):
        identifier = element.get("identifier")
        if not identifier:
            yield _at(element, f"{element.name} has no identifier")
        elif identifier in seen and element.name != "qti-response-declaration":
            yield _at(element, f"the variable '{shown(identifier)}' is declared twice")
        seen.add(identifier)


def _check_variables(item: ItemFile) -> Iterator[str]:
    for name, (attribute, kinds) in VARIABLES.items():
        for element in item.all(name):
            yield from _check_variable(item, element, attribute, kinds)
    for element in item.interactions():
        yield from _check_variable(item, element, "response-identifier", ("response",))


def _check_variable(item: ItemFile, element: Element, attribute: str, kinds: tuple[str, ...]) -> Iterator[str]:
    identifier = element.get(attribute)
    declaration = item.declarations.get(identifier)
    if declaration is None or declaration.kind not in kinds:
        wanted = kinds[0] if len(kinds) == 1 else "variable"
        yield _at(element, f"{element.name} names '{shown(identifier)}', which is no declared {wanted}")


def _check_responses(item: ItemFile) -> Iterator[str]:
    answered = Counter(each.get("response-identifier") for each in item.interactions())
    for element in item.all("qti-response-declaration"):
        count = answered[element.get("identifier")]
        if count != 1:
            sort = str if count else HouseRule
            wrong = f"response '{shown(element.get('identifier'))}' has {count} interactions, 1 expected"
            yield _at(element, sort(wrong))


def _check_choices(item: ItemFile) -> Iterator[str]:
    for interaction in item.interactions():
        seen: set[str] = set()
        for choice in _choices(interaction):
            if choice in seen:
                yield _at(interaction, f"the choice '{shown(choice)}' is given twice")
            seen.add(choice)


def _choices(interaction: Element) -> Iterable[str]:
    ours = (each for each in interaction.walk() if each is not interaction and each.name not in FEEDBACK)
    return (each.get("identifier") for each in ours if "identifier" in each.attributes)


def _check_feedback(item: ItemFile) -> Iterator[str]:
    reachable = _reachable(item)
    for element in item.all(*FEEDBACK):
        identifier, outcome = element.get("identifier"), element.get("outcome-identifier")
        values = reachable.get(outcome, set())
        if element.get("show-hide") != "hide" and values is not None and identifier not in values:
            wrong = f"feedback '{shown(identifier)}' is never shown: '{shown(outcome)}' never becomes it"
            yield _at(element, HouseRule(wrong))


def _reachable(item: ItemFile) -> dict[str, set[str] | None]:
    """The values that processing can give to each outcome; None where they cannot be told."""
    outcomes = (each for each in item.declarations.values() if each.kind == "outcome")
    reachable: dict[str, set[str] | None] = {each.identifier: set(each.default) for each in outcomes}
    choices: defaultdict[str, set[str]] = defaultdict(set)
    for interaction in item.interactions():
        choices[interaction.get("response-identifier")].update(_choices(interaction))
    if any(each.get("template") and not each.children for each in item.all("qti-response-processing")):
        return dict.fromkeys(reachable)  # what rules written elsewhere do is not looked at
    for name in ("completionStatus", *(each.get("identifier") for each in item.all("qti-lookup-outcome-value"))):
        reachable[name] = None
    for rule in item.all("qti-set-outcome-value"):
        outcome = rule.get("identifier")
        known, found = reachable.setdefault(outcome, set()), _values_in(rule, outcome, choices)
        if known is None or found is None:
            reachable[outcome] = None
        else:
            known.update(found)
    return reachable


def _values_in(rule: Element, outcome: str, choices: Mapping[str, set[str]]) -> set[str] | None:
    """The values that a rule may add to an outcome, by what each response may hold; None where they cannot be told."""
    found: set[str] = set()
    for each in rule.walk():
        identifier = each.get("identifier")
        if each.name == "qti-base-value":
            found.add(each.text.strip())
        elif each.name == "qti-variable" and identifier in choices:
            found.update(choices[identifier])
        elif each.name == "qti-variable" and identifier == outcome:
            continue
        elif each.name not in ("qti-multiple", "qti-ordered", "qti-null") and each is not rule:
            return None
    return found


def _check_descriptions(item: ItemFile) -> Iterator[str]:
    catalogs = {each.get("id") for each in item.all("qti-catalog")}
    for element in item.holders("data-catalog-idref"):
        card = element.get("data-catalog-idref")
        if card not in catalogs:
            yield _at(element, f"{shown(element.name)} names the catalog '{shown(card)}', which is not there")
    for attribute in ("aria-describedby", "aria-labelledby"):
        yield from _check_labels(item, attribute)


def _check_labels(item: ItemFile, attribute: str) -> Iterator[str]:
    labelled = item.holders(attribute)
    ids = {each.get("id") for each in item.holders("id")} if labelled else set()
    for element in labelled:
        for identifier in element.get(attribute).split():
            if identifier not in ids:
                yield _at(element, f"{attribute} names '{shown(identifier)}', which is not there")


def _check_format(item: ItemFile) -> Iterator[str]:
    """What the format of the pack does not have, though another has."""
    for element in item.all(*item.dialect.absent):
        yield _at(element, f"{element.name} is nothing that {item.dialect.name} has")
    for attribute in item.dialect.absent_attributes:
        for element in item.holders(attribute):
            yield _at(element, f"{attribute} of {shown(element.name)} is nothing that {item.dialect.name} has")


CHECKS: tuple[Check, ...] = (
    check_grammar,
    _check_format,
    _check_ids,
    _check_variable_names,
    _check_variables,
    _check_responses,
    _check_choices,
    _check_feedback,
    _check_descriptions,
)


def _check_links(item: ItemFile, archive: Members, provided: Container[str]) -> Iterator[str]:
    for link in item.links():
        called = f"{link.element.name} shows '{shown(link.href)}'" if link.is_image else f"'{shown(link.href)}'"
        if link.name is None:
            yield _at(link.element, f"{called}, which is no place in the pack")
        elif link.name not in archive:
            yield _at(link.element, f"{called}, which is not in the archive")
        elif link.name not in provided:
            wrong = f"{called}, which the item's resource neither lists nor depends on"
            yield _at(link.element, HouseRule(wrong))
    for image in item.all("img"):
        if not image.get("alt").strip():
            yield _at(image, HouseRule(f"img '{shown(image.get('src'))}' has no text alternative"))
