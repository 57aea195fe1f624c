"""The add-in, and any workbook with the functions inside, put together at the level of the file's parts.

Nothing but what must change is touched: every other part of the shell or workbook is byte for byte as it was.
"""

from __future__ import annotations

import re
from typing import Literal

from evenheft.hosts.excel.building.configuration import CONFIGURATION_SHEET, settings_sheet
from evenheft.hosts.excel.building.described import with_described_arguments
from evenheft.hosts.excel.building.project import (
    ADD_IN_SHELL,
    OTHER_XLWINGS,
    VBA_PART,
    ProjectError,
    fresh_project,
    refreshed_project,
)
from evenheft.ooxml.markup import (
    OFFICE_RELATIONSHIPS,
    TYPES_PART,
    attributes,
    elements,
    free_identifiers,
    with_children,
)
from evenheft.ooxml.package import CheckedPackage
from evenheft.ooxml.relationships import relationships_part
from evenheft.ooxml.rewriting import rewritten
from evenheft.ooxml.values import whole_number

BookKind = Literal["workbook", "template"]

SETTINGS_PART = "xl/worksheets/evenheft_conf.xml"

_SHEET_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"
_VBA_TYPE = "application/vnd.ms-office.vbaProject"
_VBA_RELATIONSHIP = "http://schemas.microsoft.com/office/2006/relationships/vbaProject"
_PROPERTIES_PART = "docProps/core.xml"
_SAVED_WHERE = re.compile(
    r"<mc:AlternateContent\b[^>]*>(?:(?!</mc:AlternateContent>).)*absPath.*?</mc:AlternateContent>"
)
_SAVED_BY = re.compile(r"(<(?:dc:creator|cp:lastModifiedBy)>)[^<]*(</)")
"""The shell's own: the folder it was saved in, and who saved it."""
_MACRO_TYPES: dict[BookKind, str] = {
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
    with CheckedPackage(ADD_IN_SHELL.read_bytes(), name=ADD_IN_SHELL.name, add_in=True) as shell:
        workbook = shell.text(shell.workbook_part)
        if len(shell.sheets) != 1 or not shell.sheets[0].name.endswith(".conf"):
            raise ProjectError(OTHER_XLWINGS)
        (sheet,) = shell.sheets
        renamed = workbook.replace(f'name="{sheet.name}"', f'name="{CONFIGURATION_SHEET}"')
        return rewritten(
            shell,
            {
                shell.workbook_part: with_described_arguments(_SAVED_WHERE.sub("", renamed)).encode(),
                sheet.part: settings_sheet(interpreter),
                VBA_PART: fresh_project(),
                _PROPERTIES_PART: _SAVED_BY.sub(r"\g<1>Evenheft\g<2>", shell.text(_PROPERTIES_PART)).encode(),
            },
        )


def with_functions(package: CheckedPackage, *, kind: BookKind = "workbook", interpreter: str | None = None) -> bytes:
    """Return a workbook with the functions inside, which then travel with it.

    Args:
        package: an .xlsx or .xltx, or an .xlsm or .xltm that this function made before and whose functions are
            brought up to date [-].
        kind: whether the result is a workbook (.xlsm) or a template (.xltm) [-].
        interpreter: see `build_add_in`; a path fits one machine only, so a workbook that travels has none [-].

    Raises:
        Refused: it is no workbook of these kinds, or has macros of its own.
    """
    try:
        if _type_of(package) in _PLAIN_TYPES:
            return rewritten(package, _added_functions(package, kind, interpreter))
        if _type_of(package) in _MACRO_TYPES.values():
            return rewritten(package, _refreshed_functions(package, kind, interpreter))
    except ProjectError as error:
        package.refuse(str(error))
    return package.refuse("is neither an .xlsx nor an .xlsm workbook")


def _type_of(package: CheckedPackage) -> str:
    return package.content_type(package.workbook_part)


def _added_functions(package: CheckedPackage, kind: BookKind, interpreter: str | None) -> dict[str, bytes]:
    if VBA_PART in package.entries or SETTINGS_PART in package.entries:
        package.refuse("holds macros under the name of a workbook without: save it anew first")
    listed = package.part_named(relationships_part(package.workbook_part))
    relationships = package.text(listed)
    sheet_id, vba_id = free_identifiers(relationships, 2)
    workbook = _with_code_name(package, _with_settings_sheet(package, sheet_id))
    types = with_children(
        _with_workbook_type(package, kind),
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
        listed: relationships.encode(),
        package.workbook_part: with_described_arguments(workbook).encode(),
        SETTINGS_PART: settings_sheet(interpreter),
        VBA_PART: fresh_project(),
    }


def _refreshed_functions(package: CheckedPackage, kind: BookKind, interpreter: str | None) -> dict[str, bytes]:
    if VBA_PART not in package.entries:
        package.refuse("is of the kind with macros and has none: save it as .xlsx first")
    project = refreshed_project(package.content)
    sheet = package.find_sheet(CONFIGURATION_SHEET)
    if sheet is None:
        package.refuse(f"has lost its sheet {CONFIGURATION_SHEET}: put the functions into the .xlsx that it came from")
    return {
        TYPES_PART: _with_workbook_type(package, kind).encode(),
        package.workbook_part: with_described_arguments(package.text(package.workbook_part)).encode(),
        sheet.part: settings_sheet(interpreter),
        VBA_PART: project,
    }


def _with_workbook_type(package: CheckedPackage, kind: BookKind) -> str:
    """Return the list of types with the workbook's own told as one with macros."""
    types = package.text(TYPES_PART)
    for tag in elements(types, "Override"):
        if attributes(tag).get("PartName") == f"/{package.workbook_part}":
            return types.replace(tag, tag.replace(_type_of(package), _MACRO_TYPES[kind]), 1)
    return package.refuse("is damaged: it does not tell what its parts are")


def _with_settings_sheet(package: CheckedPackage, relationship: str) -> str:
    """Return the workbook's part with the hidden sheet as its last:
    the places of the others, which names go by, stay.
    """
    workbook = package.text(package.workbook_part)
    sheets = [attributes(tag) for tag in elements(workbook, "sheet")]
    if any(sheet.get("name", "").lower() == CONFIGURATION_SHEET for sheet in sheets):
        package.refuse(f"has a sheet named {CONFIGURATION_SHEET} already: rename it first")
    number = 1 + max((whole_number(sheet.get("sheetId")) for sheet in sheets), default=0)
    return with_children(
        workbook,
        "sheets",
        f'<sheet xmlns:r="{OFFICE_RELATIONSHIPS}" name="{CONFIGURATION_SHEET}" sheetId="{number}" state="hidden" '
        f'r:id="{relationship}"/>',
    )


def _with_code_name(package: CheckedPackage, workbook: str) -> str:
    """Return the workbook's part bound to the project's module ThisWorkbook."""
    tags = elements(workbook, "workbookPr")
    if tags:
        unnamed = re.sub(r"\scodeName\s*=\s*(\"[^\"]*\"|'[^']*')", "", tags[0])
        return workbook.replace(tags[0], re.sub(r"workbookPr\b", r'\g<0> codeName="ThisWorkbook"', unnamed, count=1), 1)
    following = re.search(r"<((?:\w+:)?)(workbookProtection|bookViews|sheets)\b", workbook)
    if following is None:
        package.refuse("is damaged: it has no sheets")
    at = following.start()
    return f'{workbook[:at]}<{following[1]}workbookPr codeName="ThisWorkbook"/>{workbook[at:]}'
