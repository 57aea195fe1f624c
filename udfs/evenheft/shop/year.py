"""An invented shop over a year: six orders dry-fitted, finished and kept in its book, the seventh forecast by the book.

Every name and number is invented. What the clubs truly are is drawn; what the shop writes down of them is what is true
and the error of a careful bench, that of docs/trust.md. The seventh order has no dry fit: its heads are of models that
the book knows.
"""

from __future__ import annotations

import datetime
import random
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from evenheft.hosts.embedded import Computed
from evenheft.mechanics.bodies import Body
from evenheft.mechanics.club import Parts, forecast
from evenheft.mechanics.forecast_doubt import swingweight_of
from evenheft.ooxml.edit import CellAt, edited, refreshed
from evenheft.ooxml.edits import Edit, Put
from evenheft.ooxml.package import CheckedPackage
from evenheft.ooxml.values import Written
from evenheft.order.cells import OrderCells
from evenheft.order.files import template_file, write_new
from evenheft.order.layout import FIRST_ROW, ORDER, TABLES, TARGET
from evenheft.order.report import open_order
from evenheft.shop.book.finding import BOOK_NAME
from evenheft.shop.book.from_order import order_to_keep
from evenheft.shop.book.grid import FIRST_BOOK_ROW
from evenheft.shop.book.into_order import fill_edits, numbers_of_book
from evenheft.shop.book.keeping import plan_to_keep, write
from evenheft.shop.book.layout import BOOK_SETTINGS, SHOP_LIST
from evenheft.shop.book.like import like_edits, like_file, rises_known
from evenheft.shop.book.reading import open_book

YEAR_ORDERS = 6
SEED = 2026
_MODEL = "Invented blade"
SCALE, EDGE, ZERO, TAPE, EPOXY, ALIKE = 0.1, 0.05, 0.02, 0.1, 0.2, 0.1
"""What a careful bench is off by, plus or minus (docs/trust.md) [g, cm, cm, cm, g], and heads of one model [cm]."""
_INSTRUMENTS: dict[str, Written] = {"doubt_mass": "0.1 g", "doubt_balance": "0.05 cm", "doubt_length": "0.1 cm"}
HALF_A_POINT = 0.5
YEAR_CLUBS = ("5-iron", "6-iron", "7-iron", "8-iron", "9-iron", "Pitching wedge")

_Values = Mapping[tuple[str, int, str], Written]
"""What is typed: table, the club's number (or the place of a group, from 1) and the column's key."""


@dataclass(frozen=True)
class Made:
    """A club of the invented shop."""

    name: str
    true: Parts
    """What it truly is [g, cm]."""
    weighed: Parts
    """What the shop writes down of its loose parts [g, cm]."""


@dataclass(frozen=True)
class Seventh:
    """A club of the seventh order: what was forecast before any dry fit, and what it then read."""

    club: str
    fits: int
    """Dry fits of such heads that the book had [-]."""
    forecast: float
    """[points]."""
    doubt: float
    """[points]."""
    read: float
    """[points]."""

    @property
    def missed(self) -> float:
        """By how much it reads more than was forecast [points]."""
        return self.read - self.forecast


class Shop:
    """The invented shop: its true head models, and its bench."""

    def __init__(self, seed: int) -> None:
        """Draw what is the same all the year."""
        self._draw = random.Random(seed)
        self._rises = [self.off(0.35) + 2.0 for _ in YEAR_CLUBS]
        self._zero = self.off(ZERO)

    def off(self, half_width: float) -> float:
        """Draw evenly from minus to plus so much."""
        return self._draw.uniform(-half_width, half_width)

    def clubs(self) -> list[Made]:
        """Draw the clubs of one order."""
        made = []
        for at, name in enumerate(YEAR_CLUBS):
            wanted = round(96.52 - 1.27 * at, 2)
            true = Parts(
                head_mass=265.3 + 7.1 * at + self.off(2.0),
                club_length=wanted + self.off(TAPE),
                shaft_mass=101.0 + self.off(2.0),
                shaft_length=99.06,
                shaft_balance=48.4 + self.off(0.5),
                head_rise=self._rises[at] + self.off(ALIKE),
                grip_mass=50.0 + self.off(1.5),
                ferrule_mass=1.1,
                tape_mass=1.4,
                epoxy_mass=2.5 + self.off(EPOXY),
            )
            assert true.shaft_balance is not None
            weighed = replace(
                true,
                head_mass=round(true.head_mass + self.off(SCALE), 1),
                club_length=wanted,
                shaft_mass=round(true.shaft_mass + self.off(SCALE), 1),
                shaft_balance=round(true.shaft_balance + self._zero + self.off(EDGE), 2),
                grip_mass=round(true.grip_mass + self.off(SCALE), 1),
                epoxy_mass=2.5,
            )
            made.append(Made(name, true, weighed))
        return made

    def on_bench(self, club: Body) -> tuple[float, float]:
        """Weigh and balance a club [g, cm]."""
        return round(club.mass + self.off(SCALE), 1), round(club.centre + self._zero + self.off(EDGE), 2)


def play(folder: Path, say: Callable[[str], None], seed: int = SEED) -> list[Seventh]:
    """Play the year: write the book and the orders into a folder, and tell how the seventh order came out.

    Args:
        folder: an empty folder [-].
        say: is told what is being done [-].
        seed: draws another year [-].

    Raises:
        Refused: a file cannot be written.
    """
    shop = Shop(seed)
    book = folder / BOOK_NAME
    _write_book(book)
    template = template_file("xlsx").read_bytes()
    computed = Computed.from_bytes(template)
    for number in range(1, YEAR_ORDERS + 1):
        say(f"order {number} of {YEAR_ORDERS} is dry-fitted, finished and kept")
        path = folder / f"order-{number}.xlsx"
        made = shop.clubs()
        edits = fill_edits(computed, numbers_of_book(open_book(book)), book.name, _day(number))
        edits |= _as_edits(_laid_out(made) | _parts(made) | _measured(shop, made, dry=True)) | _named(computed, number)
        write_new(path, _with(template, edits))
        opened = open_book(book)
        write(plan_to_keep(opened, order_to_keep(path)))
    say("the seventh order is forecast by the book")
    return _seventh(folder, shop, book, template, computed)


def _seventh(folder: Path, shop: Shop, book: Path, template: bytes, computed: Computed) -> list[Seventh]:
    number = YEAR_ORDERS + 1
    opened, like = open_book(book), like_file(folder / f"order-{YEAR_ORDERS}.xlsx")
    known = rises_known(opened, like)
    made = shop.clubs()
    edits = like_edits(computed, like, {str(n): head for n, head in known.items()})
    edits |= fill_edits(computed, numbers_of_book(opened), book.name, _day(number))
    edits |= _as_edits(_laid_out(made) | _parts(made)) | _named(computed, number)
    path, finished = folder / f"order-{number}.xlsx", folder / f"order-{number}-finished.xlsx"
    write_new(path, _with(template, edits))
    cells = OrderCells(open_order(path).computed)
    write_new(finished, _with(template, edits | _as_edits(_measured(shop, made, dry=False))))
    read = OrderCells(open_order(finished).computed)
    seventh = []
    for n, club in enumerate(made, start=1):
        expected, reads = cells.number("fix", n, "points", 6), read.number("set", n, "swingweight_number", 6)
        doubt = cells.number("parts", n, "doubt", 6)
        assert expected is not None and reads is not None and doubt is not None
        seventh.append(Seventh(club.name, known[n].fits, expected, doubt, reads))
    return seventh


def truly(made: Made) -> float:
    """Compute what a club truly is [points].

    Args:
        made: the club [g, cm].
    """
    return swingweight_of(forecast(made.true))


def _write_book(path: Path) -> None:
    """Write the shop's book: the template with its careful instruments."""
    at = {setting.name: row for row, setting in enumerate(BOOK_SETTINGS, start=FIRST_BOOK_ROW)}
    edits: dict[CellAt, Edit] = {
        (SHOP_LIST.sheet, at[name], SHOP_LIST.at["value"]): Put(value) for name, value in _INSTRUMENTS.items()
    }
    with CheckedPackage(template_file("xlsx", "evenheft-shop").read_bytes(), name=path.name) as package:
        write_new(path, edited(package, edits))


def _with(template: bytes, edits: Mapping[CellAt, Edit]) -> bytes:
    with CheckedPackage(template, name="the template") as package:
        typed = edited(package, edits)
    with CheckedPackage(typed, name="the order") as package:
        return refreshed(package, Computed(package).value)


def _as_edits(values: _Values) -> dict[CellAt, Edit]:
    return {
        (TABLES[table].sheet, FIRST_ROW + number - 1, TABLES[table].at[key]): Put(value)
        for (table, number, key), value in values.items()
    }


def _named(computed: Computed, number: int) -> dict[CellAt, Edit]:
    values: dict[str, Written] = {
        "order_number": f"YEAR-{number}",
        "order_customer": f"Invented customer {number}",
        "order_date": _day(number),
        "order_note": "Invented for the demo: no such customer, no such clubs.",
    }
    found: dict[CellAt, Edit] = {}
    for name, value in values.items():
        area = computed.named_area(name)
        if area is not None:
            found[area[:3]] = Put(value)
    return found


def _day(number: int) -> datetime.date:
    """Return the day of an order: one every two months, the seventh a year after the first."""
    return datetime.date(2025 + (2 * number - 1) // 12, (2 * number - 2) % 12 + 1, 15)


def _laid_out(made: list[Made]) -> dict[tuple[str, int, str], Written]:
    found: dict[tuple[str, int, str], Written] = {}
    for n, club in enumerate(made, start=1):
        found |= {(ORDER.name, n, "number"): float(n), (ORDER.name, n, "club"): club.name}
        found[ORDER.name, n, "group"] = "Irons"
    aims: dict[str, Written] = {
        "group": "Irons", "swingweight_first": "D1", "swingweight_change": None, "swingweight_tolerance": 0.5,
    }  # fmt: skip
    others = {(TARGET.name, n, "group"): None for n in range(2, 7)}
    return found | {(TARGET.name, 1, key): value for key, value in aims.items()} | others


def _parts(made: list[Made]) -> dict[tuple[str, int, str], Written]:
    found: dict[tuple[str, int, str], Written] = {}
    for n, club in enumerate(made, start=1):
        parts = club.weighed
        values: dict[str, Written] = {
            "model": _MODEL, "head_mass": parts.head_mass, "club_length": f"{parts.club_length:g} cm",
            "shaft_mass": parts.shaft_mass, "shaft_length": "99.06 cm", "shaft_balance": parts.shaft_balance,
            "grip_mass": parts.grip_mass, "ferrule": parts.ferrule_mass, "tape": parts.tape_mass,
            "epoxy": parts.epoxy_mass,
        }  # fmt: skip
        found |= {("parts", n, key): value for key, value in values.items()}
    return found


def _measured(shop: Shop, made: list[Made], *, dry: bool) -> dict[tuple[str, int, str], Written]:
    found: dict[tuple[str, int, str], Written] = {}
    for n, club in enumerate(made, start=1):
        stages = {"dry": forecast(club.true, ["epoxy"])} if dry else {}
        for stage, body in {**stages, "done": forecast(club.true)}.items():
            mass, balance = shop.on_bench(body)
            found |= {("bench", n, f"{stage}_mass"): mass, ("bench", n, f"{stage}_balance"): balance}
        if dry:
            found["bench", n, "dry_lacking"] = "epoxy"
    return found
