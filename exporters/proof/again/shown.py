"""What a candidate meets of an item before answering, as far as it could tell the key: texts, names and pictures."""

from __future__ import annotations

from collections.abc import Container, Iterator
from dataclasses import dataclass

from ..reading.item_file import NOT_STEM, ItemFile
from ..words.leaks import numbers_in, own_texts
from .texts import Numbers, NumberText

Text = tuple[str, str, frozenset[str]]  # what it is, what it says, and the numbers in that


@dataclass(frozen=True)
class ShownTexts:
    """The texts of an item that was proved, those of them that say the same in all items of its series apart.

    ``identifier`` and ``title`` are those of the item.
    ``links`` are the members that it draws in, ``images`` those of them that are pictures; all items of its ``folder``
    mean the same ones.
    """

    folder: str
    identifier: NumberText
    title: str
    stem: NumberText
    fixed: tuple[Text, ...]
    varying: tuple[tuple[str, NumberText], ...]
    links: tuple[str, ...]
    images: tuple[str, ...]

    def finds_links(self, name: str, provided: Container[str]) -> bool:
        """Whether the item in the member ``name`` draws in only what its resource provides."""
        return _folder(name) == self.folder and all(each in provided for each in self.links)

    def texts(self, name: str, names: tuple[str, ...], numbers: Numbers) -> Iterator[Text]:
        """The texts with numbers of the item in the member ``name``, which the pack calls by these ``names``."""
        yield from self.fixed
        varying = (("name", name.removesuffix(".xml")), *(("name", each) for each in names))
        told = ((what, template.filled(numbers)) for what, template in self.varying)
        for what, text in (*varying, *told):
            yield what, text, numbers_in(text)


def shown_by(item: ItemFile) -> ShownTexts | None:
    """What an item that was proved, and has marks now, shows; None where it draws in what is not in the pack."""
    body, links = item.root.child("qti-item-body"), item.links()
    texts = [(what, NumberText.of(text)) for what, text in own_texts(item)]
    fixed = [(what, each.pieces[0]) for what, each in texts if not each.numbers]
    names = [each.name for each in links if each.name]
    if body is None or len(names) < len(links):
        return None
    return ShownTexts(
        _folder(item.name),
        NumberText.of(item.root.get("identifier")),
        item.root.get("title"),
        NumberText.of(body.string(NOT_STEM)),
        tuple((what, text, found) for what, text in fixed if (found := numbers_in(text))),
        tuple((what, each) for what, each in texts if each.numbers),
        tuple(dict.fromkeys(names)),
        tuple(dict.fromkeys(each.name for each in links if each.is_image and each.name)),
    )


def _folder(name: str) -> str:
    return name.rpartition("/")[0]
