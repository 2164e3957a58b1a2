"""Lines of YAML, cells of CSV and values of JSON with one thing other than it was, so that the rest is still read."""

from __future__ import annotations

import json
import random
import re
from typing import Any

from tests.fuzz.xml_changes import NASTY

ODD = (
    *NASTY, "null", "[]", "{}", "[1]", "{a: 1}", '"', "'", "0001-01-01T00:00:00+14:00",
    "9999-12-31T23:59:59-14:00", "PT1S", "P9999999D", "1:02:03", "=1+1", "@x", "-1", "0.0000001", "1e30", "-5",
    "500", "{load}", "{a load}", "{by contact}", "{r}", "m*g", "N = 0", "sqrt(-1)", "0**0", "T >= 0", "m/s", "deg",
    "km/h", "inward", "up", "x" * 500, "é", "*a", "&a", "!t", "? ", "|", ">-", "- ", "#", "theta", "pi", "E", "v",
    "r", "top", "RESPONSE_1=A RESPONSE_9=", "A A", "#3", ".",
)  # fmt: skip
_VALUE = re.compile(rb"(?<=[:,\[] )[^\s,\[\]{}#][^,\]}\n#]*|(?<=[\[])[^,\[\]{}\n]+")
_INDENT = re.compile(rb" *")


def line_changed(data: bytes, dice: random.Random) -> bytes:
    """A YAML text with a value put for another, or with a block of lines gone, doubled or moved."""
    for _ in range(dice.choice((1, 1, 2, 3))):
        data = _value_changed(data, dice) if dice.random() < 0.6 else _block_changed(data, dice)
    return data


def _value_changed(data: bytes, dice: random.Random) -> bytes:
    found = list(_VALUE.finditer(data))
    if not found:
        return data
    one = dice.choice(found)
    new = dice.choice(found)[0] if dice.random() < 0.5 else dice.choice(ODD).encode()
    return data[: one.start()] + new + data[one.end() :]


def _block_changed(data: bytes, dice: random.Random) -> bytes:
    lines = data.split(b"\n")
    start = dice.randrange(len(lines))
    end = start + 1
    while end < len(lines) and _depth(lines[end]) > _depth(lines[start]):
        end += 1
    block, rest = lines[start:end], lines[:start] + lines[end:]
    way = dice.random()
    if way < 0.5:
        return b"\n".join(rest)
    at = dice.randint(0, len(rest))
    if way < 0.75:
        return b"\n".join(rest[:at] + block + rest[at:])
    return b"\n".join(lines[:at] + block + lines[at:])


def _depth(line: bytes) -> int:
    found = _INDENT.match(line)
    return found.end() if found else 0


def cell_changed(data: bytes, dice: random.Random) -> bytes:
    """A CSV with another text in one cell, or a line gone or doubled."""
    lines = data.split(b"\n")
    at = dice.randrange(len(lines))
    if dice.random() < 0.2:
        return b"\n".join(lines[:at] + lines[at + 1 :])
    if dice.random() < 0.2:
        return b"\n".join([*lines, lines[at]])
    delimiter = max((b",", b";", b"\t"), key=lines[0].count)
    cells = lines[at].split(delimiter)
    cells[dice.randrange(len(cells))] = dice.choice(ODD).encode()
    lines[at] = delimiter.join(cells)
    return b"\n".join(lines)


def value_changed(data: bytes, dice: random.Random) -> bytes:
    """A JSON text with something else in place of one value; bytes that are no JSON come back as they are."""
    try:
        tree = json.loads(data)
    except (ValueError, RecursionError):
        return data
    holders = list(_holders(tree))
    if not holders:
        return data
    holder = dice.choice(holders)
    place = dice.choice(list(holder) if isinstance(holder, dict) else range(len(holder)))
    if dice.random() < 0.2:
        del holder[place]
    else:
        other = dice.choice(holders)
        values = list(other.values()) if isinstance(other, dict) else other
        holder[place] = dice.choice([dice.choice(ODD), None, 0, -1, 1e308, 10**400, [], {}, True, *values])
    try:
        return json.dumps(tree).encode()
    except ValueError:  # a value that was put into itself
        return data


def _holders(tree: Any) -> list[Any]:
    """All objects and lists of a tree that hold something."""
    found, waiting = [], [tree]
    while waiting and len(found) < 500:
        each = waiting.pop()
        if isinstance(each, dict | list) and each:
            found.append(each)
            waiting.extend(each.values() if isinstance(each, dict) else each)
    return found
