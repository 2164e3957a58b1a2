"""The index of a bank: names to questions and to the files that hold them; faults of files aside, told once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING, TypeAlias

from ..errors import BankFaultsError, Fault, UnknownNameError
from ..questions.names import named, named_one, question_id
from ..reading.finding import shipped_files
from .file import BankFile, DeclaredProblem, DeclaredQuestion

if TYPE_CHECKING:
    from ..model.problem import Problem, Question

Row: TypeAlias = tuple[DeclaredProblem, DeclaredQuestion]


class Index:
    """What the files at some paths declare; ``faults`` are those of files that are left out."""

    def __init__(self, paths: Sequence[Path] | None = None) -> None:
        ours = shipped_files()
        known = set(map(str, ours))
        self.files = [BankFile(each, is_ours=str(each) in known) for each in (ours if paths is None else paths)]
        self.faults: tuple[Fault, ...] = ()
        if any(each.declared is None for each in self.files) or self._is_contradictory():
            self._judge()

    @property
    def sound(self) -> list[BankFile]:
        """The files without fault."""
        return [each for each in self.files if each.declared]

    @property
    def rows(self) -> list[Row]:
        """Every question, in file order."""
        return [(problem, each) for file in self.sound if (problem := file.declared) for each in problem.questions]

    def words(self, what: str) -> Mapping[str, int]:
        """All families, levels or objectives, with the number of their questions."""
        if what == "family":
            return Counter(problem.family for problem, _ in self.rows)
        if what == "level":
            return Counter(each.level for _, each in self.rows)
        return Counter(name for _, each in self.rows for name in each.objectives)

    def near(self, what: str, name: str) -> list[str]:
        """Families, levels or objectives that look like this one; all levels, since there are few."""
        known = sorted(self.words(what))
        return known if what == "level" else get_close_matches(name, known, n=2, cutoff=0.5)

    def found(self, names: Sequence[str]) -> list[Row]:
        """The questions that names mean, all for none.

        Raises UnknownNameError; BankFaultsError where files with faults may hold what is named, or all have faults.
        """
        if self.faults and not self.sound:
            raise BankFaultsError(self.faults)
        try:
            return named(self.rows, names)
        except UnknownNameError as error:
            if self._reads_anew(error.name):
                return self.found(names)
            if self.faults:
                raise BankFaultsError(self.faults) from None
            raise

    def question(self, name: str) -> tuple[Problem, Question]:
        """The question with that id, from its file. Raises as ``found`` does, and UsageError for several."""
        problem, question = named_one(self.found([name]), name)
        opened = self._opened([problem.id])
        if opened is None:
            return self.question(name)
        return opened[0], opened[0].question(question.name)

    def problems(self, names: Sequence[str]) -> tuple[Problem, ...]:
        """The problems that hold what is named, with ``/kind`` behind it or not, in file order. Raises as ``found``."""
        wanted = {problem.id for problem, _ in self.found([self.owner(each) for each in names])}
        opened = self._opened(list(wanted))
        return self.problems(names) if opened is None else opened

    def without_faults(self) -> tuple[Problem, ...]:
        """All problems but those with faults."""
        return self._agreed()[0]

    def whole(self) -> tuple[Problem, ...]:
        """All problems. Raises BankFaultsError with all faults of all files."""
        problems, faults = self._agreed()
        if faults:
            raise BankFaultsError(faults)
        return problems

    def owner(self, name: str) -> str:
        """The question of a derived one; the problem, where it is about a diagram."""
        own, slash, _ = name.partition("/")
        if not slash or any(own == question_id(*each) for each in self.rows):
            return own
        return own.partition(".")[0]

    def _opened(self, ids: Sequence[str]) -> tuple[Problem, ...] | None:
        """The problems with these ids; None where a file does not hold what its entry declared, so look again."""
        chosen = [(each, each.declared) for each in self.sound if each.id in ids]
        opened = [each.problem() for each, _ in chosen]
        if any(each.declared != before for each, before in chosen):
            self._judge()
            return None
        return tuple(each for each in opened if each)

    def _reads_anew(self, name: str) -> bool:
        """Whether a file that has the unknown name in it did not declare what it holds."""
        word = name.partition(".")[0]
        before = self.rows
        for each in self.sound:
            if each.speaks_of(word):
                each.problem()
        if self.rows == before:
            return False
        self._judge()
        return True

    def _is_contradictory(self) -> bool:
        """Whether files may have faults only beside each other: an id twice, or an enemy that is not asked."""
        ids = [each.id for each in self.files if each.id]
        asked = {problem.id: {each.name for each in problem.questions} for problem, _ in self.rows}
        enemies = [each.partition(".") for _, question in self.rows for each in question.enemies if "/" not in each]
        return len(set(ids)) < len(ids) or any(name not in asked.get(owner, {name}) for owner, _, name in enemies)

    def _judge(self) -> None:
        """Finds the faults of all files, one by one and beside each other, and leaves out those that have some."""
        if self._is_contradictory():
            _, self.faults = self._agreed()
            for each in self.files:
                if each.document.faults:
                    each.declared = None
        else:
            self.faults = _faults([each for each in self.files if each.declared is None])

    def _agreed(self) -> tuple[tuple[Problem, ...], tuple[Fault, ...]]:
        from ..reading.files import agreed

        problems = [each.problem() for each in self.files]
        return agreed([each.document for each in self.files], problems)


def _faults(files: Sequence[BankFile]) -> tuple[Fault, ...]:
    from ..reading.files import agreed

    return agreed([each.document for each in files], [None for _ in files])[1] if files else ()
