"""What may be written where, told before the work: folders are made, files of another kind and exams stay."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from ..errors import FileError
from .files import place_of, told

_BEGINNING = 4096
_MANIFEST = "imsmanifest.xml"
_LONGEST = 100_000  # of a manifest that is looked into
# what a pack for practice says of itself, in one format or another, and an exam does not
_PRACTICE = re.compile(rb">exercise<|[:<]keyword[ >]")


@contextmanager
def folder_for(target: Path) -> Iterator[Path]:
    """The folder, made where there is none; it goes again where the block fails and has left nothing in it.

    Its own folder has to exist. Raises FileError.
    """
    is_new = not target.exists()
    if not is_new and not target.is_dir():
        raise FileError(str(target), "it is no folder", "name a folder, or a new one")
    if is_new and not target.parent.is_dir():
        raise FileError(str(target), "its folder does not exist", "make the folder first, or name another")
    with told(target):
        target.mkdir(exist_ok=True)
    try:
        yield target
    except BaseException:
        if is_new:
            with suppress(OSError):  # there is something in it by now
                target.rmdir()
        raise


def free_for(target: Path, kind: str, *, force: bool) -> None:
    """Raises FileError where a file may not be written at ``target``, or would replace one of another kind, or an exam.

    ``kind`` is an ending, such as ``.pdf``: it tells what is to be written, whatever the target is called. With
    ``force`` anything may be replaced that can be.
    """
    place = place_of(target)
    if force or not place.is_file() or not place.stat().st_size:
        return
    with told(target), place.open("rb") as file:
        begun = file.read(_BEGINNING)
    right = "choose another name, or replace it with --force"
    if not _KINDS[kind](place, begun):
        raise FileError(str(target), "a file of another kind stands there", right)
    if kind in _PACKS and not _PRACTICE.search(_manifest(place)):
        raise FileError(str(target), "an exam, or a pack from elsewhere, stands there", right)


def _manifest(path: Path) -> bytes:
    """The beginning of the manifest of a pack; nothing where there is none."""
    try:
        with zipfile.ZipFile(path) as archive, archive.open(_MANIFEST) as file:
            return file.read(_LONGEST)
    except (zipfile.BadZipFile, KeyError, OSError, NotImplementedError, RuntimeError, EOFError):
        return b""


def _is_pack(path: Path, begun: bytes) -> bool:
    return begun.startswith(b"PK") and bool(_manifest(path))


def _begins(*starts: bytes) -> Callable[[Path, bytes], bool]:
    return lambda _, begun: begun.lstrip().lower().startswith(starts)


_PACKS = (".zip", ".imscc")
_KINDS: dict[str, Callable[[Path, bytes], bool]] = {
    **dict.fromkeys(_PACKS, _is_pack),
    ".pdf": _begins(b"%pdf-"),
    ".docx": _begins(b"pk"),
    ".html": _begins(b"<!doctype html", b"<html"),
    ".svg": lambda _, begun: b"<svg" in begun,
    ".png": _begins(b"\x89png"),
    ".json": _begins(b"{"),
    ".yaml": lambda _, begun: False,
}
