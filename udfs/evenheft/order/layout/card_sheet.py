"""The Card sheet: one page for writing at the bench, with the targets printed and blanks for what is measured."""

from __future__ import annotations

from evenheft.order.layout.grid import Column, Table, identity, unit_heading
from evenheft.order.layout.quantities import QUANTITIES

CAUTION = (
    "Care: the head of a dry fit can come off. Let it swing as a pendulum only, slowly, low and with nobody in its "
    "way; never swing it, never hit with it. With epoxy, heat and dust follow the makers' sheets."
)
TICKED = "Stage:   \N{WHITE SQUARE} dry fit   \N{WHITE SQUARE} finished   \N{WHITE SQUARE} after Fix"
SIGNED = "Date, by:"
_DIGITS = {quantity.key: quantity.digits for quantity in QUANTITIES}
_BANDS = {quantity.key: quantity.name for quantity in QUANTITIES} | {"mass": "Mass and balance"}


def _wanted(key: str, width: float) -> Column:
    """Tell what is wanted of a quantity, and below it by how much it may differ, just as it was typed."""
    goal, tolerance = f"{{set.{key}_goal}}", f"{{set.{key}_tolerance}}"
    half = f'IF(ISNUMBER({tolerance}),CHAR(10)&"\N{PLUS-MINUS SIGN} "&ROUND({tolerance},2),"")'
    formula = f'=IF(OR({{card.club}}="",{goal}=""),"",HEFT_SHOWN({goal},0,{_DIGITS[key]})&{half})'
    return Column(f"{key}_wanted", "Must be", width, "computed", formula, band=_BANDS[key])


def _blank(key: str, heading: str, width: float, band: str) -> Column:
    """Return a cell that is written into by hand, on paper."""
    return Column(key, heading, width, "label", band=band)


CARD = Table(
    "Card",
    "Bench card",
    "Print it, write on it at the bench, then type it on Bench. Targets are those of Order.",
    (
        *identity(),
        _wanted("swingweight", 6.4),
        _blank("reading", "Scale reads", 7.2, _BANDS["swingweight"]),
        _wanted("mass", 6.6),
        _blank("mass_read", unit_heading("Mass", "unit_mass"), 8, _BANDS["mass"]),
        _blank("balance_read", unit_heading("Balance", "unit_length"), 8.4, _BANDS["mass"]),
        _wanted("inertia", 6),
        _blank("time_read", '=shop_swings&IF(shop_swings=1," swing"," swings")&" (s)"', 8.2, _BANDS["inertia"]),
        _wanted("length", 7),
        _blank("length_read", unit_heading("Length", "unit_length"), 7.8, _BANDS["length"]),
        _wanted("loft", 5.6),
        _blank("loft_read", "Loft (deg)", 5.8, _BANDS["loft"]),
        _wanted("lie", 5.6),
        _blank("lie_read", "Lie (deg)", 5.8, _BANDS["lie"]),
        _wanted("frequency", 5.2),
        _blank("frequency_read", "Freq. (cpm)", 6.4, _BANDS["frequency"]),
    ),
)
"""Nothing is typed here: a formula's sheet for paper."""
BLANKS = tuple(column.key for column in CARD.columns if column.key.endswith("_read") or column.key == "reading")
