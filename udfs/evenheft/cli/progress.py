"""A line on the terminal while a command takes longer than a second; nothing where nobody looks at one."""

from __future__ import annotations

import contextlib
import sys
import threading
from collections.abc import Iterator
from typing import TYPE_CHECKING, TextIO

if TYPE_CHECKING:
    from rich.progress import Progress

_PATIENCE = 1.0
"""After which a waiting person is told that something is being done [s]."""


@contextlib.contextmanager
def say_while_working(what: str) -> Iterator[None]:
    """Tell on stderr, if that is a terminal, that work goes on and for how long; the line is gone when it ends.

    Args:
        what: what is being done, e.g. "adopt" [-].
    """
    if not sys.stderr.isatty():
        yield
        return
    line = _Line(what)
    stdout = sys.stdout
    sys.stdout = _Printing(stdout, line)  # it forwards all that a stream has
    try:
        line.wait()
        yield
    finally:
        line.stop()
        sys.stdout = stdout


class _Line:
    """Appears after a while, and makes way for what is printed."""

    def __init__(self, what: str) -> None:
        self._what = what
        self._timer: threading.Timer | None = None
        self._progress: Progress | None = None
        self._lock = threading.Lock()

    def wait(self) -> None:
        """Begin to wait."""
        self._timer = threading.Timer(_PATIENCE, self._appear)
        self._timer.daemon = True
        self._timer.start()

    def stop(self) -> None:
        """Take the line away, and wait no more."""
        with self._lock:
            if self._timer is not None:
                self._timer.cancel()
                self._timer = None
            if self._progress is not None:
                self._progress.stop()
                self._progress = None

    def _appear(self) -> None:
        from rich.console import Console
        from rich.progress import Progress, SpinnerColumn, TextColumn, TimeElapsedColumn

        with self._lock:
            if self._timer is None:
                return  # it was stopped just now
            columns = SpinnerColumn(), TextColumn("{task.description}"), TimeElapsedColumn()
            self._progress = Progress(
                *columns, console=Console(stderr=True), transient=True, redirect_stdout=False, redirect_stderr=False
            )
            self._progress.add_task(f"{self._what}: still at work", total=None)
            self._progress.start()


class _Printing:
    """The output, which takes the line away before it prints."""

    def __init__(self, stream: TextIO, line: _Line) -> None:
        self._stream = stream
        self._line = line

    def write(self, text: str) -> int:
        """Print, once the line is gone."""
        self._line.stop()
        return self._stream.write(text)

    def __getattr__(self, name: str) -> object:
        return getattr(self._stream, name)
