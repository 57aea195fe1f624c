"""The Parts sheet: loose parts as weighed, their forecast, and what a dry fit teaches it."""

from __future__ import annotations

from evenheft.order.layout.grid import Column, Table, identity, unit_heading


def _part(key: str, heading: str, unit: str, prompt: str) -> Column:
    """Describe an input column for one part of a club; HEFT_CLUB reads its heading."""
    return Column(
        key,
        unit_heading(heading, unit),
        9,
        "input",
        number="0.0" if unit == "unit_mass" else "0.00",
        prompt=prompt,
        band="Loose parts, as weighed",
    )


def _forecast(what: str, rise: str) -> str:
    """Write the formula of the forecast from loose parts: with the rise as `known`, or as `used` once learned."""
    return f'=HEFT_CLUB({{parts.{rise}_headings}},{{parts.{rise}_row}},"{what}",shop_units,shop_defaults)'


PARTS = Table(
    "Parts",
    "Parts",
    "Weigh and measure the loose parts, before any epoxy. A dry fit teaches the forecast where the head's mass sits.",
    (
        *identity(),
        Column("model", "Head model", 14, "input", wrap=True, band="Head",
               prompt="Heads of one model share what a dry fit teaches. Leave blank to let each club learn alone."),
        Column("rise_known", unit_heading("Head rise", "unit_length"), 9, "input", number="0.00", band="Head",
               prompt="Head's centre of mass above the ground line, up the shaft axis, where you know it; else blank."),
        _part("head_mass", "Head mass", "unit_mass", "The bare head."),
        _part("bore_to_ground", "Bore to ground", "unit_length",
              "Seated shaft tip to the ground line, along the shaft axis; the default on Order where blank."),
        _part("club_length", "Club length", "unit_length", "Wanted length, butt to ground line (60 degree plane)."),
        _part("shaft_mass", "Shaft mass", "unit_mass", "The shaft as it lies on the scale now."),
        _part("shaft_length", "Shaft length", "unit_length", "The shaft as it lies there now."),
        _part("shaft_balance", "Shaft balance", "unit_length",
              "From its butt end to where the loose shaft balances; half its length where blank."),
        _part("tip_trim", "Tip trim", "unit_length", "Length to be cut off the tip; the rest comes off the butt."),
        _part("grip_mass", "Grip mass", "unit_mass", "The grip that goes on."),
        _part("tape", "Tape", "unit_mass", "Tape under the grip."),
        _part("ferrule", "Ferrule", "unit_mass", "Blank where there is none."),
        _part("epoxy", "Epoxy", "unit_mass", "Epoxy that stays in the joint."),
        _part("adapter", "Adapter", "unit_mass", "Adapter sleeve with its screw. Blank where there is none."),
        _part("tip_weight", "Tip weight", "unit_mass", "Weight in the shaft's tip. Blank where there is none."),
        _part("butt_weight", "Butt weight", "unit_mass", "Counterweight in the butt. Blank where there is none."),
        _part("cut_grip_mass", "Cut grip mass", "unit_mass",
              'The slit grip that was on a dry fit instead of the real one; then "cut grip" stands in Still lacking.'),
        Column("rise_used", unit_heading("Head rise used", "unit_length"), 9, "computed",
               '=IF({parts.rise_known}<>"",{parts.rise_known},'
               'IFERROR(IF({parts.model}="",IF(ISNUMBER({parts.learned}),{parts.learned},""),'
               'AVERAGEIF({parts.all_models},{parts.model},{parts.all_learned})),""))', "0.00", band="Forecast"),
        Column("mass", unit_heading("Mass", "unit_mass"), 9, "computed", _forecast("mass", "used"), "0.0",
               band="Forecast"),
        Column("balance", unit_heading("Balance", "unit_length"), 9, "computed",
               _forecast("balance", "used"), "0.00", band="Forecast"),
        Column("swingweight", "Swingweight", 11, "computed", _forecast("swingweight", "used"), band="Forecast"),
        Column("inertia", "Inertia (kg cm2)", 9, "computed", _forecast("inertia", "used"), "0", band="Forecast"),
        Column("untaught", "Untaught forecast (points)", 10, "computed", _forecast("points", "known"), "0.0",
               band="What the bench teaches"),
        Column("bench_points", "Bench (points)", 9, "computed", "={set.swingweight_points}", "0.0",
               band="What the bench teaches"),
        Column("miss", "Bench less forecast", 9, "computed",
               '=IF(AND(ISNUMBER({parts.bench_points}),ISNUMBER({parts.untaught})),'
               '{parts.bench_points}-{parts.untaught},"")', "+0.0;-0.0;0.0", band="What the bench teaches"),
        Column("learned", unit_heading("Head rise learned", "unit_length"), 9, "computed",
               '=HEFT_HEAD_RISE({parts.parts_headings},{parts.parts_row},{parts.taught_mass},{parts.taught_balance},'
               "{parts.taught_lacking},shop_units,shop_defaults)", "0.00", band="What the bench teaches"),
        Column("taught_mass", "Mass taught by", 9, "work",
               '=IF({parts.dry},{bench.dry_mass},IF({bench.done_mass}="","",{bench.done_mass}))', "0.0",
               band="Working"),
        Column("taught_balance", "Balance taught by", 9, "work",
               '=IF({parts.dry},{bench.dry_from_butt},{bench.done_from_butt})', "0.00", band="Working"),
        Column("taught_lacking", "Lacking", 12, "work",
               '=IF(AND({parts.dry},{bench.dry_lacking}<>""),{bench.dry_lacking},"")', band="Working"),
        Column("dry", "Taught by a dry fit", 9, "work",
               '=AND({bench.dry_mass}<>"",{bench.dry_balance}<>"")', band="Working"),
    ),
)  # fmt: skip
