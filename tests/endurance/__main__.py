"""Runs the trials and prints what each measured: ``python -m tests.endurance [--long] [TRIAL...]``.

A trial is a module here with ``run(is_long)``, which yields one line for each figure and raises where something was
lost, let in or different. The exit status is 1 then.
"""

from __future__ import annotations

import argparse
import importlib
import sys
import time
import traceback

TRIALS: tuple[str, ...] = (
    "hostile",
    "fuzzing",
    "cluster",
    "kills",
    "pools",
    "disk",
    "together",
    "damaged",
    "same",
    "pythons",
)


def main() -> int:
    """How many trials failed, after all have run."""
    parser = argparse.ArgumentParser(prog="python -m tests.endurance", description=__doc__)
    parser.add_argument("trials", nargs="*", choices=[*TRIALS, []], metavar="TRIAL", help=", ".join(TRIALS))
    parser.add_argument("--long", action="store_true", help="the long form, for a closing note; CI runs the short one")
    asked = parser.parse_args()
    return sum(not _passed(name, asked.long) for name in asked.trials or TRIALS)


def _passed(name: str, is_long: bool) -> bool:
    start = time.perf_counter()
    try:
        for line in importlib.import_module(f"tests.endurance.{name}").run(is_long):
            print(f"{name}: {line}", flush=True)
    except Exception:
        traceback.print_exc()
        return False
    finally:
        print(f"{name}: {time.perf_counter() - start:.0f} s", flush=True)
    return True


if __name__ == "__main__":
    sys.exit(min(main(), 1))
