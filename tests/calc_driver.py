"""Drives one LibreOffice over UNO, told what to do by lines of JSON; run by LibreOffice's Python, not by pytest's.

Each line in is {"do": name, ...}; each line out is {"ok": result} or {"failed": text}. The other end is
calc_office.py, which says what each command is for.
"""

from __future__ import annotations

import json
import re
import sys
import time
import traceback
from typing import Any

import uno
from com.sun.star.beans import PropertyValue
from com.sun.star.sheet.FillDirection import TO_BOTTOM

FILTERS = {
    ".xlsx": "Calc MS Excel 2007 XML",
    ".xltx": "Calc MS Excel 2007 XML Template",
    ".ods": "calc8",
    ".csv": "Text - txt - csv (StarCalc)",
    ".pdf": "calc_pdf_Export",
}


_PADDING = 70
"""White left and right of a cell's text together [0.01 mm]."""
_SPACE, _LINE = 0.28, 1.16
"""A blank's width and a line's height, in heights of the type (Liberation Sans)."""
_POINT = 35.28
"""[0.01 mm]."""
_HYPHEN = re.compile(r"(?<=\w)-(?=\w)")
"""Where a word may be broken."""
_WHOLE_FORMAT = 0
"""The number format General, which shows as many digits as there is room for."""


class _Text:
    """A text in a cell, and the room that it has."""

    def __init__(self, sheet: Any, cell: Any) -> None:
        self.text, self.at = cell.String, cell.AbsoluteName.rpartition(".")[2].replace("$", "")
        self.look = (cell.CharHeight, cell.CharWeight)
        cursor = sheet.createCursorByRange(cell)
        cursor.collapseToMergedArea()
        area = cursor.RangeAddress
        wide = sum(_width(sheet, n) for n in range(area.StartColumn, area.EndColumn + 1))
        high = sum(sheet.Rows.getByIndex(n).Height for n in range(area.StartRow, area.EndRow + 1))
        wrapped, turned = cell.IsTextWrapped, cell.RotateAngle == 9000
        if not wrapped and not turned and cell.HoriJustify.value in ("LEFT", "STANDARD"):
            wide += _empty_after(sheet, area.EndColumn, area.StartRow)
        self.wide, self.high = (high, wide) if turned else (wide, high)
        parts = self.text.split("\n")
        self.lines = [_HYPHEN.sub("- ", part).split(" ") if wrapped else [part] for part in parts]

    def fits(self, widths: dict[tuple[str, float, float], int]) -> bool:
        room, lines = self.wide - _PADDING, 0
        for words in self.lines:
            used, lines = 0.0, lines + 1
            for word in words:
                width = widths[word, *self.look]
                if width > room + 20:
                    return False
                if used and used + _SPACE * self.look[0] * _POINT + width > room + 20:
                    used, lines = 0.0, lines + 1
                used += width + (_SPACE * self.look[0] * _POINT if used else 0)
        return lines * self.look[0] * _LINE * _POINT <= self.high + 60


def _width(sheet: Any, column: int) -> int:
    found = sheet.Columns.getByIndex(column)
    return int(found.Width) if found.IsVisible else 0


def _empty_after(sheet: Any, column: int, row: int) -> int:
    """How much further a text may run: over the cells to its right that hold nothing [0.01 mm]."""
    width = 0
    for n in range(column + 1, column + 60):
        if sheet.getCellByPosition(n, row).Type.value != "EMPTY":
            break
        width += _width(sheet, n)
    return width


def _texts(sheet: Any, at: str) -> list[_Text]:
    area = sheet.getCellRangeByName(at)
    size = area.RangeAddress
    rows = [n for n in range(size.StartRow, size.EndRow + 1) if sheet.Rows.getByIndex(n).IsVisible]
    columns = [n for n in range(size.StartColumn, size.EndColumn + 1) if sheet.Columns.getByIndex(n).IsVisible]
    data = area.getDataArray()
    found = []
    for row in rows:
        for column in columns:
            value = data[row - size.StartRow][column - size.StartColumn]
            if value == "" or value is None or str(value).startswith("! "):
                continue
            cell = sheet.getCellByPosition(column, row)
            if isinstance(value, float) and cell.NumberFormat == _WHOLE_FORMAT:
                continue
            found.append(_Text(sheet, cell))
    return found


class Driver:
    """The commands."""

    def __init__(self, pipe: str) -> None:
        local = uno.getComponentContext()
        resolver = local.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", local)
        self.context = _patiently(lambda: resolver.resolve(f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext"))
        self.manager = self.context.ServiceManager
        self.desktop = self._service("com.sun.star.frame.Desktop")
        self._say_yes_to_overwriting()
        self.documents: dict[int, Any] = {}
        self.next = 1

    def _service(self, name: str) -> Any:
        return self.manager.createInstanceWithContext(name, self.context)

    def _say_yes_to_overwriting(self) -> None:
        # Calc asks before it pastes over cells that are not empty; here nobody is there to answer.
        provider = self._service("com.sun.star.configuration.ConfigurationProvider")
        node = PropertyValue()
        node.Name, node.Value = "nodepath", "/org.openoffice.Office.Calc/Input"
        settings = provider.createInstanceWithArguments("com.sun.star.configuration.ConfigurationUpdateAccess", (node,))
        settings.setPropertyValue("ReplaceCellsWarning", False)
        settings.commitChanges()

    def open(self, path: str | None = None, as_template: bool = False) -> int:
        url = uno.systemPathToFileUrl(path) if path else "private:factory/scalc"
        options = {"Hidden": True, "AsTemplate": as_template, "MacroExecutionMode": 0}
        document = self.desktop.loadComponentFromURL(url, "_blank", 0, _properties(options))
        if document is None:
            raise RuntimeError(f"LibreOffice does not open {path}")
        number, self.next = self.next, self.next + 1
        self.documents[number] = document
        return number

    def close(self, document: int) -> None:
        self.documents.pop(document).close(True)

    def sheets(self, document: int) -> list[str]:
        return list(self.documents[document].Sheets.ElementNames)

    def names(self, document: int) -> dict[str, str]:
        return {entry.Name: entry.Content for entry in self.documents[document].NamedRanges}

    def type(self, document: int, sheet: str, cell: str, text: str) -> None:
        # As from the keyboard: through the same command that ends an entry with the Enter key.
        controller = self.documents[document].CurrentController
        controller.setActiveSheet(self.documents[document].Sheets.getByName(sheet))
        dispatcher = self._service("com.sun.star.frame.DispatchHelper")
        dispatcher.executeDispatch(controller.Frame, ".uno:GoToCell", "", 0, _properties({"ToPoint": cell}))
        dispatcher.executeDispatch(controller.Frame, ".uno:EnterString", "", 0, _properties({"StringName": text}))

    def gesture(self, document: int, sheet: str, at: str, command: str, arguments: dict[str, Any]) -> None:
        # As a person does it: cells are chosen, then a command of the menu is given.
        controller = self.documents[document].CurrentController
        controller.setActiveSheet(self.documents[document].Sheets.getByName(sheet))
        dispatcher = self._service("com.sun.star.frame.DispatchHelper")
        dispatcher.executeDispatch(controller.Frame, ".uno:GoToCell", "", 0, _properties({"ToPoint": at}))
        dispatcher.executeDispatch(controller.Frame, f".uno:{command}", "", 0, _properties(arguments))

    def drag(self, document: int, sheet: str, at: str, to: str) -> None:
        found = self.documents[document].Sheets.getByName(sheet)
        target = found.getCellRangeByName(to).getCellByPosition(0, 0).getCellAddress()
        found.moveRange(target, found.getCellRangeByName(at).getRangeAddress())

    def unprotect(self, document: int, sheet: str) -> None:
        self.documents[document].Sheets.getByName(sheet).unprotect("")

    def put(self, document: int, sheet: str, at: str, rows: list[list[Any]]) -> None:
        target = self._range(document, sheet, at)
        formulas = [
            (r, c, content)
            for r, row in enumerate(rows)
            for c, content in enumerate(row)
            if isinstance(content, str) and content.startswith("=")
        ]
        target.setDataArray(tuple(tuple("" if cell is None else cell for cell in row) for row in rows))
        for r, c, formula in formulas:
            target.getCellByPosition(c, r).setFormula(formula)

    def fill_down(self, document: int, sheet: str, at: str, formula: str) -> None:
        target = self._range(document, sheet, at)
        target.getCellByPosition(0, 0).setFormula(formula)
        target.fillAuto(TO_BOTTOM, 1)

    def values_only(self, document: int) -> None:
        for sheet in self.documents[document].Sheets:
            was_protected = sheet.isProtected()
            if was_protected:
                sheet.unprotect("")
            for area in list(sheet.queryContentCells(16)):  # com.sun.star.sheet.CellFlags.FORMULA
                area.setDataArray(area.getDataArray())
            if was_protected:
                sheet.protect("")

    def put_array(self, document: int, sheet: str, at: str, formula: str) -> None:
        self._range(document, sheet, at).setArrayFormula(formula)

    def clear(self, document: int, sheet: str, at: str) -> None:
        self._range(document, sheet, at).clearContents(1023)

    def read(self, document: int, sheet: str, at: str) -> list[list[Any]]:
        found = self._range(document, sheet, at)
        rows = [list(row) for row in found.getDataArray()]
        for r, formulas in enumerate(found.getFormulaArray()):
            for c, formula in enumerate(formulas):
                if rows[r][c] is None:  # Calc has no other way to tell an error here
                    rows[r][c] = {"error": found.getCellByPosition(c, r).String}
                elif formula == "" and rows[r][c] == "":
                    rows[r][c] = None
        return rows

    def shown(self, document: int, sheet: str, at: str) -> list[list[str]]:
        found = self._range(document, sheet, at)
        size = found.RangeAddress
        rows, columns = size.EndRow - size.StartRow + 1, size.EndColumn - size.StartColumn + 1
        return [[found.getCellByPosition(c, r).String for c in range(columns)] for r in range(rows)]

    def formula(self, document: int, sheet: str, cell: str) -> str:
        return str(self._range(document, sheet, cell).getCellByPosition(0, 0).FormulaLocal)

    def protected(self, document: int, sheet: str, cell: str) -> bool:
        found = self._range(document, sheet, cell).getCellByPosition(0, 0)
        return bool(found.CellProtection.IsLocked and self.documents[document].Sheets.getByName(sheet).isProtected())

    def formulas(self, document: int, contains: str = "") -> list[list[str]]:
        found = []
        for sheet in self.documents[document].Sheets:
            for area in sheet.queryContentCells(16).Cells:  # com.sun.star.sheet.CellFlags.FORMULA
                place = area.AbsoluteName.rpartition(".")[2].replace("$", "")
                found += [[sheet.Name, place, area.FormulaLocal]] if contains in area.FormulaLocal else []
        return found

    def calculate(self, document: int, everything: bool = False) -> float:
        run = self.documents[document].calculateAll if everything else self.documents[document].calculate
        begun = time.perf_counter()
        run()
        return time.perf_counter() - begun

    def recompute(self, document: int, sheet: str, at: str, change: str, value: float) -> float:
        # Calc computes an array formula as soon as one of its inputs changes, and cells when it is told to: both are
        # inside the time, and so is a look at the first and the last answer.
        changed = self._range(document, sheet, change).getCellByPosition(0, 0)
        found = self._range(document, sheet, at)
        size = found.RangeAddress
        ends = [found.getCellByPosition(0, row) for row in (0, size.EndRow - size.StartRow)]
        begun = time.perf_counter()
        changed.setValue(value)
        self.documents[document].calculate()
        for cell in ends:
            cell.getValue()
        return time.perf_counter() - begun

    def automatic(self, document: int, on: bool) -> None:
        self.documents[document].enableAutomaticCalculation(on)

    def save(self, document: int, path: str) -> None:
        suffix = path[path.rindex(".") :]
        options = {"FilterName": FILTERS[suffix], "Overwrite": True}
        self.documents[document].storeToURL(uno.systemPathToFileUrl(path), _properties(options))

    def print_sheet(self, document: int, sheet: str, path: str, area: str = "") -> None:
        found = self.documents[document]
        whole = found.Sheets.getByName(sheet)
        chosen = _properties({"Selection": whole.getCellRangeByName(area) if area else whole})
        data = uno.Any("[]com.sun.star.beans.PropertyValue", chosen)
        filtered = PropertyValue()
        filtered.Name = "FilterData"
        filtered.Value = data
        options = (*_properties({"FilterName": FILTERS[".pdf"], "Overwrite": True}), filtered)
        found.storeToURL(uno.systemPathToFileUrl(path), options)

    def print_all(self, document: int, path: str) -> None:
        found = self.documents[document]
        options = _properties({"FilterName": FILTERS[".pdf"], "Overwrite": True})
        found.storeToURL(uno.systemPathToFileUrl(path), options)

    def cut_off(self, document: int, sheet: str, at: str) -> list[list[str]]:
        # What does not fit its cell, measured by Calc itself: each piece of text in a column of its own, made as wide
        # as it needs to be.
        found = self.documents[document]
        cells = [cell for cell in _texts(found.Sheets.getByName(sheet), at) if cell.lines]
        pieces = sorted({(word, *cell.look) for cell in cells for line in cell.lines for word in line})
        widths = self._widths(found, pieces)
        return [[cell.at, cell.text] for cell in cells if not cell.fits(widths)]

    def _widths(self, document: Any, pieces: list[tuple[str, float, float]]) -> dict[tuple[str, float, float], int]:
        sheets = document.Sheets
        sheets.insertNewByName("measuring", sheets.Count)
        scratch = sheets.getByName("measuring")
        for column, (text, height, weight) in enumerate(pieces):
            cell = scratch.getCellByPosition(column, 0)
            cell.CharFontName, cell.CharHeight, cell.CharWeight = "Liberation Sans", height, weight
            cell.String = text
        # What Calc adds to a text is what two that differ by their length alone have in common.
        for column, text in enumerate(("MMMM", "MMMMMMMM"), start=len(pieces)):
            scratch.getCellByPosition(column, 0).String = text
        scratch.Columns.OptimalWidth = True
        wide = [scratch.Columns.getByIndex(n).Width for n in range(len(pieces) + 2)]
        added = 2 * wide[-2] - wide[-1]
        found = {piece: width - added for piece, width in zip(pieces, wide, strict=False)}
        sheets.removeByName("measuring")
        return found

    def functions(self, begin: str) -> dict[str, Any]:
        described = {}
        descriptions = self._service("com.sun.star.sheet.FunctionDescriptions")
        for index in range(descriptions.Count):
            entry = {item.Name: item.Value for item in descriptions.getByIndex(index)}
            if entry["Name"].startswith(begin):
                arguments = [[a.Name, a.Description] for a in entry["Arguments"] or ()]
                described[entry["Name"]] = {
                    "help": entry["Description"], "category": entry["Category"], "arguments": arguments,
                }  # fmt: skip
        return described

    def quit(self) -> None:
        for number in list(self.documents):
            self.close(number)
        try:
            self.desktop.terminate()
        except Exception:  # the connection ends with the program
            return

    def _range(self, document: int, sheet: str, at: str) -> Any:
        return self.documents[document].Sheets.getByName(sheet).getCellRangeByName(at)


def _properties(values: dict[str, Any]) -> tuple[Any, ...]:
    made = []
    for name, value in values.items():
        entry = PropertyValue()
        entry.Name, entry.Value = name, value
        made.append(entry)
    return tuple(made)


def _patiently(connect: Any, seconds: float = 60) -> Any:
    end = time.monotonic() + seconds
    while True:
        try:
            return connect()
        except Exception:
            if time.monotonic() > end:
                raise
            time.sleep(0.1)


def main() -> None:
    driver = Driver(sys.argv[1])
    print(json.dumps({"ok": "ready"}), flush=True)
    for line in sys.stdin:
        request = json.loads(line)
        name = request.pop("do")
        try:
            answer = {"ok": getattr(driver, name)(**request)}
        except Exception:
            answer = {"failed": traceback.format_exc()}
        print(json.dumps(answer), flush=True)
        if name == "quit":
            return


if __name__ == "__main__":
    main()
