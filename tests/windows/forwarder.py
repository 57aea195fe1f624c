"""The .def file of a python3.dll that forwards every function of python311.dll: what abi3 modules are linked to.

Usage: python3 forwarder.py .../python311.dll > python3.def
"""

from __future__ import annotations

import struct
import sys
from pathlib import Path


def exported(library: bytes) -> list[str]:
    """Read the names that a 64-bit library exports from its own table (PE format, .edata section)."""
    (header,) = struct.unpack_from("<I", library, 0x3C)
    sections, optional_size = struct.unpack_from("<6xH12xH", library, header)
    (table,) = struct.unpack_from("<I", library, header + 24 + 112)
    first = header + 24 + optional_size
    places = [struct.unpack_from("<8xIIII", library, first + 40 * number) for number in range(sections)]

    def at(address: int) -> int:
        return next(raw + address - start for size, start, _, raw in places if start <= address < start + size)

    count, names = struct.unpack_from("<24xI4xI", library, at(table))
    found = struct.unpack_from(f"<{count}I", library, at(names))
    return [library[at(name) : library.index(b"\0", at(name))].decode("ascii") for name in found]


if __name__ == "__main__":
    print("LIBRARY python3.dll\nEXPORTS")
    print("\n".join(f"  {name}=python311.{name}" for name in exported(Path(sys.argv[1]).read_bytes())))
