"""One item of QTI 1.2.1 as it stands in a file: its page, its responses, its feedback."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from ...strangers.documents import Element
from .html import Html, joined, plain, read_html

RESPONSES = frozenset(
    {"response_lid", "response_num", "response_str", "response_xy", "response_grp", "response_extension"}
)
FEEDBACK_KINDS = {"hint": "Hint", "solution": "Solution"}


@dataclass(frozen=True)
class ResponseLabel:
    """An option: its name, and what it shows."""

    ident: str
    page: Html


@dataclass(frozen=True)
class Response:
    """A place for an answer: its element's name, its identifier, single or multiple, and its options."""

    kind: str
    ident: str
    cardinality: str
    labels: tuple[ResponseLabel, ...]
    line: int


@dataclass(frozen=True)
class DisplayPiece:
    """A piece of feedback: its kind, by what it holds, and what it says."""

    kind: str
    page: Html


@dataclass(frozen=True)
class Qti1Item:
    """An item that was read."""

    ident: str
    title: str
    root: Element
    facts: Mapping[str, str]
    stem: Html
    responses: tuple[Response, ...]
    feedback: Mapping[str, DisplayPiece]
    repeated: tuple[str, ...]

    def pages(self) -> Iterator[Html]:
        """All that the item may show at some time."""
        yield self.stem
        for response in self.responses:
            yield from (label.page for label in response.labels)
        yield from (piece.page for piece in self.feedback.values())

    def all(self, *names: str) -> Iterator[Element]:
        """All elements of these names."""
        return (each for each in self.root.walk() if each.name in names)


def read_item(root: Element) -> Qti1Item:
    """The item with this root."""
    presentation = root.child("presentation")
    found = list(presentation.walk(RESPONSES)) if presentation else []
    placed = [each for each in presentation.walk() if each.name in RESPONSES] if presentation else []
    feedback: dict[str, DisplayPiece] = {}
    repeated = []
    for each in root.children:
        if each.name == "itemfeedback":
            if each.get("ident") in feedback:
                repeated.append(each.get("ident"))
            feedback[each.get("ident")] = _piece(each)
    return Qti1Item(
        root.get("ident"),
        root.get("title"),
        root,
        _facts(root),
        joined(_page(each) for each in found if each.name == "material"),
        tuple(_response(each) for each in placed),
        feedback,
        tuple(repeated),
    )


def _facts(root: Element) -> dict[str, str]:
    metadata = root.child("itemmetadata")
    fields = [each for each in metadata.walk() if each.name == "qtimetadatafield"] if metadata else []
    return {_child_text(each, "fieldlabel"): _child_text(each, "fieldentry") for each in fields}


def _child_text(element: Element, name: str) -> str:
    child = element.child(name)
    return child.text.strip() if child else ""


def _page(element: Element) -> Html:
    """What the material below an element says."""
    pieces = []
    for each in element.walk():
        if each.name == "mattext":
            is_html = each.get("texttype").lower() in ("text/html", "text/xhtml")
            pieces.append(read_html(each.text) if is_html else plain(each.text))
        elif each.name == "matimage":
            image = (each.get("uri"), each.get("label"))
            pieces.append(Html(plain(image[1]).said, image[1], (image,)))
    return joined(pieces)


def _response(element: Element) -> Response:
    labels = tuple(
        ResponseLabel(each.get("ident"), _page(each)) for each in element.walk() if each.name == "response_label"
    )
    return Response(element.name, element.get("ident"), element.get("rcardinality") or "Single", labels, element.line)


def _piece(element: Element) -> DisplayPiece:
    inside = [each.name for each in element.children]
    kind = next((FEEDBACK_KINDS[name] for name in inside if name in FEEDBACK_KINDS), "Response")
    return DisplayPiece(kind, _page(element))
