"""Analysis of a large sitting against what pandas takes to read the same CSV; memory of many results reports."""

from __future__ import annotations

import resource
import subprocess
import sys
import time
import zipfile
from pathlib import Path
from typing import Any

CANDIDATES, QUESTIONS, VARIANTS = 50_000, 40, 5


def manifest() -> dict[str, Any]:
    """A form of 40 choice questions, each in five variants."""
    options = [{"name": "A", "right": True}, *({"name": each, "mistakes": [f"slip-{each}"]} for each in "BC")]
    items = [
        {
            "item": f"p_q{question:02}_v{variant}", "question": f"lantern.pull-{question}", "version": 1,
            "kind": "choice", "variant": variant, "marks": 1, "fingerprint": "", "options": options,
        }
        for question in range(QUESTIONS)
        for variant in range(1, VARIANTS + 1)
    ]  # fmt: skip
    return {"assessment": "a", "title": "Fair", "bank": {"version": ""}, "forms": [{"form": "A", "items": items}]}


def write_table(path: Path) -> None:
    """The answers of all candidates as a CSV."""
    import numpy as np

    dice = np.random.default_rng(1)
    shape = CANDIDATES, QUESTIONS
    edge = dice.normal(size=(CANDIDATES, 1)) - np.linspace(-2, 2, QUESTIONS)
    right = dice.random(shape) < 1 / (1 + np.exp(-edge))
    given = np.where(right, "A", dice.choice(["B", "C", ""], shape))
    met = dice.integers(1, VARIANTS + 1, shape)
    with path.open("w", encoding="utf-8") as file:
        file.write("candidate,item,response,score\n")
        for candidate in range(CANDIDATES):
            row = zip(met[candidate], given[candidate], right[candidate], strict=True)
            file.writelines(f"{candidate},p_q{place:02}_v{v},{a},{s:d}\n" for place, (v, a, s) in enumerate(row))


def analysis(folder: Path) -> None:
    """Reading and analysing 50,000 x 40 answers against pandas reading the file."""
    import pandas as pd
    from turnwright.bank.analysis import analyse, assessment
    from turnwright.exporters.results import Pseudonyms, read_results

    path = folder / "large.csv"
    write_table(path)
    known = assessment(manifest())
    bare, whole = [], []
    for _ in range(3):
        start = time.perf_counter()
        pd.read_csv(path)
        bare.append(time.perf_counter() - start)
        start = time.perf_counter()
        analyse(read_results([path], Pseudonyms()), known)
        whole.append(time.perf_counter() - start)
    ratio = min(whole) / min(bare)
    print(
        f"results of {CANDIDATES:,} x {QUESTIONS}: read and analysed in {min(whole):.1f} s, {ratio:.1f} times what "
        f"pandas takes to read the CSV ({min(bare):.2f} s)"
    )


def reports(folder: Path) -> None:
    """Peak memory over the number of results reports, each number in a process of its own."""
    for count in (500, 5_000):
        path = folder / f"reports-{count}.zip"
        item = (
            '<itemResult identifier="p_q{0:02}_v1" datestamp="2026-03-04T10:00:00" sessionStatus="final">'
            '<responseVariable identifier="RESPONSE" cardinality="single" baseType="identifier">'
            "<candidateResponse><value>A</value></candidateResponse></responseVariable>"
            '<outcomeVariable identifier="SCORE" cardinality="single" baseType="float"><value>1</value>'
            "</outcomeVariable></itemResult>"
        )
        items = "".join(item.format(place) for place in range(QUESTIONS))
        with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as file:
            for number in range(count):
                file.writestr(
                    f"{number}.xml",
                    '<assessmentResult xmlns="http://www.imsglobal.org/xsd/imsqti_result_v3p0">'
                    f'<context sourcedId="c{number}"/>{items}</assessmentResult>',
                )
        command = [sys.executable, "-m", "tests.benchmarks.results", str(path)]
        print(subprocess.run(command, check=True, capture_output=True, text=True).stdout.strip())


def read(path: Path) -> None:
    """Reads reports, and prints time and peak memory."""
    from turnwright.exporters.results import Pseudonyms, read_results

    start = time.perf_counter()
    rows = read_results([path], Pseudonyms())
    took = time.perf_counter() - start
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"results reports, {len(rows.table):,} answers: {took:.1f} s, peak memory {peak:.0f} MB")


if __name__ == "__main__":
    read(Path(sys.argv[1]))
