"""One name written in several ways: seen, asked about, and never guessed."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Mapping
from dataclasses import replace

from evenheft.ooxml.errors import Refused
from evenheft.ooxml.text import plain_text
from evenheft.shop.book.kept import KeptOrder, KeptRow
from evenheft.shop.book.reading import Book, text_key

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


def as_known(book: Book, order: KeptOrder, meant: Mapping[str, str]) -> KeptOrder:
    """Write an order's head models as the book writes them; a spelling close to another is asked about.

    Args:
        book: the shop book [-].
        order: what an order gives [-].
        meant: what spellings stand for, as a person told [-].

    Raises:
        Refused: a model may be another one in a different spelling, and nobody told which.
    """
    listed = book.list("heads")
    known = {text_key(name): name for row in listed.rows if (name := listed.text(row, "model"))}
    by_key = {text_key(name): name_meant for name, name_meant in meant.items()}
    settled: dict[str, str] = {}
    for row in (*order.fits, *order.orders):
        name = plain_text(row.get("model"))
        if not name or text_key(name) in settled:
            continue
        wanted = by_key.get(text_key(name), name)
        if text_key(name) not in by_key and text_key(name) not in known:
            close = close_names(name, [*known.values(), *dict.fromkeys(settled.values())])
            if close:
                raise Refused(
                    f'head model "{name}" is close to "{close[0]}": are they one? Write it so on Parts, or say '
                    f'--name "{name}={close[0]}", or --name "{name}={name}" if it is another'
                )
        settled[text_key(name)] = known.get(text_key(wanted), wanted)
    return replace(order, fits=_named(order.fits, settled), orders=_named(order.orders, settled))


def _named(rows: tuple[KeptRow, ...], settled: Mapping[str, str]) -> tuple[KeptRow, ...]:
    return tuple(
        {**row, "model": settled[text_key(row["model"])]} if row.get("model") else row
        for row in rows
    )  # fmt: skip


def _letters(name: str) -> str:
    return re.sub(r"[\W_]+", "", name.casefold())


def _digits(name: str) -> str:
    return "".join(c for c in name if c.isdigit())
