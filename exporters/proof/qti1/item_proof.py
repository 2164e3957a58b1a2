"""All that is proved about one item of QTI 1.2.1: its references, its marking, its words, its silence in an exam."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ....bank.item.item import ChoiceEntry, Entry, Item, NumberEntry, is_by_people
from ...packages.instructions import asked
from ...strangers.parsing import HouseRule, shown
from ..marking.agreement import is_telling
from ..marking.item_proof import ItemProof, Wanted, check_width
from ..processing.values import CannotMarkError
from ..words.leaks import numbers_in
from ..words.printing import Ways, follow, numbers_of
from ..words.silence import COMMENT, told_apart
from .choice import examine_choice, examine_several
from .html import expected_said, one_form
from .item import Qti1Item, Response
from .number import band_of, examine_number, examine_texts
from .rules import Rules
from .trial import ItemTrial

KINDS = {
    ("response_lid", "Single"): "choice",
    ("response_lid", "Multiple"): "several",
    ("response_num", "Single"): "number",
    ("response_str", "Single"): "text",
}
PROFILES = {
    "choice": ("cc.multiple_choice.v0p1", "cc.true_false.v0p1"),
    "several": ("cc.multiple_response.v0p1",),
    "text": ("cc.fib.v0p1", "cc.pattern_match.v0p1", "cc.essay.v0p1"),
}
ESSAY = "cc.essay.v0p1"
BY_A_PERSON = "it is to be marked by hand"


def prove_item(item: Qti1Item, wanted: Wanted, *, cartridge: bool) -> ItemProof:
    """The marking of one item, put to the test; a ``cartridge`` counts in hundredths."""
    expected = wanted.item
    proof = ItemProof(wanted=None if expected is None else 100 if cartridge else expected.marks)
    proof.findings += [f"two pieces of feedback are called '{shown(each)}'" for each in item.repeated]
    proof.findings += [fault for page in item.pages() for fault in page.faults]
    try:
        _mark(item, wanted, cartridge, proof)
    except CannotMarkError as error:
        proof.unmarked = "its rules are not understood"
        proof.findings.append(f"cannot be marked: {error}")
    if expected and any(map(is_by_people, expected.entries)):
        proof.keys = tuple(each.key for each in expected.entries if isinstance(each, NumberEntry))
        proof.findings.extend(_check_essay(item, proof, expected))
    elif proof.unmarked and expected:
        proof.findings.append(f"an item that can be marked expected, but {proof.unmarked}")
    if expected:
        proof.findings.extend(_check_page(item, expected))
    if wanted.exam:
        proof.findings.extend(_check_silence(item))
    return proof


def _mark(item: Qti1Item, wanted: Wanted, cartridge: bool, proof: ItemProof) -> None:
    if len(item.responses) != 1:
        proof.unmarked = f"it asks for {len(item.responses)} answers, one expected"
        return
    (response,) = item.responses
    proof.kind = KINDS.get((response.kind, response.cardinality), "")
    rules = Rules(item.root, {response.ident: response.kind})
    proof.findings.extend(_check_references(item, response, rules))
    proof.findings.extend(rules.mixed)
    if cartridge:
        proof.findings.extend(_check_profile(item, proof.kind))
    if item.facts.get("cc_profile") == ESSAY or not len(rules):
        proof.unmarked = BY_A_PERSON if item.facts.get("cc_profile") == ESSAY else "it has no rules to mark it by"
        proof.findings.extend(_check_unscored(item, response, rules))
        return
    if not proof.kind:
        proof.unmarked = f"its answer is a {response.kind} of cardinality {shown(response.cardinality)}"
        return
    full = Decimal(proof.wanted) if proof.wanted is not None else rules.most
    trial = ItemTrial(item, response, rules, _best(response, rules) if full is None else full)
    proof.full = trial.full
    if wanted.item:
        proof.findings.extend(rules.open_ends)
        if rules.most != trial.full:
            proof.findings.append(f"the score goes up to {rules.most}, {trial.full} expected")
    _examine(trial, wanted, cartridge, proof)
    proof.tried = rules.tried


def _check_unscored(item: Qti1Item, response: Response, rules: Rules) -> Iterator[str]:
    """What is wrong with an item that a person marks: it scores by itself, or doesn't say who scores it."""
    tried: tuple[tuple[str, ...], ...] = ((), ("1",)) if len(rules) else ()
    if rules.texts or any(rules.mark({response.ident: each}).score for each in tried):
        yield "it is to be marked by hand, but its rules score answers"
    if item.facts.get("cc_profile") == ESSAY and item.facts.get("qmd_computerscored") != "No":
        yield "an essay does not say that no computer scores it"


def _check_essay(item: Qti1Item, proof: ItemProof, expected: Item) -> Iterator[str]:
    """What is wrong with an item that should be marked by hand; its worked solution comes with any answer."""
    if proof.unmarked != BY_A_PERSON:
        yield f"an item to be marked by hand expected, but {proof.unmarked or 'its rules mark it'}"
    brought = {(each.get("feedbacktype"), each.get("linkrefid")) for each in item.all("displayfeedback")}
    said = "".join(piece.page.said for name, piece in item.feedback.items() if (piece.kind, name) in brought)
    if not _in_order(_solution_of(expected), said):
        yield "no answer brings the worked solution"


def _best(response: Response, rules: Rules) -> Decimal:
    """The most that one answer of those that the rules name scores."""
    tried = [(label.ident,) for label in response.labels] or [(text,) for _, text in rules.texts]
    tried += [(str(number),) for number in rules.numbers]
    return max((rules.mark({response.ident: each}).score for each in tried), default=Decimal(0))


def _examine(trial: ItemTrial, wanted: Wanted, cartridge: bool, proof: ItemProof) -> None:
    expected = wanted.item
    entry: Entry | None = expected.entries[0] if expected and len(expected.entries) == 1 else None
    practice = not wanted.exam
    if expected and proof.kind != _kind(entry):
        proof.findings.append(f"the item is of the kind '{proof.kind}', '{_kind(entry)}' expected")
        return
    if proof.kind == "choice":
        assert entry is None or isinstance(entry, ChoiceEntry)
        proof.findings.extend(examine_choice(trial, entry, practice))
    elif proof.kind == "several":
        assert entry is None or isinstance(entry, ChoiceEntry)
        proof.findings.extend(examine_several(trial, entry, practice, partial=not cartridge))
    elif isinstance(entry, NumberEntry):
        examine = examine_texts if proof.kind == "text" else examine_number
        proof.findings.extend(examine(trial, entry, practice))
        proof.keys = (entry.key,)
    else:
        _examine_unknown(trial, proof)
    if expected and practice:
        proof.findings.extend(_check_teaching(trial, expected))


def _kind(entry: Entry | None) -> str:
    if isinstance(entry, ChoiceEntry):
        return "several" if entry.several else "choice"
    if isinstance(entry, NumberEntry):
        return "text" if entry.spellings else "number"
    return "none"


def _examine_unknown(trial: ItemTrial, proof: ItemProof) -> None:
    """What can be said of a number or a text when nobody tells which is right."""
    proof.findings.extend(trial.scores((), Decimal(0), "no answer"))
    answers = [str(each) for each in trial.rules.numbers] + [text for _, text in trial.rules.texts]
    proof.findings.extend(_check_own_words(trial))
    if trial.full <= 0 or not any(trial.is_full(each) for each in answers):
        proof.findings.append("none of the answers that the rules name earns all marks")
    if proof.kind == "number":
        proof.band = band_of(trial)
        if proof.band:
            middle = (proof.band.lower.value + proof.band.upper.value) / 2
            proof.findings.extend(check_width(middle, proof.band))


def _check_own_words(trial: ItemTrial) -> Iterator[str]:
    """A hint that tells a right number, and a worked solution that gives none, though it gives some."""
    given = set(numbers_of(trial.item.stem.words))
    for name, piece in trial.item.feedback.items():
        told = list(numbers_of(piece.page.words))
        right = [each for each in told if trial.is_full(str(each))]
        telling = [each for each in right if each not in given and is_telling(each)]
        if piece.kind == "Hint" and telling:
            yield f"the hint '{shown(name)}' tells {telling[0]}, which is right"
        if piece.kind == "Solution" and not right and any(each != each.to_integral_value() for each in told):
            yield f"the worked solution '{shown(name)}' gives no number that would be right"


def _check_references(item: Qti1Item, response: Response, rules: Rules) -> Iterator[str]:
    """Names that lead nowhere, and feedback that nothing brings."""
    brought = {each.get("linkrefid") for each in item.all("displayfeedback")}
    for name in brought:
        if name not in item.feedback:
            yield f"a rule brings the feedback '{shown(name)}', which is not there"
    for name, piece in item.feedback.items():
        if name not in brought and piece.kind == "Response":
            yield f"no rule brings the feedback '{shown(name)}'"
    for each in item.all("displayfeedback"):
        kind = each.get("feedbacktype") or "Response"
        if each.get("linkrefid") in item.feedback and item.feedback[each.get("linkrefid")].kind != kind:
            yield f"line {each.line}: '{shown(each.get('linkrefid'))}' is brought as {shown(kind)}, but is another kind"
    names = {label.ident for label in response.labels}
    for ident, text in rules.texts if response.kind == "response_lid" else ():
        if ident == response.ident and text.strip() not in names:
            yield f"a rule asks for the option '{shown(text)}', which is not there"


def _check_profile(item: Qti1Item, kind: str) -> Iterator[str]:
    profile = item.facts.get("cc_profile", "")
    if profile not in PROFILES.get(kind, ()):
        yield f"the profile '{shown(profile)}' does not fit an item of the kind '{kind or 'other'}'"


def _check_page(item: Qti1Item, expected: Item) -> Iterator[str]:
    """Whether the page says what it should and nothing else, and shows its figure."""
    yield from follow(item.stem.said, _in_all(expected))
    drawn = [alternative for _, alternative in item.stem.images]
    wanted = [expected.figure.alternative] if expected.figure else []
    if [one_form(each) for each in drawn] != [one_form(each) for each in wanted]:
        yield f"figures of the stem: {len(drawn)}, {len(wanted)} with its own text alternative expected"


def _in_all(expected: Item) -> Iterator[Ways]:
    """All that the page should say, piece by piece."""
    yield from ((expected_said(paragraph),) for paragraph in expected.stem)
    if expected.figure:
        yield (expected_said(expected.figure),)
    for entry in expected.entries:
        if isinstance(entry, ChoiceEntry | NumberEntry):
            yield from ((expected_said(paragraph),) for paragraph in asked(entry))


def _check_teaching(trial: ItemTrial, expected: Item) -> Iterator[str]:
    """The worked solution comes with every answer, the hints with a wrong one."""
    answers = [(name,) for name in trial.names] or [(text,) for _, text in trial.rules.texts] or [("1",)]
    answers += [(str(number),) for number in trial.rules.numbers]
    solution = _solution_of(expected)
    hints = [expected_said(hint) for hint in expected.hints]
    for answer in answers:
        if solution and not _in_order(solution, trial.said("Solution", answer)):
            yield f"the answer '{shown(answer[0])}' does not bring the worked solution"
            return
        if hints and not trial.is_full(answer) and not _in_order(hints, trial.said("Hint", answer)):
            yield f"the wrong answer '{shown(answer[0])}' does not bring the hints"
            return


def _solution_of(expected: Item) -> list[str]:
    """What the worked solution says, piece by piece."""
    return [
        text
        for step in expected.solution
        for text in (one_form(f"{step.number}. {step.heading}"), *map(expected_said, step.paragraphs))
    ]


def _in_order(wanted: list[str], said: str) -> bool:
    place = 0
    for each in wanted:
        found = said.find(each, place)
        if found < 0:
            return False
        place = found + len(each)
    return True


def _check_silence(item: Qti1Item) -> Iterator[str]:
    """What an exam must not carry, or no candidate needs, or tells options apart."""
    for each in item.all("itemfeedback", "displayfeedback", "hint", "solution", "qticomment"):
        yield f"line {each.line}: {each.name} in an exam"
    for label in item.facts:
        if not label.startswith(("cc_", "qmd_")):
            yield HouseRule(f"the metadata '{shown(label)}' are for no candidate of an exam")
    for holder in item.all("render_choice", "render_fib"):
        labels = [each for each in holder.walk() if each.name == "response_label"]
        yield from told_apart([(each.line, each.get("ident"), each.attributes) for each in labels], "ident")
    for each in item.all("mattext"):
        if COMMENT.decode() in each.text:
            yield f"line {each.line}: HTML holds a comment in an exam"
    for unseen in dict.fromkeys(one for page in item.pages() for one in page.unseen):
        yield HouseRule(f"HTML has {shown(unseen)}, which no candidate of an exam needs")


def public_texts(item: Qti1Item) -> Iterator[tuple[str, str]]:
    """What a candidate may see of an item before answering, beside its stem."""
    yield "name", item.ident
    yield "title", item.title
    for page in (item.stem, *(label.page for response in item.responses for label in response.labels)):
        yield from (("alt", alternative) for _, alternative in page.images)
        yield from (("picture name", source) for source, _ in page.images)
    for label, entry in item.facts.items():
        if not label.startswith(("cc_", "qmd_")):
            yield "metadata", entry


def stem_numbers(item: Qti1Item) -> frozenset[str]:
    """The numbers that the page gives."""
    return numbers_in(item.stem.words)
