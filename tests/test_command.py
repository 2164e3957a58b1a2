"""The command: what it prints, what it refuses in one line, and what it ends with."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

import click
import pytest
from turnwright import exporters
from turnwright.bank.command import drafting, listing, main, pack, printing
from turnwright.bank.command.main import run
from turnwright.bank.errors import FileError
from turnwright.bank.model.edit import OpinionEdit
from turnwright.bank.questions.kinds import KINDS_OF_IDEA
from turnwright.bank.reading.files import read_problem
from turnwright.bank.storage.targets import free_for

from tests.bank.problems import GOOD, place, varied, written


class Ended(NamedTuple):
    """How a run ended and what it wrote."""

    status: int
    out: str
    err: str


Turnwright = Callable[..., Ended]


@pytest.fixture
def turnwright(capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Turnwright:
    """Runs the command in a folder of its own, with the good problem as ``lantern.yaml``."""
    written(tmp_path)
    written(tmp_path, "Dear colleague,", "other.svg")
    monkeypatch.chdir(tmp_path)

    def started(*arguments: str) -> Ended:
        capsys.readouterr()
        status = run(list(arguments))
        return Ended(status, *capsys.readouterr())

    return started


def in_json(ended: Ended) -> Any:
    assert (ended.status, ended.err) == (0, "")
    return json.loads(ended.out)


# --- check ------------------------------------------------------------------------------------


def test_check_of_a_good_file_ends_well(turnwright: Turnwright) -> None:
    assert turnwright("check", "lantern.yaml") == (
        0,
        "one file, one situation, three questions, 3,423 variants: no fault found, one note answered\n",
        "",
    )  # fmt: skip


def test_a_note_ends_with_1_until_its_file_answers_it(turnwright: Turnwright, tmp_path: Path) -> None:
    text = varied(('answered:\n  unused-equation: "The diagram at the bottom is only shown."\n', ""))
    written(tmp_path, text)
    assert turnwright("check", "lantern.yaml") == (
        1,
        "lantern.yaml:1:1: note: lantern: no question needs the 'inward' equation of the diagram bottom (every "
        "equation of motion is needed; house limit); ask for something in it, or take the diagram out, or add "
        "'unused-equation: why it is right' to 'answered' of the problem\n"
        "one file, one situation, three questions, 3,423 variants: no fault found, one note to answer\n",
        "",
    )


def test_check_tells_in_words_what_it_tells_a_script(turnwright: Turnwright) -> None:
    ended = turnwright("check", "lantern.yaml", "--details")
    data = in_json(turnwright("check", "lantern.yaml", "--json"))
    assert data["notes"][0]["answer"] in ended.out
    for each in data["questions"]:
        lost = each["mistakes_without_a_number"]
        told = [f"{each['id']}: ", each["closed_form"], *each["dropped"], *lost, *lost.values()]
        assert all(part in ended.out for part in told)


def test_check_tells_the_faults_of_all_files_and_ends_with_1(turnwright: Turnwright, tmp_path: Path) -> None:
    lamp = varied(("id: lantern", "id: lamp"), ("unit: km/h", "unit: knot"))
    idle = varied(
        ("id: lantern", "id: idle"), ("given: [r]", "given: [r, m]"), ("The radius is {r}. What", "{r}, {m}. What")
    )
    written(tmp_path, lamp, "lamp.yaml")
    written(tmp_path, idle, "idle.yml")
    written(tmp_path, "a: [", "open.yaml")
    ended = turnwright("check", ".")
    *told, summary = ended.out.splitlines()
    assert [fault.split(": ")[0] for fault in told] == [
        "lamp.yaml:{}:{}".format(*place(lamp, "knot")), "open.yaml:1:5",
        "idle.yml:{}:{}".format(*place(idle, "[r, m]")),
    ]  # fmt: skip
    assert summary.startswith("four files, two situations, six questions, ")
    assert summary.endswith(": three faults, two notes answered")
    assert (ended.status, ended.err) == (1, "")


def test_check_gives_places_and_closed_forms_to_a_script(turnwright: Turnwright, tmp_path: Path) -> None:
    data = in_json(turnwright("check", "lantern.yaml", "--json"))
    assert (data["files"], data["faults"]) == (1, [])
    assert [each["id"] for each in data["questions"]] == ["lantern.least-speed", "lantern.pull", "lantern.low"]
    assert data["questions"][0]["closed_form"] == "sqrt(g*r)"
    written(tmp_path, varied(("version: 1", "version: 0")), "old.yaml")
    ended = turnwright("check", "old.yaml", "--json")
    assert ended.status == 1
    assert json.loads(ended.out)["faults"] == [
        {"file": "old.yaml", "line": 2, "column": 10, "wrong": "version: found '0'", "right": "expected 1 or more"}
    ]


SOLVED = [
    (
        "a given that is not needed",
        [("given: [r]", "given: [r, m]"), ("The radius is {r}. What", "{r}, {m}. What")],
        "[r, m]",
        "questions.least-speed: the given m is not needed; take it out, or list it under 'extra' on purpose",
    ),
    (
        "an extra that is needed",
        [("given: [m, r, v]", "given: [m, r]\n    extra: [v]")],
        "[v]",
        "questions.pull: v is needed; list it under 'given'",
    ),
    (
        "too little given",
        [("given: [m, r, v]", "given: [m, r]"), ("the speed {v}. Calculate", "calculate")],
        "pull:\n    title",
        "questions.pull: 'N' can't be found from what is given; give one of",
    ),
    (
        "givens that fix each other",
        [("given: [m, r, v]", "given: [m, r, v, k]"), ("The mass is {m}, the radius {r}, the", "{m} {r} {k} The")],
        "pull:\n    title",
        "questions.pull: k, r, v already fix each other by",
    ),
    (
        "draws that break what holds",
        [("{from: 3.60, to: 6.00, step: 0.20}", "{from: 0.60, to: 2.00, step: 0.20}")],
        "low:\n    title",
        "combinations of draws are no variants, mostly because N >= 0 is broken; narrow the draws",
    ),
    (
        "answers out of range",
        [("N: {unit: N, plausible: {from: 0.1, to: 40}}", "N: {unit: N, plausible: {from: 400, to: 900}}")],
        "pull:\n    title",
        "mostly because the answer is outside its plausible range",
    ),
    (
        "too few variants",
        [("{from: 0.60, to: 1.20, step: 0.05}", "[0.60, 0.80]"), ("{from: 40, to: 80, step: 2}", "[50, 60]")],
        "least-speed:\n    title",
        "questions.least-speed: only 4 variants exist; widen the draws until there are 20 or more",
    ),
    (
        "a value in no variant",
        [("[120, 160, 240, 360]", "[1.00, 160, 240, 360]")],
        "pull:\n    title",
        "m = 1.00 is in no variant; take it out of the draw of m",
    ),
    (
        "a force the wrong way",
        [("{kind: contact, symbol: N, toward: inward}", "{kind: contact, symbol: N, toward: outward}")],
        "pull:\n    title",
        "positive for none of the draws; check the draws and directions, or set 'sign: any'",
    ),
]


@pytest.mark.parametrize(("changes", "at", "says"), [each[1:] for each in SOLVED], ids=[each[0] for each in SOLVED])
def test_check_tells_what_only_solving_shows(
    changes: list[tuple[str, str]], at: str, says: str, turnwright: Turnwright, tmp_path: Path
) -> None:
    text = varied(*changes)
    written(tmp_path, text)
    ended = turnwright("check", "lantern.yaml")
    line, column = place(text, at)
    assert any(each.startswith(f"lantern.yaml:{line}:{column}: ") and says in each for each in ended.out.splitlines())
    assert (ended.status, ended.err) == (1, "")


# --- list and show ----------------------------------------------------------------------------


def test_list_gives_every_question_to_a_script(turnwright: Turnwright) -> None:
    data = in_json(turnwright("list", "--bank", "lantern.yaml", "--json"))
    assert list(data) == ["questions"]
    assert data["questions"][0] == {
        "id": "lantern.least-speed", "title": "Minimum speed at the top", "family": "vertical-circle",
        "level": "algebra",
        "asks": "v", "given": ["r"], "scenes": ["stage", "fair"], "variants": 31,
    }  # fmt: skip
    assert [each["id"] for each in data["questions"]] == ["lantern.least-speed", "lantern.pull", "lantern.low"]


@pytest.mark.parametrize(
    ("names", "places"),
    [
        (["lantern"], [0, 1, 2]),
        (["vertical-circle"], [0, 1, 2]),
        (["lantern.low", "lantern.pull", "lantern", "lantern"], [2, 1, 0]),
    ],
)
def test_questions_are_named_by_id_problem_or_family_and_listed_once(
    names: list[str], places: list[int], turnwright: Turnwright
) -> None:
    lines = turnwright("list", *names, "--bank", "lantern.yaml").out.splitlines()
    rows = [
        ["lantern.least-speed", "v", "r", "31", "Minimum speed at the top"],
        ["lantern.pull", "N", "m,r,v", "1624", "Force at the top"],
        ["lantern.low", "v_low", "r,v", "1768", "Speed at the bottom"],
    ]
    assert [line.split("\t") for line in lines] == [rows[place] for place in places]


def test_list_tells_the_questions_of_other_kinds_under_the_ids_that_pack_takes(turnwright: Turnwright) -> None:
    rows = [
        line.split("\t")
        for line in turnwright(
            "list", "lantern.pull", "--kind", "choice,stepwise", "--bank", "lantern.yaml"
        ).out.splitlines()
    ]
    assert [row[:2] for row in rows] == [["lantern.pull/choice", "choice"], ["lantern.pull/stepwise", "stepwise"]]
    ended = turnwright("pack", rows[1][0], rows[0][0], "--bank", "lantern.yaml", "--variants", "1", "--json")
    assert list(in_json(ended)["questions"]) == [rows[1][0], rows[0][0]]
    assert in_json(ended)["answer_each_other"] == [[rows[1][0], rows[0][0]]]


def test_a_person_sees_a_table(turnwright: Turnwright, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(printing, "is_terminal", lambda: True)
    shown = turnwright("list", "--bank", "lantern.yaml").out.splitlines()
    assert shown[0].split() == ["question", "asks", "from", "variants", "title"]
    assert shown[2].split() == ["lantern.pull", "N", "m", "r", "v", "1,624", "Force", "at", "the", "top"]
    monkeypatch.setenv("COLUMNS", "60")
    shown = turnwright("list", "--bank", "lantern.yaml").out.splitlines()
    assert shown[4].split() == ["lantern.pull", "N", "m", "r", "v", "1,624"]
    assert shown[5].split() == ["Force", "at", "the", "top"]


def test_show_prints_stem_key_and_numbered_steps(turnwright: Turnwright) -> None:
    arguments = ("show", "lantern.pull", "--bank", "lantern.yaml", "--variant", "3", "--seed", "7", "--g", "9.81")
    data = in_json(turnwright(*arguments, "--json"))
    ended = turnwright(*arguments)
    assert (ended.status, ended.err) == (0, "")
    assert ended.out.startswith(f"lantern.pull, variant 3 ({data['scene']})\n\n{data['stem'][0]}\n")
    assert f"F = {data['key']} N   (right within {data['half_width']} N)" in ended.out
    assert [step["step"] for step in data["solution"]] == [1, 2, 3, 4, 5, 6]
    assert all(f"\n{step['step']}. {step['heading']}\n" in ended.out for step in data["solution"])
    assert "Take g = 9.81\u00a0N/kg." in data["stem"]


def test_show_writes_the_force_diagram(turnwright: Turnwright, tmp_path: Path) -> None:
    ended = turnwright("show", "lantern.pull", "--bank", "lantern.yaml", "--figure", "lantern.svg")
    assert ended.status == 0
    assert (tmp_path / "lantern.svg").read_bytes().lstrip().startswith((b"<svg", b"<?xml"))


# --- solve ------------------------------------------------------------------------------------


def test_solve_gives_value_text_closed_form_and_steps(turnwright: Turnwright) -> None:
    data = in_json(turnwright("solve", "lantern.yaml#least-speed", "--set", "r=0.9", "--json"))
    assert list(data) == ["ask", "value_si", "text", "closed_form", "steps", "taken"]
    assert (data["ask"], data["text"], data["closed_form"]) == ("v", "2.97 m/s", "sqrt(g*r)")
    assert data["value_si"] == pytest.approx((9.81 * 0.9) ** 0.5, rel=1e-12)
    assert [step["step"] for step in data["steps"]] == [1, 2, 3, 4, 5, 6, 7]
    shown = turnwright("solve", "lantern.least-speed", "--bank", "lantern.yaml", "--set", "r=0.9")
    taken = "with r = 0.9 m, since no other unit was typed"
    assert shown.out.startswith(f"v = 2.97 m/s   (v = sqrt(g*r))\n{taken}\n\n1. ")
    named = turnwright("solve", "lantern.least-speed", "--bank", "lantern.yaml", "--set", "r=0.9m")
    assert named.out.startswith("v = 2.97 m/s   (v = sqrt(g*r))\n\n1. ")


@pytest.mark.parametrize(
    ("name", "settings", "ask", "text"),
    [
        ("lantern.yaml#pull", ["m=250g", "r=0.9", "v=4"], None, "1.99 N"),
        ("lantern.yaml#pull", ["m=0.25 kg", "r=90cm", "v=14.4km/h"], None, "1.99 N"),
        ("lantern.yaml#pull", ["m=2.5e2", "r=0.90", "v=4.0"], None, "1.99 N"),
        ("lantern.yaml#lantern.pull", ["m=250g", "r=0.9", "N=1.9944N"], "v", "4.00 m/s"),
        ("lantern.yaml#pull", ["m=250g", "v=4", "N=2"], "r", "0.898 m"),
        ("lantern.yaml#pull", ["r=0.9", "v=4"], "k", "0.812"),
        ("lantern.yaml#low", ["r=0.9", "v=4"], None, "25.8 km/h"),
        ("lantern.yaml#low", ["r=0.9", "v=5", "m=1"], "N_low/N", "4.28"),  # (v² + 5 g r)/(v² − g r)
        ("lantern.yaml#low", ["r=0.9", "v=4"], "v_low / v", "1.79"),
        ("lantern.yaml#pull", ["m=2.5 x10^2", "r=0.9·10⁰ m", "v = 14.4 kph"], None, "1.99 N"),
        ("lantern.yaml#pull", ["m=250 000 mg", "r=900 000 um", "v=4"], None, "1.99 N"),
        ("lantern.yaml#least-speed", ["r=93e9 ly"], None, "9.29 × 10¹³ m/s"),
        ("satellite.speed", ["G=6.674x10^-11", "M=1.989 x10^30 kg", "r=1 AU"], None, "29.8 km/s"),
        ("charged-particle.radius", ["m=m_e", "q=e", "v=7000 km/s", "B=900uT"], None, "4.42 cm"),
    ],
)  # fmt: skip
def test_solve_takes_any_units_and_any_sufficient_givens(
    name: str, settings: list[str], ask: str | None, text: str, turnwright: Turnwright
) -> None:
    asked = ["--ask", ask] if ask else []
    data = in_json(turnwright("solve", name, *(f"--set={each}" for each in settings), *asked, "--json"))
    assert data["text"].replace("\u00a0", " ") == text


def test_solve_uses_the_g_that_is_named(turnwright: Turnwright) -> None:
    found = [
        in_json(turnwright("solve", "lantern.yaml#least-speed", "--set", "r=0.9", "--g", g, "--json"))["value_si"]
        for g in ("9.8", "9.81", "10", "1.62")
    ]
    assert found == pytest.approx([(float(g) * 0.9) ** 0.5 for g in (9.8, 9.81, 10, 1.62)], rel=1e-12)


# --- pack and prove ---------------------------------------------------------------------------


def test_pack_writes_a_proved_pack_and_says_what_is_in_it(turnwright: Turnwright, tmp_path: Path) -> None:
    ended = turnwright("pack", "--bank", "lantern.yaml", "--variants", "2", "--kind", "number", "--out", "fair.zip")
    lines = ended.out.splitlines()
    assert lines[0].startswith("fair.zip: a QTI 3.0 pack for practice, ")
    assert lines[1] == "In it: one situation, three questions and six items (g = 9.81 N/kg, seed 1)."
    assert lines[2].startswith("Proved: six items read back and marked with ")
    assert (ended.status, ended.err) == (0, "")
    proof = turnwright("prove", "fair.zip")
    assert (proof.status, proof.out.splitlines()[-1]) == (0, "proved")
    data = in_json(turnwright("prove", "fair.zip", "--json"))
    assert (data["path"], data["findings"]) == ("fair.zip", [])


def test_pack_tells_a_script_where_and_what(turnwright: Turnwright, tmp_path: Path) -> None:
    data = in_json(
        turnwright(
            "pack", "lantern.low", "--bank", "lantern.yaml", "--variants=2", "--kind=number", "--for=exam", "--json"
        )
    )
    assert Path(data["path"]) == tmp_path / "turnwright-exam.zip"
    assert data["bytes"] == (tmp_path / "turnwright-exam.zip").stat().st_size
    assert (data["for"], data["g"], data["seed"], data["items"]) == ("exam", "9.81 N/kg", 1, 2)
    assert data["questions"] == {"lantern.low": 2}


def test_pack_takes_kinds_of_questions_and_refuses_an_unknown_one(turnwright: Turnwright, tmp_path: Path) -> None:
    data = in_json(turnwright("pack", "--bank=lantern.yaml", "--variants=1", "--kind=direction,expression", "--json"))
    assert {name.rpartition("/")[2] for name in data["questions"]} == {"direction", "expression"}
    ended = turnwright("pack", "--bank", "lantern.yaml", "--kind", "nummber")
    assert (ended.status, ended.out) == (2, "")
    told = "turnwright: no kind of question is called 'nummber'; did you mean number?; see 'turnwright pack --help'\n"
    assert ended.err == told


def test_pack_holds_the_variants_of_a_number_in_a_template_and_tells_of_it(turnwright: Turnwright) -> None:
    asked = (
        "pack",
        "--bank=lantern.yaml",
        "--variants=6",
        "--kind=number,expression",
        "--variants-as=table",
        "--out=fair.zip",
    )
    ended = turnwright(*asked)
    assert (ended.status, ended.err) == (0, "")
    told = " ".join(ended.out.split())
    assert re.search(r"Changed number 18: as \w+ template items; in the worked solution, lines with numbers", told)
    assert turnwright("prove", "fair.zip").status == 0
    (table,) = [each for each in in_json(turnwright(*asked, "--json"))["carried"] if each["how"] == "changed"]
    assert (table["kind"], table["items"]) == ("number", 18)


def test_mistakes_and_demo_speak_to_the_lesson(turnwright: Turnwright) -> None:
    data = in_json(turnwright("mistakes", "over-the-top", "--json"))
    live = {each["id"]: each["live_in"] for each in data["mistakes"]}
    assert "over-the-top.pull-at-the-top" in live["weight-left-out"]
    card = in_json(turnwright("demo", "over-the-top.least-speed", "--set", "r=0.85", "--json"))
    assert card["expect"]["text"].replace("\u00a0", " ") == "2.89 m/s"
    assert card["caution"]


def test_mistakes_tell_their_feedback_and_where_an_idea_is_an_option(turnwright: Turnwright) -> None:
    told = {each["id"]: each for each in in_json(turnwright("mistakes", "over-the-top", "--json"))["mistakes"]}
    assert told["forward-force-drawn"]["option_in_kinds"] == ["forces", "diagram"]
    assert told["weight-left-out"]["option_in_kinds"] == []
    assert set(KINDS_OF_IDEA) == {each.name for each in OpinionEdit.__subclasses__()}
    for kind in ("direction", "forces", "limit"):
        name = f"over-the-top.{'least-speed/limit-less' if kind == 'limit' else f'top/{kind}'}"
        options = in_json(turnwright("show", name, "--json"))["options"]
        ideas = {each for option in options for each in option["mistakes"]}
        assert ideas
        assert all(kind in told[each]["option_in_kinds"] for each in ideas)
    plain = turnwright("mistakes", "over-the-top").out
    assert f"   feedback: {told['weight-left-out']['feedback']}" in plain
    assert "forward-force-drawn: an idea: a wrong option in questions of kind forces and diagram" in plain


def test_show_tells_recognised_numbers_and_what_is_left_over(turnwright: Turnwright) -> None:
    known = in_json(turnwright("show", "smooth-bank.speed", "--json"))["recognised"]
    assert any(each["mistakes"] == ["radius-squared"] for each in known)
    plain = turnwright("show", "smooth-bank.speed").out
    assert all(f"   {each['value']} " in plain for each in known)
    data = in_json(turnwright("show", "over-the-top.top/match", "--json"))
    (odd,) = data["without_partner"]
    assert odd not in [column for _, column in data["pairs"]]
    assert f"without a partner: {odd}" in turnwright("show", "over-the-top.top/match").out


def test_a_problem_file_adds_mistakes_and_leaves_some_out(turnwright: Turnwright, tmp_path: Path) -> None:
    """Its own mistake gives a wrong option, and the one left out gives none; ``mistakes`` tells both."""
    added = """mistakes:
  a-third-added:
    thinking: I added a third to be on the safe side.
    edit: {answer: 4*x/3}
    feedback: Give the number that the equations give.
    source: common practice, no source
without: {weight-left-out: the class has not met free fall}
level: algebra"""
    live = in_json(turnwright("mistakes", "lantern.pull", "--bank", "lantern.yaml", "--json"))["mistakes"]
    assert "weight-left-out" in {each["id"] for each in live if each["live_in"]}
    written(tmp_path, varied(("level: algebra", added)), "own.yaml")
    live = in_json(turnwright("mistakes", "lantern.pull", "--bank", "own.yaml", "--json"))["mistakes"]
    assert live[0]["id"] == "a-third-added"
    assert {each["id"] for each in live if each["live_in"]} >= {"a-third-added"}
    assert "weight-left-out" not in {each["id"] for each in live if each["live_in"]}
    turnwright("pack", "lantern.pull", "--bank", "own.yaml", "--out", "own.zip", "--kind", "choice")
    with zipfile.ZipFile("own.zip") as packed:
        items = "".join(packed.read(name).decode() for name in packed.namelist() if name.endswith(".xml"))
    assert "I added a third to be on the safe side." in items


def test_the_same_inputs_give_the_same_bytes_and_another_seed_does_not(turnwright: Turnwright, tmp_path: Path) -> None:
    for name, seed in (("a.zip", "1"), ("b.zip", "1"), ("c.zip", "2")):
        assert (
            turnwright("pack", "--bank", "lantern.yaml", "--variants", "2", "--seed", seed, "--out", name).status == 0
        )
    one, same, other = ((tmp_path / name).read_bytes() for name in ("a.zip", "b.zip", "c.zip"))
    assert one == same != other


def test_a_damaged_key_is_found_and_the_status_is_1(turnwright: Turnwright, tmp_path: Path) -> None:
    turnwright("pack", "lantern.low", "--bank", "lantern.yaml", "--variants", "1", "--out", "fair.zip")
    with zipfile.ZipFile(tmp_path / "fair.zip") as good, zipfile.ZipFile(tmp_path / "bad.zip", "w") as bad:
        for name in good.namelist():
            content = good.read(name)
            if name.startswith("items/"):
                before, key, after = content.partition(b"<qti-value>")
                content = before + key + b"about " + after
            bad.writestr(name, content)
    ended = turnwright("prove", "bad.zip")
    assert (ended.status, ended.err, ended.out.splitlines()[-1][:10]) == (1, "", "not proved")


def foreign(folder: Path) -> dict[str, Path]:
    """Files that are no pack of any kind."""
    files = {name: folder / f"{name}.zip" for name in ("text", "empty", "cut", "pictures", "folder")}
    files["text"].write_text("Dear colleague,")
    files["empty"].write_bytes(b"")
    with zipfile.ZipFile(files["pictures"], "w") as archive:
        archive.writestr("lantern.png", b"no picture" * 1000)
    files["cut"].write_bytes(files["pictures"].read_bytes()[:-40])
    files["folder"].mkdir()
    return {**files, "missing": folder / "missing.zip"}


@pytest.mark.parametrize("kind", ["text", "empty", "cut", "pictures", "folder", "missing"])
def test_a_file_that_is_no_pack_is_refused_in_one_line(kind: str, turnwright: Turnwright, tmp_path: Path) -> None:
    ended = turnwright("prove", str(foreign(tmp_path)[kind]))
    refused_in_one_line(ended)
    assert "give a question pack" in ended.err


# --- refusals ---------------------------------------------------------------------------------


def refused_in_one_line(ended: Ended) -> None:
    assert (ended.status, ended.out) == (2, "")
    assert len(ended.err.splitlines()) == 1
    assert ended.err.strip()
    assert "Traceback" not in ended.err


BANK = ["--bank", "lantern.yaml"]
PULL = ["solve", "lantern.yaml#pull"]
REFUSED = [
    (["nonsense"], "turnwright: No such command 'nonsense'; see 'turnwright --help'"),
    (["show", "zzz", *BANK], "is called 'zzz'; 'turnwright list' tells them; see 'turnwright show --help'"),
    (["show", "lantern.pull", *BANK, "--figure", "a.gif"], "a.gif: a figure is written as SVG or PNG; let"),
    (["show", "lantern.pull", *BANK, "--figure", "other.svg"], "other.svg: a file of another kind stands"),
    (["pack", *BANK, "--out", "other.svg"], "other.svg: a file of another kind stands there; choose another name, or"),
    (["pack", "--all", *BANK], "--all means the shipped bank; leave the names and --bank out"),
    (["list", *BANK, "--level", "algbra"], "no level is called 'algbra'; did you mean algebra?; see 'turnwright list"),
    (["list", *BANK, "--objective", "zzz"], "no objective is called 'zzz'"),
    (["draft", "banked"], "no family is called 'banked'; known are banked-curve, banked-flight, "),
    (["chek"], "Did you mean 'check'?"),
    (["check", "missing.yaml"], "missing.yaml: there is no such file or folder; name a problem file or a folder"),
    (["list", "lantern.pul", *BANK], "is called 'lantern.pul'; did you mean lantern.pull or"),
    (["list", "zzz", *BANK], "no question, problem or family is called 'zzz'"),
    (["list", "--bank", "missing.yaml"], "there is no such file or folder"),
    (["show"], "Missing argument 'QUESTION'"),
    (["show", "lantern", *BANK], "'lantern' means three questions; name one, such as lantern.least-speed or"),
    (["show", "lantern.pull", *BANK, "--variant", "0"], "Invalid value for '--variant'"),
    (["show", "lantern.pull", *BANK, "--variant", "1769"], "1624 variants exist, 1769 were asked for; ask for at most"),
    (["show", "lantern.pull", *BANK, "--figure", "no/where.svg"], "no/where.svg: its folder does not exist"),
    (["show", "lantern.pull", *BANK, "--g", "ten"], "'ten' is no number; write for example 9.81"),
    (["show", "lantern.pull", *BANK, "--g", "0"], "'0' is not between 0.01 and 1000, with at most six digits"),
    (["show", "lantern.pull", *BANK, "--g", "NaN"], "'NaN' is not between"),
    (["show", "lantern.pull", *BANK, "--g", "9.8000001"], "at most six digits"),
    (["show", "lantern.pull", *BANK, "--seed", "-1"], "Invalid value for '--seed'"),
    (["solve", "lantern.yaml"], "lantern.yaml is a file; name a question in it, as in lantern.yaml#least-speed"),
    (["solve", "lantern.yaml#pul"], "is called 'lantern.pul'; did you mean lantern.pull"),
    (["solve", "lantern.yaml#"], "no question, problem or family is called 'lantern.'"),
    (["solve", "missing.yaml#pull"], "missing.yaml: there is no such file or folder"),
    ([*PULL, *BANK], "lantern.yaml#pull names its own file; leave --bank out"),
    (PULL, "lantern.pull: 'N' can't be found from what is given; give two more, such as m and k"),
    ([*PULL, "--set", "m=1", "--set", "r=1"], "'N' can't be found from what is given; give one of v, v_low, k as well"),
    ([*PULL, *(f"--set={each}" for each in ("m=1", "r=1", "v=4", "k=2"))], "k, r, v already fix each other by"),
    ([*PULL, "--set", "m"], "--set m: this is no setting; write for example --set r=0.9 or --set m=250g"),
    ([*PULL, "--set", "m=heavy"], "--set m=heavy: this is no setting"),
    ([*PULL, "--set", "m=1.2.3"], "'1.2.3' is no number; write for example 0.9 or 6.4e6"),
    ([*PULL, "--set", "m=250s"], "'s' is no unit for m, the mass; expected a unit such as 'kg' or 'g'"),
    ([*PULL, "--set", "theta=3r/min"], "'r/min' is no unit for theta, the angle; expected a unit such as"),
    ([*PULL, "--set", "m=250gram"], "--set m=250gram: found the unknown unit 'gram'; write 'g'"),
    ([*PULL, "--set", "m=-3"], "--set m=-3: m is positive"),
    ([*PULL, "--set", "m=0"], "--set m=0: m is positive"),
    ([*PULL, "--set", "m=1e9999"], "the number is beyond all measure"),
    ([*PULL, "--set", "m=1e9999999"], "'1e9999999' is no number"),
    ([*PULL, "--set", "m=1e58t"], "the number is beyond all measure"),  # the quantity, not its digits
    ([*PULL, "--set", "m=1,5"], "'1,5' is no number; write for example 0.9 or 6.4e6"),
    ([*PULL, "--set", "r=1", "--set", "v=4", "--ask", "N/v"], "N in N and v in m/s have no ratio that is a number"),
    ([*PULL, "--set", "r=1", "--set", "v=4", "--ask", "N/w"], "--ask N/w: lantern has no quantity 'w'; it has r,"),
    ([*PULL, "--set", "m=m_x"], "or a constant: G, c, e, m_e, m_p, m_n, m_alpha or m_u"),
    ([*PULL, "--set", "g=9.8"], "lantern has no quantity 'g'; g is not set; write --g 9.8"),
    ([*PULL, "--set", "m=1e-99"], "the number is beyond all measure"),
    ([*PULL, "--set", "mass=3"], "lantern has no quantity 'mass'; it has r, m, v, v_low, k, theta, N, N_low"),
    ([*PULL, "--set", "m=3", "--set", "m=4"], "--set m=4: 'm' is set twice; leave one out"),
    ([*PULL, "--set", "N=3"], "'N' is asked for and set; leave one of the two out"),
    ([*PULL, "--ask", "q"], "lantern has no quantity 'q'"),
    ([*PULL, "--set", "m=1", "--set", "r=1", "--set", "v=1"], "lantern.pull: "),
    (["solve", "lantern.yaml#low", "--set", "r=1", "--set", "v=1"], "with these numbers N >= 0 is broken; check"),
    (["pack", *BANK, "--variants", "0"], "Invalid value for '--variants'"),
    (["pack", *BANK, "--variants", "1000000000"], "Invalid value for '--variants'"),
    (["pack", *BANK, "--variants", "35"], "lantern.least-speed: 31 variants exist, 35 were asked for"),
    (["pack", *BANK, "--for", "fun"], "'fun' is not one of 'practice', 'exam'"),
    (["pack", *BANK, "--title", ""], "expected up to 200 visible characters"),
    (["pack", *BANK, "--title", "a\x07"], "expected up to 200 visible characters"),
    (["pack", *BANK, "--title", "\udcff"], "expected up to 200 visible characters"),
    (["pack", *BANK, "--varants", "3"], "No such option '--varants'"),
    (["pack", "lantern.lo", *BANK], "did you mean lantern.low"),
    (["pack", *BANK, "--out", "no/where.zip"], "no/where.zip: its folder does not exist; make the folder first"),
    (["pack", *BANK, "--out", "."], ".: it is a folder; name a file to write"),
    (["pack", *BANK, "--out", "lantern.yaml/fair.zip"], "it lies below something that is not a folder"),
]  # fmt: skip


@pytest.mark.parametrize(("arguments", "says"), REFUSED, ids=[" ".join(each[0])[:60] for each in REFUSED])
def test_what_can_not_be_done_is_refused_in_one_line(arguments: list[str], says: str, turnwright: Turnwright) -> None:
    ended = turnwright(*arguments)
    refused_in_one_line(ended)
    assert says in ended.err


@pytest.mark.parametrize(
    "arguments",
    [["--variants", "35"], ["lantern.nope"], ["--for", "fun"], ["--bank", "broken.yaml"]],
    ids=["too many variants", "unknown question", "unknown purpose", "broken bank"],
)
def test_a_failure_leaves_the_file_that_is_there_untouched(
    arguments: list[str], turnwright: Turnwright, tmp_path: Path
) -> None:
    written(tmp_path, varied(("version: 1", "version: 0")), "broken.yaml")
    (tmp_path / "fair.zip").write_bytes(b"last year's pack")
    before = sorted(tmp_path.iterdir())
    ended = turnwright("pack", *BANK, *arguments, "--out", "fair.zip")
    assert (ended.status in (1, 2), ended.out) == (True, "")
    assert sorted(tmp_path.iterdir()) == before
    assert (tmp_path / "fair.zip").read_bytes() == b"last year's pack"


def test_faults_of_a_bank_are_told_by_every_command(turnwright: Turnwright, tmp_path: Path) -> None:
    written(tmp_path, varied(("version: 1", "version: 0"), ("unit: km/h", "unit: knot")), "broken.yaml")
    for arguments in (["list"], ["show", "lantern.low"], ["solve", "lantern.low"], ["pack"]):
        ended = turnwright(*arguments, "--bank", "broken.yaml")
        assert (ended.status, ended.out) == (2, "")
        assert [line.split(": ")[0] for line in ended.err.splitlines()] == ["broken.yaml:2:10", "broken.yaml:39:45"]


# --- the program itself -----------------------------------------------------------------------


def test_help_is_printed_where_nothing_is_asked(turnwright: Turnwright) -> None:
    assert turnwright().out == turnwright("--help").out
    assert turnwright().status == 0
    for name in ("check", "list", "show", "solve", "pack", "prove"):
        ended = turnwright(name, "-h")
        assert (ended.status, ended.err) == (0, "")
        assert "--json" in ended.out


def test_a_full_disk_and_a_closed_pipe_are_no_traceback(
    turnwright: Turnwright, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def fails(error: OSError) -> Callable[..., None]:
        def questions(*_: object) -> None:
            raise error

        return questions

    monkeypatch.setattr(listing, "print_questions", fails(OSError(28, "No space left on device")))
    refused_in_one_line(turnwright("list", *BANK))
    monkeypatch.setattr(listing, "print_questions", fails(BrokenPipeError(32, "Broken pipe")))
    assert turnwright("list", *BANK) == (main.PIPE_CLOSED, "", "")
    monkeypatch.setattr(listing, "print_questions", lambda *_: (_ for _ in ()).throw(KeyboardInterrupt))
    ended = turnwright("list", *BANK)
    assert (ended.status, ended.err.strip()) == (130, "turnwright: stopped; nothing was left half done")


@pytest.mark.parametrize("encoding", ["cp1252", "ascii", "utf-8"])
def test_a_terminal_without_the_letters_gets_escapes_and_valid_json(encoding: str, tmp_path: Path) -> None:
    written(tmp_path)
    environment = {**os.environ, "PYTHONIOENCODING": encoding, "PYTHONUTF8": "0"}
    for json_too in [["--json"]] if encoding == "utf-8" else [[], ["--json"]]:  # utf-8 escapes nothing
        arguments = ["solve", "lantern.yaml#least-speed", "--set", "r=0.9", *json_too]
        started = [sys.executable, "-c", "from turnwright.bank.command.main import main; main()", *arguments]
        ended = subprocess.run(started, cwd=tmp_path, env=environment, capture_output=True, check=False)
        assert (ended.returncode, ended.stderr) == (0, b"")
    data = json.loads(ended.stdout.decode("utf-8" if encoding == "ascii" else encoding))
    assert any("√" in line for step in data["steps"] for line in step["lines"])


def test_the_good_problem_is_what_the_commands_were_tried_with(tmp_path: Path) -> None:
    assert written(tmp_path).read_text("utf-8") == GOOD


# --- other formats ------------------------------------------------------------------------------


def test_pack_writes_every_format_into_a_folder_and_tells_what_became_of_each_kind(
    turnwright: Turnwright, tmp_path: Path
) -> None:
    (tmp_path / "packs").mkdir()
    ended = turnwright(
        "pack", "level-with-the-centre.contact-force", "--kind", "all", "--variants", "1", "--format", "all",
        "--out", "packs",
    )  # fmt: skip
    assert (ended.status, ended.err) == (0, "")
    names = {path.name for path in (tmp_path / "packs").iterdir()}
    assert names >= {"turnwright-qti-3.0.zip", "turnwright-qti-1.2.1.zip", "turnwright-common-cartridge-1.3.imscc"}
    assert "a choice between whole orders" in ended.out
    assert (tmp_path / "packs" / "turnwright-packs.txt").read_text("utf-8") == ended.out
    for name in names - {"turnwright-packs.txt"}:
        assert turnwright("prove", f"packs/{name}").out.splitlines()[-1] == "proved"


def test_pack_in_another_format_tells_a_script_how_each_kind_went(turnwright: Turnwright) -> None:
    arguments = ["pack", "lantern.pull", "--bank=lantern.yaml", "--variants=1", "--kind=number", "--json"]
    data = in_json(turnwright(*arguments, "--format=common-cartridge-1.3"))
    assert data["path"].endswith("turnwright-practice.imscc")
    first = data["carried"][0]
    assert (first["kind"], first["how"], first["items"]) == ("number", "changed", 1)
    data = in_json(turnwright(*arguments, "--format=common-cartridge-1.3", "--numbers=choice"))
    assert data["proof"]["marked_by_kind"] == {"choice": 1}


def test_strict_refuses_to_leave_items_out(turnwright: Turnwright, tmp_path: Path) -> None:
    found = in_json(turnwright("mistakes", "lantern.pull", "--bank", "lantern.yaml", "--json"))["mistakes"]
    reasons = ", ".join(f"{each['id']}: not met in this class" for each in found if each["live_in"])
    written(tmp_path, varied(("level: algebra", f"without: {{{reasons}}}\nlevel: algebra")), "bare.yaml")
    arguments = ["pack", "lantern.pull", "--bank", "bare.yaml", "--variants", "1", "--numbers", "choice"]
    ended = turnwright(*arguments, "--format", "common-cartridge-1.3", "--strict", "--out", "fair.imscc")
    assert (ended.status, ended.out) == (1, ""), ended.err
    assert "common-cartridge-1.3 would leave out number (1): too few wrong numbers" in ended.err
    assert not (tmp_path / "fair.imscc").exists()


def test_an_unknown_format_and_a_missing_folder_are_told(turnwright: Turnwright) -> None:
    ended = turnwright("pack", "--bank", "lantern.yaml", "--format", "qti-1.2")
    assert (ended.status, ended.out) == (2, "")
    assert ended.err.startswith("turnwright: no format is called 'qti-1.2'; known are qti-1.2.1, ")
    assert all(each in ended.err for each in exporters.available())
    ended = turnwright("pack", "--bank", "lantern.yaml", "--format", "all", "--out", "no/where")
    told = "turnwright: no/where: its folder does not exist; make the folder first, or name another\n"
    assert (ended.status, ended.err) == (2, told)


HEAVY = {"jsonschema", "lxml", "numpy", "pandas", "pint", "rich", "scipy", "sympy", "typst", "yaml"}


def test_help_waits_for_no_heavy_library() -> None:
    script = f"import sys; import turnwright.bank.command.main; print(*sorted({HEAVY!r} & set(sys.modules)))"
    found = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert found.stdout.split() == []


def test_help_tells_every_default() -> None:
    silent = [
        f"{command.name} {each.opts[0]}"
        for command in main.COMMANDS
        for each in command.params
        if isinstance(each, click.Option) and not each.required and not each.show_default
        if not each.is_flag or each.secondary_opts
    ]
    assert silent == []


# --- what is told at once, what stays, and what helps ---------------------------------------------


@pytest.mark.parametrize(
    "arguments", [["pack", "--format", "nope"], ["pack", "--kind", "nope"], ["show", "nope"], ["list", "nope"]]
)
def test_what_is_wrong_with_arguments_is_told_before_anything_heavy_is_loaded(arguments: list[str]) -> None:
    script = (
        "import sys; from turnwright.bank.command.main import run; "
        f"print(run({arguments!r}), *sorted({HEAVY!r} & set(sys.modules)))"
    )
    for _ in range(2):  # the index of the shipped bank may have to be made
        found = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert found.stdout.split() == ["2"]


def test_nothing_at_all_packs_a_first_unit_and_says_so_at_once(
    turnwright: Turnwright, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    told: list[str] = []

    def stop(*arguments: Any, **_: Any) -> None:
        told.extend(arguments[1])
        raise KeyboardInterrupt

    monkeypatch.setattr("turnwright.exporters.running.packing.write_pack", stop)
    ended = turnwright("pack")
    assert told == [*pack.FIRST_UNIT]
    assert ended.err.startswith("A first unit, bends in a road (flat-curve and banked-curve)")
    assert "turnwright pack --all" in ended.err
    told.clear()
    ended = turnwright("pack", "--all")
    assert (told, ended.err.strip()) == ([], main.STOPPED)


def test_an_exam_is_not_replaced_without_force(turnwright: Turnwright, tmp_path: Path) -> None:
    arguments = ["pack", "lantern.low", *BANK, "--variants", "1", "--out", "exam.zip"]
    assert turnwright(*arguments, "--for", "exam").status == 0
    before = (tmp_path / "exam.zip").read_bytes()
    ended = turnwright(*arguments)
    refused_in_one_line(ended)
    assert (
        "exam.zip: an exam, or a pack from elsewhere, stands there; choose another name, or replace it with --force"
        in ended.err
    )
    assert (tmp_path / "exam.zip").read_bytes() == before
    assert turnwright(*arguments, "--force").status == 0
    assert turnwright(*arguments).status == 0
    assert (tmp_path / "exam.zip").read_bytes() != before


def test_the_exams_of_all_formats_are_known_from_practice(turnwright: Turnwright, tmp_path: Path) -> None:
    arguments = ["pack", "lantern.low/choice", *BANK, "--variants", "1", "--format", "all", "--out", "packs"]
    for purpose in ("practice", "practice", "exam"):
        assert turnwright(*arguments, "--for", purpose).status == 0
    for path in [each for each in (tmp_path / "packs").iterdir() if each.suffix != ".txt"]:
        with pytest.raises(FileError, match="an exam, or a pack from elsewhere"):
            free_for(path, path.suffix, force=False)


def test_a_figure_is_written_as_png_where_its_name_says_so(turnwright: Turnwright, tmp_path: Path) -> None:
    assert turnwright("show", "lantern.pull", *BANK, "--figure", "a.png").status == 0
    assert (tmp_path / "a.png").read_bytes().startswith(b"\x89PNG")


def test_lists_are_filtered_and_tell_what_can_be_named(turnwright: Turnwright) -> None:
    def ids(*options: str) -> list[str]:
        return [line.split("\t")[0] for line in turnwright("list", *BANK, *options).out.splitlines()]

    assert ids("--level", "algebra", "--family", "vertical-circle") == [
        "lantern.least-speed",
        "lantern.pull",
        "lantern.low",
    ]
    objective = next(iter(in_json(turnwright("names", "objectives", *BANK, "--json"))["objectives"]))
    assert len(ids("--objective", objective)) == len(ids("--objective", objective.partition(".")[0])) == 3
    assert turnwright("names", "families", *BANK).out == "vertical-circle  three questions\n"
    assert turnwright("names", "kinds").out.startswith("number      about a question, answered by a number\n")
    assert "\nkm   kilometres\n" in turnwright("names", "units").out
    told = in_json(turnwright("names", "formats", "--json"))["formats"]
    assert tuple(told) == exporters.available()
    shown = " ".join(turnwright("pack", "--help").out.split())
    assert f"Format of the pack: {', '.join(told)}; or all" in shown


@pytest.mark.parametrize("family", drafting._families())
def test_a_draft_of_every_family_is_a_problem_of_its_own_that_is_explained(
    family: str, turnwright: Turnwright, tmp_path: Path
) -> None:
    assert turnwright("draft", family, "--out", "mine").status == 0
    path = tmp_path / "mine" / f"my-{family}.yaml"
    problem = read_problem(path)
    assert (problem.id, problem.family) == (f"my-{family}", family)
    text = path.read_text("utf-8")
    assert text.startswith("# yaml-language-server: $schema=schemas/problem.json\n")
    assert (tmp_path / "mine" / "schemas" / "problem.json").is_file()
    assert "\n# The force diagrams: one for each body" in text or not problem.diagrams
    shown = re.search(r"turnwright show --bank (\S+) (\S+)' one", text)
    assert shown and shown[1] == f"mine/my-{family}.yaml"
    assert shown[2] in [f"{problem.id}.{each.name}" for each in problem.questions]
    refused_in_one_line(turnwright("draft", family, "--out", "mine"))


def test_completion_is_printed_and_installed(
    turnwright: Turnwright, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    for shell in ("bash", "zsh", "fish"):
        shown = turnwright("completion", shell).out
        assert "_TURNWRIGHT_COMPLETE" in shown
        ended = turnwright("completion", shell, "--install")
        assert ended.status == 0
        written_to = Path(ended.out.partition(":")[0])
        assert written_to.read_text("utf-8").strip() == shown.strip()
        assert written_to.is_relative_to(tmp_path)


def test_progress_in_a_pipe_is_a_line_now_and_then(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    clock = iter(range(0, 1000, 2))
    monkeypatch.setattr(printing, "FIRST_LINE", 5.0)
    monkeypatch.setattr(printing.time, "monotonic", lambda: float(next(clock)))
    with printing.progress("Solving", 20) as done:
        for _ in range(20):
            done(1)
    lines = capsys.readouterr().err.splitlines()
    assert lines[0] == "Solving: 3 of 20, about 34 s left"
    assert 2 <= len(lines) <= 4
