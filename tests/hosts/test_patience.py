"""Work under a limit of time: answered, told, or left behind, and never waited for without end."""

from __future__ import annotations

import subprocess
import sys
import threading

import pytest

from evenheft.hosts import patience
from evenheft.hosts.patience import TooLongError, TooMuchError, within


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


def test_work_that_does_not_look_up_is_interrupted() -> None:
    ended = threading.Event()

    def work() -> None:
        patience.interruptible.add(threading.get_ident())
        try:
            while True:
                sum(range(1000))
        finally:
            ended.set()
            patience.interruptible.discard(threading.get_ident())

    with pytest.raises(TooLongError):
        within(0.3, work, stop=lambda: None)
    assert ended.wait(60)


def test_work_that_takes_too_much_memory_is_stopped(monkeypatch: pytest.MonkeyPatch) -> None:
    stopped = threading.Event()
    grown = iter([0, patience.MOST_MEMORY + 1])
    monkeypatch.setattr(patience, "_memory", lambda: next(grown))
    with pytest.raises(TooMuchError):
        within(60, lambda: stopped.wait(60), stop=stopped.set)
    assert stopped.is_set()


def test_a_process_is_not_aborted_by_what_it_has_left_behind() -> None:
    """A formula over a million cells is inside Python when its time is over, and a command ends then."""
    words = ["-m", "evenheft", "eval", "=HEFT_POINTS(SEQUENCE(1000,1000),75.3)"]
    done = subprocess.run([sys.executable, *words], capture_output=True, text=True, check=False)
    line = "! the formula =HEFT_POINTS(SEQUENCE(1000,1000),75.3) takes longer than 0.5 s to compute: it was stopped\n"
    assert (done.returncode, done.stdout, done.stderr) == (2, "", line)


def test_an_engine_that_never_stops_ends_with_its_command() -> None:
    script = """
import time
from evenheft.hosts import patience
try:
    patience.within(0.01, lambda: time.sleep(600), stop=int)
except patience.TooLongError:
    print("told")
    patience.end_process(2)
"""
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout, done.stderr) == (2, "told\n", "")


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
