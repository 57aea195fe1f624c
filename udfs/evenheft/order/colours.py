"""The colours of verdicts, the same in every workbook that is drawn or added to."""

from __future__ import annotations

VERDICT_FILLS: dict[str, str] = {
    "in": "FFCFEFE2",
    "low": "FFBFDDF5",
    "high": "FFFBD0B0",
    "re-measure": "FFFFF2A8",
}
"""Background of each verdict word."""
