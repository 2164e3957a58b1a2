"""What can go wrong, one class per kind; the data are attributes, the sentence is made in ``__str__``."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass


class TurnwrightError(Exception):
    """Base of every error that a user can cause; ``exit_status`` is what the command ends with."""

    exit_status = 2


@dataclass(frozen=True)
class Place:
    """A place in a file; line and column count from 1."""

    file: str
    line: int = 1
    column: int = 1

    def __str__(self) -> str:
        return f"{visible(self.file)}:{self.line}:{self.column}"


@dataclass(frozen=True)
class Fault:
    """One thing wrong in a bank file: where, what is wrong, and what would be right."""

    place: Place
    wrong: str
    right: str

    def __str__(self) -> str:
        return visible(f"{self.place}: {self.wrong}; {self.right}")


class BankFaultsError(TurnwrightError):
    """All faults of all files read in one run, raised once."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__(self.faults)

    def __str__(self) -> str:
        return "\n".join(str(fault) for fault in self.faults)


class ExpressionError(TurnwrightError):
    """A formula that the expression grammar refuses; ``column`` counts from 1 inside the text."""

    def __init__(self, text: str, wrong: str, right: str, column: int = 1) -> None:
        # a message is one line, whatever stands in the text
        self.text, self.wrong = (visible(" ".join(each.splitlines())) for each in (text, wrong))
        self.right, self.column = right, column
        super().__init__(text, wrong, right, column)

    def __str__(self) -> str:
        return f"in '{self.text}', column {self.column}: {self.wrong}; {self.right}"


class MissingNameError(TurnwrightError):
    """A quantity that an equation needs and the problem does not name; ``where`` is the part that needs it."""

    def __init__(self, where: str, what: str) -> None:
        self.where, self.what = visible(where), what
        super().__init__(where, what)

    def __str__(self) -> str:
        return f"{self.where}: nothing names the {self.what} that its equation needs; name it there or under 'motion'"


class UnitError(TurnwrightError):
    """A unit that is not known, or that does not fit the quantity it is given for."""

    def __init__(self, unit: str, wrong: str, right: str) -> None:
        self.unit, self.wrong, self.right = unit, visible(wrong), right
        super().__init__(unit, wrong, right)

    def __str__(self) -> str:
        return f"{self.wrong}; {self.right}"


class SolveError(TurnwrightError):
    """A system that does not fix the asked quantity, fixes it twice, or has no admissible branch."""

    def __init__(self, question: str, wrong: str, right: str) -> None:
        self.question, self.wrong, self.right = question, wrong, right
        super().__init__(question, wrong, right)

    def __str__(self) -> str:
        return f"{self.question}: {self.wrong}; {self.right}"


class OverBudgetError(SolveError):
    """Work on a question of a stranger's bank that was ended, since it took more than its share of the machine."""

    def __init__(self, question: str, place: Place, wrong: str, right: str) -> None:
        super().__init__(question, wrong, right)
        self.place = place
        self.args = (question, place, wrong, right)

    def __str__(self) -> str:
        return f"{self.place}: {super().__str__()}"


class TooFewVariantsError(TurnwrightError):
    """More variants asked for than the question has."""

    def __init__(self, question: str, found: int, wanted: int) -> None:
        self.question, self.found, self.wanted = question, found, wanted
        super().__init__(question, found, wanted)

    def __str__(self) -> str:
        are = "variant exists" if self.found == 1 else "variants exist"
        return (
            f"{self.question}: {self.found} {are}, {self.wanted} were asked for; "
            f"ask for at most {self.found}, or widen a draw in the problem file"
        )


class NoProcessError(TurnwrightError):
    """The system grants no other process; ``why`` is what it tells."""

    def __init__(self, why: str) -> None:
        self.why = why
        super().__init__(why)

    def __str__(self) -> str:
        return f"another process is needed and can't be started: {self.why}; end some programs, or allow more processes"


def broken_off(error: Exception) -> tuple[str, str]:
    """What is told of a file with which the program itself failed, so that it hides no fault of another file."""
    wrong = f"the program breaks off here with {type(error).__name__}"
    return wrong, "the fault is the program's: report it with this file, and try ordinary numbers and shorter formulas"


class UnknownNameError(TurnwrightError):
    """A question, format, problem or variant that does not exist; ``known`` are near names, or all there are."""

    def __init__(self, kind: str, name: str, known: Sequence[str] = ()) -> None:
        self.kind, self.name, self.known = kind, name, tuple(known)
        super().__init__(kind, name, self.known)

    def __str__(self) -> str:
        if len(self.known) > 2:
            hint = f"; known are {', '.join(self.known)}"
        elif self.known:
            hint = f"; did you mean {' or '.join(self.known)}?"
        else:
            hint = "; 'turnwright list' tells them" if self.kind.startswith("question") else ""
        return f"no {visible(self.kind)} is called '{visible(self.name)}'{hint}"


class UsageError(TurnwrightError):
    """An option or value that the command cannot take."""


class FileError(TurnwrightError):
    """A file or folder that cannot be read or written."""

    def __init__(self, path: str, wrong: str, right: str) -> None:
        self.path, self.wrong, self.right = path, wrong, right
        super().__init__(path, wrong, right)

    def __str__(self) -> str:
        return visible(f"{self.path}: {self.wrong}; {self.right}")


class OvertakenError(FileError):
    """A file that was changed, by another run or by hand, while this run was at it."""


class FigureError(TurnwrightError):
    """A figure that can't be drawn; ``owner`` is the question that shows it, or the title of the drawing."""

    def __init__(self, owner: str, wrong: str) -> None:
        self.owner, self.wrong = owner, wrong
        super().__init__(owner, wrong)

    def __str__(self) -> str:
        return (
            f"{self.owner}: its figure can't be drawn, since {self.wrong}; mend its diagram, or leave the question out"
        )


class TypesettingError(TurnwrightError):
    """A page that the typesetter refuses."""

    def __init__(self, wrong: str, right: str) -> None:
        self.wrong, self.right = wrong, right
        super().__init__(wrong, right)

    def __str__(self) -> str:
        return f"the paper can't be set: {self.wrong}; {self.right}"


class LeftOutError(TurnwrightError):
    """Items that a format can't carry, where the user wants all of them; ``reasons`` are one line each."""

    exit_status = 1

    def __init__(self, format_name: str, reasons: Sequence[str]) -> None:
        self.format_name, self.reasons = format_name, tuple(reasons)
        super().__init__(format_name, self.reasons)

    def __str__(self) -> str:
        return "\n".join(
            f"{self.format_name} would leave out {reason}; choose other kinds of questions or another format"
            for reason in self.reasons
        )


class ProofError(TurnwrightError):
    """A pack that did not pass its proof; ``findings`` are one line each."""

    exit_status = 1

    def __init__(self, path: str, findings: Sequence[str]) -> None:
        self.path, self.findings = path, tuple(findings)
        super().__init__(path, self.findings)

    def __str__(self) -> str:
        return "\n".join(f"{visible(self.path)}: {finding}" for finding in self.findings)


class BlueprintError(TurnwrightError):
    """A blueprint that no forms can meet; ``lines`` are those that can't hold together, each with its place."""

    exit_status = 1

    def __init__(self, lines: Sequence[tuple[Place | None, str]]) -> None:
        self.lines = tuple(lines)
        super().__init__(self.lines)

    def __str__(self) -> str:
        told = [f"{place}: {words}" if place else words for place, words in self.lines]
        if len(told) == 1:
            return f"{told[0]}; this can't hold with the questions of the bank, so loosen it"
        head = f"these {len(told)} can't hold together with the questions of the bank; loosen one of them"
        return "\n".join((head, *told))


class UnsolvedError(TurnwrightError):
    """A programme in which no forms were found, nor shown not to exist, within a number of ``nodes``."""

    def __init__(self, nodes: int | None) -> None:
        self.nodes = nodes
        super().__init__(nodes)

    def __str__(self) -> str:
        return "no forms were found within the limit of the search; ask for fewer forms, or widen the rows"


# --- letters that nobody sees, or that a terminal acts on: where they are, and how a message shows them ---


# control and format characters, lone surrogates and what is no character at all; tab and line feed are text
HIDDEN = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\xad\u061c\u180e\u200b-\u200f\u2028-\u202e\u2060-\u206f\ud800-\udfff"
    "\ufeff\ufff9-\ufffb\ufffe\uffff\U000e0000-\U000e01ef"
    # blanks that count as letters, joiners of letters, variation selectors: two texts that look alike must be alike
    "\u034f\u115f\u1160\u17b4\u17b5\u180b-\u180f\u2800\u3164\ufe00-\ufe0f\uffa0\ufdd0-\ufdef\ue000-\uf8ff\U000f0000-\U0010ffff]"
)


def hidden_in(text: str) -> str:
    """The first invisible character of ``text`` as ``U+200B``; nothing where there is none."""
    found = HIDDEN.search(text)
    return f"U+{ord(found[0]):04X}" if found else ""


def visible(text: str, *, lines: bool = False) -> str:
    """The text with what a terminal might act on, or not show, as an escape; ends of line stay where they are meant."""
    if text.isprintable() and not HIDDEN.search(text):
        return text
    return "".join(each if _is_seen(each) or (lines and each == "\n") else ascii(each)[1:-1] for each in text)


def _is_seen(letter: str) -> bool:
    return letter.isprintable() and not HIDDEN.match(letter)
