"""The README's commands, texts, problem and picture are those of the program."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from turnwright import bank
from turnwright.bank.checking.questions import check_questions
from turnwright.bank.command import main

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text("utf-8")
BLOCKS = re.findall(r"```(\w*)\n(.*?)```", README, re.S)


def block(start: str) -> str:
    """The code block that starts so."""
    return next(text for _, text in BLOCKS if text.startswith(start))


def test_the_shown_variant_is_what_the_program_shows(capsys: pytest.CaptureFixture[str]) -> None:
    assert main.run(["show", "rough-bank-fast.greatest-speed"]) == 0
    assert capsys.readouterr().out.strip() == block("rough-bank-fast.greatest-speed").strip()


def test_the_picture_is_what_the_program_draws(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    drawn = tmp_path / "figure.svg"
    assert main.run(["show", "rough-bank-fast.greatest-speed", "--figure", str(drawn)]) == 0
    assert drawn.read_bytes() == (ROOT / "tests" / "pictures" / "rough-bank-fast.svg").read_bytes()


def test_the_problem_in_the_readme_is_without_fault(tmp_path: Path) -> None:
    path = tmp_path / "my-problem.yaml"
    path.write_text(block("# yaml-language-server"), "utf-8")
    problem = bank.read_problem(path)
    assert [each.faults for each in check_questions(problem)] == [(), ()]


def test_the_python_example_runs(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "my-problem.yaml").write_text(block("# yaml-language-server"), "utf-8")
    monkeypatch.chdir(tmp_path)
    exec(compile(block("from decimal"), "README.md", "exec"), {})
    closed_form, count, *keys = capsys.readouterr().out.splitlines()
    assert closed_form == "sqrt(g*r)"
    assert int(count) > 20
    assert len(keys) == 3


def test_every_command_that_is_named_exists_with_its_options() -> None:
    """In running text and blocks as they are printed; in a row of the table with all options that it tells of."""
    printed = re.findall(r"`turnwright ([a-z][^`]*)`", README) + re.findall(r"(?m)^turnwright (.*)$", README)
    rows = [row.partition(" ") for row in re.findall(r"(?m)^\| `turnwright ([^\n]*)", README)]
    told = [(line.split()[0], line) for line in printed] + [(name.strip("`"), row) for name, _, row in rows]
    assert len(rows) >= 15 and {name for name, _ in told} == main.turnwright.commands.keys()
    for name, line in told:
        known = {option for each in main.turnwright.commands[name].params for option in each.opts}
        assert {*re.findall(r"(?<![\w-])--[a-z][a-z-]*", line)} <= known, line


def test_there_are_two_set_up_commands() -> None:
    commands = [text for _, text in BLOCKS if "pip install" in text]
    assert len(commands) == 1
    first, second = commands[0].strip().splitlines()
    assert first.endswith("/turnwright pack") and " -m pytest " in second
    # CI finds them as the lines that install; what it then proves is what the first one writes
    ci = (ROOT / ".ci" / "run").read_text("utf-8")
    assert [each for each in README.splitlines() if "pip install" in each] == [first, second]
    assert "grep -F 'pip install' README.md" in ci and "prove turnwright-practice.zip" in ci
