"""The Shop sheet: what does not change from order to order. Its declaration is data, which a shop book fills too."""

from __future__ import annotations

import re

from evenheft.mechanics.forecast_doubt import Doubts
from evenheft.mechanics.head_rise import HEADS
from evenheft.order.layout.grid import FIRST_ROW, Column, Setting, Table
from evenheft.order.layout.order_sheet import GROUP_HEADS, GROUPS, TYPED_ON_ORDER

UNIT_SETTINGS: tuple[Setting, ...] = (
    Setting("shop_units", "Units of plain numbers", "g cm", "mass, then length",
            options=("g cm", "g in", "g mm", "oz in", "oz cm")),
    Setting("unit_mass", "Unit of mass",
            '=IF(shop_units="","g",LEFT(shop_units,FIND(" ",shop_units)-1))', computed=True),
    Setting("unit_length", "Unit of length",
            '=IF(shop_units="","cm",MID(shop_units,FIND(" ",shop_units)+1,9))', computed=True),
    Setting("unit_grams", "Grams in a unit of mass", '=HEFT_CONVERT(1,unit_mass,"g")', computed=True),
    Setting("unit_cm", "Centimetres in a unit of length", '=HEFT_CONVERT(1,unit_length,"cm")', computed=True),
    Setting("shop_mass_digits", "Decimals of a mass", '=IF(unit_mass="oz",2,1)', computed=True),
    Setting("shop_inches", "Cuts in inches to 1/16 too", "no", "", options=("no", "yes")),
    Setting("shop_local_rule", "Local rule on length", "none", "G-10: 46 in, putters excepted",
            options=("none", "G-10")),
)  # fmt: skip

INSTRUMENTS: tuple[Setting, ...] = (
    Setting("doubt_mass", "Scale, plus or minus", "0.1 g"),
    Setting("doubt_balance", "Balance point, plus or minus", "0.2 cm", "tape and edge together"),
    Setting("shop_swings", "Full swings timed together", 10, "Period on Bench is the time of them all"),
    Setting("doubt_watch", "Time of them all, plus or minus", 0.1, "s; stopwatch and thumb"),
    Setting("shop_angle", "Half-angle of the swing", 0, "deg; 0 for less than 5 each way"),
    Setting("doubt_scale", "Swingweight scale, plus or minus", 0.25, "points"),
    Setting("doubt_length", "Length, plus or minus", "0.2 cm"),
    Setting("doubt_loft", "Loft, plus or minus", 0.25, "deg"),
    Setting("doubt_lie", "Lie, plus or minus", 0.25, "deg"),
    Setting("doubt_frequency", "Frequency, plus or minus", 0.5, "cpm"),
    Setting("shop_pivot", "Swing axis from the butt", "0 cm", "for the period"),
    Setting("doubt_pivot", "Swing axis, plus or minus", "0.1 cm", "alike for every club"),
    Setting("shop_gravity", "Gravity", 980.665, "cm/s2; HEFT_GRAVITY knows yours"),
    Setting("doubt_gravity", "Gravity, plus or minus", 2, "cm/s2; alike for every club"),
    Setting("doubt_epoxy", "Epoxy in a joint, plus or minus", "0.5 g", "for forecasts"),
    Setting("doubt_grip_balance", "Grip's balance, plus or minus", "0.7 cm", "for forecasts; our own guess"),
    Setting("doubt_place", "Small parts' places, plus or minus", "0.5 cm", "for forecasts; our own guess"),
)
"""What the instruments and guesses are good to: a newcomer's, as docs/measuring.md has them."""

FORECAST_DOUBTS: tuple[tuple[str, str, str], ...] = (
    ("Mass doubt", "unit_mass", "doubt_mass"),
    ("Balance doubt", "unit_length", "doubt_balance"),
    ("Length doubt", "unit_length", "doubt_length"),
    ("Epoxy doubt", "unit_mass", "doubt_epoxy"),
    ("Grip balance doubt", "unit_length", "doubt_grip_balance"),
    ("Place doubt", "unit_length", "doubt_place"),
)
"""What the forecast's formulas read of them: heading, unit and setting of each line of `shop_doubts`."""

FIXING: tuple[Setting, ...] = (
    Setting("shop_pieces", "Weights at one place, at most", 2, "pieces, 1 to 4"),
    Setting("shop_fix_slack", "Mass after Fix may differ by", "0.5 g", "more is told on Fix and Set"),
    Setting("shop_ways", "Ways that Fix tells, at most", 2, "1 to 3: head, butt, length"),
)
"""Settings of the Fix sheet."""

SETTINGS = (*UNIT_SETTINGS, *INSTRUMENTS, *FIXING)
"""Every named cell of the Shop sheet."""

STOCKS: tuple[tuple[str, str, str, tuple[float, ...]], ...] = (
    ("stock_head", "count_head", "Head", (2, 3, 4, 5, 6, 7, 8, 9)),
    ("stock_butt", "count_butt", "Butt", (2, 5, 7, 10, 15, 20, 30, 50)),
)
"""Defined names of sizes and counts, heading and first content [g] of each list of stock weights."""
STOCK_ROWS = 16
"""How many sizes one place can have."""

READ = "_"
"""What the name of a setting ends with where formulas read it: a locked cell, since what is typed may be moved."""
_TYPED = (
    *(s.name for s in SETTINGS if not s.computed),
    *(name for sizes, counts, _, _ in STOCKS for name in (sizes, counts)),
    *TYPED_ON_ORDER,
)
_NAMES = re.compile(rf"\b({'|'.join(_TYPED)})\b")


def read_locked(formula: str) -> str:
    """Let a formula read settings, stock and reference clubs in the locked cells that fetch what is typed.

    >>> read_locked("=HEFT_POINTS(A1,B1,shop_units)")
    '=HEFT_POINTS(A1,B1,shop_units_)'
    """
    return _NAMES.sub(rf"\1{READ}", formula)


EVERY_GROUP = "every group"
"""The row of `USUAL` that holds where a group says nothing of its own."""

USUALLY: tuple[tuple[str, str, object, str], ...] = (
    ("head_rise", "Head rise", "1 cm", "Ground line back up the shaft axis to the head's centre, until a dry fit "
     "teaches it."),
    ("head_rise_doubt", "Head rise, +-", f"{Doubts().head_rise:g} cm", "How far that guess may be off; our own guess."),
    ("bore_to_ground", "Bore to ground", "3.8 cm", "Seated shaft tip to the ground line."),
    ("grip_cap", "Grip cap", "0.4 cm", "Thickness of the grip's closed end: shaft end to butt."),
    ("grip_balance", "Grip balance", "11 cm", "Butt to the grip's own balance point."),
    ("tape_from_butt", "Tape from butt", "13 cm", "Butt to the middle of the tape."),
    ("ferrule_above_tip", "Ferrule above tip", "4.2 cm", "Shaft tip to the ferrule's middle."),
    ("epoxy_above_tip", "Epoxy above tip", "1.5 cm", "Shaft tip to the middle of the joint."),
    ("adapter_above_tip", "Adapter above tip", "1.5 cm", "Shaft tip to the adapter's centre."),
    ("tip_weight_above_tip", "Tip weight above tip", "1.5 cm", "Shaft tip to the tip weight's centre; weights that "
     "Fix puts at the head sit there too."),
    ("butt_weight_from_butt", "Butt weight from butt", "2.5 cm", "Butt to the centre of a weight in the butt."),
    ("lead_tape_rise", "Lead tape rise", None, "Ground line back up the shaft axis to lead tape on the head; blank: "
     "the head's centre."),
    ("cut_grip_balance", "Cut grip balance", "11 cm", "Butt to the balance of the cut grip used for dry fits."),
)  # fmt: skip
"""Key, heading, value for every group and explanation of each usual value; a group may have its own beside it."""

USUAL_ROW = FIRST_ROW + len(INSTRUMENTS) + len(UNIT_SETTINGS) + 3

USUAL = Table(
    "Shop",
    "What is usual",
    "",
    (
        Column("group", "Group", 28, "input", prompt="A group as Order calls it; its values stand in this row."),
        *(
            Column(key, f'="{heading} ("&unit_length&")"', 10.8, "input", prompt=note)
            for key, heading, _, note in USUALLY
        ),
    ),
    name="usual",
    first_row=USUAL_ROW,
    rows=GROUPS + 1,
)  # fmt: skip
"""A row for every group and one for each, found by the group's name."""


def _of_group(kind: str) -> dict[str, object]:
    """Tell what a new order takes for usual of a group's own kind of head."""
    head = HEADS[kind]
    return {"head_rise": f"{head.rise:.1f} cm", "head_rise_doubt": f"{head.doubt:.1f} cm"}


SHIPPED_USUAL: dict[str, dict[str, object]] = {
    EVERY_GROUP: {key: value for key, _, value, _ in USUALLY},
    **{group: _of_group(kind) for group, kind in GROUP_HEADS.items()},
}
"""What a new order, and a new shop book, say is usual: by group, then by key."""

LISTED_SHAFTS, LISTED_GRIPS = 60, 60
"""How many shafts and grip models one order can choose from."""
_LISTS_ROW = USUAL.last_row + 4


_TWICE = "This stands in the list already: the first one of the two would be taken."


def _listed(key: str, heading: str, unit: str, prompt: str) -> Column:
    return Column(key, f'="{heading} ("&{unit}&")"', 10.8, "input", prompt=prompt)


SHAFTS = Table(
    "Shop",
    "Shafts",
    "",
    (
        Column("shaft", "Shaft no.", 28, "input", check="=COUNTIF({column},{cell})=1", refusal=_TWICE,
               prompt="The number written on the shaft, each only once; type it on Parts to take this shaft."),
        _listed("mass", "Shaft mass", "unit_mass", "As it lies on the scale, uncut."),
        _listed("length", "Shaft length", "unit_length", "As it lies there, uncut."),
        _listed("balance", "Shaft balance", "unit_length", "From its butt end to where it balances."),
        Column("aside", "Set aside for", 10.8, "input", prompt="The order that the shaft is promised to."),
    ),
    name="shafts",
    first_row=_LISTS_ROW,
    rows=LISTED_SHAFTS,
)  # fmt: skip
"""The shafts that an order can choose from, found by the number written on them: a snapshot of the shop book's."""

GRIPS = Table(
    "Shop",
    "Grips",
    "",
    (
        Column("grip", "Grip model", 10.8, "input", check="=COUNTIF({column},{cell})=1", refusal=_TWICE,
               prompt="The model, each only once; type it on Parts to take its mass and balance."),
        _listed("mass", "Grip mass", "unit_mass", "Of one grip, the mean of a handful."),
        _listed("balance", "Grip balance", "unit_length", "Butt to the grip's own balance point."),
    ),
    name="grips",
    first_column=8,
    first_row=_LISTS_ROW,
    rows=LISTED_GRIPS,
)  # fmt: skip
"""The same for grips, by model."""
