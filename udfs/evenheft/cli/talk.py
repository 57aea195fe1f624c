"""How commands talk: lines that a terminal cannot be misled by, one for what cannot be done, and the exit codes."""

from __future__ import annotations

import contextlib
import os
import sys
from pathlib import Path
from typing import NoReturn, TextIO

import click

from evenheft.ooxml.text import harmless, one_fitting_line

EXIT_ALL_IN = 0
EXIT_UNREADABLE = 2
EXIT_FLAGGED = 3


def say(line: str, *, err: bool = False) -> None:
    """Print a line, whatever a stranger's file has put into it; what is said beside the work never ends it."""
    with contextlib.suppress(OSError) if err else contextlib.nullcontext():
        click.echo(harmless(line), err=err)


def refuse(line: str) -> NoReturn:
    """Print one line on stderr and end with exit code 2."""
    say(one_fitting_line(line if line.startswith("! ") else f"! {line}"), err=True)
    sys.exit(EXIT_UNREADABLE)


def stand_in_for_closed_streams() -> None:
    """Let what is printed go nowhere where a stream was closed: else the next file that is opened would get it all."""
    for number in range(3):
        try:
            os.fstat(number)
        except OSError:
            os.open(os.devnull, os.O_RDWR)  # the lowest number that is free: this one
    for name in ("stdout", "stderr"):
        if getattr(sys, name) is None:
            setattr(sys, name, Path(os.devnull).open("w", encoding="utf-8"))  # noqa: SIM115  as long as the process lives


def speak_any_script() -> None:
    """Let a letter that the terminal's character set lacks be printed as "?" instead of ending the command."""
    for stream in (sys.stdout, sys.stderr):
        with contextlib.suppress(AttributeError, ValueError, OSError):  # a stranger's stream, or a closed one
            stream.reconfigure(errors="replace")  # type: ignore[union-attr]


def finish_printing() -> None:
    """Print what is still waiting; refused in a line where there is no room for it, as on a full disk."""
    try:
        sys.stdout.flush()
    except BrokenPipeError:  # whoever read it has gone, and wants no more
        _print_nowhere(sys.stdout)
    except OSError as error:
        refuse_unprinted(error)


def refuse_unreachable(error: OSError) -> NoReturn:
    """Tell that a file or a folder that was named cannot be used, and why."""
    reason = (error.strerror or str(error)).lower()
    refuse(f"{error.filename} cannot be used: {reason}")


def refuse_unprinted(error: OSError) -> NoReturn:
    """Tell once that printing has failed; what still waits is led away, so that it does not fail again."""
    _print_nowhere(sys.stdout)
    refuse(f"what was to be printed could not be written: {(error.strerror or str(error)).lower()}")


def _print_nowhere(stream: TextIO) -> None:
    """Lead a stream that failed away, so that it does not fail again when Python ends."""
    with contextlib.suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
