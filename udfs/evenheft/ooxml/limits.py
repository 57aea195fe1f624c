"""How much a workbook may be at most before it is believed."""

from __future__ import annotations

from dataclasses import dataclass

MB = 1 << 20


@dataclass(frozen=True, slots=True)
class Limits:
    """What a workbook may be at most; each is far above what a shop's workbook needs."""

    file_bytes: int = 256 * MB
    entries: int = 5_000
    expanded_bytes: int = 1024 * MB
    """Of all parts together."""
    part_bytes: int = 512 * MB
    ratio: int = 250
    """Expanded to packed size, of a part that expands to more than `ratio_from`."""
    ratio_from: int = 4 * MB
    depth: int = 64
    """Elements inside elements."""


LIMITS = Limits()
