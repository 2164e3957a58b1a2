"""A question of any kind, ready to make items: what the bank lists, draws and packs."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TypeVar

from ..item.draw import mixed
from ..item.drawing import Drawing
from ..item.house_style import BRITISH, HouseStyle
from ..item.item import ChoiceEntry, Entry, Item, Metadata, SolutionDrawing, Step
from ..item.pack import ItemSeries, Section
from ..item.sitting import Purpose, Sitting
from ..limits.budget import guarded
from ..model.problem import Problem, Question, Scene
from ..quantities.gravity import GRAVITY
from .kinds import KIND, KINDS, Kind
from .stem_pictures import StemPicture, with_stem_picture

_Made = TypeVar("_Made")


@dataclass(frozen=True)
class Settings:
    """What a user decides about a pack: up to ``variants`` items of each question, in these kinds, under this g.

    With ``every`` all derived questions are taken, not one of each kind from a problem. ``named`` are the kinds in
    which a question is asked that is named by its own id. ``rules`` are those of the sitting, None for the usual ones
    of its purpose. ``style`` is the department's spelling, and its unit of g. ``stem_picture`` is what stands above the
    questions: the force diagram would do the first step of many of them.
    """

    title: str = "Circular motion"
    purpose: Purpose = "practice"
    gravity: Decimal = GRAVITY
    variants: int = 5
    seed: int = 1
    kinds: tuple[Kind, ...] = KINDS
    every: bool = False
    rules: Sitting | None = None
    style: HouseStyle = BRITISH
    named: tuple[Kind, ...] = ("number",)
    stem_picture: StemPicture = "sketch"


@dataclass(frozen=True)
class ItemModel:
    """One question of one kind; ``draw(wanted, gravity, seed)`` gives a series of up to ``wanted`` items.

    ``tally`` tells how many, where that is known without the mistakes that an item needs.
    """

    id: str
    kind: Kind
    metadata: Metadata
    draw: Callable[[int, Decimal, int], ItemSeries]
    tally: Callable[[int, Decimal, int], int] | None = None

    def count(self, wanted: int, gravity: Decimal, seed: int) -> int:
        """How many items there are, up to ``wanted``."""
        if self.tally:
            return self.tally(wanted, gravity, seed)
        return len(self.draw(wanted, gravity, seed))

    def section(self, wanted: int, gravity: Decimal, seed: int, start: int = 0) -> Section | None:
        """The section of the question's items, from the one at ``start`` on; None where it has none."""
        items = self.draw(wanted, gravity, seed)[start:]
        if not items:
            return None
        figures: list[Drawing] = []
        pictures: list[Drawing] = []
        plots: list[Drawing] = []
        shown: dict[str, int | None] = {}
        cautions: dict[str, None] = {}
        for place, scene in enumerate(items.scenes):
            if scene not in shown:
                item = items[place]
                shown[scene] = _place(figures, item.figure)
                cautions[item.metadata.caution] = None
                for drawing in _pictures(item):
                    _place(pictures, drawing)
                for drawing in _plots(item):
                    _place(plots, drawing)
        return Section(
            question_id=self.id,
            metadata=self.metadata,
            figures=tuple(figures),
            figure_of=[shown[scene] for scene in items.scenes],
            items=items,
            pictures=tuple(pictures),
            plots=tuple(plots),
            cautions=tuple(filter(None, cautions)),
        )


def facts_of(kind: Kind, own: Metadata, name: str, title: str, suffix: str, what: str) -> Metadata:
    """The facts of another kind, from those of the question itself and the name and title of what it is about."""
    of_kind = KIND[kind]
    return replace(
        own, question=f"{name}/{kind}{suffix}", title=of_kind.title.format(of=title, what=what), kind=kind,
        minutes=of_kind.minutes or own.minutes, difficulty=own.difficulty if of_kind.has_difficulty else None,
    )  # fmt: skip


def as_wanted(asked: ItemModel, settings: Settings) -> ItemModel:
    """The question with all its items in the style of writing and with the picture that a user wants."""
    style, picture = settings.style, settings.stem_picture
    if style == BRITISH and picture == "sketch":
        return asked

    def change(item: Item) -> Item:
        return style.changed(with_stem_picture(item, picture))

    def draw(wanted: int, gravity: Decimal, seed: int) -> ItemSeries:
        return asked.draw(wanted, gravity, seed).changed(change)

    return replace(asked, draw=draw, metadata=style.changed(asked.metadata))


def _pictures(item: Item) -> Iterator[Drawing]:
    """The drawings among the options of an item."""
    for entry in item.entries:
        for option in entry.options if isinstance(entry, ChoiceEntry) else ():
            if isinstance(option.content, Drawing):
                yield option.content


def _plots(item: Item) -> Iterator[Drawing]:
    """The drawings in the worked solution of an item."""
    parts = (part for step in item.solution for paragraph in step.paragraphs for part in paragraph)
    return (part.drawing for part in parts if isinstance(part, SolutionDrawing))


def _place(known: list[Drawing], drawing: Drawing | None) -> int | None:
    """The place of a drawing among the known ones, where it is added if it is new."""
    if drawing is None:
        return None
    if drawing not in known:
        known.append(drawing)
    return known.index(drawing)


def guarded_model(problem: Problem, question: Question, asked: ItemModel) -> ItemModel:
    """The question with the drawing and making of its items within a budget; a shipped one as it is."""
    if problem.document.is_ours:
        return asked

    def draw(wanted: int, gravity: Decimal, seed: int) -> ItemSeries:
        with guarded(problem, question, variants=wanted):
            items = asked.draw(wanted, gravity, seed)

        def make(place: int) -> Item:
            with guarded(problem, question):
                return items.make(place)

        return replace(items, make=make)

    def tally(wanted: int, gravity: Decimal, seed: int) -> int:
        with guarded(problem, question, variants=wanted):
            return asked.count(wanted, gravity, seed)

    return replace(asked, draw=draw, tally=tally)


# --- one item a scene ---


def once_a_scene(make: Callable[[Scene], _Made]) -> Callable[[Scene], _Made]:
    """What is made of a scene, made once: it is the same for all draws."""
    made: dict[str, _Made] = {}

    def kept(scene: Scene) -> _Made:
        if scene.name not in made:
            made[scene.name] = make(scene)
        return made[scene.name]

    return kept


def with_last(steps: Sequence[Step], last: Step | None) -> tuple[Step, ...]:
    """The steps, with one more at their end, numbered on."""
    return (*steps, replace(last, number=len(steps) + 1)) if last else tuple(steps)


def one_a_scene(
    scenes: Sequence[Scene],
    facts: Metadata,
    make: Callable[[Scene], Entry | None],
    item: Callable[[Scene, Entry, int], Item],
    wanted: int,
    seed: int,
) -> ItemSeries:
    """One item for each scene that has an entry, in an order that the seed decides, alike on every machine."""
    draw = f"{facts.problem} {facts.question} {seed}"
    ordered = mixed(scenes, draw, lambda each: each.name)
    entries = [(scene, entry) for scene in ordered if (entry := make(scene))][:wanted]
    return ItemSeries([scene.name for scene, _ in entries], lambda place: item(*entries[place], place + 1))
