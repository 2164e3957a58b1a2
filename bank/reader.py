"""Problem files to checked problems: every fault of every file, then one raise."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from importlib import resources
from pathlib import Path
from typing import Any

from turnwright.bank.consistency import check_consistency
from turnwright.bank.document import Document, Path_, read_document
from turnwright.bank.errors import BankFaultsError, ExpressionError, Fault, FileError, UnitError
from turnwright.bank.expression import Relation, parse, parse_relation
from turnwright.bank.problem import (
    Diagram,
    Draw,
    Energy,
    Force,
    ForceWords,
    Level,
    Motion,
    Problem,
    QuantitySpec,
    Question,
    Reason,
    Scene,
    Tolerance,
)
from turnwright.bank.shape import check_shape
from turnwright.bank.unit import Unit, unit

MOST_DRAWN = 500
_TOWARD: dict[str, tuple[tuple[str, str], ...]] = {
    "inward": (("inward", "1"),),
    "outward": (("inward", "-1"),),
    "up": (("up", "1"),),
    "down": (("up", "-1"),),
    "forward": (("forward", "1"),),
    "backward": (("forward", "-1"),),
}


def shipped_files() -> list[Path]:
    """The problem files that come with the library, in a fixed order."""
    root = Path(str(resources.files("turnwright.bank") / "problems"))
    return sorted(root.rglob("*.yaml"))


def problem_files(paths: Iterable[Path]) -> list[Path]:
    """The files meant by paths: a folder stands for all ``.yaml`` files below it. Raises FileError for a missing one."""
    files: list[Path] = []
    for path in paths:
        if not path.exists():
            raise FileError(str(path), "there is no such file or folder", "name a problem file or a folder of them")
        files += sorted(path.rglob("*.yaml")) if path.is_dir() else [path]
    return files


def read_problem(path: Path | str) -> Problem:
    """The problem in one file. Raises BankFaultsError with all its faults."""
    (problem,) = read_bank([Path(path)])
    return problem


def read_bank(files: Sequence[Path] | None = None) -> tuple[Problem, ...]:
    """The problems in the files, or in the shipped bank. Raises BankFaultsError with all faults of all files."""
    problems, faults = collect(shipped_files() if files is None else files)
    if faults:
        raise BankFaultsError(faults)
    return problems


def collect(files: Sequence[Path]) -> tuple[tuple[Problem, ...], tuple[Fault, ...]]:
    """The problems that could be built, and every fault found; nothing is raised."""
    problems: list[Problem] = []
    faults: list[Fault] = []
    for path in files:
        document = read_document(path, _short(path))
        problem = problem_of(document)
        faults += document.faults
        if problem:
            problems.append(problem)
    return tuple(problems), tuple(faults + _repeated_ids(problems))


def _short(path: Path) -> str:
    """The path as an editor can open it from here: relative where that is shorter."""
    try:
        return str(path.resolve().relative_to(Path.cwd()))
    except (ValueError, OSError):
        return str(path)


def _repeated_ids(problems: Sequence[Problem]) -> list[Fault]:
    first: dict[str, Problem] = {}
    faults = []
    for problem in problems:
        earlier = first.setdefault(problem.id, problem)
        if earlier is not problem:
            wrong = f"id: '{problem.id}' is taken by {earlier.document.place(('id',))}"
            faults.append(Fault(problem.document.place(("id",)), wrong, "give every problem an id of its own"))
    return faults


def problem_of(document: Document) -> Problem | None:
    """The problem in a document, or None where faults (now noted in the document) leave nothing to build."""
    if document.faults or not check_shape(document, "problem"):
        return None
    problem = _Builder(document).problem()
    if document.faults:
        return None
    check_consistency(problem)
    return None if document.faults else problem


class _Builder:
    """Turns the plain data of a document that fits the schema into a Problem; notes what does not parse."""

    def __init__(self, document: Document) -> None:
        self.document = document
        self.data: Mapping[str, Any] = document.data

    def problem(self) -> Problem:
        data = self.data
        quantities = {name: self._quantity(name, spec) for name, spec in data["quantities"].items()}
        return Problem(
            id=data["id"],
            version=data["version"],
            title=data["title"],
            family=data["family"],
            level=data["level"],
            licence=data["licence"],
            objectives=tuple(data["objectives"]),
            motion=Motion(**{key.replace("-", "_"): value for key, value in data["motion"].items()}),
            diagrams=tuple(self._diagram(name, each) for name, each in data.get("diagrams", {}).items()),
            relations=tuple(
                self._reason(each, "equation", ("relations", at)) for at, each in enumerate(data.get("relations", []))
            ),
            energies=tuple(self._energy(each, ("energy", at)) for at, each in enumerate(data.get("energy", []))),
            holds=tuple(self._reason(each, "that", ("holds", at)) for at, each in enumerate(data.get("holds", []))),
            quantities=quantities,
            scenes=tuple(self._scene(name, each, quantities) for name, each in data["scenes"].items()),
            questions=tuple(self._question(name, each) for name, each in data["questions"].items()),
            caution=data.get("caution", ""),
            demonstration=data.get("demonstration", {}),
            document=self.document,
        )

    def _relation(self, text: str, path: Path_) -> Relation:
        try:
            return parse_relation(str(text))
        except ExpressionError as error:
            self.document.fault(path, error.wrong + f" in '{error.text}'", error.right)
            return Relation(parse("0"), "=", parse("0"))

    def _formula(self, text: Any, path: Path_) -> str:
        try:
            parse(str(text))
        except ExpressionError as error:
            self.document.fault(path, error.wrong + f" in '{error.text}'", error.right)
            return "0"
        return str(text)

    def _unit(self, symbol: str, path: Path_) -> Unit:
        try:
            return unit(symbol)
        except UnitError as error:
            self.document.fault(path, error.wrong, error.right)
            return unit("1")

    def _reason(self, data: Mapping[str, Any], key: str, path: Path_) -> Reason:
        text = str(data[key])
        return Reason(self._relation(text, (*path, key)), text, data["because"])

    def _diagram(self, name: str, data: Mapping[str, Any]) -> Diagram:
        at = data.get("at", {"horizontal": "level", "space": "space"}.get(self.data["motion"]["plane"], "top"))
        angled = isinstance(at, dict)
        path = ("diagrams", name, "forces")
        return Diagram(
            name=name,
            body=data["body"],
            mass=data["mass"],
            spot="angle" if angled else at,
            forces=tuple(self._force(role, each, (*path, role)) for role, each in data["forces"].items()),
            speed=data.get("speed"),
            radius=data.get("radius"),
            angle=at["angle"] if angled else None,
            angle_from=at["from"] if angled else None,
            tilt=data.get("tilt"),
            surface=data.get("surface"),
            place=data.get("place", ""),
        )

    def _force(self, role: str, data: Mapping[str, Any], path: Path_) -> Force:
        law = data.get("law") or ("weight" if role == "weight" and "symbol" not in data else None)
        along = data.get("components") or dict(_TOWARD.get(data.get("toward", ""), ()))
        if law is None and "symbol" not in data:
            self.document.fault(path, "the size of this force is not named", "add 'symbol: N' or 'law: gravitation'")
        if law in ("gravitation", "magnetic"):
            along = along or {"inward": "1"}
        if not along and law != "weight":
            self.document.fault(path, "this force has no direction", "add 'toward: inward' or 'components: {...}'")
        parts = tuple((axis, self._formula(part, (*path, "components", axis))) for axis, part in along.items())
        return Force(role, parts, data.get("symbol"), law, data.get("centre-mass"), data.get("charge"), data.get("field"))

    def _energy(self, data: Mapping[str, Any], path: Path_) -> Energy:
        return Energy(
            self._level(data["from"], (*path, "from")), self._level(data["to"], (*path, "to")), data["because"]
        )

    def _level(self, data: Any, path: Path_) -> Level:
        if isinstance(data, str):
            if data not in self.data.get("diagrams", {}):
                self.document.fault(path, f"no diagram is called '{data}'", "name a diagram, or give height and speed")
            return Level(diagram=data)
        return Level(None, *(self._formula(data[key], (*path, key)) for key in ("height", "speed")))

    def _draw(self, data: Any, path: Path_) -> Draw | None:
        if data is None:
            return None
        if isinstance(data, list):
            return Draw(tuple(Decimal(value) for value in data))
        start, stop, step = (Decimal(data[key]) for key in ("from", "to", "step"))
        steps = (stop - start) / step
        if steps < 0 or steps != steps.to_integral_value() or steps >= MOST_DRAWN:
            wrong = f"from {start} to {stop} by {step} makes {steps:.3f} steps"
            self.document.fault(path, wrong, f"'to' is 'from' and a whole number of steps, fewer than {MOST_DRAWN}")
            return Draw((start,))
        return Draw(tuple(start + step * number for number in range(int(steps) + 1)))

    def _range(self, data: Mapping[str, Any] | None) -> tuple[Decimal, Decimal] | None:
        return (Decimal(data["from"]), Decimal(data["to"])) if data else None

    def _quantity(self, symbol: str, data: Mapping[str, Any]) -> QuantitySpec:
        path = ("quantities", symbol)
        return QuantitySpec(
            symbol=symbol,
            unit=self._unit(data["unit"], (*path, "unit")),
            means=data.get("means", ""),
            figures=data.get("figures", 3),
            draw=self._draw(data.get("draw"), (*path, "draw")),
            constant=data.get("constant"),
            plausible=self._range(data.get("plausible")),
            positive=data.get("sign") != "any",
        )

    def _scene(self, name: str, data: Mapping[str, Any], quantities: Mapping[str, QuantitySpec]) -> Scene:
        path = ("scenes", name)
        forces = {
            role: ForceWords(each["name"], each.get("symbol"), each["by"], each["acts"])
            for role, each in data.get("forces", {}).items()
        }
        changes = {}
        for symbol, change in data.get("quantities", {}).items():
            if symbol not in quantities:
                self.document.fault(
                    (*path, "quantities", symbol), "no quantity has this symbol", "add it to 'quantities'"
                )
                continue
            changes[symbol] = self._changed(quantities[symbol], change, (*path, "quantities", symbol))
        return Scene(name, data["story"], data["words"], forces, changes)

    def _changed(self, spec: QuantitySpec, data: Mapping[str, Any], path: Path_) -> QuantitySpec:
        if "unit" in data:
            spec = replace(spec, unit=self._unit(data["unit"], (*path, "unit")), plausible=None)
        if "draw" in data:
            spec = replace(spec, draw=self._draw(data["draw"], (*path, "draw")))
        return replace(
            spec,
            figures=data.get("figures", spec.figures),
            plausible=self._range(data.get("plausible")) or spec.plausible,
        )

    def _question(self, name: str, data: Mapping[str, Any]) -> Question:
        path = ("questions", name)
        limiting = data.get("limiting")
        tolerance = {key: Decimal(value) for key, value in data.get("tolerance", {}).items()}
        return Question(
            name=name,
            title=data["title"],
            ask=data["ask"],
            given=tuple(data.get("given", ())),
            stem=data["stem"],
            asked_name=data.get("name", ""),
            extra=tuple(data.get("extra", ())),
            limiting=self._relation(limiting, (*path, "limiting")) if limiting is not None else None,
            figures=data.get("figures", 3),
            unit=self._unit(data["unit"], (*path, "unit")) if "unit" in data else None,
            tolerance=Tolerance(tolerance.get("percent"), tolerance.get("absolute")) if tolerance else None,
            plausible=self._range(data.get("plausible")),
            scenes=tuple(data.get("scenes", ())),
            diagram=data.get("diagram"),
            objectives=tuple(data.get("objectives", self.data["objectives"])),
            level=data.get("level", self.data["level"]),
            minutes=data.get("minutes", 4),
        )
