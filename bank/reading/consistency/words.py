"""The words of a problem: each scene names its bodies and forces, and each slot of a text means something."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator, Sequence

from ...documents.document import Path_
from ...errors import ExpressionError
from ...language import either
from ...model.expression import names_in, parse, parse_relation
from ...model.problem import Problem, Question, Scene
from ...model.wording import FORMULA, Slot, force_words, noun, pieces, sentence, word

_OF_SCENE = "use a word or a force of the scene, as in {the load} or {by contact}"
_OF_CARD = ("do", "predict", "seen", "caution")
_OF_SEEN = "write the words out, and a formula as in {formula v**2/r}"
_ALSO_PLAIN = frozenset(("centre", "first", "second", "inner", "outer", "mass", "world"))  # words of any sentence
_OF_STEM = "use a given quantity, or a word or a force of the scene"


def check_words(problem: Problem) -> None:
    """Note missing names, slots without meaning and givens that no stem prints."""
    for path, text in _plain_texts(problem):
        if "{" in text or "}" in text:
            problem.document.fault(path, "found a slot where none is filled in", "write the words out")
    for scene in problem.scenes:
        _bodies_have_words(problem, scene)
        _forces_have_names(problem, scene)
        _names_are_told_apart(problem, scene)
        _forces_are_told_apart(problem, scene)
        _bystanders_stand_by(problem, scene)
        _slots_mean_something(problem, scene, scene.story, ("scenes", scene.name, "story"))
        for path, text in (*_meanings(problem), *_reasons(problem)):
            _slots_mean_something(problem, scene, text, path)
    for question in problem.questions:
        for scene in problem.scenes_of(question):
            _slots_mean_something(problem, scene, question.asked_name, ("questions", question.name, "name"))
        _stem_prints_what_is_given(problem, question)
    _thoughts_speak_of_the_scene(problem)
    _a_demonstration_is_whole(problem)
    _what_is_seen_can_be_set(problem, problem.demonstration.get("seen", ""))


def _thoughts_speak_of_the_scene(problem: Problem) -> None:
    """Note what the thoughts of a problem's own mistakes call a thing, and its scenes don't: the load, of a lantern."""
    called = [(key, noun(phrase)) for scene in problem.scenes for key, phrase in scene.words.items()]
    foreign = {key for key, name in called if name.split()[-1] != key} - _ALSO_PLAIN
    for mistake in problem.mistakes:
        written = mistake.written or (mistake.thinking, mistake.feedback)
        for part, text in zip(("thinking", "feedback"), written, strict=True):
            plain = "".join(each for each in pieces(text) if isinstance(each, str))
            for key in sorted(each for each in foreign if re.search(rf"\b[Tt]he {each}\b", plain)):
                wrong = f"'the {key}' is said, and a scene calls it otherwise"
                right = "write a slot, as in {the body} or {the holder}"
                problem.document.fault(("mistakes", mistake.id, part), wrong, right)


def _bodies_have_words(problem: Problem, scene: Scene) -> None:
    path = ("scenes", scene.name, "words")
    bodies = {diagram.body for diagram in problem.diagrams if diagram.body}
    for body in sorted(bodies - problem.document.names(*path)):
        problem.document.fault(path, f"the body '{body}' has no word here", f"add '{body}: a ...'")
        problem.document.mark((*path, body))


def _forces_have_names(problem: Problem, scene: Scene) -> None:
    path = ("scenes", scene.name, "forces")
    roles = {force.role for diagram in problem.diagrams for force in diagram.forces if force.law != "weight"}
    named = problem.document.names(*path)
    for role in sorted(roles - named):
        right = f"add '{role}: {{name: ..., by: ..., acts: ...}}' under 'forces'"
        problem.document.fault(path, f"the force '{role}' has no name here", right, key=True)
        problem.document.mark((*path, role))
    for role in sorted(set(scene.forces) - roles) if problem.document.is_sound("diagrams") else ():
        near = difflib.get_close_matches(role, roles - named, n=1)
        right = f"did you mean '{near[0]}'?" if near else f"add '{role}' to the forces of a diagram, or remove it here"
        problem.document.fault((*path, role), "no diagram has this force", right, key=True)
    for name in sorted(roles & set(scene.words)):
        where = ("scenes", scene.name, "words", name)
        problem.document.fault(where, f"'{name}' names a force already", "use another name", key=True)


def _bystanders_stand_by(problem: Problem, scene: Scene) -> None:
    """Note who is said to exert no force and can't be offered: no body moves there, no story names it, or it acts."""
    moving = {each.name: each for each in problem.diagrams if each.spot != "rest"}
    for name, bystander in scene.bystanders.items():
        path = ("scenes", scene.name, "bystanders", name)
        if name not in moving:
            if problem.document.is_sound("diagrams"):
                wrong = f"'{name}' is no diagram of a body on its circle"
                problem.document.fault(path, wrong, f"expected {either(sorted(moving))}", key=True)
            continue
        acting = {each.by for force in moving[name].forces if (each := force_words(scene, force.role))}
        if bystander.by in acting:
            problem.document.fault(
                (*path, "by"), f"{bystander.by} exerts a force there", "name something that does not"
            )
        elif noun(bystander.by) not in sentence(scene.story, scene):
            wrong = f"the story does not speak of {bystander.by}"
            problem.document.fault((*path, "by"), wrong, "name something of the story")


def _names_are_told_apart(problem: Problem, scene: Scene) -> None:
    printed = [words.symbol for words in scene.forces.values() if words.symbol]
    shown = printed + [name for name in problem.quantities if not _renamed(problem, scene, name)]
    for name in sorted({name for name in shown if shown.count(name) > 1}):
        path = ("scenes", scene.name, "forces")
        problem.document.fault(path, f"two quantities are printed as '{name}'", "give one of them another symbol")


def _forces_are_told_apart(problem: Problem, scene: Scene) -> None:
    """Note two forces on one body with one name and one agent: nobody could tell which of them is meant."""
    for diagram in problem.diagrams:
        known: set[tuple[str, str]] = set()
        for force in diagram.forces:
            shown = scene.forces.get(force.role)
            if shown and (shown.name, shown.by) in known:
                path = ("scenes", scene.name, "forces", force.role, "name")
                wrong = f"another force of the diagram {diagram.name} is a {shown.name} by {shown.by} as well"
                problem.document.fault(path, wrong, "give one of them another name")
            known |= {(shown.name, shown.by)} if shown else set()


def _renamed(problem: Problem, scene: Scene, symbol: str) -> bool:
    forces = (force for diagram in problem.diagrams for force in diagram.forces if symbol in (force.symbol, force.size))
    return any(scene.forces[force.role].symbol for force in forces if force.role in scene.forces)


# --- slots ------------------------------------------------------------------------------------


def _meanings(problem: Problem) -> Iterator[tuple[Path_, str]]:
    """What quantities mean, which may name a body of the scene."""
    yield from ((("quantities", name, "means"), each.means or "") for name, each in problem.quantities.items())


def _reasons(problem: Problem) -> Iterator[tuple[Path_, str]]:
    """The reasons, which every scene fills with its own words."""
    for field, reasons in (("relations", problem.relations), ("holds", problem.holds)):
        yield from (((field, at, "because"), reason.because) for at, reason in enumerate(reasons))
    yield from ((("energy", at, "because"), energy.because) for at, energy in enumerate(problem.energies))


def _plain_texts(problem: Problem) -> Iterator[tuple[Path_, str]]:
    """Texts that are printed as they are."""
    yield from ((("title",), problem.title), (("caution",), problem.caution))
    yield from ((("scenes", each.name, "caution"), each.caution) for each in problem.scenes)
    parts = {part: text for part, text in problem.demonstration.items() if part != "seen"}
    yield from (((("demonstration", part), text) for part, text in parts.items()))
    yield from ((("diagrams", each.name, "place"), each.place) for each in problem.diagrams)
    yield from ((("questions", each.name, "title"), each.title) for each in problem.questions)


def _slots_mean_something(problem: Problem, scene: Scene, template: str, path: Path_) -> None:
    if not problem.document.is_sound(*path):
        return  # it was told in another scene
    for piece in pieces(template):
        if isinstance(piece, str):
            _refuse_loose_brace(problem, piece, template, path)
        elif word(piece, scene) is None:
            _refuse_slot(problem, scene, piece, template, path, _OF_SCENE)


def _stem_prints_what_is_given(problem: Problem, question: Question) -> None:
    path: Path_ = ("questions", question.name, "stem")
    wanted = set(question.given) | set(question.extra)
    printed = set()
    for piece in pieces(question.stem):
        if isinstance(piece, str):
            _refuse_loose_brace(problem, piece, question.stem, path)
        elif not piece.mode and piece.name in wanted:
            printed.add(piece.name)
        elif _is_not_given(problem, question, piece):
            wrong = f"'{piece.name}' is printed here, and the question does not give it"
            right = f"add it to 'given', or to 'extra' where it is not needed; {{symbol {piece.name}}} is its letter"
            problem.document.fault(path, wrong, right, inside=max(question.stem.find(f"{{{piece.name}}}"), 0))
        elif piece.mode != "symbol" or piece.name not in problem.quantities:
            scene = next((each for each in problem.scenes_of(question) if word(piece, each) is None), None)
            if scene and _givens_are_sound(problem, question):
                known = (*question.given, *question.extra)
                _refuse_slot(problem, scene, piece, question.stem, path, _OF_STEM, known)
    if problem.document.is_sound("questions", question.name, "stem"):
        untold = {name for name in wanted - printed if not _is_always_zero(problem, question, name)}  # it is in words
        for name in sorted(untold & problem.document.names("quantities")):
            problem.document.fault(path, f"the given '{name}' is not printed", f"add the slot {{{name}}}")


def _is_always_zero(problem: Problem, question: Question, name: str) -> bool:
    """Whether a given is zero in every variant: ``from rest`` says it."""
    draws = [problem.spec(name, scene).draw for scene in problem.scenes_of(question) if name in problem.quantities]
    return bool(draws) and all(draw and not any(draw.values) for draw in draws)


def _is_not_given(problem: Problem, question: Question, slot: Slot) -> bool:
    plain = not slot.mode and slot.name in problem.quantities and slot.name != question.ask
    return plain and _givens_are_sound(problem, question)


def _a_demonstration_is_whole(problem: Problem) -> None:
    told, path = set(problem.demonstration), ("demonstration",)
    missing = [part for part in _OF_CARD if part not in told and problem.document.is_sound(*path, part)]
    if "none" in told and len(told) > 1:
        wrong = "'none' says that there is no demonstration, and yet there is one"
        problem.document.fault((*path, "none"), wrong, "keep 'none' alone, or remove it", key=True)
    elif told and "none" not in told and missing:
        wrong = f"the demonstration lacks '{missing[0]}'"
        problem.document.fault(path, wrong, f"add '{missing[0]}', or only 'none' with the reason", key=True)


def _what_is_seen_can_be_set(problem: Problem, seen: str) -> None:
    """What a demonstration shows stands in no scene: its slots are formulas in symbols of the problem."""
    path: Path_ = ("demonstration", "seen")
    for piece in pieces(seen):
        if isinstance(piece, str):
            _refuse_loose_brace(problem, piece, seen, path)
        elif piece.mode != FORMULA:
            wrong = f"the slot '{{{f'{piece.mode} {piece.name}'.strip()}}}' means nothing in a demonstration"
            problem.document.fault(path, wrong, _OF_SEEN)
        else:
            _refuse_formula(problem, piece.name, path)


def _refuse_formula(problem: Problem, text: str, path: Path_) -> None:
    try:
        names = parse_relation(text).symbols if set(text) & set("=<>") else names_in(parse(text))
    except ExpressionError as error:
        problem.document.fault(path, f"{error.wrong} in '{error.text}'", error.right)
        return
    for name in sorted(names - problem.document.names("quantities") - {"g"}):
        problem.document.fault(path, f"'{name}' in '{text}' is no quantity of the problem", "use its symbols, or g")


def _givens_are_sound(problem: Problem, question: Question) -> bool:
    return all(problem.document.is_sound("questions", question.name, field) for field in ("given", "extra"))


def _refuse_loose_brace(problem: Problem, text: str, template: str, path: Path_) -> None:
    for brace in "{}":
        if brace in text:
            wrong = f"found a '{brace}' without its partner"
            problem.document.fault(path, wrong, "write a slot as {the load}", inside=_offset(template, brace, text))


def _offset(template: str, brace: str, text: str) -> int:
    return template.find(text) + text.find(brace)


def _refuse_slot(
    problem: Problem, scene: Scene, slot: Slot, template: str, path: Path_, right: str, given: Sequence[str] = ()
) -> None:
    if not problem.document.is_sound("scenes", scene.name, "words"):
        return  # the missing or faulty word is told already
    if not problem.document.is_sound("scenes", scene.name, "forces", slot.name):
        return
    shown = f"{{{(slot.mode + ' ' + slot.name).strip()}}}"
    wrong = f"the slot '{shown}' means nothing in the scene '{scene.name}'"
    near = difflib.get_close_matches(slot.name, (*scene.words, *scene.forces, *given), n=1)
    meant = f"did you mean '{near[0]}'?" if near and near[0] != slot.name else right
    problem.document.fault(path, wrong, meant, inside=max(template.find(shown), 0))
