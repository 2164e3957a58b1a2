"""What the kernel grants a process for a while: so much memory more, and so much processor time, also inside C.

A timer that Python handles is heard between two steps of Python only, and nobody hears it inside one long call into C.
The kernel needs no hearing: memory beyond the limit is refused (a MemoryError), and a process beyond its time is ended
by a signal that nobody handles. Where the system has no such limits (Windows) nothing is granted, and nothing refused.
"""

from __future__ import annotations

import signal
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

PATIENCE = 3.0  # times the time of the timer, which comes first wherever Python hears it
GRACE = 2.0  # seconds on top: an error that somebody has swallowed is raised again before


@contextmanager
def bounded(seconds: float, megabytes: int) -> Iterator[None]:
    """In the block this process gets ``megabytes`` more, and is ended where the timer of ``seconds`` is not heard."""
    try:
        import resource
    except ImportError:
        yield
        return
    wanted = {
        resource.RLIMIT_AS: _addresses() + megabytes * 1_000_000,
        resource.RLIMIT_CORE: 0,  # who is ended leaves no image of its memory behind
    }
    before = {each: resource.getrlimit(each) for each in wanted}
    try:
        for each, limit in wanted.items():
            soft, hard = before[each]
            if limit >= 0 and all(other == resource.RLIM_INFINITY or limit < other for other in (soft, hard)):
                _set(each, (limit, hard))
        # A limit (RLIMIT_CPU) is held against another clock than a process reads, whole seconds off in an old process.
        signal.setitimer(signal.ITIMER_VIRTUAL, PATIENCE * seconds + GRACE)
        yield
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        for each, both in before.items():
            _set(each, both)


def bound_memory(megabytes: int) -> None:
    """Leave this process the room for addresses that it has now, and so much more, for good."""
    import resource

    begun = _addresses()
    limit = begun + megabytes * 1_000_000
    hard = resource.getrlimit(resource.RLIMIT_AS)[1]
    if begun > 0 and (hard == resource.RLIM_INFINITY or limit < hard):
        resource.setrlimit(resource.RLIMIT_AS, (limit, hard))


def _addresses() -> int:
    """The bytes of addresses that this process has now; far below zero where nobody tells, so that no limit is set."""
    import resource

    with suppress(OSError), Path("/proc/self/statm").open(encoding="ascii") as file:
        return int(file.read().split()[0]) * resource.getpagesize()
    return -(2**62)


def _set(what: int, limits: tuple[int, int]) -> None:
    import resource

    with suppress(OSError, ValueError):  # a system may know a limit and set none
        resource.setrlimit(what, limits)
