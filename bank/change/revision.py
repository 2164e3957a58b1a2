"""Problem files as they stood in a revision of Git, read by fixed calls of ``git``; nothing is checked out.

A revision is named ``REVISION:PATH``, with PATH as it would be named now, from the folder where one stands.
"""

from __future__ import annotations

import os
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from ..documents.bounds import LARGEST_FILE
from ..errors import FileError, UsageError

MOST_FILES = 2000
MOST_LISTED = 4_000_000  # bytes of a listing
SECONDS = 60
ENDINGS = (".yaml", ".yml")
LINK = "120000"
OURS_ALONE = ("GIT_DIR", "GIT_WORK_TREE", "GIT_INDEX_FILE", "GIT_PREFIX")  # set by a hook, for its own folder
FIXED = {"LC_ALL": "C", "GIT_OPTIONAL_LOCKS": "0", "GIT_NO_LAZY_FETCH": "1", "GIT_TERMINAL_PROMPT": "0"}


@dataclass(frozen=True)
class Blob:
    """A file in a revision: its path from the root of the repository, its object, its size."""

    path: str
    name: str
    size: int


def is_named(name: str) -> bool:
    """Whether a name means a revision: it has a colon inside, and nothing on disk is called so."""
    before, colon, after = name.partition(":")
    return bool(before and colon and after) and not os.path.lexists(name)


def files_at(name: str) -> tuple[list[tuple[str, str, bytes]], bool]:
    """(path in the bank, path in the repository, bytes) of each problem file, and whether PATH is a folder.

    Raises UsageError or FileError where git, the repository, the revision or the path is missing.
    """
    before, _, after = name.partition(":")
    target = Path(os.path.abspath(after))  # noqa: PTH100  links are followed below, where they can be
    base = next(each for each in (target, *target.parents) if each.is_dir())
    root = Path(os.fsdecode(_git(base, name, "rev-parse", "--show-toplevel")).rstrip("\n"))
    wanted = (base.resolve() / target.relative_to(base)).relative_to(root.resolve()).as_posix()
    commit = _commit(root, name, before)
    blobs = list(_blobs(root, name, commit, wanted))
    if not blobs:
        raise FileError(name, "there is no problem file in this revision", f"name a path that stands in {before}")
    is_folder = [each.path for each in blobs] != [wanted]
    contents = _contents(root, name, blobs)
    return [
        (_inside(blob.path, wanted, is_folder), blob.path, content)
        for blob, content in zip(blobs, contents, strict=True)
    ], is_folder


def _inside(path: str, wanted: str, is_folder: bool) -> str:
    return PurePosixPath(path).relative_to(wanted).as_posix() if is_folder else PurePosixPath(path).name


def _commit(root: Path, name: str, revision: str) -> str:
    """The full name of a commit, so that no later call reads the user's text as an option."""
    if revision.startswith("-") or not revision.isprintable():
        raise UsageError(f"'{revision}' is no revision; name a commit, a branch or a tag, as in v1:bank")
    try:
        found = _git(root, name, "rev-parse", "--verify", "--quiet", "--end-of-options", revision + "^{commit}")
    except FileError:
        wrong = f"there is no revision called '{revision}'"
        raise FileError(name, wrong, "name a commit, a branch or a tag of this repository") from None
    return found.decode().strip()


def _blobs(root: Path, name: str, commit: str, wanted: str) -> Iterator[Blob]:
    listing = _git(root, name, "ls-tree", "-r", "-l", "-z", "--full-tree", commit, "--", ":(literal)" + wanted)
    if len(listing) > MOST_LISTED:
        raise FileError(name, "too many files stand there", "name the folder of the bank alone")
    found = 0
    for line in filter(None, os.fsdecode(listing).split("\0")):
        facts, _, path = line.partition("\t")
        mode, kind, blob, size = facts.split()
        if not path.lower().endswith(ENDINGS):
            continue
        if mode == LINK:
            raise FileError(f"{name} ({path})", "it is a link", "keep a copy of the file in the bank")
        if kind != "blob":
            continue
        found += 1
        if found > MOST_FILES:
            raise FileError(name, f"more than {MOST_FILES:,} problem files stand there", "name a smaller folder")
        if not size.isdigit():
            raise _missing(name, path)
        yield Blob(path, blob, int(size))


def _contents(root: Path, name: str, blobs: list[Blob]) -> Iterator[bytes]:
    """The bytes of each file; one that the reader would find too long is not asked for."""
    long = [each.path for each in blobs if each.size > LARGEST_FILE]
    if long:
        raise FileError(f"{name} ({long[0]})", "the file is too long", f"at most {LARGEST_FILE:,} bytes are read")
    asked = "".join(f"{each.name}\n" for each in blobs).encode()
    stream = _git(root, name, "cat-file", "--batch", given=asked)
    at = 0
    for blob in blobs:
        start = stream.find(b"\n", at) + 1
        if stream[at:start].split() != [blob.name.encode(), b"blob", str(blob.size).encode()]:
            raise _missing(name, blob.path)
        yield stream[start : start + blob.size]
        at = start + blob.size + 1


def _missing(name: str, path: str) -> FileError:
    return FileError(f"{name} ({path})", "git can't give its content", "fetch the whole repository first")


def _git(folder: Path, name: str, *arguments: str, given: bytes = b"") -> bytes:
    """What git prints. Raises FileError with the first line of what it complains of."""
    try:
        ended = subprocess.run(  # noqa: S603  no shell; the user's text is a revision that was checked, or a literal path
            ["git", *arguments],  # noqa: S607  the user's own git, wherever it is installed
            cwd=folder,
            input=given,
            capture_output=True,
            check=False,
            timeout=SECONDS,
            env={**{key: value for key, value in os.environ.items() if key not in OURS_ALONE}, **FIXED},
        )
    except FileNotFoundError:
        raise FileError(name, "git is not installed, which reads revisions", "install it, or name a folder") from None
    except (OSError, subprocess.TimeoutExpired) as error:
        raise FileError(name, f"git can't be run ({error})", "name a folder instead") from None
    if ended.returncode:
        told = ended.stderr.decode(errors="replace").strip().splitlines()
        reason = told[0].removeprefix("fatal: ") if told else "git refuses"
        raise FileError(name, f"git can't read it ({reason})", "name REVISION:PATH with PATH in a Git repository")
    return ended.stdout
