"""Simulated candidates of the fair's school: an ability, habits of thinking, answers marked by the independent reader.

``python -m tests.fair MANIFEST PACK... --out RESULTS.zip`` lets a class sit the packs, one for each form.
"""

from __future__ import annotations

import argparse
import csv
import json
import math
import random
import zipfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from xml.sax.saxutils import escape, quoteattr

from turnwright.exporters.proof.dialect import DIALECTS
from turnwright.exporters.proof.marking.trial import Answer, Bench
from turnwright.exporters.proof.reading.item_file import read_item
from turnwright.exporters.strangers.archive import Limits, open_archive

NAMESPACES = {
    "3.0": "http://www.imsglobal.org/xsd/imsqti_result_v3p0",
    "2.2": "http://www.imsglobal.org/xsd/imsqti_result_v2p2",
    "2.1": "http://www.imsglobal.org/xsd/imsqti_result_v2p1",
}


@dataclass(frozen=True)
class Class:
    """What is planted: how likely each mistake is against others, and how much harder an item is, in logits."""

    candidates: int = 300
    seed: int = 1
    habits: Mapping[str, float] = field(default_factory=dict)
    harder: Mapping[str, float] = field(default_factory=dict)
    omitted: float = 0.03


@dataclass(frozen=True)
class Sat:
    """One answer: who, to which item, what is given to each response, and the score of the item's own rules."""

    candidate: str
    item: str
    answers: Mapping[str, Answer]
    score: float
    seconds: float


def sit(manifest: Mapping[str, Any], packs: Mapping[str, Path], planted: Class) -> Iterator[Sat]:
    """The answers of all candidates; each sits one of the forms, and meets one variant of each of its questions."""
    dice = random.Random(planted.seed)
    markers = {name: Marker(path) for name, path in packs.items()}
    for number in range(planted.candidates):
        form = manifest["forms"][number % len(manifest["forms"])]
        ability = dice.gauss(0, 1)
        questions: dict[str, list[dict[str, Any]]] = {}
        for each in form["items"]:
            questions.setdefault(each["question"], []).append(each)
        for place, variants in enumerate(questions.values()):
            item = dice.choice(variants)
            hardness = 1.6 * (place / max(1, len(questions) - 1)) - 0.8 + planted.harder.get(item["item"], 0.0)
            answers = answer(item, dice, 1.3 * (ability - hardness), planted)
            score = markers[form["form"]].score(item["item"], answers)
            yield Sat(f"Child {number:04}", item["item"], answers, score, round(dice.uniform(20, 200), 1))


def answer(item: Mapping[str, Any], dice: random.Random, edge: float, planted: Class) -> dict[str, Answer]:
    """What a candidate answers, whose ability is ``edge`` above the hardness of the item."""
    if dice.random() < planted.omitted:
        return {}
    keys = item["key"].get("parts", [item["key"]])
    right = dice.random() < 1 / (1 + math.exp(-edge))
    slip = None if right else dice.randrange(len(keys))
    made: dict[str, Answer] = {}
    for part, key in enumerate(keys):
        name = f"RESPONSE_{part + 1}" if len(keys) > 1 else "RESPONSE"
        asked = item["parts"][part] if len(keys) > 1 else item
        made[name] = _wrong(asked, key, dice, planted) if part == slip else _right(key)
    return made


def _right(key: Mapping[str, Any]) -> Answer:
    if "number" in key:
        return str(key["number"])
    return key["options"][0] if len(key["options"]) == 1 else tuple(key["options"])


def _wrong(asked: Mapping[str, Any], key: Mapping[str, Any], dice: random.Random, planted: Class) -> Answer:
    """A wrong answer: one that a habit leads to, more often than another."""
    if "number" in key:
        known = [(each["value"], each["mistakes"]) for each in asked["recognised"]]
        known.append((f"{float(key['number']) * 1.53:.6g}", ["no known mistake"]))
    else:
        known = [(each["name"], each["mistakes"]) for each in asked["options"] if not each["right"]]
    weights = [max(planted.habits.get(each, 1.0) for each in (*mistakes, "")) for _, mistakes in known]
    found: str = dice.choices([value for value, _ in known], weights)[0]
    return found if "number" in key or len(key["options"]) == 1 else (found,)


class Marker:
    """A pack with the rules of its items, run by the independent reader; each answer is marked once."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._benches: dict[str, Bench] = {}
        self._scores: dict[tuple[str, str], float] = {}

    def score(self, item: str, answers: Mapping[str, Answer]) -> float:
        known = item, repr(sorted(answers.items()))
        if known not in self._scores:
            self._scores[known] = float(self._bench(item).mark(answers)["SCORE"])
        return self._scores[known]

    def _bench(self, item: str) -> Bench:
        if item not in self._benches:
            name = f"items/{item.partition('_')[2]}.xml"
            with open_archive(self._path, Limits()) as archive:
                data = archive.read(name, Limits().document)
            self._benches[item] = Bench(
                read_item(name, data, next(each for each in DIALECTS if each.namespace.encode() in data))
            )
        return self._benches[item]


def report_xml(sat: list[Sat], version: str = "3.0", *, when: str = "2026-03-04T10") -> str:
    """The results report of one candidate, as the sheet on interchange has it."""
    results = "".join(_item(each, number, when) for number, each in enumerate(sat, 1))
    return (
        f'<?xml version="1.0" encoding="UTF-8"?>\n<assessmentResult xmlns="{NAMESPACES[version]}">'
        f"<context sourcedId={quoteattr(sat[0].candidate)}/>"
        f'<testResult identifier="test" datestamp="{when}:59:00"/>{results}</assessmentResult>'
    )


def _item(sat: Sat, number: int, when: str) -> str:
    given = "".join(_response(name, answer) for name, answer in sat.answers.items())
    given = given or _response("RESPONSE", ())
    return (
        f'<itemResult identifier="{sat.item}" sequenceIndex="{number}" datestamp="{when}:{number % 60:02}:00" '
        'sessionStatus="final"><responseVariable identifier="duration" cardinality="single" baseType="duration">'
        f"<candidateResponse><value>PT{sat.seconds}S</value></candidateResponse></responseVariable>{given}"
        '<outcomeVariable identifier="SCORE" cardinality="single" baseType="float">'
        f"<value>{sat.score}</value></outcomeVariable></itemResult>"
    )


def _response(name: str, answer: Answer) -> str:
    texts = (answer,) if isinstance(answer, str) else answer
    values = "".join(f"<value>{escape(each)}</value>" for each in texts) or "<value/>"
    return (
        f'<responseVariable identifier="{name}" cardinality="single" baseType="identifier">'
        f"<candidateResponse>{values}</candidateResponse></responseVariable>"
    )


def write_xml(sat: list[Sat], target: Path, version: str = "3.0") -> None:
    """A zip file with a report for each candidate."""
    by_candidate: dict[str, list[Sat]] = {}
    for each in sat:
        by_candidate.setdefault(each.candidate, []).append(each)
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as file:
        for name, answers in by_candidate.items():
            file.writestr(f"{name}.xml", report_xml(answers, version))


def response_text(answers: Mapping[str, Answer]) -> str:
    """The answers as the column ``response`` has them."""
    given = {name: (each,) if isinstance(each, str) else each for name, each in sorted(answers.items())}
    if len(given) == 1:
        return " ".join(next(iter(given.values())))
    return " ".join(f"{name}={value}" for name, values in given.items() for value in values)


def write_csv(sat: list[Sat], target: Path) -> None:
    """The same answers as the plain CSV."""
    with target.open("w", newline="", encoding="utf-8") as file:
        table = csv.writer(file)
        table.writerow(["candidate", "item", "response", "score", "duration"])
        table.writerows(
            [each.candidate, each.item, response_text(each.answers), each.score, each.seconds] for each in sat
        )


def main() -> None:
    """A class sits packs whose names stand on the command line."""
    parser = argparse.ArgumentParser(description="A simulated class sits the packs of a manifest.")
    parser.add_argument("manifest", type=Path)
    parser.add_argument("packs", type=Path, nargs="+", help="one for each form, in the order of the manifest")
    parser.add_argument("--out", type=Path, required=True, help="zip file of results reports, or a .csv")
    parser.add_argument("--candidates", type=int, default=300)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--habit", action="append", default=[], metavar="MISTAKE", help="a mistake that many make")
    parser.add_argument("--harder", action="append", default=[], metavar="ITEM", help="an item that few get right")
    given = parser.parse_args()
    manifest = json.loads(given.manifest.read_text("utf-8"))
    packs = dict(zip((form["form"] for form in manifest["forms"]), given.packs, strict=True))
    planted = Class(given.candidates, given.seed, dict.fromkeys(given.habit, 8.0), dict.fromkeys(given.harder, 2.5))
    sat = list(sit(manifest, packs, planted))
    (write_csv if given.out.suffix == ".csv" else write_xml)(sat, given.out)
    print(f"{given.candidates} candidates, {len(sat)} answers in {given.out}")


if __name__ == "__main__":
    main()
