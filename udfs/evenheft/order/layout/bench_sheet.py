"""The Bench sheet: what is measured on the dry fit and on the finished club, and what of it counts."""

from __future__ import annotations

from evenheft.order.layout.grid import LENGTH_CHECK, MASS_CHECK, Column, Table, identity, number_check, unit_heading

_MASS_PROMPT = "What the gram scale shows. A plain number is in the order's unit; 15.2 oz works too."
_BALANCE_PROMPT = (
    "From the butt to where the club balances. A plain number is in the order's unit; 29 1/2 in works too."
)
_HOOKED_PROMPT = 'Where the tape was hooked: "grip cap", or "shaft end" while the grip is still off.'
_HOOKED = '"grip cap,shaft end"'


def _with_added(what: str) -> str:
    """Write the formula of the club's mass or balance with what has been added since it was measured."""
    plain = f"{{bench.{what}_bench}}"
    return (
        f'=IF({{fix.added}}="",{plain},HEFT_AFTER({{bench.mass_bench}},{{bench.balance_bench}},{{fix.added}},'
        f'{{fix.added_from_butt}},"{what}",shop_units))'
    )


def _from_butt(stage: str) -> str:
    """Write the formula of the balance point from the butt, whatever the tape was hooked on at a stage."""
    balance = f"{{bench.{stage}_balance}}"
    return f'=HEFT_FROM_BUTT(IF({balance}="","",{balance}),{{bench.{stage}_hooked}},shop_cap,shop_units)'


_FINISHED = 'OR({bench.done_mass}<>"",{bench.done_balance}<>"")'
_AND_ADDED = 'IF({fix.added}="",""," + added")'
_UNWEIGHED = 'AND({parts.head_mass}="",{parts.shaft_mass}="",{parts.club_length}="")'
"""Whether nothing is known of a club's parts."""


def _completed(what: str, inertia: str = "") -> str:
    """Write the formula, without "=", of what the dry fit will be once it has all its parts."""
    return (
        f'IF({_UNWEIGHED},"! the dry fit still lacks something: weigh this club\'s parts on Parts",'
        f"HEFT_FINISHED({{parts.parts_headings}},{{parts.parts_row}},{{bench.dry_mass}},{{bench.dry_from_butt}},"
        f'{{bench.dry_lacking}},"{what}",shop_units,shop_defaults{inertia}))'
    )


def _as_weighed(what: str) -> str:
    """Write the formula, without "=", of the mass or balance of the club that was on the bench, whatever it lacks."""
    dry, done = ("{bench.dry_mass}", "{bench.done_mass}")
    if what == "balance":
        return f"IF({_FINISHED},{{bench.done_from_butt}},{{bench.dry_from_butt}})"
    return f'IF({_FINISHED},IF({done}="","",{done}),IF({dry}="","",{dry}))'


def _at_stage(what: str) -> str:
    """Write the formula of the mass or balance that counts: the finished club's, or the dry fit's when complete."""
    return (
        f'=IF(OR({_FINISHED},{{bench.dry_lacking}}="",{{bench.dry_mass}}=""),{{bench.{what}_swung}},{_completed(what)})'
    )


BENCH = Table(
    "Bench",
    "Bench",
    "Type what you measure. A dry fit and a finished club each have a place; the finished one counts once it is there.",
    (
        *identity(),
        Column("dry_mass", unit_heading("Mass", "unit_mass"), 9, "input", number="0.0", band="Dry fit",
               prompt=_MASS_PROMPT, check=MASS_CHECK),
        Column("dry_balance", unit_heading("Balance", "unit_length"), 10, "input", number="0.00", band="Dry fit",
               prompt=_BALANCE_PROMPT, check=LENGTH_CHECK),
        Column("dry_hooked", "Tape hooked on", 11, "input", band="Dry fit", prompt=_HOOKED_PROMPT, options=_HOOKED),
        Column("dry_lacking", "Still lacking", 20, "input", band="Dry fit", wrap=True,
               prompt="What the dry fit does not have yet, e.g. epoxy, ferrule, tape. Blank: nothing lacks."),
        Column("done_mass", unit_heading("Mass", "unit_mass"), 9, "input", number="0.0", band="Finished",
               prompt=_MASS_PROMPT, check=MASS_CHECK),
        Column("done_balance", unit_heading("Balance", "unit_length"), 10, "input", number="0.00", band="Finished",
               prompt=_BALANCE_PROMPT, check=LENGTH_CHECK),
        Column("done_hooked", "Tape hooked on", 11, "input", band="Finished", prompt=_HOOKED_PROMPT, options=_HOOKED),
        Column("period", "Period (s)", 9, "input", number="0.000", band="Club as weighed",
               prompt="Time of one full swing, there and back, of the club as it was weighed: time ten small swings "
               "and divide by ten. Time it anew once the club is finished.",
               check=number_check(0.5, 5)),
        Column("reading", "Scale reading", 9, "input", band="Club as weighed",
               prompt='What your swingweight scale shows of the club as it was weighed, as a label such as D2 or as '
               'points.'),
        Column("length", unit_heading("Length", "unit_length"), 10, "input", number="0.00", band="Club as weighed",
               prompt="Club length by the 60 degree plane, butt to ground line.", check=LENGTH_CHECK),
        Column("loft", "Loft (deg)", 8, "input", number="0.0", band="Club as weighed", prompt="Loft in degrees.",
               check=number_check(0, 90)),
        Column("lie", "Lie (deg)", 8, "input", number="0.0", band="Club as weighed", prompt="Lie in degrees.",
               check=number_check(40, 90)),
        Column("frequency", "Frequency (cpm)", 10, "input", number="0", band="Club as weighed",
               prompt="Shaft frequency in cycles per minute.", check=number_check(50, 600)),
        Column("note", "Note", 22, "input", wrap=True, band="Club as weighed"),
        Column("stage", "Stage", 13, "computed",
               f'=IF({_FINISHED},"finished"&{_AND_ADDED},IF(OR({{bench.dry_mass}}<>"",{{bench.dry_balance}}<>""),'
               f'"dry fit"&{_AND_ADDED},""))', band="What counts"),
        Column("mass_used", unit_heading("Mass", "unit_mass"), 9, "computed",
               _with_added("mass"), "0.0", band="What counts"),
        Column("balance_used", unit_heading("Balance from butt", "unit_length"), 11, "computed",
               _with_added("balance"), "0.00", band="What counts"),
        Column("dry_from_butt", "Dry fit's balance from butt", 11, "work",
               _from_butt("dry"), "0.00", band="Working"),
        Column("done_from_butt", "Finished balance from butt", 11, "work",
               _from_butt("done"), "0.00", band="Working"),
        Column("mass_swung", "Mass on the bench", 11, "work", f"={_as_weighed('mass')}", "0.0", band="Working"),
        Column("balance_swung", "Balance on the bench", 11, "work", f"={_as_weighed('balance')}", "0.00",
               band="Working"),
        Column("inertia_swung", "Inertia on the bench", 11, "work",
               '=IF({bench.period}="","",HEFT_INERTIA({bench.mass_swung},{bench.balance_swung},{bench.period},shop_units,'
               "shop_pivot,shop_gravity))", "0", band="Working"),
        Column("inertia_bench", "Inertia before added", 11, "work",
               f'=IF(OR(NOT(ISNUMBER({{bench.inertia_swung}})),{_FINISHED},{{bench.dry_lacking}}=""),'
               f'{{bench.inertia_swung}},{_completed("inertia", ",{bench.inertia_swung}")})', "0", band="Working"),
        Column("inertia_used", "Inertia", 11, "work",
               '=IF(OR({fix.added}="",NOT(ISNUMBER({bench.inertia_bench}))),{bench.inertia_bench},'
               'HEFT_AFTER({bench.mass_bench},{bench.balance_bench},{fix.added},{fix.added_from_butt},"inertia",'
               "shop_units,{bench.inertia_bench}))", "0", band="Working"),
        Column("mass_bench", "Mass before added", 11, "work", _at_stage("mass"), "0.0", band="Working"),
        Column("balance_bench", "Balance before added", 11, "work", _at_stage("balance"), "0.00", band="Working"),
    ),
)  # fmt: skip
