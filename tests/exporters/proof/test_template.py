"""The interpreter of template processing against the words of the standard, and strangers' template items."""

from __future__ import annotations

import math
import random
import zipfile
from decimal import Decimal
from pathlib import Path

import pytest
from turnwright.exporters.proof import prove
from turnwright.exporters.proof.dialect import DIALECTS
from turnwright.exporters.proof.processing.dice import EndlessError, Seeded, all_outcomes
from turnwright.exporters.proof.processing.template_rules import Draft
from turnwright.exporters.proof.processing.values import CannotMarkError, Value
from turnwright.exporters.proof.reading.item_file import ItemFile, read_item
from turnwright.exporters.proof.reading.template import DrawnTemplate, Template

from tests.exporters.proof.test_proof import A1, members
from tests.exporters.proof.test_proof import pack as packed

DECLARED = """<qti-response-declaration identifier="ANS" cardinality="single" base-type="float"/>
 <qti-template-declaration identifier="N" cardinality="single" base-type="integer"/>
 <qti-template-declaration identifier="X" cardinality="single" base-type="float"/>
 <qti-template-declaration identifier="W" cardinality="single" base-type="identifier"/>
 <qti-template-declaration identifier="L" cardinality="ordered" base-type="float"/>"""


def item(rules: str, body: str = "") -> ItemFile:
    text = f"""<qti-assessment-item xmlns="http://www.imsglobal.org/xsd/imsqtiasi_v3p0">{DECLARED}
     <qti-template-processing>{rules}</qti-template-processing><qti-item-body>{body}</qti-item-body>
     </qti-assessment-item>"""
    return read_item("a.xml", text.encode(), DIALECTS[0])


def put(name: str, expression: str) -> str:
    return f'<qti-set-template-value identifier="{name}">{expression}</qti-set-template-value>'


def base(text: object, kind: str = "float") -> str:
    return f'<qti-base-value base-type="{kind}">{text}</qti-base-value>'


def of(name: str, *operands: str, attributes: str = "") -> str:
    return f"<qti-{name} {attributes}>{''.join(operands)}</qti-{name}>"


def math_of(name: str, *operands: object) -> str:
    return of("math-operator", *map(base, operands), attributes=f'name="{name}"')


def draw(rules: str, seed: int = 1) -> Draft:
    return Template(item(rules), float).draw(Seeded(seed))


def value(expression: str, variable: str = "X") -> Value:
    return draw(put(variable, expression))[variable]


LIST = of("ordered", *map(base, (4, 7, 9)))


@pytest.mark.parametrize(
    ("expression", "expected"),
    [
        (math_of("sin", 0.5), math.sin(0.5)),
        (math_of("tan", 1), math.tan(1)),
        (math_of("acos", 0.25), math.acos(0.25)),
        (math_of("acos", 2), None),
        (math_of("atan2", 1, -1), 3 * math.pi / 4),
        (math_of("sec", 1), 1 / math.cos(1)),
        (math_of("cot", 1), 1 / math.tan(1)),
        (math_of("log", 1000), 3),
        (math_of("ln", math.e), 1),
        (math_of("ln", -1), None),
        (math_of("exp", 1), math.e),
        (math_of("exp", 5000), None),
        (math_of("toRadians", 180), math.pi),
        (math_of("toDegrees", math.pi), 180),
        (math_of("signum", -3.5), -1),
        (math_of("floor", -3.5), -4),
        (of("math-constant", attributes='name="pi"'), math.pi),
        (of("power", base(2), base("0.5")), math.sqrt(2)),
        (of("round-to", base("0.0123456"), attributes='rounding-mode="significantFigures" figures="3"'), 0.0123),
        (of("round-to", base("11.25"), attributes='rounding-mode="significantFigures" figures="3"'), 11.3),
        (of("round-to", base("1234.5678"), attributes='rounding-mode="decimalPlaces" figures="2"'), 1234.57),
        (of("round-to", base("1234.5678"), attributes='rounding-mode="decimalPlaces" figures="0"'), 1235),
        (of("min", LIST, base(5)), 4),
        (of("max", LIST, base(5)), 9),
        (of("index", LIST, attributes='n="1"'), 4),
        (of("index", LIST, attributes='n="4"'), None),
        (of("index", LIST, attributes='n="0"'), None),
        (of("stats-operator", LIST, attributes='name="mean"'), 20 / 3),
        (of("stats-operator", LIST, attributes='name="sampleSD"'), math.sqrt(19 / 3)),
        (of("stats-operator", LIST, attributes='name="popVariance"'), 38 / 9),
        (of("gcd", base(12, "integer"), base(18, "integer")), 6),
        (of("lcm", base(12, "integer"), base(18, "integer")), 36),
        (of("integer-divide", base(-7, "integer"), base(2, "integer")), -4),
        (of("integer-modulus", base(-7, "integer"), base(2, "integer")), 1),
        (of("integer-divide", base(7, "integer"), base(0, "integer")), None),
        (of("container-size", LIST), 3),
    ],
)
def test_expressions_of_numbers_follow_the_standard(expression: str, expected: float | None) -> None:
    found = value(expression)
    assert found == (None if expected is None else pytest.approx(expected, rel=1e-12))


def test_random_integers_meet_every_step_of_their_range_and_nothing_else() -> None:
    template = Template(item(put("N", of("random-integer", attributes='min="2" max="9" step="3"'))), float)
    assert [draft["N"] for draft in all_outcomes(template.draw, 10)] == [2, 5, 8]
    assert {template.draw(Seeded(seed))["N"] for seed in range(50)} == {2, 5, 8}


def test_a_seed_draws_the_same_each_time() -> None:
    rules = put("X", of("random-float", attributes='min="1" max="3"')) + put(
        "N", of("random-integer", attributes='max="99"')
    )
    source = random.Random(5)  # the order of draws is the order of the rules
    assert [draw(rules, 5)[name] for name in "XN"] == [1 + 2 * source.random(), source.randrange(100)]


def test_two_draws_have_all_pairs_and_a_fraction_has_no_last_one() -> None:
    pairs = Template(item(put("X", of("random", LIST)) + put("N", of("random-integer", attributes='max="1"'))), float)
    assert [(each["X"], each["N"]) for each in all_outcomes(pairs.draw, 6)] == [
        (x, n) for x in (4, 7, 9) for n in (0, 1)
    ]
    with pytest.raises(EndlessError):
        list(all_outcomes(pairs.draw, 5))
    endless = Template(item(put("X", of("random-float", attributes='max="1"'))), float)
    with pytest.raises(EndlessError):
        list(all_outcomes(endless.draw, 5))


def test_repeat_draws_anew_and_delete_takes_all_of_a_value() -> None:
    rules = put("L", of("repeat", of("random", LIST), attributes='number-repeats="50"'))
    found = draw(rules)["L"]
    assert (len(found), set(found)) == (50, {4, 7, 9})
    assert value(of("delete", base(7), of("ordered", base(7), LIST, base(7))), "L") == (4, 9)


N = '<qti-variable identifier="N"/>'
ANY = put("N", of("random-integer", attributes='min="1" max="6"'))


def test_a_condition_takes_its_first_true_branch() -> None:
    branches = [
        of(f"template-{word}", of("lt", N, base(limit, "integer")), put("W", base(name, "identifier")))
        for word, limit, name in (("if", 3, "low"), ("else-if", 5, "middle"))
    ]
    last = of("template-else", put("W", base("high", "identifier")))
    template = Template(item(ANY + of("template-condition", *branches, last)), float)
    found = [draft["W"] for draft in all_outcomes(template.draw, 6)]
    assert found == ["low", "low", "middle", "middle", "high", "high"]


def test_a_constraint_draws_again_until_it_is_met_and_is_given_up_in_the_end() -> None:
    rules = ANY + of("template-constraint", of("gt", N, base(4, "integer")))
    template = Template(item(rules), float)
    assert {template.draw(Seeded(seed))["N"] for seed in range(50)} == {5, 6}
    assert [each["N"] for each in all_outcomes(template.attempt, 6) if each] == [5, 6]
    with pytest.raises(CannotMarkError, match="not met in 100 draws"):
        draw(ANY + of("template-constraint", of("gt", N, base(6, "integer"))))


def test_exit_leaves_the_rest_of_the_rules_out() -> None:
    leave = of("template-condition", of("template-if", base("true", "boolean"), "<qti-exit-template/>"))
    assert draw(put("X", base(1)) + leave + put("X", base(2)))["X"] == 1


def test_an_index_may_be_a_variable_and_the_right_answer_is_what_was_set() -> None:
    rules = put("N", base(3, "integer")) + put("X", of("index", LIST, attributes='n="N"'))
    rules += '<qti-set-correct-response identifier="ANS"><qti-variable identifier="X"/></qti-set-correct-response>'
    read = item(rules)
    draft = Template(read, float).draw(Seeded(1))
    assert draft.correct == {"ANS": 9}
    assert DrawnTemplate(read).deliver(draft).declarations["ANS"].correct == ("9.0",)


BODY = """<p>Take <qti-printed-variable identifier="X" format="%.1f"/> m, <qti-printed-variable identifier="L"/>.</p>
 <qti-template-block template-identifier="W" identifier="low" show-hide="show"><p>slow</p></qti-template-block>
 <qti-template-block template-identifier="W" identifier="low" show-hide="hide"><p>fast</p></qti-template-block>"""


def test_a_delivered_item_shows_its_values_and_only_the_blocks_of_its_case() -> None:
    rules = put("X", base("2.25")) + put("L", of("ordered", base(1), base(2))) + put("W", base("low", "identifier"))
    read = item(rules, BODY)
    delivered = DrawnTemplate(read).deliver(Template(read, float).draw(Seeded(1)))
    assert " ".join(delivered.stem().split()) == "Take 2.2 m, 1.0;2.0. slow"


@pytest.mark.parametrize(
    "rules",
    [
        put("X", math_of("root", 2)),
        put("X", math_of("sin", 1, 2)),
        put("X", of("math-constant", attributes='name="tau"')),
        put("X", of("random-float", attributes='max="many"')),
        put("N", of("random-integer", attributes='max="nobody"')),
        put("N", of("random-integer", attributes='max="X"')),
        put("X", of("index", of("multiple", base(1)), attributes='n="1"')),
        put("L", of("repeat", base(1), attributes='number-repeats="5000"')),
        put("W", base(1)),
        put("ANS", base(1)),
        put("X", of("gcd", base(1), base(2))),
        of(
            "template-condition",
            of("template-if", base("true", "boolean"), of("template-constraint", base("true", "boolean"))),
        ),
        of("response-condition"),
        "<qti-set-outcome-value/>",
        put("X", of("sum", *['<qti-variable identifier="X"/>'] * 6000)),
    ],
)
def test_what_is_not_understood_is_refused_and_does_not_crash(rules: str) -> None:
    with pytest.raises(CannotMarkError):
        draw(rules)


def test_nothing_may_be_random_where_answers_are_marked(tmp_path: Path) -> None:
    content = members()
    content[A1] = content[A1].replace('<qti-variable identifier="MAXSCORE"/>', '<qti-random-float max="1"/>')
    (finding,) = prove(packed(tmp_path, content)).findings
    assert "qti-random-float outside template processing would mark alike answers unlike" in finding


# --- template items of strangers ----------------------------------------------------------------------


def strange(folder: Path, rules: str) -> Path:
    """The pack by hand, its first item with a drawn radius and a computed key."""
    content = members()
    declared = '<qti-template-declaration identifier="R" cardinality="single" base-type="float"/>'
    square = of("divide", of("product", base("15.421256"), '<qti-variable identifier="R"/>'), base(1))
    correct = f'<qti-set-correct-response identifier="ANS">{square}</qti-set-correct-response>'
    drawn = f"{declared}<qti-template-processing>{rules}{correct}</qti-template-processing>"
    text = content[A1].replace(" <qti-item-body>", f"{drawn}<qti-item-body>")
    content[A1] = text.replace("0.80 m", '<qti-printed-variable identifier="R"/> m')
    return packed(folder, content)


def test_of_endless_draws_some_are_marked_each_by_its_own_key(tmp_path: Path) -> None:
    report = prove(strange(tmp_path, put("R", of("random-float", attributes='min="0.5" max="0.9"'))))
    assert report.findings == ()
    assert (report.marked, report.rows) == (4, 20)


def test_of_few_draws_all_are_marked(tmp_path: Path) -> None:
    report = prove(strange(tmp_path, put("R", of("random", of("multiple", *map(base, ("0.5", "0.6", "0.7")))))))
    assert report.findings == ()
    assert (report.marked, report.rows) == (4, 3)


def test_words_of_a_picture_give_keys_away_only_where_they_hold_the_key_of_every_draw(tmp_path: Path) -> None:
    path = strange(tmp_path, put("R", of("random", of("multiple", *map(base, ("0.5", "0.6"))))))
    with zipfile.ZipFile(path) as box:
        content = {name: box.read(name).decode() for name in box.namelist()}
    content[A1] = content[A1].replace("seen from above", "seen from above, turning with 7.710628")
    assert prove(packed(tmp_path, content)).findings == ()  # the key of one draw only: chance
    content[A1] = content[A1].replace("7.710628", "7.710628 or 9.2527536")
    (finding,) = prove(packed(tmp_path, content)).findings
    assert "the key stands in the alt " in finding


def test_template_processing_that_is_not_understood_is_a_finding(tmp_path: Path) -> None:
    report = prove(strange(tmp_path, put("R", "<qti-custom-operator/>")))
    assert report.unmarked == ("1 item: its template processing is not understood",)
    assert "qti-custom-operator is no expression" in report.findings[0]


def test_values_are_worked_out_alike_in_decimals_and_doubles() -> None:
    rules = put("X", of("round-to", math_of("tan", "0.5"), attributes='figures="6"'))
    assert Template(item(rules), Decimal).draw(Seeded(1))["X"] == Decimal("0.546302")
