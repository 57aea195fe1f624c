"""The client in C (c/client.c): its script, and what it printed."""

from __future__ import annotations

import os
import struct
import subprocess
from collections.abc import Iterable, Sequence
from pathlib import Path

from evenheft.ooxml.values import CellError
from excel_standins import ERRORS

ALIKE = "calls alike"
"""What a test says, after their number, of calls that answered as expected."""

LEFT_OUT = object()
"""An argument that a formula leaves out."""


def value(given: object) -> list[str]:
    """The lines of a value as VBA hands it over: a cell's, or rows."""
    if given is LEFT_OUT:
        return ["missing"]
    if isinstance(given, tuple | list):
        rows = [list(row) for row in given]
        return [f"array {len(rows)} {len(rows[0])}", *(line for row in rows for cell in row for line in value(cell))]
    return [_cell(given)]


def one_row(cells: Sequence[object]) -> list[str]:
    """The lines of an array constant of one row, and of an answer of one row: an array of one dimension."""
    return [f"array 0 {len(cells)}", *(line for cell in cells for line in value(cell))]


def _cell(given: object) -> str:
    if given is None:
        return "empty"
    if isinstance(given, CellError):
        return f"error {ERRORS[given.code]}"
    if isinstance(given, bool):
        return f"truth {int(given)}"
    if isinstance(given, int | float):
        return f"number {number(given)}"
    return f"text {str(given).encode('utf-16-be').hex()}"


def number(given: float) -> str:
    """A number's 64 bits."""
    return struct.pack(">d", given).hex()


def call(formula: str, arguments: Iterable[Sequence[str]], expected: Sequence[str]) -> list[str]:
    """The lines of a call that is compared with what is expected."""
    given = list(arguments)
    return [f"call {formula} {len(given)}", *(line for lines in given for line in lines), *expected]


def raw(formula: str, *arguments: Sequence[str]) -> list[str]:
    """The lines of a call whose answer is printed."""
    return [f"raw {formula} {len(arguments)}", *(line for lines in arguments for line in lines)]


def carried_out(lines: Iterable[str], folder: Path) -> list[str]:
    """What the client printed, line by line; the last says how many calls were alike and how many differed."""
    script = folder / "script.txt"
    script.write_text("\n".join(lines) + "\n", encoding="utf-8", newline="\n")
    done = subprocess.run([os.environ["EVENHEFT_CLIENT"], str(script)], stdin=subprocess.DEVNULL, capture_output=True)
    printed = done.stdout.decode("utf-8").splitlines()
    assert printed, done
    return printed
