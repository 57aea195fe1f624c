"""The hidden sheet from which xlwings' VBA reads its settings, written and read back."""

from __future__ import annotations

from html import escape
from importlib.metadata import version

from evenheft import __version__
from evenheft.hosts.excel import CONFIGURATION
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.package import CheckedPackage
from evenheft.ooxml.reading import read_sheet

CONFIGURATION_SHEET = f"{CONFIGURATION}.conf"
CODE_NAME = "evenheft_conf"
"""The sheet's name inside the VBA project: like no sheet's own (Sheet1, Tabelle1 ...)."""

VERSION_KEY = "Evenheft version"
LIBRARY_KEY = "xlwings version"
INTERPRETER_KEY = "Interpreter_Win"

_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"


def settings_sheet(interpreter: str | None) -> bytes:
    """Write the sheet's part.

    Args:
        interpreter: the path of the python.exe that answers, or None to leave that to each machine's own
            settings: a line without a value would keep xlwings from looking there [-].
    """
    rows = {VERSION_KEY: __version__, LIBRARY_KEY: version("xlwings")}
    if interpreter:
        rows[INTERPRETER_KEY] = interpreter
    cells = "".join(
        f'<row r="{n}">{_text_cell(f"A{n}", key)}{_text_cell(f"B{n}", value)}</row>'
        for n, (key, value) in enumerate(rows.items(), start=1)
    )
    return (
        '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
        f'<worksheet xmlns="{_MAIN}"><sheetPr codeName="{CODE_NAME}"/><dimension ref="A1:B{len(rows)}"/>'
        '<sheetViews><sheetView workbookViewId="0"/></sheetViews><sheetFormatPr defaultRowHeight="15"/>'
        '<cols><col min="1" max="1" width="32" customWidth="1"/>'
        '<col min="2" max="2" width="60" customWidth="1"/></cols>'
        f"<sheetData>{cells}</sheetData>"
        '<pageMargins left="0.7" right="0.7" top="0.75" bottom="0.75" header="0.3" footer="0.3"/></worksheet>'
    ).encode()


def read_settings(content: bytes) -> dict[str, str]:
    """Read the settings inside a built add-in or workbook, by their names; none where it has no such sheet.

    Args:
        content: the file's bytes [-].
    """
    try:
        with CheckedPackage(content, name="the add-in", add_in=True) as package:
            if package.find_sheet(CONFIGURATION_SHEET) is None:
                return {}
            held = read_sheet(package, CONFIGURATION_SHEET)
    except Refused:
        return {}
    rows = {row: str(key) for (row, column), key in held.values.items() if column == 1}
    return {key: str(held.values[row, 2]) for row, key in rows.items() if (row, 2) in held.values}


def _text_cell(reference: str, text: str) -> str:
    return f'<c r="{reference}" t="inlineStr"><is><t xml:space="preserve">{escape(text)}</t></is></c>'
