"""Where the processor time of writing and of proving goes, by sampling one process."""

from __future__ import annotations

import signal
import sys
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import FrameType

EVERY = 0.004  # seconds of processor time, as fine as many kernels count it
TOP = 8


@contextmanager
def sampled() -> Iterator[Counter[str]]:
    """Counts samples of the block by the innermost module of ours that was at work."""
    counts: Counter[str] = Counter()

    def sample(_: int, frame: FrameType | None) -> None:
        while frame and not frame.f_globals.get("__name__", "").startswith("turnwright."):
            frame = frame.f_back
        if frame:
            counts[frame.f_globals["__name__"].removeprefix("turnwright.")] += 1

    before = signal.signal(signal.SIGPROF, sample)
    signal.setitimer(signal.ITIMER_PROF, EVERY, EVERY)
    try:
        yield counts
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)


def profile(folder: Path, items: int = 3_000) -> None:
    """The modules that take most in a pack of number items of two questions, written and proved by one process.

    First written alone, then both at once, and then proved once more, from the archive.
    """
    from dataclasses import replace

    from turnwright.bank.questions.item_model import Settings
    from turnwright.bank.reading.files import read_bank
    from turnwright.exporters.packages.delivery import PLAIN
    from turnwright.exporters.proof import prove
    from turnwright.exporters.qti import qti30
    from turnwright.exporters.running.packing import Making, ProofOnTheWay, Recipe, ToProve
    from turnwright.exporters.workers import ALONE

    names = ("over-the-top.pull-at-the-top", "rough-bank-fast.greatest-speed")
    recipe = Recipe(read_bank(), names, Settings(variants=items // len(names), kinds=("number",)))
    adapted = replace(Making(recipe, qti30.NAME, PLAIN).adapted(), chosen=ALONE)
    target = folder / "profile.zip"
    with sampled() as written:
        qti30.write(adapted, target, lambda _: None)
    proof = ProofOnTheWay(adapted, lambda _: None)
    with sampled() as both:
        qti30.write(replace(adapted, witness=proof), target, lambda path: proof.report(path).raise_if_failed())
    with sampled() as proved:
        prove(target, ToProve(adapted)).raise_if_failed()
    _tell("written", written, items)
    _tell("written and proved", both, items)
    _tell("proved from the archive", proved, items)


def _tell(what: str, counts: Counter[str], items: int) -> None:
    whole = counts.total()
    shares = ", ".join(f"{name} {count / whole:.0%}" for name, count in counts.most_common(TOP))
    print(f"profile of {items:,} number items {what} by one process, {whole:,} samples: {shares}")


if __name__ == "__main__":
    import tempfile

    with tempfile.TemporaryDirectory() as scratch:
        profile(Path(scratch), int(sys.argv[1]))
