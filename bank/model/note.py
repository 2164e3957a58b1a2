"""The names of notes: what a program can't decide about a bank file, so that its author mends it or answers it there.

A file answers a note under ``answered`` with the note's name and a sentence that says why it is right as it is; an
answer of the problem is one for all its questions.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

TAXONOMY: Final = "Haladyna, Downing, Rodriguez 2002"
THREE_OPTIONS: Final = "Rodriguez 2005"
HOUSE: Final = "house limit"
WORD: Final = "word-"  # in front of what was found, where a term of the glossary is meant
_LONGEST: Final = 40  # letters of a name, as the schema has it


@dataclass(frozen=True)
class NoteRule:
    """What is asked of a file, who asks it, and how it is mended."""

    says: str
    source: str
    mend: str


RULES: Final = {
    "long-stem": NoteRule("a stem is read in one go", HOUSE, "shorten the story or the stem"),
    "long-sentence": NoteRule("a sentence holds one idea", HOUSE, "make two sentences of it"),
    "open-ending": NoteRule("the stem ends in what is asked", TAXONOMY, "end it with a question or an instruction"),
    "opinion": NoteRule("a stem gives no opinion", TAXONOMY, "leave the word out"),
    "negative": NoteRule("what is asked is worded positively", TAXONOMY, "ask for what is the case"),
    "uneven-scenes": NoteRule(
        "all scenes need as many steps and conversions", HOUSE, "give the scenes alike units, or name fewer of them"
    ),
    "undecided-hold": NoteRule(
        "what has to hold is judged in each variant", HOUSE, "give what decides it, if the story leaves it open"
    ),
    "leaves-the-circle": NoteRule(
        "a body stays on its vertical circle where the story says so",
        HOUSE,
        "bound the speed at the bottom under 'holds': v**2 <= 2*g*r on an arc, v**2 >= 5*g*r all the way round",
    ),
    "tied-givens": NoteRule(
        "givens agree with the facts of the world",
        HOUSE,
        "give one of them less, or tell of a body whose mass is open; if the draws do agree, say how well",
    ),
    "few-wrong-numbers": NoteRule(
        "four wrong numbers are recognised, since what results say of thinking rests on them", HOUSE, "add a mistake"
    ),
    "mistake-gives-key": NoteRule(
        "no wrong way leads to the right number", HOUSE, "draw other values: not 45° where the sine is asked for"
    ),
    "unused-equation": NoteRule(
        "every equation of motion is needed", HOUSE, "ask for something in it, or take the diagram out"
    ),
    "idle-mistake": NoteRule("a mistake leads to a wrong answer", HOUSE, "mend its edit, or take it out"),
    "number-of-options": NoteRule("a choice has three to five options", THREE_OPTIONS, "add a mistake"),
    "option-without-mistake": NoteRule("a named mistake is behind each wrong option", HOUSE, "name it"),
    "option-without-feedback": NoteRule("each option has its feedback", HOUSE, "write it"),
    "all-or-none": NoteRule("no option is all or none of the others", TAXONOMY, "say what is meant"),
    "clue-word": NoteRule("no word tells a wrong option", TAXONOMY, "leave the word out"),
    "uneven-length": NoteRule("options are alike in length", TAXONOMY, "shorten the names in the scene"),
    "units-of-options": NoteRule("options have one unit", TAXONOMY, "state one unit for what is asked"),
    "notation-of-options": NoteRule("options have one notation", TAXONOMY, "ask in a unit without powers of ten"),
    "order-of-options": NoteRule("numbers stand in order of size", TAXONOMY, "order them"),
}


def is_note(name: str) -> bool:
    """Whether a note can be called so."""
    return name in RULES or name.startswith(WORD)


def note_of_word(found: str) -> str:
    """The name of the note on a term that was found in a text: ``word-flux-density``."""
    return (WORD + "-".join(re.findall("[a-z0-9]+", found.lower())))[:_LONGEST].rstrip("-")
