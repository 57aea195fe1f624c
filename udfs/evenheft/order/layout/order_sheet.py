"""The Order sheet: who it is for, the clubs, and what each group of them should measure."""

from __future__ import annotations

from evenheft.formulas.advice import LEADS as LEADS
from evenheft.order.layout.grid import FIRST_ROW, Column, Table, number_check
from evenheft.order.layout.quantities import QUANTITIES, TARGET_PARTS, JudgedQuantity

GROUPS = 8
"""How many groups of clubs can have targets of their own."""
GROUP_HEADS = {
    "Driver": "driver", "Woods": "wood", "Hybrids": "hybrid", "Irons": "iron", "Wedges": "wedge", "Putter": "putter",
}  # fmt: skip
"""The groups that a new order begins with, and the kind of head of each; the shop names its own."""
GROUP_NAMES = tuple(GROUP_HEADS)
TOLERANCES: dict[str, object] = {
    "swingweight": 1.2, "mass": "3 g", "inertia": 60, "length": "5 mm", "loft": 0.5, "lie": 0.5, "frequency": 2,
}  # fmt: skip
"""What a new order accepts either way: no finer than the instruments that it ships support (HEFT_LEAST_TOLERANCE)."""
PUTTER_TOLERANCE = 1.5
"""Of a putter's swingweight: it is heavier, so the same balance leaves more in doubt [points]."""


def shipped_tolerance(group: str, quantity: str) -> object:
    """Return the tolerance that a new order begins with: for its own groups, with a unit where it needs one."""
    if quantity == "swingweight" and GROUP_HEADS.get(group) == "putter":
        return PUTTER_TOLERANCE
    return TOLERANCES[quantity]


TARGET_COLUMN = 8

HEADER_FIELDS: tuple[tuple[str, str], ...] = (
    ("order_number", "Order number"),
    ("order_customer", "Customer"),
    ("order_date", "Date"),
    ("order_builder", "Builder"),
    ("order_note", "Note"),
)

ORDER = Table(
    "Order",
    "Order",
    "Fill in the framed cells: who it is for, the clubs and their groups, and what each group should measure.",
    (
        Column("number", "No.", 4, "input", check=number_check(1, 999),
               prompt="The club's number: all sheets find it by this. It stays with the club when the list is sorted."),
        Column("club", "Club", 12.8, "input", prompt="Name of the club as you call it, e.g. 7-iron."),
        Column("group", "Group", 8.2, "input", prompt="The group whose targets hold for this club.",
               options="=order_groups"),
        Column("place", "Place", 5.6, "input", check=number_check(1, 999),
               prompt="Only where a set skips a club: its place in the group. Counted down the list where blank."),
        Column("putter", "Putter?", 7.4, "input", options='"putter,other"',
               prompt='Choose "putter" for one that is called otherwise, as its group is: the rules allow it more than '
               "48 in."),
        Column("kept", "Name when last kept", 14, "work"),
    ),
)  # fmt: skip


def _target_band(quantity: JudgedQuantity) -> str:
    """Return the band over a quantity's three columns, as text or as a formula with the order's unit."""
    if quantity.has_order_unit:
        return f'="{quantity.name} ("&{quantity.unit}&")"'
    return quantity.name if quantity.key == "swingweight" else f"{quantity.name} ({quantity.unit})"


_PROMPTS = {
    "first": "Value wanted of the group's first club. Blank: this quantity is not judged.",
    "change": "Change from one club to the next; blank for an even set.",
    "tolerance": "Deviation that you still accept, either way.",
}
_PROMPT_BY_REFERENCE = (
    "Value wanted of the group's first club. Blank: as its reference club below has it, or not judged; - is not judged "
    "in any case."
)
REFERRED_KEYS = ("swingweight", "mass", "inertia")
"""The quantities that a reference club fills."""


def _prompt(quantity: JudgedQuantity, part: str) -> str:
    return _PROMPT_BY_REFERENCE if part == "first" and quantity.key in REFERRED_KEYS else _PROMPTS[part]


_HEADINGS = {"first": ("First", 5.6), "change": ("Change", 5.4), "tolerance": ("\N{PLUS-MINUS SIGN}", 5.0)}

TARGET = Table(
    "Order",
    "Targets",
    "",
    (
        Column("group", "Group", 8.2, "input", prompt="What you call this group of clubs.", band="Group"),
        Column("leads", "Leads", 10.2, "input", options=f'"{",".join(LEADS)}"', band="Group",
               prompt="What Fix is to correct: swingweight (used when blank), inertia, or both together."),
        *(
            Column(f"{quantity.key}_{part}", _HEADINGS[part][0], _HEADINGS[part][1], "input",
                   prompt=_prompt(quantity, part), band=_target_band(quantity))
            for quantity in QUANTITIES
            for part in TARGET_PARTS
        ),
    ),
    name="target",
    first_column=TARGET_COLUMN,
    first_row=FIRST_ROW,
    rows=GROUPS,
)  # fmt: skip
"""A row for each group of clubs, to the right of the clubs."""

REFERENCES = 3
"""How many clubs a builder can name that a group is to be like."""
REFERENCE_PARTS = ("group", "place", "mass", "balance", "period")
"""What is typed of each."""
OFFER_CHANGE = "order_offer_change"
"""The name of the cell that asks for the change from club to club too, where the line of least mass is offered."""
TYPED_ON_ORDER = (
    *(f"reference{number}_{part}" for number in range(1, REFERENCES + 1) for part in REFERENCE_PARTS),
    OFFER_CHANGE,
)
"""Names of the typed cells on Order that formulas read."""
