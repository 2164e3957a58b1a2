"""A program that is told to end leaves like one that is interrupted: workers ended, temporary files gone."""

from __future__ import annotations

import signal
from types import FrameType
from typing import NoReturn

_SIGNALS = [each for name in ("SIGTERM", "SIGHUP") if (each := getattr(signal, name, None))]


class Stopped(BaseException):
    """The program was told to end, by a signal of this number; nothing catches it on the way out."""

    def __init__(self, number: int) -> None:
        self.number = number
        super().__init__(number)

    @property
    def exit_status(self) -> int:
        """As the shell has it for a program that a signal ended."""
        return 128 + self.number


def stop_on_signals() -> None:
    """From now on SIGTERM, and SIGHUP unless it is ignored (as under nohup), raise Stopped in the main thread."""
    for each in _SIGNALS:
        if signal.getsignal(each) is signal.SIG_DFL:
            signal.signal(each, _stop)


def _stop(number: int, _: FrameType | None) -> NoReturn:
    for each in _SIGNALS:
        signal.signal(each, signal.SIG_IGN)  # told again, it is still clearing up
    raise Stopped(number)
