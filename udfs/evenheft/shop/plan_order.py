"""An order read for a plan: heads and targets as its sheets have them, shafts and weights of the shop or its own."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from evenheft.formulas.headed.pairing import club_rows, shafts_of, weights_of
from evenheft.formulas.kinds import finite_number
from evenheft.formulas.stages import STAGES
from evenheft.mechanics.pairing.problem import (
    Batch,
    ClubToBuild,
    PairingError,
    Piece,
    PlaceName,
    Shaft,
    StockWeight,
    need_sound,
)
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.text import plain_text
from evenheft.ooxml.values import CellRow, CellRows
from evenheft.order.cells import OrderCells
from evenheft.order.layout import PARTS, STOCKS
from evenheft.order.layout.parts_sheet import PARTS_RUNS
from evenheft.order.report import OpenedOrder
from evenheft.shop.plan_sheets import SHAFTS, WEIGHTS, table_of

ENOUGH = 100
"""A stock that nobody has counted is taken to have so many pieces of each size [-]."""
_LEADING: dict[str, tuple[tuple[str, str], ...]] = {
    "swingweight": (("swingweight", "Swingweight"),),
    "inertia": (("inertia", "Inertia"),),
    "both": (("swingweight", "Swingweight"), ("inertia", "Inertia")),
}
"""What leads a group, as Order calls it: keys on Set, and what a table of heads calls them."""
ALSO = {"mass": "Total mass", "frequency": "Frequency"}
"""What may be asked to count as well, by its key on Set."""
_STOCK_PLACES: tuple[PlaceName, ...] = ("head", "butt")


@dataclass(frozen=True)
class OrderToPlan:
    """What an order gives to be planned, and where it all stands in it."""

    order: OpenedOrder
    cells: OrderCells
    batch: Batch
    numbers: tuple[int, ...]
    """The number of each club of the batch, in its order."""
    beside: tuple[str, ...]
    """Lines about where shafts and weights come from, and what was left out."""


def order_to_plan(order: OpenedOrder, stock: Path | None, also: Sequence[str] = ()) -> OrderToPlan:
    """Read what is to be planned of an order.

    Args:
        order: the order, opened [-].
        stock: the workbook with the sheets Shafts and Weights; the order's own sheets come first when None [-].
        also: keys of `ALSO` that count beside what leads [-].

    Raises:
        Refused: nothing can be planned; why, in a line.
    """
    cells = OrderCells(order.computed)
    number = plain_text(order.computed.named_cell("order_number"))
    beside: list[str] = []
    clubs, numbers = _clubs(cells, also, beside)
    own = _own_shafts(cells, clubs, numbers)
    labels = {shaft.label for shaft in own}
    listed, taken, notes = _listed_shafts(order.path, stock, number, labels)
    beside += notes
    weights, notes = _weights(cells, order.path, stock)
    beside += notes
    batch = Batch(
        clubs=tuple(clubs),
        shafts=(*own, *(shaft for shaft in listed if shaft.label not in labels)),
        weights=weights,
        most_pieces=int(finite_number(order.computed.named_cell("shop_pieces")) or 2),
        reserved=frozenset(taken - labels),
    )
    try:
        need_sound(batch)
    except PairingError as error:
        lines = "; ".join(error.lines)
        hint = "" if batch.shafts else ": weigh the shafts on Parts, or name a shop book with --shafts-from"
        raise Refused(f"{order.path.name}: {lines}{hint}") from None
    return OrderToPlan(order, cells, batch, tuple(numbers), tuple(beside))


def _clubs(cells: OrderCells, also: Sequence[str], beside: list[str]) -> tuple[list[ClubToBuild], list[int]]:
    """Read the clubs of which a head was weighed or received; of the others say why they are left out."""
    numbers = [n for n in cells.numbers if n in cells.rows("parts") and _has_head(cells, n)]
    if not numbers:
        raise Refused("no head is weighed yet: type head masses and club lengths on Parts, or receive them")
    names = [cells.text("order", n, "club") or f"no. {n}" for n in numbers]
    often = Counter(names)
    labels = [f"{name} (no. {n})" if often[name] > 1 else name for name, n in zip(names, numbers, strict=True)]
    heads, targets = _tables(cells, numbers, labels, also)
    read = club_rows(heads, targets, cells.instruments)
    clubs: list[ClubToBuild] = []
    kept: list[int] = []
    for n, label, row in zip(numbers, labels, read, strict=True):
        if isinstance(row, ClubToBuild):
            clubs.append(_laid_out(cells, n, row))
            kept.append(n)
        else:
            beside.append(f"{label} is left out: {row}")
    if not clubs:
        raise Refused("; ".join(beside))
    return clubs, kept


def _has_head(cells: OrderCells, number: int) -> bool:
    return cells.raw("parts", number, "c_head_mass") is not None


def _tables(
    cells: OrderCells, numbers: Sequence[int], labels: Sequence[str], also: Sequence[str]
) -> tuple[CellRows, CellRows]:
    """Heads as the forecast reads them, and their targets, each with its headings."""
    headings = cells.run(numbers[0], "club")[0]
    quantities = {**dict(_LEADING["both"]), **{key: ALSO[key] for key in also}}
    heads: list[CellRow] = [["Club", *headings]]
    targets: list[CellRow] = [
        ["Club", *(f"{name} {part}" for name in quantities.values() for part in ("target", "tolerance"))]
    ]
    for n, label in zip(numbers, labels, strict=True):
        heads.append([label, *_parts(cells, n)])
        wanted = dict(_LEADING[cells.text("fix", n, "leads") or "swingweight"]) | {key: ALSO[key] for key in also}
        targets.append([label, *(cell for key in quantities for cell in _aim(cells, n, key, wanted))])
    return heads, targets


def _parts(cells: OrderCells, number: int) -> list[object]:
    parts = cells.run(number, "club")[1]
    # What its own bench has taught makes a club's forecast that of its bench, whatever its sisters have taught.
    learned = cells.value("parts", number, "learned")
    if cells.text("bench", number, "stage") and finite_number(learned) is not None:
        parts[PARTS.at["rise_used"] - PARTS.at[PARTS_RUNS["club"][0]]] = learned
    return parts


def _aim(cells: OrderCells, number: int, key: str, wanted: dict[str, str]) -> tuple[object, object]:
    if key not in wanted:
        return None, None
    goal, tolerance = cells.raw("set", number, f"{key}_goal"), cells.raw("set", number, f"{key}_tolerance")
    return goal, tolerance if goal is not None else None


def _laid_out(cells: OrderCells, number: int, club: ClubToBuild) -> ClubToBuild:
    """Add to a club what lies beside it, where weights sit in it, and what the bench has decided."""
    stage = cells.text("bench", number, "stage") or ""
    has_shaft = cells.mass("parts", number, "c_shaft_mass") is not None
    added = cells.mass("fix", number, "head_added") or 0.0
    planned = added > 0 and cells.text("fix", number, "done") is None
    butt = cells.length("fix", number, "butt_place")
    return replace(
        club,
        laid_shaft=_shaft_label(cells, number, club.label) if has_shaft else None,
        laid_pieces=(Piece("head", added),) if planned else (),
        decided="nothing" if not (stage and has_shaft) else "shaft" if stage == STAGES[0] else "club",
        taught=club.taught if cells.raw("fix", number, "untaught") is not True else None,
        head_weight_rise=cells.length("fix", number, "head_above"),
        butt_weight_from_butt=butt,
    )


def _shaft_label(cells: OrderCells, number: int, club: str) -> str:
    """Return the shaft's number where it has one, else whose it is."""
    return cells.text("parts", number, "shaft_number") or unnumbered(club)


def unnumbered(club: str) -> str:
    """Name a shaft that has no number by the club that it lies beside.

    Args:
        club: the club's label [-].
    """
    return f"the {club}'s"


def _own_shafts(cells: OrderCells, clubs: Sequence[ClubToBuild], numbers: Sequence[int]) -> tuple[Shaft, ...]:
    """Return the shafts that lie on Parts."""
    found = []
    for club, number in zip(clubs, numbers, strict=True):
        mass, length, balance = (
            read(cells, number, key)
            for read, key in (
                (_mass, "c_shaft_mass"), (_length, "c_shaft_length"), (_length, "c_shaft_balance"),
            )
        )  # fmt: skip
        if club.laid_shaft is not None and mass and length:
            found.append(Shaft(club.laid_shaft, mass, length, balance, cells.number("bench", number, "frequency")))
    return tuple(found)


def _mass(cells: OrderCells, number: int, key: str) -> float | None:
    return cells.mass("parts", number, key)


def _length(cells: OrderCells, number: int, key: str) -> float | None:
    return cells.length("parts", number, key)


def _sources(order: Path, stock: Path | None) -> Iterator[Path]:
    """Where shafts and weights may be listed: the workbook that was named, else the order itself and the shop book."""
    from evenheft.shop.book.finding import find_book

    if stock is not None:
        yield stock
        return
    yield order
    if (book := find_book(order)) is not None:
        yield book


def _listed_shafts(
    order: Path, stock: Path | None, number: str, own: set[str]
) -> tuple[tuple[Shaft, ...], frozenset[str], list[str]]:
    for path in _sources(order, stock):
        rows = table_of(path, SHAFTS)
        if rows and len(rows) > 1:
            shafts, taken = shafts_of(rows, number)
            if shafts:
                free = sum(shaft.label not in taken | own for shaft in shafts)
                return shafts, taken, [f"Shafts: those on Parts and {free} free ones of {path.name}."]
    if stock is not None:
        raise Refused(f'{stock.name} has no sheet "{SHAFTS}" with the shafts to choose from')
    return (), frozenset(), ["Shafts: those on Parts."]


def _weights(cells: OrderCells, order: Path, stock: Path | None) -> tuple[tuple[StockWeight, ...], list[str]]:
    for path in _sources(order, stock):
        rows = table_of(path, WEIGHTS)
        if rows and (weights := weights_of(rows)):
            return weights, [f"Weights: those of {path.name}."]
    return _shop_sheet_weights(cells), [
        "Weights: those of the order's Shop sheet; a size that is not counted is enough."
    ]


def _shop_sheet_weights(cells: OrderCells) -> tuple[StockWeight, ...]:
    """Return the stock on the order's Shop sheet."""
    found: dict[tuple[float, PlaceName], int] = {}
    for place, (sizes, counts, _, _) in zip(_STOCK_PLACES, STOCKS, strict=True):
        for size, count in zip(cells.computed.named_column(sizes), cells.computed.named_column(counts), strict=True):
            mass, there = finite_number(size), finite_number(count)
            if mass is None or mass <= 0:
                continue
            if there is not None and (there < 0 or there != int(there)):
                raise Refused(f"Shop: the count of the {mass:g} g weights must be a whole number, got {there:g}")
            found[mass, place] = found.get((mass, place), 0) + (ENOUGH if there is None else int(there))
    return tuple(StockWeight(mass, count, place) for (mass, place), count in found.items())
