"""Work under a limit of time: answered, told, or left behind, and never waited for without end."""

from __future__ import annotations

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


def test_a_busy_machine_costs_nobody_an_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    """Only the process's own work counts: here the clock on the wall has run ahead, as where others had the machine."""
    wall = iter(range(0, 10**9, 7))
    monkeypatch.setattr("evenheft.hosts.patience.time.monotonic", lambda: next(wall))
    slow = threading.Event()
    assert within(60, lambda: slow.wait(1.0) or "done", stop=lambda: None) == "done"


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
