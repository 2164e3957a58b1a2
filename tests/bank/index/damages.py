"""Damages of the index: whatever becomes of its entries, commands print what they print without any."""

from __future__ import annotations

import json
import os
import random
from collections.abc import Callable, Iterator, Sequence
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from io import StringIO
from pathlib import Path
from typing import Any, TypeAlias

from turnwright.bank.command.main import run
from turnwright.bank.storage import entries

from tests.bank.problems import varied, written

Ended: TypeAlias = tuple[int, str, str]
LISTS = (["list", "--json"], ["list", "lantern.low"])
LOOKS = (["show", "lamp.pull", "--json"], ["show", "lantern.low"], ["demo", "broken.low"], ["show", "lanterm.low"])


def bank(folder: Path) -> Path:
    """A bank of two sound files and one with a fault."""
    place = folder / "bank"
    place.mkdir()
    written(place)
    written(place, varied(("id: lantern", "id: lamp"), ("r: {means: radius", "r: {means: the radius")), "lamp.yaml")
    written(place, varied(("id: lantern", "id: broken"), ("unit: km/h", "unit: smoot")), "broken.yaml")
    return place


def ended(arguments: Sequence[str], place: Path) -> Ended:
    """How a command ends on the bank, and what it writes."""
    with redirect_stdout(StringIO()) as out, redirect_stderr(StringIO()) as err:
        status = run([*arguments, "--bank", str(place)])
    return status, out.getvalue(), err.getvalue()


@dataclass(frozen=True)
class Damage:
    """What may happen to an entry.

    ``is_lie``: a well sealed one, as only who may write the user's own cache can make it. A list shows it, and so do
    messages about other files and names that are near; what is printed of a question does not come from it.
    """

    name: str
    do: Callable[[Path, random.Random], None]
    is_lie: bool = False


def _flip(path: Path, dice: random.Random) -> None:
    content = bytearray(path.read_bytes())
    content[dice.randrange(len(content))] ^= 1 << dice.randrange(8)
    path.write_bytes(content)


def _cut(path: Path, dice: random.Random) -> None:
    content = path.read_bytes()
    path.write_bytes(content[: dice.randrange(len(content))])


def _longer(path: Path, dice: random.Random) -> None:
    path.write_bytes(path.read_bytes() + dice.randbytes(dice.randrange(1, 99)))


def _other(path: Path, dice: random.Random) -> None:
    """The entry of another file, or of another version, under this name."""
    others = sorted(each for each in path.parent.glob("*.json") if each != path)
    path.write_bytes(dice.choice(others).read_bytes())


def _aged(path: Path, dice: random.Random) -> None:
    stamp = dice.randrange(2_000_000_000)
    os.utime(path, (stamp, stamp))
    if dice.random() < 0.5:
        path.unlink()


def _junk(path: Path, dice: random.Random) -> None:
    path.write_bytes(dice.choice([b"", b"null", b"[" * 90_000, dice.randbytes(300), b'{"id": ' + b" " * 300_000]))


def _data(path: Path) -> Any:
    return entries.opened(path.stem, path.read_bytes())


def _resealed(path: Path, data: Any) -> None:
    path.write_bytes(entries.sealed(path.stem, data))


def _other_layout(path: Path, dice: random.Random) -> None:
    data = _data(path)
    if path.stem.startswith("file-") and data["declared"]:
        key = dice.choice(sorted(data["declared"]))
        changes = [lambda: data["declared"].pop(key), lambda: data["declared"].update({key: 7})]
        dice.choice(changes)()
    else:
        data = dice.choice([None, [], 7, "none", {"lantern": -1}, {"low": "many"}, {"low": True}])
    _resealed(path, data)


def _called_faulty(path: Path, dice: random.Random) -> None:
    if path.stem.startswith("file-"):
        _resealed(path, {**_data(path), "declared": None})


def _lie(path: Path, dice: random.Random) -> None:
    """An id, or the names of questions, that are not those of the file; or a file with faults is vouched for."""
    if not path.stem.startswith("file-"):
        return
    data = _data(path)
    if data["declared"] is None:
        sound = next(each for each in map(_data, sorted(path.parent.glob("file-*.json"))) if each["declared"])
        _resealed(path, {**sound, "id": data["id"], "declared": {**sound["declared"], "id": data["id"]}})
    elif dice.random() < 0.5:
        name = dice.choice(["broken2", "banana", "lamp2"])
        _resealed(path, {"id": name, "declared": {**data["declared"], "id": name}})
    else:
        changed = [{**each, "name": f"{each['name']}-x"} for each in data["declared"]["questions"]]
        _resealed(path, {**data, "declared": {**data["declared"], "questions": changed}})


DAMAGES = (
    Damage("a bit flipped", _flip),
    Damage("truncated", _cut),
    Damage("something behind it", _longer),
    Damage("another entry", _other),
    Damage("aged or gone", _aged),
    Damage("junk", _junk),
    Damage("another layout, sealed", _other_layout),
    Damage("called faulty, sealed", _called_faulty),
    Damage("a lie, sealed", _lie, is_lie=True),
)


def trial(folder: Path, number: int, seed: int) -> Iterator[tuple[str, str]]:
    """Damages entries of the index ``number`` times; yields each damage that changed what a command says, with how.

    The cache is that of the environment, in which nothing else is damaged.
    """
    place = bank(folder)
    cache = entries.folder()
    assert cache is not None
    right = {tuple(each): ended(each, place) for each in (*LISTS, *LOOKS)}
    sound = {path: path.read_bytes() for path in cache.glob("*-*.json") if path.stem.partition("-")[0] in SORTS}
    assert {path.stem.partition("-")[0] for path in sound} == set(SORTS)
    dice = random.Random(seed)
    for at in range(number):
        damage = DAMAGES[at % len(DAMAGES)]
        for path in dice.sample(sorted(sound), dice.randrange(1, 4)):
            damage.do(path, dice)
        looked = LOOKS if damage.is_lie else (*LISTS, *LOOKS)
        for each in (dice.choice(looked), dice.choice(looked)):
            now, best = ended(each, place), right[tuple(each)]
            if now[:2] != best[:2] or (now != best and not damage.is_lie):
                yield damage.name, json.dumps([each, right[tuple(each)], now])
        for path, content in sound.items():
            path.write_bytes(content)


SORTS = ("file", "counts")
