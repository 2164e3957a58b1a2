"""What a report says of a thought: its answers by what else explains them, and why some can't be known yet."""

from __future__ import annotations

from .outcome import Thought

NONE_SHOWN = "no thought explains more answers alone than chance would."
OPEN = "too few answers could come from it alone."
ALONE = "{alone} answers that only this thought explains, {joint} that another explains as well"
SHARE = (
    "{alone} answers that only this thought explains, {joint} that another explains as well; it accounts for "
    "{rate:.0%} ({lower:.0%} to {upper:.0%}) of the answers that could show it"
)


def told_counts(thought: Thought) -> str:
    """The answers of a thought, those that it shares apart from those that it does not."""
    found = thought.evidence
    if found is None or not thought.is_shown:
        return ALONE.format(alone=thought.alone, joint=thought.joint)
    return SHARE.format(alone=thought.alone, joint=thought.joint, rate=found.rate, lower=found.lower, upper=found.upper)
