"""The Fix sheet: what to do about each club, tried before it is done, and what the club will then read."""

from __future__ import annotations

from evenheft.formulas.advice import NO_HEAD
from evenheft.formulas.what_if import ADDED, PLACE
from evenheft.order.layout.grid import Column, Table, identity, number_check, unit_heading
from evenheft.order.layout.order_sheet import LEADS
from evenheft.order.layout.quantities import QUANTITIES

_NOW, _ADVICE, _PLAN, _THEN = "Now", "What to do", "Plan: what if ... (then say done)", "Then"
_NUMBER, _NARROW = "+0.0;-0.0;0.0", 4.4
_CHANGING = ("length_change", "new_grip_mass", "head_added", "butt_added", "other_added", "new_shaft_mass")
"""The typed cells that make a plan."""
_PLANNED = ("mass", "balance", "points", "inertia")
TRIED = tuple(quantity.key for quantity in QUANTITIES[:4])
"""The quantities that a plan is judged by: those that a change of mass or length changes."""


def _planned_input(key: str, heading: str, unit: str, number: str, prompt: str) -> Column:
    bounds = PLACE if key == "other_at" else ADDED
    check = number_check(bounds.low, bounds.high)
    width = _NARROW + (key == "length_change")
    return Column(
        key, unit_heading(heading, unit), width, "input", number=number, prompt=prompt, check=check, band=_PLAN
    )


def _with(changes: str, what: str) -> str:
    """Write the formula of what the club reads after changes, from the club before them."""
    club = "{fix.mass_before},{fix.balance_before}"
    inertia = "{fix.inertia_before}" if what == "inertia" else ""  # one that does not fit spoils nothing else
    return f'=HEFT_WHAT_IF({club},"{what}",shop_units,{inertia},{changes})'


_CHANGES = (
    "{fix.length_change},{fix.per_cm},{fix.grip_before},{fix.grip_place},{fix.new_grip},,{fix.head_added},{fix.head_at},"
    "{fix.butt_added},{fix.butt_place},{fix.other_added},{fix.other_at},{fix.shaft_cut},{fix.shaft_at},"
    "{fix.new_shaft_cut},{fix.new_shaft_at},{fix.shaft_length},{parts.u_grip_cap}"
)


def _then(what: str) -> str:
    """Write the formula of what the club reads with the whole plan; as it was measured, once that was with it."""
    planned = f'IF({{fix.is_planned}},{{fix.planned_{what}}},"")'
    return f"=IF({{fix.measured_since}},{{fix.{what}}},{planned})"


def _in_unit(cell: str, unit: str) -> str:
    return f"HEFT_CONVERT({cell},{unit},{unit})"


def _grams_to(place: str) -> str:
    return f"=HEFT_GRAMS_TO({{set.swingweight_goal}},{{fix.mass}},{{fix.balance}},{place},shop_units)"


def _for_inertia(place: str) -> str:
    club = "{fix.mass},{fix.balance},{fix.inertia}"
    return f"=HEFT_GRAMS_TO_INERTIA({{set.inertia_goal}},{club},{place},shop_units)"


def _for_both(which: str) -> str:
    return (
        '=IF({fix.leads}="both",HEFT_TWO_WEIGHTS_INERTIA({fix.mass},{fix.balance},{fix.inertia},{fix.head_place},'
        f'{{fix.butt_place}},{{set.swingweight_goal}},{{set.inertia_goal}},"{which}",shop_units),"")'
    )


def _shaft(what: str, butt_trim: str = "{parts.butt_trim}") -> str:
    """Write the formula of the shaft as it is cut for the club, or at another trim of its butt."""
    return (
        "=HEFT_SHAFT_CUT({parts.u_shaft_mass},{parts.u_shaft_length},{fix.shaft_balance},{parts.u_tip_trim},"
        f'{butt_trim},"{what}",shop_units)'
    )


def _new_shaft(what: str) -> str:
    """Write the formula of the shaft that is planned, cut as the club's own is."""
    return (
        '=IF({fix.new_shaft_mass}="","",HEFT_SHAFT_CUT({fix.new_shaft_mass},{parts.u_shaft_length},'
        f'{{fix.new_shaft_uncut}},{{parts.u_tip_trim}},{{parts.butt_trim}},"{what}",shop_units))'
    )


_A_CM_MORE = "N({parts.butt_trim})+1/unit_cm"
"""N(), since Calc and Excel refuse to add to a text, as the trim of a row without a shaft is."""

_READ = (
    ("swingweight", "Swing-weight", 4.4, "General"),
    ("inertia", "Inertia (kg cm2)", 4.8, "0"),
    ("mass", unit_heading("Mass", "unit_mass"), 5.3, "0.0"),
    ("length", unit_heading("Length", "unit_length"), 5.3, "0.0#"),
)
"""What is told of a club before and after: key, heading, width and number format."""


def _doubt(key: str) -> str:
    """Name the cell of how sure a quantity is: a forecast no surer than its parts let it be."""
    return f"{{fix.{key}_doubt}}" if key in ("swingweight", "inertia") else f"{{set.{key}_doubt}}"


def _tried() -> tuple[Column, ...]:
    """Tell what the plan is judged by, side by side: names, targets, verdicts."""
    values = {"swingweight": "points"}
    return (
        *(Column(f"{q.key}_wanted", q.name, 9, "work", f"={{set.{q.key}_goal}}", "0.00", band="Wanted")
          for q in QUANTITIES if q.key in TRIED),
        *(Column(f"{key}_tried", key, 9, "work",
                 f'=IF(ISNUMBER({{fix.then_{values.get(key, key)}}}),HEFT_VERDICT({{fix.then_{values.get(key, key)}}},'
                 f'{{set.{key}_goal}},{{set.{key}_tolerance}},{_doubt(key)}),"")', band="Tried")
          for key in TRIED),
    )  # fmt: skip


def _filled(key: str) -> str:
    return f'{{fix.{key}}}<>""'


def _work(key: str, heading: str, formula: str, number: str = "General") -> Column:
    return Column(key, heading, 9, "work", formula, number)


_TRYING = (
    _work("is_planned", "Is planned", f'=OR({",".join(_filled(key) for key in _CHANGING)})'),
    _work("is_done", "Is done", '={fix.done}="done"'),
    _work("measured_since", "Measured since", '=AND({fix.is_done},{bench.stage}="after Fix")'),
    *(_work(f"planned_{what}", f"Planned {what}", _with(_CHANGES, what), "0.00") for what in _PLANNED),
    *(_work(f"then_{what}", f"{what.capitalize()} then", _then(what), "0.00") for what in ("balance", "points")),
    _work("planned_length", "Planned length",
          '=IF(OR({fix.length_change}="",{fix.length_before}=""),{fix.length_before},'
          f'{{fix.length_before}}+{_in_unit("{fix.length_change}", "unit_length")})', "0.00"),
    *_tried(),
)  # fmt: skip
_BEFORE = (
    _work("mass", "Mass", '=IF({bench.stage}<>"",{bench.mass_used},{parts.mass})', "0.0"),
    _work("balance", "Balance", '=IF({bench.stage}<>"",{bench.balance_used},{parts.balance})', "0.00"),
    _work("points", "Points", "=HEFT_POINTS({fix.mass},{fix.balance},shop_units)", "0.00"),
    _work("inertia", "Inertia", "=IF(ISNUMBER({bench.inertia_used}),{bench.inertia_used},IF({fix.is_done},"
          "{fix.planned_inertia},{fix.inertia_forecast}))", "0"),
    _work("length", "Length", "=IF({bench.done_since},{fix.planned_length},{fix.length_before})", "0.00"),
    _work("length_measured", "Length measured",
          f'=IF({{bench.length}}="","",IF({{bench.done_since}},{{fix.planned_length}},'
          f'{_in_unit("{bench.length}", "unit_length")}))', "0.00"),
    _work("mass_before", "Mass before", '=IF({bench.stage}<>"",{bench.mass_whole},{parts.mass})', "0.0"),
    _work("balance_before", "Balance before", '=IF({bench.stage}<>"",{bench.balance_whole},{parts.balance})', "0.00"),
    _work("inertia_before", "Inertia before",
          "=IF(ISNUMBER({bench.inertia_whole}),{bench.inertia_whole},{fix.inertia_forecast})", "0"),
    _work("inertia_forecast", "Inertia by forecast",
          '=IF(OR(ISNUMBER({parts.inertia}),{bench.stage}=""),{parts.inertia},"")', "0"),
    _work("swingweight_doubt", "Doubt of the swingweight",
          '=IF({bench.stage}="",N({parts.doubt}),{set.swingweight_doubt})', "0.00"),
    _work("inertia_doubt", "Doubt of the inertia",
          "=IF(ISNUMBER({bench.inertia_used}),{set.inertia_doubt},N({parts.inertia_doubt}))", "0"),
    _work("length_typed", "Length, as typed", '=IF({bench.length}="",{parts.u_club_length},{bench.length})'),
    _work("length_before", "Length before", f'={_in_unit("{fix.length_typed}", "unit_length")}', "0.00"),
)  # fmt: skip
_PLACES = (
    _work("head_above", "Head weights above ground",
          f'={_in_unit("{parts.u_bore_to_ground}", "unit_length")}'
          f'+{_in_unit("{parts.u_tip_weight_above_tip}", "unit_length")}', "0.00"),
    *(_work(key, heading,
            f"=IF(AND(ISNUMBER({{fix.{length}}}),ISNUMBER({{fix.head_above}})),{{fix.{length}}}-{{fix.head_above}},"
            f"{{fix.{length}}})", "0.00")
      for key, heading, length in (("head_place", "Head weights from butt", "length"),
                                   ("head_before", "The same before", "length_before"))),
    _work("head_at", "Added, from butt",
          f'=IF(AND({{fix.head_added}}<>"",{{fix.head_before}}=""),"! {NO_HEAD}",{{fix.head_before}})', "0.00"),
    _work("butt_place", "Butt weights from butt", "={parts.u_butt_weight_from_butt}", "0.00"),
    _work("grip_place", "Grip from butt", "={parts.u_grip_balance}", "0.00"),
)  # fmt: skip
_CHANGED = (
    _work("tape", "Tape", f'=IF({{parts.u_tape}}="",0,{_in_unit("{parts.u_tape}", "unit_mass")})', "0.0"),
    _work("grip_before", "Grip with tape before",
          f'=IF({{parts.u_grip_mass}}="","",{_in_unit("{parts.u_grip_mass}", "unit_mass")}+{{fix.tape}})', "0.0"),
    _work("new_grip", "New grip with tape",
          f'=IF({{fix.new_grip_mass}}="","",{_in_unit("{fix.new_grip_mass}", "unit_mass")}+{{fix.tape}})', "0.0"),
    _work("grip_now", "Grip with tape",
          '=IF(AND({fix.is_done},{fix.new_grip}<>""),{fix.new_grip},{fix.grip_before})', "0.0"),
    _work("shaft_measured", "Shaft length, uncut", f'={_in_unit("{parts.u_shaft_length}", "unit_length")}', "0.00"),
    _work("shaft_middle", "Middle of the shaft",
          '=IF(ISNUMBER({fix.shaft_measured}),{fix.shaft_measured}/2,{fix.shaft_measured})', "0.00"),
    _work("shaft_balance", "Shaft balance, uncut",
          '=IF({parts.u_shaft_balance}="",{fix.shaft_middle},{parts.u_shaft_balance})', "0.00"),
    _work("shaft_cut_mass", "Shaft as cut", _shaft("mass"), "0.0"),
    _work("shaft_less", "Shaft a cm shorter", _shaft("mass", _A_CM_MORE), "0.0"),
    _work("per_cm", "Shaft per cm (g)",
          "=IF(AND(ISNUMBER({fix.shaft_cut_mass}),ISNUMBER({fix.shaft_less})),"
          '({fix.shaft_cut_mass}-{fix.shaft_less})*unit_grams,"")', "0.000"),
    _work("shaft_cut", "Shaft to be changed", '=IF({fix.new_shaft_mass}="","",{fix.shaft_cut_mass})', "0.0"),
    _work("shaft_at", "Its balance", f'=IF({{fix.new_shaft_mass}}="","",{_shaft("balance")[1:]})', "0.00"),
    _work("new_shaft_uncut", "New shaft's balance, uncut",
          '=IF({fix.new_shaft_mass}="","",IF({fix.new_shaft_balance}="",{fix.shaft_balance},{fix.new_shaft_balance}))',
          "0.00"),
    _work("new_shaft_cut", "New shaft as cut", _new_shaft("mass"), "0.0"),
    _work("new_shaft_at", "Its balance, cut", _new_shaft("balance"), "0.00"),
    _work("shaft_length", "Length of both shafts", '=IF({fix.new_shaft_mass}="","",{parts.cut_length})', "0.00"),
)  # fmt: skip
_NEEDS = (
    _work("head_grams", "Head alone, for swingweight", _grams_to("{fix.head_place}"), _NUMBER),
    _work("butt_grams", "Butt alone, for swingweight", _grams_to("{fix.butt_place}"), _NUMBER),
    _work("head_inertia", "Head alone, for inertia", _for_inertia("{fix.head_place}"), _NUMBER),
    _work("head_both", "Head, for both", _for_both("first"), _NUMBER),
    *(_work(f"{what}_with_head", f"{what.capitalize()} with the head's weight",
            '=IF(AND({fix.leads}="both",ISNUMBER({fix.head_stock})),HEFT_AFTER({fix.mass},{fix.balance},{fix.head_stock}'
            f'/unit_grams,{{fix.head_place}},"{what}",shop_units),"")', "0.00")
      for what in ("mass", "balance")),
    _work("butt_alike", "Butt, for both with any head", _for_both("second"), _NUMBER),
    _work("butt_then", "Butt, once the head has its weight",
          "=HEFT_GRAMS_TO({set.swingweight_goal},{fix.mass_with_head},{fix.balance_with_head},{fix.butt_place},"
          "shop_units)", _NUMBER),
    _work("butt_both", "Butt, for both", "=IF(ISNUMBER({fix.mass_with_head}),{fix.butt_then},{fix.butt_alike})",
          _NUMBER),
    *(_work(f"{key}_verdict", f"{key.capitalize()} now",
            f"=HEFT_VERDICT({{fix.{key}}},{{set.{quantity}_goal}},{{set.{quantity}_tolerance}},{_doubt(quantity)})")
      for key, quantity in (("points", "swingweight"), ("inertia", "inertia"))),
    *(_work(f"wants_{key}", f"{key.capitalize()} is off",
            f'=AND({{fix.leads}}<>"{other}",{{fix.{key}_verdict}}<>"",{{fix.{key}_verdict}}<>"in")')
      for key, other in (("points", "inertia"), ("inertia", "swingweight"))),
    _work("wants", "Leading is off", "=OR({fix.wants_points},{fix.wants_inertia})"),
    _work("head_leading", "Head, for what leads",
          '=IF({fix.leads}="inertia",{fix.head_inertia},IF({fix.leads}="both",{fix.head_both},{fix.head_grams}))',
          _NUMBER),
    _work("butt_leading", "Butt, for what leads",
          '=IF({fix.leads}="inertia","",IF({fix.leads}="both",{fix.butt_both},{fix.butt_grams}))', _NUMBER),
    *(column
      for place in ("head", "butt")
      for column in (
          _work(f"{place}_needs", f"{place.capitalize()} needs (g)",
                f'=IF(AND({{fix.wants}},ISNUMBER({{fix.{place}_leading}})),{{fix.{place}_leading}}*unit_grams,"")',
                "0.0"),
          _work(f"{place}_sum", f"{place.capitalize()}: shared out (g)",
                f'=HEFT_PICK_SET({{fix.all_{place}_needs}},stock_{place},count_{place},shop_pieces,"sum",'
                "{row.fix})", "0.0"),
          _work(f"{place}_stock", f"{place.capitalize()} gets (g)",
                f'=IF(ISNUMBER({{fix.{place}_sum}}),IF({{fix.{place}_sum}}>0,{{fix.{place}_sum}},""),"")', "0.0"),
      )),
)  # fmt: skip
_IN_IT = "weighed as finished with what was done on it, which counts twice: type it under After Fix"
_PERHAPS_IN_IT = "was it done when Finished was weighed? Type that under After Fix; else say what the dry fit lacked"
_GUESS = "a guess: dry-fit one of these first"
_HALF = "a place without its mass counts for nothing"
_TOO_NEAR = "too near the edge for a forecast: weigh it as a dry fit first"
_SECOND = "; before a second round move After Fix to Finished"
_ANEW = "is Length as it is now?"
_AS_BEFORE = "Length counts as before that"
_SWUNG_WHEN = "say what it was swung as"
_SAYING = (
    _work("forecast_only", "Forecast only", '=IF({parts.mass}="","","forecast")'),
    _work("guessed", "Only guessed", '=AND({fix.basis}="forecast",{fix.untaught},ISNUMBER({parts.mass}))'),
    _work("early", "Done too early", '=AND({fix.basis}="forecast",{fix.is_done})'),
    _work("not_planned", "Done without a plan", "=AND({fix.is_done},{fix.is_planned}=FALSE)"),
    _work("untaught", "Untaught", '=AND({parts.rise_known}="",{parts.rise_learned}="")'),
    _work("leads", "Leads", f'=IF({{target.leads}}="","{LEADS[0]}",{{target.leads}})'),
    _work("advised", "Advised",
          "=HEFT_ADVICE({fix.leads},{fix.mass},{fix.balance},{fix.inertia},{set.swingweight_goal},"
          "{set.swingweight_tolerance},{set.inertia_goal},{set.inertia_tolerance},{fix.head_place},"
          "{fix.butt_place},{fix.head_stock},{fix.butt_stock},1,{fix.swingweight_doubt},{fix.inertia_doubt},"
          "{fix.grip_now},{fix.grip_place},{fix.per_cm},shop_units,,,{set.out},shop_ways,{set.mass_goal},"
          "{set.mass_tolerance},{set.mass_doubt},{fix.length},{set.length_goal},{set.length_tolerance},"
          "{set.length_doubt},room_advice-LEN({fix.asked}))"),
    *(_work(f"{key}_near", f"{key.capitalize()} in or near the edge",
            f'=OR({{fix.leads}}="{other}",{{fix.{key}_verdict}}="in",{{fix.{key}_verdict}}="re-measure")')
      for key, other in (("points", "inertia"), ("inertia", "swingweight"))),
    _work("too_near", "Too near for a forecast",
          '=AND({fix.basis}="forecast",{fix.wants},{fix.points_near},{fix.inertia_near})'),
    _work("said", "Said",
          f'=IF({{fix.guessed}},"{_GUESS}",IF({{fix.too_near}},"{_TOO_NEAR}",{{fix.advised}}))'),
    _work("warned", "Warned",
          '=IF({fix.early},"! what was done counts once the club is measured",'
          'IF({fix.not_planned},"! done, but the plan is blank: type there what was done",{fix.said}))'),
    _work("weighed_before", "Weighed before Fix",
          f'=IF({{bench.done_mass}}<>"",{_in_unit("{bench.done_mass}", "unit_mass")},'
          f'IF({{bench.dry_lacking}}="",{_in_unit("{bench.dry_mass}", "unit_mass")},{{parts.completed_mass}}))', "0.0"),
    _work("expected", "Mass expected",
          "=IF(AND({fix.measured_since},ISNUMBER({fix.weighed_before}),ISNUMBER({fix.planned_mass})),"
          '{fix.weighed_before}+{fix.planned_mass}-{fix.mass_before},"")', "0.0"),
    _work("agrees", "Mass agrees",
          f'=HEFT_VERDICT({{bench.mass_whole}},{{fix.expected}},{_in_unit("shop_fix_slack", "unit_mass")})'),
    _work("off_after", "Mass after Fix that disagrees",
          '=IF(OR({fix.agrees}="low",{fix.agrees}="high"),"mass after Fix is "&ROUND({bench.mass_whole},'
          'shop_mass_digits)&", what was done makes it "&ROUND({fix.expected},shop_mass_digits),"")'),
    _work("unsaid", "Nothing said of what the dry fit lacked", '={bench.dry_lacking}=""'),
    _work("dry_whole", "Mass of the dry fit with all parts",
          '=IF(OR(TRIM({bench.dry_lacking})="none",{fix.unsaid}),'
          f'{_in_unit("{bench.dry_mass}", "unit_mass")},{{parts.completed_mass}})', "0.0"),
    _work("grew", "More than the dry fit with all parts",
          '=IF(AND({fix.is_done},{bench.stage}="finished",ISNUMBER({fix.dry_whole}),'
          'ISNUMBER({fix.mass_before})),{fix.mass_before}-{fix.dry_whole},"")', _NUMBER),
    _work("put_on", "Mass put on by the plan",
          '=IF(AND(ISNUMBER({fix.grew}),ISNUMBER({fix.planned_mass})),{fix.planned_mass}-{fix.mass_before},"")',
          _NUMBER),
    _work("clear", "Enough to be told from a slip",
          f'=IF(ISNUMBER({{fix.put_on}}),ABS({{fix.put_on}})>2*{_in_unit("shop_fix_slack", "unit_mass")},FALSE)'),
    _work("is_in_it", "Finished with what was done",
          "=IF({fix.clear},ABS({fix.grew}-{fix.put_on})<ABS({fix.grew}),FALSE)"),
    _work("perhaps", "Perhaps finished with it", f'=IF({{fix.unsaid}},"{_PERHAPS_IN_IT}","")'),
    _work("weighed_with", "Finished with it", f'=IF({{fix.perhaps}}="","{_IN_IT}",{{fix.perhaps}})'),
    _work("second", "Before a second round", f'=IF({{fix.off_after}}="","","{_SECOND}")'),
    _work("disagrees", "What was done disagrees",
          "=IF({fix.is_in_it},{fix.weighed_with},{fix.off_after}&{fix.second})"),
    _work("length_then", "Length read when", f'=IF({{fix.measured_since}},"{_ANEW}","{_AS_BEFORE}")'),
    _work("length_asked", "Length asked for",
          '=IF(AND({fix.is_done},{fix.length_change}<>"",{bench.length}<>""),"; "&{fix.length_then},"")'),
    _work("swing_asked", "Swing asked for",
          f'=IF(AND({{fix.measured_since}},{{bench.period}}<>"",{{bench.swung}}=""),"; {_SWUNG_WHEN}","")'),
    _work("half_asked", "Half a plan", '=IF(OR(AND({fix.new_shaft_balance}<>"",{fix.new_shaft_mass}=""),'
          f'AND({{fix.other_at}}<>"",{{fix.other_added}}="")),"; {_HALF}","")'),
    _work("asked", "Asked", "={fix.length_asked}&{fix.swing_asked}&{fix.half_asked}"),
    _work("told", "Told", '=IF({fix.warned}="",SUBSTITUTE({fix.asked},"; ","",1),{fix.warned}&{fix.asked})'),
)  # fmt: skip


def _share(when: str) -> tuple[Column, ...]:
    """Tell how far off each of what may lead is, before or after what is planned, in units of its tolerance."""
    of = {"points": "swingweight", "inertia": "inertia"}
    read = "then_" if when == "after" else ""
    return tuple(
        _work(f"{key}_share_{when}", f"{quantity.capitalize()}, {when} (tolerances)",
              f'=IF(OR({{fix.leads}}="{other}",ISNUMBER({{fix.{read}{key}}})=FALSE),"",'
              f'IFERROR(({{fix.{read}{key}}}-{{set.{quantity}_goal}})/{{set.{quantity}_tolerance}},""))', _NUMBER)
      for (key, quantity), other in zip(of.items(), reversed(of.values()), strict=True)
    )  # fmt: skip


def _worse(when: str) -> str:
    """Write the formula of the worse of both; an error, which is not drawn, where none leads."""
    one, other = f"{{fix.points_share_{when}}}", f"{{fix.inertia_share_{when}}}"
    return f"=IF(COUNT({one},{other})=0,NA(),IF(ABS(N({one}))<ABS(N({other})),N({other}),N({one})))"


_PICTURE = (
    _work("before_plan", "Off before it was planned (tolerances)", "", _NUMBER),
    *_share("before"),
    *_share("after"),
    *(_work(f"worse_{when}", f"Worse of both, {when}", _worse(when), _NUMBER) for when in ("before", "after")),
    _work("drawn_before", "Before", "=IF(ISNUMBER({fix.before_plan}),{fix.before_plan},{fix.worse_before})", _NUMBER),
    _work("drawn_after", "After what is planned", "=IF(ISNUMBER({fix.then_mass}),{fix.worse_after},{fix.worse_before})",
          _NUMBER),
    _work("drawn_high", "Highest accepted", "=IF(ISNUMBER({fix.drawn_before}),1,NA())"),
    _work("drawn_low", "Lowest accepted", "=-{fix.drawn_high}"),
    _work("drawn_at", "Club", "=IF(ISNUMBER({fix.drawn_before}),{fix.number},NA())"),
)  # fmt: skip
"""How far off what leads is before and after, along the set, in units of its tolerance: the worse where both lead.
`evenheft plan` writes how far it was before."""

FIX = Table(
    "Fix",
    "Fix",
    "Read the advice, try it in the plan, and say done once it is done: the Set sheet follows until you measure anew.",
    (
        *identity(),
        Column("basis", "Based on", 7.4, "computed", '=IF({bench.stage}<>"",{bench.stage},{fix.forecast_only})',
               band=_NOW),
        *(Column("now" if key == "swingweight" else f"{key}_now", heading, width, "computed",
                 "=HEFT_LABEL({fix.points})" if key == "swingweight" else f"={{fix.{key}}}", number, band=_NOW)
          for key, heading, width, number in _READ),
        Column("advice", "Advice", 56, "computed",
               '=IF({fix.disagrees}="",{fix.told},"! "&{fix.disagrees})', band=_ADVICE, wrap=True),
        Column("done", "Done", 4.8, "input", options='"done"', band=_ADVICE,
               prompt='Choose "done" once the plan beside is done: it then counts, until the club is measured after '
               "Fix."),
        _planned_input("length_change", "Length change", "unit_length", "+0.00;-0.00;0.00",
                       "By how much the club gets longer at the butt; with a minus what is cut off there."),
        _planned_input("new_grip_mass", "New grip", "unit_mass", "0.0",
                       "Mass of the grip that goes on in place of the one on Parts; the tape stays as it is there."),
        _planned_input("head_added", "At the head", "unit_mass", "0.0",
                       "Mass to add at the head; with a minus what comes off."),
        _planned_input("butt_added", "At the butt", "unit_mass", "0.0",
                       "Mass to add in the butt; with a minus what comes out."),
        _planned_input("other_added", "Elsewhere", "unit_mass", "0.0",
                       "Mass to add at a place of your own, such as lead tape on the shaft; its place stands beside."),
        _planned_input("other_at", "... from butt", "unit_length", "0.00",
                       "Where that is: its distance from the butt of the club as it is."),
        _planned_input("new_shaft_mass", "New shaft", "unit_mass", "0.0",
                       "Mass of another shaft as it lies there, uncut: as long as that on Parts, and cut likewise."),
        _planned_input("new_shaft_balance", "... balance", "unit_length", "0.00",
                       "Where that shaft balances uncut, from its butt end; as the one on Parts where blank."),
        *(Column("then_label" if key == "swingweight" else f"then_{key}", heading, width, "computed",
                 "=HEFT_LABEL({fix.then_points})" if key == "swingweight" else _then(key), number, band=_THEN)
          for key, heading, width, number in _READ),
        Column("then_verdict", "Verdict", 11, "computed",
               "=IF(ISNUMBER({fix.then_mass}),HEFT_FLAGS({fix.tried_names},{fix.wanted_run},{fix.tried_run},"
               '"line",,room_verdict),"")',
               band=_THEN, wrap=True),
        *_TRYING,
        *_BEFORE,
        *_PLACES,
        *_CHANGED,
        *_NEEDS,
        *_SAYING,
        *_PICTURE,
        Column("target", "Must be", 12, "work", "={set.swingweight_window}"),
    ),
)  # fmt: skip
FIX_RUNS = {
    "wanted": (f"{TRIED[0]}_wanted", f"{TRIED[-1]}_wanted"),
    "tried": (f"{TRIED[0]}_tried", f"{TRIED[-1]}_tried"),
}
"""First and last column of what formulas read side by side: a plan's targets and its verdicts."""
