"""Where the shop book is: told, in the environment, or beside the order or above it."""

from __future__ import annotations

import os
from pathlib import Path

from evenheft.ooxml.errors import Refused

BOOK_NAME = "evenheft-shop.xlsx"
"""The name by which a book is found beside an order or above it."""
VARIABLE = "EVENHEFT_SHOP"
"""The environment variable that names the book."""


def find_book(beside: Path, given: Path | None = None) -> Path | None:
    """Find the shop book for an order.

    Args:
        beside: the order, which need not be there yet [-].
        given: the book that a person named, which wins [-].

    Returns:
        The book, None where there is none: nobody named one, and none lies beside the order or above it [-].

    Raises:
        Refused: a book was named that is not there.
    """
    named, by = given, "--shop"
    if named is None and os.environ.get(VARIABLE, "").strip():
        named, by = Path(os.environ[VARIABLE].strip()), VARIABLE
    if named is not None:
        if not named.is_file():
            raise Refused(f"there is no shop book {named} ({by}): make one with  evenheft shop new {named}")
        return named
    folder = Path(os.path.abspath(beside)).parent  # noqa: PTH100  a link is followed by its own name
    return next((path for above in (folder, *folder.parents) if (path := above / BOOK_NAME).is_file()), None)


def need_book(beside: Path, given: Path | None = None) -> Path:
    """Find the shop book for an order; see `find_book`.

    Raises:
        Refused: there is none.
    """
    found = find_book(beside, given)
    if found is None:
        raise Refused(
            f"no shop book was found: name it with --shop or {VARIABLE}, or put {BOOK_NAME} beside the order "
            f"(evenheft shop new {BOOK_NAME} makes one)"
        )
    return found
