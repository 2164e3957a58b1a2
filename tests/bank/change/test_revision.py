"""Banks as they stood in a revision of Git."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest
from turnwright.bank.change import revision
from turnwright.bank.change.source import banks
from turnwright.bank.command.main import run
from turnwright.bank.errors import BankFaultsError, FileError, TurnwrightError

from tests.bank.problems import GOOD, varied, written

WHO = ("-c", "user.name=A teacher", "-c", "user.email=teacher@school.example", "-c", "commit.gpgsign=false")


def git(folder: Path, *arguments: str) -> None:
    subprocess.run(["git", *WHO, *arguments], cwd=folder, check=True, capture_output=True)


@pytest.fixture
def repository(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A repository with the tag ``autumn``; since then a stem changed, and a file came that was not committed."""
    folder = tmp_path / "repository"
    family = folder / "our bank" / "vertical-circle"
    family.mkdir(parents=True)
    (folder / "README.md").write_text("the bank of our school")
    git(folder, "init", "-q", "-b", "main")
    written(family)
    git(folder, "add", ".")
    git(folder, "commit", "-q", "-m", "first")
    git(folder, "tag", "autumn")
    written(family, varied(("is swung round on {a cord}", "is whirled round on {a cord}")))
    git(folder, "commit", "-q", "-a", "-m", "second")
    written(family, varied(("id: lantern\n", "id: other\n")), "other.yaml")
    monkeypatch.chdir(folder)
    return folder


def test_a_revision_is_read_as_it_was_and_nothing_is_checked_out(repository: Path) -> None:
    before = sorted(repository.rglob("*.yaml"))
    old, new = banks("autumn:our bank", "our bank")
    assert [each.file.inside for each in old.entries] == ["vertical-circle/lantern.yaml"]
    assert old.entries[0].file.content == GOOD.encode()
    assert [each.problem.id for each in new.entries] == ["lantern", "other"]
    assert sorted(repository.rglob("*.yaml")) == before


@pytest.mark.parametrize(
    "name", ["autumn:our bank/vertical-circle/lantern.yaml", "autumn:./our bank/", "autumn:.", "HEAD~1:our bank"]
)
def test_a_path_in_a_revision_is_named_as_any_other(repository: Path, name: str) -> None:
    (bank,) = banks(name)
    assert [each.problem.id for each in bank.entries] == ["lantern"]


def test_a_path_is_named_from_the_folder_where_one_stands(repository: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(repository / "our bank")
    (bank,) = banks("autumn:vertical-circle")
    assert [each.file.inside for each in bank.entries] == ["lantern.yaml"]


def test_a_hook_of_git_reads_revisions_too(repository: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("GIT_DIR", ".git")
    monkeypatch.setenv("GIT_PREFIX", "our bank/")
    assert len(banks("autumn:our bank")[0].entries) == 1


def test_an_object_that_is_not_there_is_told(repository: Path) -> None:
    """As in a clone that fetches contents only when they are asked for."""
    blob = subprocess.run(
        ["git", "rev-parse", "autumn:our bank/vertical-circle/lantern.yaml"], capture_output=True, check=True, text=True
    ).stdout.strip()
    (repository / ".git" / "objects" / blob[:2] / blob[2:]).unlink()
    with pytest.raises(FileError, match="git can't give its content"):
        banks("autumn:our bank")


def test_the_command_tells_what_changed_since_a_tag(repository: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["diff", "autumn:our bank", "our bank"]) == 1
    out = capsys.readouterr().out.splitlines()
    assert out[0] == "lantern"
    assert "swung" in out[1] and "whirled" in out[1]
    assert out[-1].endswith("; one version to raise")
    assert run(["diff", "autumn:our bank", "autumn:our bank"]) == 0
    assert capsys.readouterr().out == "three questions compared: no difference\n"


def test_check_fails_where_a_stem_changed_since_a_tag_without_a_raised_version(
    repository: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["check", "our bank/vertical-circle/lantern.yaml"]) == 0
    assert run(["check", "our bank/vertical-circle/lantern.yaml", "--against", "autumn:our bank"]) == 1
    assert (
        "lantern.yaml:2:10: version: still 1, though this changed: story in the scene stage" in capsys.readouterr().out
    )
    raised = varied(("is swung round on {a cord}", "is whirled round on {a cord}"), ("version: 1", "version: 2"))
    written(repository / "our bank" / "vertical-circle", raised)
    assert run(["check", "our bank/vertical-circle/lantern.yaml", "--against", "autumn:our bank"]) == 0


@pytest.mark.parametrize(
    ("name", "wrong"),
    [
        ("spring:our bank", "there is no revision called 'spring'"),
        ("autumn:no such folder", "there is no problem file in this revision"),
        ("autumn:README.md", "there is no problem file in this revision"),
        ("autumn:/", "git can't read it"),
        ("autumn:..", "git can't read it"),
        ("--output=x:our bank", "'--output=x' is no revision"),
        ("autumn\n:our bank", "is no revision"),
        ("our bank2", "there is no such file or folder"),
    ],
)
def test_what_can_not_be_found_is_told_in_one_line(repository: Path, name: str, wrong: str) -> None:
    with pytest.raises(TurnwrightError) as refused:
        banks(name)
    assert wrong in str(refused.value)
    assert not (repository / "x").exists()


def test_a_broken_bank_is_told_with_the_faults_of_both_sides(repository: Path) -> None:
    family = repository / "our bank" / "vertical-circle"
    written(family, varied(("level: algebra", "level: easy")))
    git(repository, "commit", "-q", "-a", "-m", "third")
    written(family, varied(("licence: CC-BY-4.0", "licence: mine")))
    with pytest.raises(BankFaultsError) as refused:
        banks("HEAD:our bank", "our bank")
    told = str(refused.value).splitlines()
    assert [each.partition(":")[0] for each in told] == ["HEAD", "our bank/vertical-circle/lantern.yaml"]


def test_a_link_in_a_revision_is_refused(repository: Path) -> None:
    (repository / "our bank" / "linked.yaml").symlink_to("/etc/hostname")
    git(repository, "add", ".")
    git(repository, "commit", "-q", "-m", "a link")
    with pytest.raises(FileError, match="it is a link"):
        banks("HEAD:our bank")


def test_too_many_or_too_long_files_are_refused(repository: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(revision, "LARGEST_FILE", 100)
    with pytest.raises(FileError, match="the file is too long; at most 100 bytes"):
        banks("autumn:our bank")
    monkeypatch.setattr(revision, "MOST_FILES", 0)
    with pytest.raises(FileError, match="more than 0 problem files"):
        banks("autumn:our bank")


def test_without_git_a_revision_is_refused_and_a_folder_is_read(
    repository: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PATH", str(repository))
    with pytest.raises(FileError, match="git is not installed"):
        banks("autumn:our bank")
    assert banks("our bank")
