"""Slots become words as a careful teacher writes them: articles, capitals, agents, verbs, lists and numbers."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from turnwright.bank.model.problem import ForceWords, Scene
from turnwright.bank.model.wording import Slot, article, count, either, listed, pieces, sentence, word

SCENE = Scene(
    name="stage",
    story="",
    words={"load": "a paper lantern", "wheel": "an old wheel", "planet": "the Earth", "sand": "some sand"},
    forces={
        "pull": ForceWords("tension", "F", "the cord", "pulls"),
        "push": ForceWords("upward push", None, "its seat", "pushes"),
        "lift": ForceWords("lift", None, "the air", "carries"),
    },
    quantities={},
)

FILLED = [
    ("{a load}", "a paper lantern"),
    ("{A load} swings.", "A paper lantern swings."),
    ("{the load}", "the paper lantern"),
    ("{The load} swings.", "The paper lantern swings."),
    ("a heavy {load}", "a heavy paper lantern"),
    ("{a wheel}, then {the wheel}", "an old wheel, then the old wheel"),
    ("{an wheel}", "an old wheel"),
    ("{An wheel}", "An old wheel"),
    ("{a planet}", "the Earth"),
    ("{The planet}", "The Earth"),
    ("{a sand} and {the sand}", "some sand and the sand"),
    ("{pull}", "tension"),
    ("{the pull}", "the tension"),
    ("{a pull}", "a tension"),
    ("{a push}", "an upward push"),
    ("{A push}", "An upward push"),
    ("{by pull} {acts pull}", "the cord pulls"),
    ("{By pull} can only {act pull}.", "The cord can only pull."),
    ("{by push} {acts push}, {act push}", "its seat pushes, push"),
    ("{by lift} {acts lift}, {act lift}", "the air carries, carry"),
    ("{the weight}: {by weight} {acts weight}", "the weight: the Earth pulls"),
    ("no slot", "no slot"),
    ("", ""),
]


@pytest.mark.parametrize(("template", "text"), FILLED)
def test_a_slot_becomes_words(template: str, text: str) -> None:
    assert sentence(template, SCENE) == text


@pytest.mark.parametrize(
    "slot", ["lamp", "a lamp", "by load", "acts load", "symbol pull", "by", "", "the old load", "PULL"]
)
def test_a_slot_that_names_nothing_has_no_words(slot: str) -> None:
    (piece,) = pieces(f"{{{slot}}}")
    assert isinstance(piece, Slot)
    assert word(piece, SCENE) is None


PARTS = ["{the load}", "{by pull}", "{x}", "{a b c}", " ", "on ", "é", "} ", "{", "}"]


@given(st.lists(st.sampled_from(PARTS), max_size=8))
def test_the_pieces_of_a_template_are_all_of_it(parts: list[str]) -> None:
    template = "".join(parts)
    shown = [piece if isinstance(piece, str) else f"{{{piece.mode} {piece.name}}}" for piece in pieces(template)]
    assert "".join(shown).replace(" ", "") == template.replace(" ", "")


def test_parts_are_listed_as_in_a_sentence() -> None:
    assert [listed(parts) for parts in ([], ["a"], ["a", "b"], ["a", "b", "c"])] == ["", "a", "a and b", "a, b and c"]
    assert either(["a", "b", "c"]) == "a, b or c"


def test_a_number_and_its_noun_agree() -> None:
    assert [count(number, "force") for number in (0, 1, 2, 10, 11, 3570)] == [
        "no forces", "one force", "two forces", "ten forces", "11 forces", "3,570 forces",
    ]  # fmt: skip
    assert [count(number, "entry", "entries") for number in (1, 2)] == ["one entry", "two entries"]


def test_an_article_follows_the_first_letter() -> None:
    assert [article(noun) for noun in ("tension", "upward push", "Air drag", "normal force")] == ["a", "an", "an", "a"]
