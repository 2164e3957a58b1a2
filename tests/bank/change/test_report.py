"""What `diff` prints, for a person and for a script."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from turnwright.bank.command.change import shortened
from turnwright.bank.command.main import run
from turnwright.bank.reading.files import shipped_files

TOP = next(each for each in shipped_files() if each.stem == "over-the-top").read_text(encoding="utf-8")


@pytest.fixture
def _two_banks(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name, text in (("old", TOP), ("new", _changed(TOP))):
        (tmp_path / name).mkdir()
        (tmp_path / name / "top.yaml").write_text(text, encoding="utf-8")
    monkeypatch.chdir(tmp_path)


def _changed(text: str) -> str:
    for old, new in (
        ("limiting: N = 0", "limiting: 2*N = m*g"),
        ("that: N >= 0", "that: 2*N >= m*g"),
        ("on a light inextensible cord", "on a thin light cord"),
        ("    minutes: 3\n", "    minutes: 5\n"),
    ):
        assert text.count(old) == 1
        text = text.replace(old, new)
    return text


@pytest.mark.usefixtures("_two_banks")
def test_changes_are_told_question_by_question(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["diff", "old", "new"]) == 1
    lines = capsys.readouterr().out.splitlines()
    assert lines[:13] == [
        "over-the-top",
        "  reworded    story in the scene cords: … vertical circle on a light inextensible cord. Air resistance is … → "
        "… vertical circle on a thin light cord. Air resistance is …",
        "over-the-top.least-speed",
        "  key         closed form: v = √(g r) → v = √(3 g r/2)",
        "                 for r = 160 m, g = 9.81 N/kg (aerobatic-loop): 39.6 m/s within 0.805 → 48.5 m/s within 0.975",
        "  distractor  gained weight-left-out: nothing → √(½ g r)",
        "              other numbers from outward-force-and-m-a, half-of-m-v-squared, speed-not-squared, "
        "radius-squared, root-not-taken, gravity-left-out, "
        "angular-speed-for-the-speed",
        "  metadata    minutes: 3 → 5",
        "over-the-top.pull-at-the-top",
        "  key         what holds: N >= 0 → 2*N >= m*g",
        "                 for m = 88.0 kg, r = 200 m, v = 52.0 m/s, g = 9.81 N/kg (aerobatic-loop): "
        "326 N within 6.65 → none, 2*N >= m*g is broken",
        "over-the-top.speed-from-force",
        "  key         what holds: N >= 0 → 2*N >= m*g",
    ]
    assert lines[-2:] == [
        "new/top.yaml:3:10: version: still 1, though this changed: story in the scene cords of over-the-top, "
        "closed form of least-speed, what holds of pull-at-the-top and more; raise it to 2",
        "five questions compared: 5 with another key, 1 reworded, 1 with other distractors, 1 with other metadata; "
        "one version to raise",
    ]


@pytest.mark.usefixtures("_two_banks")
def test_a_script_gets_each_change_with_its_variant(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["diff", "old", "new", "--json"]) == 1
    data = json.loads(capsys.readouterr().out)
    assert (data["old"], data["new"]) == ("old", "new")
    (form,) = (each for each in data["changes"] if each["what"] == "closed form")
    assert form == {
        "where": "over-the-top.least-speed",
        "problem": "over-the-top",
        "question": "least-speed",
        "kind": "key",
        "what": "closed form",
        "old": "v = √(g r)",
        "new": "v = √(3 g r/2)",
        "needs_version": True,
        "variant": {
            "scene": "aerobatic-loop",
            "given": {"r": "160 m", "g": "9.81 N/kg"},
            "old_key": "39.6 m/s within 0.805",
            "new_key": "48.5 m/s within 0.975",
        },
    }
    assert [(each["file"], each["line"], each["right"]) for each in data["versions"]] == [
        ("new/top.yaml", 3, "raise it to 2")
    ]


def test_long_texts_are_cut_to_the_words_that_differ() -> None:
    old = "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen"
    assert shortened(old, old.replace("eight ", "")) == (
        "… four five six seven eight nine ten eleven twelve …",
        "… four five six seven nine ten eleven twelve …",
    )
    assert shortened("short", "also short") == ("short", "also short")
