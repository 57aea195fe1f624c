"""Replay a tutorial page: its commands, what it types into workbooks, and what it says is read there, in order.

`python tests/tutorial.py` replays the pages and writes anew what their commands print; read the change before you
commit it. A page's steps are

- a block ```console: each line `$ evenheft ...` is run; what follows is what it prints, `...` standing for anything;
- "Make a sheet **S** in `f.xlsx`:" and a table: a workbook with that sheet is written;
- "Type on **S** of `f.xlsx`:" and a table: the cells under headings of that name are filled, in the rows that the
  first column names, or in the next free ones; `Band: Heading` where a heading stands more than once. A table headed
  "Cell" and "Type" fills the cell beside each label instead;
- "Read on **S** of `f.xlsx`:" and a table: the cells hold that, computed, to the digits that the page gives;
- a picture out of pictures/tutorial/: the sheet of its name, of the workbook that was last spoken of.
"""

from __future__ import annotations

import os
import re
import shlex
import sys
import tempfile
from collections.abc import Iterator
from contextlib import chdir
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import openpyxl
from click.testing import CliRunner

from evenheft.cli import main
from evenheft.hosts.embedded import Computed
from evenheft.ooxml.edit import CellAt, edit_cells
from evenheft.ooxml.edits import Edit, Put
from evenheft.order.layout import HEADER_FIELDS, SETTINGS

DOCS = Path(__file__).parents[1] / "docs"
PAGES = ("tutorial.md", "tutorial-plain.md")
_STEP = re.compile(
    r"^```console\n(?P<console>.*?)^```$"
    r"|^(?P<do>Make a sheet|Type on|Read on) \*\*(?P<sheet>[^*]+)\*\* (?:in|of) `(?P<file>[^`]+)`[^\n]*:\n\n"
    r"(?P<table>(?:\|[^\n]*\|\n)+)"
    r"|!\[[^\]]*\]\(pictures/tutorial/(?P<picture>[^)]+)\.png\)",
    re.MULTILINE | re.DOTALL,
)
_COMMAND = re.compile(r"^\$ evenheft (.*)\n((?:(?!\$ ).*\n)*)", re.MULTILINE)
EMPTIED = "empty"
"""An entry by which a page says that a cell is to be emptied [-]."""
_LABELLED = {label: name for name, label in HEADER_FIELDS} | {setting.label: setting.name for setting in SETTINGS}
_ROWS, _COLUMNS = 80, 70
"""How far down and to the right a heading or a row of a club is looked for [cells]."""


@dataclass(frozen=True)
class Step:
    """Something that a page does: a command, a table to make, type or read, or a picture."""

    do: str
    """"run", "make", "type", "read" or "picture"."""
    what: str
    """The command after `evenheft`, the sheet's name, or the picture's."""
    file: str = ""
    shown: str = ""
    """What the command prints, as the page has it."""
    rows: tuple[tuple[str, ...], ...] = ()
    """The table, its headings first."""
    span: tuple[int, int] = (0, 0)
    """Where what is shown, or the table, stands on the page."""

    def __str__(self) -> str:
        """Name the step for a test."""
        return " ".join(part for part in (self.do, self.what, self.file) if part)


def steps_of(text: str) -> list[Step]:
    """Read a page's steps, in order."""
    return list(_steps(text))


def _steps(text: str) -> Iterator[Step]:
    for found in _STEP.finditer(text):
        if found["console"] is not None:
            for line in _COMMAND.finditer(found["console"]):
                span = (found.start("console") + line.start(2), found.start("console") + line.end(2))
                yield Step("run", line[1], shown=line[2].strip("\n"), span=span)
        elif found["picture"]:
            yield Step("picture", found["picture"])
        else:
            lines = found["table"].splitlines()
            rows = tuple(tuple(cell.strip() for cell in line[1:-1].split("|")) for line in lines)
            word = found["do"].split()[0].lower()
            yield Step(word, found["sheet"], found["file"], rows=(rows[0], *rows[2:]), span=found.span("table"))


def matches(shown: str, printed: str) -> bool:
    """Whether a command printed what a page shows, `...` standing for anything."""
    pattern = ".*".join(re.escape(part) for part in shown.split("..."))
    return re.fullmatch(pattern, printed, re.DOTALL) is not None


def run(command: str) -> str:
    """Run a command in this folder, and return what it prints, without blanks at the ends of lines."""
    printed = CliRunner().invoke(main, shlex.split(command)).output
    lines = (line.rstrip() for line in printed.strip("\n").splitlines())
    return "\n".join(line for line in lines if not line.endswith(" ..."))  # progress, told where a machine is slow


def written(text: str) -> str | float | None:
    """Read a cell of a page's table as a person would type it; `code` marks are the page's own."""
    text = text.strip("`")
    try:
        return float(text)
    except ValueError:
        return text or None


class Seen:
    """A sheet as a person sees it: headings by their words, rows by what stands in the first column."""

    def __init__(self, computed: Computed, sheet: str) -> None:
        """Look at a sheet of a computed workbook."""
        self.sheet = sheet
        self._computed = computed
        self._held = {
            (row, column): computed.value(sheet, row, column)
            for row in range(1, _ROWS + 1)
            for column in range(1, _COLUMNS + 1)
        }

    def at(self, row: int, column: int) -> object:
        """Return what a cell holds; None where it is blank."""
        held = self._held.get((row, column))
        return None if held == "" else held

    def heading_row(self, headings: tuple[str, ...]) -> tuple[int, list[int]]:
        """Find the row in which all these headings stand, and the column of each."""
        for row in range(1, _ROWS + 1):
            columns = [self._column(row, heading) for heading in headings]
            if all(columns):
                return row, [column for column in columns if column is not None]
        raise LookupError(f"{self.sheet} has no row with the headings {', '.join(headings)}")

    def _column(self, row: int, heading: str) -> int | None:
        band, _, words = heading.rpartition(": ")
        over = None
        for column in range(1, _COLUMNS + 1):
            over = self.at(row - 1, column) or over
            if self.at(row, column) == words and (not band or over == band):
                return column
        return None

    def row_of(self, top: int, column: int, key: object) -> int:
        """Find the row in which something stands in a column, else the first that is free there."""
        below = range(top + 1, _ROWS + 1)
        held = next((row for row in below if self.at(row, column) == key), None)
        return held or next(row for row in below if self.at(row, column) is None)

    def beside(self, label: str) -> CellAt:
        """Find the cell that a label of an order's layout belongs to."""
        area = self._computed.named_area(_LABELLED[label])
        assert area is not None, label
        return area[0], area[1], area[2]


@cache
def _first_seen(path: Path) -> Computed:
    """A workbook as it was when it was first typed into: its headings and clubs do not move."""
    return Computed.open(path)


def cells_of(step: Step, computed: Computed) -> dict[CellAt, str | float | None]:
    """Find where each entry of a step's table belongs."""
    seen, (headings, *rows) = Seen(computed, step.what), step.rows
    if headings == ("Cell", "Type"):
        return {seen.beside(label): written(value) for label, value in rows}
    top, columns = seen.heading_row(headings)
    cells: dict[CellAt, str | float | None] = {}
    for values in rows:
        row = seen.row_of(top, columns[0], written(values[0]))
        seen._held[row, columns[0]] = written(values[0])  # the next free row lies below it
        for column, value in zip(columns, values, strict=True):
            cells[step.what, row, column] = written(value)
    return cells


def make(step: Step) -> None:
    """Write a workbook that holds a step's table."""
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = step.what
    for row in step.rows:
        sheet.append([written(value) for value in row])
    book.save(step.file)


def type_in(step: Step) -> None:
    """Type a step's table into a workbook; a blank entry leaves its cell alone, "empty" empties it."""
    path = Path(step.file)
    edits: dict[CellAt, Edit] = {
        at: Put(None if value == EMPTIED else value)
        for at, value in cells_of(step, _first_seen(path.absolute())).items()
        if value is not None
    }
    edit_cells(path, edits)


def differences(step: Step) -> list[str]:
    """Say where the workbook does not hold what a step's table says is read there."""
    computed = Computed.open(Path(step.file))
    lines = []
    for (sheet, row, column), value in cells_of(step, computed).items():
        held = computed.value(sheet, row, column)
        held = None if held == "" else held
        if not _same(value, held, step):
            lines.append(f"{sheet} row {row} column {column} holds {held!r}, the page says {value!r}")
    return lines


def _same(value: str | float | None, held: object, step: Step) -> bool:
    if isinstance(value, float) and isinstance(held, (int, float)):
        digits = {len(cell.partition(".")[2]) for row in step.rows for cell in row if written(cell) == value}
        return any(round(float(held), places) == value for places in digits)
    return value == held


def do(step: Step) -> str | None:
    """Do a step in this folder; what a command printed, None for another step.

    Raises:
        AssertionError: the workbook does not hold what the page says.
    """
    if step.do == "run":
        return run(step.what)
    if step.do == "make":
        make(step)
    elif step.do == "type":
        type_in(step)
    elif step.do == "read":
        found = differences(step)
        assert not found, "; ".join(found)
    return None


def _held_now(step: Step) -> tuple[tuple[str, ...], ...]:
    """Return a step's table with what the workbook holds now, to the digits that the page gives."""
    computed, held = Computed.open(Path(step.file)), []
    for (sheet, row, column), value in cells_of(step, computed).items():
        found = computed.value(sheet, row, column)
        digits = next((len(c.partition(".")[2]) for line in step.rows for c in line if written(c) == value), 0)
        is_number = isinstance(found, (int, float)) and not isinstance(found, bool)
        held.append(f"{found:.{digits}f}" if is_number else str(found or ""))
    width = len(step.rows[0])
    return (step.rows[0], *(tuple(held[n : n + width]) for n in range(0, len(held), width)))


def _as_table(rows: tuple[tuple[str, ...], ...]) -> str:
    lines = ["| " + " | ".join(row) + " |" for row in rows]
    return "\n".join([lines[0], "|" + "---|" * len(rows[0]), *lines[1:]]) + "\n"


def _write_anew(page: Path) -> None:
    """Replay a page, and put in what its commands print and its tables read now where it shows something else."""
    text, changes = page.read_text(encoding="utf-8"), []
    for step in steps_of(text):
        try:
            printed = do(step)
        except AssertionError as error:
            sys.stderr.write(f"{page.name}: {error}\n")
            changes.append((step.span, _as_table(_held_now(step))))
        else:
            if printed is not None and not matches(step.shown, printed):
                changes.append((step.span, printed.replace(f"{Path.cwd()}/", "...") + "\n"))
    for (start, end), new in reversed(changes):
        text = text[:start] + new + text[end:]
    page.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    os.environ.pop("EVENHEFT_SHOP", None)
    for name in sys.argv[1:] or PAGES:
        with tempfile.TemporaryDirectory() as folder, chdir(folder):
            _write_anew(DOCS / name)
