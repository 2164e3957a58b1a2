"""Notes and their answers: what is answered waits no longer, and what nobody asked for is a fault at its place."""

from __future__ import annotations

from pathlib import Path

from turnwright.bank.checking.answers import answered_notes, settled
from turnwright.bank.checking.questions import check_question
from turnwright.bank.model.note import note_of_word
from turnwright.bank.model.problem import Problem
from turnwright.bank.reading.files import read_bank, read_problem

from tests.bank.problems import place, read, varied, written

OPEN = ('"The mass is {m}, the radius {r}, the speed {v}. Calculate', '"Given are {m}, {r} and {v}. Clearly, calculate')
ANSWER = ("    name: size of {the pull}", '    answered: {opinion: "It is clear."}\n    name: size of {the pull}')
OF_ALL = ("questions:\n  least", 'answered: {opinion: "It is clear."}\nquestions:\n  least')
BARE = varied(('answered:\n  unused-equation: "The diagram at the bottom is only shown."\n', ""))


def pull(folder: Path, *changes: tuple[str, str]) -> tuple[Problem, str]:
    """The good problem without an answer, and its text, with some changes."""
    text = varied(*changes, text=BARE)
    return read_problem(written(folder, text)), text


def problem_text(problem: Problem) -> str:
    return Path(problem.document.file).read_text("utf-8")


def test_an_open_note_tells_its_line_and_the_field_to_write(tmp_path: Path) -> None:
    problem, text = pull(tmp_path, OPEN)
    (note,) = answered_notes([problem], check_question(problem, problem.question("pull")).notes, ()).open
    assert (note.name, note.place and note.place.line) == ("opinion", place(text, "pull:\n    title")[0])
    assert str(note).endswith("leave the word out, or add 'opinion: why it is right' to 'answered' of questions.pull")


def test_an_answer_of_the_question_or_of_its_problem_is_one(tmp_path: Path) -> None:
    for change in (ANSWER, OF_ALL):
        problem, _ = pull(tmp_path, OPEN, change)
        found = answered_notes([problem], check_question(problem, problem.question("pull")).notes, ("lantern.pull",))
        assert [each.answer for each in found.answered] == ["It is clear."]
        assert not found.open and not found.faults


def test_an_answer_that_nothing_asks_for_is_a_fault_where_it_stands(tmp_path: Path) -> None:
    for change, judged, where in (
        (ANSWER, "lantern.pull", "questions.pull.answered.opinion"),
        (OF_ALL, "lantern", "answered.opinion"),
    ):
        problem, text = pull(tmp_path, change)
        (fault,) = answered_notes([problem], (), (judged,)).faults
        assert (fault.place.line, fault.place.column) == place(text, "opinion")
        assert fault.wrong == f"{where}: this note does not arise"
        assert not answered_notes([problem], (), ()).faults  # what could not be looked at is not judged


def test_the_answer_of_a_question_stands_before_that_of_its_problem(tmp_path: Path) -> None:
    problem, _ = pull(tmp_path, OPEN, ANSWER, OF_ALL)
    notes = check_question(problem, problem.question("pull")).notes
    found = answered_notes([problem], notes, ("lantern", "lantern.pull"))
    assert [fault.wrong.split(":")[0] for fault in found.faults] == ["answered.opinion"]


def test_a_name_that_no_note_has_is_told_when_the_file_is_read() -> None:
    (fault,) = read(varied(("unused-equation: ", "unused-equations: "))).faults
    assert "no note is called 'unused-equations'" in fault.wrong
    assert fault.right == "did you mean 'unused-equation'?"
    assert note_of_word("Over a longer time, compare the two velocities") == "word-over-a-longer-time-compare-the-two"
    assert not read(varied(("unused-equation: ", "word-level-circle: "))).faults


def test_what_a_shipped_file_leaves_undecided_is_answered_there() -> None:
    """CI runs ``check`` over the whole bank, which ends with 1 at the first note without an answer."""
    problem = next(each for each in read_bank() if each.id == "two-loads-on-one-cord")
    notes = [settled(problem, note) for each in problem.questions for note in check_question(problem, each).notes]
    assert {each.name for each in notes} == {"undecided-hold", "long-stem"} and all(each.answer for each in notes)
    assert str(notes[0].place).endswith(":{}:{}".format(*place(problem_text(problem), "F_1 <= F_b")))
