"""The add-in's interface for LibreOffice: as UNOIDL text, and as the binary type library that Calc loads.

The compiler for the first (`unoidl-write`) comes with LibreOffice's SDK, which no user has. The binary form of one
plain interface is so small that it is written here; a test holds it, byte for byte, against what the compiler writes.
"""

from __future__ import annotations

from collections.abc import Iterable
from struct import pack

from evenheft.formulas import Formula
from evenheft.hosts.calc import INTERFACE

_MODULE, _INTERFACE_TYPE, _IN = 0, 5, 0
_REUSED = 0x80000000
_NOTE = b"\0** Created by Evenheft **\0"


def parameter_name(name: str) -> str:
    """Name an argument in the interface, where it may not be one of UNOIDL's own words.

    >>> parameter_name("mass_doubt")
    'argMassDoubt'
    """
    return "arg" + "".join(word.capitalize() for word in name.split("_"))


def idl(formulas: Iterable[Formula]) -> str:
    """Write the interface as UNOIDL text.

    Every argument and answer is an `any`, which holds one value or a range.
    """
    module, name = INTERFACE.split(".")
    methods = "".join(
        f"    any {f.name}({', '.join(f'[in] any {parameter_name(a.name)}' for a in f.arguments)});\n" for f in formulas
    )
    return f"module {module} {{\n  interface {name} {{\n{methods}  }};\n}};\n"


def type_library(formulas: Iterable[Formula], note: bytes = _NOTE, interface: str = INTERFACE) -> bytes:
    """Write the same interface in LibreOffice's binary form (.rdb).

    Args:
        formulas: what the interface serves, in order [-].
        note: what a reader of the bytes is told of their maker; no program reads it [-].
        interface: its name, with that of its module [-].
    """
    module, name = interface.split(".")
    written = _Writer(b"UNOIDL\xff\0" + bytes(8) + note)
    interface_at = written.size
    written.interface(list(formulas))
    name_at = written.nul_terminated(name)
    module_at = written.size
    written.raw(pack("<BIII", _MODULE, 1, name_at, interface_at))
    module_name_at = written.nul_terminated(module)
    root_at = written.size
    written.raw(pack("<II", module_name_at, module_at))
    return written.with_root(root_at, entries=1)


class _Writer:
    """The bytes of a type library, in which a name that comes again is told by its place."""

    def __init__(self, head: bytes) -> None:
        self._bytes = bytearray(head)
        self._names: dict[str, int] = {}

    @property
    def size(self) -> int:
        return len(self._bytes)

    def raw(self, data: bytes) -> None:
        self._bytes += data

    def number(self, value: int) -> None:
        self.raw(pack("<I", value))

    def nul_terminated(self, name: str) -> int:
        at = self.size
        self.raw(name.encode("ascii") + b"\0")
        return at

    def name(self, name: str) -> None:
        if name in self._names:
            self.number(self._names[name] | _REUSED)
        else:
            self._names[name] = self.size
            self.number(len(name))
            self.raw(name.encode("ascii"))

    def interface(self, formulas: list[Formula]) -> None:
        self.raw(pack("<B", _INTERFACE_TYPE))
        self.number(1)  # one base
        self.name("com.sun.star.uno.XInterface")
        self.number(0)  # optional bases
        self.number(0)  # attributes
        self.number(len(formulas))
        for formula in formulas:
            self.name(formula.name)
            self.name("any")
            self.number(len(formula.arguments))
            for argument in formula.arguments:
                self.raw(pack("<B", _IN))
                self.name(parameter_name(argument.name))
                self.name("any")
            self.number(0)  # exceptions

    def with_root(self, at: int, entries: int) -> bytes:
        self._bytes[8:16] = pack("<II", at, entries)
        return bytes(self._bytes)
