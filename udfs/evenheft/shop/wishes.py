"""What a builder tells beside a shop's sheet, checked before the sheet is read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from evenheft.formulas.wording import show, what_is_wrong
from evenheft.mechanics import units
from evenheft.mechanics.swingweight import points_from_label
from evenheft.ooxml.errors import Refused

OPTIONS = {
    "target": "--target",
    "increment": "--increment",
    "tolerance": "--tolerance",
    "mass_doubt": "--mass-doubt",
    "balance_doubt": "--balance-doubt",
}
"""What stands in cells for the builder to change, and the option that first fills them."""


@dataclass(frozen=True, slots=True)
class Wishes:
    """What a builder tells beside the sheet."""

    mapped: Mapping[str, str] = field(default_factory=dict)
    """What columns hold, by letter or heading."""
    target: str = ""
    """The swingweight wanted of the first club, e.g. "D2", where no column tells."""
    tolerance: float | None = None
    """The deviation in points that is accepted, where no column tells."""
    mass_doubt: str = ""
    """The scale's plus or minus, e.g. "0.5 g"."""
    balance_doubt: str = ""
    """The balance point's plus or minus, e.g. "1 mm"."""
    increment: float | None = None
    """The change in points from each club to the next."""

    def setting(self, key: str) -> float | str | None:
        """Tell what a cell for the builder to change is first filled with, None where nothing is told."""
        if key == "increment":
            return (self.increment or 0.0) if self.target else None
        text: float | str | None = getattr(self, key)
        if key == "target" and isinstance(text, str) and text and not text.strip()[:1].isalpha():
            return float(text.replace(",", "."))
        return text if text != "" else None


def need_sound(wishes: Wishes) -> None:
    """Refuse what the options tell wrongly.

    Raises:
        Refused: one of them is no such quantity.
    """
    for option, text, symbol in (
        ("--mass-doubt", wishes.mass_doubt, "g"),
        ("--balance-doubt", wishes.balance_doubt, "cm"),
    ):
        if text:
            try:
                units.read_quantity(text, units.BY_SYMBOL[symbol].dimension, units.BY_SYMBOL[symbol])
            except ValueError as error:
                raise Refused(what_is_wrong(option, text, error)) from None
    if wishes.target:
        try:
            if wishes.target.strip()[:1].isalpha():
                points_from_label(wishes.target)
            else:
                units.read_number(wishes.target)
        except ValueError as error:
            raise Refused(what_is_wrong("--target", wishes.target, error)) from None
    if wishes.tolerance is not None and wishes.tolerance < 0:
        raise Refused(f"--tolerance must be 0 or more, got {show(wishes.tolerance)}")
    if wishes.increment is not None and not wishes.target:
        raise Refused("--increment leads on from a first club: give --target too")
