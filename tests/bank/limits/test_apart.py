"""A step that has to be ended leaves no trace in what is found of the other steps: they are done in a fresh process."""

from __future__ import annotations

import errno
import io
import json
import os
import pickle
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from turnwright.bank.checking import questions
from turnwright.bank.checking.checked import check_apart, check_problem
from turnwright.bank.command.main import run
from turnwright.bank.documents.document import Document, parse_document
from turnwright.bank.errors import NoProcessError, OverBudgetError, Place
from turnwright.bank.limits import budget, forking, kernel
from turnwright.bank.limits.apart import apart
from turnwright.bank.limits.budget import within
from turnwright.bank.model.problem import Problem
from turnwright.bank.reading import files
from turnwright.bank.reading.files import problem_of

from tests import hostile_files

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs forks")
half_thoughts: list[str] = []


def loops() -> None:
    """A step that remembers something of what it did not finish."""
    half_thoughts.append("half")
    while True:
        pass


def hears_nothing() -> None:
    half_thoughts.append("half")
    sum(range(10**12))


def fills() -> None:
    half_thoughts.append("half")
    bytearray(4_000_000_000)  # which no heap of a long run has lying free


def dies() -> None:
    os._exit(3)


ENDS: dict[str, tuple[Callable[[], None], str]] = {
    "a loop": (loops, "more than 0.2 s of processor time"),
    "a call into C": (hears_nothing, "more than 0.2 s of processor time"),
    "memory": (fills, "more than 64 MB"),
    "its own end": (dies, "came to an end"),
}


@pytest.fixture(autouse=True)
def _small_limits(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(kernel, "PATIENCE", 2)
    monkeypatch.setattr(kernel, "GRACE", 0)
    monkeypatch.setattr(budget, "MEGABYTES", 64)
    half_thoughts.clear()


def steps(document: Document, step: Callable[[], None]) -> list[str]:
    """Three steps of a document, of which the second is ended; what each found."""
    found = []
    for name in ("first", "second", "third"):
        try:
            with within(document, name, Place("stranger.yaml"), 0.2):
                if name == "second":
                    step()
                found.append(f"{name} {half_thoughts}")
        except OverBudgetError as error:
            found.append(error.wrong)
    return found


@pytest.mark.parametrize("name", ENDS)
def test_the_other_steps_are_done_where_nothing_was_broken_off(name: str) -> None:
    step, told = ENDS[name]
    document = Document("stranger.yaml")
    with budget.one_run():
        first, second, third = apart(document, lambda: steps(document, step))
        assert (first, third) == ("first []", "third []")
        assert told in second
        assert not half_thoughts
        assert budget.current().taken_by(document) > 0 or name == "its own end"


def test_in_one_process_a_trace_is_left() -> None:
    """Planted: what the test above looks for is there where steps share a process."""
    document = Document("stranger.yaml")
    assert steps(document, loops)[2] == "third ['half']"


def test_an_error_of_the_task_comes_back_and_its_time_is_counted() -> None:
    document = Document("stranger.yaml")
    with pytest.raises(ZeroDivisionError), budget.one_run():
        apart(document, lambda: 1 // 0)

    def busy() -> float:
        with within(document, "busy", Place("stranger.yaml"), 5):
            begun = time.process_time()
            while time.process_time() < begun + 0.05:
                pass
        return 1.0

    with budget.one_run():
        assert apart(document, busy) == 1.0
        assert budget.current().taken_by(document) >= 0.05


def test_who_dies_after_a_step_is_not_told_with_its_name_and_the_time_of_the_step_is_kept() -> None:
    document = Document("stranger.yaml")

    def dies_later() -> None:
        with within(document, "done", Place("stranger.yaml"), 5):
            begun = time.process_time()
            while time.process_time() < begun + 0.05:
                pass
        dies()

    with budget.one_run():
        with pytest.raises(OverBudgetError, match="came to an end") as caught:
            apart(document, dies_later)
        assert caught.value.question == "stranger.yaml"
        assert not budget.current().refused[document]
        assert 0.05 <= budget.current().taken_by(document) < 5


def test_what_cannot_go_to_another_process_is_told_as_that() -> None:
    with pytest.raises(pickle.PicklingError, match="function can't go to another process"), budget.one_run():
        apart(Document("stranger.yaml"), lambda: lambda: 1)


def test_a_refused_step_of_one_file_is_none_of_another() -> None:
    first, second = Document("a.yaml"), Document("b.yaml")
    with budget.one_run():
        assert "more than 0.2 s" in apart(first, lambda: steps(first, loops))[1]
        assert apart(second, lambda: steps(second, lambda: None))[1] == "second []"


def test_where_the_system_grants_no_process_that_is_told_and_no_pipe_is_left(monkeypatch: pytest.MonkeyPatch) -> None:
    def full() -> int:
        raise BlockingIOError(errno.EAGAIN, os.strerror(errno.EAGAIN))

    opened: list[int] = []
    honest = os.pipe

    def pipe() -> tuple[int, int]:
        opened.extend(ends := honest())
        return ends

    monkeypatch.setattr(os, "fork", full)
    monkeypatch.setattr(os, "pipe", pipe)
    with pytest.raises(NoProcessError, match="allow more processes"):
        apart(Document("stranger.yaml"), lambda: 1)
    assert len(opened) >= 2
    for each in opened:
        with pytest.raises(OSError, match="Bad file descriptor"):
            os.fstat(each)


def test_a_message_that_was_broken_off_is_none() -> None:
    whole = forking.framed(b"one") + forking.framed(b"two")
    for length in range(len(whole)):
        assert list(forking.messages(io.BytesIO(whole[:length]))) == [b"one"] * (length >= 11)


def problem() -> Problem:
    data = hostile_files.problem(["x0 = a*b/c"], values=9)
    found = problem_of(parse_document(json.dumps(data).encode(), "stranger.yaml"))
    assert found
    return found


def test_a_check_apart_tells_what_one_here_tells() -> None:
    made = problem()
    assert check_apart(made) == check_problem(made)


def test_the_command_checks_and_reads_strangers_files_apart(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in "ab":
        data = hostile_files.problem(["x0 = a*b/c"], values=9)
        (tmp_path / f"{name}.yaml").write_text(json.dumps({**data, "id": f"lantern-{name}"}), "utf-8")
    arguments = ["check", *(str(tmp_path / f"{name}.yaml") for name in "ab"), "--json"]
    run(arguments)
    sound = json.loads(capsys.readouterr().out)["faults"]
    honest = questions._report

    def report(solved: questions.SolvedQuestion, gravity: object) -> object:
        if solved.problem.id == "lantern-a":
            loops()
        assert not half_thoughts
        return honest(solved, gravity)  # type: ignore[arg-type]

    monkeypatch.setenv(budget.SECONDS_VARIABLE, "2")
    monkeypatch.setattr(questions, "_report", report)
    assert run(arguments) == 1
    found = [each for each in json.loads(capsys.readouterr().out)["faults"] if each not in sound]
    assert [each for each in found if "more than 2 s of processor time" in each["wrong"]]
    assert {Path(each["file"]).name for each in found} == {"a.yaml"}
    assert not half_thoughts
    monkeypatch.setattr(budget, "READING", 0.2)
    monkeypatch.setattr(files, "build_problem", lambda document: hears_nothing())
    assert run(arguments) == 1
    found = [each["wrong"] for each in json.loads(capsys.readouterr().out)["faults"]]
    assert len(found) == 2
    assert all("more than 0.2 s" in each for each in found)
