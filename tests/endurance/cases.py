"""Commands that write files, with what they leave before and after, so that a trial can tell what stands there."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from turnwright import exporters
from turnwright.bank.command.pack import TABLE

from tests.endurance.programs import Room, parts, timed
from tests.fair import Class, sit, write_csv

LANTERN = ("--bank", "lantern.yaml")
OTHER = ("--bank", "bank", "wall-ride.friction")  # a question with another figure
LONG_PACK = (*LANTERN, "lantern.pull", "--kind", "number", "--variants", "450")  # long enough for workers


@dataclass(frozen=True)
class Case:
    """A command that writes into ``out``, with arguments for old files and for new ones of the same names.

    ``order`` names those that take their places one after the other; where it is empty, all do so at once.
    ``keeps``: what is done before a fault stays.
    """

    name: str
    old: tuple[str, ...]
    new: tuple[str, ...]
    order: tuple[str, ...] = ()
    keeps: bool = False


@dataclass(frozen=True)
class Bench:
    """A case with the bytes of its files before and after, and the length of a run."""

    room: Room
    case: Case
    old: Mapping[str, bytes]
    new: Mapping[str, bytes]
    seconds: float

    @property
    def out(self) -> Path:
        """The folder into which the command writes."""
        return self.room.folder / "out"

    def prepare(self) -> None:
        """The old files stand."""
        empty(self.out)
        for name, content in self.old.items():
            (self.out / name).parent.mkdir(parents=True, exist_ok=True)
            (self.out / name).write_bytes(content)

    def state(self) -> str:
        """Whether the files are old, new, or new up to one of them. Raises where one is neither."""
        found = files(self.out)
        names = self.case.order or sorted(found.keys() | self.old.keys() | self.new.keys())
        for name in found.keys() | self.old.keys():
            assert found.get(name) in (self.old.get(name), self.new.get(name)), f"{name} is neither old nor new"
        changed = [name for name in names if self.old.get(name) != self.new.get(name)]
        is_new = [found.get(name) == self.new.get(name) for name in changed]
        assert sorted(is_new, reverse=True) == is_new, "files took their places out of order"
        assert self.case.order or len(set(is_new)) == 1, "only some files took their places"
        return "all new" if all(is_new) else "some new" if any(is_new) else "old"

    def again(self) -> None:
        """A next run makes the new files and leaves nothing else."""
        if not self.case.old:
            self.prepare()
        self.room.run(*self.case.new).must_be(0)
        assert files(self.out) == self.new, "a run after a kill made other files"
        assert not parts(self.out), "a run has left what a killed one left"


def bench(room: Room, case: Case, times: int = 1) -> Bench:
    """A case that was run without disturbance; its length is the best of so many runs."""
    out = room.folder / "out"
    found: list[dict[str, bytes]] = []
    for arguments in (case.old, case.new):
        empty(out)
        shutil.copy(room.folder / "lantern.yaml", out)
        if arguments:
            room.run(*arguments).must_be(0)
        found.append(files(out))
    made = Bench(room, case, found[0], found[1], 0)
    assert found[0] != found[1], f"{case.name} writes the same twice"
    seconds = [timed(lambda: room.run(*case.new).must_be(0), made.prepare) for _ in range(times)]
    return Bench(room, case, found[0], found[1], min(seconds))


def empty(folder: Path) -> None:
    """An empty folder stands there."""
    folder.mkdir(parents=True, exist_ok=True)
    for each in folder.iterdir():
        if each.is_dir():
            shutil.rmtree(each)
        else:
            each.unlink()


def files(folder: Path) -> dict[str, bytes]:
    """What stands in a folder, but for parts of runs."""
    return {
        str(each.relative_to(folder)): each.read_bytes()
        for each in sorted(folder.rglob("*"))
        if each.is_file() and not any(name.endswith(".part") for name in each.relative_to(folder).parts)
    }


def pack_case(*arguments: str) -> Case:
    """A pack with these arguments, from either of two seeds."""
    first, second = (("pack", *arguments, "--seed", seed, "--out", "out/pack.zip") for seed in "12")
    return Case("pack", first, second)


def other_cases(room: Room) -> Iterator[Case]:
    """The other commands that write."""
    book = ("book", *LANTERN, "--variants", "1", "--out", "out/book.html", "--seed")
    paper = ("paper", *LANTERN, "lantern.pull", "--out", "out/paper.pdf", "--seed")
    every = ("pack", *LANTERN, "lantern.pull", "--format", "all", "--out", "out", "--seed")
    figure = ("--figure", "out/figure.svg")
    formats = (f"turnwright-{name}{exporters.exporter(name).SUFFIX}" for name in exporters.available())
    yield _form_case(room)
    yield Case("paper", (*paper, "1"), (*paper, "2"), ("paper.pdf", "paper-marking.pdf"))
    yield Case("book", (*book, "1"), (*book, "2"))
    yield Case("pack in all formats", (*every, "1"), (*every, "2"), (*formats, TABLE), keeps=True)
    yield Case("merge", (), ("merge", "lantern.yaml", "bank", "--out", "out/both"))
    yield Case("show --figure", ("show", *LANTERN, "lantern.pull", *figure), ("show", *OTHER, *figure))
    yield _results_case(room)


def _form_case(room: Room) -> Case:
    blueprint = (room.folder / "small.yaml").read_text("utf-8")
    (room.folder / "other.yaml").write_text(blueprint.replace("seed: 11", "seed: 12"), "utf-8")
    old, new = (("form", name, "--bank", "bank", "--out", "out") for name in ("small.yaml", "other.yaml"))
    return Case("form", old, new, ("form-A-qti-3.0.zip", "form-B-qti-3.0.zip", "assessment.json"))


def _results_case(room: Room) -> Case:
    """Results that are written back beside the problem: the answers of two classes that are made up here."""
    sat = ("--out", "sat.zip", "--manifest", "sat.json")
    room.run("pack", *LANTERN, "lantern.pull", "--kind", "number", *sat).must_be(0)
    data = json.loads((room.folder / "sat.json").read_text("utf-8"))
    for name, seed in (("first", 1), ("second", 2)):
        write_csv(list(sit(data, {"1": room.folder / "sat.zip"}, Class(200, seed))), room.folder / f"{name}.csv")
    options = ("--pack", "sat.json", "--bank", "out/lantern.yaml", "--salt", "fair", "--write-back")
    old, new = (("results", f"{name}.csv", *options, "--out", "out/report.html") for name in ("first", "second"))
    return Case("results --write-back", old, new, ("report.html", "lantern.statistics.json"))
