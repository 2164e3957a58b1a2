"""Where something is to be written is looked at before the work: folders are made, other files and exams stay."""

from __future__ import annotations

import zipfile
from pathlib import Path

import pytest
from turnwright.bank.errors import FileError
from turnwright.bank.storage.targets import folder_for, free_for

EXAM = "<lom><learningResourceType><value>exam</value></learningResourceType></lom>"
PRACTICE = EXAM.replace("exam", "exercise")


def pack(path: Path, manifest: str | None = PRACTICE) -> Path:
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("imsmanifest.xml" if manifest else "word/document.xml", manifest or "<document/>")
    return path


def test_a_new_folder_is_made_and_goes_again_where_nothing_came_of_it(tmp_path: Path) -> None:
    with folder_for(tmp_path / "new") as made:
        (made / "pack.zip").write_bytes(b"PK")
    with folder_for(tmp_path / "new"):
        pass
    for left in (True, False):
        with pytest.raises(KeyboardInterrupt), folder_for(tmp_path / "stopped") as made:
            if not left:
                (made / "pack-1.zip").write_bytes(b"PK")
            raise KeyboardInterrupt
        assert (tmp_path / "stopped").exists() != left
    with pytest.raises(KeyboardInterrupt), folder_for(tmp_path / "new"):
        raise KeyboardInterrupt
    assert (tmp_path / "new" / "pack.zip").exists()


@pytest.mark.parametrize(("name", "says"), [("none/new", "its folder does not exist"), ("file", "it is no folder")])
def test_a_folder_that_can_not_be_made_is_told(name: str, says: str, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("a letter")
    with pytest.raises(FileError, match=says), folder_for(tmp_path / name):
        pass


SAME_KIND = [
    (".zip", None), (".imscc", None), (".pdf", b"%PDF-1.7"), (".html", b"\n<!DOCTYPE html><title>"),
    (".svg", b"<svg/>"), (".png", b"\x89PNG\r\n"), (".json", b'{"a": 1}'), (".docx", b"PK\x03\x04"),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "content"), SAME_KIND, ids=[each[0] for each in SAME_KIND])
def test_a_file_of_the_same_kind_or_an_empty_one_may_be_replaced_and_no_other(
    kind: str, content: bytes | None, tmp_path: Path
) -> None:
    path = tmp_path / "old"
    free_for(path, kind, force=False)
    path.write_bytes(b"")
    free_for(path, kind, force=False)
    path.write_bytes(content) if content else pack(path)
    free_for(path, kind, force=False)
    path.write_bytes(b"Dear colleague,")
    with pytest.raises(FileError, match="a file of another kind stands there; choose another name, or replace it with"):
        free_for(path, kind, force=False)
    free_for(path, kind, force=True)


def test_an_archive_that_is_no_pack_and_an_exam_are_not_replaced(tmp_path: Path) -> None:
    with pytest.raises(FileError, match="another kind"):
        free_for(pack(tmp_path / "thesis.zip", None), ".zip", force=False)
    with pytest.raises(FileError, match="an exam, or a pack from elsewhere, stands there"):
        free_for(pack(tmp_path / "exam.zip", EXAM), ".zip", force=False)
    free_for(pack(tmp_path / "practice.zip"), ".zip", force=False)
