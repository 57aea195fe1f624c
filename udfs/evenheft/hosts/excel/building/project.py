"""The VBA project with the functions inside, put together from the one that xlwings ships.

This is the only module that knows pyOpenVBA, which is young and pinned exactly.
"""

from __future__ import annotations

import io
import re
import tempfile
import zipfile
from pathlib import Path

import pyopenvba
import xlwings

from evenheft.hosts.excel import CONFIGURATION
from evenheft.hosts.excel.building.configuration import CODE_NAME
from evenheft.hosts.excel.functions.vba import OPENING_MODULE, WRAPPER_MODULE, opening_module, wrapper_module
from evenheft.ooxml.errors import Refused

VBA_PART = "xl/vbaProject.bin"
XLWINGS_MODULE = "xlwings"

OTHER_XLWINGS = "this version of xlwings is not the one that Evenheft was written for: install Evenheft again"

NEEDED = frozenset(
    """
    XLPy XLPyCommand XLPyLoadDLL GetConfig GetConfigFromSheet GetConfigFromFile GetConfigFilePath
    GetDirectoryConfigFilePath GetDirectoryPath GetDirectory GetFullName GetUdfModules GetMacDir FileExists
    FileExistsOnWindows FileOrFolderExistsOnMac ParentFolder SheetExists ExpandEnvironmentStrings WScript
    """.split()  # noqa: SIM905  a list of quoted names would be hard to read
)
"""The procedures of xlwings' module that a formula needs, and those that they call."""

_PROCEDURE = re.compile(r"\s*(?:(?:Public|Private|Static)\s+)*(?:Function|Sub)\s+(\w+)")
_END_OF_PROCEDURE = re.compile(r"\s*End (?:Function|Sub)\b")
_DECLARED = re.compile(r"(?m)^(\s*)Declare\b")

_SHELLS = Path(xlwings.__file__).parent
ADD_IN_SHELL = _SHELLS / "quickstart_addin.xlam"
WORKBOOK_SHELL = _SHELLS / "quickstart_standalone.xlsm"


class ProjectError(Refused):
    """The VBA project could not be put together or changed; one line."""


def fresh_project() -> bytes:
    """Build the VBA project that xlwings ships for a workbook, with the functions put in.

    The add-in is given the same one: there xlwings reads the settings of its own file only,
    where its project for add-ins would let the active workbook name the program to be run.
    """
    return _with_functions(WORKBOOK_SHELL.read_bytes(), fresh=True)


def refreshed_project(workbook: bytes) -> bytes:
    """Rebuild the VBA project of a workbook that Evenheft built, with its functions as they are now.

    Args:
        workbook: the bytes of an .xlsm that holds one [-].

    Raises:
        ProjectError: it holds macros that are not Evenheft's, or is damaged or locked.
    """
    return _with_functions(workbook, fresh=False)


def adapted_xlwings(source: str) -> str:
    """Adapt the VBA of xlwings: as far as a formula needs it and no cell can misuse it.

    Every formula of every workbook can call a public function of a loaded add-in, without its macros being asked
    about. xlwings' module has functions that run Python code, start programs, and read and write files: they are
    taken out, what calls its library is made private, and the module itself is private to the project.

    Besides, its settings go by our name, and our check comes before Python is called.

    Args:
        source: the module `xlwings` of its shell for workbooks [-].

    Raises:
        ProjectError: it is not the module that this version was written for.
    """
    adapted = _DECLARED.sub(r"\1Private Declare", _needed_procedures(source.replace("\r\n", "\n")))
    for old, new in (
        ('Attribute VB_Name = "xlwings"\n', 'Attribute VB_Name = "xlwings"\nOption Private Module\n'),
        ('PROJECT_NAME As String = "xlwings"', f'PROJECT_NAME As String = "{CONFIGURATION}"'),
        ("Private Sub XLPyLoadDLL()\n", "Private Sub XLPyLoadDLL()\n    HeftNeedPython\n"),
        # -P: a file of Python's that lies in the folder Excel happens to be in must not be taken for a library.
        ('" -B -c ""import sys, os;', '" -B -P -c ""import sys, os;'),
    ):
        if adapted.count(old) != 1:
            raise ProjectError(OTHER_XLWINGS)
        adapted = adapted.replace(old, new)
    return adapted.replace("\n", "\r\n")  # as the VBA editor writes lines; xlwings ships bare line feeds


def _needed_procedures(source: str) -> str:
    lines: list[str] = []
    found = set()
    inside = ""
    for line in source.split("\n"):
        if not inside and (header := _PROCEDURE.match(line)):
            inside = header[1]
            found.add(inside)
        if not inside or inside in NEEDED:
            lines.append(line)
        if _END_OF_PROCEDURE.match(line):
            inside = ""
    if not found >= NEEDED:
        raise ProjectError(OTHER_XLWINGS)
    return "\n".join(lines)


def _with_functions(workbook: bytes, *, fresh: bool) -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "book.xlsm"
        path.write_bytes(workbook)
        try:
            with pyopenvba.ExcelFile(path) as file:
                if fresh:
                    _strip_shell(file)
                elif WRAPPER_MODULE not in file.module_names():
                    raise ProjectError("has macros of its own: use it with the add-in instead")
                _put_modules(file)
                file.save()
        except Refused:
            raise
        except (pyopenvba.PyOpenVBAError, ValueError, KeyError) as error:
            raise ProjectError(f"has macros that cannot be changed: {' '.join(str(error).split())}") from None
        with zipfile.ZipFile(io.BytesIO(path.read_bytes())) as package:
            return package.read(VBA_PART)


def _strip_shell(file: pyopenvba.ExcelFile) -> None:
    """Take out the shell's sample, and the modules of the sheets that a built workbook does not have."""
    project = file.vba_project()
    project.delete_module("Module1")
    project.delete_module("Sheet1")
    project.rename_module("Sheet2", CODE_NAME)


def _put_modules(file: pyopenvba.ExcelFile) -> None:
    with pyopenvba.ExcelFile(WORKBOOK_SHELL) as shell:
        xlwings_module = adapted_xlwings(shell.get_module(XLWINGS_MODULE))
    _put(file, XLWINGS_MODULE, xlwings_module)
    _put(file, WRAPPER_MODULE, wrapper_module())
    _put(file, OPENING_MODULE, opening_module(xlwings.__version__))


def _put(file: pyopenvba.ExcelFile, name: str, source: str) -> None:
    if name in file.module_names():
        file.set_module(name, source)
    else:
        file.vba_project().add_module(name, source)
