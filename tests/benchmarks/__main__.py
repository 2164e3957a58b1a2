"""Runs every measurement and prints one line for each: what was measured, against what, and the ratio."""

from __future__ import annotations

import argparse
import io
import os
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import redirect_stdout
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path
from typing import TextIO

from tests.benchmarks import commands, growth, results, sampling

PAGE = Path(__file__).with_name("RESULTS.md")

PACKS = (1_000, 20_000)
AGAINST_DEFLATING = {
    "rough-bank-fast": 10_000,
    "rough-bank-fast.friction": 5_000,
    "over-the-top.pull-at-the-top": 5_000,
}


def seconds(action: Callable[[], object], repeats: int = 3) -> float:
    """The shortest of a few runs."""
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        action()
        times.append(time.perf_counter() - start)
    return min(times)


def start_up() -> None:
    """``turnwright --help`` against an empty Python."""
    command = Path(sys.executable).with_name("turnwright")
    bare = seconds(lambda: subprocess.run([sys.executable, "-c", "pass"], check=True), 15)
    told = seconds(lambda: subprocess.run([command, "--help"], check=True, stdout=subprocess.DEVNULL), 15)
    against = f"{told / bare:.1f} times a bare python -c pass ({bare * 1000:.0f} ms)"
    print(f"turnwright --help: {told * 1000:.0f} ms, {against}")


def solving(folder: Path) -> None:
    """The whole shipped bank from cold, and again with the cache."""
    script = (
        "import time; s = time.perf_counter();"
        "from turnwright.bank.reading.files import read_bank;"
        "from turnwright.bank.solving.cache import solved_question;"
        "n = [solved_question(p, q) for p in read_bank() for q in p.questions]; print(len(n), time.perf_counter() - s)"
    )
    environment = {**os.environ, "TURNWRIGHT_CACHE": str(folder / "cache")}
    cold, warm = (
        subprocess.run([sys.executable, "-c", script], check=True, capture_output=True, text=True, env=environment)
        for _ in range(2)
    )
    number, took = cold.stdout.split()
    again = float(warm.stdout.split()[1])
    print(
        f"solving the shipped bank ({number} questions) from cold, imports included: {float(took):.1f} s on one core; "
        f"again with the cache {again:.1f} s, {again / float(took):.2f} of it"
    )


def against_solve_and_subs(count: int = 1_000, tried: int = 20) -> None:
    """Variants of one question against SymPy's solve and subs for each variant, as a script would do it."""
    import sympy
    from turnwright.bank.questions.selection import find_question
    from turnwright.bank.reading.files import read_bank
    from turnwright.bank.solving.solution import solve_question
    from turnwright.bank.variants.variant import VariantPool

    problem, question = find_question(read_bank(), "over-the-top.pull-at-the-top")
    solved = solve_question(problem, question)
    force, m, g, v, r = sympy.symbols("N m g v r")
    drawn = VariantPool(solved, Decimal("9.8")).draw(count, 1)

    def by_script() -> None:
        for place in range(tried):
            given = drawn[place].given
            closed = sympy.solve(sympy.Eq(force + m * g, m * v**2 / r), force)[0]
            float(closed.subs({m: given["m"].si, g: given["g"].si, v: given["v"].si, r: given["r"].si}))

    slow = seconds(by_script) / tried
    draw = seconds(lambda: VariantPool(solved, Decimal("9.8")).draw(count, 1)) / count
    whole = seconds(lambda: list(VariantPool(solved, Decimal("9.8")).draw(count, 1))) / count
    print(
        f"{count} variants of one question: drawn and judged {slow / draw:,.0f} times faster than solve and subs "
        f"for each ({draw * 1e6:.1f} against {slow * 1e6:,.0f} microseconds); "
        f"{slow / whole:,.0f} times with printed quantities and tolerance"
    )


def mistakes() -> None:
    """Solving all mistakes of the shipped bank against solving its keys, both from cold."""
    from turnwright.bank.reading.files import read_bank
    from turnwright.bank.reading.mistakes import shipped_mistakes
    from turnwright.bank.solving.solution import solve_question
    from turnwright.bank.thinking.mistaken_forms import mistaken_forms

    questions = [(problem, question) for problem in read_bank() for question in problem.questions]
    start = time.perf_counter()
    solved = [solve_question(*each) for each in questions]
    keys = time.perf_counter() - start
    live = sum(len(mistaken_forms(each, shipped_mistakes())[0]) for each in solved)
    added = time.perf_counter() - start - keys
    print(f"{live} live mistakes in {len(questions)} questions: {added / keys:.1f} times the {keys:.1f} s of the keys")


def choices(count: int = 10_000) -> None:
    """Choice variants of one question with their options, against drawing the same number variants."""
    from turnwright.bank.questions.choice import ChoicePool
    from turnwright.bank.questions.selection import find_question
    from turnwright.bank.reading.files import read_bank
    from turnwright.bank.reading.mistakes import shipped_mistakes
    from turnwright.bank.solving.solution import solve_question
    from turnwright.bank.thinking.distractors import diagnosis
    from turnwright.bank.variants.variant import VariantPool

    solved = solve_question(*find_question(read_bank(), "rough-bank-fast.normal-force"))
    known = diagnosis(solved, shipped_mistakes())
    pool = VariantPool(solved, Decimal("9.8"))
    numbers = seconds(lambda: list(pool.draw(count, 1)), 1)
    whole = seconds(lambda: list(ChoicePool(known, pool).draw(count, 1)), 1)
    against = f"{whole / numbers:.1f} times number variants"
    print(f"{count} choice variants of one question: {whole / count * 1e6:.0f} microseconds each, {against}")


def packing(folder: Path) -> None:
    """A pack against deflating its bytes, and time and peak memory by its size, each in a process of its own."""
    deflated = [("deflate", items, name) for name, items in AGAINST_DEFLATING.items()]
    for what, items, name in (*deflated, *(("pack", items, "rough-bank-fast") for items in PACKS)):
        done = subprocess.run(
            [sys.executable, "-m", "tests.benchmarks", what, str(items), str(folder / "pack.zip"), name],
            check=True,
            capture_output=True,
            text=True,
        )
        print(done.stdout.strip())


def pack(items: int, target: Path, name: str = "rough-bank-fast") -> None:
    """Write and prove a pack of about ``items`` items of a problem or question, and print time and peak memory."""
    from contextlib import nullcontext

    from turnwright.bank.questions.item_model import Settings
    from turnwright.bank.questions.selection import find_questions
    from turnwright.bank.reading.files import read_bank
    from turnwright.exporters.running.packing import write_pack

    names = [name]
    bank = read_bank()
    questions = find_questions(bank, names)
    start = time.perf_counter()
    settings = Settings(title="Benchmark", variants=-(-items // len(questions)), kinds=("number",))
    write_pack(bank, names, target, settings, lambda what, total: nullcontext(lambda steps: None))
    took = time.perf_counter() - start
    peak, other = (
        resource.getrusage(each).ru_maxrss / 1024 for each in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)
    )
    print(
        f"pack of {items:,} items, solving and proof included: {took / items * 1000:.2f} ms an item; peak memory "
        f"{peak:.0f} MB, {other:.0f} MB in the largest of its workers, what they share with it included"
    )


def against_deflating(items: int, target: Path, name: str = "rough-bank-fast") -> None:
    """Write the QTI 3.0 pack of items of a problem or question, then write and prove it, against deflating its bytes.

    All in one run; ``zipfile`` deflates at its own default level, which is that of a pack.
    """
    from turnwright.bank.questions.item_model import Settings
    from turnwright.bank.questions.selection import find_questions, pack
    from turnwright.bank.reading.files import read_bank
    from turnwright.bank.reading.mistakes import shipped_mistakes
    from turnwright.bank.solving.cache import solved_question
    from turnwright.exporters.adapting.adaptation import as_is
    from turnwright.exporters.packages.delivery import PLAIN
    from turnwright.exporters.qti import qti30
    from turnwright.exporters.running.packing import ProofOnTheWay
    from turnwright.exporters.workers.processes import cores

    solved = [solved_question(*each) for each in find_questions(read_bank(), [name])]
    settings = Settings(variants=items // len(solved), kinds=("number",))
    adapted = as_is(pack(solved, shipped_mistakes(), settings), PLAIN)
    load = os.getloadavg()
    written = spent(lambda: qti30.write(adapted, target, lambda _: None))
    proof = ProofOnTheWay(adapted, lambda _: None)
    seen = replace(adapted, witness=proof)
    proved = spent(lambda: qti30.write(seen, target, lambda path: proof.report(path).raise_if_failed()))
    plain = deflating(target)
    each = [f"{part.cpu / items * 1000:.2f}" for part in (plain, written, proved)]
    what = f"{len(solved)} questions" if len(solved) > 1 else f"one question, {name}"
    print(
        f"QTI 3.0 pack of {len(adapted.pack):,} items of {what}, against deflating the same bytes with zipfile on one "
        f"core: written in {written.wall / plain.wall:.1f} times that, written and proved in "
        f"{proved.wall / plain.wall:.1f} times, with {cores()} workers; of all processors, "
        f"{written.cpu / plain.cpu:.1f} and {proved.cpu / plain.cpu:.1f} times: {each[0]} ms an item to "
        f"deflate, {each[1]} to write, {each[2]} to write and prove; load when it began: {load[0]:.1f}"
    )


def deflating(pack: Path) -> Spent:
    """What it takes to deflate all that a pack holds."""
    import zipfile

    with zipfile.ZipFile(pack) as archive:
        members = [(name, archive.read(name)) for name in archive.namelist()]

    def deflate() -> None:
        with zipfile.ZipFile(pack.with_suffix(".plain"), "w", zipfile.ZIP_DEFLATED) as archive:
            for name, content in members:
                archive.writestr(name, content)

    return spent(deflate)


@dataclass(frozen=True)
class Spent:
    """Seconds on the clock, and of the processors."""

    wall: float
    cpu: float


def spent(action: Callable[[], object]) -> Spent:
    """What one run takes, of this process and of those that it waits for."""
    cpu, wall = cpu_seconds(), seconds(action, 1)
    return Spent(wall, cpu_seconds() - cpu)


def cpu_seconds() -> float:
    """The processor time so far of this process, and of those that it has waited for."""
    used = (resource.getrusage(each) for each in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return sum(each.ru_utime + each.ru_stime for each in used)


def by_script(folder: Path, items: int = 200) -> None:
    """The way of a teacher with a script: solve, subs and str.format for each variant, zipped; and the same items here.

    The script's items are one stem and one key: no tolerance, feedback, figure, solution or proof.
    """
    import zipfile

    import sympy
    from turnwright.bank.questions.selection import find_question
    from turnwright.bank.reading.files import read_bank
    from turnwright.bank.solving.solution import solve_question
    from turnwright.bank.variants.variant import VariantPool

    drawn = VariantPool(solve_question(*find_question(read_bank(), "over-the-top.pull-at-the-top")), Decimal("9.8"))
    force, m, g, v, r = sympy.symbols("N m g v r")
    text = "<item><stem>A load of {m} runs over the top at {v}, r is {r}. N?</stem><key>{key:.3g}</key></item>"

    def script() -> None:
        with zipfile.ZipFile(folder / "script.zip", "w", zipfile.ZIP_DEFLATED) as archive:
            for number, variant in enumerate(drawn.draw(items, 1)):
                given = variant.given
                closed = sympy.solve(sympy.Eq(force + m * g, m * v**2 / r), force)[0]
                key = closed.subs({m: given["m"].si, g: given["g"].si, v: given["v"].si, r: given["r"].si})
                shown = {name: given[name].text for name in ("m", "v", "r")}
                archive.writestr(f"{number}.xml", text.format(key=float(key), **shown))

    slow = spent(script)
    with redirect_stdout(io.StringIO()):
        ours = spent(lambda: pack(10_000, folder / "pack.zip"))
    print(
        f"a script with solve, subs and str.format: {slow.cpu / items * 1000:.2f} ms of a processor for an item of "
        "a stem and a key; Turnwright's items with feedback, figure and solution, written and proved, solving "
        f"included: {ours.cpu / 10_000 * 1000:.2f} ms, {slow.cpu / items / (ours.cpu / 10_000):.1f} times less"
    )


def sections(folder: Path, million: bool) -> dict[str, Callable[[], None]]:
    """All measurements, by name."""

    def solved() -> None:
        solving(folder)
        against_solve_and_subs()
        mistakes()
        choices()

    def analysed() -> None:
        results.reports(folder)
        results.analysis(folder)

    return {
        "start": start_up,
        "commands": lambda: commands.commands(folder),
        "solving": solved,
        "script": lambda: by_script(folder),
        "packing": lambda: packing(folder),
        "profile": lambda: sampling.profile(folder),
        "growth": lambda: growth.growth(folder, million=million),
        "results": analysed,
    }


def write_page(name: str, told: str) -> None:
    """Leaves the figures of a section on the page of results, with the day they were taken."""
    head, tail = f"<!-- figures: {name}, ", "<!-- end -->"
    text = PAGE.read_text("utf-8")
    start = text.index(head)
    stop = text.index(tail, start)
    today = time.strftime("%Y-%m-%d")
    PAGE.write_text(f"{text[:start]}{head}{today} -->\n```\n{told.strip()}\n```\n{text[stop:]}", "utf-8")


def main() -> None:
    """All measurements, or those that are named; one of a pack in a process of its own."""
    if sys.argv[1:2] in (["pack"], ["deflate"]):
        {"pack": pack, "deflate": against_deflating}[sys.argv[1]](int(sys.argv[2]), Path(sys.argv[3]), *sys.argv[4:])
        return
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks", description=__doc__)
    parser.add_argument("sections", nargs="*", metavar="SECTION", help=", ".join(sections(Path(), False)))
    parser.add_argument(
        "--million", action="store_true", help="let pools grow up to a million items (half an hour, 5 GB)"
    )
    parser.add_argument("--write", action="store_true", help="leave the figures in RESULTS.md")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        for name, measure in sections(Path(folder), asked.million).items():
            if not asked.sections or name in asked.sections:
                with redirect_stdout(_Kept(sys.stdout)) as told:
                    measure()
                if asked.write:
                    write_page(name, told.getvalue())


class _Kept(io.StringIO):
    """Keeps what is printed, and passes it on at once."""

    def __init__(self, beyond: TextIO) -> None:
        super().__init__()
        self._beyond = beyond

    def write(self, text: str) -> int:
        self._beyond.write(text)
        self._beyond.flush()
        return super().write(text)


if __name__ == "__main__":
    main()
