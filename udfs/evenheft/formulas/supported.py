"""Formula: the line over a set whose instruments cannot support its tolerances, and what would."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain
from math import ceil, floor, log10

from evenheft.formulas.doubt import CATEGORY
from evenheft.formulas.kinds import Cells, Typed, finite_number
from evenheft.formulas.registry import Answer, Argument, formula
from evenheft.formulas.tolerance import OWN_RULE
from evenheft.formulas.wording import show
from evenheft.mechanics.tolerance import least_tolerance
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.values import CellRows

DIGITS = 2
"""Significant digits of what is told: a doubt is not known to more [-]."""
_HAIR = 1e-9
_REMEDIES = {"swingweight": "read the balance to +-{} {}", "inertia": "count {} {}"}
"""What helps where needs are told, by the quantity in small letters."""
FINER = "measure it more finely"


def rounded_up(value: float) -> float:
    """Round a positive number up to `DIGITS` significant digits [the value's unit].

    >>> rounded_up(1.034), rounded_up(0.5)
    (1.1, 0.5)
    """
    place = 10.0 ** (DIGITS - 1 - floor(log10(value)))
    return ceil(value * place - _HAIR) / place


def rounded_down(value: float) -> float:
    """Round a positive number down to `DIGITS` significant digits [the value's unit].

    >>> rounded_down(0.0898), rounded_down(0.09)
    (0.089, 0.09)
    """
    place = 10.0 ** (DIGITS - 1 - floor(log10(value)))
    return floor(value * place + _HAIR) / place


@formula(
    "HEFT_SUPPORTED",
    category=CATEGORY,
    help="One line where the doubt of a set's clubs is more than its tolerance can support: what tolerance these "
    "instruments support, or what would have to be read more finely. Blank where they do.",
    arguments=(
        Argument("quantity", 'What is judged, e.g. "Swingweight" or "Inertia".', Typed("text")),
        Argument("tolerances", "Range with each club's tolerance; what is no number is left out.", Cells("range"),
                 takes="table", quiet=False),
        Argument("doubts", "Range of equal shape with each club's doubt U, in the same unit.", Cells("range"),
                 takes="table", quiet=False),
        Argument("unit", 'Unit of both, as it is to be told, e.g. "points".', Typed("text"), ""),
        Argument("needs", "Range of equal shape with what HEFT_BALANCE_NEEDED or HEFT_SWINGS_NEEDED asks of each "
                 "club; none when left out.", Cells("range"), None, takes="table", quiet=False),
        Argument("needs_unit", 'Unit of the needs, as it is to be told: "cm", or "swings".', Typed("text"), ""),
    ),
    answers=(Answer("line", "text"),),
    source=OWN_RULE,
    examples=(
        (
            '=HEFT_SUPPORTED("Swingweight", {0.5;0.5}, {0.66;0.69}, "points", {0.096;0.09}, "cm")',
            "Swingweight: +-0.5 points is finer than these instruments support, +-1.1: accept that on Order, or read "
            "the balance to +-0.09 cm.",
        ),
        ('=HEFT_SUPPORTED("Inertia", {60;60}, {33;34}, "kg cm2")', ""),
    ),
)  # fmt: skip
def supported(
    quantity: float | str,
    tolerances: CellRows,
    doubts: CellRows,
    unit: float | str,
    needs: CellRows | None,
    needs_unit: float | str,
) -> str:
    """Return a line [-] on tolerances and doubts [one unit], with needs [cm or swings] where they are known."""
    accepted, doubted = (list(chain.from_iterable(rows)) for rows in (tolerances, doubts))
    asked = list(chain.from_iterable(needs)) if needs else [None] * len(accepted)
    if not len(accepted) == len(doubted) == len(asked):
        raise Refused("doubts and needs must be as many as tolerances")
    for name, cells in (("tolerances", accepted), ("doubts", doubted)):
        if below := next((cell for cell in cells if (number := finite_number(cell)) is not None and number < 0), None):
            raise Refused(f"{name} must be 0 or more, got {show(below)}")
    clubs = [
        (tolerance, least_tolerance(doubt), finite_number(need))
        for tolerance, doubt, need in zip(map(finite_number, accepted), map(finite_number, doubted), asked, strict=True)
        if tolerance is not None and doubt is not None
    ]
    short = [club for club in clubs if club[1] > club[0] * (1 + _HAIR)]
    if not short:
        return ""
    finest = min(tolerance for tolerance, _, _ in short)
    least = rounded_up(max(least for _, least, _ in short))
    of = f" {show(unit)}" if unit else ""
    helps = _remedy(str(quantity).lower(), [need for _, _, need in short], show(needs_unit))
    return (
        f"{show(quantity)}: +-{show(finest)}{of} is finer than these instruments support, +-{show(least)}: accept that "
        f"on Order, or {helps}."
    )


def _remedy(quantity: str, needs: Sequence[float | None], unit: str) -> str:
    """Tell what would support the tolerances: the most that any club asks for;
    only where each can be helped that way.
    """
    known = [need for need in needs if need is not None and need > 0]
    if quantity not in _REMEDIES or len(known) < len(needs):
        return FINER
    most = show(max(known)) if quantity == "inertia" else show(rounded_down(min(known)))
    return _REMEDIES[quantity].format(most, unit or "").rstrip()
