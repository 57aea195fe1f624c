"""The Fix sheet: how many grams, where, and what the club will then read."""

from __future__ import annotations

from evenheft.order.layout.grid import Column, Table, identity, unit_heading


def _number_of(cell: str, unit: str) -> str:
    """Write the formula, without "=", of a typed mass or length as a number in the order's unit."""
    return f'HEFT_CONVERT(IF({cell}="","",{cell}),{unit},{unit})'


def _after(grams: str, place: str, what: str) -> str:
    return f'=HEFT_AFTER({{fix.mass}},{{fix.balance}},{grams},{place},"{what}",shop_units)'


def _inertia_after(grams: str, place: str) -> str:
    """Write the formula of the inertia with a mass added at a place; blank where the club's is not known."""
    return (
        f'=IF(ISNUMBER({{fix.inertia}}),HEFT_AFTER({{fix.mass}},{{fix.balance}},{grams},{place},"inertia",shop_units,'
        '{fix.inertia}),"")'
    )


def _grams_to(place: str) -> str:
    return f"=HEFT_GRAMS_TO({{set.swingweight_goal}},{{fix.mass}},{{fix.balance}},{place},shop_units)"


def _picked_weight(wanted: str, stock: str) -> str:
    """Write the formula of the nearest sum of stock weights, in g as they are sold; blank where none is to be added."""
    return (
        f'=IF(ISNUMBER({wanted}),IF({wanted}>0,HEFT_PICK(HEFT_CONVERT({wanted},unit_mass,"g"),{stock},shop_pieces,'
        f'"sum"),""),{wanted})'
    )


def _rounded(mass: str) -> str:
    """Write the formula, without "=", of a mass as finely as a builder can use it: 0.1 g or 0.01 oz."""
    return f'ROUND({mass},IF(unit_mass="oz",2,1))'


def _in_unit(pick: str) -> str:
    return f'HEFT_CONVERT({pick},"g",unit_mass)'


def _then(place: str) -> str:
    """Write the formula, without "=", of the words that say what the club then reads; a label ends at G9.9."""
    label, points = f"{{fix.{place}_then}}", f"{{fix.{place}_points}}"
    return f'": then "&IF(LEFT({label},1)="!",ROUND({points},1)&" points",{label})'


def _verdict_then(place: str) -> str:
    """Write the formula, without "=", of what the club will be judged with the stock weights at a place."""
    return (
        f'IF({{set.swingweight_tolerance}}="","in",HEFT_VERDICT({{fix.{place}_points}},{{set.swingweight_goal}},'
        "{set.swingweight_tolerance},{set.swingweight_doubt}))"
    )


_NO_LENGTH = '"! type the length on Bench: it tells where head weights sit"'


def _advice() -> str:
    """Write the formula of the line that says what to do about a club, in words.

    A club that is in needs nothing. A light one gets stock weights at the head. A heavy one
    loses mass at the head, or gets a counterweight where one of the stock helps.
    """
    measure = 'IF({fix.verdict}="re-measure","measure again first; or ","")'
    wanted = f'{_rounded("ABS({fix.head_grams})")}&" "&unit_mass'
    unknown = f'IF({{fix.length}}="",{_NO_LENGTH},"! see At the head")'
    verdict = _verdict_then("head")
    not_sure = (
        f'IF({verdict}="in","",IF({verdict}="re-measure",", near the edge: ",", still off: ")&{wanted}&" wanted")'
    )
    light = (
        "IF(AND(ISNUMBER({fix.head_pick}),ISNUMBER({fix.head_grams})),IF({fix.head_pick}>0,"
        f'"add "&{{fix.head_pick}}&" g at the head"&{_then("head")}&{not_sure},'
        f'"no stock weight is near: add "&{wanted}&" at the head"),{unknown})'
    )
    heavy = (
        f'IF(ISNUMBER({{fix.head_grams}}),"take "&{wanted}&" off the head",{unknown})'
        "&IF(ISNUMBER({fix.butt_pick}),IF(AND({fix.butt_pick}>0,"
        f'{_verdict_then("butt")}="in"),", or add "&{{fix.butt_pick}}&" g at the butt"&{_then("butt")},""),"")'
    )
    nothing = 'IF(OR({fix.basis}="forecast",{set.said}=""),"nothing to do","nothing for the swingweight; see Set")'
    return (
        '=IF(AND({fix.basis}="forecast",{fix.added}<>""),"! what was added counts once the club is measured",'
        f'IF(NOT(ISNUMBER({{fix.off}})),"",IF({{fix.verdict}}="in",{nothing},'
        f"{measure}&IF({{fix.off}}<0,{light},{heavy}))))"
    )


FIX = Table(
    "Fix",
    "Fix",
    "What to do about each club, and what it will then read. Type what you added; clear it when you measure again.",
    (
        *identity(),
        Column("basis", "Based on", 12, "label",
               '=IF({bench.stage}<>"",{bench.stage},IF({parts.mass}<>"","forecast",""))', band="Now"),
        Column("now", "Swingweight", 11, "computed", "={fix.label}", band="Now"),
        Column("target", "Target", 8, "computed", "={set.swingweight_target}", band="Now"),
        Column("off", "Off by (points)", 8, "computed",
               '=IF(AND(ISNUMBER({fix.points}),ISNUMBER({set.swingweight_goal})),{fix.points}-{set.swingweight_goal},"")',
               "+0.0;-0.0;0.0", band="Now"),
        Column("advice", "Advice", 44, "computed", _advice(), band="Now", wrap=True),
        Column("head_grams", unit_heading("To add", "unit_mass"), 9, "computed", _grams_to("{fix.head_place}"),
               "+0.0;-0.0;0.0", band="At the head"),
        Column("head_pick", "From stock (g)", 9, "computed",
               _picked_weight("{fix.head_grams}", "stock_head"), "0.0", band="At the head"),
        Column("head_then", "Then reads", 9, "computed", _after("{fix.head_change}", "{fix.head_place}", "swingweight"),
               band="At the head"),
        Column("head_mass", unit_heading("Total mass", "unit_mass"), 9, "computed",
               _after("{fix.head_change}", "{fix.head_place}", "mass"), "0.0", band="At the head"),
        Column("head_inertia", "Inertia (kg cm2)", 9, "computed",
               _inertia_after("{fix.head_change}", "{fix.head_place}"), "0", band="At the head"),
        Column("butt_grams", unit_heading("To add", "unit_mass"), 9, "computed", _grams_to("shop_butt_place"),
               "+0.0;-0.0;0.0", band="At the butt"),
        Column("butt_pick", "From stock (g)", 9, "computed",
               _picked_weight("{fix.butt_grams}", "stock_butt"), "0.0", band="At the butt"),
        Column("butt_then", "Then reads", 9, "computed", _after("{fix.butt_change}", "shop_butt_place", "swingweight"),
               band="At the butt"),
        Column("butt_mass", unit_heading("Total mass", "unit_mass"), 9, "computed",
               _after("{fix.butt_change}", "shop_butt_place", "mass"), "0.0", band="At the butt"),
        Column("butt_inertia", "Inertia (kg cm2)", 9, "computed",
               _inertia_after("{fix.butt_change}", "shop_butt_place"), "0", band="At the butt"),
        Column("grip_grams", unit_heading("To add", "unit_mass"), 9, "computed",
               _grams_to("shop_grip_place"), "+0.0;-0.0;0.0", band="Heavier grip"),
        Column("grip_mass", unit_heading("Total mass", "unit_mass"), 9, "computed",
               _after("{fix.grip_change}", "shop_grip_place", "mass"), "0.0", band="Heavier grip"),
        Column("grip_inertia", "Inertia (kg cm2)", 9, "computed",
               _inertia_after("{fix.grip_change}", "shop_grip_place"), "0", band="Heavier grip"),
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
        Column("head_change", "Change at the head", 9, "work",
               f'=IF(ISNUMBER({{fix.head_pick}}),{_in_unit("{fix.head_pick}")},IF(ISNUMBER({{fix.head_grams}}),'
               f'{_rounded("{fix.head_grams}")},{{fix.head_grams}}))', "+0.0;-0.0;0.0", band="Working"),
        Column("butt_change", "Change at the butt", 9, "work",
               f'=IF(ISNUMBER({{fix.butt_pick}}),{_in_unit("{fix.butt_pick}")},{{fix.butt_pick}})', "+0.0;-0.0;0.0",
               band="Working"),
        Column("grip_change", "Change of the grip", 9, "work",
               f'=IF(ISNUMBER({{fix.grip_grams}}),IF({{fix.grip_grams}}>0,{_rounded("{fix.grip_grams}")},""),'
               '{fix.grip_grams})', "+0.0;-0.0;0.0", band="Working"),
        Column("head_points", "Points after the head", 9, "work",
               _after("{fix.head_change}", "{fix.head_place}", "points"), "0.00", band="Working"),
        Column("butt_points", "Points after the butt", 9, "work",
               _after("{fix.butt_change}", "shop_butt_place", "points"), "0.00", band="Working"),
        Column("verdict", "Verdict", 11, "work",
               '=IF(OR({fix.basis}<>"forecast",{set.swingweight_tolerance}=""),{set.swingweight_verdict},'
               "HEFT_VERDICT({fix.points},{set.swingweight_goal},{set.swingweight_tolerance}))", band="Working"),
        Column("added_from_butt", "Added, from butt", 9, "work",
               '=IF({fix.added}="","",IF({fix.added_at}="butt",shop_butt_place,IF({fix.added_at}="grip",shop_grip_place,'
               'IF(AND({fix.added_at}<>"",{fix.added_at}<>"head"),"! where must be head, butt or grip",'
               f'IF({{fix.head_place}}="",{_NO_LENGTH},{{fix.head_place}})))))', "0.00", band="Working"),
    ),
)  # fmt: skip
