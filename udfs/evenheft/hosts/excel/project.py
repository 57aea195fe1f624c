"""The VBA project with the functions inside, put together from the one that xlwings ships.

This is the only module that knows pyOpenVBA, which is young and pinned exactly.
"""

from __future__ import annotations

import io
import tempfile
import zipfile
from pathlib import Path

import pyopenvba
import xlwings

from evenheft.hosts.excel import CONFIGURATION
from evenheft.hosts.excel.configuration import CODE_NAME
from evenheft.hosts.excel.vba import OPENING_MODULE, WRAPPER_MODULE, opening_module, wrapper_module

VBA_PART = "xl/vbaProject.bin"
XLWINGS_MODULE = "xlwings"

_SHELLS = Path(xlwings.__file__).parent
ADD_IN_SHELL = _SHELLS / "quickstart_addin.xlam"
WORKBOOK_SHELL = _SHELLS / "quickstart_standalone.xlsm"


class ProjectError(Exception):
    """The VBA project could not be put together or changed; one line."""


def fresh_project() -> bytes:
    """The VBA project that xlwings ships for a workbook, with the functions put in.

    The add-in is given the same one: there xlwings reads the settings of its own file only,
    where its project for add-ins would let the active workbook name the program to be run.
    """
    return _with_functions(WORKBOOK_SHELL.read_bytes(), fresh=True)


def refreshed_project(workbook: bytes) -> bytes:
    """The VBA project of a workbook that Evenheft built, with its functions as they are now.

    Args:
        workbook: the bytes of an .xlsm that holds one [-].

    Raises:
        ProjectError: it holds macros that are not Evenheft's, or is damaged or locked.
    """
    return _with_functions(workbook, fresh=False)


def adapted_xlwings(source: str) -> str:
    """The VBA of xlwings, with its settings under our name, our check before Python is called, no `sql` function.

    Args:
        source: the module `xlwings` of its shell for workbooks [-].

    Raises:
        ProjectError: it is not the module that this version was written for.
    """
    before, mark, after = source.partition('\'Attribute VB_Name = "Extensions"')
    _, closing, rest = after.partition("End Function")
    if not mark or not closing:
        raise ProjectError("this version of xlwings is not the one that Evenheft was written for")
    adapted = before + rest.lstrip("\r\n")
    for old, new in (
        (
            'Public Const PROJECT_NAME As String = "xlwings"',
            f'Public Const PROJECT_NAME As String = "{CONFIGURATION}"',
        ),
        (
            "Private Sub XLPyLoadDLL()\n",
            "Private Sub XLPyLoadDLL()\n    HeftNeedPython\n",
        ),
        # -P: a file of Python's that lies in the folder Excel happens to be in must not be taken for a library.
        ('" -B -c ""import sys, os;', '" -B -P -c ""import sys, os;'),
    ):
        if adapted.count(old) != 1:
            raise ProjectError("this version of xlwings is not the one that Evenheft was written for")
        adapted = adapted.replace(old, new)
    return adapted


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
