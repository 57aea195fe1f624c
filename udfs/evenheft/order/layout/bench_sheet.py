"""The Bench sheet: what is measured on the dry fit, the finished club and the fixed one, and what of it counts."""

from __future__ import annotations

from evenheft.formulas.arguments import PERIOD
from evenheft.formulas.kinds import Number
from evenheft.formulas.stages import STAGES
from evenheft.order.layout.grid import LENGTH_CHECK, MASS_CHECK, Column, Table, identity, number_check, unit_heading

_MASS_PROMPT = "What the gram scale shows. A plain number is in the order's unit; 15.2 oz works too."
_BALANCE_PROMPT = (
    "From the butt to where the club balances. A plain number is in the order's unit; 29 1/2 in works too."
)
_HOOKED_PROMPT = 'Where the tape was hooked: "grip cap", or "shaft end" while the grip is still off.'
_HOOKED = '"grip cap,shaft end"'
_BANDS = {"dry": "Dry fit", "done": "Finished", "after": "After Fix"}
"""The stages at which a club lies on the bench: key of their columns, and the heading over them."""
_TYPED = ",".join(f"{{bench.{stage}_{what}}}" for stage in _BANDS for what in ("mass", "balance"))
_MEASURED = ",".join(f"{{bench.{stage}_{what}}}" for stage in _BANDS for what in ("mass", "from_butt"))
_LAST = "Club as last weighed"


def _weighed(stage: str) -> tuple[Column, ...]:
    band = _BANDS[stage]
    return (
        Column(f"{stage}_mass", unit_heading("Mass", "unit_mass"), 7, "input", number="0.0", band=band,
               prompt=_MASS_PROMPT, check=MASS_CHECK),
        Column(f"{stage}_balance", unit_heading("Balance", "unit_length"), 7.4, "input", number="0.00", band=band,
               prompt=_BALANCE_PROMPT, check=LENGTH_CHECK),
        Column(f"{stage}_hooked", "Tape hooked on", 7.7, "input", band=band, prompt=_HOOKED_PROMPT, options=_HOOKED),
    )  # fmt: skip


def _from_butt(stage: str) -> Column:
    """Return the balance point from the butt, whatever the tape was hooked on at a stage."""
    return Column(
        f"{stage}_from_butt", f"{_BANDS[stage]}: balance from butt", 9, "work",
        f"=HEFT_FROM_BUTT({{bench.{stage}_balance}},{{bench.{stage}_hooked}},{{parts.u_grip_cap}},shop_units)", "0.00",
    )  # fmt: skip


def _stage(what: str, at: str = "") -> str:
    """Write the formula of what counts: "stage", "mass", "balance" or "missing",
    of the last stage or of a named one.
    """
    return f'=HEFT_STAGE({_MEASURED},"{what}"{at})'


def _whole(what: str) -> str:
    """Write the formula of the mass or balance of the club with all its parts, whatever its dry fit lacks."""
    weighed = f"{{bench.{what}_weighed}}"
    if what == "mass":  # where it has no mean, HEFT_POINTS says why not
        weighed = f"IF(ISNUMBER({{bench.mass_mean}}),{{bench.mass_mean}},{weighed})"
    return f"=IF({{bench.incomplete}},IF({{parts.empty}},{_WEIGH},{{parts.completed_{what}}}),{weighed})"


def _read_again(what: str, readings: str, half_width: str, unit: str) -> tuple[Column, ...]:
    """Tell how sure the mean of what was read is, and say so where it scatters more than the instrument explains."""
    doubt, line = (f'=HEFT_READINGS({readings},"{answer}",{half_width},{unit})' for answer in ("doubt", "line"))
    return (
        Column(f"{what}_half", f"{what.capitalize()}: plus or minus", 9, "work", doubt, "0.00"),
        Column(f"{what}_scatter", f"{what.capitalize()}: scatter", 9, "work", line),
    )


_WEIGH = '"! the dry fit still lacks something: weigh this club\'s parts on Parts"'


_LACKING = '{bench.dry_lacking}<>"",TRIM({bench.dry_lacking})<>"none"'
"""Of a dry fit that is said to lack nothing what was measured counts, whatever its parts weigh."""


def _used(what: str) -> str:
    """Write the formula of the mass or balance that counts, with what has been done since it was measured."""
    return f"=IF({{bench.done_since}},{{fix.planned_{what}}},{{bench.{what}_whole}})"


_SWUNG = (
    "{bench.mass_swung},{bench.balance_swung},{bench.period},{bench.mass_half},{bench.balance_half},"
    "{bench.period_half},shop_units,shop_pivot,shop_gravity,shop_angle,shop_swings"
)
"""What the doubt of an inertia is worked out from."""

_PERIOD_KIND = PERIOD.kind
assert isinstance(_PERIOD_KIND, Number)

BENCH = Table(
    "Bench",
    "Bench",
    "Type what you measure. A dry fit, a finished club and a fixed one each have a place; the last one filled counts.",
    (
        *identity(),
        *_weighed("dry"),
        Column("dry_lacking", "Still lacking", 11, "input", band="Dry fit", wrap=True,
               prompt="What the dry fit does not have yet, e.g. epoxy, ferrule, tape. Blank: nothing lacks."),
        *_weighed("done"),
        *_weighed("after"),
        Column("period", '="Period ("&shop_swings&IF(shop_swings=1," swing, s)"," swings, s)")', 8, "input",
               number="0.0##", band=_LAST,
               prompt="What the stopwatch read for as many full swings, there and back, as Shop says, of the club as "
               "it was last weighed. Time it anew once the club is finished.",
               check=number_check(_PERIOD_KIND.low, _PERIOD_KIND.high)),
        Column("swung", "Swung as", 7.4, "input", band=_LAST, options=f'"{",".join(STAGES)}"',
               prompt="Stage at which the club was swung, where that is not the one at which it was last weighed."),
        Column("reading", "Scale reading", 7.2, "input", band=_LAST,
               prompt='What your swingweight scale shows of the club as it was last weighed, as a label such as D2 or '
               'as points.'),
        Column("length", unit_heading("Length", "unit_length"), 8, "input", number="0.00", band=_LAST,
               prompt="Club length by the 60 degree plane, butt to ground line.", check=LENGTH_CHECK),
        Column("loft", "Loft (deg)", 6, "input", number="0.0", band=_LAST, prompt="Loft in degrees.",
               check=number_check(0, 90)),
        Column("lie", "Lie (deg)", 6, "input", number="0.0", band=_LAST, prompt="Lie in degrees.",
               check=number_check(40, 90)),
        Column("frequency", "Freq. (cpm)", 7, "input", number="0", band=_LAST,
               prompt="Shaft frequency in cycles per minute.", check=number_check(50, 600)),
        Column("note", "Note", 9, "input", wrap=True, band=_LAST),
        Column("stage", "Stage", 7.6, "computed", _stage("stage"), band="What counts"),
        Column("mass_used", unit_heading("Mass", "unit_mass"), 6.6, "computed", _used("mass"), "0.0",
               band="What counts"),
        Column("balance_used", unit_heading("From butt", "unit_length"), 7.4, "computed", _used("balance"),
               "0.00", band="What counts"),
        *(_from_butt(stage) for stage in _BANDS),
        Column("missing", "Missing", 9, "work", _stage("missing")),
        Column("mass_weighed", "Mass on the bench", 9, "work", _stage("mass"), "0.0"),
        Column("balance_weighed", "Balance on the bench", 9, "work", _stage("balance"), "0.00"),
        Column("mass_mean", "Mean of the mass", 9, "work", "=HEFT_CONVERT({bench.mass_weighed},unit_mass,unit_mass)",
               "0.0"),
        Column("balance_read", "Balance, as typed", 9, "work", f'=HEFT_STAGE({_TYPED},"balance")'),
        *_read_again("mass", "{bench.mass_weighed}", "doubt_mass", "unit_mass"),
        *_read_again("balance", "{bench.balance_read}", "doubt_balance", "unit_length"),
        *_read_again("period", "{bench.period}", "doubt_watch", '"s"'),
        Column("incomplete", "Dry fit that lacks parts", 9, "work",
               f'=AND({{bench.stage}}="dry fit",{_LACKING},{{bench.missing}}="")'),
        Column("mass_whole", "Mass of the whole club", 9, "work", _whole("mass"), "0.0"),
        Column("balance_whole", "Balance of the whole club", 9, "work", _whole("balance"), "0.00"),
        Column("done_since", "Done since", 9, "work",
               '=AND({fix.is_done},{bench.stage}<>"",{bench.stage}<>"after Fix",{bench.missing}="")'),
        Column("swung_at", "Swung at", 9, "work", '=IF({bench.swung}="",{bench.stage},{bench.swung})'),
        Column("mass_swung", "Mass swung", 9, "work", _stage("mass", ",{bench.swung_at}"), "0.0"),
        Column("balance_swung", "Balance swung", 9, "work", _stage("balance", ",{bench.swung_at}"), "0.00"),
        Column("unweighed", "Swung as what was not weighed", 9, "work",
               '=IF(OR({bench.swung}="",{bench.mass_swung}<>"",{bench.balance_swung}<>""),"",{bench.swung})'),
        Column("inertia_timed", "Inertia by the watch", 9, "work",
               "=HEFT_INERTIA({bench.mass_swung},{bench.balance_swung},{bench.period},shop_units,shop_pivot,"
               "shop_gravity,shop_angle,shop_swings,{bench.length},doubt_watch)", "0"),
        Column("inertia_swung", "Inertia on the bench", 9, "work",
               '=IF(OR({bench.unweighed}="",{bench.period}=""),{bench.inertia_timed},"! swung as "&{bench.unweighed}&'
               '", which was not weighed")', "0"),
        Column("swung_doubt", "Doubt of the inertia on the bench", 9, "work",
               f"=HEFT_INERTIA_DOUBT({_SWUNG},,doubt_pivot,doubt_gravity)", "0"),
        Column("swung_incomplete", "Swung without parts", 9, "work",
               f'=AND({{bench.swung_at}}="dry fit",{_LACKING},ISNUMBER({{bench.inertia_swung}}))'),
        Column("inertia_whole", "Inertia of the whole club", 9, "work",
               f"=IF({{bench.swung_incomplete}},IF({{parts.empty}},{_WEIGH},{{parts.completed_inertia}}),"
               "{bench.inertia_swung})", "0"),
        Column("swung_own_doubt", "The same, without what is alike for every club", 9, "work",
               f"=HEFT_INERTIA_DOUBT({_SWUNG})", "0"),
        Column("points_measured", "Doubt of the swingweight on the bench", 9, "work",
               "=HEFT_DOUBT({bench.mass_weighed},{bench.balance_weighed},{bench.mass_half},{bench.balance_half},shop_units)",
               "0.00"),
        *(Column(f"{what}_doubt", f"Doubt of the {of}", 9, "work",
                 f"=IF(AND({{bench.{where}}},{{parts.empty}}=FALSE),{{parts.completed_{what}_doubt}},{otherwise})",
                 number)
          for what, of, where, otherwise, number in (
              ("points", "swingweight", "incomplete", "{bench.points_measured}", "0.00"),
              ("mass", "mass", "incomplete", "{bench.mass_half}", "0.0"),
              ("inertia", "inertia", "swung_incomplete", "{bench.swung_doubt}", "0"),
          )),
        Column("unasked", "Dry fit with nothing said of what it lacks", 9, "work",
               '=AND({bench.stage}="dry fit",{bench.dry_lacking}="",{parts.empty})'),
        Column("swung_before", "Swung before Fix", 9, "work", '=AND({fix.is_done},{bench.swung_at}<>"after Fix")'),
        Column("inertia_used", "Inertia", 9, "work",
               "=IF(AND({bench.swung_before},ISNUMBER({bench.inertia_whole})),{fix.planned_inertia},"
               "{bench.inertia_whole})", "0"),
    ),
)  # fmt: skip
