"""A process of its own in which python-calamine reads a stranger's workbook: sheet names, then one sheet's rows.

The library is native and trusts what a file says of its own size: a damaged one can end the process, and a kilobyte can
ask for all the memory there is. Here that costs nobody but this process. This is the only module that knows it.

    python calamine_rows.py SHEET ROWS COLUMNS < workbook

prints, as JSON, the rows of the sheet (its name in any case), or null where it has no such sheet.
"""

from __future__ import annotations

import contextlib
import io
import json
import sys

MEMORY = 1 << 30
"""What it may take [bytes]."""
_SECONDS = 20
"""Of the processor's time, a hundred times what an answer of a supplier needs [s]."""


def main() -> None:
    """Read the workbook on standard input and print the sheet's rows."""
    sheet, rows, columns = sys.argv[1], int(sys.argv[2]), int(sys.argv[3])
    with contextlib.suppress(ImportError, ValueError, OSError):  # Windows has no such limits
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
        resource.setrlimit(resource.RLIMIT_CPU, (_SECONDS, _SECONDS))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    import python_calamine

    book = python_calamine.CalamineWorkbook.from_filelike(io.BytesIO(sys.stdin.buffer.read()))
    wanted = next((known for known in book.sheet_names if known.lower() == sheet.lower()), None)
    found = None
    if wanted is not None:
        cells = book.get_sheet_by_name(wanted).to_python(skip_empty_area=False, nrows=rows)
        found = [[_plain(cell) for cell in row[:columns]] for row in cells]
    json.dump(found, sys.stdout)


def _plain(cell: object) -> bool | float | str:
    return cell if isinstance(cell, bool | float) else float(cell) if isinstance(cell, int) else str(cell)


if __name__ == "__main__":
    main()
