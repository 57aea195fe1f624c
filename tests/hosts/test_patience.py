"""Work under a limit of time: answered, told, or left behind, and never waited for without end."""

from __future__ import annotations

import subprocess
import sys
import threading

import pytest

from evenheft.hosts.patience import TooLongError, within


def test_an_answer_in_time_comes_back() -> None:
    assert within(60, lambda: 431.0, stop=lambda: None) == 431.0


def test_what_the_work_raises_is_raised_even_where_it_is_no_exception() -> None:
    class PanicError(BaseException):
        """As an engine in another language raises it."""

    def work() -> None:
        raise PanicError

    with pytest.raises(PanicError):
        within(60, work, stop=lambda: None)


def test_work_that_takes_longer_is_asked_to_stop() -> None:
    stopped = threading.Event()
    with pytest.raises(TooLongError):
        within(0.01, lambda: stopped.wait(60), stop=stopped.set)
    assert stopped.is_set()


def test_work_that_works_is_stopped_by_what_it_has_worked() -> None:
    stopped = threading.Event()

    def work() -> None:
        while not stopped.is_set():
            sum(range(1000))

    with pytest.raises(TooLongError):
        within(0.3, work, stop=stopped.set)


def test_work_that_does_not_stop_is_left_behind() -> None:
    end = threading.Event()
    with pytest.raises(TooLongError):
        within(0.01, lambda: end.wait(60), stop=lambda: None)
    end.set()


def test_time_in_which_the_machine_does_something_else_does_not_count() -> None:
    # In a process of its own: work that other tests left behind would count.
    script = """
import time
from evenheft.hosts import patience
patience._STARVED = 1e6
print(patience.within(0.5, lambda: time.sleep(1) or 431, stop=lambda: None))
"""
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=False)
    assert (done.stdout, done.stderr) == ("431\n", "")
