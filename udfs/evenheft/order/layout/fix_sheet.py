"""The Fix sheet: what to do about each club, tried before it is done, and what the club will then read."""

from __future__ import annotations

from evenheft.formulas.advice import NO_HEAD
from evenheft.order.layout.grid import Column, Table, identity, unit_heading
from evenheft.order.layout.order_sheet import LEADS

_BEFORE = "{fix.mass_before},{fix.balance_before}"
_PLAN, _DO, _THEN = "Plan: what if ...", "What would do it alone", "Then"


def _grams_to(place: str) -> str:
    return f"=HEFT_GRAMS_TO({{set.swingweight_goal}},{{fix.mass}},{{fix.balance}},{place},shop_units)"


def _then(what: str) -> str:
    """Formula of what the club reads with the whole plan; blank once it was measured with it."""
    return f"=IF({{fix.measured_since}},{{fix.{what}}},{{fix.planned_{what}}})"


def _planned(what: str) -> str:
    """Formula of the same, from the club before the plan."""
    return f'=HEFT_AFTER({_BEFORE},{{fix.head_added}},{{fix.head_at}},"{what}",shop_units,{{fix.inertia_before}})'


_NUMBER = "+0.0;-0.0;0.0"

FIX = Table(
    "Fix",
    "Fix",
    "Read the advice, try it in the plan, and say done once it is done: the Set sheet follows until you measure anew.",
    (
        *identity(),
        Column("basis", "Based on", 8.5, "label", '=IF({bench.stage}<>"",{bench.stage},{fix.forecast_only})',
               band="Now"),
        Column("now", "Swing-weight", 7, "computed", "=HEFT_LABEL({fix.points})", band="Now", wrap=True),
        Column("target", "Must be", 12, "computed", "={set.swingweight_window}", band="Now"),
        Column("inertia_now", "Inertia (kg cm2)", 7, "computed", "={fix.inertia}", "0", band="Now"),
        Column("head_grams", unit_heading("At the head", "unit_mass"), 6.5, "computed", _grams_to("{fix.head_place}"),
               _NUMBER, band=_DO),
        Column("butt_grams", unit_heading("At the butt", "unit_mass"), 6.5, "computed", _grams_to("{fix.butt_place}"),
               _NUMBER, band=_DO),
        Column("grip_grams", unit_heading("Heavier grip", "unit_mass"), 6.5, "computed",
               _grams_to("{fix.grip_place}"), _NUMBER, band=_DO),
        Column("advice", "Advice", 32, "computed",
               '=IF({fix.early},"! what was done counts once the club is measured",{fix.said})', band="Advice",
               wrap=True),
        Column("done", "Done", 7, "input", options='"done"', band="Advice",
               prompt='Choose "done" once the plan beside is done: it then counts, until the club is measured after '
               "Fix."),
        Column("head_added", unit_heading("At the head", "unit_mass"), 6.5, "input", number="0.0", band=_PLAN,
               prompt="Mass to add at the head; with a minus what comes off."),
        Column("then_label", "Swing-weight", 7, "computed", "=HEFT_LABEL({fix.then_points})", band=_THEN, wrap=True),
        Column("then_mass", unit_heading("Mass", "unit_mass"), 7, "computed", _then("mass"), "0.0", band=_THEN),
        Column("then_inertia", "Inertia (kg cm2)", 7, "computed", _then("inertia"), "0", band=_THEN),
        Column("then_verdict", "Verdict", 9.5, "computed",
               "=HEFT_VERDICT({fix.then_points},{set.swingweight_goal},{set.swingweight_tolerance},"
               "{set.swingweight_doubt})", band=_THEN),
        Column("then_balance", "Balance then", 9, "work", _then("balance"), "0.00"),
        Column("then_points", "Points then", 9, "work", _then("points"), "0.00"),
        Column("is_done", "Is done", 9, "work", '={fix.done}="done"'),
        Column("measured_since", "Measured since", 9, "work", '=AND({fix.is_done},{bench.stage}="after Fix")'),
        Column("forecast_only", "Forecast only", 9, "work", '=IF({parts.mass}="","","forecast")'),
        Column("early", "Done too early", 9, "work", '=AND({fix.basis}="forecast",{fix.is_done})'),
        Column("said", "Said", 9, "work",
               '=IF(AND({fix.basis}="forecast",{fix.untaught}),"a guess: dry-fit one of these first",{fix.advised})'),
        Column("untaught", "Untaught", 9, "work", '=AND({parts.rise_known}="",{parts.rise_learned}="")'),
        Column("advised", "Advised", 9, "work",
               "=HEFT_ADVICE({fix.leads},{fix.mass},{fix.balance},{fix.inertia},{set.swingweight_goal},"
               "{set.swingweight_tolerance},{set.inertia_goal},{set.inertia_tolerance},{fix.head_place},"
               "{fix.butt_place},stock_head,stock_butt,shop_pieces,{set.swingweight_doubt},{set.inertia_doubt},"
               "{parts.u_grip_mass},{fix.grip_place},,shop_units,count_head,count_butt,{set.out})"),
        Column("leads", "Leads", 9, "work", f'=IF({{target.leads}}="","{LEADS[0]}",{{target.leads}})'),
        Column("mass", "Mass", 9, "work", '=IF({bench.stage}<>"",{bench.mass_used},{parts.mass})', "0.0"),
        Column("balance", "Balance", 9, "work", '=IF({bench.stage}<>"",{bench.balance_used},{parts.balance})', "0.00"),
        Column("points", "Points", 8, "work", "=HEFT_POINTS({fix.mass},{fix.balance},shop_units)", "0.00"),
        Column("off", "Off by (points)", 8, "work",
               '=IF(AND(ISNUMBER({fix.points}),ISNUMBER({set.swingweight_goal})),{fix.points}-{set.swingweight_goal},"")',
               _NUMBER),
        Column("inertia", "Inertia", 8, "work",
               "=IF(ISNUMBER({bench.inertia_used}),{bench.inertia_used},IF({bench.done_since},"
               "{fix.planned_inertia},{parts.inertia}))", "0"),
        Column("mass_before", "Mass before", 9, "work", '=IF({bench.stage}<>"",{bench.mass_whole},{parts.mass})',
               "0.0"),
        Column("balance_before", "Balance before", 9, "work",
               '=IF({bench.stage}<>"",{bench.balance_whole},{parts.balance})', "0.00"),
        Column("inertia_before", "Inertia before", 8, "work",
               "=IF(ISNUMBER({bench.inertia_whole}),{bench.inertia_whole},{parts.inertia})", "0"),
        *(Column(f"planned_{what}", f"Planned {what}", 9, "work", _planned(what))
          for what in ("mass", "balance", "points", "inertia")),
        Column("length", "Length", 9, "work",
               "=HEFT_CONVERT(IF({bench.length}=\"\",{parts.u_club_length},{bench.length}),unit_length,unit_length)",
               "0.00"),
        Column("head_above", "Head weights above ground", 9, "work",
               "=HEFT_CONVERT({parts.u_bore_to_ground},unit_length,unit_length)"
               "+HEFT_CONVERT({parts.u_tip_weight_above_tip},unit_length,unit_length)", "0.00"),
        Column("head_place", "Head weights from butt", 9, "work",
               "=IF(AND(ISNUMBER({fix.length}),ISNUMBER({fix.head_above})),{fix.length}-{fix.head_above},{fix.length})",
               "0.00"),
        Column("head_at", "Added, from butt", 9, "work",
               f'=IF(AND({{fix.head_added}}<>"",{{fix.head_place}}=""),"! {NO_HEAD}",{{fix.head_place}})', "0.00"),
        Column("butt_place", "Butt weights from butt", 9, "work", "={parts.u_butt_weight_from_butt}", "0.00"),
        Column("grip_place", "Grip from butt", 9, "work", "={parts.u_grip_balance}", "0.00"),
    ),
)  # fmt: skip
