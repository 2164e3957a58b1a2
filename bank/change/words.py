"""What is worded otherwise: titles, stems, stories, names of bodies and forces, cautions; never white space."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ..model.mistake import Mistake
from ..model.problem import Problem, Question, Scene
from ..model.wording import sentence
from .changes import Change, Pair


def about_problem(old: Problem, new: Problem) -> Iterator[Change]:
    """Words that all questions of a problem share."""
    yield from _different("title", old.title, new.title)
    yield from _different("caution", old.caution, new.caution)
    for part in sorted({*old.demonstration, *new.demonstration}):
        before, after = (each.demonstration.get(part, "") for each in (old, new))
        yield from _different(f"demonstration, {part}", before, after)
    for symbol in [name for name in old.quantities if name in new.quantities]:
        yield from _different(f"meaning of {symbol}", old.quantities[symbol].means, new.quantities[symbol].means)
    for diagram in old.diagrams:
        now = next((each for each in new.diagrams if each.name == diagram.name), diagram)
        yield from _different(f"place in the diagram {diagram.name}", diagram.place, now.place)
    yield from _scenes(old, new)


def _scenes(old: Problem, new: Problem) -> Iterator[Change]:
    before, after = ({each.name: each for each in problem.scenes} for problem in (old, new))
    for name in [*before, *(each for each in after if each not in before)]:
        if name not in after or name not in before:
            was, now = (scenes[name].story if name in scenes else "" for scenes in (before, after))
            yield Change("reworded", f"scene {name} {'is gone' if name not in after else 'is new'}", was, now)
            continue
        first, second = before[name], after[name]
        in_stem = _is_in_stems(old, new, first, second)
        for what, was, now in _of_scene(first, second):
            if was != now:
                yield Change("reworded", f"{what} in the scene {name}", was, now, needs_version=in_stem)


def _of_scene(old: Scene, new: Scene) -> Iterator[tuple[str, str, str]]:
    yield "story", sentence(old.story, old), sentence(new.story, new)
    yield "caution", old.caution, new.caution
    for name in sorted({*old.words, *new.words}):
        yield f"word {name}", old.words.get(name, ""), new.words.get(name, "")
    for role in sorted({*old.forces, *new.forces}):
        before, after = (each.forces.get(role) for each in (old, new))
        for part in ("name", "symbol", "by", "acts", "kind"):
            was, now = (str(getattr(each, part, "") or "") for each in (before, after))
            yield f"{part} of the force {role}", was, now
    for diagram in sorted({*old.bystanders, *new.bystanders}):
        was, now = (f"{each.name} by {each.by}" if (each := it.bystanders.get(diagram)) else "" for it in (old, new))
        yield f"bystander of {diagram}", was, now


def _is_in_stems(old: Problem, new: Problem, first: Scene, second: Scene) -> bool:
    """Whether a scene's change alone makes a stem read otherwise: with the question's own words as they are now."""
    names = {each.name for each in old.questions}
    return any(
        printed(question, first) != printed(question, second)
        for question in new.questions
        if question.name in names and second in new.scenes_of(question)
    )


def printed(question: Question, scene: Scene) -> str:
    """The stem as it reads in a scene, with slots for the numbers."""
    return sentence(f"{scene.story} {question.stem}", scene)


def about_question(pair: Pair) -> Iterator[Change]:
    """Words of one question."""
    yield from _different("title", pair.old.title, pair.new.title)
    yield from _different("name of what is asked", pair.old.asked_name, pair.new.asked_name)
    spoken = (pair.old.ask, *pair.old.given, *pair.old.extra)
    for was in [each for each in spoken if each in pair.letters]:
        yield Change("reworded", "symbol", was, pair.letters[was])
    before = pair.old.stem
    for was, now in pair.letters.items():
        before = before.replace(f"{{{was}}}", f"{{{now}}}")
    if before != pair.new.stem and _reads_otherwise(pair, before):
        yield Change("reworded", "stem", pair.old.stem, pair.new.stem, needs_version=True)
    gone, come = (
        [each.name for each in problem.scenes_of(question) if each.name in shared and each.name not in pair.scenes]
        for problem, question, shared in (
            (pair.old_problem, pair.old, {each.name for each in pair.new_problem.scenes}),
            (pair.new_problem, pair.new, {each.name for each in pair.old_problem.scenes}),
        )
    )
    for what, names in (("no more told in", gone), ("also told in", come)):
        if names:
            yield Change("reworded", f"{what} the scene {', '.join(names)}")


def _reads_otherwise(pair: Pair, before: str) -> bool:
    scenes = [each for each in pair.new_problem.scenes_of(pair.new) if each.name in pair.scenes]
    return not scenes or any(sentence(before, each) != sentence(pair.new.stem, each) for each in scenes)


def about_mistakes(old: Mapping[str, Mistake], new: Mapping[str, Mistake]) -> Iterator[Change]:
    """Words of own mistakes that are there on both sides."""
    for name in [each for each in old if each in new]:
        for part in ("thinking", "feedback"):
            was, now = getattr(old[name], part), getattr(new[name], part)
            if was != now:
                yield Change("distractor", f"{part} of the own mistake {name}", was, now)


def _different(what: str, old: str, new: str) -> Iterator[Change]:
    if old != new:
        yield Change("reworded", what, old, new)
