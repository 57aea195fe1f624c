"""Twelve clubs from loose parts to a set that is in, with the order workbook alone.

The clubs are a world of its own: bodies on a line, a shaft whose density is straight, heads whose centre sits where no
sheet knows it. The builder types what was weighed, does what the sheets say, measures, and types that.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

import openpyxl
import pytest

from evenheft.formulas.telling import ALL_IN
from evenheft.hosts.embedded import Computed, Value
from evenheft.order.drawing.template import build_order, save_bytes
from evenheft.order.layout import BENCH, FIRST_ROW, FIX, ORDER, PARTS, SET, TARGET, Table

INCH = 2.54
CAP, BORE, TAPE, EPOXY, FERRULE = 0.4, 3.6, 1.4, 2.5, 1.1
"""The same on all of them [cm, cm, g, g, g]."""


@dataclass
class Loose:
    """A club's loose parts as they are [g, cm], and what is done to them."""

    name: str
    group: str
    length: float
    """Length wanted [cm]."""
    head: float
    shaft: float
    shaft_length: float
    shaft_balance: float
    grip: float
    rise: float
    """Where the head's mass sits above the ground line [cm]: the sheets are never told."""
    cut: float = 0.0
    """Length that the builder has cut the shaft to [cm]."""
    added: list[tuple[float, float]] = field(default_factory=list)
    """Masses added [g] and where [cm from the butt]."""

    @property
    def tip(self) -> float:
        return CAP + self.cut

    @property
    def made_length(self) -> float:
        return self.tip + BORE

    def cut_shaft(self) -> tuple[float, float]:
        """Mass and balance of the shaft cut at its butt: its density is a + c s, s from the uncut butt."""
        m, n, b = self.shaft, self.shaft_length, self.shaft_balance
        c = 12 * m * (b - n / 2) / n**3
        a = m / n - c * n / 2
        start = n - self.cut
        mass = a * (n - start) + c * (n**2 - start**2) / 2
        moment = a * (n**2 - start**2) / 2 + c * (n**3 - start**3) / 3
        return mass, moment / mass - start

    def weighed(self, *, finished: bool) -> tuple[float, float]:
        """What scale and edge show, as far as they can be read [g, cm]."""
        mass, balance = self.cut_shaft()
        bodies = [
            (self.head, self.made_length - self.rise), (mass, CAP + balance), (self.grip, 11.1), (TAPE, 13.0),
            *self.added,
        ]  # fmt: skip
        if finished:
            bodies += [(EPOXY, self.tip - 1.4), (FERRULE, self.tip - 4.2)]
        total = sum(m for m, _ in bodies)
        return round(total, 1), round(sum(m * x for m, x in bodies) / total / 0.05) * 0.05


def iron(number: int, head: float, shaft: float, grip: float) -> Loose:
    return Loose(f"{number}-iron", "Irons", (40.5 - number / 2) * INCH, head, shaft, 41 * INCH, 51.0, grip, 1.6)


def wedge(name: str, length: float, head: float, shaft: float, grip: float) -> Loose:
    return Loose(name, "Wedges", length * INCH, head, shaft, 38 * INCH, 47.0, grip, 1.3)


def loose_parts() -> list[Loose]:
    return [
        Loose("Driver", "Driver", 45 * INCH, 199.0, 66.2, 46 * INCH, 57.5, 48.9, 2.2),
        Loose("Hybrid", "Hybrids", 40.5 * INCH, 240.0, 80.3, 42 * INCH, 52.0, 49.6, 1.9),
        iron(3, 251.2, 108.4, 49.8), iron(4, 252.4, 109.0, 50.4), iron(5, 264.6, 108.7, 50.1),
        iron(6, 271.3, 109.3, 49.6), iron(7, 285.1, 108.5, 50.3), iron(8, 287.2, 108.9, 50.0),
        iron(9, 294.7, 109.2, 49.9),
        wedge("Pitching wedge", 35.75, 299.4, 112.4, 50.2), wedge("Gap wedge", 35.5, 311.2, 111.8, 49.9),
        wedge("Sand wedge", 35.25, 312.1, 112.1, 50.5),
    ]  # fmt: skip


TARGETS = {
    "Driver": {"swingweight": ("D3", 0, 0.8), "length": ("45 in", 0, 0.4)},
    "Hybrids": {"swingweight": ("D2", 0, 0.8), "length": ("40 1/2 in", 0, 0.4)},
    "Irons": {"swingweight": ("D2", 0, 0.8), "length": ("39 in", "-1/2 in", 0.4)},
    "Wedges": {"swingweight": ("D3", 1, 0.8), "length": ("35 3/4 in", "-1/4 in", 0.4)},
}
"""First value, change and tolerance."""


class Workbook:
    """The order on the builder's screen: what is typed into it, and what it then shows."""

    def __init__(self, clubs: list[Loose]) -> None:
        self.book: openpyxl.Workbook = build_order()
        self.rows = {club.name: FIRST_ROW + n for n, club in enumerate(clubs)}
        self.computed: Computed | None = None

    def type(self, table: Table, club: str, /, **cells: object) -> None:
        for key, value in cells.items():
            cell = self.book[table.sheet].cell(self.rows[club], table.at[key])
            assert table.column(key).role == "input"
            assert not cell.protection.locked
            cell.value = value
        self.computed = None

    def type_shop(self, **named: object) -> None:
        for name, value in named.items():
            sheet, _, place = self.book.defined_names[name].attr_text.rpartition("!")
            self.book[sheet][place.replace("$", "")].value = value

    def type_targets(self) -> None:
        sheet = self.book[TARGET.sheet]
        groups = {sheet.cell(row, TARGET.at["group"]).value: row for row in range(TARGET.first_row, TARGET.last_row)}
        for group, quantities in TARGETS.items():
            for key, parts in quantities.items():
                for part, value in zip(("first", "change", "tolerance"), parts, strict=True):
                    sheet.cell(groups[group], TARGET.at[f"{key}_{part}"]).value = value

    def shows(self, table: Table, key: str, club: str) -> Value:
        if self.computed is None:
            self.computed = Computed.from_bytes(save_bytes(self.book))
        assert table.column(key).role != "work", "a builder does not see working columns"
        return self.computed.value(table.sheet, self.rows[club], table.at[key])

    def flags(self) -> dict[str, str]:
        return {club: str(self.shows(SET, "flags", club) or "") for club in self.rows}


def follow(advice: str) -> dict[str, float]:
    """What a builder types into the plan who follows the first way that the advice tells."""
    add = re.search(r"add ([\d.]+) g at the (head|butt)", advice)
    take = re.search(r"take ([\d.]+) g off the head", advice)
    first = min((found for found in (add, take) if found), key=lambda found: found.start())
    return {"head_added": -float(first[1])} if first is take else {f"{first[2]}_added": float(first[1])}


def test_from_loose_parts_to_a_set_that_is_in() -> None:
    clubs = loose_parts()
    order = Workbook(clubs)
    order.type_shop(doubt_mass="0.1 g", doubt_balance="0.05 cm")
    order.type_targets()
    for club in clubs:
        order.type(ORDER, club.name, club=club.name, group=club.group)
    # Parts: weighed loose, and the answer is where to cut. The length is the one that Order wants.
    for club in clubs:
        order.type(
            PARTS, club.name, model=f"{club.group} heads", head_mass=club.head, bore_to_ground=BORE,
            shaft_mass=club.shaft, shaft_length=round(club.shaft_length, 2), shaft_balance=club.shaft_balance,
            grip_mass=club.grip, tape=TAPE, epoxy=EPOXY, ferrule=FERRULE,
        )  # fmt: skip
    for club in clubs:
        cut, trim = order.shows(PARTS, "cut_length", club.name), order.shows(PARTS, "butt_trim", club.name)
        assert isinstance(cut, float)
        assert isinstance(trim, float)
        assert cut + trim == pytest.approx(club.shaft_length, abs=0.01)
        assert str(order.shows(PARTS, "swingweight", club.name))[0] in "CDE"
        club.cut = round(cut, 1)
        assert club.made_length == pytest.approx(club.length, abs=0.06)
    # Bench: the dry fits, which lack epoxy and ferrule; Set judges the clubs as they will be.
    for club in clubs:
        mass, balance = club.weighed(finished=False)
        order.type(BENCH, club.name, dry_mass=mass, dry_balance=balance, dry_lacking="epoxy, ferrule",
                   length=club.made_length)  # fmt: skip
    for club in clubs:
        learned = order.shows(PARTS, "learned", club.name)
        assert learned == pytest.approx(club.rise, abs=0.35), club.name  # a twentieth of a cm of balance is 0.1 cm here
    flags = order.flags()
    out = {name: flag for name, flag in flags.items() if not flag.startswith(ALL_IN)}
    assert {"swingweight low", "swingweight high"} <= set(out.values())
    assert 3 <= len(out) < len(clubs), flags
    # Fix: the advice is tried in the plan, which says that the club will be in; then it is done.
    for name in out:
        plan = follow(str(order.shows(FIX, "advice", name)))
        order.type(FIX, name, **plan)
    for name in out:
        assert str(order.shows(FIX, "then_verdict", name)).startswith(ALL_IN), name
    for club in (club for club in clubs if club.name in out):
        order.type(FIX, club.name, done="done")
        sheet = order.book[FIX.sheet]
        for key, at in (("head_added", club.tip - 1.5), ("butt_added", 2.5)):
            grams = sheet.cell(order.rows[club.name], FIX.at[key]).value
            if isinstance(grams, float):
                club.added.append((grams, at))
    assert {name: flag for name, flag in order.flags().items() if not flag.startswith(ALL_IN)} == {}
    # Bench again, finished and fixed: what was measured counts now, and the set is in.
    for club in clubs:
        mass, balance = club.weighed(finished=True)
        stage = "after" if club.name in out else "done"
        order.type(BENCH, club.name, **{f"{stage}_mass": mass, f"{stage}_balance": balance})
    assert {name: flag for name, flag in order.flags().items() if flag != ALL_IN} == {}
    for club in clubs:
        assert order.shows(FIX, "advice", club.name) == "nothing to do"
        assert order.shows(BENCH, "stage", club.name) == ("after Fix" if club.name in out else "finished")
