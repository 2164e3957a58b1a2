"""The symbol of a quantity stands right behind the noun it names: the flux density B behind the slit."""

from __future__ import annotations

import pytest
from turnwright.bank.reading.files import read_bank
from turnwright.bank.writing.letters import head_and_tail

from tests.bank import models

# words that never end or stand in a noun with its adjectives: prepositions, pronouns, adverbs and participles
LITTLE = frozenset((
    "about", "above", "across", "after", "against", "along", "among", "around", "as", "at", "before", "behind",
    "below", "beneath", "beside", "between", "beyond", "but", "by", "down", "due", "during", "for", "from", "in",
    "inside", "into", "just", "like", "near", "of", "off", "on", "onto", "out", "outside", "over", "past", "per",
    "round", "since", "than", "that", "through", "to", "toward", "towards", "under", "until", "up", "upon", "when",
    "where", "which", "while", "who", "with", "within", "without", "done", "drawn", "exerted", "given", "gone",
    "left", "lost", "made", "needed", "taken", "travelled", "turned", "whose",
))  # fmt: skip
WHOLE = ("moment of inertia", "coefficient of static friction", "angle of banking")


def late(name: str) -> list[str]:
    """The little words before the symbol of a quantity of this name."""
    head, _ = head_and_tail(name)
    kept = next((head.removesuffix(each) for each in WHOLE if head.endswith(each)), head)
    return [each for each in kept.split() if each in LITTLE]


def test_no_little_word_stands_before_the_symbol() -> None:
    names = {
        name
        for problem in (*read_bank(), *models.drafts())
        for name in (
            *(each.means for each in problem.quantities.values()),
            *(each.asked_name for each in problem.questions),
            *(force.name for scene in problem.scenes for force in scene.forces.values()),
        )
    }
    assert len(names) > 300
    assert {name: late(name) for name in names if late(name)} == {}


@pytest.mark.parametrize(
    ("name", "head"),
    [
        ("magnetic flux density behind the slit", "magnetic flux density"),
        ("magnetic flux density beyond the slit", "magnetic flux density"),
        ("angular momentum about the centre", "angular momentum"),
        ("speed just before the cord goes taut", "speed"),
        ("energy lost between the start and the top", "energy"),
        ("initial moment of inertia", "initial moment of inertia"),
        ("moment of inertia of the disc", "moment of inertia"),
        ("ratio of the moment of inertia of the disc to that of the ring", "ratio"),
        ("angular speed", "angular speed"),
        ("coefficient of static friction", "coefficient of static friction"),
    ],
)
def test_a_name_ends_where_more_is_told_of_its_noun(name: str, head: str) -> None:
    assert head_and_tail(name) == (head, name[len(head) :])


def test_a_word_that_is_passed_over_is_noticed() -> None:
    """Planted: a name whose tail begins with a word that nobody thought of."""
    assert late("magnetic flux density beneath the coil") == ["beneath"]
