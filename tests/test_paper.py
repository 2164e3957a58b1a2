"""The command for exam papers, from question names to two files, and what it leaves when it fails."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from turnwright.bank.command.main import run

from tests.exporters.paper.reading import text_of

PROGRAM = "import sys; from turnwright.bank.command.main import run; sys.exit(run(sys.argv[1:]))"
NAMES = ("over-the-top.least-speed", "rough-bank-fast.greatest-speed")


def test_the_command_makes_both_files_and_tells_what_is_in_them(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "bends.pdf"
    assert run(["paper", *NAMES, "--out", str(out), "--versions", "2", "--parts", "all", "--g", "9.81", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["questions"] == str(out)
    assert told["marking"] == str(tmp_path / "bends-marking.pdf")
    assert [[each["id"] for each in version["questions"]] for version in told["versions"]] == [list(NAMES)] * 2
    assert [version["marks"] for version in told["versions"]] == [9, 9]
    asked, marking = text_of(out.read_bytes()), text_of((tmp_path / "bends-marking.pdf").read_bytes())
    assert "Throughout,g=9.81N/kg." in asked
    assert asked.count("Netforceandaccelerationofabody") == 2
    for heading in ("Direction of the acceleration", "Algebra", "Check of the expression"):
        assert marking.count(heading.replace(" ", "")) == 2
    assert sorted(path.name for path in tmp_path.iterdir()) == ["bends-marking.pdf", "bends.pdf"]


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["--out", "missing/a.pdf"], "its folder does not exist; make the folder first"),
        (["--out", "a.txt"], "is no name of a PDF file; end it in .pdf"),
        (["--parts", "keys"], "no part of a paper is called 'keys'; did you mean key?"),
        (["--kind", "essay"], "no kind of question is called 'essay'"),
        (["--versions", "27"], "27 is not in the range"),
    ],
)
def test_bad_input_is_told_in_one_line_and_writes_nothing(
    arguments: list[str], told: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    assert run(["paper", NAMES[0], *arguments]) == 2
    message = capsys.readouterr().err
    assert told in message
    assert len(message.strip().splitlines()) == 1
    assert list(tmp_path.iterdir()) == []


def test_a_figure_that_fails_leaves_the_old_files_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    old = {tmp_path / name: b"%PDF-1.7 the paper of last year" for name in ("a.pdf", "a-marking.pdf")}
    for path, content in old.items():
        path.write_bytes(content)
    monkeypatch.setattr("turnwright.exporters.paper.figures.svg", lambda drawing: b"<svg")
    assert run(["paper", NAMES[0], "--out", str(tmp_path / "a.pdf")]) == 2
    message = capsys.readouterr().err
    assert message.startswith(f"turnwright: {NAMES[0]}: its figure can't be drawn")
    assert {path: path.read_bytes() for path in tmp_path.iterdir()} == old


def test_a_sitting_on_paper_comes_back_as_results(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Questions under their numbers, a form for each version, marks as on the paper."""
    names = ("over-the-top.least-speed", "over-the-top.speed-from-force/choice")
    out, manifest, table = tmp_path / "a.pdf", tmp_path / "m.json", tmp_path / "class.csv"
    assert run(["paper", *names, "--out", str(out), "--versions", "2", "--manifest", str(manifest), "--json"]) == 0
    versions = json.loads(capsys.readouterr().out)["versions"]
    forms = json.loads(manifest.read_text("utf-8"))["forms"]
    assert [each["form"] for each in forms] == [each["name"] for each in versions] == ["A", "B"]
    assert [sum(item["marks"] for item in form["items"]) for form in forms] == [each["marks"] for each in versions]
    rows = ["candidate,form,item,response,score"]
    for place in range(40):
        form = forms[place % 2]
        number, choice = form["items"]
        wrong = place % 4 < 2  # half of the class
        known = number["recognised"][0]["value"] if wrong else number["key"]["number"]
        rows.append(f"pupil {place},{form['form']},1,{known},{0 if wrong else number['marks']}")
        rows.append(f"pupil {place},{form['form']},2,{choice['key']['options'][0]},{choice['marks']}")
    table.write_text("\n".join(rows), "utf-8")
    assert run(["results", str(table), "--pack", str(manifest), "--out", str(tmp_path / "r.html"), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert [each["candidates"] for each in told["forms"]] == [20, 20]
    assert told["set_aside"] == []
