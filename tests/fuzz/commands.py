"""A command run as a process of its own, under limits, and what no run may show: for all that is tried at random.

Each run is forked from a process that has loaded everything and computed nothing, so that thousands of them are cheap.
"""

from __future__ import annotations

import io
import os
import resource
import signal
import sys
import time
import traceback
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "udfs"))

from evenheft.cli import COMMANDS, main
from evenheft.ooxml.text import LONGEST_LINE

HANGS = 120.0
"""After which a run that waits for something is ended; waiting for its turn on a busy machine does not count [s]."""
ENDLESS = 60.0
"""After so much work of its own a run is ended [s]."""
MEMORY = 4 << 30
"""What a run may take [bytes]."""
Printing = Callable[[], "io.TextIOWrapper | None"]
REPORTED = 2
"""The exit code with which a command refuses, in one line."""


@dataclass(frozen=True)
class Ran:
    """What a run of a command has shown."""

    code: int
    """Its exit code; below 0 the signal that ended it."""
    out: str
    err: str
    seconds: float
    """Its own work, whatever else the machine did meanwhile [s]."""

    def wrong(self, most_seconds: float = 0.0) -> str:
        """Say what no run may show, or nothing.

        Args:
            most_seconds: the limit of its own work, none where 0 [s].
        """
        if self.code not in (0, 2, 3):
            return f"ends with {self.code}: {(self.err or self.out).strip()[-300:]}"
        for text in (self.out, self.err):
            if odd := {c for c in text if not c.isprintable() and c not in "\n\t"}:
                return f"prints {sorted(odd)!r}"
        refusals = [line for line in self.err.splitlines() if line.startswith("! ")]
        if self.code == REPORTED and "WRONG" not in self.out and len(refusals) != 1:
            return f"refuses in {len(refusals)} lines: {self.err.strip()[:300]}"
        if any(len(line) > LONGEST_LINE for line in self.err.splitlines()):
            return f"prints a line of {max(map(len, self.err.splitlines()))} characters"
        if most_seconds and self.seconds > most_seconds:
            return f"takes {self.seconds:.1f} s"
        return ""


def load() -> None:
    """Import what commands import when they are called, so that each run need not."""
    for name, (module, _) in COMMANDS.items():
        __import__(f"evenheft.cli.{module}", fromlist=[f"{name}_command"])
    import openpyxl  # noqa: F401
    import scipy.optimize  # noqa: F401

    import evenheft.hosts.embedded
    import evenheft.hosts.excel.building.book
    import evenheft.hosts.excel.building.links
    import evenheft.order.demo
    import evenheft.order.plain.copy
    import evenheft.order.supplier.received
    import evenheft.shop.book.keeping
    import evenheft.shop.removing
    import evenheft.shop.writing  # noqa: F401
    from evenheft.hosts import patience

    patience._STARVED = 1_000_000  # a run at the lowest priority beside others waits for its turn as long as it takes


def run(words: list[str], folder: Path, *, out: Printing | None = None) -> Ran:
    """Run a command in a folder; it is killed where it hangs.

    Args:
        words: what is typed after `evenheft` [-].
        folder: where it is typed [-].
        out: makes, in the command's own process, what it prints to; a file where left out or None [-].
    """
    written = _written_beside(folder)
    child = started(words, folder, out=out)
    waited = 0.0
    pause = 0.002
    while True:
        ended, status, used = os.wait4(child, os.WNOHANG)
        if ended:
            break
        if waited > HANGS or _worked(child) > ENDLESS:
            os.kill(child, signal.SIGKILL)
        time.sleep(pause)
        waited += 0 if _wants_to_work(child) else pause
        pause = min(pause * 1.5, 0.05)
    out, err = (path.read_text(encoding="utf-8", errors="surrogateescape") for path in written)
    for path in written:
        path.unlink()
    return Ran(os.waitstatus_to_exitcode(status), out, err, used.ru_utime + used.ru_stime)


def started(words: list[str], folder: Path, *, out: Printing | None = None) -> int:
    """Start a command in a folder, and return its process."""
    child = os.fork()
    if child == 0:
        _behave_as_a_command(words, folder, _written_beside(folder), out)
    return child


def _worked(process: int) -> float:
    """Tell how long a process has worked itself [s]."""
    try:
        fields = Path(f"/proc/{process}/stat").read_text(encoding="utf-8").rpartition(")")[2].split()
    except OSError:  # it has just ended
        return 0.0
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def _wants_to_work(process: int) -> bool:
    """Tell whether a thread of a process runs, or would if the machine let it."""
    try:
        threads = [stat.read_text(encoding="utf-8") for stat in Path(f"/proc/{process}/task").glob("*/stat")]
    except OSError:
        return False
    return any(thread.rpartition(")")[2].split()[0] in "RD" for thread in threads)


def _written_beside(folder: Path) -> list[Path]:
    return [folder.parent / f"{folder.name}.{stream}" for stream in ("out", "err")]


def _behave_as_a_command(words: list[str], folder: Path, written: list[Path], out: Printing | None) -> None:
    code = 1
    try:
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
        os.chdir(folder)
        for number, path in enumerate(written, start=1):
            os.dup2(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC), number)
        sys.stdout, sys.stderr = (
            io.TextIOWrapper(os.fdopen(n, "wb", closefd=False), "utf-8", line_buffering=n > 1) for n in (1, 2)
        )
        sys.stdout = (out and out()) or sys.stdout
        try:
            main(words, prog_name="evenheft")
        except SystemExit as end:
            code = end.code if isinstance(end.code, int) else bool(end.code)
        sys.stdout.flush()
        sys.stderr.flush()
    except BaseException:
        code = 1
        traceback.print_exc()
        sys.stderr.flush()
    finally:
        os._exit(code)
