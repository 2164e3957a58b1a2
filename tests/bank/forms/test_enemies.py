"""Questions that may not stand together: planted pairs are found, and what only looks like one is not."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from turnwright.bank.forms.assessment import assess, declared_enemies
from turnwright.bank.forms.candidate import Candidate, candidates
from turnwright.bank.forms.choosing import FormSlot, FormVariant, choose
from turnwright.bank.forms.enemies import derived
from turnwright.bank.forms.telling import amounts, gives_away, shown
from turnwright.bank.item import formula
from turnwright.bank.item.item import ChoiceEntry, Given, Item, Math, Metadata, NumberEntry, Option, Recognised, Words
from turnwright.bank.reading.files import read_problem
from turnwright.bank.reading.mistakes import shipped_mistakes

from tests.bank.forms.samples import GOOD, blueprint, candidate
from tests.bank.models import GRAVITY, shipped
from tests.bank.problems import GOOD as PROBLEM
from tests.bank.problems import varied, written


def item(key: str, *given: tuple[str, str], scene: str = "stage", figures: int = 3) -> Item:
    """A number item whose stem prints some quantities."""
    facts = Metadata("lantern", "q", 1, "", "vertical-circle", (), "algebra", scene, "CC0-1.0", 4)
    entry = NumberEntry(formula.Symbol("v"), "speed", Decimal(key), float(key), Decimal("0.1"), "m/s", figures)
    parts = tuple(Given("r", number, unit) for number, unit in given)
    return Item(1, ((Words("The radius is "), *parts),), None, (entry,), (), facts)


@pytest.mark.parametrize(
    ("given", "told"),
    [
        (("3.40", "m/s"), True),
        (("3.40", "m"), False),
        (("3.40", "m/s²"), False),
        (("13.40", "m/s"), False),
        (("3.4", "m/s"), False),
    ],
)
def test_a_stem_gives_a_key_away_only_with_its_digits_and_its_unit(given: tuple[str, str], told: bool) -> None:
    assert amounts(item("3.40")) == {"3.40 m/s"}
    assert gives_away(shown(item("9.99", given)), amounts(item("3.40"))) is told


def test_a_right_option_in_words_is_no_amount_and_one_in_numbers_is() -> None:
    options = (Option((Words("twice what it was"),), True), Option((Words("half of it"),), False))
    words = replace(item("1.00"), entries=(ChoiceEntry((Words("What then?"),), options),))
    number = replace(words, entries=(ChoiceEntry((), (Option((Words("3.40\u00a0m/s"),), True),)),))
    letters = replace(words, entries=(ChoiceEntry((), (Option((Math(formula.Symbol("v")),), True),)),))
    assert [amounts(each) for each in (words, number, letters)] == [frozenset(), {"3.40 m/s"}, frozenset()]


def of_shipped(*names: str) -> dict[str, Candidate]:
    solved = [shipped(name) for name in names]
    problems = list({each.problem.id: each.problem for each in solved}.values())
    return {each.id: each for each in candidates(solved, shipped_mistakes(), problems, {})}


def test_steps_are_made_for_a_candidate_whose_marks_are_asked_and_for_no_other() -> None:
    fresh = replace(shipped("over-the-top.least-speed"))  # of which no test has made anything yet
    found = {each.id: each for each in candidates([fresh], shipped_mistakes(), [fresh.problem], {})}
    stepwise = found["over-the-top.least-speed/stepwise"]
    assert "of_scene" not in vars(stepwise.steps)
    assert stepwise.asked is not None
    (item,) = stepwise.asked.draw(1, GRAVITY, 1)
    assert stepwise.marks == item.marks > 2
    assert "of_scene" in vars(stepwise.steps)  # the same steps as those of its items
    assert {each.marks for each in found.values() if each is not stepwise} == {1}
    assert replace(stepwise, found_marks=9).marks == 9


def test_kinds_of_one_question_and_of_one_diagram_are_enemies() -> None:
    found = of_shipped("over-the-top.least-speed", "over-the-top.speed-from-weights")
    ids = list(found)
    groups = [{ids[at] for at in group} for group in derived(list(found.values()))]

    def enemies(*names: str) -> bool:
        return any({f"over-the-top.{name}" for name in names} <= group for group in groups)

    assert enemies("least-speed", "least-speed/choice")
    assert enemies("least-speed/expression", "least-speed/limit-more")
    assert enemies("top/diagram", "top/equation")
    assert not enemies("top/forces", "speed-from-weights")  # its sketch shows no force
    assert enemies("top/equation", "speed-from-weights/stepwise")
    assert not enemies("least-speed", "speed-from-weights")


def test_enemies_that_a_problem_file_declares_never_meet_in_a_form(tmp_path: Path) -> None:
    text = varied(("    ask: v_low\n", "    ask: v_low\n    enemies: [lantern-c0.c0]\n"), text=PROBLEM)
    problem = read_problem(written(tmp_path, text))
    assert declared_enemies([problem]) == (("lantern.low", "lantern-c0.c0"),)
    with pytest.raises(Exception, match=r"expected problem\.question, as in over-the-top\.least-speed"):
        read_problem(written(tmp_path, text.replace("[lantern-c0.c0]", "[lantern]")))


def test_variants_are_chosen_so_that_scenes_and_keys_keep_apart(tmp_path: Path) -> None:
    wanted = blueprint(tmp_path, varied(("forms: 2", "forms: 1"), text=GOOD))
    first, second = candidate("a", problem="lantern"), candidate("b", problem="lantern")
    telling = [item("5.00", scene="stage"), item("6.00", scene="fair")]
    asking = [item("7.00", ("5.00", "m/s"), scene="fair"), item("7.10", scene="stage"), item("7.20", scene="fair")]
    slots = [
        FormSlot((0,), tuple(FormVariant(owner, number, each) for number, each in enumerate(items, 1)))
        for owner, items in ((first, telling), (second, asking))
    ]
    found = choose(wanted, slots)
    assert found.clashes == ()
    assert {(found.variants[0].number, found.variants[1].number)} <= {(1, 3), (2, 2)}
    crowded = choose(wanted, [slots[0], FormSlot((0,), slots[1].variants[:1]), FormSlot((0,), slots[1].variants[2:])])
    # two scenes are too few for three questions, and the stage's key stands in one of the stems of the fair
    assert crowded.clashes == (("lantern.a", "lantern.b"), ("lantern.b", "lantern.b"))


def test_of_variants_alike_the_one_that_tells_two_thoughts_apart_is_chosen(tmp_path: Path) -> None:
    """Planted: the first variants let two thoughts meet in one number, the last one keeps them apart."""
    wanted = blueprint(tmp_path, varied(("forms: 2", "forms: 1"), text=GOOD))
    met, apart = known_by(("halved", "doubled"), ("dropped",)), known_by(("halved",), ("doubled",), ("dropped",))
    variants = tuple(FormVariant(candidate("a"), number, each) for number, each in enumerate((met, met, apart), 1))
    assert [each.shared for each in variants] == [0.5, 0.5, 0.0]
    assert [each.number for each in choose(wanted, [FormSlot((0,), variants)]).variants] == [3]
    assert [each.number for each in choose(wanted, [FormSlot((0,), variants[:2])]).variants] == [1]


def known_by(*thoughts: tuple[str, ...]) -> Item:
    made = item("5.00")
    (entry,) = made.entries
    assert isinstance(entry, NumberEntry)
    known = tuple(Recognised(Decimal(7 + at), Decimal("0.1"), "Look.", each) for at, each in enumerate(thoughts))
    return replace(made, entries=(replace(entry, recognised=known),))


def test_a_conflict_between_declared_enemies_is_told(tmp_path: Path) -> None:
    text = GOOD.replace("[flat-curve, orbit]", "[orbit]") + "enemies: [[lantern-a.a, lantern-b.b]]\n"
    text = text.replace("forms: 2", "forms: 1")
    bank = [candidate("a"), candidate("b"), candidate("c", family="orbit")]
    with pytest.raises(Exception, match=r"enemies: one of lantern-a\.a and lantern-b\.b") as raised:
        assess(blueprint(tmp_path, text), bank)
    assert "fair.yaml:11:" in str(raised.value)
