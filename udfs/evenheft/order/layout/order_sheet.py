"""The Order sheet: who it is for, the clubs, instruments, targets, stock and the shop's defaults."""

from __future__ import annotations

from evenheft.order.layout.grid import FIRST_ROW, LAST_ROW, Column, Setting, Table
from evenheft.order.layout.quantities import QUANTITIES

GROUPS = 5
"""How many groups of clubs can have targets of their own."""
GROUP_NAMES = ("Driver", "Woods", "Irons", "Wedges", "Putter")

# Where the blocks of the Order sheet stand.
SETTING_ROW = FIRST_ROW
TARGET_TITLE_ROW = LAST_ROW + 3
TARGET_GROUP_ROW = TARGET_TITLE_ROW + 1
TARGET_PART_ROW = TARGET_GROUP_ROW + 1
TARGET_ROW = TARGET_PART_ROW + 1
TARGET_COLUMN = 3
TARGET_PARTS = ("first", "increment", "tolerance")

SETTINGS: tuple[Setting, ...] = (
    Setting("shop_units", "Units of plain numbers", "g cm", "mass, then length",
            options=("g cm", "g in", "g mm", "oz in", "oz cm")),
    Setting("unit_mass", "Unit of mass", '=LEFT(shop_units,FIND(" ",shop_units)-1)', computed=True),
    Setting("unit_length", "Unit of length", '=MID(shop_units,FIND(" ",shop_units)+1,9)', computed=True),
    Setting("unit_grams", "Grams in a unit of mass", '=IF(unit_mass="oz",28.349523125,1)', computed=True),
    Setting("unit_cm", "Centimetres in a unit of length",
            '=IF(unit_length="in",2.54,IF(unit_length="mm",0.1,1))', computed=True),
    Setting("doubt_mass", "Scale, plus or minus", "0.1 g"),
    Setting("doubt_balance", "Balance point, plus or minus", "0.05 cm", "tape and edge together"),
    Setting("doubt_period", "Time of one swing, plus or minus", 0.002, "s; stopwatch / swings timed"),
    Setting("doubt_scale", "Swingweight scale, plus or minus", 0.25, "points"),
    Setting("doubt_length", "Length, plus or minus", "0.1 cm"),
    Setting("doubt_loft", "Loft, plus or minus", 0.25, "deg"),
    Setting("doubt_lie", "Lie, plus or minus", 0.25, "deg"),
    Setting("doubt_frequency", "Frequency, plus or minus", 0.5, "cpm"),
    Setting("shop_cap", "Grip cap thickness", "0.4 cm", "shaft end to butt"),
    Setting("shop_pivot", "Swing axis from the butt", "0 cm", "for the period"),
    Setting("shop_gravity", "Gravity", 980.665, "cm/s2"),
)  # fmt: skip

FIXING: tuple[Setting, ...] = (
    Setting("shop_weight_rise", "Head weights above ground line", "5.3 cm", "a tip weight; about 1 cm on the head"),
    Setting("shop_butt_place", "Butt weights from the butt", "2.5 cm"),
    Setting("shop_grip_place", "Grip's balance from the butt", "11 cm"),
    Setting("shop_pieces", "Weights at one place, at most", 2, "pieces, 1 to 4"),
)
"""Settings of the Fix sheet: where weights go."""

STOCK_ROW = FIRST_ROW + GROUPS + 3
"""First row of the stock weights on the Order sheet, which reach down to the last club's row."""
STOCKS: tuple[tuple[str, str, tuple[float, ...]], ...] = (
    ("stock_head", "Head", (2, 3, 4, 5, 6, 7, 8, 9)),
    ("stock_butt", "Butt", (2, 5, 7, 10, 15, 20, 30, 50)),
)
"""Defined name, heading and first content [g] of each list of stock weights."""

DEFAULT_TITLE_ROW = TARGET_ROW + len(QUANTITIES) + 1
DEFAULT_ROW = DEFAULT_TITLE_ROW + 1
DEFAULTS: tuple[tuple[str, float | str, str], ...] = (
    ("Head rise (cm)", 1.0, "head's centre above ground, until taught"),
    ("Bore to ground (cm)", 3.8, "seated shaft tip to the ground line"),
    ("Grip cap (cm)", '=HEFT_CONVERT(shop_cap,unit_length,"cm")', "from Units and instruments"),
    ("Grip balance (cm)", 11.0, "butt to the grip's own balance point"),
    ("Tape from butt (cm)", 13.0, "butt to the middle of the tape"),
    ("Ferrule above tip (cm)", 4.2, "shaft tip to the ferrule's middle"),
    ("Epoxy above tip (cm)", 1.5, "shaft tip to the middle of the joint"),
    ("Adapter above tip (cm)", 1.5, "shaft tip to the adapter's centre"),
    ("Tip weight above tip (cm)", 1.5, "shaft tip to the tip weight's centre"),
    ("Butt weight from butt (cm)", 2.5, "butt to the counterweight's centre"),
    ("Cut grip balance (cm)", 11.0, "butt to the balance of the cut grip used for dry fits"),
)
"""Heading, value and explanation of each default that HEFT_CLUB uses where a row says nothing.

A value that is a formula follows another cell and is locked."""

HEADER_FIELDS: tuple[tuple[str, str], ...] = (
    ("order_number", "Order number"),
    ("order_customer", "Customer"),
    ("order_date", "Date"),
    ("order_builder", "Builder"),
    ("order_note", "Note"),
)

# Text passes: it may carry its own unit, and the formulas refuse what they cannot read.

ORDER = Table(
    "Order",
    "Order",
    "Fill in the framed cells: who it is for, the clubs, your instruments, and what each group should measure.",
    (
        Column("number", "No.", 6, "label"),
        Column("club", "Club", 19, "input", prompt="Name of the club as you call it, e.g. 7-iron."),
        Column("group", "Group", 11, "input", prompt="The group whose targets hold for this club.",
               options="=order_groups"),
        Column("putter", "Putter?", 9, "input", options='"putter,other"',
               prompt='Choose "putter" for a putter: the rules allow it more than 48 in.'),
    ),
)  # fmt: skip
