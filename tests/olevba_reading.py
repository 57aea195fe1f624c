"""Macros as oletools reads them from a file: it shares no code with what writes them."""

from __future__ import annotations

import warnings

with warnings.catch_warnings():  # its parser uses names that pyparsing is about to drop
    warnings.simplefilter("ignore")
    from oletools.olevba import VBA_Parser


def macros_in(content: bytes, name: str = "book.xlsm") -> dict[str, str]:
    """The source of every module of a workbook or of a vbaProject.bin, by the module's name.

    Line ends are made alike, and the lines that hold a module's attributes are left out.
    """
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        parser = VBA_Parser(name, data=content)
        try:
            found = [(name, code) for _, _, name, code in parser.extract_all_macros() if name]
        finally:
            parser.close()
    return {name.rpartition(".")[0]: without_attributes(code) for name, code in found}


def without_attributes(code: str) -> str:
    """A module's source with line ends made alike, and without the lines that hold its attributes."""
    lines = code.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    return "\n".join(line for line in lines if not line.startswith("Attribute VB_")).strip()
