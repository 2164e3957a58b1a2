"""Who does the work of a pack: this process, a pool of processes on all cores, or a cluster; each gives the same bytes.

Work is split into tasks. ``in_order`` gives them to the hands of a crew, each an executor of ``concurrent.futures``,
keeps no more than a few ahead, and yields their results in the order of the tasks.
"""

from __future__ import annotations

from .processes import Processes, local
from .workers import ALONE, Crew, Hands, Portable, Preparation, in_order

__all__ = ["ALONE", "Crew", "Hands", "Portable", "Preparation", "Processes", "in_order", "local"]
