"""Stand-ins for what only Windows has, so that the real code of xlwings runs here: pywin32's modules, two names
of ctypes, and the few properties of Excel's own objects that xlwings reads while it answers a formula.

Nothing of xlwings or of Evenheft is replaced. That Excel and COM hand over values as these objects do is taken
from the documentation (Range.Value, VT_ERROR, DISP_E_PARAMNOTFOUND); it has not been seen in Excel itself.
"""

from __future__ import annotations

import contextlib
import ctypes
import functools
import importlib
import sys
from collections.abc import Iterator, Sequence
from types import ModuleType, SimpleNamespace
from typing import Any

from evenheft.ooxml.values import CellError

MISSING = -2147352572
"""DISP_E_PARAMNOTFOUND: what VBA hands over for an optional argument that is left out."""

ERRORS = {
    "#NULL!": -2146826288, "#DIV/0!": -2146826281, "#VALUE!": -2146826273, "#REF!": -2146826265,
    "#NAME?": -2146826259, "#NUM!": -2146826252, "#N/A": -2146826246,
}  # fmt: skip
"""The codes of Excel's error values, as xlwings' own table has them (_xlwindows.cell_errors)."""

RANGE_INTERFACE = "{00020846-0000-0000-C000-000000000046}"
SERVED = "evenheft.hosts.excel.functions.served"


class Dispatched:
    """An object of Excel's."""

    interface = "{00000000-0000-0000-0000-000000000000}"

    @property
    def _oleobj_(self) -> Any:
        told = SimpleNamespace(GetTypeAttr=lambda: SimpleNamespace(iid=self.interface))
        return SimpleNamespace(GetTypeInfo=lambda: told)


class Application(Dispatched):
    """Excel."""

    Hwnd = 1


class Sheets:
    """A workbook's sheets."""

    def __init__(self, workbook: Workbook) -> None:
        self._sheets = [Sheet(workbook, "Order")]
        self.Count = 1

    def __iter__(self) -> Iterator[Sheet]:
        return iter(self._sheets)

    def __call__(self, number: int) -> Sheet:
        return self._sheets[number - 1]


class Workbook(Dispatched):
    """A workbook of Excel's."""

    Name = "evenheft-order.xlsm"

    def __init__(self) -> None:
        self.Application = Application()
        self.Worksheets = Sheets(self)


class Sheet(Dispatched):
    """A sheet of Excel's."""

    def __init__(self, workbook: Workbook, name: str) -> None:
        self.Parent = workbook
        self.Application = workbook.Application
        self.Name = name


class Range(Dispatched):
    """A range of Excel's: `Value` is one value, or a tuple of rows."""

    interface = RANGE_INTERFACE

    def __init__(self, rows: Sequence[Sequence[object]], sheet: Sheet) -> None:
        cells = tuple(tuple(as_com(cell) for cell in row) for row in rows)
        self.Value = cells if len(cells) > 1 or len(cells[0]) > 1 else cells[0][0]
        self.Worksheet = sheet
        self.Row = self.Column = 1
        self.Rows = SimpleNamespace(Count=len(cells))
        self.Columns = SimpleNamespace(Count=len(cells[0]))
        self.Address = "$A$1"


def as_com(cell: object) -> object:
    """A cell's value as COM hands it over: numbers are floats, an error is a whole number, an empty cell None."""
    if isinstance(cell, CellError):
        return ERRORS[cell.code]
    return float(cell) if isinstance(cell, int) and not isinstance(cell, bool) else cell


class Excel:
    """Calls the served functions as a cell of Excel does, through xlwings' real server."""

    def __init__(self) -> None:
        install()
        com_server = importlib.import_module("xlwings.com_server")
        self._server = com_server.XLPython()
        self.workbook = Workbook()
        self.sheet = self.workbook.Worksheets(1)
        self.cell = Range([[None]], self.sheet)

    def range(self, rows: Sequence[Sequence[object]]) -> Range:
        """A range that holds these cells."""
        return Range(rows, self.sheet)

    def call(self, name: str, *arguments: object) -> Any:
        """What comes back to VBA for arguments as VBA hands them over."""
        return self._server.CallUDF(SERVED, name, arguments, self.workbook, self.cell)


@functools.cache
def install() -> None:
    """Put the stand-ins in place and load xlwings' Windows part, as `import xlwings` does on Windows itself."""
    nothing = type("Nothing", (), {})
    kept: dict[str, dict[str, object]] = {
        "pywintypes": {
            "IID": lambda text: text, "TimeType": nothing, "error": OSError,
            "com_error": type("com_error", (Exception,), {}),
        },
        "pythoncom": {
            "CoInitialize": lambda: None, "IID_IDispatch": "IDispatch", "TypeIIDs": {"IDispatch": nothing},
            "IID_IEnumVARIANT": "IEnumVARIANT", "ole_error": OSError, "__file__": "pythoncom311.dll",
        },
        "win32api": {}, "win32con": {}, "win32event": {}, "win32gui": {}, "win32timezone": {},
        "win32process": {"GetWindowThreadProcessId": lambda _: (0, 4711)},
        "win32com": {},
    }  # fmt: skip
    for name, contents in kept.items():
        _module(name, **contents)
    _module("win32com.client", CDispatch=nothing, CoClassBaseClass=nothing, DispatchBaseClass=nothing,
            Dispatch=lambda dispatched, **_: dispatched, DispatchEx=lambda *_: None)  # fmt: skip
    _module("win32com.server")
    _module("win32com.server.policy", DefaultPolicy=nothing)
    _module("win32com.server.dispatcher")
    _module("win32com.server.util", wrap=lambda wrapped, *_: wrapped, unwrap=_no_wrapped_python_object)
    xlwings = importlib.import_module("xlwings")
    with _windows_ctypes():
        windows = importlib.import_module("xlwings._xlwindows")
    importlib.import_module("xlwings.udfs")
    # The lines of xlwings/__init__.py that run on Windows only.
    xlwings.engines.add(xlwings.main.Engine(impl=windows.engine))
    xlwings.engines.active = xlwings.engines["excel"]


@contextlib.contextmanager
def _windows_ctypes() -> Iterator[None]:
    """What ctypes has on Windows, while xlwings looks up functions of Windows that no formula calls."""
    library = SimpleNamespace(CLSIDFromString=lambda *_: None, PyCom_PyObjectFromIUnknown=SimpleNamespace())
    kept = ctypes.PyDLL
    ctypes.PyDLL = lambda *_: library  # type: ignore[misc,assignment]
    ctypes.windll = ctypes.oledll = SimpleNamespace(ole32=library)  # type: ignore[attr-defined]
    try:
        yield
    finally:
        ctypes.PyDLL = kept  # type: ignore[misc]
        del ctypes.windll, ctypes.oledll  # type: ignore[attr-defined]


def _module(name: str, **contents: object) -> None:
    if name not in sys.modules:
        module = ModuleType(name)
        module.__dict__.update(contents)
        sys.modules[name] = module
        parent, _, child = name.rpartition(".")
        if parent:
            setattr(sys.modules[parent], child, module)


def _no_wrapped_python_object(variant: object) -> object:
    raise TypeError(f"{variant!r} is no Python object that was handed to Excel before")
