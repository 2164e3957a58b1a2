"""What changed between two banks: each planted change is found as what it is, and nothing else is told."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from functools import cache
from importlib import resources
from pathlib import Path

import pytest
from turnwright.bank.change import keys
from turnwright.bank.change.changes import Change, Kind
from turnwright.bank.change.difference import Difference, between, compare
from turnwright.bank.change.source import Bank, File, bank_of_files, banks
from turnwright.bank.reading.files import shipped_files

TOP = next(each for each in shipped_files() if each.stem == "over-the-top").read_text(encoding="utf-8")
BEND = next(each for each in shipped_files() if each.stem == "rough-bank-fast").read_text(encoding="utf-8")
QUESTIONS = ("least-speed", "pull-at-the-top", "speed-from-force", "speed-from-weights", "radius-from-force")
WITH_R, WITH_V = QUESTIONS[:4], ("pull-at-the-top", "radius-from-force")
OWN = (
    "mistakes:\n  counts-the-hand:\n    thinking: I measure from the elbow.\n"
    "    edit: {given: {of: radius, is: 5*x/4}}\n"
    "    feedback: Measure from the centre.\n    source: our own lessons\ndemonstration:\n"
)


def bank(*texts: str, inside: str = "family/file{}.yaml") -> Bank:
    """A bank of problem texts; AssertionError with the faults of a planted text that is no problem."""
    files = [File(inside.format(at), inside.format(at), text.encode()) for at, text in enumerate(texts)]
    made, faults = bank_of_files("a bank", files, is_folder=True)
    assert not faults, "\n".join(map(str, faults))
    return made


@cache
def shipped() -> Bank:
    return banks(str(Path(str(resources.files("turnwright.bank"))) / "problems"))[0]


def planted(text: str, *changes: tuple[str, str]) -> str:
    """The text with each piece, which stands there once, put for another."""
    for old, new in changes:
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times"
        text = text.replace(old, new)
    return text


def found(old: str, new: str) -> Difference:
    return compare(bank(old), bank(new))


def places(difference: Difference) -> set[tuple[str, Kind]]:
    return {(each.question, each.kind) for each in difference.changes}


def only(difference: Difference, kind: Kind) -> Change:
    (change,) = (each for each in difference.changes if each.kind == kind)
    return change


def only_about_diagram(changes: Iterable[Change]) -> set[str]:
    return {each.what for each in changes if not each.question}


def at(kind: Kind, *questions: str) -> set[tuple[str, Kind]]:
    return {(question, kind) for question in questions or ("",)}


PLANTED = [
    # words
    ("title: Minimum speed at the top", "title: Smallest speed at the top", at("reworded", "least-speed"), False),
    ("top of {the path} for which", "top for which", at("reworded", "least-speed"), True),
    ("name: minimum speed at the top", "name: smallest speed at the top", at("reworded", "least-speed"), False),
    ("title: Over the top of", "title: Across the top of", at("reworded"), False),
    ("a brass lantern", "a lantern of brass", at("reworded"), True),
    ("on a light inextensible cord", "on a thin light cord", at("reworded"), True),
    ("name: tension, symbol: F_T", "name: tension, symbol: F_c", at("reworded"), False),
    ("{means: mass, unit: g", "{means: mass of the load, unit: g", at("reworded"), False),
    (
        "load: a brass lantern, path: a circle, limit: the cord stays taut}",
        "load: a brass lantern, path: a circle, limit: the cord stays taut}\n    caution: Mind the floor.",
        at("reworded"),
        False,
    ),
    ("caution: >-\n  A swung load", "caution: >-\n  Any swung load", at("reworded"), False),
    # numbers
    ("from: 0.50, to: 0.80, step: 0.02", "from: 0.50, to: 0.82, step: 0.02", at("numbers", *WITH_R), False),
    ("r: {draw: {from: 0.30, to: 0.50", "r: {draw: {from: 0.32, to: 0.50", at("numbers", *WITH_R), False),
    ("at the top, unit: m/s, figures: 3", "at the top, unit: m/s, figures: 4", at("numbers", *WITH_V), False),
    ("{from: 0.30, to: 0.95}}", "{from: 0.20, to: 0.95}}", at("numbers", "radius-from-force"), False),
    # keys
    ("    minutes: 3\n", "    minutes: 3\n    figures: 2\n", at("key", "least-speed"), True),
    ("    minutes: 3\n", "    minutes: 3\n    tolerance: {percent: 1}\n", at("key", "least-speed"), True),
    ("    minutes: 3\n", "    minutes: 3\n    tolerance: {absolute: 0.05}\n", at("key", "least-speed"), True),
    # solutions
    (
        "{the contact} is k times the weight",
        "by the measure k, {the contact} is k times the weight",
        at("solution", "speed-from-weights"),
        False,
    ),
    # distractors
    ("demonstration:\n", OWN, at("distractor", *WITH_R), False),
    (
        "demonstration:\n",
        "without: {radius-squared: The radius is drawn here.}\ndemonstration:\n",
        at("distractor", *WITH_R, "radius-from-force"),
        False,
    ),
    (
        "demonstration:\n",
        "without: {friction-turned-round: There is no friction.}\ndemonstration:\n",
        at("distractor"),
        False,
    ),
    # figure
    ("    at: top\n", "    at: top\n    surface: level\n", at("figure"), False),
    # metadata
    ("licence: CC-BY-4.0", "licence: CC-BY-SA-4.0", at("metadata"), False),
    ("[vertical-circle.least-speed]", "[vertical-circle.limit]", at("metadata", "least-speed"), False),
    ("    minutes: 3\n", "    minutes: 4\n", at("metadata", "least-speed"), False),
    ("    minutes: 3\n", "    minutes: 3\n    level: calculus\n", at("metadata", "least-speed"), False),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "expected", "needs_version"), PLANTED, ids=[each[1][:40] for each in PLANTED])
def test_a_planted_change_is_found_as_its_kind_and_nothing_else(
    old: str, new: str, expected: set[tuple[str, Kind]], needs_version: bool
) -> None:
    difference = found(TOP, planted(TOP, (old, new)))
    assert places(difference) == expected
    assert bool(difference.unraised) == needs_version


def test_a_changed_key_is_shown_with_a_variant_that_one_can_check_by_hand() -> None:
    new = planted(TOP, ("limiting: N = 0", "limiting: 2*N = m*g"), ("that: N >= 0", "that: 2*N >= m*g"))
    difference = found(TOP, new)
    change = next(each for each in difference.changes if each.what == "closed form")
    assert (change.question, change.old, change.new) == ("least-speed", "v = √(g r)", "v = √(3 g r/2)")
    assert change.shown is not None
    radius = float(change.shown.given["r"].split()[0])
    old, new_key = (float(text.split()[0]) for text in (change.shown.old, change.shown.new))
    assert old == pytest.approx((9.8 * radius) ** 0.5, abs=0.005)
    assert new_key == pytest.approx((1.5 * 9.8 * radius) ** 0.5, abs=0.005)


def test_a_changed_limit_is_a_changed_key_of_every_question_that_it_bounds() -> None:
    difference = found(
        TOP, planted(TOP, ("limiting: N = 0", "limiting: 2*N = m*g"), ("that: N >= 0", "that: 2*N >= m*g"))
    )
    limits = {each.question for each in difference.changes if each.what == "what holds"}
    assert limits == set(QUESTIONS[1:])
    shown = [each.shown for each in difference.changes if each.shown and each.question == "pull-at-the-top"]
    assert shown[0].new == "none, 2*N >= m*g is broken"


def test_a_force_turned_round_changes_the_keys_of_the_diagram_and_of_the_questions_that_need_it() -> None:
    turned = planted(
        BEND,
        ("{inward: cos(theta), up: -sin(theta)}", "{inward: -cos(theta), up: sin(theta)}"),
    )  # fmt: skip
    changes = found(BEND, turned).changes
    forms = {each.question for each in changes if each.what == "closed form"}
    assert forms == {"greatest-speed", "needed-coefficient", "smallest-radius", "friction"}
    assert only_about_diagram(changes) == {"forces in the diagram bank"}
    # N is the same either way, but friction that may not turn round bounds its variants otherwise
    assert {each.what for each in changes if each.question == "normal-force" and each.kind == "key"} == {"what holds"}


def test_a_force_of_another_kind_is_a_changed_key_of_its_diagram() -> None:
    """Beyond the limit a rod pushes where a cord goes slack."""
    rod = planted(TOP, ("contact: {kind: contact,", "contact: {kind: support,"))
    rod = rod.replace("{kind: normal, ", "{").replace("{kind: tension, ", "{")
    changes = [each for each in found(TOP, rod).changes if each.kind == "key"]
    assert [(each.what, each.old, each.new) for each in changes] == [
        ("kind of the force contact in the diagram top", "contact", "support")
    ]
    assert changes[0].needs_version


def test_another_way_to_the_same_key_is_a_changed_solution() -> None:
    """The weight gets a letter of its own, so that the algebra has one line more and ends in the same form."""
    detour = planted(
        TOP,
        ("  - equation: N = k*m*g\n", "  - {equation: W = m*g, because: that is the weight}\n  - equation: N = k*W\n"),
        ("  N: {unit: N,", "  W: {means: weight, unit: N}\n  N: {unit: N,"),
    )
    changes = found(TOP, detour).changes
    changed = at("solution", "speed-from-weights")
    assert {(each.question, each.kind) for each in changes} - changed == at("distractor", "speed-from-weights")
    assert {each.what for each in changes if each.kind == "solution"} == {"steps", "reason"}
    assert "W = " in changes[0].new


@pytest.mark.parametrize(
    "rewrite",
    [
        lambda text: "# another remark\n" + text,
        lambda text: text.replace("limiting: N = 0", "limiting: N = 0   # the edge"),
        lambda text: text.replace("from: 0.50, to: 0.80, step: 0.02", "from: 0.5, to: 0.8, step: 0.02"),
        lambda text: text.replace(
            "words: {load: a brass lantern, path: a circle, limit: the cord stays taut}",
            "words:\n      limit: the cord stays taut\n      path: a circle\n      load: 'a brass\n        lantern'",
        ),
        lambda text: "".join(reversed(re.split(r"(?m)^(?=[a-z])", text)[1:])),
        lambda text: text.replace("for which {the limit}", "for which the {limit}"),
        lambda text: text.replace("k*m*g", "g*k*m"),
        lambda text: text.replace("toward: inward", "components: {inward: 3 - 2}"),
        lambda text: text.replace("equation: N = k*m*g", "equation: m*g*k = N"),
    ],
)  # fmt: skip
def test_another_way_to_write_the_same_is_no_change(rewrite: Callable[[str], str]) -> None:
    assert rewrite(TOP) != TOP
    difference = found(TOP, rewrite(TOP))
    assert (difference.changes, difference.unraised) == ((), ())


def _in_another_order(text: str) -> str:
    """The blocks at the left margin the other way round, the first comment and the id first."""
    head, *blocks = re.split(r"(?m)^(?=[a-z])", text)
    return head + "".join(reversed(blocks))


def test_a_symbol_called_otherwise_changes_no_key() -> None:
    renamed = re.sub(r"\bk\b(?! times)", "q", TOP)
    changes = found(TOP, renamed).changes
    assert {(each.question, each.kind) for each in changes} == {("speed-from-weights", "reworded")}
    assert not any(each.needs_version for each in changes)


def test_a_moved_file_is_moved_and_nothing_else() -> None:
    difference = compare(bank(TOP, inside="one/{}.yaml"), bank(TOP, inside="two/{}.yaml"))
    assert [(each.kind, each.old, each.new) for each in difference.changes] == [("moved", "one/0.yaml", "two/0.yaml")]


def test_what_is_new_one_way_is_retired_the_other_way() -> None:
    less = re.sub(r"(?ms)^  radius-from-force:\n.*?(?=^demonstration)", "", TOP)
    one, other = bank(TOP), bank(less, BEND)
    there, back = compare(one, other).changes, compare(other, one).changes
    swap = {"new": "retired", "retired": "new"}
    assert {(each.where, each.kind) for each in there} == {(each.where, swap[each.kind]) for each in back}
    assert ("over-the-top.radius-from-force", "retired") in {(each.where, each.kind) for each in there}
    assert len(there) == 1 + 5


def test_the_shipped_bank_written_otherwise_differs_in_nothing_and_is_not_solved(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def refuse(*_: object) -> None:
        raise AssertionError("solved")

    monkeypatch.setattr(keys, "solved_question", refuse)
    texts = [each.read_text(encoding="utf-8") for each in shipped_files()]
    difference = compare(shipped(), bank(*[f"# read again\n{_in_another_order(each)}" for each in texts]))
    assert {each.kind for each in difference.changes} == {"moved"}


@pytest.mark.parametrize("name", [each.stem for each in shipped_files()])
def test_a_shipped_problem_differs_from_itself_in_nothing_even_where_all_is_compared(name: str) -> None:
    problem = shipped().by_id[name].problem
    assert list(between(problem, problem)) == []


def test_a_version_may_rise_alone_and_never_falls() -> None:
    raised = planted(TOP, ("\nversion: 1\n", "\nversion: 2\n"))
    assert (found(TOP, raised).changes, found(TOP, raised).unraised) == ((), ())
    (told,) = found(raised, TOP).unraised
    assert str(told.fault) == "family/file0.yaml:3:10: version: 1 after 2; a version never falls"


def test_a_key_that_changed_needs_a_raised_version_and_is_content_with_it() -> None:
    new = planted(TOP, ("    minutes: 3\n", "    minutes: 3\n    figures: 2\n"))
    raised = planted(new, ("\nversion: 1\n", "\nversion: 2\n"))
    (told,) = found(TOP, new).unraised
    assert str(told.fault) == (
        "family/file0.yaml:3:10: version: still 1, though this changed: figures of the answer of least-speed; "
        "raise it to 2"
    )
    assert found(TOP, raised).unraised == ()
    assert places(found(TOP, raised)) == at("key", "least-speed")


def test_a_question_that_can_no_more_be_solved_is_told_as_a_changed_key() -> None:
    old = planted(
        TOP,
        ("given: [r, k]", "given: [r, k]\n    extra: [m]"),
        ("the weight of {the load}. Find", "the weight of {the load}, at a mass of {m}. Find"),
    )
    new = planted(
        TOP,
        ("given: [r, k]", "given: [k]"),
        ("{The path} has a radius of {r}. At the top, {the contact}", "At the top, {the contact}"),
    )
    change = next(each for each in found(old, new).changes if each.kind == "key")
    assert change.new == "'v' can't be found from what is given"
    assert change.needs_version


def test_a_question_asked_from_other_givens_has_another_key() -> None:
    new = planted(
        TOP,
        ("given: [m, v, N]", "given: [v, k]"),
        ("of {N} on {the load}, whose mass is {m}. Calc", "of {k} times its weight on {the load}. Calc"),
    )  # fmt: skip
    change = next(each for each in found(TOP, new).changes if each.kind == "key")
    assert (change.question, change.new) == ("radius-from-force", "r = v²/(g (1 + k))")
    assert change.shown is not None
    assert change.shown.new == "none without k"


def test_a_force_along_another_axis_is_another_key_of_the_diagram() -> None:
    assert ("", "key") in places(found(TOP, planted(TOP, ("toward: inward", "toward: forward"))))


def test_only_what_rests_on_a_change_is_solved(monkeypatch: pytest.MonkeyPatch) -> None:
    solved: list[str] = []
    original = keys.solved_question

    def counted(problem: object, question: object) -> object:
        solved.append(question.name)  # type: ignore[attr-defined]
        return original(problem, question)  # type: ignore[arg-type]

    monkeypatch.setattr(keys, "solved_question", counted)
    found(TOP, planted(TOP, ("    minutes: 3\n", "    minutes: 3\n    figures: 2\n")))
    assert set(solved) == {"least-speed"}


def test_another_unit_of_a_given_is_other_numbers_and_costs_the_mistake_of_not_converting_it() -> None:
    """A thousand times the mass also leaves no real speed where the weight is turned round: N - m g < 0."""
    light = re.sub(r"(?ms)^  aerobatic-loop:\n.*?(?=^  cords:)", "", TOP)
    heavy = planted(light, ("{means: mass, unit: g, ", "{means: mass, unit: kg, "))
    heavy = planted(heavy, ("m: {draw: {from: 80, to: 240", "m: {unit: kg, draw: {from: 80, to: 240"))
    changes = found(light, heavy).changes
    with_m = ("pull-at-the-top", "speed-from-force", "radius-from-force")
    assert {(each.question, each.what) for each in changes if each.kind == "numbers"} >= {
        (name, "unit of m") for name in with_m
    }
    lost = {(each.question, each.what) for each in changes if each.kind == "distractor"}
    assert lost == {(name, "lost grams-as-they-are") for name in with_m} | {
        (name, "lost weight-turned-round") for name in with_m[1:]
    }
    assert {each.kind for each in changes} == {"numbers", "distractor"}


@pytest.mark.parametrize(
    ("old", "new", "expected", "what"),
    [
        ("from the centre.", "to the axis.", at("distractor"), "feedback of the own mistake counts-the-hand"),
        ("is: 5*x/4", "is: 3*x/2", at("distractor", *WITH_R), "other numbers from counts-the-hand"),
        ("source: our own lessons", "source: our lessons", at("metadata"), "source of the own mistake counts-the-hand"),
        ("given: {of: radius, is: 5*x/4}", "direction: outward", at("distractor", *WITH_R), "lost counts-the-hand"),
    ],
)  # fmt: skip
def test_a_change_of_an_own_mistake_is_told_where_it_shows(
    old: str, new: str, expected: set[tuple[str, Kind]], what: str
) -> None:
    own = planted(TOP, ("demonstration:\n", OWN))
    difference = found(own, planted(own, (old, new)))
    assert places(difference) == expected
    assert {each.what for each in difference.changes} == {what}


def test_an_own_mistake_that_gives_no_number_is_told_all_the_same() -> None:
    own = planted(TOP, ("demonstration:\n", OWN.replace("{given: {of: radius, is: 5*x/4}}", "{direction: outward}")))
    assert places(found(TOP, own)) == at("distractor")
    assert places(found(own, TOP)) == at("distractor")
