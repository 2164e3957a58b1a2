"""An item of every kind, written by hand after the standard; ``proof_entries`` has what each was written from."""

from __future__ import annotations

from collections.abc import Mapping

# --- the words of QTI 3.0, as short as they can be written -------------------------------------------


def item(declared: str, body: str, rules: str, told: str = "", marks: str = "1") -> str:
    return f"""<qti-assessment-item xmlns="http://www.imsglobal.org/xsd/imsqtiasi_v3p0" identifier="lantern"
  title="The lantern at the fair" adaptive="false" time-dependent="false" xml:lang="en">{declared}
 <qti-outcome-declaration identifier="SCORE" cardinality="single" base-type="float" normal-maximum="{marks}"/>
 <qti-outcome-declaration identifier="MAXSCORE" cardinality="single" base-type="float">
  <qti-default-value><qti-value>{marks}</qti-value></qti-default-value></qti-outcome-declaration>
 <qti-item-body><p>A lantern circles a post at the end of a cord.</p>{body}</qti-item-body>
 <qti-response-processing>{rules}</qti-response-processing>{told}</qti-assessment-item>"""


def response(name: str, cardinality: str, base: str, *correct: str, mapping: Mapping[str, str] | None = None) -> str:
    values = "".join(f"<qti-value>{each}</qti-value>" for each in correct)
    entries = "".join(f'<qti-map-entry map-key="{k}" mapped-value="{v}"/>' for k, v in (mapping or {}).items())
    mapped = f'<qti-mapping default-value="0">{entries}</qti-mapping>' if mapping else ""
    right = f"<qti-correct-response>{values}</qti-correct-response>" if correct else ""
    kind = f'cardinality="{cardinality}" base-type="{base}"'
    return f'<qti-response-declaration identifier="{name}" {kind}>{right}{mapped}</qti-response-declaration>'


def outcome(name: str, cardinality: str = "single", base: str = "identifier") -> str:
    return f'<qti-outcome-declaration identifier="{name}" cardinality="{cardinality}" base-type="{base}"/>'


def put(name: str, value: str) -> str:
    return f'<qti-set-outcome-value identifier="{name}">{value}</qti-set-outcome-value>'


def word(text: str) -> str:
    return f'<qti-base-value base-type="identifier">{text}</qti-base-value>'


def number(text: str) -> str:
    return f'<qti-base-value base-type="float">{text}</qti-base-value>'


def var(name: str) -> str:
    return f'<qti-variable identifier="{name}"/>'


def right(name: str) -> str:
    return f'<qti-match>{var(name)}<qti-correct identifier="{name}"/></qti-match>'


def near(name: str, width: str, value: str) -> str:
    return f'<qti-equal tolerance-mode="absolute" tolerance="{width}">{value}{var(name)}</qti-equal>'


def first(*branches: tuple[str, str]) -> str:
    """A condition: the rules of the first branch whose test holds; a branch without a test is for all else."""
    names = ["if", *["else-if"] * (len(branches) - 1)]
    written = zip(names, branches, strict=True)
    told = [(name if test else "else", test + rules) for name, (test, rules) in written]
    branched = "".join(f"<qti-response-{name}>{inside}</qti-response-{name}>" for name, inside in told)
    return f"<qti-response-condition>{branched}</qti-response-condition>"


def tell(name: str, text: str, outcome: str = "FEEDBACK") -> str:
    names = f'outcome-identifier="{outcome}" show-hide="show" identifier="{name}"'
    return f"<qti-modal-feedback {names}><qti-content-body><p>{text}</p></qti-content-body></qti-modal-feedback>"


def choices(*options: str, of: str = "simple-choice") -> str:
    return "".join(
        f'<qti-{of} identifier="{name}">{text}</qti-{of}>' for name, text in zip("ABCDE", options, strict=False)
    )


def empty(name: str) -> str:
    return f"<qti-is-null>{var(name)}</qti-is-null>"


# --- one item of each kind ----------------------------------------------------------------------------

EQUATION = (
    '<math xmlns="http://www.w3.org/1998/Math/MathML"><mi>a</mi><mo>=</mo><mfrac><msup><mi>v</mi><mn>2</mn></msup>'
    "<mi>r</mi></mfrac></math>"
)
CHOICE = item(
    response("RESPONSE", "single", "identifier", "B") + outcome("FEEDBACK"),
    '<qti-choice-interaction response-identifier="RESPONSE" max-choices="1"><qti-prompt>Which is right?</qti-prompt>'
    + choices("a = v r", EQUATION, "none")
    + "</qti-choice-interaction>",
    put("FEEDBACK", var("RESPONSE")) + first((right("RESPONSE"), put("SCORE", var("MAXSCORE")))),
    tell("A", "Look at the units.") + tell("C", "One is right."),
)
DRAWN = item(
    response("RESPONSE", "single", "identifier", "A") + outcome("FEEDBACK"),
    '<qti-choice-interaction response-identifier="RESPONSE" max-choices="1" shuffle="true">'
    + choices(
        *(
            f'<img src="{name}.svg" alt="The lantern with an arrow {way}."/>'
            for name, way in (("in", "to the post"), ("out", "away from the post"))
        )
    )
    + "</qti-choice-interaction>",
    put("FEEDBACK", var("RESPONSE")) + first((right("RESPONSE"), put("SCORE", number("1")))),
    tell("A", "The cord pulls.") + tell("B", "Nothing pushes outward."),
)
SEVERAL = item(
    response("RESPONSE", "multiple", "identifier", "A", "C", mapping={"A": "0.5", "B": "-0.5", "C": "0.5", "D": "-0.5"})
    + outcome("FEEDBACK", "multiple"),
    '<qti-choice-interaction response-identifier="RESPONSE" max-choices="0"><qti-prompt>Which forces act?</qti-prompt>'
    + choices("weight", "a force outward", "tension", "a force forward")
    + "</qti-choice-interaction>",
    put("FEEDBACK", var("RESPONSE"))
    + first(
        (empty("RESPONSE"), put("SCORE", number("0"))),
        ("", put("SCORE", f'<qti-sum>{number("1")}<qti-map-response identifier="RESPONSE"/></qti-sum>')),
    ),
    tell("A", "The earth pulls.") + tell("B", "Nothing pushes outward.") + tell("D", "Nothing pushes forward."),
    marks="2",
)


def order(*names: str) -> str:
    return f"<qti-match>{var('RESPONSE')}<qti-ordered>{''.join(map(word, names))}</qti-ordered></qti-match>"


ORDER = item(
    response("RESPONSE", "ordered", "identifier", "C", "A", "B") + outcome("FEEDBACK"),
    '<qti-order-interaction response-identifier="RESPONSE"><qti-prompt>Least pull first.</qti-prompt>'
    + choices("6 m/s", "7 m/s", "5 m/s")
    + "</qti-order-interaction>",
    first(
        (empty("RESPONSE"), put("FEEDBACK", word("NONE"))),
        (right("RESPONSE"), put("SCORE", number("1"))),
        (order("A", "C", "B"), put("SCORE", number("0.5")) + put("FEEDBACK", word("OTHER"))),
        (order("C", "B", "A"), put("SCORE", number("0.5")) + put("FEEDBACK", word("OTHER"))),
        ("", put("FEEDBACK", word("OTHER"))),
    ),
    tell("NONE", "Put them in order.") + tell("OTHER", "Compare the speeds."),
)
PAIRS = ("R1 C2", "R2 C1", "R3 C2")
ROW, COLUMN = (
    f'<qti-simple-associable-choice identifier="{{}}" match-max="{most}">{{}}</qti-simple-associable-choice>'
    for most in (1, 3)
)
MATCH = item(
    response("RESPONSE", "multiple", "directedPair", *PAIRS, mapping=dict.fromkeys(PAIRS, "1")) + outcome("FEEDBACK"),
    '<qti-match-interaction response-identifier="RESPONSE" max-associations="3"><qti-simple-match-set>'
    + ROW.format("R1", "at the top")
    + ROW.format("R2", "at the bottom")
    + ROW.format("R3", "at the top, faster")
    + "</qti-simple-match-set><qti-simple-match-set>"
    + COLUMN.format("C1", "up")
    + COLUMN.format("C2", "down")
    + COLUMN.format("C3", "forward")
    + "</qti-simple-match-set></qti-match-interaction>",
    put("SCORE", '<qti-map-response identifier="RESPONSE"/>')
    + first((f"<qti-not>{right('RESPONSE')}</qti-not>", put("FEEDBACK", word("OTHER")))),
    tell("OTHER", "It points to the centre."),
    marks="3",
)
BOX = '<p>v = <qti-text-entry-interaction response-identifier="{}"/> m/s</p>'
NUMBER = item(
    response("RESPONSE", "single", "float", "3.14") + outcome("FEEDBACK"),
    BOX.format("RESPONSE"),
    first(
        (empty("RESPONSE"), put("SCORE", number("0"))),
        (near("RESPONSE", "0.07", '<qti-correct identifier="RESPONSE"/>'), put("SCORE", number("1"))),
        (near("RESPONSE", "0.05", number("6.28")), put("FEEDBACK", word("DIAMETER"))),
        (near("RESPONSE", "0.1", number("9.86")), put("FEEDBACK", word("SQUARE"))),
        ("", put("FEEDBACK", word("OTHER"))),
    ),
    tell("DIAMETER", "You took the diameter.") + tell("SQUARE", "Take the root.") + tell("OTHER", "Start again."),
)
HINTS = ("Look at one lap.", "One lap is 2πr.")
BUTTON = '<p><qti-end-attempt-interaction response-identifier="{0}" title="{0}"/></p>'
BLOCK = (
    '<qti-feedback-block outcome-identifier="SHOW" identifier="{}" show-hide="show"><qti-content-body><p>{}</p>{}'
    "</qti-content-body></qti-feedback-block>"
)
STEPWISE = item(
    response("RESPONSE_1", "single", "float", "3.14")
    + response("RESPONSE_2", "single", "identifier", "A")
    + response("ASK_1", "single", "boolean")
    + response("ASK_2", "single", "boolean")
    + outcome("SCORE_1", base="float")
    + outcome("SCORE_2", base="float")
    + outcome("FEEDBACK_2")
    + outcome("SHOW", "multiple"),
    BOX.format("RESPONSE_1")
    + '<qti-choice-interaction response-identifier="RESPONSE_2" max-choices="1">'
    + choices("inward", "forward")
    + "</qti-choice-interaction>"
    + BUTTON.format("ASK_1")
    + BLOCK.format("HINT_1", HINTS[0], BUTTON.format("ASK_2"))
    + BLOCK.format("HINT_2", HINTS[1], "")
    + BLOCK.format("SOLUTION", "v = 2πr/T", ""),
    first((near("RESPONSE_1", "0.07", '<qti-correct identifier="RESPONSE_1"/>'), put("SCORE_1", number("1"))))
    + first((right("RESPONSE_2"), put("SCORE_2", number("2"))))
    + put("SCORE", f"<qti-sum>{var('SCORE_1')}{var('SCORE_2')}</qti-sum>")
    + first(
        (var("ASK_1"), put("SHOW", f"<qti-multiple>{word('HINT_1')}</qti-multiple>")),
        (var("ASK_2"), put("SHOW", f"<qti-multiple>{word('HINT_1')}{word('HINT_2')}</qti-multiple>")),
        (
            f"<qti-not>{empty('RESPONSE_1')}</qti-not>",
            put("SHOW", f"<qti-multiple>{word('SOLUTION')}</qti-multiple>") + put("FEEDBACK_2", var("RESPONSE_2")),
        ),
        ("", put("FEEDBACK_2", var("RESPONSE_2"))),
    ),
    tell("B", "The speed stays the same.", "FEEDBACK_2"),
    marks="3",
)
GOOD = {
    "choice": CHOICE,
    "pictures": DRAWN,
    "several": SEVERAL,
    "order": ORDER,
    "match": MATCH,
    "number": NUMBER,
    "stepwise": STEPWISE,
}
