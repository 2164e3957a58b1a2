"""What a figure asks a person to look at: rules in plain words, each with its source, silent on small samples.

A flag says "look", never "wrong". The limits are rules of thumb of the trade, from memory where no paper is named.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..language import count
from ..questions.kinds import kinds_where
from .chosen import Chosen
from .disagreements import MarkedAgain
from .outcome import Between, Flag, FormOutcome, QuestionOutcome, Siblings

LEAST = 100
LEAST_GROUP = 200
LEAST_PAIR = 183  # of each variant, for a margin of 0.15 with power 0.80 at facility 0.6

TYPED = kinds_where(lambda each: each.entry in ("number", "parts"))  # no wrong answer is offered
THUMB = "rule of thumb of classical test theory"
EBEL = "Ebel's guide to the upper-lower index, from memory"


def question_flags(question: QuestionOutcome) -> tuple[Flag, ...]:
    """The flags of a question; none but that its marks are in doubt where fewer than 100 candidates met it.

    Where they are in doubt, nothing else is said of it: every other rule would judge the marks, not the question.
    """
    if question.is_doubtful and question.marked_again:
        return (_doubt(question.marked_again),)
    if question.candidates < LEAST:
        return ()
    found = [*_facility(question), *_discrimination(question)]
    found += _answers(question)
    found += _variants(question.siblings, question.items)
    for between in question.between:
        found += _between(between)
    return tuple(found)


def _doubt(found: MarkedAgain) -> Flag:
    words = (
        f"Answers with other marks than the manifest gives them: {found.differing} of {found.answers}. By the results "
        f"{found.told:.0%} of the marks were earned, by the manifest {found.marked_again:.0%}. "
        "Find out which is right, and mark again, before any other figure of this question is used."
    )
    return Flag("marks in doubt", words, "common practice, no source")


def _facility(question: QuestionOutcome) -> Iterator[Flag]:
    if question.facility < 0.30:
        words = f"Hard: {question.facility:.0%} of the marks were earned. Was it taught, and is the stem clear?"
        yield Flag("facility below 0.30", words, THUMB)
    elif question.facility > 0.90:
        yield Flag("facility above 0.90", f"Easy: {question.facility:.0%} of the marks were earned.", THUMB)
    if question.omitted > 0.10:
        words = f"{question.omitted:.0%} left it out. Was there time enough, or is the question not understood?"
        yield Flag("omitted by more than 10 %", words, "common practice, no source")


def _discrimination(question: QuestionOutcome) -> Iterator[Flag]:
    r, d = question.item_rest, question.upper_lower
    if r < 0:
        words = f"Those who do well elsewhere do worse here (r = {r:.2f}). Check the key first."
        yield Flag("corrected discrimination below 0", words, THUMB)
    elif r < 0.10:
        words = f"It hardly distinguishes strong from weak candidates (r = {r:.2f}). Review stem, key and options."
        yield Flag("corrected discrimination below 0.10", words, THUMB)
    elif d < 0.20 and 0.30 <= question.facility <= 0.90:
        words = f"The upper 27 % earn only {d:.2f} of the marks more than the lower. Review it."
        yield Flag("upper-lower index below 0.20", words, EBEL)


def _answers(question: QuestionOutcome) -> Iterator[Flag]:
    met = [each for each in question.chosen if each.sort == "mistake" and each.offered >= LEAST]
    seldom = [each for each in met if each.count / each.offered < 0.05]
    if seldom and question.kind not in TYPED:
        named = ", ".join(f"“{_name(each)}” ({each.count} of {each.offered})" for each in seldom)
        words = f"Seldom chosen: {named}. Such an option can be replaced or left out."
        yield Flag("option chosen by fewer than 5 %", words, THUMB)
    for each in met:
        if each.count >= 20 and each.correlation > 0.05:
            words = (
                f"“{_name(each)}” draws the stronger candidates (r = {each.correlation:.2f}). Can it be called right?"
            )
            yield Flag("wrong answer of stronger candidates", words, THUMB)


def _name(each: Chosen) -> str:
    return " or ".join(each.mistakes)


def _variants(found: Siblings, items: tuple[str, ...]) -> Iterator[Flag]:
    if found.p is None or found.p >= 0.05 or found.test is None:
        return
    source = "Pearson's chi-square over variants, corrected over questions and variants by Holm (1979)"
    apart = [each for each in found.variants if each.p is not None and each.p < 0.05]
    for each in (variant for variant in apart if variant.item in items):
        other = "harder" if (each.residual or 0) < 0 else "easier"
        words = (
            f"Variant {each.variant} is {other} than its siblings: {each.share:.0%} right of {each.candidates}"
            f" (residual {each.residual:+.1f}). Look at its numbers, story and key."
        )
        yield Flag(f"a variant is {other}", words, source, each.item)
    if not apart:
        words = f"Its variants are not equally hard (p = {found.p:.3g}), though none stands out alone."
        yield Flag("variants differ", words, source)


def _between(between: Between) -> Iterator[Flag]:
    found = between.found
    if found.letter == "A":
        return
    harder = between.focal if found.delta < 0 else between.reference
    words = (
        f"At the same total it is harder for the group {harder} ({between.reference} against {between.focal}: "
        f"delta {found.delta:+.2f}, class {found.letter}). Read it with that group in mind; this is no proof of bias."
    )
    yield Flag(f"differential functioning, class {found.letter}", words, "Mantel-Haenszel, classes of ETS, from memory")


def form_flags(form: FormOutcome) -> tuple[Flag, ...]:
    """The flags of a form."""
    found = form.reliability
    if form.candidates < LEAST or not found.alpha < 0.70:
        return ()
    words = (
        f"Its reliability is {found.alpha:.2f} ({found.lower:.2f} to {found.upper:.2f}): too low even for low stakes. "
        "Base no decision about a single candidate on it."
    )
    return (Flag("alpha below 0.70", words, THUMB),)


def silence(form: FormOutcome, groups: dict[str, int]) -> tuple[str, ...]:
    """What is not said of a form because too few sat it."""
    said = []
    if form.candidates < LEAST:
        said.append(
            f"{count(form.candidates, 'candidate')}: below {LEAST} no question is flagged, and no Rasch difficulty is "
            "given; the figures that are shown vary much by chance."
        )
    elif form.complete < LEAST:
        known = count(form.complete, "candidate")
        said.append(f"{known} without an unknown score: below {LEAST} no Rasch difficulty is given.")
    small = sorted(name for name, count in groups.items() if count < LEAST_GROUP)
    if len(groups) > 1 and small:
        named = ", ".join(f"{name} ({groups[name]})" for name in small)
        said.append(f"Groups below {LEAST_GROUP} candidates are not compared: {named}.")
    return tuple(said)
