"""What the book knows of a head: its own typed rise, else the best of its dry fits, else that of its sisters."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from evenheft.formulas.best_rise import apart
from evenheft.formulas.kinds import finite_number
from evenheft.mechanics import units, weighted_mean
from evenheft.mechanics.doubt import COVERAGE
from evenheft.ooxml.values import Held
from evenheft.shop.book.reading import Book, text_key

HeadKey = tuple[str, str]
"""A head's model and club, as `text_key` writes them."""
SPREAD_LABEL = "Heads of one model differ by, plus or minus (cm)"
"""What stands beside the cell that tells how far heads of one model differ."""
_SPREAD_COLUMN = 3
SISTERS_SPREAD = 0.5
"""How far the clubs of one model may differ in rise, plus or minus: common practice, no published source [cm]."""


@dataclass(frozen=True, slots=True)
class Known:
    """How well a head's rise is known."""

    model: str
    club: str
    rise: float
    """[cm]."""
    doubt: float
    """Of the next head of this model [cm]."""
    fits: int
    """Dry fits that taught it [-]."""
    by: str
    """"own", "dry fits" or "sisters"."""
    apart: str = ""
    """A line where its dry fits do not belong together."""


@dataclass(frozen=True, slots=True)
class Fit:
    """One dry fit."""

    model: str
    club: str
    rise: float
    doubt: float

    @property
    def head(self) -> HeadKey:
        """Which head it taught."""
        return text_key(self.model), text_key(self.club)


def length_of(value: Held | None) -> float | None:
    """Read a typed length, a plain number in cm; None where it is none [cm]."""
    if isinstance(value, str):
        try:
            return units.read_quantity(value, "length", units.BY_SYMBOL["cm"])
        except ValueError:
            return None
    return finite_number(value)


def mass_of(value: Held | None) -> float | None:
    """Read a typed mass, a plain number in g; None where it is none [g]."""
    if isinstance(value, str):
        try:
            return units.read_quantity(value, "mass", units.BY_SYMBOL["g"])
        except ValueError:
            return None
    return finite_number(value)


def spread_of(book: Book) -> float:
    """Read how far heads of one model differ, 0 where nothing is typed [cm]."""
    content = book.list("heads").content
    for (row, column), value in content.values.items():
        if column == 1 and value == SPREAD_LABEL:
            return length_of(content.values.get((row, _SPREAD_COLUMN))) or 0.0
    return 0.0


def fits_of(book: Book, *, without: str = "", before: float | None = None) -> list[Fit]:
    """Read the dry fits that count.

    Args:
        book: the shop book [-].
        without: an order whose own are left out [-].
        before: the place in the sequence of keeps from which on they are left out too [-].
    """
    listed = book.list("fits")
    leave = text_key(without)
    found = []
    for row in listed.rows:
        rise, doubt = finite_number(listed.value(row, "rise")), finite_number(listed.value(row, "doubt"))
        counts, sequence = (finite_number(listed.value(row, key)) for key in ("counts", "sequence"))
        if before is not None and (sequence is None or sequence >= before):
            continue
        if rise is None or not doubt or doubt < 0 or counts != 1 or not listed.text(row, "model"):
            continue
        if not (leave and text_key(listed.value(row, "order")) == leave):
            found.append(Fit(listed.text(row, "model"), listed.text(row, "club"), rise, doubt))
    return found


def best_rises(fits: Iterable[Fit], spread: float) -> dict[HeadKey, Known]:
    """Weigh the dry fits of each head.

    Args:
        fits: the dry fits [cm].
        spread: how far heads of one model differ, plus or minus [cm].
    """
    by_head: dict[HeadKey, list[Fit]] = {}
    for fit in fits:
        by_head.setdefault(fit.head, []).append(fit)
    return {head: _known(group, spread, group[0].club, "dry fits") for head, group in by_head.items()}


def _known(fits: list[Fit], spread: float, club: str, by: str) -> Known:
    sums = weighted_mean.sums_of([fit.rise for fit in fits], [fit.doubt / COVERAGE for fit in fits])
    best = weighted_mean.best_value(sums, spread / 3**0.5)
    return Known(fits[0].model, club, best.mean, COVERAGE * best.next_doubt, len(fits), by, apart(best, len(fits)))


def known_heads(book: Book, *, without: str = "") -> dict[HeadKey, Known]:
    """Tell every head whose rise the book knows: typed ones, and those that dry fits taught.

    Args:
        book: the shop book [-].
        without: an order whose own dry fits are left out [-].
    """
    found = best_rises(fits_of(book, without=without), spread_of(book))
    heads = book.list("heads")
    for row in heads.rows:
        rise, doubt = length_of(heads.value(row, "own_rise")), length_of(heads.value(row, "own_doubt"))
        model, club = heads.text(row, "model"), heads.text(row, "club")
        if not model or (rise is None and doubt is None):
            continue
        head = text_key(model), text_key(club)
        taught = found.get(head)
        if rise is not None:
            known_doubt = doubt if doubt is not None else taught.doubt if taught else SISTERS_SPREAD
            found[head] = Known(model, club, rise, known_doubt, taught.fits if taught else 0, "own")
        elif taught is not None and doubt is not None:
            found[head] = Known(model, club, taught.rise, doubt, taught.fits, "own")
    return found


def of_sisters(model: str, known: Mapping[HeadKey, Known]) -> Known | None:
    """Tell what the other clubs of a model let expect of one that was never dry-fitted, or None."""
    sisters = [head for (name, _), head in known.items() if name == text_key(model)]
    if not sisters:
        return None
    fits = [Fit(head.model, head.club, head.rise, head.doubt) for head in sisters]
    found = _known(fits, SISTERS_SPREAD, "", "sisters")
    return Known(model, "", found.rise, found.doubt, sum(head.fits for head in sisters), "sisters")
