"""Problem files to problems: every fault of every file in one run, at its place, with what would be right."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from importlib import resources
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from turnwright.bank.documents.document import LARGEST_FILE
from turnwright.bank.documents.shape import FORMS
from turnwright.bank.errors import BankFaultsError, FileError
from turnwright.bank.reading.files import collect, problem_files, read_bank, read_problem, shipped_files

from tests.bank.problems import GOOD, place, read, varied, written


def test_the_good_problem_has_no_fault() -> None:
    assert read(GOOD).faults == []


# --- one fault --------------------------------------------------------------------------------


def blocks() -> Iterator[tuple[str, list[tuple[str, str]], str, list[str], int]]:
    """Name, changes, place, messages and number of faults of each block of the file beside this one."""
    for block in Path(__file__).with_name("faults.txt").read_text("utf-8").split("\n# ")[1:]:
        name, *lines = block.strip().split("\n")
        texts: list[tuple[str, str]] = []
        for line in lines:
            sign, text = line[:1], line[2:]
            joined = texts and texts[-1][0] == sign and sign != "="
            texts[-1:] = [(sign, f"{texts[-1][1]}\n{text}")] if joined else [*texts[-1:], (sign, text)]
        by = {sign: [text for each, text in texts if each == sign] for sign in "-+@=*"}
        yield name, list(zip(by["-"], by["+"], strict=True)), by["@"][0], by["="], int((by["*"] or ["1"])[0])


@pytest.mark.parametrize(
    ("changes", "at", "says", "faults"), [pytest.param(*each[1:], id=each[0]) for each in blocks()]
)
def test_one_slip_is_told_once_at_its_place(
    changes: list[tuple[str, str]], at: str, says: list[str], faults: int
) -> None:
    text = varied(*changes)
    document = read(text)
    assert len(document.faults) == faults, "\n".join(map(str, document.faults))
    found = [each for each in document.faults if (each.place.line, each.place.column) == place(text, at)]
    assert found, document.faults
    assert all(part in str(found[0]) for part in says), found[0]


def test_every_form_of_text_in_the_schemas_has_words() -> None:
    """All but what only decides which form is meant, under ``if``."""

    def patterns(part: Any) -> Iterator[str]:
        if isinstance(part, dict):
            yield from [part["pattern"]] if isinstance(part.get("pattern"), str) else []
            for each in (value for key, value in part.items() if key != "if"):
                yield from patterns(each)
        elif isinstance(part, list):
            for each in part:
                yield from patterns(each)

    files = [each for each in resources.files("turnwright.schemas").iterdir() if each.name.endswith(".json")]
    assert {pattern for each in files for pattern in patterns(json.loads(each.read_text("utf-8")))} <= set(FORMS)


# --- many faults ------------------------------------------------------------------------------


def test_faults_of_every_kind_in_several_files_are_told_in_one_run(tmp_path: Path) -> None:
    many = varied(
        ("version: 1", "version: one"),  # the schema
        ("      pull-low: {kind: c", "      wind: {kind: lift, symbol: N}\n      pull-low: {kind: c"),  # no direction
        ("N = k*m*g", "N = k^2*m*g"),  # a formula
        ("that: N >= 0", "that: N + v >= 0"),  # dimensions
        ("unit: g, draw: [120", "unit: gram, draw: [120"),  # a unit
        ("step: 0.25}", "step: 0.35}"),  # a draw
        ("acts: pushes}\n    quantities", "act: pushes}\n    quantities"),  # an unknown field
        ("ask: v_low", "ask: v_below"),  # a symbol
        ("magnitude of {the pull}.", "magnitude of {the push}."),  # a slot
    )
    good = written(tmp_path, varied(("id: lantern", "id: lamp")), "d.yaml")
    broken = written(tmp_path, "id: [lantern\n", "b.yaml")
    bytes_ = written(tmp_path, b"id: \xff\n", "c.yaml")
    problems, faults = collect([written(tmp_path, many, "a.yaml"), broken, bytes_, good])
    lines = [f"{Path(each.place.file).name}:{each.place.line}:{each.place.column}" for each in faults]
    pieces = (
        "one\n", "{kind: lift, symbol: N}\n", "^2*", "N + v", "gram,", "{from: 0.50", "forces:\n      pull: {kind: t",
        "forces:\n      pull: {kind: n", "act: pushes}", "{the push}.", "v_below",
    )  # fmt: skip
    assert lines == [*("a.yaml:{}:{}".format(*place(many, each)) for each in pieces), "b.yaml:2:1", "c.yaml:1:5"]
    assert [problem.document.file for problem in problems] == [str(tmp_path / "d.yaml")]


def test_a_fault_of_yaml_does_not_hide_those_of_the_rest(tmp_path: Path) -> None:
    text = varied(
        ("version: 1\n", "version: 1\nversion: 2\n"),
        ("ask: v_low", "ask: w"),
        ("draw: [120, 160, 240, 360]", "draw: &d [120]"),
    )
    assert [(each.place.line, each.place.column) for each in collect([written(tmp_path, text)])[1]] == [
        place(text, "version: 2"), place(text, "&d"), place(text, "w\n    given"),
    ]  # fmt: skip


def test_an_id_is_taken_once_whatever_else_is_wrong(tmp_path: Path) -> None:
    first, second = written(tmp_path, GOOD, "a.yaml"), written(tmp_path, varied(("version: 1", "version: 0")), "b.yaml")
    _, faults = collect([first, second])
    assert [f"{Path(each.place.file).name} {each.wrong}" for each in faults] == [
        f"b.yaml id: 'lantern' is taken by {first}:1:5",
        "b.yaml version: found '0'",
    ]


def test_all_faults_are_raised_at_once(tmp_path: Path) -> None:
    with pytest.raises(BankFaultsError) as error:
        read_bank([written(tmp_path, "a: 1", "a.yaml"), written(tmp_path, "", "b.yaml")])
    assert len(error.value.faults) == len(str(error.value).splitlines()) > 10
    assert read_problem(written(tmp_path)).id == "lantern"


# --- files ------------------------------------------------------------------------------------


def test_a_folder_stands_for_its_problem_files_and_each_counts_once(tmp_path: Path) -> None:
    (tmp_path / "deep" / "folder.yaml").mkdir(parents=True)
    one, two = written(tmp_path, GOOD, "one.yml"), written(tmp_path / "deep", GOOD, "two.YAML")
    written(tmp_path, "no problem", "notes.txt")
    (tmp_path / "loop").symlink_to(tmp_path)
    assert problem_files([tmp_path]) == [two, one]
    assert problem_files([one, tmp_path, one]) == [one, two]


def test_a_path_that_leads_to_no_problem_is_refused(tmp_path: Path) -> None:
    (tmp_path / "self").symlink_to(tmp_path / "self")
    for name, message in (
        ("missing", "there is no such file or folder; name a problem file or a folder of them"),
        ("", "there is no problem file in this folder; problem files end in .yaml"),
        ("self", "there is no such file or folder"),
        ("a" * 300, "it can't be read .File name too long."),
    ):
        with pytest.raises(FileError, match=message):
            problem_files([tmp_path / name])


def test_places_are_told_from_here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    written(tmp_path, "a: 1", "a.yaml")
    monkeypatch.chdir(tmp_path)
    assert str(collect([Path("a.yaml")])[1][0]).startswith("a.yaml:1:1: ")
    os.chdir("/")
    assert str(collect([tmp_path / "a.yaml"])[1][0]).startswith(str(tmp_path / "a.yaml").lstrip("/"))


# --- whatever a file holds --------------------------------------------------------------------

SIGNS = "{}[]:,-#&*!|>'\"%@`\n\t \\ \x00 \u200b \r é θ"
WORDS = [
    "g",
    "v",
    "N",
    "None",
    "true",
    "null",
    "-1",
    "0",
    "1e30",
    "1e99",
    "**",
    "sin(r)",
    "{}",
    "[]",
    "{r}",
    "rest",
    "space",
    "horizontal",
    "..",
    "---",
    "unit:1",
]
PIECES = st.sampled_from([*SIGNS, *WORDS, "{a load}", "9" * 30])


TEXTS = [GOOD, *(path.read_text("utf-8") for path in shipped_files())]


@st.composite
def spoilt(draw: st.DrawFn) -> str:
    """The good text, or a shipped one, with some pieces cut out, put in or doubled."""
    text = draw(st.sampled_from(TEXTS))
    for _ in range(draw(st.integers(1, 4))):
        start = draw(st.integers(0, len(text)))
        stop = min(len(text), start + draw(st.sampled_from([0, 0, 1, 2, 5, 12, 60, 400])))
        text = text[:start] + draw(PIECES | st.just(text[start:stop] * 2) | st.just("")) + text[stop:]
    return text


@given(spoilt())
@settings(deadline=None, max_examples=150, suppress_health_check=[HealthCheck.too_slow])
def test_a_spoilt_problem_is_a_problem_or_has_faults(text: str) -> None:
    document = read(text.encode())
    problem_or_faults = bool(document.faults) or document.whole
    assert problem_or_faults
    assert all("\n" not in str(fault) and len(str(fault)) < 1000 for fault in document.faults)


@given(st.data())
@settings(deadline=None, max_examples=100, suppress_health_check=[HealthCheck.too_slow])
def test_a_problem_with_any_value_anywhere_is_a_problem_or_has_faults(data: st.DataObject) -> None:
    whole = json.loads(json.dumps(read(GOOD).data, default=float))
    values = st.recursive(
        st.none()
        | st.booleans()
        | st.integers(-5, 10**6)
        | st.sampled_from(["", "g", "N", "r", "top", "rest", "N = 0", "a", "1", "the x"]),
        lambda inner: (
            st.lists(inner, max_size=3)
            | st.dictionaries(st.sampled_from(["r", "from", "to", "N", "top", "unit"]), inner, max_size=3)
        ),
        max_leaves=6,
    )
    for _ in range(data.draw(st.integers(1, 3))):
        part, steps = whole, data.draw(st.integers(1, 5))
        for left in range(steps, 0, -1):
            keys = list(range(len(part))) if isinstance(part, list) else sorted(part)
            if not keys:
                break
            key = data.draw(st.sampled_from(keys))
            if left == 1 or not isinstance(part[key], dict | list):
                part[key] = data.draw(values)
                break
            part = part[key]
    document = read(json.dumps(whole))
    assert document.whole


@pytest.mark.parametrize(
    "text",
    [
        varied(("[120, 160, 240, 360]", "[" + "{a: [1, 2]}, " * 450 + "]")),
        varied(("given: [m, r, v]", "given: [" + "{a: 1}, " * 450 + "]")),
        varied(("N = k*m*g", "N = " + "*".join(f"(k+{at})" for at in range(30)))),
        varied(("limiting: N = 0", "limiting: " + "*".join(f"(k+{at})" for at in range(5)) + " = 0")),
        varied(("id: lantern", "id: " + "a-" * 9000)),
        varied(("id: lantern", "id: lantern\n" + "\n".join(f"field{at}: 1" for at in range(4000)))),
        varied(("on {a cord}.", "{" * 500 + "}" * 9)),
    ],
    ids=["mixed draw", "mixed list", "long product", "long limit", "long id", "many unknown fields", "braces"],
)
def test_no_problem_takes_long_to_refuse(text: str) -> None:
    assert len(text) < LARGEST_FILE
    faults = read(text).faults
    assert faults
    assert not [each for each in faults if "processor time" in each.wrong], "it was ended, and did not end"


def test_an_enemy_that_a_problem_of_the_bank_does_not_ask_is_told_at_its_place(tmp_path: Path) -> None:
    text = varied(("ask: N", "ask: N\n    enemies: [lantern.pushed, lantern.low, elsewhere.pull]"))
    (fault,) = collect([written(tmp_path, text, "lantern.yaml")])[1]
    assert (fault.place.line, fault.place.column) == place(text, "lantern.pushed")
    assert fault.wrong.endswith("no question is called 'lantern.pushed'")


def test_another_spelling_of_a_unit_is_the_unit(tmp_path: Path) -> None:
    """A scene that spells the unit of the problem otherwise takes its values over."""
    text = varied(
        ("speed at the bottom, unit: km/h", "speed at the bottom, unit: kph"),
        ("means: angle, unit: deg", 'means: angle, unit: "°"'),
        ("{unit: cm, draw: {from: 40, to: 80, step: 2}, plausible: {from: 20, to: 200}}\n",
         "{unit: cm, draw: {from: 40, to: 80, step: 2}, plausible: {from: 20, to: 200}}\n      v_low: {unit: km/hr}\n"),
    )  # fmt: skip
    problem = read_problem(written(tmp_path, text))
    assert problem.quantities["v_low"].unit.printed == "km/h"
    assert problem.spec("v_low", problem.scenes[1]) == problem.quantities["v_low"]
