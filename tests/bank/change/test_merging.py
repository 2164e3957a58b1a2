"""Two banks put into one folder: conflicts, duplicates, licences, and a target that is whole or not there."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from turnwright.bank.change import writing
from turnwright.bank.change.licences import TERMS, clashes
from turnwright.bank.change.likeness import likeness, words_of
from turnwright.bank.command.main import run
from turnwright.bank.errors import FileError
from turnwright.bank.reading.files import collect, problem_files, shipped_files

from tests.bank.problems import GOOD, varied, written

SHIPPED = {each.stem: each.read_text(encoding="utf-8") for each in shipped_files()}


@pytest.fixture
def banks(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with two banks, ``ours`` with the good problem and ``theirs`` with a problem on a table."""
    for name in ("ours/vertical-circle", "theirs"):
        (tmp_path / name).mkdir(parents=True)
    written(tmp_path / "ours" / "vertical-circle")
    written(tmp_path / "theirs", SHIPPED["on-a-turntable"], "table.yaml")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def files(folder: Path) -> dict[str, bytes]:
    return {each.relative_to(folder).as_posix(): each.read_bytes() for each in folder.rglob("*") if each.is_file()}


def merged(capsys: pytest.CaptureFixture[str], *options: str, status: int = 0) -> dict[str, list[dict[str, object]]]:
    capsys.readouterr()
    assert run(["merge", "ours", "theirs", "--out", "both", "--json", *options]) == status
    found: dict[str, list[dict[str, object]]] = json.loads(capsys.readouterr().out)
    return found


def kinds(found: dict[str, list[dict[str, object]]]) -> set[object]:
    return {each["kind"] for each in found["notes"]}


def test_each_file_is_copied_byte_by_byte_into_the_folder_of_its_family(
    banks: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    found = merged(capsys)
    assert files(banks / "both") == {
        "vertical-circle/lantern.yaml": GOOD.encode(),
        "turntable/table.yaml": SHIPPED["on-a-turntable"].encode(),
    }
    assert (found["conflicts"], found["notes"]) == ([], [])
    assert sorted(each.name for each in banks.iterdir()) == ["both", "ours", "theirs"]


def test_the_same_bank_twice_is_that_bank(banks: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["merge", "ours", "ours", "--out", "both"]) == 0
    assert capsys.readouterr().out == "both: one problem file\n"
    assert files(banks / "both") == files(banks / "ours")
    assert run(["diff", "ours", "both"]) == 0


def test_one_id_with_other_content_is_told_with_both_places_and_left_out(
    banks: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    written(banks / "theirs", varied(("    ask: v\n", "    ask: v\n    figures: 2\n")))
    found = merged(capsys, status=1)
    assert found["conflicts"] == [
        {
            "problem": "lantern",
            "first": "ours/vertical-circle/lantern.yaml:1:5",
            "second": "theirs/lantern.yaml:1:5",
            "differ_in": ["key"],
            "taken": None,
        }
    ]
    assert found["left_out"] == ["lantern"]
    assert list(files(banks / "both")) == ["turntable/table.yaml"]


@pytest.mark.parametrize("side", ["first", "second"])
def test_a_conflict_is_decided_by_the_user_alone(banks: Path, capsys: pytest.CaptureFixture[str], side: str) -> None:
    other = varied(("version: 1", "version: 2"))
    written(banks / "theirs", other)
    found = merged(capsys, "--prefer", side)
    assert (found["conflicts"][0]["differ_in"], found["conflicts"][0]["taken"]) == (["version"], side)
    assert files(banks / "both")["vertical-circle/lantern.yaml"] == (GOOD if side == "first" else other).encode()


def test_own_mistakes_and_exclusions_make_a_conflict_too(banks: Path, capsys: pytest.CaptureFixture[str]) -> None:
    written(banks / "theirs", GOOD + "without: {diameter-as-radius: It is drawn here.}\n")
    assert merged(capsys, status=1)["conflicts"][0]["differ_in"] == ["distractor"]


def test_own_mistakes_of_one_name_and_two_meanings_are_told(banks: Path, capsys: pytest.CaptureFixture[str]) -> None:
    own = "mistakes: {{elbow: {{thinking: {}, edit: {{answer: 2*x}}, feedback: Look., source: our own}}}}\n"
    written(banks / "ours", GOOD + own.format("I double it."), "vertical-circle/lantern.yaml")
    written(banks / "theirs", SHIPPED["on-a-turntable"] + own.format("I take it twice."), "table.yaml")
    assert [each["where"] for each in merged(capsys)["notes"] if each["kind"] == "mistake"] == [
        ["lantern", "on-a-turntable"]
    ]


def test_another_layout_of_the_same_problem_is_no_conflict(banks: Path, capsys: pytest.CaptureFixture[str]) -> None:
    written(banks / "theirs", "# a remark\n" + GOOD)
    found = merged(capsys)
    assert (found["conflicts"], kinds(found)) == ([], {"same"})
    assert files(banks / "both")["vertical-circle/lantern.yaml"] == GOOD.encode()


def test_two_files_of_one_path_get_apart_and_that_is_told(banks: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (banks / "theirs" / "Vertical-circle").mkdir()
    written(banks / "theirs", SHIPPED["big-wheel"], "Vertical-circle/LANTERN.yaml")
    found = merged(capsys)
    assert sorted(files(banks / "both")) == [
        "Vertical-circle/big-wheel.yaml", "turntable/table.yaml", "vertical-circle/lantern.yaml",
    ]  # fmt: skip
    assert "renamed" in kinds(found)


def test_the_same_equation_in_other_words_is_told_and_kept(banks: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A dip of a road and the bottom of a vertical circle are one problem: F - m g = m v²/r."""
    written(banks / "ours", SHIPPED["through-the-dip"], "dip.yaml")
    written(banks / "theirs", SHIPPED["through-the-bottom"], "bottom.yaml")
    found = merged(capsys)
    (note,) = (each for each in found["notes"] if each["kind"] == "same equation")
    assert note["where"] == [
        "through-the-dip.normal-force",
        "through-the-bottom.pull-at-the-bottom",
        "through-the-dip.speed-from-force",
        "through-the-bottom.speed-from-force",
    ]
    assert kinds(found) == {"same equation"}
    assert len(files(banks / "both")) == 4


def test_a_stem_that_is_nearly_the_same_is_told_with_what_it_shares(
    banks: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    near = varied(("id: lantern\n", "id: lamp\n"), ("title: A lantern", "title: A lamp"), ("a paper lantern", "a lamp"))
    written(banks / "theirs", near, "lamp.yaml")
    notes = {str(each["kind"]): str(each["text"]) for each in merged(capsys)["notes"]}
    assert notes.keys() == {"same equation", "like stem", "story"}
    assert "of their words" in notes["like stem"]


def test_likeness_is_the_share_of_common_words() -> None:
    first, second = words_of("A load on a cord, {r} long."), words_of("a LOAD on a rod, {L} long")
    assert first == {"a", "load", "on", "cord", "{}", "long"}
    assert likeness(first, second) == pytest.approx(5 / 7)
    assert likeness(frozenset(), frozenset()) == 0


@pytest.mark.parametrize(
    ("licences", "expected"),
    [
        (("CC-BY-4.0", "CC-BY-SA-4.0"), 0),
        (("CC-BY-4.0", "CC-BY-NC-4.0"), 0),
        (("CC0-1.0", "CC-BY-NC-SA-4.0"), 0),
        (("CC-BY-NC-4.0", "CC-BY-NC-SA-4.0"), 0),
        (("CC-BY-SA-4.0", "CC-BY-NC-4.0"), 1),
        (("CC-BY-SA-4.0", "CC-BY-NC-SA-4.0"), 1),
        (tuple(TERMS), 2),
    ],
)
def test_share_alike_goes_with_no_ban_on_sale(licences: tuple[str, ...], expected: int) -> None:
    """Against the table of Creative Commons of which works may be combined into an adapted one (from memory)."""
    assert len(clashes(licences)) == expected


def test_the_table_knows_every_licence_that_a_problem_may_have() -> None:
    from turnwright import schemas

    assert set(TERMS) == set(schemas.load("problem")["properties"]["licence"]["enum"])


def test_licences_that_do_not_go_together_are_told(banks: Path, capsys: pytest.CaptureFixture[str]) -> None:
    written(banks / "ours", varied(("CC-BY-4.0", "CC-BY-SA-4.0")), "vertical-circle/lantern.yaml")
    written(banks / "theirs", SHIPPED["on-a-turntable"].replace("CC-BY-4.0", "CC-BY-NC-4.0"), "table.yaml")
    texts = [str(each["text"]) for each in merged(capsys)["notes"] if each["kind"] == "licence"]
    assert texts[0].startswith("CC-BY-NC-4.0 (1) and CC-BY-SA-4.0 (1) don't go together")
    assert "not legal advice" in texts[0]


# --- what is refused --------------------------------------------------------------------------


def test_a_target_is_new_or_empty_and_outside_the_banks(banks: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (banks / "file").write_text("here")
    (banks / "link").symlink_to("ours")
    for out, wrong in {
        "ours": "the folder is not empty",
        "file": "it is there and is no folder",
        "link": "it is there and is no folder",
        "none/both": "its folder does not exist",
        "theirs/both": "it lies in theirs",
    }.items():
        assert run(["merge", "ours", "theirs", "--out", out]) == 2
        assert wrong in capsys.readouterr().err
    (banks / "empty").mkdir()
    assert run(["merge", "ours", "theirs", "--out", "empty"]) == 0
    assert len(files(banks / "empty")) == 2


def test_nothing_is_left_where_writing_ends_half_way(
    banks: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    done = []

    def full(descriptor: int) -> None:
        if done:
            raise OSError(28, "No space left on device")
        done.append(descriptor)

    monkeypatch.setattr(os, "fsync", full)
    assert run(["merge", "ours", "theirs", "--out", "both"]) == 2
    assert "both: its disk is full; free some space" in capsys.readouterr().err
    assert sorted(each.name for each in banks.iterdir()) == ["ours", "theirs"]


@pytest.mark.skipif(not Path("/proc/self").exists(), reason="needs a folder in which even root makes no other")
def test_a_folder_that_may_not_be_written_is_told(banks: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["merge", "ours", "theirs", "--out", "/proc/both"]) == 2
    assert "/proc/both: its folder does not exist" in capsys.readouterr().err


@pytest.mark.parametrize("command", [["diff", "ours", "theirs"], ["merge", "ours", "theirs", "--out", "both"]])
def test_broken_and_missing_banks_are_told_whole(
    banks: Path, command: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    written(banks / "ours", varied(("level: algebra", "level: easy")), "vertical-circle/lantern.yaml")
    written(banks / "theirs", varied(("licence: CC-BY-4.0", "licence: mine")), "table.yaml")
    assert run(command) == 2
    told = capsys.readouterr().err.splitlines()
    assert [each.partition(":")[0] for each in told] == ["ours/vertical-circle/lantern.yaml", "theirs/table.yaml"]
    (banks / "theirs" / "table.yaml").unlink()
    assert run(command) == 2
    assert "theirs: there is no problem file in this folder" in capsys.readouterr().err
    assert not (banks / "both").exists()


@pytest.mark.parametrize("command", [["diff", "ours", "theirs"], ["merge", "ours", "theirs", "--out", "both"]])
def test_a_link_out_of_a_bank_is_refused(banks: Path, command: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    written(banks, GOOD, "outside.yaml")
    (banks / "theirs" / "linked.yaml").symlink_to("../outside.yaml")
    assert run(command) == 2
    assert "linked.yaml: it is a link that leads out of the bank's folder" in capsys.readouterr().err


@pytest.mark.parametrize("path", ["../family/lantern.yaml", "family/../../lantern.yaml", "/lantern.yaml"])
def test_a_path_out_of_the_merged_folder_is_refused(banks: Path, path: str) -> None:
    """A made-up revision may name its files so; no folder can."""
    with pytest.raises(FileError, match="leads out of the bank's folder"):
        writing.write_folder({path: GOOD.encode()}, banks / "both")
    assert sorted(each.name for each in banks.iterdir()) == ["ours", "theirs"]


def test_what_is_written_is_a_bank(banks: Path) -> None:
    assert run(["merge", "ours", "theirs", "--out", "both"]) == 0
    problems, faults = collect(problem_files([banks / "both"]))
    assert (len(problems), faults) == (2, ())
