"""A supplier's answer in another format than .xlsx: .ods, .xls, .xlsb by python-calamine, .csv as text; values only."""

from __future__ import annotations

import csv
import io
import itertools
import json
import math
import re
import stat
import subprocess
import sys
import zipfile
from pathlib import Path

from evenheft.ooxml.errors import Refused
from evenheft.ooxml.reading import SheetContent
from evenheft.ooxml.values import CellRows, Held
from evenheft.order.supplier import calamine_rows

ENDINGS = (".ods", ".xls", ".xlsb", ".csv")
"""What is read here, by the file's ending."""
_LARGEST = 20 << 20
"""A supplier's answer is some ten kilobytes [bytes]."""
_MOST_EXPANDED = 100 << 20
_MOST_ROWS, _MOST_COLUMNS = 2_000, 100
_LONGEST_WAIT = 300
"""For another program that reads a workbook; it ends far sooner by its own limits [s]."""
_LONGEST_LINE = 100_000
"""Of a .csv file [characters]."""
_NUMBER = re.compile(r"-?(?:0|[1-9]\d*)(?:\.\d+)?")


def read_values(path: Path, sheet: str) -> SheetContent:
    """Read a sheet's values; what a formula last gave counts as a value, and nothing is computed.

    Args:
        path: the file [-].
        sheet: the sheet's name, in any case; a .csv file has but one [-].

    Raises:
        Refused: the file cannot be read, is too large, or has no such sheet.
    """
    try:
        if not stat.S_ISREG(path.stat().st_mode):  # a pipe would wait for ever
            raise Refused(f"{path.name} is a folder or a device, not a workbook")
        if path.stat().st_size > _LARGEST:
            raise Refused(f"{path.name} is too large: at most {_LARGEST >> 20} MB are opened")
        content = path.read_bytes()
    except OSError as error:
        reason = "there is no such file" if isinstance(error, FileNotFoundError) else (error.strerror or "").lower()
        raise Refused(f"{path.name} cannot be read: {reason}") from None
    rows = _csv_rows(content, path.name) if path.suffix.lower() == ".csv" else _sheet_rows(content, path.name, sheet)
    found = SheetContent()
    for row, cells in enumerate(rows[:_MOST_ROWS], start=1):
        for column, cell in enumerate(cells[:_MOST_COLUMNS], start=1):
            if (held := _held(cell)) is not None:
                found.values[row, column] = held
    return found


def _sheet_rows(content: bytes, name: str, sheet: str) -> CellRows:
    _need_modest(content, name)
    command = [sys.executable, calamine_rows.__file__, sheet, str(_MOST_ROWS), str(_MOST_COLUMNS)]
    try:
        # In a process of its own: the library is native, and believes what a stranger's file says of its size.
        done = subprocess.run(command, input=content, capture_output=True, check=True, timeout=_LONGEST_WAIT)
        rows: list[list[object]] | None = json.loads(done.stdout)
    except (subprocess.SubprocessError, ValueError, OSError):
        raise Refused(f"{name} cannot be read: it is damaged, protected by a password, or no workbook") from None
    if rows is None:
        raise Refused(f'{name} is not a supplier\'s workbook of Evenheft: it has no sheet "{sheet}"')
    return rows


def _need_modest(content: bytes, name: str) -> None:
    """Refuse a small zip that would expand to what no answer of a supplier needs."""
    if not content.startswith(b"PK"):
        return
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as package:
            expanded = sum(entry.file_size for entry in package.infolist())
    except (zipfile.BadZipFile, NotImplementedError, ValueError, OSError):
        raise Refused(f"{name} is damaged or cut off: copy or download it again") from None
    if expanded > _MOST_EXPANDED:
        raise Refused(f"{name} would expand to {expanded >> 20} MB, at most {_MOST_EXPANDED >> 20} MB are accepted")


def _csv_rows(content: bytes, name: str) -> CellRows:
    text = _decoded(content, name)
    first = text.partition("Club")[2][:1]
    comma = max((";", "\t", ","), key=lambda mark: (mark == first, text.count(mark)))
    if any(len(line) > _LONGEST_LINE for line in io.StringIO(text)):
        raise Refused(f"{name} cannot be read: a line of it is longer than {_LONGEST_LINE} characters")
    try:
        rows = list(itertools.islice(csv.reader(io.StringIO(text), delimiter=comma), _MOST_ROWS))
    except csv.Error:
        raise Refused(f"{name} cannot be read: it is no table of comma-separated values") from None
    return [[_number_or_text(cell, decimal_comma=comma != ",") for cell in row[:_MOST_COLUMNS]] for row in rows]


def _decoded(content: bytes, name: str) -> str:
    # The last two are what spreadsheet programs write on Windows.
    encodings = ("utf-16",) if content[:2] in (b"\xff\xfe", b"\xfe\xff") else ("utf-8-sig", "cp1252")
    for encoding in encodings:
        try:
            return content.decode(encoding)
        except UnicodeDecodeError:
            continue
    raise Refused(f"{name} cannot be read: its letters are in no known encoding")


def _number_or_text(text: str, *, decimal_comma: bool) -> float | str:
    """Return a number as it would stand in a cell; what begins with a 0, such as an order's number, stays text."""
    plain = text.strip()
    if decimal_comma and "." not in plain:
        plain = plain.replace(",", ".")
    return float(plain) if _NUMBER.fullmatch(plain) else text


def _held(cell: object) -> Held | None:
    if isinstance(cell, bool):
        return cell
    if isinstance(cell, int | float):
        return float(cell) if math.isfinite(cell) else str(cell)
    return str(cell) if cell is not None and str(cell) != "" else None
