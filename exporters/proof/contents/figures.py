"""The pictures of a pack: each is read once, however many items show it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from ...strangers.archive import Archive, Limits, MemberError
from ...strangers.documents import Element, read_document
from ...strangers.parsing import DocumentError, shown
from ..dialect import SVG
from ..words.leaks import numbers_in
from ..words.wording import plain_words, said_by

PNG = b"\x89PNG\r\n\x1a\n"  # how each such file begins (ISO/IEC 15948, 5.2)


class Figures:
    """The pictures met so far, with the words and numbers of each; ``meet`` takes what is wrong with one."""

    def __init__(self, archive: Archive, limits: Limits, meet: Callable[[str, Sequence[str]], None]) -> None:
        self._archive, self._limits, self._meet = archive, limits, meet
        self._numbers: dict[str, frozenset[str]] = {}
        self._words: dict[str, str] = {}
        self._faults: dict[str, list[str]] = {}
        self._met: set[str] = set()

    def __len__(self) -> int:
        return len(self._numbers)

    def __contains__(self, name: str) -> bool:
        return name in self._numbers

    def numbers(self, name: str) -> frozenset[str]:
        """The numbers in title and description of the picture in the member ``name``."""
        if name not in self._numbers:
            self._numbers[name] = self._read(name)
        if name not in self._met:
            self._met.add(name)
            self._meet(name, self._faults.get(name, []))
        return self._numbers[name]

    def begin(self) -> None:
        """Starts another block of items: what is wrong with a picture is told once more when it is met."""
        self._met.clear()

    def check_words(self, name: str, alternative: str) -> Iterator[str]:
        """A finding, where the picture in the member ``name`` describes itself in other words than it should."""
        self.numbers(name)
        found, wanted = self._words.get(name, ""), plain_words(alternative)
        if found and found != wanted:
            yield f"the picture {shown(name)} is described as '{shown(found)}', '{shown(wanted)}' expected"

    def _read(self, name: str) -> frozenset[str]:
        try:
            is_svg = name.lower().endswith(".svg")
            data = self._archive.read(name, self._limits.document if is_svg else self._limits.member)
            if not is_svg:
                if name.lower().endswith(".png") and not data.startswith(PNG):
                    self._faults[name] = ["is no PNG picture"]
                return frozenset()
            root = read_document(data, str)
        except (MemberError, DocumentError) as error:
            self._faults[name] = [str(error)]
            return frozenset()
        self._faults[name] = list(check_figure(root))
        self._words[name] = "".join(said_by(each) for each in root.children if each.name == f"{SVG}desc")
        return figure_numbers(root)


def check_figure(root: Element) -> Iterator[str]:
    """What an SVG picture must not carry: a program, or a reference to another place."""
    if root.name != f"{SVG}svg":
        yield f"is no SVG picture: its root is {shown(root.name)}"
    for element in root.walk():
        name = element.name.removeprefix(SVG).lower()
        if name in ("script", "foreignobject"):
            yield f"line {element.line}: the picture holds a {name}"
        for attribute, value in element.attributes.items():
            bare = attribute.rpartition("}")[2].lower()
            if bare.startswith("on"):
                yield f"line {element.line}: the picture runs a program ({shown(attribute)})"
            if bare in ("href", "src") and not value.startswith(("#", "data:image/")):
                yield f"line {element.line}: the picture draws in '{shown(value)}'"


def figure_numbers(root: Element) -> frozenset[str]:
    """The numbers in the title and description of a picture."""
    told = (each.string() for each in root.walk() if each.name in (f"{SVG}title", f"{SVG}desc"))
    return frozenset[str]().union(*map(numbers_in, told))
