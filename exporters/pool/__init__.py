"""A pool of items, written as several packs with one index: a plan, the packs one after the other, what is finished."""

from __future__ import annotations

from .index import INDEX
from .plan import Plan, plan
from .writing import Pool, write_pool

__all__ = ["INDEX", "Plan", "Pool", "plan", "write_pool"]
