"""Options of a choice question: the right one, wrong ones that name their mistakes, and their order on the page."""

from __future__ import annotations

from collections.abc import Sequence

from ..item.draw import mixed as draw_order
from ..item.drawing import Drawing
from ..item.item import Cause, Option, Paragraph
from ..model.mistake import Mistake, likeliest_first
from .advice import cause, feedback

RIGHT = "Correct."
FEWEST_WRONG = 2


def right(content: Paragraph | Drawing, said: str = RIGHT) -> Option:
    """The right option, with what to say of it."""
    return Option(content, True, said)


def wrong(content: Paragraph | Drawing, *mistakes: Mistake, both: bool = False, why: Cause | None = None) -> Option:
    """A wrong option: its feedback tells the thinking of its mistakes, the likeliest first; of ``both`` at once.

    ``why`` takes the place of their own causes where the mistakes together are one thought.
    """
    why = why or cause(mistakes, together=both)
    return Option(content, False, feedback(why), tuple(each.id for each in likeliest_first(mistakes)), why)


def mixed(options: Sequence[Option], draw: str) -> tuple[Option, ...]:
    """The options in an order that the name of the draw decides, alike on every machine."""
    return tuple(draw_order(options, draw, _words))


def _words(option: Option) -> str:
    """What an option says. Of a drawing, its words: the last bits of its lengths differ between machines."""
    content = option.content
    return content.description if isinstance(content, Drawing) else repr(content)
