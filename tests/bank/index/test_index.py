"""The index tells which file to open and what a list shows; it changes no answer, whatever becomes of it."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from turnwright.bank.command.main import run
from turnwright.bank.documents import document
from turnwright.bank.errors import BankFaultsError, UnknownNameError
from turnwright.bank.index.counts import count, counts, known_counts
from turnwright.bank.index.lookup import Index
from turnwright.bank.quantities.gravity import GRAVITY
from turnwright.bank.reading.finding import problem_files
from turnwright.bank.storage import dependencies, entries
from turnwright.bank.thinking.distractors import telling_pool

from tests.bank import models
from tests.bank.index.damages import LISTS, LOOKS, bank, ended, trial
from tests.bank.problems import GOOD, varied, written


@pytest.fixture
def cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A cache of its own."""
    monkeypatch.setenv("TURNWRIGHT_CACHE", str(tmp_path / "cache"))
    return tmp_path / "cache"


@pytest.fixture
def opened(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The names of the problem files that are parsed."""
    names: list[str] = []
    parse = document.parse_document

    def noted(raw: bytes, name: str) -> document.Document:
        names.append(Path(name).name)
        return parse(raw, name)

    monkeypatch.setattr(document, "parse_document", noted)
    return names


def index_of(place: Path) -> Index:
    return Index(problem_files([place]))


# --- what is opened ---------------------------------------------------------------------------


def test_a_known_bank_is_listed_without_opening_a_file_and_an_id_opens_its_own(
    tmp_path: Path, cache: Path, opened: list[str]
) -> None:
    place = bank(tmp_path)
    (place / "broken.yaml").unlink()
    first = index_of(place)
    before = {each.id: counts(each) for each in first.sound}
    assert sorted(set(opened)) == ["lamp.yaml", "lantern.yaml"]
    opened.clear()
    again = index_of(place)
    assert again.rows == first.rows
    assert {each.id: known_counts(each) for each in again.sound} == before
    assert not opened
    problem, question = again.question("lamp.low")
    assert (problem.id, question.name, opened) == ("lamp", "low", ["lamp.yaml"])
    assert problem == first.question("lamp.low")[0]


def test_a_file_that_has_passed_is_not_checked_again_and_one_letter_or_other_code_brings_it_back(
    tmp_path: Path, cache: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = written(tmp_path)
    checked: list[str] = []
    from turnwright.bank.reading import files

    whole = files._checked
    monkeypatch.setattr(files, "_checked", lambda found: (checked.append(found.file), whole(found))[1])
    for _ in range(2):
        Index([path]).question("lantern.low")
    assert len(checked) == 1
    written(tmp_path, GOOD + "\n")
    Index([path]).question("lantern.low")
    assert len(checked) == 2
    monkeypatch.setattr(dependencies, "everything", lambda: ["another code"])
    monkeypatch.setattr("turnwright.bank.index.file.everything", lambda: ["another code"])
    Index([path]).question("lantern.low")
    assert len(checked) == 3


def test_what_an_entry_depends_on_is_the_code_the_schemas_the_catalogue_and_the_libraries(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    names = {"bank/a.py": "A = 1", "bank/mistakes/1.yaml": "a: 1", "schemas/problem.json": "{}"}
    for name, text in {**names, "bank/problems/x/p.yaml": "id: p"}.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(text)
    monkeypatch.setattr(dependencies, "_FOLDERS", (tmp_path / "bank", tmp_path / "schemas"))
    found = [dependencies.code.__wrapped__()]
    for name in names:
        (tmp_path / name).write_text("changed")
        found.append(dependencies.code.__wrapped__())
    assert len(set(found)) == 4
    (tmp_path / "bank/problems/x/p.yaml").write_text("changed")  # each problem file has a digest of its own
    assert dependencies.code.__wrapped__() == found[-1]
    import sympy

    assert dependencies.version("sympy") == sympy.__version__
    assert dependencies.version("nothing_of_the_kind") == "none"


# --- what a bad file does ---------------------------------------------------------------------


def test_one_bad_file_does_not_keep_questions_of_others_back_and_is_told(tmp_path: Path, cache: Path) -> None:
    place = bank(tmp_path)
    for _ in range(2):  # from cold, and from the index
        status, out, err = ended(["show", "lamp.pull"], place)
        assert (status, out.splitlines()[0][:10]) == (0, "lamp.pull,")
        assert ["smoot" in each for each in err.splitlines()] == [True]
        status, out, told = ended(["list"], place)
        assert (status, len(out.splitlines()), told) == (1, 6, err)
        for whole in (["pack", "--out", str(tmp_path / "p.zip")], ["show", "broken.low"]):
            assert ended(whole, place) == (2, "", err)
    assert not (tmp_path / "p.zip").exists()


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ([("version: 1", "version: 2")], "'lantern' is taken by"),
        (
            [("id: lantern", "id: lamp"), ("Force at the top", "Force at the top\n    enemies: [lantern.nope]")],
            "no question is called 'lantern.nope'",
        ),
    ],
    ids=["an id twice", "an enemy that is not asked"],
)
def test_faults_that_files_have_only_beside_each_other_are_told_as_ever(
    changes: list[tuple[str, str]], says: str, tmp_path: Path, cache: Path
) -> None:
    written(tmp_path)
    written(tmp_path, varied(*changes), "more.yaml")
    for _ in range(2):
        found = index_of(tmp_path)
        (fault,) = found.faults
        assert says in fault.wrong
        assert [each.path.name for each in found.sound] == ["lantern.yaml"]
        with pytest.raises(BankFaultsError):
            found.whole()


def test_a_name_that_nothing_has_is_told_with_near_ones(tmp_path: Path, cache: Path) -> None:
    written(tmp_path)
    with pytest.raises(UnknownNameError, match=r"did you mean lantern\.low"):
        index_of(tmp_path).question("lantern.lo")


# --- whatever becomes of it -------------------------------------------------------------------


def test_damages_of_the_index_change_no_output_and_no_exit_status(tmp_path: Path, cache: Path) -> None:
    assert list(trial(tmp_path, 27, 1)) == []  # a thousand in tests/endurance


def test_without_a_cache_the_same_is_said_and_nothing_is_left(
    tmp_path: Path, cache: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    place = bank(tmp_path)
    cold, warm = ([ended(each, place) for each in (*LISTS, *LOOKS)] for _ in range(2))
    before = sorted(tmp_path.rglob("*"))
    for named in ("off", str(place / "lamp.yaml" / "cache")):  # none is wanted, or its folder can't be made
        monkeypatch.setenv("TURNWRIGHT_CACHE", named)
        without = [ended(each, place) for each in (*LISTS, *LOOKS)]
        assert without == cold == warm, named
        assert sorted(tmp_path.rglob("*")) == before, named


def test_two_processes_that_write_it_at_once_lose_nothing(tmp_path: Path, cache: Path) -> None:
    place = bank(tmp_path)
    code = (
        "import sys; from turnwright.bank.command.main import run; sys.stdin.read(1); "
        f"sys.exit(run(['list', '--bank', {str(place)!r}]))"
    )
    both = [subprocess.Popen([sys.executable, "-c", code], stdin=subprocess.PIPE, stdout=subprocess.PIPE) for _ in "ab"]
    for each in both:
        assert each.stdin is not None
        each.stdin.write(b"go")
        each.stdin.flush()
    said = [each.communicate()[0] for each in both]
    assert [each.returncode for each in both] == [1, 1]
    assert said[0] == said[1] != b""
    left = sorted(cache.iterdir())
    assert len([each for each in left if each.name.startswith("file-")]) == 3
    assert len([each for each in left if each.name.startswith("counts-")]) == 2
    for each in left:
        entries.opened(each.stem, each.read_bytes())


# --- what is loaded ---------------------------------------------------------------------------

LOADED = "import sys; from turnwright.bank.command.main import run; print(run({}), *sys.modules, file=sys.stderr)"
UNUSED = {"scipy", "pint", "pandas", "lxml", "jsonschema", "rich"}
COMMANDS = [
    (["list", "over-the-top"], {"sympy", "numpy", "yaml", *UNUSED}),
    (["show", "satellite.speed"], UNUSED),  # in which G is a constant, which SciPy knows
    (["solve", "over-the-top.least-speed", "--set", "r=90cm"], UNUSED),
    (["demo", "over-the-top.least-speed"], UNUSED),
]


@pytest.mark.parametrize(("arguments", "unused"), COMMANDS, ids=[each[0][0] for each in COMMANDS])
def test_a_command_that_has_run_before_loads_only_what_it_uses(arguments: list[str], unused: set[str]) -> None:
    for _ in range(2):
        code = LOADED.format(arguments)
        done = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True)
    status, *modules = done.stderr.split()
    assert status == "0"
    assert not unused & set(modules)


def test_variants_are_counted_that_can_be_drawn() -> None:
    (file,) = [each for each in Index().sound if each.id == "flat-bend"]
    found = counts(file)
    for name, number in found.items():
        assert number == count(file, name) == telling_pool(models.diagnosed(f"flat-bend.{name}"), GRAVITY).count


def test_a_bank_adds_to_the_shipped_one(tmp_path: Path) -> None:
    own = written(tmp_path, varied(("family: vertical-circle", "family: own-lanterns")))
    both = Index(problem_files([Path("shipped"), own]))
    assert [each.id for each in both.sound] == [*(each.id for each in Index().sound), Index([own]).sound[0].id]
    assert both.words("family")["own-lanterns"] == len(Index([own]).rows)
    assert not both.faults


WRITING = [
    ["pack", "over-the-top.least-speed", "over-the-top.least-speed/choice", "--variants", "2", "--out", "made"],
    ["paper", "flat-curve", "--out", "made.pdf"],
    ["book", "over-the-top.least-speed", "--kind", "number,choice", "--out", "made"],
    ["list", "over-the-top", "--kind", "choice,direction,limit"],
]


@pytest.mark.parametrize("arguments", WRITING, ids=[each[0] for each in WRITING])
def test_what_is_made_of_the_files_that_are_needed_is_what_is_made_of_the_whole_bank(
    arguments: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    found = []
    for whole in (False, True):
        place = tmp_path / str(whole)
        place.mkdir()
        monkeypatch.chdir(place)
        if whole:
            monkeypatch.setattr(Index, "problems", lambda index, _: index.without_faults())
        assert run(arguments) == 0
        said = capsys.readouterr().out
        found.append((said, {each.name: each.read_bytes() for each in place.iterdir()}))
    assert found[0] == found[1]
