"""The events of a YAML text: from libyaml where it surely reads as PyYAML's own parser does, which tells of faults."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import yaml

from .bounds import DEEPEST

# what the two do not read alike: tabs, directives, breaks that only one of them knows, a comment close behind | or >
_APART = re.compile("[\t\r\x85\u2028\u2029]|^%|[|>][-+0-9]*#", re.MULTILINE)


def events_of(text: str) -> Iterator[Any]:
    """The events of a text, with places. Raises yaml.YAMLError, in the words of PyYAML's own parser.

    A text that libyaml refuses is read once more, one event after the other, so that whoever builds from them may stop
    before its fault.
    """
    return iter(quick_events(text) or yaml.parse(text, Loader=yaml.SafeLoader))


def quick_events(text: str) -> list[Any]:
    """The events as libyaml finds them; none where PyYAML's own parser has to say."""
    if not hasattr(yaml, "CSafeLoader") or _APART.search(text):
        return []
    events: list[Any] = []
    depth = 0
    try:
        for event in yaml.parse(text, Loader=yaml.CSafeLoader):
            depth += isinstance(event, yaml.CollectionStartEvent) - isinstance(event, yaml.CollectionEndEvent)
            if depth > DEEPEST + 1 or _may_differ(event):  # an older libyaml takes ever longer at great depth
                return []
            events.append(event)
    except (yaml.YAMLError, ValueError):
        return []
    return events


def _may_differ(event: Any) -> bool:
    """Where the parsers differ in what they take for a value, or in where one that is empty stands."""
    if not isinstance(event, yaml.NodeEvent):
        return False
    if getattr(event, "tag", None) is not None:
        return True
    return isinstance(event, yaml.ScalarEvent) and not event.style and (not event.value or "?" in event.value)
