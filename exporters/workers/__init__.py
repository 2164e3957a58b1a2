"""Who does the work of a pack: this process, a pool of processes on all cores, or a cluster; each gives the same bytes.

Work is split into tasks. ``in_order`` gives them to workers through an executor, keeps no more than a few ahead, and
yields their results in the order of the tasks.
"""

from __future__ import annotations

from .processes import Processes, cores, local
from .tasks import ALONE, Portable, Preparation, Progress, TaskExecutor, Workers, in_order

__all__ = [
    "ALONE",
    "Portable",
    "Preparation",
    "Processes",
    "Progress",
    "TaskExecutor",
    "Workers",
    "cores",
    "in_order",
    "local",
]
