"""The add-in, and any workbook with the functions inside, put together at the level of the file's parts.

Nothing but what must change is touched: every other part of the shell or workbook is byte for byte as it was.
"""

from __future__ import annotations

import io
import posixpath
import re
import zipfile
from collections.abc import Mapping
from html import escape, unescape
from typing import Literal

import xlwings

from evenheft import __version__
from evenheft.hosts.excel import CONFIGURATION, SERVED_MODULE
from evenheft.hosts.excel.project import (
    ADD_IN_SHELL,
    CONFIGURATION_CODE_NAME,
    VBA_PART,
    ProjectError,
    fresh_project,
    refreshed_project,
)

Kind = Literal["workbook", "template"]

CONFIGURATION_SHEET = f"{CONFIGURATION}.conf"
CONFIGURATION_PART = "xl/worksheets/evenheft_conf.xml"
VERSION_KEY = "Evenheft version"
LIBRARY_KEY = "xlwings version"
INTERPRETER_KEY = "Interpreter_Win"

_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_OFFICE_RELATIONSHIPS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_WORKBOOK_RELATIONSHIP = f"{_OFFICE_RELATIONSHIPS}/officeDocument"
_SHEET_RELATIONSHIP = f"{_OFFICE_RELATIONSHIPS}/worksheet"
_VBA_RELATIONSHIP = "http://schemas.microsoft.com/office/2006/relationships/vbaProject"
_SHEET_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"
_VBA_TYPE = "application/vnd.ms-office.vbaProject"
_MACRO_TYPES: dict[Kind, str] = {
    "workbook": "application/vnd.ms-excel.sheet.macroEnabled.main+xml",
    "template": "application/vnd.ms-excel.template.macroEnabled.main+xml",
}
_PLAIN_TYPES = frozenset(
    f"application/vnd.openxmlformats-officedocument.spreadsheetml.{kind}.main+xml" for kind in ("sheet", "template")
)
_TYPES_PART = "[Content_Types].xml"
_STAMP = (1980, 1, 1, 0, 0, 0)


class BookError(Exception):
    """A workbook that the functions cannot be put into; one line that goes on from its name."""


def build_add_in(interpreter: str | None = None) -> bytes:
    """The add-in, from xlwings' own shell for add-ins.

    Args:
        interpreter: the path of python.exe on the machine it is for, or None: each machine's own
            settings then name it, as `evenheft excel install` writes them [-].
    """
    content = ADD_IN_SHELL.read_bytes()
    parts = _Parts(content)
    shell_name = f'name="_{_shell_project_name(parts)}.conf"'
    workbook = _once(parts.text(parts.workbook), shell_name, f'name="{CONFIGURATION_SHEET}"')
    sheet = next(part for part in parts.names if part.startswith("xl/worksheets/"))
    shell_code_name = re.search(r'codeName="(\w+)"', parts.text(sheet))
    if shell_code_name is None:
        raise ProjectError("this version of xlwings is not the one that Evenheft was written for")
    return rewritten(
        content,
        {
            parts.workbook: workbook.encode(),
            sheet: configuration_sheet(interpreter),
            VBA_PART: fresh_project(),
        },
    )


def with_functions(content: bytes, *, kind: Kind = "workbook", interpreter: str | None = None) -> bytes:
    """A workbook's bytes with the functions inside, which then travel with it.

    Args:
        content: the bytes of an .xlsx or .xltx, or of an .xlsm that this function made before [-].
        kind: whether the result is a workbook (.xlsm) or a template (.xltm) [-].
        interpreter: see `build_add_in`; a path fits one machine only, so a workbook that travels has none [-].

    Raises:
        BookError: it is no workbook of these kinds, or has macros of its own.
    """
    try:
        parts = _Parts(content)
        if parts.workbook_type in _PLAIN_TYPES and VBA_PART not in parts.names:
            return rewritten(content, _added_functions(parts, kind, interpreter))
        if parts.workbook_type in _MACRO_TYPES.values():
            return rewritten(content, _refreshed_functions(content, parts, kind, interpreter))
    except ProjectError as error:
        raise BookError(str(error)) from None
    except (zipfile.BadZipFile, KeyError, UnicodeDecodeError):
        raise BookError("is damaged or is no workbook") from None
    raise BookError("is neither an .xlsx nor an .xlsm workbook")


def _added_functions(parts: _Parts, kind: Kind, interpreter: str | None) -> dict[str, bytes]:
    relationships = parts.relationships_of(parts.workbook)
    text = parts.text(relationships)
    sheet_id, vba_id = _fresh_ids(text, 2)
    text = _before_end(
        text,
        "Relationships",
        f'<Relationship Id="{sheet_id}" Type="{_SHEET_RELATIONSHIP}" Target="/{CONFIGURATION_PART}"/>'
        f'<Relationship Id="{vba_id}" Type="{_VBA_RELATIONSHIP}" Target="/{VBA_PART}"/>',
    )
    types = _with_workbook_type(parts, _MACRO_TYPES[kind])
    types = _before_end(
        types,
        "Types",
        f'<Override PartName="/{CONFIGURATION_PART}" ContentType="{_SHEET_TYPE}"/>'
        f'<Override PartName="/{VBA_PART}" ContentType="{_VBA_TYPE}"/>',
    )
    workbook = _with_sheet(parts.text(parts.workbook), sheet_id)
    return {
        _TYPES_PART: types.encode(),
        relationships: text.encode(),
        parts.workbook: _with_code_name(workbook).encode(),
        CONFIGURATION_PART: configuration_sheet(interpreter),
        VBA_PART: fresh_project(),
    }


def _refreshed_functions(content: bytes, parts: _Parts, kind: Kind, interpreter: str | None) -> dict[str, bytes]:
    if VBA_PART not in parts.names:
        raise BookError("says that it has macros and has none: save it as .xlsx first")
    project = refreshed_project(content)
    return {
        _TYPES_PART: _with_workbook_type(parts, _MACRO_TYPES[kind]).encode(),
        _sheet_part(parts, CONFIGURATION_SHEET): configuration_sheet(interpreter),
        VBA_PART: project,
    }


def configuration(content: bytes) -> dict[str, str]:
    """The settings inside a built add-in or workbook, by their names; empty where there are none."""
    try:
        parts = _Parts(content)
        text = parts.text(_sheet_part(parts, CONFIGURATION_SHEET))
        strings = _shared_strings(parts)
    except (zipfile.BadZipFile, KeyError, UnicodeDecodeError, BookError):
        return {}
    cells: dict[tuple[str, str], str] = {}
    for attributes, column, row, inside in re.findall(
        r'<(?:\w+:)?c\b((?=[^>]*\br="([A-Z]+)(\d+)")[^>]*[^>/])>(.*?)</(?:\w+:)?c>', text, re.DOTALL
    ):
        shown = re.search(r"<(?:\w+:)?[tv]\b[^>]*>([^<]*)<", inside)
        if shown is not None:
            value = unescape(shown[1])
            cells[column, row] = strings[int(value)] if 't="s"' in attributes else value
    return {value: cells[("B", row)] for (column, row), value in cells.items() if column == "A" and ("B", row) in cells}


def configuration_sheet(interpreter: str | None) -> bytes:
    """The hidden sheet that xlwings reads its settings from."""
    rows = {
        "UDF Modules": SERVED_MODULE,
        # Where a workbook lies is no business of Python's: not for libraries, and not on OneDrive, where
        # xlwings would have to find out what folder an https address stands for.
        "Add_Workbook_To_Pythonpath": "false",
        VERSION_KEY: __version__,
        LIBRARY_KEY: xlwings.__version__,
    }
    if interpreter:
        rows[INTERPRETER_KEY] = interpreter
    cells = "".join(
        f'<row r="{n}">{_text_cell(f"A{n}", key)}{_text_cell(f"B{n}", value)}</row>'
        for n, (key, value) in enumerate(rows.items(), start=1)
    )
    return (
        '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
        f'<worksheet xmlns="{_MAIN}"><sheetPr codeName="{CONFIGURATION_CODE_NAME}"/><dimension ref="A1:B{len(rows)}"/>'
        '<sheetViews><sheetView workbookViewId="0"/></sheetViews><sheetFormatPr defaultRowHeight="15"/>'
        '<cols><col min="1" max="1" width="32" customWidth="1"/><col min="2" max="2" width="60" customWidth="1"/></cols>'
        f"<sheetData>{cells}</sheetData>"
        '<pageMargins left="0.7" right="0.7" top="0.75" bottom="0.75" header="0.3" footer="0.3"/></worksheet>'
    ).encode()


def _text_cell(reference: str, text: str) -> str:
    return f'<c r="{reference}" t="inlineStr"><is><t xml:space="preserve">{escape(text)}</t></is></c>'


def rewritten(content: bytes, parts: Mapping[str, bytes]) -> bytes:
    """A package with some parts replaced or, at its end, added; all others byte for byte as they are."""
    target = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as source, zipfile.ZipFile(target, "w") as copy:
        left = dict(parts)
        for info in source.infolist():
            copy.writestr(info, left.pop(info.filename, None) or source.read(info), compress_type=info.compress_type)
        for name, data in left.items():
            added = zipfile.ZipInfo(name, _STAMP)
            copy.writestr(added, data, compress_type=zipfile.ZIP_DEFLATED)
    return target.getvalue()


class _Parts:
    """A package's parts, and where its workbook is."""

    def __init__(self, content: bytes) -> None:
        with zipfile.ZipFile(io.BytesIO(content)) as package:
            self._bytes = {name: package.read(name) for name in package.namelist()}
        self.names = self._bytes.keys()
        found = _relationship(self.text("_rels/.rels"), kind=_WORKBOOK_RELATIONSHIP)
        self.workbook = found["Target"].lstrip("/") if found else ""
        type_of_workbook = _overridden(self.text(_TYPES_PART), self.workbook)
        self.workbook_type = type_of_workbook["ContentType"] if type_of_workbook else ""

    def text(self, part: str) -> str:
        return self._bytes[part].decode("utf-8-sig")

    def relationships_of(self, part: str) -> str:
        folder, name = posixpath.split(part)
        return posixpath.join(folder, "_rels", f"{name}.rels")


def _attributes(element: str) -> dict[str, str]:
    return {name: unescape(value[1:-1]) for name, value in re.findall(r"([\w:]+)\s*=\s*(\"[^\"]*\"|'[^']*')", element)}


def _elements(text: str, name: str) -> list[str]:
    return re.findall(rf"<(?:\w+:)?{name}\b[^>]*>", text)


def _relationship(text: str, *, kind: str = "", identifier: str = "") -> dict[str, str] | None:
    for element in _elements(text, "Relationship"):
        found = _attributes(element)
        if (not kind or found.get("Type") == kind) and (not identifier or found.get("Id") == identifier):
            return found
    return None


def _overridden(types: str, part: str) -> dict[str, str] | None:
    for element in _elements(types, "Override"):
        found = _attributes(element)
        if found.get("PartName") == f"/{part}":
            return found
    return None


def _with_workbook_type(parts: _Parts, wanted: str) -> str:
    types = parts.text(_TYPES_PART)
    for element in _elements(types, "Override"):
        if _attributes(element).get("PartName") == f"/{parts.workbook}":
            return _once(types, element, element.replace(parts.workbook_type, wanted))
    raise BookError("is damaged: it does not tell what its parts are")


def _fresh_ids(relationships: str, count: int) -> list[str]:
    taken = {_attributes(element).get("Id") for element in _elements(relationships, "Relationship")}
    free = (f"rIdHeft{n}" for n in range(1, len(taken) + count + 1))
    return [identifier for identifier in free if identifier not in taken][:count]


def _before_end(text: str, element: str, added: str) -> str:
    """A text with elements added as the last children of another; they take the namespace prefix of their parent."""
    end = re.search(rf"</((?:\w+:)?){element}\s*>", text)
    if end is None:
        raise BookError(f"is damaged: its {element} have no end")
    prefixed = re.sub(r"<(?=\w)", f"<{end[1]}", added)
    return text[: end.start()] + prefixed + text[end.start() :]


def _with_sheet(workbook: str, relationship: str) -> str:
    sheets = [_attributes(element) for element in _elements(workbook, "sheet")]
    if any(sheet["name"].lower() == CONFIGURATION_SHEET for sheet in sheets):
        raise BookError(f"has a sheet named {CONFIGURATION_SHEET} already: rename it first")
    number = 1 + max((int(sheet["sheetId"]) for sheet in sheets), default=0)
    return _before_end(
        workbook,
        "sheets",
        f'<sheet xmlns:r="{_OFFICE_RELATIONSHIPS}" name="{CONFIGURATION_SHEET}" sheetId="{number}" state="hidden" '
        f'r:id="{relationship}"/>',
    )


def _with_code_name(workbook: str) -> str:
    """The workbook bound to the project's module ThisWorkbook."""
    found = re.search(r"<(?:\w+:)?workbookPr\b[^>]*>", workbook)
    if found is not None:
        element = re.sub(r"\s+codeName\s*=\s*(\"[^\"]*\"|'[^']*')", "", found[0])
        named = re.sub(r"(workbookPr)\b", r'\1 codeName="ThisWorkbook"', element, count=1)
        return workbook[: found.start()] + named + workbook[found.end() :]
    following = re.search(r"<((?:\w+:)?)(workbookProtection|bookViews|sheets)\b", workbook)
    if following is None:
        raise BookError("is damaged: it has no sheets")
    prefix, at = following[1], following.start()
    return f'{workbook[:at]}<{prefix}workbookPr codeName="ThisWorkbook"/>{workbook[at:]}'


def _sheet_part(parts: _Parts, name: str) -> str:
    workbook = parts.text(parts.workbook)
    for element in _elements(workbook, "sheet"):
        sheet = _attributes(element)
        if sheet["name"] == name:
            identifier = next(value for key, value in sheet.items() if key.endswith(":id"))
            found = _relationship(parts.text(parts.relationships_of(parts.workbook)), identifier=identifier)
            if found is not None:
                return posixpath.normpath(posixpath.join("/", posixpath.dirname(parts.workbook), found["Target"]))[1:]
    raise BookError(f"has macros but no sheet {name}: they are not Evenheft's")


def _shared_strings(parts: _Parts) -> list[str]:
    """The workbook's table of texts: Excel moves the settings there when it saves."""
    if "xl/sharedStrings.xml" not in parts.names:
        return []
    items = re.findall(r"<(?:\w+:)?si\b[^>]*>(.*?)</(?:\w+:)?si>", parts.text("xl/sharedStrings.xml"), re.DOTALL)
    return [unescape("".join(re.findall(r"<(?:\w+:)?t\b[^>]*>([^<]*)<", item))) for item in items]


def _shell_project_name(parts: _Parts) -> str:
    sheets = [_attributes(element)["name"] for element in _elements(parts.text(parts.workbook), "sheet")]
    if len(sheets) != 1 or not re.fullmatch(r"_\w+\.conf", sheets[0]):
        raise ProjectError("this version of xlwings is not the one that Evenheft was written for")
    return sheets[0][1:-5]


def _once(text: str, old: str, new: str) -> str:
    if text.count(old) != 1:
        raise BookError("is damaged: the same part is told of twice")
    return text.replace(old, new)
