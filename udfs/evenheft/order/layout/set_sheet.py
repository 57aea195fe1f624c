"""The Set sheet: every club against the target of its group."""

from __future__ import annotations

from collections.abc import Callable

from evenheft.formulas.telling import ALL_IN
from evenheft.order.layout.grid import Column, Table, identity
from evenheft.order.layout.lines import REFERRED
from evenheft.order.layout.quantities import QUANTITIES, JudgedQuantity, judged

SLOTS = len(QUANTITIES)
"""Places for judged quantities, filled from the left: a quantity without a target takes none."""
SLOT_PARTS = (("value", "Value", 8.0), ("window", "Must be", 8.0), ("verdict", "Verdict", 7.8))
"""What stands in a place: key, heading and width; in two lines, so that all seven are seen in one window."""
PRINTED = 5
"""How many places are printed: as many as a page holds in type that can be read."""
SLOT_ROW = 5
"""Hidden row that holds which quantity a place shows, how many are judged up to each, and what is noticed of each."""
NEEDS = {"swingweight": ("swingweight_needs", "unit_length"), "inertia": ("inertia_needs", '"swings"')}
"""Columns of what a tolerance asks of the instruments, by quantity, and their unit as a formula has it."""
PUTTER = "putter"
"""What a putter's group or name says, where Order does not say what the club is."""
WATCHED = 16
"""Pairs of columns in whose hidden row stand cells that are read somewhere, added up, and the kind of error that is."""
CHARTED = 2
"""How many places have a chart."""


def _read(quantity: JudgedQuantity, part: str) -> str:
    """Write the formula, without "=", of a group's value as a number:
    a target may carry its own unit, as 37 1/2 in does.
    """
    table = "line" if part == "first" and quantity in REFERRED else "target"
    cell = f"{{{table}.{quantity.key}_{part}}}"
    return f"HEFT_CONVERT({cell},{quantity.unit},{quantity.unit})" if quantity.has_order_unit else cell


def _number(quantity: JudgedQuantity) -> str:
    """Write the formula of a value; a club that was only half measured says so where it is judged."""
    if quantity.key != "swingweight":
        return f"={quantity.value}"
    half = '"! "&{bench.missing}&" is not measured yet: type it on Bench"'
    return f'=IF(OR({{set.{judged(quantity).goal}}}="",{{bench.missing}}=""),{quantity.value},{half})'


def _verdict(quantity: JudgedQuantity) -> str:
    k = judged(quantity)
    judging = f"HEFT_VERDICT({{set.{k.number}}},{{set.{k.goal}}},{{set.{k.tolerance}}},{{set.{k.doubt}}})"
    untold = f'AND({{set.{k.number}}}<>"",{{set.{k.goal}}}<>"",{{set.{k.tolerance}}}="")'
    return f'=IF({untold},"! tolerance is blank on Order",{judging})'


def _run(part: str) -> tuple[Column, ...]:
    """One column for each quantity, side by side, under the quantities' names."""
    formulas: dict[str, Callable[[JudgedQuantity], str]] = {
        "goal": lambda q: f"=HEFT_TARGET({_read(q, 'first')},{{set.{q.key}_change}},{{set.place}})",
        "number": _number,
        "tolerance": lambda q: f'=IF({{set.{q.key}_goal}}="","",{_read(q, "tolerance")})',
        "doubt": lambda q: f"=IF(ISNUMBER({{set.{q.key}_number}}),{q.doubt},0)",
        "change": lambda q: f'=IF({{target.{q.key}_change}}="",0,{_read(q, "change")})',
        "verdict": _verdict,
        "shown": lambda q: f"=HEFT_SHOWN({{set.{q.key}_number}},{{set.{q.key}_doubt}},{q.digits})",
        "window": lambda q: f"=HEFT_WINDOW({{set.{q.key}_goal}},{{set.{q.key}_tolerance}},{q.digits})",
    }
    return tuple(
        Column(f"{q.key}_{part}", q.name, 9, "work", formulas[part](q), "0.00", band=part.capitalize())
        for q in QUANTITIES
    )


SET_RUNS = ("number", "goal", "verdict", "shown", "window", "tolerance")
"""What stands on the sheet once for each quantity, side by side."""


def _slot(number: int) -> tuple[Column, ...]:
    """Columns of one place: they show whichever quantity the place was given."""
    band = f"slot {number}"
    shown, window, verdict = (
        f"INDEX({{set.{run}_run}},{{set.slot{number}}})" for run in ("shown", "window", "verdict")
    )
    in_two_lines = f'SUBSTITUTE({shown}," ± ",CHAR(10)&"± ")'
    texts = {"value": in_two_lines, "window": window, "verdict": verdict}
    return tuple(
        Column(f"slot{number}_{part}", heading, width, "computed", f'=IF({{set.slot{number}}}="","",{texts[part]})',
               band=band)
        for part, heading, width in SLOT_PARTS
    )  # fmt: skip


def _chart(number: int) -> tuple[Column, ...]:
    """Tell what the chart of a place draws: the measured value, the target and its edges;
    nothing of clubs that are not.
    """
    own = f"{{set.slot{number}}}"
    drawn = {
        "value": ("Measured", f"=IFERROR(INDEX({{set.number_run}},{own})*1,NA())"),
        "aim": ("Target", f"=IFERROR(INDEX({{set.goal_run}},{own})*1,NA())"),
        "half": ("Tolerance", f"=IFERROR(INDEX({{set.tolerance_run}},{own})*1,NA())"),
        "low": ("Lowest accepted", f"={{set.chart{number}_aim}}-{{set.chart{number}_half}}"),
        "high": ("Highest accepted", f"={{set.chart{number}_aim}}+{{set.chart{number}_half}}"),
        "at": ("Club", f"=IF(ISNUMBER({{set.chart{number}_value}}),{{set.number}},NA())"),
    }
    return tuple(
        Column(f"chart{number}_{key}", heading, 9, "work", formula, "0.00", band=f"Chart {number}")
        for key, (heading, formula) in drawn.items()
    )


_NEEDED = (
    Column("swingweight_needs", "Balance to be read to", 9, "work",
           '=IF({set.swingweight_tolerance}="","",HEFT_BALANCE_NEEDED({bench.mass_used},{bench.balance_used},'
           "{set.swingweight_tolerance},doubt_mass,shop_units))", "0.00", band="Needed"),
    Column("inertia_most", "Most doubt of inertia", 9, "work",
           '=IF({set.inertia_tolerance}="","",{set.inertia_tolerance}/HEFT_LEAST_TOLERANCE(1))', "0", band="Needed"),
    Column("inertia_needs", "Swings to be counted", 9, "work",
           '=IF({set.inertia_tolerance}="","",HEFT_SWINGS_NEEDED({set.inertia_most},{bench.mass_swung},'
           "{bench.balance_swung},{bench.period},doubt_mass,doubt_balance,doubt_watch,shop_units,shop_pivot,"
           "shop_gravity,shop_swings))", "0", band="Needed"),
)  # fmt: skip
"""What a club's tolerance asks of the instruments."""

ALIKE = {"swingweight": "points_doubt", "inertia": "swung_own_doubt"}
"""What the clubs of a set are to have in common, and the column on Bench of each club's own doubt of it."""
_ALIKE = tuple(
    column
    for key, doubt in ALIKE.items()
    for column in (
        Column(f"{key}_off", f"{key.capitalize()} off", 9, "work",
               f"=IF(AND(ISNUMBER({{set.{key}_number}}),ISNUMBER({{set.{key}_goal}})),"
               f'{{set.{key}_number}}-{{set.{key}_goal}},"")', "0.00", band="Alike"),
        Column(f"{key}_own_doubt", f"{key.capitalize()}: own doubt", 9, "work",
               f'=IF(ISNUMBER({{set.{key}_off}}),{{bench.{doubt}}},"")', "0.00", band="Alike"),
    )
)  # fmt: skip
"""Whether the set is alike: what shifts every club alike is no part of that."""

_TO_LIE = (
    Column("line_value", "Reads, or will read", 9, "work",
           '=IF({fix.leads}="inertia",{set.line_inertia},{set.line_points})', "0.0", band="Line"),
    *(Column(f"line_{key}", f"{key.capitalize()} as it is", 9, "work", f'=IF(ISNUMBER({{fix.{key}}}),{{fix.{key}}},"")',
             "0.0", band="Line") for key in ("points", "inertia")),
    Column("line_at", "Mass would be added at", 9, "work",
           '=IF(ISNUMBER({fix.head_place}),{fix.head_place},"")', "0.0", band="Line"),
    Column("line_doubt", "Doubt of that", 9, "work",
           '=IF({fix.leads}="inertia",{fix.inertia_doubt},{fix.swingweight_doubt})', "0.0", band="Line"),
)  # fmt: skip
"""What each club reads, or will read by its forecast, and where mass would be added: for the line of least mass."""

_OTHERS = (
    Column("group_unknown", "Group unknown", 9, "work",
           '=IF(AND({order.group}<>"",{row.target}=""),"group is not on Order","")', band="Others"),
    Column("group_blank", "Group blank", 9, "work",
           '=IF(AND({order.group}="",{bench.stage}<>""),"group is blank on Order","")', band="Others"),
    Column("no_name", "No name", 9, "work",
           '=IF(AND({order.club}="",{bench.stage}<>""),"measured, but has no name on Order","")', band="Others"),
    Column("renamed", "Renamed", 9, "work",
           '=IF(OR({order.kept}="",{order.kept}={order.club}),"","was "&{order.kept}&" when last kept")',
           band="Others"),
    Column("fix_disagrees", "Fix disagrees", 9, "work", "={fix.disagrees}", band="Others"),
    Column("unexplained", "Unexplained, dry fit", 9, "work", "={parts.unexplained}", band="Others"),
    Column("unexplained_done", "Unexplained, finished", 9, "work", "={parts.unexplained_done}", band="Others"),
    *(Column(f"{what}_scatter", f"{what.capitalize()} scatters", 9, "work",
             f'=IF(OR({{bench.{what}_scatter}}="",LEFT({{bench.{what}_scatter}},2)="! "),"",'
             f'"{what}: "&{{bench.{what}_scatter}})', band="Others")
      for what in ("mass", "balance", "period")),
    Column("too_long", "Length rule", 9, "work",
           '=IF(OR({set.rule}="",{set.rule}="within"),"",IF(LEFT({set.rule},2)="! ",{set.rule},"length "&{set.rule}&'
           '" for the rules"))',
           band="Others"),
)  # fmt: skip

SET = Table(
    "Set",
    "Set",
    "Read here: each club against the target of its group. Nothing is typed on this sheet.",
    (
        *identity(),
        Column("group", "Group", 8, "label", "={order.group}"),
        Column("place", "Place", 4, "label", "=HEFT_SET_PLACE({order.all_groups},{order.all_places},{row.order})"),
        Column("flags", "What is flagged", 26, "computed", wrap=True, formula=
               '=HEFT_FLAGS({set.quantity_names},{set.goal_run},{set.verdict_run},"line",{set.others_run},room_flags)'),
        *(column for number in range(1, SLOTS + 1) for column in _slot(number)),
        *_run("change"),
        *(column for run in ("goal", "number", "tolerance", "doubt", "verdict", "shown", "window")
          for column in _run(run)),
        *_NEEDED,
        *_ALIKE,
        *_TO_LIE,
        Column("kind", "Putter or other", 10, "work",
               f'=IF({{order.putter}}<>"",{{order.putter}},IF({{set.called_putter}},"{PUTTER}","other"))'),
        Column("called_putter", "Called a putter", 10, "work",
               f'=ISNUMBER(SEARCH("{PUTTER}",{{order.group}}&" "&{{order.club}}))'),
        Column("rule", "Length rule", 10, "work",
               "=HEFT_LENGTH_LIMIT({bench.length},{set.kind},shop_units,shop_local_rule)"),
        *_OTHERS,
        Column("card_lost", "What Card has lost", 12, "work"),
        *(Column(f"{what}{n}", f"{what.capitalize()} {n}", 9, "work", band="Watched")
          for what in ("watched", "error") for n in range(1, WATCHED + 1)),
        Column("deleted", "What was deleted", 12, "work"),
        Column("lost", "What cannot be followed", 12, "work"),
        Column("flags_in_full", "What is flagged, in full", 12, "work",
               '=HEFT_FLAGS({set.quantity_names},{set.goal_run},{set.verdict_run},"line",{set.others_run})'),
        Column("no_room", "Where there is no room for it", 12, "work",
               '=IF(OR(ISTEXT({row.order}),{set.flags}={set.flags_in_full}),"","! "&{set.flags_in_full})'),
        Column("out", "Out", 12, "work",
               '=HEFT_FLAGS({set.quantity_names},{set.goal_run},{set.verdict_run},"out",{set.others_run})'),
        *(column for number in range(1, CHARTED + 1) for column in _chart(number)),
    ),
)  # fmt: skip
ROOMS = {"room_flags": 48, "room_verdict": 24, "room_advice": 114}
"""Letters that two lines have room for: of what is flagged on Set, of the verdict and of the advice on Fix."""
LOST_NAME = "order_lost"
LOST_AT = f"${SET.letter('lost')}${SLOT_ROW}"
"""The cell, and its name, that tells what gestures have done which formulas cannot follow; "" where all is well."""
OTHERS = (_OTHERS[0].key, _OTHERS[-1].key)


NOTICES = (
    *(f"{quantity.key}_doubt" for quantity in QUANTITIES),
    *(f"{quantity.key}_verdict" for quantity in QUANTITIES[:3]),
    "no_room",
)
"""Columns in whose `SLOT_ROW` a notice of the whole order stands: one for each quantity, one of what dry fits lack, one
of clubs that no longer stand in the order of their numbers, one of groups of which nothing is usual, one of what the
rows have no room for.
"""
COUNTED = (f"{QUANTITIES[3].key}_verdict", f"{QUANTITIES[4].key}_verdict")
"""Columns in whose `SLOT_ROW` it is counted how often a club stands above one of a lower number, and what changes from
club to club."""


def summary(flags: str, lost: str) -> str:
    """Write the formula of the line over the table:
    how many of the judged clubs are in, where the rows can be followed.

    Args:
        flags: the range of what is flagged [-].
        lost: the cell that tells what cannot be followed [-].
    """
    judged_clubs, good = f'COUNTIF({flags},"?*")', f'COUNTIF({flags},"{ALL_IN}*")'
    some = f'{good}&" of "&{judged_clubs}&" judged clubs are in; "&({judged_clubs}-{good})&" flagged."'
    none = "No club is judged yet: fill in Order and Bench."
    return f'=IF({lost}<>"",{lost},IF({judged_clubs}=0,"{none}",{some}))'


GONE = "! a row or column that is read was deleted: undo that, or see evenheft doctor"
"""What Set says where formulas have lost a cell that they read."""
NOT_HERE = "! Evenheft's formulas do not run in this program yet: see README; type nothing before"
"""What Set says where a program knows none of our formulas; what it showed before is gone once it recomputes."""
_DELETED, _UNKNOWN = 4, 5
"""What ERROR.TYPE answers for #REF! and for #NAME?."""


def kind_of_error(sought: str) -> str:
    """Write the formula of what ERROR.TYPE answers of a cell, 0 where it is no error [-].

    Calc answers a call of which an argument is gone with an error of its own, which has no type.
    """
    return f"=IF(ISERROR({sought}),IFERROR(ERROR.TYPE({sought}),{_DELETED}),0)"


def told_of_deleted(gathered: str, kinds: str) -> str:
    """Write the formula of what gestures have done that formulas cannot follow, where they can be worked out.

    Args:
        gathered: the cell that gathers what each sheet says of its rows [-].
        kinds: the range that tells the kinds of errors in what is watched [-].
    """
    return f'=IF(COUNTIF({kinds},{_DELETED})+ISERROR({gathered})>0,"{GONE}",{gathered})'


def not_followed(deleted: str, kinds: str) -> str:
    """Write the formula of what gestures have done that formulas cannot follow, or that none can be worked out.

    Args:
        deleted: the cell of `told_of_deleted` [-].
        kinds: the range that tells the kinds of errors in what is watched [-].
    """
    return f'=IF(COUNTIF({kinds},{_UNKNOWN})>0,"{NOT_HERE}",{deleted})'
