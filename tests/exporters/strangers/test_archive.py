"""Files that are no pack, or mean harm: each ends quickly, with one clear line and no traceback."""

from __future__ import annotations

import io
import random
import stat
import struct
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from turnwright.bank.documents.document import Document
from turnwright.bank.errors import FileError, Place
from turnwright.bank.limits.budget import within
from turnwright.exporters.proof import Limits, Report, prove

MANIFEST = """<manifest xmlns="http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1" identifier="M"><metadata>
<schema>QTI Package</schema></metadata><organizations/><resources><resource identifier="I" type="imsqti_item_xmlv3p0"
href="i.xml"><file href="i.xml"/></resource></resources></manifest>"""
ITEM = """<qti-assessment-item xmlns="http://www.imsglobal.org/xsd/imsqtiasi_v3p0" identifier="I" title="T"
time-dependent="false"><qti-item-body/></qti-assessment-item>"""


@pytest.fixture(autouse=True)
def _in_time() -> Iterator[None]:
    """Seconds of the processor, after which an error ends it; how fast it is is no test."""
    with within(Document("pack.zip"), "pack.zip", Place("pack.zip"), 60):
        yield


def zipped(
    *more: tuple[str | zipfile.ZipInfo, str | bytes], item: str | bytes = ITEM, manifest: str = MANIFEST
) -> bytes:
    memory = io.BytesIO()
    with zipfile.ZipFile(memory, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in (("imsmanifest.xml", manifest), ("i.xml", item), *more):
            archive.writestr(name, content)
    return memory.getvalue()


def proved(folder: Path, data: bytes, limits: Limits | None = None) -> Report:
    path = folder / "pack.zip"
    path.write_bytes(data)
    return prove(path, limits=limits)


def member(name: str, mode: int = 0) -> zipfile.ZipInfo:
    info = zipfile.ZipInfo("x")
    info.filename, info.external_attr = name, mode << 16
    return info


NOTHING = "none of its items could be marked by its own rules, so nothing is proved"


def test_the_pack_that_the_others_are_made_from_is_sound_and_nothing_can_be_marked(tmp_path: Path) -> None:
    report = proved(tmp_path, zipped())
    assert (report.findings, report.unmarked) == ((NOTHING,), ("1 item: it has 0 interactions",))


@pytest.mark.parametrize(
    ("data", "wrong"),
    [
        (b"", "no sound zip file"),
        (b"a swing boat ride", "no sound zip file"),
        (b"PK\x05\x06" + b"\xff" * 18, "no sound zip file"),
        (zipped()[:-30], "no sound zip file"),
        (b"%PDF-1.7\n" + b"\0" * 5000, "no sound zip file"),
    ],
    ids=["empty", "words", "end alone", "cut off", "paper"],  # bytes of an archive tell its time, and ids may not
)
def test_a_file_that_is_no_zip_file_is_refused(data: bytes, wrong: str, tmp_path: Path) -> None:
    with pytest.raises(FileError, match=wrong):
        proved(tmp_path, data)


def test_a_missing_file_a_folder_and_a_foreign_archive_are_refused(tmp_path: Path) -> None:
    with pytest.raises(FileError, match="does not exist"):
        prove(tmp_path / "none.zip")
    with pytest.raises(FileError, match="is no file"):
        prove(tmp_path)
    memory = io.BytesIO()
    with zipfile.ZipFile(memory, "w") as archive:
        archive.writestr("readme.txt", "not a pack")
    with pytest.raises(FileError, match=r"has no imsmanifest\.xml"):
        proved(tmp_path, memory.getvalue())


@pytest.mark.parametrize(
    "name", ["../out.xml", "/etc/out.xml", "C:/out.xml", "a\\..\\out.xml", "a/../../out.xml", "a//b", "./b", "a\nb"]
)
def test_a_name_that_could_leave_the_folder_is_a_finding(name: str, tmp_path: Path) -> None:
    findings = proved(tmp_path, zipped((member(name), "x"))).findings
    assert any("could leave the folder" in each for each in findings)
    assert all("\n" not in each for each in findings)


@pytest.mark.parametrize("kind", [stat.S_IFLNK, stat.S_IFIFO, stat.S_IFCHR])
def test_a_link_or_device_is_a_finding(kind: int, tmp_path: Path) -> None:
    findings = proved(tmp_path, zipped((member("link", kind | 0o777), "/etc/hosts"))).findings
    assert any("is a link or a device" in each for each in findings)


@pytest.mark.filterwarnings("ignore:Duplicate name")
@pytest.mark.parametrize("name", ["i.xml", "I.XML"])
def test_two_members_of_one_name_are_a_finding(name: str, tmp_path: Path) -> None:
    assert any("two members are called" in each for each in proved(tmp_path, zipped((name, ITEM))).findings)


@pytest.mark.parametrize("name", ["more.zip", "media/swing.png"])
def test_an_archive_in_the_archive_is_a_finding(name: str, tmp_path: Path) -> None:
    assert any("archive inside" in each for each in proved(tmp_path, zipped((name, zipped()))).findings)


def test_an_encrypted_member_is_a_finding(tmp_path: Path) -> None:
    data = bytearray(zipped())
    at = data.rfind(b"PK\x01\x02")
    data[at + 8] |= 1
    assert any("is encrypted" in each for each in proved(tmp_path, bytes(data)).findings)


def test_a_member_packed_otherwise_is_a_finding(tmp_path: Path) -> None:
    info = zipfile.ZipInfo("b.txt")
    info.compress_type = zipfile.ZIP_BZIP2
    assert any("stored or deflated" in each for each in proved(tmp_path, zipped((info, "x"))).findings)


def test_a_bomb_is_not_unpacked(tmp_path: Path) -> None:
    findings = proved(tmp_path, zipped(("zero.bin", bytes(50_000_000)))).findings
    assert any("unpacks to more than 200 times" in each for each in findings)
    with pytest.raises(FileError, match="unpacks to"):
        proved(tmp_path, zipped(("zero.bin", bytes(50_000_000))), Limits(total=10_000_000))


def test_a_size_that_lies_does_not_help(tmp_path: Path) -> None:
    data = bytearray(zipped(("zero.bin", bytes(3_000_000))))
    at = data.rfind(b"PK\x01\x02")
    data[at + 24 : at + 28] = struct.pack("<I", 100)
    assert any("zero.bin: is damaged" in each for each in proved(tmp_path, bytes(data)).findings)


def test_members_that_share_their_bytes_are_a_finding(tmp_path: Path) -> None:
    data = bytearray(zipped(("a.bin", bytes(5000)), ("b.bin", bytes(5000))))
    last = data.rfind(b"PK\x01\x02")
    before = data.rfind(b"PK\x01\x02", 0, last)
    data[last + 42 : last + 46] = data[before + 42 : before + 46]
    assert any("overlaps another member" in each for each in proved(tmp_path, bytes(data)).findings)


def test_too_many_members_are_refused(tmp_path: Path) -> None:
    data = zipped(*((f"{index}.txt", b"") for index in range(20)))
    with pytest.raises(FileError, match="holds 22 members, at most 20"):
        proved(tmp_path, data, Limits(entries=20))


def test_a_directory_that_is_too_long_is_not_read_whole(tmp_path: Path) -> None:
    data = zipped(*((f"{index:0200}", b"") for index in range(5000)))
    with pytest.raises(FileError, match="list of members is too long"):
        proved(tmp_path, data, Limits(entries=100))


def test_a_changed_byte_is_found(tmp_path: Path) -> None:
    data = bytearray(zipped())
    data[data.find(b"i.xml") + 60] ^= 0x55
    assert any(each.startswith("i.xml: is damaged") for each in proved(tmp_path, bytes(data)).findings)


def test_a_pack_that_lost_its_beginning_is_a_finding(tmp_path: Path) -> None:
    assert proved(tmp_path, zipped()[40:]).findings[0].startswith("imsmanifest.xml: is damaged")


BILLION = "<!DOCTYPE a [<!ENTITY b 'bbbbbbbbbb'>" + "".join(
    f"<!ENTITY {chr(99 + n)} '{('&' + chr(98 + n) + ';') * 10}'>" for n in range(9)
)


@pytest.mark.parametrize(
    ("item", "finding"),
    [
        (BILLION + "]><a>&k;</a>", "has a DOCTYPE"),
        ("<?xml version='1.0'?><!-- ride --> <?ride x?>\n<!DOCTYPE a SYSTEM 'file:///etc/hosts'><a/>", "has a DOCTYPE"),
        ("<?a?>" * 50_000 + "<a/>", "is no item"),
        ("<a>&nbsp;</a>", "is not well-formed"),
        ("<a>" * 120 + "</a>" * 120, "more than 100 deep"),
        ("<a>" * 90_000 + "</a>" * 90_000, "is not well-formed"),
        ("<a>" + "<b/>" * 400_000 + "</a>", "more than 400000 tags"),
        ("<a " + " ".join(f"b{n}=''" for n in range(90_000)) + "/>", "more than 200 attributes"),
        (ITEM.encode("utf-16"), "not written in UTF-8"),
        (b"<?xml version='1.0' encoding='utf-7'?><a/>", "declares the encoding utf-7"),
        (b"\xff\xfe\x00", "not written in UTF-8"),
        (b"", "is not well-formed"),
        ("<a b='" + "x" * 11_000_000 + "'/>", "at most 2097152 are read"),
    ],
)
def test_a_hostile_document_is_a_finding(item: str | bytes, finding: str, tmp_path: Path) -> None:
    findings = proved(tmp_path, zipped(item=item), Limits(ratio=100_000)).findings
    assert any(each.startswith("i.xml: ") and finding in each for each in findings), findings


@pytest.mark.parametrize(
    "href",
    ["../i.xml", "/i.xml", "http://fair.example/i.xml", "//fair.example/i", "C:\\i.xml", "http://[", "%2e%2e/i.xml"],
)
def test_a_reference_out_of_the_pack_is_a_finding(href: str, tmp_path: Path) -> None:
    findings = proved(tmp_path, zipped(manifest=MANIFEST.replace('href="i.xml"', f'href="{href}"'))).findings
    assert any("is no place in the pack" in each for each in findings)


def test_a_long_list_of_findings_is_cut(tmp_path: Path) -> None:
    report = proved(tmp_path, zipped(*((f"{index}.txt", b"") for index in range(900))))
    assert report.warnings[-1] == "and 700 more warnings"
    assert len(report.warnings) == 201


def test_no_damage_brings_a_traceback(tmp_path: Path) -> None:
    whole = zipped()
    chance = random.Random(1)
    for _ in range(1500):
        data = bytearray(whole)
        for _ in range(chance.randint(1, 4)):
            data[chance.randrange(len(data))] = chance.randrange(256)
        try:
            proved(tmp_path, bytes(data))
        except FileError:
            continue
