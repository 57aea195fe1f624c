"""What is judged against a target: seven quantities, and where the Set sheet keeps what belongs to each."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class JudgedQuantity:
    """Something that is judged against a target on the Set sheet."""

    key: str
    name: str
    unit: str
    """The unit as text, or the defined name of the cell that holds it."""
    value: str
    """Formula of the value, without "="."""
    doubt: str
    """Formula of the value's doubt U, without "=": one instrument alone is doubted no more than it admits to."""
    number: str
    """Number format of a value."""

    @property
    def has_order_unit(self) -> bool:
        """Whether its plain numbers are in the order's own unit."""
        return self.unit.startswith("unit_")

    @property
    def digits(self) -> str:
        """Formula of how many decimals its texts show; -1 writes a swingweight's label."""
        if self.key == "swingweight":
            return "-1"
        return "shop_mass_digits" if self.key == "mass" else str(len(self.number.partition(".")[2]))


QUANTITIES: tuple[JudgedQuantity, ...] = (
    JudgedQuantity(
        "swingweight", "Swingweight", "points",
        "HEFT_POINTS({bench.mass_used},{bench.balance_used},shop_units)",
        "{bench.points_doubt}",
        "0.0",
    ),
    JudgedQuantity(
        "mass", "Total mass", "unit_mass",
        "HEFT_CONVERT({bench.mass_used},unit_mass,unit_mass)",
        "{bench.mass_doubt}", "0.0",
    ),
    JudgedQuantity(
        "inertia", "Inertia", "kg cm2",
        "{bench.inertia_used}",
        "{bench.inertia_doubt}", "0",
    ),
    JudgedQuantity(
        "length", "Length", "unit_length",
        "{fix.length_measured}",
        "HEFT_CONVERT(doubt_length,unit_length,unit_length)", "0.00",
    ),
    JudgedQuantity("loft", "Loft", "deg", "{bench.loft}", "doubt_loft", "0.0"),
    JudgedQuantity("lie", "Lie", "deg", "{bench.lie}", "doubt_lie", "0.0"),
    JudgedQuantity("frequency", "Frequency", "cpm", "{bench.frequency}", "doubt_frequency", "0"),
)  # fmt: skip

TARGET_PARTS = ("first", "change", "tolerance")
"""What each group is told of a quantity: the first club's value, the change from club to club, the tolerance."""


@dataclass(frozen=True, slots=True)
class JudgedColumns:
    """Where the Set sheet keeps what belongs to one quantity: keys of its columns."""

    number: str
    goal: str
    tolerance: str
    doubt: str
    verdict: str
    shown: str
    window: str


def judged(quantity: JudgedQuantity) -> JudgedColumns:
    """Return the keys of a quantity's columns on the Set sheet."""
    parts = ("number", "goal", "tolerance", "doubt", "verdict", "shown", "window")
    return JudgedColumns(*(f"{quantity.key}_{part}" for part in parts))
