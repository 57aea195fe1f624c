"""Work that may never end, given a limit of time: stopped when it is over, or when somebody presses Ctrl-C."""

from __future__ import annotations

import atexit
import threading
import time
from collections.abc import Callable
from typing import TypeVar

_Answer = TypeVar("_Answer")

_LOOK = 0.2
"""How often the waiting side looks up: on Windows a wait without end cannot be interrupted [s]."""
_GRACE = 1.0
"""How long work that was told to stop may take to do so before it is left behind [s]."""
_STARVED = 10
"""How many times the limit may pass on the clock, where a busy machine gives the work little of its time [-]."""


class TooLongError(Exception):
    """The limit of time was over before the work was done."""


def within(seconds: float, work: Callable[[], _Answer], *, stop: Callable[[], None]) -> _Answer:
    """Do work in a thread of its own and wait for it, but not for ever.

    The limit is on the time that this process computes: a machine that is slow because it does something else is no
    reason to refuse a sound workbook. What does not stop when it is told to is left behind: its thread ends with the
    process.

    Args:
        seconds: the limit [s].
        work: what is to be done; what it raises is raised here [-].
        stop: asks the work to end early; called from another thread than the work's [-].

    Raises:
        TooLongError: the limit is over.
        KeyboardInterrupt: somebody pressed Ctrl-C; the work was asked to stop.
    """
    answers: list[_Answer] = []
    errors: list[BaseException] = []
    done = threading.Event()

    def run() -> None:
        try:
            answers.append(work())
        except BaseException as error:  # an engine in another language can panic; the waiting side tells it
            errors.append(error)
        finally:
            done.set()

    thread = threading.Thread(target=run, daemon=True)
    thread.start()
    computed, begun = time.process_time(), time.monotonic()
    try:
        while not done.wait(_LOOK):
            if time.process_time() - computed > seconds or time.monotonic() - begun > _STARVED * seconds:
                raise TooLongError
    except BaseException:
        stop()
        if not done.wait(_GRACE):
            atexit.register(thread.join, _GRACE)  # a call into Python that outlives Python would abort the process
        raise
    if errors:
        raise errors[0]
    return answers[0]
