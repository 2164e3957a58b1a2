"""All questions of a bank, of every kind: what a name means, finding one by its id, choosing those of a pack."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from ..errors import UnknownNameError
from ..item.pack import Pack, Section
from ..limits.budget import guarded
from ..model.mistake import Mistake
from ..model.problem import Problem, Question
from ..reading.mistakes import shipped_mistakes
from ..solving.cache import solved_question
from ..solving.solution import SolvedQuestion
from .item_model import ItemModel, Settings, as_wanted, guarded_model
from .kinds import KIND, KINDS, Kind
from .matching.situations import Groups, alike
from .names import meant, named, named_one, near, question_id
from .of_diagram import DiagramModels
from .of_question import QuestionModels
from .stem_pictures import without_answers

# --- questions by id: what a user may name, and what is near when the name is wrong ---


def all_questions(problems: Sequence[Problem]) -> list[tuple[Problem, Question]]:
    """Every question of the bank, in file order."""
    return [(problem, question) for problem in problems for question in problem.questions]


def find_question(problems: Sequence[Problem], name: str) -> tuple[Problem, Question]:
    """The question with that id. Raises UnknownNameError with near ids, UsageError for a name that means several."""
    return named_one(all_questions(problems), name)


def find_questions(problems: Sequence[Problem], names: Sequence[str]) -> list[tuple[Problem, Question]]:
    """The questions meant by ids of questions, problems or families, each once, in the order of the names.

    All, in bank order, for no name. Raises UnknownNameError, with near names.
    """
    return named(all_questions(problems), names)


def item_models(
    solved: Sequence[SolvedQuestion], catalogue: Sequence[Mistake], kinds: Sequence[Kind], bank: Sequence[Problem] = ()
) -> Iterator[ItemModel]:
    """All questions of the wanted kinds, problem by problem; those of a diagram come with its first question.

    ``bank`` holds the problems whose situations are matched with each other.
    """
    return models_of((QuestionModels(each, tuple(catalogue)) for each in solved), kinds, bank)


def models_of(
    questions: Iterable[QuestionModels], kinds: Sequence[Kind], bank: Sequence[Problem] = ()
) -> Iterator[ItemModel]:
    """The same of questions that are at hand."""
    drawn = [each for each in kinds if KIND[each].about == "diagram"]
    groups = alike(bank) if "match" in kinds else ()
    seen: set[tuple[str, str]] = set()
    for base in questions:
        owner = base.problem, base.solved.question
        with guarded(*owner):
            of_its_diagrams = of_diagrams(base, seen, drawn, groups) if drawn else ()
            found = [*of_its_diagrams, *base.asked(kinds)]
        yield from (guarded_model(*owner, asked) for asked in found)


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

    Raises UnknownNameError with near ids.
    """
    if "/" not in name:
        found = solved_question(*find_question(problems, name))
        return guarded_model(
            found.problem, found.question, next(QuestionModels(found, shipped_mistakes()).asked(("number",)))
        )
    return select(problems, [name], Settings()).models[0]


def one_of_each_derived(asked: Iterable[ItemModel]) -> Iterator[ItemModel]:
    """All number and choice questions, and from each problem the first question of every other kind."""
    seen: set[tuple[str, str]] = set()
    for each in asked:
        owner = (each.metadata.problem, each.kind)
        if not KIND[each.kind].is_derived or owner not in seen:
            seen.add(owner)
            yield each


@dataclass(frozen=True)
class Selection:
    """The questions that some names mean, in the order of the names; ``solved`` are those of the problem files."""

    solved: tuple[SolvedQuestion, ...]
    models: tuple[ItemModel, ...]


def select(
    bank: Sequence[Problem], names: Sequence[str], settings: Settings, done: Callable[[int], None] = lambda _: None
) -> Selection:
    """What the names mean under these settings, each question once.

    The id of a question is that question, in the kinds that ``settings.named`` tells; with ``/kind`` behind it, it is
    the one question of that id; a problem or family gives its questions in ``settings.kinds``, and no name the whole
    bank. ``done`` hears of each question that is solved. Raises UnknownNameError with near ids, or SolveError.
    """
    finder = _Finder(bank, settings, done)
    found = [each for name in names for each in finder.named(name)] if names else finder.whole(all_questions(bank))
    models = {each.id: as_wanted(each, settings) for each in found}
    return Selection(tuple(finder.solved.values()), tuple(models.values()))


def count_solved(bank: Sequence[Problem], names: Sequence[str]) -> int:
    """How many questions ``select`` solves for these names. Raises UnknownNameError."""
    return len(find_questions(bank, [name for name in names if "/" not in name])) if names else len(all_questions(bank))


class _Finder:
    """Finds the item models of names; holds what was solved, so that nothing is solved twice."""

    def __init__(self, bank: Sequence[Problem], settings: Settings, done: Callable[[int], None]) -> None:
        self.bank, self.settings, self.done = bank, settings, done
        self.everything = all_questions(bank)
        self.solved: dict[str, SolvedQuestion] = {}
        self.known: dict[tuple[str, ...], Mapping[str, ItemModel]] = {}

    def named(self, name: str) -> Sequence[ItemModel]:
        """The questions of one name."""
        if "/" in name:
            return (self._one(name),)
        found = meant(self.everything, name)
        if name == question_id(*found[0]):
            return tuple(self._models(found, self.settings.named))
        return self.whole(found)

    def whole(self, chosen: Sequence[tuple[Problem, Question]]) -> Sequence[ItemModel]:
        """The questions of whole problems."""
        asked = self._models(chosen, self.settings.kinds)
        return tuple(asked if self.settings.every else one_of_each_derived(asked))

    def _models(self, chosen: Sequence[tuple[Problem, Question]], kinds: Sequence[Kind]) -> Iterator[ItemModel]:
        return item_models([self._solve(*each) for each in chosen], shipped_mistakes(), kinds, self.bank)

    def _one(self, name: str) -> ItemModel:
        """The question of another kind with this id."""
        whole, _, kind = name.partition("/")
        own = [(p, q) for p, q in self.everything if question_id(p, q) == whole]
        if own and kind == "number":
            return next(self._models(own, ("number",)))
        around = own or [(p, q) for p, q in self.everything if p.id == whole.partition(".")[0]]
        if not around:
            raise UnknownNameError("question", name, [f"{each}/{kind}" for each in near(self.everything, whole)])
        about = "question" if own else "diagram"
        kinds = [each for each in KINDS if KIND[each].about == about and kind.partition("-")[0] in (each, "")]
        known = self._known(around, tuple(kinds))
        if name not in known:
            known = self._known(around, KINDS)
            raise UnknownNameError("question", name, difflib.get_close_matches(name, known, n=2, cutoff=0.5))
        return known[name]

    def _known(self, around: Sequence[tuple[Problem, Question]], kinds: tuple[Kind, ...]) -> Mapping[str, ItemModel]:
        place = (*(question_id(*each) for each in around), *kinds)
        if place not in self.known:
            self.known[place] = {each.id: each for each in self._models(around, kinds)}
        return self.known[place]

    def _solve(self, problem: Problem, question: Question) -> SolvedQuestion:
        name = question_id(problem, question)
        if name not in self.solved:
            self.solved[name] = solved_question(problem, question)
            self.done(1)
        return self.solved[name]


def pack(
    solved: Sequence[SolvedQuestion], catalogue: Sequence[Mistake], settings: Settings, bank: Sequence[Problem] = ()
) -> Pack:
    """The pack of some questions; other situations of the ``bank`` are matched with theirs.

    Raises TooFewVariantsError for the first number question that has fewer variants than wanted; other kinds give what
    they have.
    """
    asked = item_models(solved, catalogue, settings.kinds, bank)
    return pack_of(asked if settings.every else one_of_each_derived(asked), settings)


def pack_of(models: Iterable[ItemModel], settings: Settings, done: Callable[[int], None] = lambda _: None) -> Pack:
    """The pack of these questions, in their order; ``done`` hears of each. Raises TooFewVariantsError as ``pack``."""
    wanted = (settings.variants, settings.gravity, settings.seed)
    found = {}
    for each in models:
        found[each.id] = each.section(*wanted)
        done(1)
    return _pack(found, settings)


@dataclass(frozen=True)
class Share:
    """The variants of one question that a pack holds of a pool: those from ``start`` up to ``stop``, from 0."""

    question: str
    start: int
    stop: int


def share(bank: Sequence[Problem], settings: Settings, shares: Sequence[Share]) -> Pack:
    """The pack that holds these shares of a pool, in their order."""
    names = list(dict.fromkeys(each.question for each in shares))
    chosen = select(bank, names, replace(settings, named=("number",)))
    asked = {each.id: each for each in chosen.models}
    found = {
        each.question: asked[each.question].section(each.stop, settings.gravity, settings.seed, each.start)
        for each in shares
    }
    return _pack(found, settings)


def _pack(found: Mapping[str, Section | None], settings: Settings) -> Pack:
    sections = tuple(each for each in found.values() if each)
    return Pack(
        title=settings.title,
        purpose=settings.purpose,
        gravity=f"{settings.gravity} {settings.style.field_unit}",
        seed=settings.seed,
        sections=without_answers(sections) if settings.purpose == "exam" else sections,
        without=tuple(name for name, section in found.items() if section is None),
        rules=settings.rules,
    )
