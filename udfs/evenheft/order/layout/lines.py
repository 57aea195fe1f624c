"""Where the set should lie: the lines that reference clubs give, and the one that needs the least added mass.

All of it is worked out in hidden cells beside the targets, in the row of each group. Set reads a group's first values
here, in place of what is typed: a reference club fills what is left blank.
"""

from __future__ import annotations

from evenheft.order.layout.grid import Column, Table, literally
from evenheft.order.layout.order_sheet import OFFER_CHANGE, REFERRED_KEYS, TARGET
from evenheft.order.layout.quantities import QUANTITIES, JudgedQuantity

NOT_JUDGED = "-"
"""Typed as a first value: the quantity is not judged, whatever a reference club reads."""
REFERRED = tuple(quantity for quantity in QUANTITIES if quantity.key in REFERRED_KEYS)
_OF_A_CLUB = {key: "points" if key == "swingweight" else key for key in REFERRED_KEYS}
"""What the readings of the reference clubs are called, by quantity."""
LEADING = ("swingweight", "inertia")
"""The quantities for which a line of least added mass is offered."""
RANGES = {
    "line_groups": "group",
    "line_places": "place",
    "line_values": "line_value",
    "line_positions": "line_at",
    "line_doubts": "line_doubt",
}
"""Defined names of what the offer reads of each club, and the columns on Set that they stand for."""
REFERENCE_RANGES = ("group", "place", *_OF_A_CLUB.values())
"""What formulas look up of the reference clubs, side by side: "reference_groups" and so on."""


def reference_range(part: str) -> str:
    """Return the defined name of one row of what is known of the reference clubs."""
    return f"reference_{part}{'' if part in ('mass', 'inertia', 'points') else 's'}"


_ROW = f"ROW()-ROW(${TARGET.letter('group')}${TARGET.first_row - 1})+1"
"""Which cell of a framed column stands in the same row: by locked cells alone, so that no cut moves it."""


def _cell(key: str) -> str:
    return f"INDEX({TARGET.framed(key)},{_ROW})"


def _typed(key: str) -> str:
    """Write the formula, without "=", of what is typed of a group; a blank stays blank."""
    return f'IF({_cell(key)}="","",{_cell(key)})'


def _work(key: str, heading: str, formula: str) -> Column:
    return Column(key, heading, 9, "work", formula)


def _number(quantity: JudgedQuantity, typed: str) -> str:
    return f"HEFT_CONVERT({typed},{quantity.unit},{quantity.unit})" if quantity.has_order_unit else typed


def _of_quantity(quantity: JudgedQuantity) -> tuple[Column, ...]:
    """Tell a quantity's first value: as typed, else that of the line through the group's reference club."""
    key, name = quantity.key, quantity.name
    typed, change = f"{{line.{key}_typed}}", f"{{line.{key}_change}}"
    club = f"INDEX({reference_range(_OF_A_CLUB[key])},{{line.reference}})"
    return (
        _work(f"{key}_typed", f"{name}: first, typed", f"={_typed(f'{key}_first')}"),
        _work(f"{key}_stepped", f"{name}: change, typed", f"={_typed(f'{key}_change')}"),
        _work(f"{key}_change", f"{name}: change",
              f'=IF({{line.{key}_stepped}}="",0,{_number(quantity, f"{{line.{key}_stepped}}")})'),
        _work(f"{key}_line", f"{name}: first, by reference",
              f'=IF({{line.reference}}="","",HEFT_FIRST({club},{change},{{line.reference_place}}))'),
        _work(f"{key}_first", f"{name}: first",
              f'=IF({typed}="",{{line.{key}_line}},IF({typed}="{NOT_JUDGED}","",{typed}))'),
    )  # fmt: skip


_PLACE = f"INDEX({reference_range('place')},{{line.reference}})"
_OF_LEADING = 'IF({{line.leads}}="inertia",{{line.inertia_{what}}},{{line.swingweight_{what}}})'

GROUP_LINES = Table(
    "Order",
    "Lines",
    "",
    (
        _work("group", "Group", f"={_typed('group')}"),
        _work("leads", "Leads", f'=IF({_cell("leads")}="inertia","inertia","swingweight")'),
        _work("sought", "Group as it is looked up", f"={literally('{line.group}')}"),
        _work("reference", "Reference club",
              f'=IF({{line.group}}="","",IFERROR(MATCH({{line.sought}},{reference_range("group")},0),""))'),
        _work("reference_place", "Its place", f'=IF({{line.reference}}="","",IF({_PLACE}="",1,{_PLACE}))'),
        *(column for quantity in REFERRED for column in _of_quantity(quantity)),
        *(_work(f"{key}_tolerance", f"Tolerance of {key}", f"={_typed(f'{key}_tolerance')}") for key in LEADING),
        _work("tolerance", "Tolerance of what leads", f"={_OF_LEADING.format(what='tolerance')}"),
        _work("change", "Change that is kept",
              f'=IF({OFFER_CHANGE}="yes","",{_OF_LEADING.format(what="change")})'),
        _work("offer", "Line of least added mass",
              '=IF({line.group}="","",HEFT_LEAST_LINE(line_places,line_values,line_positions,{line.tolerance},'
              '{line.change},"line",shop_units,{line.leads},,line_groups,{line.group},line_doubts))'),
    ),
    name="line",
    first_column=max(TARGET.at.values()) + 2,
    first_row=TARGET.first_row,
    rows=TARGET.rows,
)  # fmt: skip
"""A hidden row for each group of clubs, beside its targets."""
