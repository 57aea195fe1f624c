"""A workbook on paper: printed into a PDF by the LibreOffice of this machine, with the add-in or without."""

from __future__ import annotations

from evenheft.hosts.calc.newer import where_newer
from evenheft.hosts.calc.office import OfficeError, find_all
from evenheft.hosts.calc.open_document import converted


def pdf_of(workbook: bytes, name: str, instead: str) -> bytes:
    """Print a workbook of values into the bytes of a PDF.

    Args:
        workbook: the bytes of the .xlsx workbook [-].
        name: how messages call what is printed [-].
        instead: what else the builder can do where no LibreOffice is there [-].

    Raises:
        OfficeError: no LibreOffice is there.
        Refused: it does not print it.
    """
    offices = find_all()
    if not offices:
        raise OfficeError(f"{name} is printed by LibreOffice, and there is none: {where_newer()}; or {instead}")
    return converted(workbook, ".xlsx", "pdf:calc_pdf_Export", offices[0], name)
