"""A document against its JSON Schema: every departure as a fault in plain words."""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence, Sized
from decimal import Decimal
from functools import cache
from itertools import islice
from typing import Any, cast

from jsonschema import Draft202012Validator, validators
from jsonschema.exceptions import ValidationError

from ... import schemas
from ..language import count, either, listed
from ..quantities.quantity import typed_number
from .document import Document, Path_

# the forms of text that the schemas ask for, in words
FORMS = {
    "^own-[a-z0-9]+(-[a-z0-9]+)*$": "own- and small letters, digits and single hyphens, as in own-windmills",
    "^[a-z][a-z0-9]*(-[a-z0-9]+)*$": "small letters, digits and single hyphens, as in over-the-top",
    "^[A-Za-z][A-Za-z0-9]{0,11}(_[A-Za-z0-9]{1,12})?$": "letters and digits with at most one subscript, as in v_top",
    r"^[a-z][a-z0-9-]*(\.[a-z0-9-]+)*$": "a topic and a skill in small letters, as in vertical-circle.least-speed",
    "^[a-z][a-z0-9-]*$": "the name of a diagram",
    "^[A-Za-z0-9][A-Za-z0-9 ._:/()-]*$": "the code of a standard, as in PHY.3.2",
    r"^(https?://[^\s]+/)?[0-9A-Fa-f]{8}(-[0-9A-Fa-f]{4}){3}-[0-9A-Fa-f]{12}$": "a UUID, or a URL that ends in one",
    r"^[a-z][a-z0-9]*(-[a-z0-9]+)*\.[a-z][a-z0-9]*(-[a-z0-9]+)*$": "problem.question, as in over-the-top.least-speed",
    "^[a-z][a-z0-9.-]*(/[a-z0-9-]+)?$": "the id of a question, as in over-the-top.least-speed/choice",
    r"^[0-9]{1,4}(\.[0-9]{1,6})?$": "digits with at most one point, as in 9.81",
    r"^-?[0-9]+(\.[0-9]+)?$": "a number in digits, as in 2.97",
    "^[A-Z][0-9]{0,2}$": "the letter of an option, as in B",
    "^[0-9a-f]{64}$": "64 hexadecimal digits",
    "^pool-[0-9a-f]{12}$": "the name of a pool, as in pool-0123456789ab",
    r"^pool-[0-9]{3,6}\.[a-z]{1,10}$": "the name of a pack, as in pool-001.zip",
    "^((a|an|the|some) |[A-Z])[^{}]+$": "a noun with its article, as in 'a paper lantern', or a name, as in 'Mars'",
    "^((the|a|an|its) |[A-Z])[^{}]+$": "what exerts the force, with its article, as in 'the cord', or a name",
}
_TYPE_WORDS = {
    "object": "a mapping",
    "array": "a list",
    "string": "text",
    "integer": "a whole number",
    "number": "a number",
    "boolean": "true or false",
}


MOST_ERRORS = 500  # told of one document; more come from no honest one


def _pattern(_: Any, pattern: str, instance: Any, __: Any) -> Iterator[ValidationError]:
    """As the standard has it, but that ``$`` is the end, and not before a last line feed, as Python has it."""
    if isinstance(instance, str) and (not re.search(pattern, instance) or instance.endswith("\n")):
        yield ValidationError(f"{instance!r} does not match {pattern!r}")


_Validator = validators.extend(Draft202012Validator, {"pattern": _pattern})  # type: ignore[no-untyped-call]


@cache
def validator(kind: str) -> Any:
    """What holds plain data against the schema of their kind."""
    return _Validator(schemas.load(kind), registry=schemas.registry())


def check_shape(document: Document, kind: str) -> bool:
    """Whether the document fits the schema of its kind; each departure is noted in the document."""
    errors = sorted(islice(validator(kind).iter_errors(document.data), MOST_ERRORS), key=_order)
    for error in errors:
        _note(document, error)
    return not errors


def fit(document: Document, kind: str) -> None:
    """Note each departure from the schema, and drop it, so that what is left of the data has its shape.

    A required field may still be missing then. Data that is no mapping at all becomes an empty one.
    """
    if check_shape(document, kind):
        return
    while True:
        strange = {path for error in validator(kind).iter_errors(document.data) for path in _strange(error)}
        if () in strange:
            document.data = {}
            return
        if not strange:
            return
        for path in sorted(strange, key=_depth_first):
            document.drop(path)


def _order(error: ValidationError) -> tuple[list[str], str]:
    return list(map(str, error.absolute_path)), error.message


def _depth_first(path: Path_) -> tuple[int, list[tuple[int, str]]]:
    """Deeper paths first, and of a list its last items first, so that dropping one leaves the other paths true."""
    return -len(path), [(-part if isinstance(part, int) else 0, str(part)) for part in path]


def _strange(error: ValidationError) -> Iterator[Path_]:
    """The paths to drop on account of an error."""
    path = tuple(error.absolute_path)
    if error.validator == "additionalProperties":
        yield from ((*path, name) for name in _extra(error))
    elif "propertyNames" in error.absolute_schema_path:
        yield (*path, str(error.instance))
    elif error.validator != "required":
        yield path


# --- faults -----------------------------------------------------------------------------------


def _note(document: Document, error: ValidationError) -> None:
    path = tuple(error.absolute_path)
    if error.validator in ("oneOf", "anyOf"):
        _note_choice(document, error, path)
    elif error.validator == "additionalProperties":
        for name in _extra(error)[:MOST_ERRORS]:
            wrong = "this field is unknown"
            document.fault((*path, name), wrong, _near(name, _schema(error)["properties"]), key=True)
    elif error.validator == "required":
        _note_missing(document, error, path)
    elif "propertyNames" in error.absolute_schema_path:
        document.fault((*path, str(error.instance)), "this name can't be used here", _expected(error), key=True)
    else:
        document.fault(path, f"found {_shown(error)}", _expected(error))


def _note_missing(document: Document, error: ValidationError, path: Path_) -> None:
    """The field that is missing; where it is there but misspelt, the unknown field is told instead."""
    names = cast("list[str]", error.validator_value)
    name = next(name for name in names if error.message.startswith(repr(name)))
    document.mark((*path, name))
    if not any(_closest(each, _schema(error)["properties"]) == name for each in _extra(error)[:MOST_ERRORS]):
        document.fault(path, f"the field '{name}' is missing", f"add '{name}'{_meaning(_schema(error), name)}")


def _note_choice(document: Document, error: ValidationError, path: Path_) -> None:
    """The faults of the one shape that was meant, where the kind of the value tells which; else what may stand here."""
    branches: dict[Any, list[ValidationError]] = {}
    for each in error.context or ():
        branches.setdefault(each.schema_path[0], []).append(each)
    meant = [errors for errors in branches.values() if not any(_is_other_kind(each, error) for each in errors)]
    if len(meant) == 1:
        for each in meant[0]:
            _note(document, each)
    else:
        document.fault(path, f"found {_shown(error)}", _choices(error))


def _is_other_kind(inner: ValidationError, outer: ValidationError) -> bool:
    return inner.instance is outer.instance and inner.validator in ("type", "enum", "const")


def _extra(error: ValidationError) -> list[str]:
    instance = cast("Mapping[str, Any]", error.instance)
    return sorted(set(instance) - set(_schema(error).get("properties", {})))


def _schema(error: ValidationError) -> Mapping[str, Any]:
    return error.schema if isinstance(error.schema, Mapping) else {}


# --- words ------------------------------------------------------------------------------------


def _expected(error: ValidationError) -> str:
    value: Any = error.validator_value
    words: dict[str, Callable[[], str]] = {
        "type": lambda: _kind_expected(error),
        "enum": lambda: _near_value(error.instance, value),
        "pattern": lambda: f"expected {FORMS.get(value, f'text of the form {value}')}",
        "minItems": lambda: f"expected at least {count(value, 'item')}",
        "maxItems": lambda: f"expected at most {count(value, 'item')}",
        "minProperties": lambda: f"expected at least {count(value, 'entry', 'entries')}",
        "maxProperties": lambda: f"expected at most {count(value, 'entry', 'entries')}",
        "maxLength": lambda: f"expected at most {count(value, 'character')}",
        "minLength": lambda: "expected some text",
        "minimum": lambda: f"expected {value} or more",
        "maximum": lambda: f"expected {value} or less",
        "exclusiveMinimum": lambda: f"expected more than {value}",
        "uniqueItems": lambda: "expected every item once",
        "dependentRequired": lambda: "; ".join(
            f"expected {listed(more)} beside {name}"
            for name, more in value.items()
            if name in cast("Mapping[str, Any]", error.instance)
        ),
    }
    return words.get(str(error.validator), lambda: "see the schema")()


def _kind_expected(error: ValidationError) -> str:
    kinds = _as_list(error.validator_value)
    words = "expected " + " or ".join(_TYPE_WORDS[kind] for kind in kinds)
    if "string" in kinds and isinstance(error.instance, bool | int | Decimal):
        return f"{words}; put quotation marks round it"
    typed = typed_number(error.instance) if isinstance(error.instance, str) and "number" in kinds else None
    return f"{words}; write {str(typed[0]).lower()}" if typed and not typed[1].strip() else words


def _choices(error: ValidationError) -> str:
    """What may stand where a schema leaves a choice: ``expected a list or a mapping with from, to and step``."""
    schemas_ = cast("list[Mapping[str, Any]]", error.validator_value)
    return f"expected {either(word for each in schemas_ for word in _kind_words(each))}"


def _kind_words(schema: Mapping[str, Any]) -> list[str]:
    if "enum" in schema:
        return [f"'{value}'" for value in schema["enum"]]
    named = f" with {listed(schema['required'])}" if "required" in schema else ""
    return [_TYPE_WORDS[kind] + named for kind in _as_list(schema.get("type", "object"))]


def _near_value(value: Any, known: Sequence[Any]) -> str:
    close = _closest(str(value), map(str, known))
    return f"did you mean '{close}'?" if close else f"expected {either(map(str, known))}"


def _meaning(schema: Mapping[str, Any], name: str) -> str:
    description = schema.get("properties", {}).get(name, {}).get("description")
    return f" ({description[:1].lower()}{description[1:].rstrip('.')})" if description else ""


def _as_list(value: Any) -> list[str]:
    return value if isinstance(value, list) else [value]


def _near(name: str, known: Mapping[str, Any]) -> str:
    close = _closest(name, known)
    return f"did you mean '{close}'?" if close else f"known here: {', '.join(known)}"


def _closest(name: str, known: Iterable[str]) -> str:
    return next(iter(difflib.get_close_matches(name[:40], known, n=1)), "")


def _shown(error: ValidationError) -> str:
    value: Any = error.instance
    if isinstance(value, dict | list):
        return _shown_collection(error, value)
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return str(value).lower()
    text = str(value)
    if error.validator == "maxLength":
        return count(len(text), "character")
    short = f"'{text}'" if len(text) <= 40 else f"'{text[:40]}...'"
    return f"the text {short}" if error.validator == "type" and isinstance(value, str) else short


def _shown_collection(error: ValidationError, value: Sized) -> str:
    kind = "a mapping" if isinstance(value, dict) else "a list"
    if not value:
        return kind.replace("a ", "an empty ")
    if isinstance(value, dict):
        return f"{kind} of {count(len(value), 'entry', 'entries')}" if error.validator != "type" else kind
    if error.validator == "uniqueItems":
        items = cast("list[Any]", value)
        twice = next((each for at, each in enumerate(items) if each in items[:at]), "an item")
        return f"'{str(twice)[:40]}' twice"
    return f"{kind} of {count(len(value), 'item')}"
