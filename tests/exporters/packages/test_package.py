"""A package is the same bytes every time, and it takes its place only when it is complete and checked."""

from __future__ import annotations

import errno
import io
import os
import random
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from turnwright.bank.errors import FileError, ProofError
from turnwright.exporters.packages.package import DATE, MODE, UNIX, PackedZip, package, packed

OLD = b"last year's pack"


def accept(_: Path) -> None:
    """Every file is good enough."""


def fill(target: Path, check: Callable[[Path], None] = accept) -> None:
    with package(target, check) as box:
        box.add("zebra.xml", b"<lantern/>" * 1000)
        with box.member("ant.xml") as file:
            file.write(b"<cord/>")


@pytest.fixture
def target(tmp_path: Path) -> Path:
    """A pack of last year that must survive every failure."""
    path = tmp_path / "fair.zip"
    path.write_bytes(OLD)
    return path


def only_the_old_one_is_left(target: Path) -> bool:
    return [path.name for path in target.parent.iterdir()] == [target.name] and target.read_bytes() == OLD


def test_two_runs_give_the_same_bytes(tmp_path: Path) -> None:
    fill(tmp_path / "one.zip")
    fill(tmp_path / "two.zip")
    assert (tmp_path / "one.zip").read_bytes() == (tmp_path / "two.zip").read_bytes()


def test_members_keep_their_order_and_carry_a_fixed_date_and_mode(target: Path) -> None:
    fill(target)
    with zipfile.ZipFile(target) as archive:
        entries = archive.infolist()
    assert [entry.filename for entry in entries] == ["zebra.xml", "ant.xml"]
    facts = {(e.date_time, e.external_attr >> 16, e.create_system, e.compress_type, e.flag_bits) for e in entries}
    assert facts == {((1980, 1, 1, 0, 0, 0), 0o100644, 3, zipfile.ZIP_DEFLATED, 0)}


CONTENTS = {"ant.xml": b"", "bee.xml": b"<cord/>", "cow.xml": b"<lantern/>" * 5000, "média/dé.svg": bytes(range(256))}


def written_by(put: Callable[[zipfile.ZipFile, str, bytes], object], kind: type[zipfile.ZipFile]) -> bytes:
    """A zip whose second member is streamed, and whose others ``put`` writes."""
    file = io.BytesIO()
    with kind(file, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in CONTENTS.items():
            if name == "bee.xml":
                with archive.open(entry(name), "w") as stream:
                    stream.write(content)
            else:
                put(archive, name, content)
    return file.getvalue()


def entry(name: str) -> zipfile.ZipInfo:
    info = zipfile.ZipInfo(name, DATE)
    info.compress_type, info.external_attr, info.create_system = zipfile.ZIP_DEFLATED, MODE, UNIX
    return info


def put_packed(archive: zipfile.ZipFile, name: str, content: bytes) -> None:
    assert isinstance(archive, PackedZip)
    archive.put(packed(name, content))


def test_members_packed_before_give_the_bytes_that_the_library_writes() -> None:
    """Fails where a later Python keeps its list of members, or the place of the next one, otherwise."""
    library = written_by(lambda archive, name, content: archive.writestr(entry(name), content), zipfile.ZipFile)
    ours = written_by(put_packed, PackedZip)
    assert ours == library
    with zipfile.ZipFile(io.BytesIO(ours)) as archive:
        assert archive.testzip() is None
        assert {each: archive.read(each) for each in archive.namelist()} == CONTENTS


def test_the_check_meets_a_complete_file_beside_the_untouched_old_one(target: Path) -> None:
    def check(path: Path) -> None:
        assert path.parent.parent == target.parent  # on the same disk
        assert target.read_bytes() == OLD
        with zipfile.ZipFile(path) as archive:
            assert archive.read("ant.xml") == b"<cord/>"

    fill(target, check)
    assert [path.name for path in target.parent.iterdir()] == [target.name]
    assert zipfile.is_zipfile(target)


def test_a_refused_pack_leaves_the_old_one_and_its_findings_name_the_target(target: Path) -> None:
    def refuse(path: Path) -> None:
        raise ProofError(str(path), ["q01_v001: the key is not accepted"])

    with pytest.raises(ProofError) as refusal:
        fill(target, refuse)
    assert str(refusal.value) == f"{target}: q01_v001: the key is not accepted"
    assert only_the_old_one_is_left(target)


@pytest.mark.parametrize("error", [ZeroDivisionError, KeyboardInterrupt, BrokenPipeError])
def test_a_writer_that_fails_half_way_leaves_the_old_pack_and_its_own_error(
    target: Path, error: type[BaseException]
) -> None:
    with pytest.raises(error), package(target, accept) as box:
        box.add("half.xml", b"<lantern/>")
        raise error
    assert only_the_old_one_is_left(target)


def test_a_member_that_is_left_half_written_leaves_the_old_pack(target: Path) -> None:
    with pytest.raises(ZeroDivisionError), package(target, accept) as box, box.member("half.xml") as file:
        file.write(b"<lantern>")
        raise ZeroDivisionError
    assert only_the_old_one_is_left(target)


def test_a_full_disk_leaves_the_old_pack_and_is_told_in_plain_words(
    target: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: Any) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(FileError, match="its disk is full; free some space"):
        fill(target)
    assert only_the_old_one_is_left(target)


def test_a_pack_that_outgrows_its_limit_half_way_leaves_the_old_one(target: Path) -> None:
    resource = pytest.importorskip("resource", reason="only Unix limits the size of a file")
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (50_000, hard))
    try:
        with pytest.raises(FileError, match="larger than a file may be here"), package(target, accept) as box:
            box.add("noise.bin", random.Random(1).randbytes(100_000))
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert only_the_old_one_is_left(target)


def test_a_move_that_fails_leaves_the_old_pack(target: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(*_: Any) -> None:
        raise PermissionError(errno.EACCES, "")

    monkeypatch.setattr(Path, "replace", refused)
    with pytest.raises(FileError, match="it may not be written"):
        fill(target)
    assert only_the_old_one_is_left(target)


def test_a_target_that_cannot_be_a_file_is_refused_before_anything_is_written(tmp_path: Path) -> None:
    (tmp_path / "notes").write_bytes(OLD)
    with pytest.raises(FileError, match="its folder does not exist; make the folder first"):
        fill(tmp_path / "missing" / "fair.zip")
    with pytest.raises(FileError, match="it is a folder; name a file"):
        fill(tmp_path)
    with pytest.raises(FileError, match="not a folder"):
        fill(tmp_path / "notes" / "fair.zip")
    with pytest.raises(FileError, match="it is not an ordinary file"):
        fill(Path(os.devnull))
    assert [path.name for path in tmp_path.iterdir()] == ["notes"]


def test_a_link_stays_a_link_and_the_file_keeps_its_mode(target: Path) -> None:
    target.chmod(0o640)
    link = target.with_name("this-year.zip")
    link.symlink_to(target)
    fill(link)
    assert link.is_symlink()
    assert zipfile.is_zipfile(target)
    assert target.stat().st_mode & 0o777 == 0o640
