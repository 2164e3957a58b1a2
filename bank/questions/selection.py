"""All questions of a bank, of every kind: listing them, finding one by its id, choosing those of a pack."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from ..errors import UnknownNameError, UsageError
from ..item.pack import Pack, Section
from ..language import count
from ..limits.budget import guarded
from ..model.mistake import Mistake
from ..model.problem import Problem, Question
from ..reading.mistakes import shipped_mistakes
from ..solving.cache import solved_question
from ..solving.solution import SolvedQuestion
from .item_model import ItemModel, Settings, guarded_model
from .kinds import KIND, KINDS, Kind
from .of_diagram import DiagramModels
from .of_question import QuestionModels
from .story_keys import Groups, alike

# --- questions by id: what a user may name, and what is near when the name is wrong ---


def all_questions(problems: Sequence[Problem]) -> list[tuple[Problem, Question]]:
    """Every question of the bank, in file order."""
    return [(problem, question) for problem in problems for question in problem.questions]


def question_id(problem: Problem, question: Question) -> str:
    """The id of a question: ``problem.question``."""
    return f"{problem.id}.{question.name}"


def find_question(problems: Sequence[Problem], name: str) -> tuple[Problem, Question]:
    """The question with that id. Raises UnknownNameError with near ids, UsageError for a name that means several."""
    found = find_questions(problems, [name])
    if len(found) > 1:
        ids = [question_id(*each) for each in found]
        raise UsageError(f"'{name}' means {count(len(found), 'question')}; name one, such as {' or '.join(ids[:2])}")
    return found[0]


def find_questions(problems: Sequence[Problem], names: Sequence[str]) -> list[tuple[Problem, Question]]:
    """The questions meant by ids of questions, problems or families, each once, in bank order; all for no name.

    Raises UnknownNameError, with near names.
    """
    everything = all_questions(problems)
    if not names:
        return everything
    wanted: set[str] = set()
    for name in names:
        found = {question_id(p, q) for p, q in everything if name in (question_id(p, q), p.id, p.family)}
        if not found:
            raise UnknownNameError("question, problem or family", name, _near(everything, name))
        wanted |= found
    return [(problem, question) for problem, question in everything if question_id(problem, question) in wanted]


def _near(everything: Sequence[tuple[Problem, Question]], name: str) -> list[str]:
    known = sorted({word for p, q in everything for word in (question_id(p, q), p.id, p.family)})
    return difflib.get_close_matches(name, known, n=2, cutoff=0.5)


def item_models(
    solved: Sequence[SolvedQuestion], catalogue: Sequence[Mistake], kinds: Sequence[Kind], bank: Sequence[Problem] = ()
) -> Iterator[ItemModel]:
    """All questions of the wanted kinds, problem by problem; those of a diagram come with its first question.

    ``bank`` holds the problems whose situations are matched with each other.
    """
    drawn = [each for each in kinds if KIND[each].about == "diagram"]
    groups = alike(bank) if "match" in kinds else ()
    seen: set[tuple[str, str]] = set()
    for each in solved:
        base = QuestionModels(each, tuple(catalogue))
        with guarded(each.problem, each.question):
            of_its_diagrams = of_diagrams(base, seen, drawn, groups) if drawn else ()
            found = [*of_its_diagrams, *base.asked(kinds)]
        yield from (guarded_model(each.problem, each.question, asked) for asked in found)


def of_diagrams(
    base: QuestionModels, seen: set[tuple[str, str]], kinds: Sequence[Kind], groups: Groups = ()
) -> Iterator[ItemModel]:
    """The questions of the diagrams of a problem that are not among the ``seen`` ones, to which they are added."""
    for diagram in base.problem.diagrams:
        if (base.problem.id, diagram.name) not in seen and base.solved.solution.path:
            seen.add((base.problem.id, diagram.name))
            yield from DiagramModels(base, diagram, groups).asked(kinds)


def find_item_model(problems: Sequence[Problem], name: str) -> ItemModel:
    """The question with that id, of any kind: ``problem.question``, or that with ``/kind`` behind it.

    A number question is shown without its mistakes solved. Raises UnknownNameError with near ids.
    """
    if "/" not in name:
        found = solved_question(*find_question(problems, name))
        return guarded_model(found.problem, found.question, next(QuestionModels(found, ()).asked(("number",))))
    owner = name.partition(".")[0]
    solved = [solved_question(each, question) for each in problems if each.id == owner for question in each.questions]
    known = {each.id: each for each in item_models(solved, shipped_mistakes(), KINDS, problems)}
    if name not in known:
        raise UnknownNameError("question", name, difflib.get_close_matches(name, known, n=2, cutoff=0.5))
    return known[name]


def one_of_each_derived(asked: Iterable[ItemModel]) -> Iterator[ItemModel]:
    """All number and choice questions, and from each problem the first question of every other kind."""
    seen: set[tuple[str, str]] = set()
    for each in asked:
        owner = (each.metadata.problem, each.kind)
        if not KIND[each.kind].is_derived or owner not in seen:
            seen.add(owner)
            yield each


def pack(
    solved: Sequence[SolvedQuestion], catalogue: Sequence[Mistake], settings: Settings, bank: Sequence[Problem] = ()
) -> Pack:
    """The pack of some questions; other situations of the ``bank`` are matched with theirs.

    Raises TooFewVariantsError for the first number question that has fewer variants than wanted; other kinds give what
    they have.
    """
    chosen = choice(solved, catalogue, settings, bank)
    found = {each.id: each.section(settings.variants, settings.gravity, settings.seed) for each in chosen}
    return _pack(found, settings)


def choice(
    solved: Sequence[SolvedQuestion], catalogue: Sequence[Mistake], settings: Settings, bank: Sequence[Problem] = ()
) -> Iterator[ItemModel]:
    """The questions that a pack of these is to have."""
    asked = item_models(solved, catalogue, settings.kinds, bank)
    return asked if settings.every else one_of_each_derived(asked)


@dataclass(frozen=True)
class Share:
    """The variants of one question that a pack holds of a pool: those from ``start`` up to ``stop``, from 0."""

    question: str
    start: int
    stop: int


def share(
    solved: Sequence[SolvedQuestion],
    catalogue: Sequence[Mistake],
    settings: Settings,
    bank: Sequence[Problem],
    shares: Sequence[Share],
) -> Pack:
    """The pack that holds these shares of a pool, in their order; ``solved`` are all questions of their problems."""
    asked = {each.id: each for each in item_models(solved, catalogue, settings.kinds, bank)}
    found = {
        each.question: asked[each.question].section(each.stop, settings.gravity, settings.seed, each.start)
        for each in shares
    }
    return _pack(found, settings)


def _pack(found: Mapping[str, Section | None], settings: Settings) -> Pack:
    return Pack(
        title=settings.title,
        purpose=settings.purpose,
        gravity=f"{settings.gravity} N/kg",
        seed=settings.seed,
        sections=tuple(each for each in found.values() if each),
        without=tuple(name for name, section in found.items() if section is None),
        rules=settings.rules,
    )
