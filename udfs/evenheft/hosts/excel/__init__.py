"""Excel on Windows, through xlwings: the formulas as functions of an add-in or of a workbook's own macros.

served      the module that xlwings serves: every formula of the registry as an xlwings function
values      what Excel hands over and takes back
vba         the VBA that stands between a cell and `served`, generated from the registry
project     the VBA project, put together from xlwings' own (the one module that knows pyOpenVBA)
configuration, package, book    an add-in, or any workbook with the functions inside, put together without Excel
machine     where Excel and Python live on a Windows machine, and what stands in their way
install     the add-in put in place and taken away again
doctor      what `evenheft doctor` tells
links       a workbook whose formulas point at somebody else's add-in
"""

from __future__ import annotations

from importlib.util import find_spec

SERVED_MODULE = "evenheft.hosts.excel.functions.served"
"""The module's import name, which every built add-in and workbook carries: it never changes."""

ADD_IN = "evenheft.xlam"
"""The add-in's file name; Excel keeps it in the formulas of a workbook that uses the add-in."""

CONFIGURATION = "evenheft"
"""xlwings' name of its settings: it reads them from the sheet `evenheft.conf` and the user's file of that name."""


INSTALL_AGAIN = "install Evenheft again: python -m pip install . in its folder"


def missing_packages() -> list[str]:
    """List the packages for Excel that are gone, which were installed with Evenheft."""
    return [name for name in ("xlwings", "pyopenvba") if find_spec(name) is None]
