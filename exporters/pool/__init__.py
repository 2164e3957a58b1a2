"""A pool of items, written as several packs with one index: a plan, the packs one after the other, what is finished."""

from turnwright.exporters.pool.index import INDEX
from turnwright.exporters.pool.plan import Plan, plan
from turnwright.exporters.pool.writing import Pool, write_pool

__all__ = ["INDEX", "Plan", "Pool", "plan", "write_pool"]
