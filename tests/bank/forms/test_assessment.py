"""Whole assessments: from the shipped bank to forms, packs, a manifest, and the same keys again."""

from __future__ import annotations

import json
import shutil
import time
from collections import Counter
from importlib import resources
from pathlib import Path

import pytest
from turnwright import schemas
from turnwright.bank.command.main import run
from turnwright.bank.forms.assessment import Assessment, assess
from turnwright.bank.forms.blueprint_reader import read_blueprint
from turnwright.bank.forms.candidate import Candidate, candidates
from turnwright.bank.forms.choosing import clash
from turnwright.bank.forms.demand import thinking_of
from turnwright.bank.forms.enemies import derived
from turnwright.bank.forms.measured import measured
from turnwright.bank.forms.pool import fits
from turnwright.bank.forms.prediction import Features, predicted_facility
from turnwright.bank.model.problem import Problem
from turnwright.bank.questions.selection import all_questions
from turnwright.bank.reading.files import read_bank
from turnwright.bank.reading.mistakes import shipped_mistakes
from turnwright.bank.solving.cache import solved_question

from tests.bank import models

FAIR = Path(str(resources.files("turnwright.bank") / "blueprints" / "fair.yaml"))
FAMILIES = ("flat-curve", "wall-ride", "centrifuge")
SMALL = """\
id: small-fair
title: A small fair
forms: 2
questions: 5
seed: 11
kinds: [number, choice, diagram, equation, forces, expression]
minutes: {from: 10, to: 30}
rows:
  - {thinking: [recall, qualitative], count: {from: 1, to: 2}}
  - {thinking: [one-step, multi-step], count: {from: 3, to: 4}}
"""


def all_candidates(problems: tuple[Problem, ...]) -> tuple[Candidate, ...]:
    solved = [solved_question(*each) for each in all_questions(problems)]
    return candidates(solved, shipped_mistakes(), problems, measured(problems))


@pytest.fixture(scope="module")
def fair() -> Assessment:
    """The shipped blueprint with the shipped bank; how long it takes is printed, not judged."""
    start = time.perf_counter()
    solved = [each.solved for each in models.questions()]  # of which other tests have made the most
    problems = tuple(models.shipped_problems().values())
    found = candidates(solved, shipped_mistakes(), problems, measured(problems))
    middle = time.perf_counter()
    made = assess(read_blueprint(FAIR), found)
    print(f"\nbank {middle - start:.1f} s, forms and variants {time.perf_counter() - middle:.1f} s")
    print(f"optimality gap {made.assembled.gap:.3f} of {made.assembled.difference:.3f}")
    return made


def test_four_forms_of_twenty_from_the_shipped_bank_keep_every_line_of_the_blueprint(fair: Assessment) -> None:
    wanted = fair.blueprint
    assert [len(form.questions) for form in fair.forms] == [20] * 4
    for form in fair.forms:
        chosen = [each.candidate for each in form.questions]
        for row in wanted.rows:
            number = sum(fits(row, each) for each in chosen)
            assert (row.count.low or 0) <= number <= (row.count.high or 20), (form.name, row.words)
        assert 55 <= sum(each.item.metadata.minutes for each in form.questions) <= 65
        assert 0.55 <= sum(each.facility for each in chosen) / 20 <= 0.65
        assert max(Counter(each.equation for each in chosen).values()) <= 2
        assert {each.kind for each in chosen} <= set(wanted.kinds)
        scenes = [(each.candidate.problem, each.scene) for each in form.questions]
        assert len(set(scenes)) == 20
        assert derived(chosen) == ()
        pairs = [(a, b) for at, a in enumerate(form.questions) for b in form.questions[at + 1 :]]
        assert not any(clash(wanted, *pair) for pair in pairs)
    ids = [each.candidate.id for form in fair.forms for each in form.questions]
    assert len(set(ids)) == 80


def test_forms_from_the_shipped_bank_are_alike(fair: Assessment) -> None:
    assert fair.assembled.gap < 1e-5
    assert max(form.facility for form in fair.forms) - min(form.facility for form in fair.forms) < 0.01
    assert max(form.minutes for form in fair.forms) - min(form.minutes for form in fair.forms) <= 1
    letters = [Counter(form.letters) for form in fair.forms]
    assert all(abs(a[letter] - b[letter]) <= 2 for a in letters for b in letters for letter in "ABCDE")


@pytest.fixture(scope="module")
def bank(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small bank of our own, which tests may change."""
    folder = tmp_path_factory.mktemp("bank")
    for name in FAMILIES:
        shutil.copytree(Path(str(resources.files("turnwright.bank") / "problems" / name)), folder / name)
    return folder


def made_in(folder: Path, bank: Path, *options: str, text: str = SMALL) -> dict[str, object]:
    """The manifest that the command leaves."""
    folder.mkdir()
    (folder / "small.yaml").write_text(text, "utf-8")
    assert run(["form", str(folder / "small.yaml"), "--out", str(folder), "--bank", str(bank), *options]) == 0
    data: dict[str, object] = json.loads((folder / "assessment.json").read_text("utf-8"))
    return data


def test_the_command_leaves_proved_packs_papers_and_a_manifest_of_its_schema(
    tmp_path: Path, bank: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    from jsonschema import Draft202012Validator

    data = made_in(tmp_path / "a", bank, "--paper")
    told = capsys.readouterr().out
    assert "ten items read back and marked" in told
    assert "Facility: predicted." in told
    assert "optimality gap 0.00" in told
    Draft202012Validator(schemas.load("assessment")).validate(data)
    assert sorted(path.name for path in (tmp_path / "a").iterdir()) == [
        "assessment.json", "form-A-marking.pdf", "form-A-qti-3.0.zip", "form-A.pdf",
        "form-B-marking.pdf", "form-B-qti-3.0.zip", "form-B.pdf", "small.yaml",
    ]  # fmt: skip
    made_in(tmp_path / "b", bank, "--paper")
    for path in (tmp_path / "a").iterdir():
        assert path.read_bytes() == (tmp_path / "b" / path.name).read_bytes(), path.name


def test_a_manifest_gives_its_keys_again_and_tells_what_the_bank_has_changed(
    tmp_path: Path, bank: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    data = made_in(tmp_path / "a", bank)
    file = str(tmp_path / "a" / "assessment.json")
    assert run(["form", "--check", file, "--bank", str(bank)]) == 0
    assert "10 of 10 items come out with the same stem and key; the bank is the same." in capsys.readouterr().out
    items = [(form["form"], item) for form in data["forms"] for item in form["items"]]  # type: ignore[attr-defined]
    name, asked = next((form, item) for form, item in items if item["kind"] == "number")
    asked["key"]["number"], asked["fingerprint"] = "1234", "0" * 64
    Path(file).write_text(json.dumps(data), "utf-8")
    assert run(["form", "--check", file, "--bank", str(bank)]) == 1
    told = capsys.readouterr().out
    assert f"form {name}, question " in told
    unit = f" {asked['key']['unit']}".rstrip()
    assert f"({asked['question']}): the key was 1234{unit} and is " in " ".join(told.split())
    assert "9 of 10 items" in told
    asked["question"] = "flat-bend.no-such"
    Path(file).write_text(json.dumps(data), "utf-8")
    assert run(["form", "--check", file, "--bank", str(bank)]) == 1
    assert "the bank has no such question now" in capsys.readouterr().out


def test_anchors_stand_in_all_forms_in_the_same_variant(tmp_path: Path, bank: Path) -> None:
    first = read_bank(sorted(bank.rglob("*.yaml")))[0]
    asked = f"{first.id}.{first.questions[0].name}"
    data = made_in(tmp_path / "a", bank, text=f"{SMALL}anchors: [{asked}]\n")
    forms = [{item["question"]: item for item in form["items"]} for form in data["forms"]]  # type: ignore[attr-defined]
    assert set(forms[0]) & set(forms[1]) == {asked}
    assert forms[0][asked]["fingerprint"] == forms[1][asked]["fingerprint"]


def test_a_measured_facility_stands_in_place_of_a_predicted_one(
    tmp_path: Path, bank: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    copy = tmp_path / "bank"
    shutil.copytree(bank, copy)
    file = next(copy.rglob("flat-bend.yaml"))
    statistics = file.with_name("flat-bend.statistics.json")
    names = [each.name for each in read_bank([file])[0].questions]
    entry = {"facility": 0.625, "n": 143, "date": "2026-11-20"}
    few = {"facility": 0.01, "n": 12, "date": "2026-11-20"}
    statistics.write_text(json.dumps({names[0]: entry, names[1]: few}), "utf-8")
    found = {each.id: each for each in all_candidates(read_bank([file]))}
    known, unknown = found[f"flat-bend.{names[0]}"], found[f"flat-bend.{names[1]}"]
    assert (known.facility, known.measured and known.measured.n) == (0.625, 143)
    assert unknown.measured is None
    assert unknown.facility > 0.1
    made_in(tmp_path / "a", copy, text=f"{SMALL}anchors: [{known.id}]\n")
    assert "measured for 2 of 10 questions, predicted for the others" in capsys.readouterr().out
    statistics.write_text('{"a": {"facility": 1.5, "n": 3}}', "utf-8")
    assert run(["form", str(tmp_path / "a" / "small.yaml"), "--out", str(tmp_path), "--bank", str(copy)]) == 2
    told = capsys.readouterr().err
    assert "flat-bend.statistics.json:1:" in told
    assert "expected 1 or less" in told


@pytest.mark.parametrize(
    ("options", "told"),
    [
        ([], "name a blueprint to make forms from, or a manifest with --check"),
        (["no.yaml"], "no.yaml:1:1: the file can't be read"),
        (["--check", "broken.json"], "broken.json:1:2: this is no JSON"),
        (["--check", "list.json"], "list.json:1:1: found an empty list; expected a mapping"),
    ],
)
def test_bad_input_is_told_in_plain_words(
    options: list[str], told: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("broken.json").write_text("{a", "utf-8")
    Path("list.json").write_text("[]", "utf-8")
    assert run(["form", *options]) == 2
    assert told in capsys.readouterr().err


def test_more_to_do_is_predicted_to_be_harder_and_a_guess_helps() -> None:
    easy, hard = Features(steps=1), Features(steps=3, conversions=1, limiting=1, two_axes=1, angle=1)
    assert predicted_facility("number", easy) > predicted_facility("number", hard)
    assert predicted_facility("choice", hard) > predicted_facility("number", hard) > 0
    assert [thinking_of("number", 1), thinking_of("choice", 2), thinking_of("forces", 3), thinking_of("change", 4)] == [
        "one-step", "multi-step", "recall", "qualitative",
    ]  # fmt: skip
