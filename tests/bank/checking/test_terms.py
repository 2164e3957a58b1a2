"""The glossary of examination English over every text of a bank."""

from __future__ import annotations

import re

import pytest
from turnwright.bank.checking.terms import documents_beside, term_notes
from turnwright.bank.documents.document import parse_document
from turnwright.bank.reading.files import read_bank
from turnwright.bank.writing.glossary import TERMS, avoided

PLANTED = {
    "A puck moves in a level circle.": "horizontal circle",
    "A puck moves in an upright circle.": "vertical circle",
    "The bend is banked at {theta} to the level.": "to the horizontal",
    "The angle of the bank is {theta}.": "angle of banking",
    "The dome is half a ball.": "hemisphere",
    "The station has the shape of a drum.": "cylinder",
    "Its path is at right angles to the field.": "perpendicular to",
    "The upward part of the tension balances it.": "component of",
    "Friction can be left out.": "is negligible",
    "Air drag is negligible.": "air resistance",
    "Its charge is {q} in size.": "of magnitude",
    "How large is the tension?": "Calculate the magnitude of",
    "The road grips the car with a friction of {f}.": "with a frictional force of",
    "It needs the greatest possible friction.": "limiting friction",
    "The coefficient of friction is {mu}.": "coefficient of static friction",
    "No part of the cord stands more than {F}.": "must not exceed",
    "The upward component carries the weight.": "balances the weight",
    "Give the force in weights.": "apparent weight",
    "Write the inward m a first.": "mass × centripetal acceleration",
    "It moves at a steady speed.": "constant speed",
    "Its turning rate is {omega}.": "angular speed",
    "Find the force from the turning.": "angular speed",
    "Give it in turns per minute.": "revolutions per minute",
    "One turn takes {T}.": "period",
    "How fast is the car?": "Calculate the speed of",
    "Find the least speed.": "minimum",
    "Find the greatest angular speed.": "maximum",
    "The cube is just about to slide.": "on the point of",
    "Then contact is lost.": "loses contact with",
    "The friction would pass its bound.": "begins to slide",
    "The cord can no longer pull.": "goes slack",
    "The bob stays on its circle.": "stays taut",
    "It is greater by a factor of 2.": "increases by a factor of",
    "The force goes as the square of the speed.": "is proportional to",
    "The tension hangs on the mass.": "depends on",
    "A rider stands in an upright drum.": "vertical cylinder",
    "{A load} moves round a peg.": "in a horizontal circle round",
    "{A load} runs round a vertical loop.": "vertical, circular loop",
    "Find the speed level with the centre.": "at the height of the centre",
    "Calculate the force that {by rod} exerts on {the load}.": "Calculate the magnitude of the force",
    "force of the arm": "contact force",
    "Find the tension in {the line} at the top.": "tension when the body is at",
    "Only the gravitational force of {the planet} acts on it.": "with its engines off",
    "She is held by nothing but the push of the seat.": "exerts the only contact force on",
    "It moves in a field of flux density {B}.": "magnetic flux density",
    "A motor turns {the wheel} at constant speed.": "constant angular speed",
    "The other end turns freely.": "rotates freely",
    "It goes once round in {T}.": "one revolution, or the circumference",
    "Find the acceleration towards the centre.": "centripetal acceleration",
    "A probe moves about the planet Mars.": "the name alone",
    "The centre is straight below it.": "directly above, directly below",
    "Its speed on its circular orbit is {v}.": "in its orbit",
    "A minibus drives through a dip.": "travels",
    "A cube slides from rest off a dome.": "starts from rest at the top of",
    "An engineer lets {a load} move.": "makes the body move",
    "Find the angular speed in r/min.": "in revolutions per minute (r/min)",
    "Find the maximum speed under this condition.": "for which ...",
    "The thin gas is negligible.": "low-pressure gas",
    "A paint spot moves in a circle.": "spot of paint",
    "A sailor swings a line weight.": "sandbag",
    "After a shower, a bicycle goes round a bend.": "after a shower of rain",
    "radius of the driven wheel": "the name in the story",
    "All rotate at the same rate.": "The sprockets and the wheel rotate",
    "In a laboratory {a load} hangs from a pin.": "a comma after the opening phrase",
}


@pytest.mark.parametrize(("text", "preferred"), PLANTED.items())
def test_an_avoided_term_is_told_with_the_preferred_one(text: str, preferred: str) -> None:
    assert preferred in {each.term.prefer for each in avoided(text)}


@pytest.mark.parametrize(
    ("text", "is_told"),
    [
        ("At the bottom its speed is {v}.", True),
        ("It slows down. In the window of a bakery a cake stands.", True),
        ("There {by contact} exerts a force.", True),
        ("At the bottom, its speed is {v}.", False),
        ("At the top of the circle, {the load} is slow.", False),
        ("The speed at the top is {v}.", False),
        ("At a distance of {r} from the axis, {the body} moves at {v}.", False),
        ("There are two forces.", False),
    ],
)
def test_an_opening_phrase_of_place_or_time_ends_with_a_comma(text: str, is_told: bool) -> None:
    assert ("a comma after the opening phrase" in {each.term.prefer for each in avoided(text)}) == is_told


def test_each_term_of_the_glossary_was_planted() -> None:
    assert {each.prefer for each in TERMS} == set(PLANTED.values())


def test_a_slot_is_no_word() -> None:
    assert not list(avoided("{by level circle} pulls {the load}"))


TEXT = """\
title: Round a level circle
scenes:
  car: {story: "It goes at a steady speed.", words: {body: a body of 2 N in size}, forces: {grip: {by: how fast is it}}}
questions:
  one: {stem: "How large is it?", unit: level circle}
demonstration:
  do: Time one turn.
  caution: Never find out the greatest speed.
mistakes:
  two: {thinking: "It goes as the speed.", feedback: "Is the upward part of it enough?", source: a level circle}
"""


def test_every_text_is_searched_and_each_note_has_its_place() -> None:
    notes = list(term_notes(parse_document(TEXT.encode(), "planted.yaml")))
    where = ["title", "scenes.car.story", "scenes.car.words.body", "scenes.car.forces.grip.by", "questions.one.stem"]
    where += ["demonstration.caution", "mistakes.two.thinking", "mistakes.two.feedback"]
    assert [note.found.split(" ")[0] for note in notes] == where
    assert (str(notes[0].place), notes[0].name) == ("planted.yaml:1:16", "word-level-circle")
    assert str(notes[0]).endswith(
        "title has 'level circle' (texts use the terms of textbooks; common practice); "
        "write 'horizontal circle' (a circle lies in a plane, and planes are horizontal or vertical)"
    )


def test_no_file_of_the_bank_uses_an_avoided_term() -> None:
    documents = [*(problem.document for problem in read_bank()), *documents_beside()]
    assert [str(note) for document in documents for note in term_notes(document)] == []


def test_at_most_a_third_of_the_stories_play_at_the_fair_or_its_school() -> None:
    stories = [scene.story for problem in read_bank() for scene in problem.scenes]
    there = [story for story in stories if re.search(r"\b(fair|fairground|school|class|physics room)\b", story)]
    assert 0 < len(there) <= len(stories) / 3
