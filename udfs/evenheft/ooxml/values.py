"""What a cell can hold, as it is stored, computed or written."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from typing import TypeAlias


@dataclass(frozen=True, slots=True)
class CellError:
    """An error value in a cell, e.g. `CellError("#N/A")`."""

    code: str


Held: TypeAlias = float | str | bool | CellError
"""What a cell that is not empty holds."""
Value: TypeAlias = Held | None
"""What a computed cell can hold."""
Written: TypeAlias = Value | datetime.date | datetime.time | datetime.timedelta
"""What a cell can be given to hold."""
