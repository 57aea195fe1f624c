"""Work that may never end, given a limit of time: stopped when it is over, or when somebody presses Ctrl-C."""

from __future__ import annotations

import atexit
import ctypes
import os
import sys
import threading
import time
from collections.abc import Callable
from typing import TypeVar

_Answer = TypeVar("_Answer")

_LOOK = 0.2
"""How often the waiting side looks up: on Windows a wait without end cannot be interrupted [s]."""
_LOOKS = 10
"""How often it looks up at least before the time is over [-]."""
_GRACE = 1.0
"""How long work that was told to stop may take to do so before it is left behind, at most [s]."""
MOST_MEMORY = 3 << 30
"""By how much work may let the process grow [bytes]."""
_STARVED = 10
"""How many times the limit may pass on the clock, where a busy machine gives the work little of its time [-]."""


class TooLongError(Exception):
    """The limit of time was over before the work was done."""


class TooMuchError(Exception):
    """The work takes more memory than is fair."""


class _Stopped(BaseException):
    """Raised inside of work that nobody waits for; no handler of errors is to take it."""


interruptible: set[int] = set()
"""Threads that are busy with Python of ours, which may be ended anywhere, by their idents."""
_left_behind: list[threading.Thread] = []
"""Work that did not stop when it was told to."""


def end_process(code: int) -> None:
    """End the process at once where work was left behind: it would call into a Python that is no more, and abort it.

    Args:
        code: the exit code [-].
    """
    if any(thread.is_alive() for thread in _left_behind):
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(code)


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
        TooMuchError: it takes too much memory.
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
    computed, begun, held = time.process_time(), time.monotonic(), _memory()
    try:
        while not done.wait(min(_LOOK, seconds / _LOOKS)):
            if time.process_time() - computed > seconds or time.monotonic() - begun > _STARVED * seconds:
                raise TooLongError
            if _memory() - held > MOST_MEMORY:
                raise TooMuchError
    except BaseException:
        stop()
        _interrupt(thread)
        if not done.wait(min(_GRACE, seconds)):
            _left_behind.append(thread)
            atexit.register(thread.join, _GRACE)
        raise
    if errors:
        raise errors[0]
    return answers[0]


def _memory() -> int:
    """Tell the most that this process has held so far, 0 where the system does not say [bytes]."""
    try:
        import resource
    except ImportError:  # Windows
        return 0
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return peak if sys.platform == "darwin" else peak * 1024


def _interrupt(thread: threading.Thread) -> None:
    """Raise an error in another thread that is inside a formula of ours, where an engine cannot stop it."""
    if thread.ident in interruptible:
        ctypes.pythonapi.PyThreadState_SetAsyncExc(ctypes.c_ulong(thread.ident), ctypes.py_object(_Stopped))
