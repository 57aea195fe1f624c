"""The Parts sheet: loose parts as weighed, where to cut, their forecast, and what a dry fit teaches it."""

from __future__ import annotations

from evenheft.order.layout.grid import Column, Table, identity, literally, unit_heading
from evenheft.order.layout.shop_sheet import USUALLY

_PARTS, _SHAFT, _CUT = "Head and club", "Shaft, uncut", "Where to cut"
_SMALL, _FORECAST, _TEACHES, _RARE = "Grip, small parts", "Forecast", "Learned", "Where there is one"
LISTED = "From the lists on Shop"
"""The band over what is taken from the lists: beyond the page that the sheet is printed on, which says so."""
_INCHES = "# ??/16"
"""Number format of a length in inches to 1/16, on request."""


def _part(key: str, heading: str, unit: str, band: str, prompt: str, width: float = 4.4) -> Column:
    """Return an input column for one part of a club;
    its heading stands upright, so that the whole row is seen at once.
    """
    number = "0.0" if unit == "unit_mass" else "0.00"
    return Column(key, unit_heading(heading, unit), width, "input", number=number, prompt=prompt, band=band)


def _in_inches(key: str, heading: str, width: float) -> Column:
    """Tell what another column says in inches to 1/16, where Shop asks for it."""
    inches = f'HEFT_CONVERT({{parts.{key}}},unit_length,"in")'
    return Column(f"{key}_inches", f'=IF(shop_inches="yes","{heading} (in)","")', width, "computed",
                  f'=IF(shop_inches="yes",{inches},"")', _INCHES, band=_CUT)  # fmt: skip


def _forecast(what: str, run: str = "club") -> str:
    """Write the formula of the forecast from loose parts; `known` leaves out what a bench has taught."""
    return f'=HEFT_CLUB({{parts.{run}_headings}},{{parts.{run}_row}},"{what}",shop_units,shop_doubts)'


def _completed(what: str, swung: str = "") -> str:
    """Write the formula of what the dry fit reads with all that it lacks, or of how sure that is."""
    return (
        "=HEFT_FINISHED({parts.bare_headings},{parts.bare_row},{bench.dry_mass},{bench.dry_from_butt},"
        f'{{bench.dry_lacking}},"{what}",shop_units,shop_doubts{swung})'
    )


def _unexplained(mass: str, lacking: str) -> str:
    """Write the formula of the line that asks about grams which the parts do not explain;
    blank where there is nothing to ask.
    """
    return (
        f'=IF(OR({{parts.empty}},ISNUMBER({{parts.mass}})=FALSE),"",HEFT_UNEXPLAINED({{parts.bare_headings}},{{parts.bare_row}},{mass},{lacking},"line",'
        "shop_units,shop_doubts))"
    )


_INPUTS: tuple[tuple[str, str, str], ...] = (
    ("head_mass", "Head mass", "unit_mass"),
    ("club_length", "Club length", "unit_length"),
    ("shaft_mass", "Shaft mass", "unit_mass"),
    ("shaft_length", "Shaft length", "unit_length"),
    ("shaft_balance", "Shaft balance", "unit_length"),
    ("tip_trim", "Tip trim", "unit_length"),
    ("grip_mass", "Grip mass", "unit_mass"),
    ("tape", "Tape", "unit_mass"),
    ("ferrule", "Ferrule", "unit_mass"),
    ("epoxy", "Epoxy", "unit_mass"),
    ("adapter", "Adapter", "unit_mass"),
    ("tip_weight", "Tip weight", "unit_mass"),
    ("butt_weight", "Butt weight", "unit_mass"),
    ("lead_tape", "Lead tape", "unit_mass"),
    ("extension_mass", "Extension mass", "unit_mass"),
    ("extension_length", "Extension length", "unit_length"),
    ("cut_grip_mass", "Cut grip mass", "unit_mass"),
)
"""What HEFT_CLUB reads of the typed parts: key, heading and unit; usual values and the head's rise follow."""


_ELSEWHERE = {
    "head_mass": "{supplier.received}",
    "club_length": "{set.length_goal}",
    "shaft_mass": "{shafts.mass}",
    "shaft_length": "{shafts.length}",
    "shaft_balance": "{shafts.balance}",
    "grip_mass": "{grips.mass}",
}
"""Where a value that is not typed on Parts is already known."""


def _used(key: str) -> str:
    """Write the formula of a value as the forecast reads it: typed, else from where it is already known."""
    otherwise = _ELSEWHERE.get(key)
    return f'=IF({{parts.{key}}}="",{otherwise},{{parts.{key}}})' if otherwise else f"={{parts.{key}}}"


_QUIET = '=IF({{parts.empty}},"",{{parts.u_{key}}})'
"""Formula that keeps a row quiet in which no part was weighed."""


def _usual(key: str) -> str:
    """Write the formula of a usual value: the group's own, else that of every group; a typed one wins."""
    usual = f'IF({{usual.{key}}}="",{{every.{key}}},{{usual.{key}}})'
    own = {"bore_to_ground": "{parts.bore_to_ground}", "grip_balance": "{grips.balance}"}.get(key)
    return f'=IF({own}="",{usual},{own})' if own else f"={usual}"


def _from_list(key: str, heading: str, unit: str) -> Column:
    """Return a column that shows what was taken from a list on Shop, where nothing is typed."""
    listed = _ELSEWHERE[key]
    shown = f'=IF(OR({{parts.{key}}}<>"",{listed}=""),"",HEFT_CONVERT({listed},{unit},{unit}))'
    number = "0.0" if unit == "unit_mass" else "0.00"
    return Column(f"{key}_from", unit_heading(heading, unit), 5.2, "computed", shown, number, band=LISTED)


def _otherwise(listed: str, typed: str) -> str:
    """Write the formula of where a part is listed: as the same number written as a text, or as a number."""
    at = f"{{{listed}.all_names}}"
    cell = f"{{parts.{typed}}}"
    sought = f"{{parts.{typed.partition('_')[0]}_sought}}"
    return f'=IF({cell}="","",IFERROR(MATCH({sought}&"",{at},0),IFERROR(MATCH({cell}+0,{at},0),"")))'


def _unlisted(part: str, typed: str, mass: str) -> str:
    """Write the formula of what is said of a part that stands in no list and was not weighed either."""
    message = f'"! {part} "&{{parts.{typed}}}&" is not listed on Shop: weigh it"'
    return f'=IF(OR({{parts.{typed}}}="",{{parts.{mass}}}<>""),"",{message})'


_SETTLED = (
    *(Column(f"u_{key}", heading, 9, "work", _used(key)) for key, heading, _ in _INPUTS),
    *(Column(f"u_{key}", heading, 9, "work", _usual(key)) for key, heading, _, _ in USUALLY),
)
"""Every value that the forecast may need, typed or known from elsewhere."""
_RUN = tuple(
    Column(f"c_{key}", unit_heading(heading, unit), 9, "work", _QUIET.format(key=key), band="As the forecast reads it")
    for key, heading, unit in (
        *_INPUTS,
        *((key, heading, "unit_length") for key, heading, _, _ in USUALLY if not key.startswith("head_rise")),
    )
)
"""The same side by side under headings that HEFT_CLUB reads, without the head's rise."""

_RARELY = (
    Column("rise_known", unit_heading("Head rise", "unit_length"), 4, "input", number="0.00", band=_RARE,
           prompt="Head's centre of mass above the ground line, up the shaft axis, where you know it; else blank."),
    Column("rise_known_doubt", unit_heading("Head rise, +-", "unit_length"), 4, "input", number="0.00", band=_RARE,
           prompt="How far that head rise may be off; blank where a dry fit like yours taught it."),
    _part("adapter", "Adapter", "unit_mass", _RARE, "Adapter sleeve with its screw. Blank where there is none.", 3.8),
    _part("tip_weight", "Tip weight", "unit_mass", _RARE, "Weight in the shaft's tip. Blank where there is none.", 3.8),
    _part("butt_weight", "Butt weight", "unit_mass", _RARE, "Weight in the butt. Blank where there is none.", 3.8),
    _part("lead_tape", "Lead tape", "unit_mass", _RARE, "Lead tape on the head. Blank where there is none.", 3.8),
    _part("extension_mass", "Extension mass", "unit_mass", _RARE, "Plug in the shaft's butt end, its mass.", 4.2),
    _part("extension_length", "Extension length", "unit_length", _RARE, "By how much it lengthens the shaft.", 4.2),
    _part("cut_grip_mass", "Cut grip mass", "unit_mass", _RARE,
          'The slit grip that was on a dry fit instead of the real one; then "cut grip" stands in Still lacking.', 4.2),
)  # fmt: skip
"""Parts that few clubs have, behind the forecast."""
_FROM_LISTS = (
    Column("shaft_number", "Shaft no.", 5.6, "input", band=LISTED,
           prompt="The number written on the shaft: what is left blank of it comes from the list on Shop."),
    _from_list("shaft_mass", "Its mass", "unit_mass"),
    _from_list("shaft_length", "Its length", "unit_length"),
    _from_list("shaft_balance", "Its balance", "unit_length"),
    Column("grip_model", "Grip model", 8, "input", wrap=True, band=LISTED,
           prompt="The grip's model: its mass and balance come from the list on Shop where Grip mass is blank."),
    _from_list("grip_mass", "Its mass", "unit_mass"),
)  # fmt: skip
"""Shafts by number and grips by model, as the shop book lists them."""

PARTS = Table(
    "Parts",
    "Parts",
    "Weigh and measure the loose parts, before any epoxy. A dry fit teaches the forecast where the head's mass sits.",
    (
        *identity(),
        Column("model", "Head model", 8, "input", wrap=True, band=_PARTS,
               prompt="Heads of one model share what a dry fit teaches. Leave blank to let each club learn alone."),
        _part("head_mass", "Head mass", "unit_mass", _PARTS,
              "The bare head as you weighed it. Blank: the mass received on Supplier is used and shown beside.", 5.2),
        Column("head_from", unit_heading("Received, used", "unit_mass"), 5.2, "computed",
               '=IF({parts.head_mass}<>"","",{supplier.received})', "0.0", band=_PARTS),
        _part("bore_to_ground", "Bore to ground", "unit_length", _PARTS,
              "Seated shaft tip to the ground line, along the shaft axis; what is usual on Shop where blank.", 4),
        _part("club_length", "Club length", "unit_length", _PARTS,
              "Wanted length, butt to ground line (60 degree plane). Blank: the length that Order wants.", 5),
        _part("shaft_mass", "Shaft mass", "unit_mass", _SHAFT, "The shaft as it lies on the scale now.", 5.2),
        _part("shaft_length", "Shaft length", "unit_length", _SHAFT, "The shaft as it lies there now.", 5),
        _part("shaft_balance", "Shaft balance", "unit_length", _SHAFT,
              "From its butt end to where the loose shaft balances; half its length where blank.", 5.2),
        _part("tip_trim", "Tip trim", "unit_length", _CUT,
              "Length to be cut off the tip; the rest comes off the butt.", 4.2),
        Column("butt_trim", unit_heading("Butt trim", "unit_length"), 4.9, "computed", _forecast("butt trim"), "0.00",
               band=_CUT),
        Column("cut_length", unit_heading("Cut to", "unit_length"), 5.6, "computed", _forecast("cut length"), "0.00",
               band=_CUT),
        _in_inches("tip_trim", "Tip trim", 6),
        _in_inches("butt_trim", "Butt trim", 7.2),
        _in_inches("cut_length", "Cut to", 7.8),
        _part("grip_mass", "Grip mass", "unit_mass", _SMALL, "The grip that goes on.", 4.2),
        _part("tape", "Tape", "unit_mass", _SMALL, "Tape under the grip.", 3.8),
        _part("ferrule", "Ferrule", "unit_mass", _SMALL, "Blank where there is none.", 3.8),
        _part("epoxy", "Epoxy", "unit_mass", _SMALL, "Epoxy that stays in the joint.", 3.8),
        Column("swingweight", "Swing-weight", 4.8, "computed", _forecast("swingweight"), band="Forecast"),
        Column("mass", unit_heading("Mass", "unit_mass"), 5.2, "computed", _forecast("mass"), "0.0", band="Forecast"),
        Column("inertia", "Inertia (kg cm2)", 4.9, "computed", _forecast("inertia"), "0", band="Forecast"),
        Column("doubt", "+- (points)", 4.4, "computed", _forecast("doubt"), "0.0", band="Forecast"),
        Column("miss", "Bench less guess", 4.8, "computed",
               '=IF(AND(ISNUMBER({set.swingweight_number}),ISNUMBER({parts.untaught})),'
               'ROUND({set.swingweight_number}-{parts.untaught},1),"")', "+0.0;-0.0;0.0", band="Learned"),
        Column("learned", unit_heading("Head rise", "unit_length"), 4.2, "computed",
               '=HEFT_HEAD_RISE({parts.bare_headings},{parts.bare_row},{parts.taught_mass},{parts.taught_balance},'
               "{parts.taught_lacking},shop_units,shop_doubts)", "0.00", band="Learned"),
        *_RARELY,
        *_FROM_LISTS,
        *(Column(f"{key}_sought", f"{key.capitalize()} as it is looked up", 9, "work",
                 f"={literally(f'{{parts.{typed}}}')}")
          for key, typed in (("shaft", "shaft_number"), ("grip", "grip_model"), ("model", "model"))),
        Column("shaft_otherwise", "Shaft listed at", 9, "work", _otherwise("shafts", "shaft_number")),
        Column("grip_otherwise", "Grip listed at", 9, "work", _otherwise("grips", "grip_model")),
        Column("shaft_unlisted", "Shaft not listed", 9, "work", _unlisted("shaft", "shaft_number", "shaft_mass")),
        Column("grip_unlisted", "Grip not listed", 9, "work", _unlisted("grip", "grip_model", "grip_mass")),
        Column("balance", unit_heading("Balance", "unit_length"), 9, "work", _forecast("balance"), "0.00"),
        Column("untaught", "Untaught forecast (points)", 10, "work", _forecast("points", "known"), "0.0"),
        Column("taught_by", "Taught by", 9, "work",
               '=IF(AND({bench.dry_mass}<>"",{bench.dry_balance}<>""),"dry fit","finished")'),
        Column("taught_mass", "Mass taught by", 9, "work",
               '=IF({parts.taught_by}="dry fit",{bench.dry_mass},{bench.done_mass})', "0.0"),
        Column("taught_balance", "Balance taught by", 9, "work",
               '=IF({parts.taught_by}="dry fit",{bench.dry_from_butt},{bench.done_from_butt})', "0.00"),
        Column("taught_lacking", "Lacking", 12, "work", '=IF({parts.taught_by}="dry fit",{bench.dry_lacking},"")'),
        Column("model_taught", "Rise of the model", 9, "work",
               '=IFERROR(AVERAGEIF({parts.all_models},"="&{parts.model_sought},{parts.all_learned}),"")', "0.00"),
        Column("rise_learned", "Rise learned", 9, "work",
               '=IF({parts.model}<>"",{parts.model_taught},IF(ISNUMBER({parts.learned}),{parts.learned},""))', "0.00"),
        *_SETTLED,
        Column("empty", "No part weighed", 9, "work",
               '=AND({parts.head_mass}="",{parts.shaft_mass}="",{parts.shaft_number}="",{parts.grip_mass}="")'),
        Column("group_unusual", "Group of which nothing is usual", 9, "work",
               '=IF(OR({order.group}="",{row.usual}<>"",{parts.empty},LEFT({order.group},2)="! "),"",{order.group})'),
        Column("rise_untaught", unit_heading("Head rise", "unit_length"), 9, "work",
               '=IF({parts.rise_known}="",IF({parts.empty},"",{parts.u_head_rise}),{parts.rise_known})', "0.00"),
        Column("guess_doubt", "Doubt of a guessed rise", 9, "work",
               '=IF({parts.empty},"",{parts.u_head_rise_doubt})', "0.00"),
        *_RUN,
        Column("rise_used", unit_heading("Head rise", "unit_length"), 9, "work",
               '=IF(OR({parts.rise_known}<>"",{parts.rise_learned}=""),{parts.rise_untaught},{parts.rise_learned})',
               "0.00", band="As the forecast reads it"),
        Column("rise_used_doubt", unit_heading("Head rise doubt", "unit_length"), 9, "work",
               '=IF({parts.rise_known}<>"",{parts.rise_known_doubt},IF({parts.rise_learned}="",{parts.guess_doubt},""))',
               "0.00", band="As the forecast reads it"),
        Column("head_for", "Head for", 9, "work", '=IF({fix.leads}="inertia","inertia","swingweight")'),
        Column("head_goal", "What the head is to reach", 9, "work",
               '=IF({fix.leads}="inertia",{set.inertia_goal},{set.swingweight_goal})', "0.0"),
        Column("head_wanted", "Head mass wanted", 9, "work",
               '=IF({parts.u_shaft_mass}="","",HEFT_HEAD_MASS({parts.club_headings},{parts.club_row},'
               "{parts.head_goal},shop_units,shop_doubts,{parts.head_for}))", "0.0"),
        Column("inertia_doubt", "Doubt of the inertia", 9, "work", _forecast("inertia doubt"), "0"),
        *(Column(f"completed_{what}", f"{what.capitalize()}, dry fit completed", 9, "work", _completed(what), number)
          for what, number in (("mass", "0.0"), ("balance", "0.00"))),
        Column("completed_inertia", "Inertia, dry fit completed", 9, "work",
               _completed("inertia", ",{bench.inertia_swung}"), "0"),
        Column("completed_points_doubt", "Doubt of its swingweight", 9, "work", _completed("doubt"), "0.00"),
        Column("completed_mass_doubt", "Doubt of its mass", 9, "work", _completed("mass doubt"), "0.0"),
        Column("completed_inertia_doubt", "Doubt of its inertia", 9, "work",
               _completed("inertia doubt", ",{bench.inertia_swung},{bench.swung_doubt}"), "0"),
        Column("unexplained", "Unexplained in the dry fit", 9, "work",
               _unexplained("{bench.dry_mass}", "{bench.dry_lacking}")),
        Column("unexplained_done", "Unexplained once finished", 9, "work", _unexplained("{bench.done_mass}", '"none"')),
    ),
)  # fmt: skip
PARTS_RUNS = {
    "bare": (_RUN[0].key, _RUN[-1].key),
    "known": ("rise_untaught", _RUN[-1].key),
    "club": (_RUN[0].key, "rise_used_doubt"),
}
"""First and last column of what HEFT_CLUB reads: without the head's rise, as guessed or typed, as a bench taught it."""
