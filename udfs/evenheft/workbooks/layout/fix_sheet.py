"""The Fix sheet: how many grams, where, and what the club will then read."""

from __future__ import annotations

from evenheft.workbooks.layout.grid import Column, Table, identity, unit_heading


def _number_of(cell: str, unit: str) -> str:
    """Formula, without "=", of a typed mass or length as a number in the order's unit."""
    return f'HEFT_CONVERT(IF({cell}="","",{cell}),{unit},{unit})'


def _after(grams: str, place: str, what: str) -> str:
    return f'=HEFT_AFTER({{fix.mass}},{{fix.balance}},{grams},{place},"{what}",shop_units)'


def _inertia_after(grams: str, place: str) -> str:
    """Formula of the inertia with a mass added at a place; blank where the club's is not known."""
    return (
        f'=IF(ISNUMBER({{fix.inertia}}),HEFT_AFTER({{fix.mass}},{{fix.balance}},{grams},{place},"inertia",shop_units,'
        '{fix.inertia}),"")'
    )


def _grams_to(place: str) -> str:
    return f"=HEFT_GRAMS_TO({{set.swingweight_goal}},{{fix.mass}},{{fix.balance}},{place},shop_units)"


def _picked_weight(grams: str, stock: str) -> str:
    """Formula of the nearest sum of stock weights; blank where nothing is to be added."""
    return f'=IF(ISNUMBER({grams}),IF({grams}>0,HEFT_PICK({grams},{stock},shop_pieces,"sum"),""),{grams})'


def _advice() -> str:
    """Formula of the line that says what to do about a club, in words.

    A club that is in needs nothing. A light one gets stock weights at the head. A heavy one
    loses mass at the head, or gets a counterweight where one of the stock helps.
    """
    measure = 'IF({set.swingweight_verdict}="re-measure","measure again first; or ","")'
    light = (
        "IF(AND(ISNUMBER({fix.head_pick}),ISNUMBER({fix.head_grams})),IF({fix.head_pick}>0,"
        '"add "&{fix.head_pick}&" "&unit_mass&" at the head: then "&{fix.head_then},'
        '"no stock weight is near: add "&ROUND({fix.head_grams},1)&" "&unit_mass&" at the head"),"! see At the head")'
    )
    heavy = (
        'IF(ISNUMBER({fix.head_grams}),"take "&ROUND(-{fix.head_grams},1)&" "&unit_mass&" off the head",'
        '"! see At the head")'
        "&IF(ISNUMBER({fix.butt_pick}),IF({fix.butt_pick}>0,"
        '", or add "&{fix.butt_pick}&" "&unit_mass&" at the butt: then "&{fix.butt_then},""),"")'
    )
    return (
        '=IF(NOT(ISNUMBER({fix.off})),"",IF({set.swingweight_verdict}="in","nothing to do",'
        f"{measure}&IF({{fix.off}}<0,{light},{heavy})))"
    )


FIX = Table(
    "Fix",
    "Fix",
    "What to do about each club, and what it will then read. Type what you added; clear it when you measure again.",
    (
        *identity(),
        Column("basis", "Based on", 12, "label",
               '=IF({bench.stage}<>"",{bench.stage},IF(ISNUMBER({parts.mass}),"forecast",""))', band="Now"),
        Column("now", "Swingweight", 11, "computed", "={fix.label}", band="Now"),
        Column("target", "Target", 8, "computed", "={set.swingweight_target}", band="Now"),
        Column("off", "Off by (points)", 8, "computed",
               '=IF(AND(ISNUMBER({fix.points}),ISNUMBER({set.swingweight_goal})),{fix.points}-{set.swingweight_goal},"")',
               "+0.0;-0.0;0.0", band="Now"),
        Column("advice", "Advice", 44, "computed", _advice(), band="Now", wrap=True),
        Column("head_grams", unit_heading("Wanted", "unit_mass"), 9, "computed", _grams_to("{fix.head_place}"),
               "+0.0;-0.0;0.0", band="At the head"),
        Column("head_pick", unit_heading("From stock", "unit_mass"), 9, "computed",
               _picked_weight("{fix.head_grams}", "stock_head"), "0.0", band="At the head"),
        Column("head_then", "Then reads", 9, "computed", _after("{fix.head_pick}", "{fix.head_place}", "swingweight"),
               band="At the head"),
        Column("head_mass", unit_heading("Total mass", "unit_mass"), 9, "computed",
               _after("{fix.head_pick}", "{fix.head_place}", "mass"), "0.0", band="At the head"),
        Column("head_inertia", "Inertia (kg cm2)", 9, "computed", _inertia_after("{fix.head_pick}", "{fix.head_place}"),
               "0", band="At the head"),
        Column("butt_grams", unit_heading("Wanted", "unit_mass"), 9, "computed", _grams_to("shop_butt_place"),
               "+0.0;-0.0;0.0", band="At the butt"),
        Column("butt_pick", unit_heading("From stock", "unit_mass"), 9, "computed",
               _picked_weight("{fix.butt_grams}", "stock_butt"), "0.0", band="At the butt"),
        Column("butt_then", "Then reads", 9, "computed", _after("{fix.butt_pick}", "shop_butt_place", "swingweight"),
               band="At the butt"),
        Column("butt_mass", unit_heading("Total mass", "unit_mass"), 9, "computed",
               _after("{fix.butt_pick}", "shop_butt_place", "mass"), "0.0", band="At the butt"),
        Column("butt_inertia", "Inertia (kg cm2)", 9, "computed", _inertia_after("{fix.butt_pick}", "shop_butt_place"),
               "0", band="At the butt"),
        Column("grip_grams", unit_heading("Heavier grip by", "unit_mass"), 9, "computed",
               _grams_to("shop_grip_place"), "+0.0;-0.0;0.0", band="Grip"),
        Column("rule", "Length rule", 10, "computed",
               "=HEFT_LENGTH_LIMIT({fix.length},{order.putter},shop_units)", band="Rules"),
        Column("added", unit_heading("Added", "unit_mass"), 9, "input", number="0.0", band="Done",
               prompt="What you added since the club was measured; with a minus what you took off. Clear it when you "
               "measure again."),
        Column("added_at", "Where", 9, "input", band="Done", options='"head,butt,grip"',
               prompt='Where: "head" (used when blank), "butt" or "grip".'),
        Column("mass", "Mass", 9, "work",
               '=IF({bench.stage}<>"",{bench.mass_used},{parts.mass})', "0.0", band="Working"),
        Column("balance", "Balance", 9, "work",
               '=IF({bench.stage}<>"",{bench.balance_used},{parts.balance})', "0.00", band="Working"),
        Column("points", "Points", 8, "work",
               "=HEFT_POINTS({fix.mass},{fix.balance},shop_units)", "0.00", band="Working"),
        Column("label", "Label", 8, "work",
               '=IF(ISNUMBER({fix.points}),HEFT_LABEL({fix.points}),{fix.points})', band="Working"),
        Column("inertia", "Inertia", 8, "work",
               "=IF(ISNUMBER({set.inertia_value}),{set.inertia_value},{parts.inertia})", "0", band="Working"),
        Column("length", "Length", 9, "work",
               '=IF({bench.length}<>"",' + _number_of("{bench.length}", "unit_length") + ","
               + _number_of("{parts.club_length}", "unit_length") + ")", "0.00", band="Working"),
        Column("head_place", "Head weights from butt", 9, "work",
               "=IF(ISNUMBER({fix.length}),{fix.length}-HEFT_CONVERT(shop_weight_rise,unit_length,unit_length),"
               "{fix.length})", "0.00", band="Working"),
        Column("added_from_butt", "Added, from butt", 9, "work",
               '=IF({fix.added}="","",IF({fix.added_at}="butt",shop_butt_place,IF({fix.added_at}="grip",shop_grip_place,'
               "{fix.head_place})))", "0.00", band="Working"),
    ),
)  # fmt: skip
