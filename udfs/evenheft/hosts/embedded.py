"""The embedded engine: formulas and whole workbooks computed with no spreadsheet program installed.

This is the only module that knows formualizer, which is young and pinned exactly.
"""

from __future__ import annotations

import difflib
import gc
import html
import re
import threading
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, TypeVar

import formualizer

from evenheft.formulas import REGISTRY
from evenheft.formulas.registry import Formula
from evenheft.formulas.serving import server
from evenheft.hosts.engine_values import handed_back, handed_over, value_of
from evenheft.hosts.patience import MOST_MEMORY, TooLongError, TooMuchError, interruptible, within
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.package import CheckedPackage, read_package
from evenheft.ooxml.places import Place
from evenheft.ooxml.plain_package import plainly
from evenheft.ooxml.scanning import Element, attribute, formula_texts, masked, without_shared_formulas
from evenheft.ooxml.text import one_line, shown_name
from evenheft.ooxml.values import CellError, Value

_Answer = TypeVar("_Answer")

HOST = "the embedded engine"
MOST_ARGUMENTS = 255
"""As many as a spreadsheet lets a person type."""
LONGEST_FORMULA = 8192
"""As long as Excel lets a formula be (its specifications and limits) [characters]."""
TYPED_SECONDS = 0.5
"""How long one formula that is typed may take, some hundred times what one needs over a whole set of clubs [s]."""
BASE_SECONDS, SECONDS_PER_FORMULA = 4.0, 0.0006
"""How long the engine may take: for anything, and besides for each formula, some ten times what it needs [s]."""

_TEXT_IN_FORMULA = re.compile(r'("(?:[^"]|"")*")')
_OUTSIDE_REFERENCE = re.compile(r"\[[^\]\[]*\][^!\[]*!")
_MAY_NEED_CHANGE = re.compile(r"!\s*HEFT_|[(,]\s*[,)]", re.IGNORECASE)

_WRITABLE_ERRORS = ("#NULL!", "#REF!", "#NAME?", "#VALUE!", "#DIV/0!", "#N/A", "#NUM!")


class EngineError(Refused):
    """The engine could not read a formula or a workbook; the text is one line for a builder."""


def as_served(formula: str) -> str:
    """Write a formula with its HEFT_ calls as this engine wants them.

    Excel writes a function of an add-in as `[1]!HEFT_X(...)`, or with the add-in's path or
    name before the mark: that is taken away. An argument that is skipped over becomes an
    empty text, which is blank like an empty cell; the engine itself would hand over a 0.

    >>> as_served("=A1/[1]!HEFT_POINTS(B1,C1)")
    '=A1/HEFT_POINTS(B1,C1)'
    >>> as_served("=HEFT_POINTS(A1,B1,,12)")
    '=HEFT_POINTS(A1,B1,"",12)'
    """
    if not _MAY_NEED_CHANGE.search(formula):
        return formula
    try:
        tokens = formualizer.tokenize(formula).tokens()
    except Exception:  # what is no formula is told where it is evaluated
        return formula
    written: list[str] = []
    calls: list[bool] = []  # for each open bracket, whether it opens a call of ours
    after = ""  # the last token but spaces
    for token in tokens:
        value, kind, part = token.value, str(token.token_type), str(token.subtype)
        if part == "Open":
            name = value.rpartition("!")[2].lstrip()
            calls.append(kind == "Func" and name.upper().startswith("HEFT_"))
            value = name if calls[-1] else value
        elif calls and calls[-1] and (_is_end(kind, part) or part == "Close") and _is_skipped(after, part):
            written.append('""')
        if part == "Close" and calls:
            calls.pop()
        written.append(value)
        if kind != "Whitespace":
            after = "separator" if _is_end(kind, part) else part
    return "=" + "".join(written)


def _is_end(kind: str, part: str) -> bool:
    return kind == "Sep" and part == "Arg"


def _is_skipped(after: str, part: str) -> bool:
    """Whether nothing stands before a separator or a closing bracket; a call without arguments skips none."""
    return after == "separator" or (after == "Open" and part != "Close")


def evaluate(formula: str) -> Value | list[list[Value]]:
    """Compute one formula, as typed into a cell.

    Args:
        formula: the text, with or without its equals sign [-].

    Returns:
        The value, or rows of values where the formula answers with a range.

    Raises:
        EngineError: the text is not a formula, or calls a HEFT_ function that does not exist.
    """
    typed = formula.strip()
    if len(typed) > LONGEST_FORMULA:
        raise EngineError(f"a formula holds at most {LONGEST_FORMULA} characters, got {len(typed)}")
    text = as_served("=" + typed.removeprefix("="))
    _need_known_functions(text)
    workbook = formualizer.Workbook()
    serve_in(workbook)
    label = f"the formula {shown_name(text)}"

    def compute() -> Value | list[list[Value]]:
        workbook.sheet("Sheet1").set_formula(1, 1, text)
        recompute(workbook)
        first = value_of(workbook.get_value("Sheet1", 1, 1))
        if isinstance(first, CellError) and first.code == "#ERROR!":
            raise EngineError("are its brackets and quotes closed?")
        return _spilled(workbook, first)

    # A plan is searched for, for a while that it limits itself.
    seconds = BASE_SECONDS if "HEFT_PLAN" in text.upper() else TYPED_SECONDS
    return _in_time(compute, workbook.cancel, seconds=seconds, label=label, cannot=f"cannot read {label}")


class Computed:
    """A workbook whose formulas have been computed; the file behind it is only read."""

    def __init__(self, package: CheckedPackage) -> None:
        """Load and compute a workbook.

        Args:
            package: the workbook; that it was checked, its type says [-].

        Raises:
            EngineError: the engine cannot read it.
        """
        workbooks: list[formualizer.Workbook] = []

        def compute() -> formualizer.Workbook:
            workbooks.append(formualizer.load_workbook_bytes(_as_engine_reads(package)))
            serve_in(workbooks[0])
            recompute(workbooks[0])
            return workbooks[0]

        def cancel() -> None:
            for workbook in workbooks:
                workbook.cancel()

        self._workbook = _in_time(
            compute,
            cancel,
            seconds=BASE_SECONDS + SECONDS_PER_FORMULA * _formulas_in(package),
            label=package.name,
            cannot=f"{package.name} cannot be computed",
        )
        self.sheet_names: tuple[str, ...] = tuple(self._workbook.sheet_names)

    @classmethod
    def open(cls, path: Path) -> Computed:
        """Read, check and compute the workbook at a path; see the constructor."""
        with read_package(path) as package:
            return cls(package)

    @classmethod
    def from_bytes(cls, content: bytes, *, name: str = "the workbook") -> Computed:
        """Check and compute a workbook in memory; see the constructor."""
        with CheckedPackage(content, name=name) as package:
            return cls(package)

    def value(self, sheet: str, row: int, column: int) -> Value:
        """Look up the value of a cell, by its sheet's name and its row and column from 1."""
        found: Value = value_of(self._workbook.get_value(sheet, row, column))
        return found

    def formula(self, sheet: str, row: int, column: int) -> str | None:
        """Look up the formula of a cell as the engine writes it, or None."""
        found: str | None = self._workbook.get_formula(sheet, row, column)
        return found

    def named_cell(self, name: str) -> Value:
        """Look up the value of the cell that a defined name stands for, None where there is no such name."""
        area = self.named_area(name)
        if area is None or area[1:3] != area[3:]:
            return None
        return self.value(*area[:3])

    def named_area(self, name: str) -> tuple[str, int, int, int, int] | None:
        """Look up where a defined name of the workbook stands: sheet, first row and column, last row and column."""
        for entry in self._workbook.get_named_ranges():
            if entry["name"].lower() == name.lower() and entry["scope"] == "workbook" and entry.get("sheet"):
                first = (entry["sheet"], entry["start_row"], entry["start_col"])
                return (*first, entry["end_row"], entry["end_col"])
        return None

    def named_column(self, name: str) -> list[Value]:
        """Look up the values of the first column of the range of a defined name, none where there is no such name."""
        area = self.named_area(name)
        if area is None:
            return []
        sheet, first, column, last, _ = area
        return [self.value(sheet, row, column) for row in range(first, last + 1)]


def compute_beside(values: Mapping[Place, Value], formulas: Mapping[Place, str]) -> dict[Place, Value]:
    """Compute formulas over one sheet's values, where the rest of its workbook is not to be computed.

    Args:
        values: what the sheet's cells hold, by row and column from 1 [-].
        formulas: the formulas, as typed into cells, by row and column from 1 [-].

    Returns:
        Each formula's value [-].

    Raises:
        EngineError: a formula cannot be read.
    """
    workbook = formualizer.Workbook()
    serve_in(workbook)
    sheet = workbook.sheet("Sheet1")
    for (row, column), value in values.items():
        if value is not None and not isinstance(value, CellError):
            sheet.set_value(row, column, value)
        elif value is not None:
            sheet.set_formula(row, column, f"={value.code}" if value.code in _WRITABLE_ERRORS else "=NA()")

    def compute() -> None:
        for (row, column), formula in formulas.items():
            sheet.set_formula(row, column, as_served("=" + formula.strip().removeprefix("=")))
        recompute(workbook)

    seconds = BASE_SECONDS + SECONDS_PER_FORMULA * len(formulas)
    _in_time(compute, workbook.cancel, seconds=seconds, label="the sheet", cannot="cannot compute")
    return {place: value_of(workbook.get_value("Sheet1", *place)) for place in formulas}


def _in_time(
    work: Callable[[], _Answer], cancel: Callable[[], None], *, seconds: float, label: str, cannot: str
) -> _Answer:
    """Let the engine work for so long, and tell in one line why it could not.

    Args:
        work: what the engine is to do [-].
        cancel: asks the engine to stop [-].
        seconds: the limit of time [s].
        label: how messages call what is computed [-].
        cannot: how the line begins when the engine refuses [-].

    Raises:
        EngineError: it raises or panics, or the time is over.
    """
    try:
        return within(seconds, work, stop=cancel)
    except TooLongError:
        raise EngineError(f"{label} takes longer than {round(seconds, 1):g} s to compute: it was stopped") from None
    except TooMuchError:
        raise EngineError(f"{label} needs more than {MOST_MEMORY >> 30} GB to compute: it was stopped") from None
    except (KeyboardInterrupt, SystemExit, MemoryError):
        raise
    except BaseException as error:  # the engine raises several kinds, and panics past Exception
        raise EngineError(f"{cannot}: {_one_line(error)}") from None


def _formulas_in(package: CheckedPackage) -> int:
    """Count the formulas of a workbook, as nearly as a limit of time needs it."""
    return sum(masked(package.read(sheet.part)).count(b"<f") for sheet in package.sheets)


def recompute(workbook: formualizer.Workbook) -> None:
    """Compute every formula of a workbook of the engine.

    Ranges reach a formula as lists of lists, all of them alive until it answers: looking for garbage among them
    meanwhile finds none and can take longer than the formula.
    """
    collecting = gc.isenabled()
    gc.disable()
    try:
        workbook.evaluate_all()
    finally:
        if collecting:
            gc.enable()


def serve_in(workbook: formualizer.Workbook) -> None:
    """Register every formula of the registry in a workbook of the engine."""
    for formula in REGISTRY.values():
        # The formula itself tells how many arguments it takes: the engine's #VALUE! would not say why.
        workbook.register_function(formula.name, _callback(formula), min_args=0, max_args=MOST_ARGUMENTS)


def _callback(formula: Formula) -> Callable[..., Any]:
    serve = server(formula, host=HOST)

    def callback(*given: Any) -> Any:
        thread = threading.get_ident()
        interruptible.add(thread)
        try:
            return handed_back(serve(*map(handed_over, given)))
        finally:
            interruptible.discard(thread)

    return callback


def _spilled(workbook: formualizer.Workbook, first: Value) -> Value | list[list[Value]]:
    """Read the range that a formula in A1 has filled, or its one value."""
    rows = columns = 1
    while workbook.get_value("Sheet1", rows + 1, 1) is not None:
        rows += 1
    while workbook.get_value("Sheet1", 1, columns + 1) is not None:
        columns += 1
    if rows == columns == 1:
        return first
    return [[value_of(workbook.get_value("Sheet1", r, c)) for c in range(1, columns + 1)] for r in range(1, rows + 1)]


def _need_known_functions(formula: str) -> None:
    code = "".join(_TEXT_IN_FORMULA.split(formula)[::2])
    for name in re.findall(r"\b(HEFT_\w*)\s*\(", code, re.IGNORECASE):
        if name.upper() not in REGISTRY:
            near = difflib.get_close_matches(name.upper(), REGISTRY, n=1)
            raise EngineError(f"{name} is not a formula of Evenheft" + (f": did you mean {near[0]}?" if near else ""))


def _as_engine_reads(package: CheckedPackage) -> bytes:
    """Return the workbook with its sheets' formulas as `as_served` writes them, and none that reads another file.

    The engine itself refuses a whole workbook that has one formula of the latter kind.
    """
    changed = {}
    for sheet in package.sheets:
        text = bytes(package.read(sheet.part))
        served = _with_served_formulas(text)
        if served is not text:
            changed[sheet.part] = served
    return plainly(package, changed)


def _with_served_formulas(sheet: bytes) -> bytes:
    """Return a sheet with each formula as the engine wants it; the same object where none changes."""
    pieces: list[bytes] = []
    dropped_groups: set[bytes] = set()
    at = 0
    for element, written in formula_texts(sheet):
        if (new := _served_element(element, written)) is not None:
            if not new and (group := attribute(element.attributes, b"si")):
                dropped_groups.add(group)
            pieces += [sheet[at : element.start], new]
            at = element.end
    if not pieces:
        return sheet
    served = b"".join([*pieces, sheet[at:]])
    return without_shared_formulas(served, dropped_groups) if dropped_groups else served


def _served_element(element: Element, written: bytes) -> bytes | None:
    """Return what stands for a formula element that must differ, b"" for its last value alone; else None.

    One that is longer than a spreadsheet accepts is not computed either: its last value stands.
    """
    if len(written) > LONGEST_FORMULA:
        return b""
    is_ours = b"HEFT_" in written.upper()
    if not is_ours and b"[" not in written:
        return None
    text = html.unescape(written.decode())
    if b"[" in written and _refers_outside(text):
        return b""
    served = as_served(f"={text}")[1:]
    if not is_ours or served == text:
        return None
    name = element.name
    escaped = html.escape(served, quote=False).encode()
    return b"<" + name + element.attributes + b">" + escaped + b"</" + name + b">"


def _refers_outside(formula: str) -> bool:
    try:
        tokens = formualizer.tokenize(f"={formula}").tokens()
    except Exception:  # what is no formula is told where it is evaluated
        return False
    return any(
        str(token.token_type) == "Operand" and str(token.subtype) == "Range" and _OUTSIDE_REFERENCE.search(token.value)
        for token in tokens
    )


def _one_line(error: BaseException) -> str:
    return one_line(str(error)) or type(error).__name__
