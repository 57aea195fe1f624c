"""The add-in, and any workbook with the functions inside, put together at the level of the file's parts.

Nothing but what must change is touched: every other part of the shell or workbook is byte for byte as it was.
"""

from __future__ import annotations

import re
from typing import Literal

from evenheft.hosts.excel.building.configuration import SHEET, settings_sheet
from evenheft.hosts.excel.building.package import (
    OFFICE_RELATIONSHIPS,
    TYPES_PART,
    BookError,
    Parts,
    attributes,
    elements,
    free_identifiers,
    with_children,
)
from evenheft.hosts.excel.building.project import (
    ADD_IN_SHELL,
    OTHER_XLWINGS,
    VBA_PART,
    ProjectError,
    fresh_project,
    refreshed_project,
)
from evenheft.ooxml.zipped import rewritten

Kind = Literal["workbook", "template"]

SETTINGS_PART = "xl/worksheets/evenheft_conf.xml"

_SHEET_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"
_VBA_TYPE = "application/vnd.ms-office.vbaProject"
_VBA_RELATIONSHIP = "http://schemas.microsoft.com/office/2006/relationships/vbaProject"
_MACRO_TYPES: dict[Kind, str] = {
    "workbook": "application/vnd.ms-excel.sheet.macroEnabled.main+xml",
    "template": "application/vnd.ms-excel.template.macroEnabled.main+xml",
}
_PLAIN_TYPES = frozenset(
    f"application/vnd.openxmlformats-officedocument.spreadsheetml.{kind}.main+xml" for kind in ("sheet", "template")
)


def build_add_in(interpreter: str | None = None) -> bytes:
    """Build the add-in, from xlwings' own shell for add-ins.

    Args:
        interpreter: the path of python.exe on the machine it is for, or None: each machine's own
            settings then name it, as `evenheft excel install` writes them [-].

    Raises:
        ProjectError: the installed xlwings is not the one that this was written for.
    """
    content = ADD_IN_SHELL.read_bytes()
    parts = Parts(content)
    workbook = parts.text(parts.workbook)
    sheets = [attributes(tag)["name"] for tag in elements(workbook, "sheet")]
    part = parts.sheet_part(sheets[0]) if len(sheets) == 1 and sheets[0].endswith(".conf") else None
    if part is None:
        raise ProjectError(OTHER_XLWINGS)
    renamed = workbook.replace(f'name="{sheets[0]}"', f'name="{SHEET}"')
    return rewritten(
        content,
        {parts.workbook: renamed.encode(), part: settings_sheet(interpreter), VBA_PART: fresh_project()},
    )


def with_functions(content: bytes, *, kind: Kind = "workbook", interpreter: str | None = None) -> bytes:
    """Put the functions into a workbook, which then carries them with it.

    Args:
        content: the bytes of an .xlsx or .xltx, or of an .xlsm or .xltm that this function made before and
            whose functions are brought up to date [-].
        kind: whether the result is a workbook (.xlsm) or a template (.xltm) [-].
        interpreter: see `build_add_in`; a path fits one machine only, so a workbook that travels has none [-].

    Raises:
        BookError: it is no workbook of these kinds, or has macros of its own.
    """
    parts = Parts(content)
    try:
        if parts.workbook_type in _PLAIN_TYPES:
            return rewritten(content, _added_functions(parts, kind, interpreter))
        if parts.workbook_type in _MACRO_TYPES.values():
            return rewritten(content, _refreshed_functions(content, parts, kind, interpreter))
    except ProjectError as error:
        raise BookError(str(error)) from None
    raise BookError("is neither an .xlsx nor an .xlsm workbook")


def _added_functions(parts: Parts, kind: Kind, interpreter: str | None) -> dict[str, bytes]:
    if VBA_PART in parts.names or SETTINGS_PART in parts.names:
        raise BookError("holds macros under the name of a workbook without: save it anew first")
    relationships = parts.text(parts.workbook_relationships)
    sheet_id, vba_id = free_identifiers(relationships, 2)
    workbook = _with_code_name(_with_settings_sheet(parts.text(parts.workbook), sheet_id))
    types = with_children(
        _with_workbook_type(parts, kind),
        "Types",
        f'<Override PartName="/{SETTINGS_PART}" ContentType="{_SHEET_TYPE}"/>'
        f'<Override PartName="/{VBA_PART}" ContentType="{_VBA_TYPE}"/>',
    )
    relationships = with_children(
        relationships,
        "Relationships",
        f'<Relationship Id="{sheet_id}" Type="{OFFICE_RELATIONSHIPS}/worksheet" Target="/{SETTINGS_PART}"/>'
        f'<Relationship Id="{vba_id}" Type="{_VBA_RELATIONSHIP}" Target="/{VBA_PART}"/>',
    )
    return {
        TYPES_PART: types.encode(),
        parts.workbook_relationships: relationships.encode(),
        parts.workbook: workbook.encode(),
        SETTINGS_PART: settings_sheet(interpreter),
        VBA_PART: fresh_project(),
    }


def _refreshed_functions(content: bytes, parts: Parts, kind: Kind, interpreter: str | None) -> dict[str, bytes]:
    if VBA_PART not in parts.names:
        raise BookError("is of the kind with macros and has none: save it as .xlsx first")
    project = refreshed_project(content)
    part = parts.sheet_part(SHEET)
    if part is None:
        raise BookError(f"has lost its sheet {SHEET}: put the functions into the .xlsx that it came from")
    return {
        TYPES_PART: _with_workbook_type(parts, kind).encode(),
        part: settings_sheet(interpreter),
        VBA_PART: project,
    }


def _with_workbook_type(parts: Parts, kind: Kind) -> str:
    """Rewrite the list of types with the workbook's own told as one with macros."""
    types = parts.text(TYPES_PART)
    for tag in elements(types, "Override"):
        if attributes(tag).get("PartName") == f"/{parts.workbook}":
            return types.replace(tag, tag.replace(parts.workbook_type, _MACRO_TYPES[kind]), 1)
    raise BookError("is damaged: it does not tell what its parts are")


def _with_settings_sheet(workbook: str, relationship: str) -> str:
    """Add the hidden sheet as the workbook's last: the places of the others, which names go by, stay."""
    sheets = [attributes(tag) for tag in elements(workbook, "sheet")]
    if any(sheet.get("name", "").lower() == SHEET for sheet in sheets):
        raise BookError(f"has a sheet named {SHEET} already: rename it first")
    number = 1 + max((int(sheet.get("sheetId", "0")) for sheet in sheets), default=0)
    return with_children(
        workbook,
        "sheets",
        f'<sheet xmlns:r="{OFFICE_RELATIONSHIPS}" name="{SHEET}" sheetId="{number}" state="hidden" '
        f'r:id="{relationship}"/>',
    )


def _with_code_name(workbook: str) -> str:
    """Bind the workbook's part to the project's module ThisWorkbook."""
    tags = elements(workbook, "workbookPr")
    if tags:
        unnamed = re.sub(r"\s+codeName\s*=\s*(\"[^\"]*\"|'[^']*')", "", tags[0])
        return workbook.replace(tags[0], re.sub(r"workbookPr\b", r'\g<0> codeName="ThisWorkbook"', unnamed, count=1), 1)
    following = re.search(r"<((?:\w+:)?)(workbookProtection|bookViews|sheets)\b", workbook)
    if following is None:
        raise BookError("is damaged: it has no sheets")
    at = following.start()
    return f'{workbook[:at]}<{following[1]}workbookPr codeName="ThisWorkbook"/>{workbook[at:]}'
