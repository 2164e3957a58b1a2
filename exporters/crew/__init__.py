"""Who does the work of a pack: this process, a pool of processes on all cores, or a cluster; each gives the same bytes.

Work is split into tasks. ``in_order`` gives them to the hands of a crew, each an executor of ``concurrent.futures``,
keeps no more than a few ahead, and yields their results in the order of the tasks.
"""

from turnwright.exporters.crew.hands import ALONE, Crew, Hands, Portable, Preparation
from turnwright.exporters.crew.order import in_order
from turnwright.exporters.crew.processes import Processes, local

__all__ = ["ALONE", "Crew", "Hands", "Portable", "Preparation", "Processes", "in_order", "local"]
