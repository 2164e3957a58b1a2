"""Who does the work of a pack: this process, a pool of processes on all cores, or a cluster; each gives the same bytes.

Work is split into tasks. ``in_order`` gives them to workers through an executor, keeps no more than a few ahead, and
yields their results in the order of the tasks. A task may say what it is ``alike``: a process that has done such tasks
takes it before others, since it has learnt what they have in common.
"""

from __future__ import annotations

from .processes import Processes, cores, local
from .tasks import ALONE, Portable, Preparation, Progress, TaskExecutor, Workers, in_order, seldom_tidied

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
    "seldom_tidied",
]
