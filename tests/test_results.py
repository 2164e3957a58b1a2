"""The full circle: packs, a simulated class with known mistakes, results; the analysis finds what was planted."""

from __future__ import annotations

import json
import random
import re
import shutil
from dataclasses import dataclass, replace
from decimal import Decimal
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
from turnwright.bank.analysis import read_assessment
from turnwright.bank.analysis.marking import earned
from turnwright.bank.command.main import run
from turnwright.bank.reading.files import shipped_files
from turnwright.exporters import report
from turnwright.exporters.proof.marking.trial import Answer

from tests.fair import Class, Marker, Sat, report_xml, response_text, sit, write_csv, write_xml

PLANTED = "outward-force-and-m-a"


@dataclass(frozen=True)
class Circle:
    """What the circle left behind."""

    folder: Path
    bad: str
    sat: list[Sat]

    @property
    def manifest(self) -> dict[str, Any]:
        made: dict[str, Any] = json.loads((self.folder / "assessment.json").read_text("utf-8"))
        return made

    def run(self, *arguments: str) -> int:
        return run(["results", *arguments, "--pack", str(self.folder / "assessment.json")])


@pytest.fixture(scope="module")
def circle(tmp_path_factory: pytest.TempPathFactory) -> Circle:
    folder = tmp_path_factory.mktemp("circle")
    pack, manifest = folder / "pack.zip", folder / "assessment.json"
    chosen = ["--kind", "number,choice,direction,stepwise", "--variants", "5", "--for", "exam"]
    assert run(["pack", "over-the-top", *chosen, "--out", str(pack), "--manifest", str(manifest)]) == 0
    data = json.loads(manifest.read_text("utf-8"))
    bad = next(each["item"] for each in data["forms"][0]["items"] if each["kind"] == "number" and each["variant"] == 3)
    sat = list(sit(data, {"1": pack}, Class(500, 7, {PLANTED: 8.0}, {bad: 2.5})))
    write_xml(sat, folder / "results.zip", "2.2")
    write_csv(sat, folder / "results.csv")
    return Circle(folder, bad, sat)


def outcome(circle: Circle, capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, Any]:
    capsys.readouterr()
    assert circle.run(*arguments, "--json") == 0
    made: dict[str, Any] = json.loads(capsys.readouterr().out)
    return made


def test_the_planted_mistake_and_the_planted_variant_are_found(
    circle: Circle, capsys: pytest.CaptureFixture[str]
) -> None:
    found = outcome(circle, capsys, str(circle.folder / "results.zip"))
    assert (found["set_aside"], found["disagreements"]) == ([], [])
    assert sum(each["marked_again"]["answers"] for each in found["questions"]) == len(circle.sat)
    assert (found["candidates"], found["answers"]) == (500, len(circle.sat))
    assert found["mistakes"][0]["mistake"] == PLANTED
    flags = [flag for each in found["questions"] for flag in each["flags"] if "variant" in flag["rule"]]
    assert [each["variant"] for each in flags] == [circle.bad]
    assert flags[0]["rule"] == "a variant is harder"
    assert found["forms"][0]["reliability"]["alpha"] > 0.6
    assert all(each["chosen"][0]["sort"] == "right" for each in found["questions"])


def test_the_csv_says_the_same_as_the_reports(circle: Circle, capsys: pytest.CaptureFixture[str]) -> None:
    first, second = (outcome(circle, capsys, str(circle.folder / f"results.{each}")) for each in ("zip", "csv"))
    assert first == second


def test_ten_percent_of_damage_leaves_the_findings(circle: Circle, capsys: pytest.CaptureFixture[str]) -> None:
    lines = (circle.folder / "results.csv").read_text("utf-8").splitlines()
    for place in range(1, len(lines), 10):
        lines[place] = lines[place].replace(",", ";", 1) if place % 20 == 1 else lines[place].replace("p", "q", 1)
    damaged = circle.folder / "damaged.csv"
    damaged.write_text("\n".join(lines), "utf-8")
    found = outcome(circle, capsys, str(damaged))
    assert sum(each["count"] for each in found["set_aside"] if each["lost"]) == len(range(1, len(lines), 10))
    left: dict[str, list[float]] = {each["id"]: [] for each in found["questions"]}
    questions = {each["item"]: each["question"] for each in circle.manifest["forms"][0]["items"]}
    for place, each in enumerate(circle.sat, 1):
        if place % 10 != 1:
            left[questions[each.item]].append(each.score)
    for each in found["questions"]:
        assert each["facility"] * each["marks"] == pytest.approx(
            sum(left[each["id"]]) / len(left[each["id"]]), rel=1e-5
        )
        assert each["candidates"] + each["unknown"] == 500
    assert found["mistakes"][0]["mistake"] == PLANTED


def test_the_page_is_whole_and_tells_no_name(circle: Circle, capsys: pytest.CaptureFixture[str]) -> None:
    page = circle.folder / "report.html"
    arguments = (str(circle.folder / "results.zip"), "--out", str(page))
    assert circle.run(*arguments) == 0
    assert "Child" not in capsys.readouterr().out
    html = page.read_text("utf-8")
    assert "Child" not in html
    assert "default-src &#39;none&#39;" in html
    assert not re.search(r"https?://(?!www\.w3\.org)|<script| style=|@@", html)
    looked = Looked()
    looked.feed(html)
    assert looked.named <= looked.ids
    assert looked.pictures == 12 + 2  # a plot for each question, one of all, one of the forms
    assert circle.run(*arguments, "--salt", "another") == 0
    assert page.read_text("utf-8") == html  # nothing on it depends on the salt


class Looked(HTMLParser):
    """The ids of a page, those that are named, and how many pictures have a text alternative."""

    def __init__(self) -> None:
        super().__init__()
        self.ids: set[str] = set()
        self.named: set[str] = set()
        self.pictures = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        self.ids.add(given.get("id") or "")
        self.named |= {given[name] or "" for name in ("aria-labelledby",) if name in given}
        self.named |= {(given.get("href") or "").removeprefix("#")} if tag in ("use", "a") else set()
        self.pictures += tag == "svg" and given.get("role") == "img"


def test_measured_values_lie_beside_the_problem(
    circle: Circle, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    source = next(each for each in shipped_files() if "id: over-the-top\n" in each.read_text("utf-8"))
    problem = tmp_path / "top.yaml"
    shutil.copy(source, problem)
    before = problem.read_bytes()
    results = str(circle.folder / "results.csv")
    for date in ("2026-03-04", "2026-03-05"):
        assert outcome(circle, capsys, results, "--bank", str(problem), "--write-back", "--date", date)["statistics"]
    values = json.loads((tmp_path / "top.statistics.json").read_text("utf-8"))
    assert len(values) == 12
    assert {(each["n"], each["date"], len(each["sittings"])) for each in values.values()} == {(500, "2026-03-05", 1)}
    assert all(0 < each["facility"] < 1 and 0.3 < each["minutes"] < 3.4 for each in values.values())
    assert problem.read_bytes() == before
    problem.write_text(before.decode().replace("\nversion: 1\n", "\nversion: 2\n"), "utf-8")
    found = outcome(circle, capsys, results, "--bank", str(problem), "--write-back")
    assert found["statistics"] == []
    assert "version 2" in found["not_written_back"][0]


def test_rows_of_template_items_are_told_apart(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    manifest = tmp_path / "assessment.json"
    chosen = ["--kind", "number", "--variants", "4", "--variants-as", "table", "--manifest", str(manifest)]
    assert run(["pack", "over-the-top.least-speed", *chosen, "--out", str(tmp_path / "pack.zip")]) == 0
    items = json.loads(manifest.read_text("utf-8"))["forms"][0]["items"]
    rows = [(each["item"], each.get("row")) for each in items]
    assert len(set(rows)) == 4
    item = next(each for each in items if each.get("row") == 2)
    row = (
        '<templateVariable identifier="ROW" cardinality="single" baseType="integer"><value>2</value></templateVariable>'
    )
    sat = Sat("Child 1", item["item"], {"RESPONSE": item["recognised"][0]["value"]}, 0.0, 30.0)
    (tmp_path / "one.xml").write_text(report_xml([sat]).replace("<outcomeVariable", f"{row}<outcomeVariable"))
    capsys.readouterr()
    assert run(["results", str(tmp_path / "one.xml"), "--pack", str(manifest), "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    (variant,) = found["questions"][0]["siblings"]["variants"]
    assert (variant["item"], variant["variant"]) == (f"{item['item']}#2", item["variant"])
    assert {each["mistake"] for each in found["mistakes"]} == set(item["recognised"][0]["mistakes"])


def test_groups_are_compared_where_they_are_large_enough(circle: Circle, capsys: pytest.CaptureFixture[str]) -> None:
    groups = circle.folder / "groups.csv"
    names = sorted({each.candidate for each in circle.sat})
    told = "".join(f"{name},{'=morning' if place % 2 else 'evening'}\n" for place, name in enumerate(names))
    groups.write_text(f"candidate,group\n{told}", "utf-8")
    found = outcome(circle, capsys, str(circle.folder / "results.csv"), "--group", str(groups))
    assert [each["between"][0]["found"]["class"] for each in found["questions"]].count("A") >= 11
    page = circle.folder / "groups.html"
    assert circle.run(str(circle.folder / "results.csv"), "--group", str(groups), "--out", str(page)) == 0
    assert ">=morning" not in page.read_text("utf-8")  # no cell begins as a formula
    assert "&#39;=morning" in page.read_text("utf-8")


def test_other_versions_and_bad_input_end_in_a_sentence(
    circle: Circle, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    strange = [replace(each, item=each.item.replace("p", "x", 1)) for each in circle.sat[:12]]
    write_csv([*strange, *circle.sat[12:24]], tmp_path / "mixed.csv")
    found = outcome(circle, capsys, str(tmp_path / "mixed.csv"))
    assert found["candidates"] == 1
    assert "another version" in found["set_aside"][0]["what"]
    for arguments in (["absent.csv"], [str(tmp_path / "mixed.csv"), "--group", str(tmp_path)]):
        assert circle.run(*arguments) == 2
        assert "Traceback" not in capsys.readouterr().err
    (tmp_path / "no.json").write_text("{}")
    assert run(["results", str(tmp_path / "mixed.csv"), "--pack", str(tmp_path / "no.json")]) == 2
    assert "'assessment' is a required property" in capsys.readouterr().err


def test_every_kind_is_marked_again_as_the_independent_reader_marks_it(tmp_path: Path) -> None:
    pack, manifest = tmp_path / "pack.zip", tmp_path / "assessment.json"
    chosen = ["--kind", "number,forces,rank,match,stepwise", "--variants", "1", "--manifest", str(manifest)]
    assert run(["pack", "flat-bend", *chosen, "--out", str(pack)]) == 0
    data = json.loads(manifest.read_text("utf-8"))
    marker, dice, kinds = Marker(pack), random.Random(5), set()
    for told, item in zip(data["forms"][0]["items"], read_assessment(manifest).forms[0].items, strict=True):
        kinds.add(told["kind"])
        for _ in range(12):
            answers = tried(told, dice)
            assert earned(item, response_text(answers)) == pytest.approx(marker.score(item.name, answers), abs=1e-5)
    assert kinds == {"number", "forces", "rank", "match", "stepwise"}


def tried(told: dict[str, Any], dice: random.Random) -> dict[str, Answer]:
    """Something that a candidate may answer to each part of an item."""
    parts = told.get("parts") or [told]
    names = [f"RESPONSE_{number}" for number in range(1, len(parts) + 1)] if len(parts) > 1 else ["RESPONSE"]
    return {name: _tried(told["kind"], part, dice) for name, part in zip(names, parts, strict=True)}


def _tried(kind: str, part: dict[str, Any], dice: random.Random) -> Answer:
    key = part["key"]
    if "number" in key:
        off = dice.choice(["0", "1", "-1", "1.01", "-1.01"])
        known = [each["value"] for each in (*part["recognised"], *part.get("carried", ()))]
        return dice.choice([str(Decimal(key["number"]) + Decimal(off) * Decimal(key["half_width"])), *known])
    if "order" in key:
        made = list(key["order"])
        first = dice.randrange(len(made) - 1)
        made[first : first + 2] = reversed(made[first : first + 2])
        return tuple(dice.choice([key["order"], made, dice.sample(made, len(made))]))
    if "pairs" in key:
        columns = sorted({column for _, column in key["pairs"]})
        return tuple(f"R{row} C{ord(dice.choice([column, *columns])) - 64}" for row, column in key["pairs"])
    letters = [each["name"] for each in part["options"]]
    return tuple(sorted(dice.sample(letters, dice.randint(1, 3)))) if kind == "forces" else dice.choice(letters)


def test_a_platform_that_loses_the_tolerance_is_told_of_before_all(
    circle: Circle, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    items = {each["item"]: each for each in circle.manifest["forms"][0]["items"]}
    question = items[circle.bad]["question"]
    lost = [
        replace(each, score=0.0) if items[each.item]["question"] == question and each.score else each
        for each in circle.sat
    ]
    write_csv(lost, tmp_path / "lost.csv")
    page = tmp_path / "lost.html"
    assert circle.run(str(tmp_path / "lost.csv"), "--out", str(page)) == 0
    first, second, *_ = capsys.readouterr().out.splitlines()
    number = sum(each.score != before.score for each, before in zip(lost, circle.sat, strict=True))
    assert first.startswith(f"{number} of {len(lost):,} answers that could be marked again have other marks")
    assert question in second
    html = page.read_text("utf-8")
    assert html.index("By the manifest</th>") < html.index('id="thinking"')
    assert items[circle.bad]["key"]["number"] in html[: html.index('id="thinking"')]
    source = next(each for each in shipped_files() if "id: over-the-top\n" in each.read_text("utf-8"))
    shutil.copy(source, tmp_path / "top.yaml")
    arguments = (str(tmp_path / "lost.csv"), "--bank", str(tmp_path / "top.yaml"), "--write-back")
    found = outcome(circle, capsys, *arguments)
    (doubtful,) = found["disagreements"]
    assert (doubtful["id"], doubtful["in_doubt"]) == (question, True)
    assert found["not_written_back"] == [f"{question}: its marks are in doubt in form 1"]
    assert question not in json.loads((tmp_path / "top.statistics.json").read_text("utf-8"))
    again, sound = (
        outcome(circle, capsys, *each)
        for each in ((arguments[0], "--marked-again"), (str(circle.folder / "results.csv"),))
    )
    assert [each["facility"] for each in again["questions"]] == [each["facility"] for each in sound["questions"]]


@pytest.mark.parametrize("score", ["1", "0", "7", "", "nan", "inf"])
@pytest.mark.parametrize("candidates", [1, 2])
def test_nothing_that_is_not_defined_reaches_a_reader(
    circle: Circle, tmp_path: Path, capsys: pytest.CaptureFixture[str], score: str, candidates: int
) -> None:
    items = [each["item"] for each in circle.manifest["forms"][0]["items"] if each["variant"] == 1][:3]
    lines = [f"c{who},{item},A,{score}" for who in range(candidates) for item in items]
    (tmp_path / "few.csv").write_text("\n".join(["candidate,item,response,score", *lines]), "utf-8")
    page = tmp_path / "few.html"
    assert circle.run(str(tmp_path / "few.csv"), "--out", str(page)) == 0
    told = capsys.readouterr().out + re.sub(r"<style>.*?</style>", "", page.read_text("utf-8"), flags=re.DOTALL)
    assert not re.findall(r".{0,20}(?<![a-z])(?:nan|inf)(?![a-z]).{0,20}", told, re.IGNORECASE)


def test_what_only_a_stranger_repeats_is_refused_before_it_is_read(
    circle: Circle, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    data = circle.manifest
    data["forms"][0]["items"] *= 1000
    (tmp_path / "twice.json").write_text(json.dumps(data), "utf-8")
    results = str(circle.folder / "results.csv")
    assert run(["results", results, "--pack", str(tmp_path / "twice.json"), "--json"]) == 2
    assert "once more; give the manifest" in capsys.readouterr().err
    (tmp_path / "wide.csv").write_text(
        "candidate,item,response,score," + ",".join(map(str, range(200_000))) + "\n" + "1," * 200_003 + "1\n", "utf-8"
    )
    monkeypatch.setattr("pandas.read_csv", None)
    assert circle.run(str(tmp_path / "wide.csv")) == 2
    assert "CSV files with more than 1,000 columns" in capsys.readouterr().err


def test_two_people_who_write_values_back_at_once_lose_nothing(
    circle: Circle, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    source = next(each for each in shipped_files() if "id: over-the-top\n" in each.read_text("utf-8"))
    shutil.copy(source, tmp_path / "top.yaml")
    (tmp_path / "other.json").write_text(json.dumps({**circle.manifest, "assessment": "another"}), "utf-8")
    results = [str(circle.folder / "results.csv"), "--bank", str(tmp_path / "top.yaml"), "--write-back", "--json"]
    honest, calls = report.statistics_files, []

    def slow(*given: Any) -> Any:
        made = honest(*given)
        calls.append(given)
        if len(calls) == 1:  # the other person's run is quicker
            assert run(["results", *results, "--pack", str(tmp_path / "other.json")]) == 0
        return made

    monkeypatch.setattr(report, "statistics_files", slow)
    assert circle.run(*results) == 0
    values = json.loads((tmp_path / "top.statistics.json").read_text("utf-8"))
    mine = circle.manifest["assessment"]
    assert all([sitting["assessment"] for sitting in each["sittings"]] == ["another", mine] for each in values.values())
    assert {each["n"] for each in values.values()} == {1000}
    assert len(calls) == 3
