"""One name written in several ways: seen, asked about, and never guessed."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable

from evenheft.shop.book.reading import text_key

_CLOSE = 0.85
"""From this likeness on, two names that hold the same digits are asked about [-]."""


def close_names(name: str, known: Iterable[str]) -> list[str]:
    """Find the known names that may be the same one in another spelling, the likeliest first.

    A difference in capitals or spaces is none, as spreadsheets have it. Names whose digits differ are two models.

    >>> close_names("Blade-X 7", ["blade x7", "Blade X 8", "BLADE-X  7", "Cavity"])
    ['blade x7']
    """
    own, letters = text_key(name), _letters(name)
    found: dict[str, float] = {}
    for other in known:
        if not text_key(other) or text_key(other) == own:
            continue
        likeness = difflib.SequenceMatcher(None, letters, _letters(other)).ratio()
        if _letters(other) == letters or (_digits(other) == _digits(name) and likeness >= _CLOSE):
            found.setdefault(other, likeness)
    return sorted(found, key=lambda other: -found[other])


def spelt_differently(names: Iterable[str]) -> list[tuple[str, str]]:
    """Find pairs among names that may be one name in two spellings, each once."""
    different = list({text_key(name): name for name in names if text_key(name)}.values())
    return [
        (name, other)
        for place, name in enumerate(different)
        for other in close_names(name, different[:place])
    ]  # fmt: skip


def _letters(name: str) -> str:
    return re.sub(r"[\W_]+", "", name.casefold())


def _digits(name: str) -> str:
    return "".join(c for c in name if c.isdigit())
