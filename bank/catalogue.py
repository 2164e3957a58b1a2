"""Questions by id: what a user may name, and what is near when the name is wrong."""

from __future__ import annotations

import difflib
from collections.abc import Sequence

from turnwright.bank.errors import UnknownNameError, UsageError
from turnwright.bank.problem import Problem, Question
from turnwright.bank.prose import count


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
    """The questions meant by ids of questions, problems or families, each once, in bank order; all for no name."""
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
