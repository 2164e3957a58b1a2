"""What is done to a stranger's bank in this process ends, too; and what comes to a terminal is only text."""

from __future__ import annotations

import json
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import suppress
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from turnwright.bank.documents.document import Document, hidden_texts, parse_document
from turnwright.bank.documents.json_file import read_json
from turnwright.bank.documents.shape import MOST_ERRORS
from turnwright.bank.errors import BankFaultsError, ExpressionError, Fault, FileError, OverBudgetError, Place
from turnwright.bank.limits import budget
from turnwright.bank.limits.budget import within
from turnwright.bank.mechanics.sameness import EquationForm, renaming
from turnwright.bank.model.expression import parse
from turnwright.bank.questions.matching.situations import alike
from turnwright.bank.questions.selection import find_item_model, item_models
from turnwright.bank.reading import finding
from turnwright.bank.reading.files import judged, problem_files, problem_of
from turnwright.bank.solving.cache import solved_here

from tests import hostile_files

PLACE = Place("stranger.yaml", 3, 4)


@pytest.fixture(autouse=True)
def _no_bell_is_left() -> Iterator[None]:
    yield
    assert signal.getitimer(signal.ITIMER_PROF) == (0.0, 0.0)


def test_work_is_ended_even_where_the_first_error_is_swallowed(monkeypatch: pytest.MonkeyPatch) -> None:
    def endless() -> None:
        while True:
            pass

    monkeypatch.setattr(budget, "AGAIN", 0.1)
    document = Document("stranger.yaml")
    told = r"stranger.yaml:3:4: it: working it out took more than 0.05 s"
    with pytest.raises(OverBudgetError, match=told), within(document, "it", PLACE, 0.05):
        with suppress(OverBudgetError):
            endless()
        endless()
    assert budget.current().taken_by(document) >= 0.1


def test_what_is_ours_has_no_limit_and_the_outermost_limit_counts() -> None:
    with within(Document("ours.yaml", is_ours=True), "it", PLACE, 0.001):
        sum(range(1_000_000))
    with within(Document("stranger.yaml"), "outer", PLACE, 5), within(Document("stranger.yaml"), "inner", PLACE, 0.001):
        sum(range(1_000_000))


def test_a_grid_without_variants_is_not_walked_for_ever(monkeypatch: pytest.MonkeyPatch) -> None:
    given_ = hostile_files.LETTERS[:9]
    data = hostile_files.problem(["x0 = a"], given=given_, holds=("a + b <= 1",), values=15)
    problem = problem_of(parse_document(json.dumps(data).encode(), "stranger.yaml"))
    assert problem
    asked = next(item_models([solved_here(problem, problem.questions[0])], (), ("number",)))
    monkeypatch.setenv(budget.SECONDS_VARIABLE, "0.1")
    for each in (asked, find_item_model([problem], "a-stranger.question-0")):
        with pytest.raises(OverBudgetError, match="smaller draws"):
            each.draw(1, Decimal("9.8"), 1)


def test_renamings_are_not_tried_without_end() -> None:
    import sympy

    def rings(*sizes: int) -> sympy.Expr:
        """Rings of names, each times its neighbour: with rings of other sizes another form, the names used alike."""
        first = [sum(sizes[:at]) for at in range(len(sizes))]
        pairs = [(start + k, start + (k + 1) % n) for start, n in zip(first, sizes, strict=True) for k in range(n)]
        names = [(sympy.Symbol(f"a{at}"), sympy.Symbol(f"b{at}")) for at in range(sum(sizes))]
        return sympy.Add(*(names[x][0] * names[y][0] + names[x][1] ** 2 * names[y][1] ** 2 for x, y in pairs))

    with within(Document("stranger.yaml"), "it", PLACE, 4):  # 7! ** 2 renamings would take hours
        assert renaming(EquationForm((rings(7),)), EquationForm((rings(3, 4),))) is None
    assert alike(()) == ()


def test_a_part_without_a_real_value_is_refused_before_it_is_put_into_another() -> None:
    with within(Document("stranger.yaml"), "it", PLACE, 5), pytest.raises(ExpressionError, match="no real value"):
        parse("sqrt(acos(0) + sqrt(asin(pi)))")


# --- the kernel -------------------------------------------------------------------------------

needs_limits = pytest.mark.skipif(not Path("/proc/self/statm").exists(), reason="needs the limits of Linux")


@needs_limits
def test_memory_is_refused_and_granted_again(monkeypatch: pytest.MonkeyPatch) -> None:
    import resource

    before = [resource.getrlimit(each) for each in (resource.RLIMIT_AS, resource.RLIMIT_CORE)]
    monkeypatch.setattr(budget, "MEGABYTES", 64)
    document = Document("stranger.yaml")
    told = "stranger.yaml:3:4: it: working it out took more than 64 MB"
    with pytest.raises(OverBudgetError, match=told), within(document, "it", PLACE, 5):
        bytearray(4_000_000_000)  # which no heap of a long run has lying free
    assert len(bytearray(200_000_000)) == 200_000_000
    after = [resource.getrlimit(each) for each in (resource.RLIMIT_AS, resource.RLIMIT_CORE)]
    assert after == before


@needs_limits
def test_a_call_into_c_that_hears_no_timer_is_ended_by_the_kernel(tmp_path: Path) -> None:
    script = (
        "from turnwright.bank.documents.document import Document; from turnwright.bank.errors import Place\n"
        "from turnwright.bank.limits import budget, kernel\n"
        "kernel.PATIENCE, kernel.GRACE = 2, 0\n"
        "with budget.within(Document('stranger.yaml'), 'it', Place('stranger.yaml'), 0.2):\n"
        "    sum(range(10**12))\n"
    )
    ended = subprocess.run([sys.executable, "-c", script], cwd=tmp_path, timeout=60, check=False)
    assert ended.returncode == -signal.SIGVTALRM
    assert list(tmp_path.iterdir()) == []


# --- text -------------------------------------------------------------------------------------


@settings(max_examples=30)
@given(st.text(st.characters(exclude_categories=()), max_size=30), st.integers(0, 30))
def test_a_text_of_any_letters_is_taken_as_it_is_or_refused_with_its_place(text: str, which: int) -> None:
    data = hostile_files.problem(["x0 = a*b/c"], values=9)
    paths = list(hostile_files.texts(data, lambda _, old: old))
    path, old = paths[which % len(paths)]
    holder: Any = data
    for key in path[:-1]:
        holder = holder[int(key)] if isinstance(holder, list) else holder[key]
    holder[path[-1]] = old + text
    problems, faults = judged([parse_document(json.dumps(data).encode(), "stranger.yaml")])
    assert all(str(fault).isprintable() and str(fault).startswith("stranger.yaml:") for fault in faults)
    assert faults or not list(hidden_texts([old + text.replace("\n", " ")]))
    assert bool(problems) != bool(faults)


@pytest.mark.parametrize("hidden", hostile_files.HIDDEN + "\x1b\x9b\u200f\U000e0100\ufdd0")
def test_invisible_letters_are_refused_written_out_or_as_an_escape(hidden: str) -> None:
    for raw in (f"id: a{hidden}b", f'id: "a\\U{ord(hidden):08x}b"'):
        _, faults = judged([parse_document(raw.encode(), "stranger.yaml")])
        assert any(f"U+{ord(hidden):04X}" in fault.wrong for fault in faults)


def test_nothing_that_a_terminal_acts_on_is_in_a_message() -> None:
    name = "\x1b[31m\nno\u202e.yaml"
    (tag, *_) = parse_document(b"a: !<tag:%1B[31m%0Ax> 1", "stranger.yaml").faults
    for each in (Place(name), Fault(Place(name), "wrong \x9b", "right"), FileError(name, "wrong", "right"), tag):
        assert str(each).isprintable()


def test_a_manifest_with_invisible_letters_or_no_end_of_faults_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "m.json"
    path.write_text(json.dumps({"title": "\x1b[31m", "seed": 1, "assessment": "a\n"}))
    with pytest.raises(BankFaultsError, match=r"title: found the invisible character U\+001B"):
        read_json(path, "assessment")
    path.write_text(json.dumps({f"k{n}": 1 for n in range(MOST_ERRORS * 20)}))
    with pytest.raises(BankFaultsError) as caught:
        read_json(path, "assessment")
    assert len(caught.value.faults) < 2 * MOST_ERRORS


def test_a_name_with_a_line_feed_at_its_end_is_no_name() -> None:
    from turnwright.bank.documents.shape import validator

    schema_faults = [each.validator for each in validator("blueprint").iter_errors({"id": "abc\n"})]
    assert "pattern" in schema_faults
    assert "pattern" not in [each.validator for each in validator("blueprint").iter_errors({"id": "abc"})]


def test_a_folder_without_end_is_not_looked_through(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:

    for at in range(5):
        (tmp_path / f"{at}.yaml").write_text("id: a")
    monkeypatch.setattr(finding, "MOST_FILES", 4)
    with pytest.raises(FileError, match="more than 4 problem files"):
        problem_files([tmp_path])
    monkeypatch.setattr(finding, "MOST_ENTRIES", 3)
    with pytest.raises(FileError, match="more than 3 files and folders"):
        problem_files([tmp_path])
