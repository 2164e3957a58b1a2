"""A document against its JSON Schema: every departure as a fault in plain words."""

from __future__ import annotations

import difflib
from functools import cache
from typing import Any

from jsonschema import Draft202012Validator
from jsonschema.exceptions import ValidationError, best_match
from turnwright import schemas
from turnwright.bank.document import Document

_TYPE_WORDS = {
    "object": "a mapping",
    "array": "a list",
    "string": "text",
    "integer": "a whole number",
    "number": "a number",
}


@cache
def _validator(kind: str) -> Draft202012Validator:
    return Draft202012Validator(schemas.load(kind))


def check_shape(document: Document, kind: str) -> bool:
    """Whether the document fits the schema of its kind; each fault is noted in the document."""
    before = len(document.faults)
    errors = sorted(
        _validator(kind).iter_errors(document.data), key=lambda error: (list(map(str, error.path)), error.message)
    )
    for error in errors:
        _note(document, error)
    return len(document.faults) == before


def _note(document: Document, error: ValidationError) -> None:
    path = tuple(error.absolute_path)
    keyword = str(error.validator)
    if keyword in ("oneOf", "anyOf"):
        inner = best_match(error.context or [])
        if inner is not None and inner.absolute_path != error.absolute_path:
            _note(document, inner)
        else:
            document.fault(path, f"found {_shown(error.instance)}", _purpose(error, "expected another shape"))
    elif keyword == "additionalProperties":
        for name in sorted(set(error.instance) - set(error.schema.get("properties", {}))):
            document.fault((*path, name), "this field is unknown", _near(name, error.schema["properties"]), key=True)
    elif keyword == "required":
        missing = [name for name in error.validator_value if name not in error.instance]
        name = next(name for name in missing if f"'{name}'" in error.message)
        document.fault(path, f"the field '{name}' is missing", f"add '{name}'{_meaning(error.schema, name)}")
    elif "propertyNames" in error.absolute_schema_path:
        document.fault((*path, str(error.instance)), "this name can't be used here", _expected(error), key=True)
    else:
        document.fault(path, f"found {_shown(error.instance)}", _expected(error))


def _expected(error: ValidationError) -> str:
    value = error.validator_value
    described = {
        "type": lambda: "expected " + " or ".join(_TYPE_WORDS.get(kind, kind) for kind in _as_list(value)),
        "enum": lambda: "expected one of " + ", ".join(map(str, value)),
        "const": lambda: f"expected {value}",
        "pattern": lambda: _purpose(error, f"expected text of the form {value}"),
        "minItems": lambda: f"expected at least {value} in the list",
        "maxItems": lambda: f"expected at most {value} in the list",
        "minProperties": lambda: f"expected at least {value} entry",
        "maxProperties": lambda: f"expected at most {value} entries",
        "maxLength": lambda: f"expected at most {value} characters",
        "minLength": lambda: "expected some text",
        "minimum": lambda: f"expected at least {value}",
        "maximum": lambda: f"expected at most {value}",
        "exclusiveMinimum": lambda: f"expected more than {value}",
        "uniqueItems": lambda: "expected every entry once",
    }.get(str(error.validator))
    return described() if described else _purpose(error, "see the schema")


def _purpose(error: ValidationError, otherwise: str) -> str:
    description = error.schema.get("description") if isinstance(error.schema, dict) else None
    return f"expected: {description.rstrip('.')}" if description else otherwise


def _as_list(value: Any) -> list[str]:
    return value if isinstance(value, list) else [value]


def _near(name: str, known: dict[str, Any]) -> str:
    close = difflib.get_close_matches(name, known, n=1)
    return f"did you mean '{close[0]}'?" if close else f"known fields are {', '.join(known)}"


def _meaning(schema: dict[str, Any], name: str) -> str:
    description = schema.get("properties", {}).get(name, {}).get("description")
    return f" ({description.rstrip('.')})" if description else ""


def _shown(value: Any) -> str:
    if isinstance(value, dict):
        return "a mapping"
    if isinstance(value, list):
        return f"a list of {len(value)}"
    if value is None:
        return "nothing"
    return f"'{str(value)[:40]}'"
