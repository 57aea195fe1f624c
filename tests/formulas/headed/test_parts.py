"""From loose parts to a forecast: what a builder types and reads."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from evenheft.formulas.headed.dry_fit import MAY_LACK
from evenheft.formulas.headed.parts import CLUB_ANSWERS, READINGS
from formula_answers import heft, number

HEADINGS = (
    "Club", "Head mass (g)", "Head rise (cm)", "Bore to ground (cm)", "Shaft (g)", "Shaft length (in)",
    "Shaft balance (in)", "Tip trim (in)", "Club length (in)", "Grip (g)", "Tape (g)", "Ferrule (g)", "Epoxy (g)",
    "Adapter (g)", "Tip weight (g)", "Cut grip (g)",
)  # fmt: skip
DRIVER = ("driver", 198.0, 0.8, 3.2, 65.0, 46.0, 22.5, 0.5, 44.5, 50.0, 2.0, 1.0, 2.0, 8.0, 0.0, 62.0)
IRON = ("7 iron", 268.0, None, None, 110.0, 39.0, 19.0, None, 37.0, 50.0, 2.0, 1.5, 2.0, None, 1.0, None)


def club(row: tuple[Any, ...], what: str | None = None) -> Any:
    return heft("HEFT_CLUB", [HEADINGS], [row], what)


def changed(row: tuple[Any, ...], **cells: Any) -> tuple[Any, ...]:
    """A row with the cells under some headings changed; a heading is told by its first words."""
    places = {heading.split(" (")[0].lower().replace(" ", "_"): at for at, heading in enumerate(HEADINGS)}
    made = list(row)
    for name, value in cells.items():
        made[places[name]] = value
    return tuple(made)


def test_a_forecast_is_one_number_or_a_row_of_them() -> None:
    whole = club(DRIVER)
    assert isinstance(whole, tuple)
    (row,) = whole
    assert [club(DRIVER, answer.name) for answer in CLUB_ANSWERS] == list(row)
    assert row[3].startswith("D")
    # 44.5 in = 113.03 cm, less 3.2 cm bore to ground and 0.4 cm grip cap.
    assert club(DRIVER, "cut length") == approx(109.43)
    assert club(DRIVER, "butt trim") == approx(46 * 2.54 - 0.5 * 2.54 - 109.43)


def test_mass_is_that_of_what_is_left() -> None:
    shaft = number("HEFT_SHAFT_CUT", 65.0, "46 in", "22.5 in", "0.5 in", club(DRIVER, "butt trim"), "mass")
    assert club(DRIVER, "mass") == approx(198 + shaft + 50 + 2 + 1 + 2 + 8)


def test_the_parts_combined_by_hand_are_the_forecast() -> None:
    names = ("head", "grip", "tape", "ferrule", "epoxy", "adapter")
    masses = [[198.0], [50.0], [2.0], [1.0], [2.0], [8.0]]
    places = [[number("HEFT_PLACE", [HEADINGS], [DRIVER], name)] for name in names]
    cut = heft("HEFT_SHAFT_CUT", 65.0, "46 in", "22.5 in", "0.5 in", club(DRIVER, "butt trim"))
    assert isinstance(cut, tuple)
    mass, balance = cut[0][:2]
    assert isinstance(balance, float)
    # The cut shaft's butt end sits one grip cap below the butt.
    whole = heft("HEFT_COMBINE", [*masses, [mass]], [*places, [0.4 + balance]], "points")
    assert whole == approx(club(DRIVER, "points"))


def test_units_of_the_answers_are_those_of_the_call() -> None:
    centimetres, inches = club(DRIVER)[0], heft("HEFT_CLUB", [HEADINGS], [DRIVER], None, "oz in")
    assert isinstance(inches, tuple)
    mass, balance, *_ = inches[0]
    assert (mass, balance) == approx((centimetres[0] / 28.349523125, centimetres[1] / 2.54))
    assert inches[0][2:5] == centimetres[2:5]


def test_several_rows_are_answered_one_below_the_other_and_a_bad_one_spoils_none() -> None:
    rows = [DRIVER, changed(IRON, head_mass="heavy"), (None,) * 16, IRON]
    answers = heft("HEFT_CLUB", [HEADINGS], rows, "points")
    assert answers == (
        (club(DRIVER, "points"),),
        ("! Head mass (g) must be a mass such as 431 or 15.2 oz, got heavy",),
        ("",),
        (club(IRON, "points"),),
    )


def test_an_unfilled_sheet_stays_quiet() -> None:
    assert club((None,) * 16) == ""
    assert club(("driver", *(None,) * 15)) == ""
    assert heft("HEFT_CLUB", [HEADINGS], [(None,) * 16] * 3, "points") == (("",),) * 3
    assert heft("HEFT_CLUB", [(None, None)], [(1, 2)]) == ""
    assert heft("HEFT_HEAD_RISE", [HEADINGS], [(None,) * 16], 400, 80) == ""


def test_a_shop_changes_its_defaults_in_sight() -> None:
    defaults = [["Head rise (cm)", 2.0], ["Bore to ground (in)", 1.0], ["Epoxy (g)", 3.0]]
    changed_row = changed(IRON, head_rise=2.0, bore_to_ground=2.54)
    assert heft("HEFT_CLUB", [HEADINGS], [IRON], "points", None, defaults) == approx(club(changed_row, "points"))


def test_headings_are_told_as_understood_in_their_shape() -> None:
    across = heft("HEFT_CLUB_READS", [("Head wt (oz)", "Player", None, "Epxy (g)", "Total weight (g)")])
    assert across == (
        ("head mass (oz)", "not used", "", 'not used: did you mean "Epoxy"?', "mass (g), not a part"),
    )  # fmt: skip
    assert heft("HEFT_CLUB_READS", [["Grip (g)"], ["Grip wt (g)"], ["Tape (stone)"]]) == (
        ("grip mass (g)",),
        ('! two headings for grip mass: this one and "Grip (g)"',),
        ("! the unit stone is not known: use g or oz",),
    )


@given(
    rise=st.floats(-3, 5),
    lacking=st.sets(st.sampled_from(["grip", "tape", "ferrule", "epoxy", "adapter", "tip weight"])),
    row=st.sampled_from([DRIVER, changed(IRON, adapter=3.0, cut_grip=40.0)]),
)
def test_what_a_dry_fit_teaches_makes_forecast_and_bench_agree(
    rise: float, lacking: set[str], row: tuple[Any, ...]
) -> None:
    """The dry fit of a true club teaches its head rise; with it, forecast and finished club are the true one."""
    gone = {f"{name.replace(' ', '_')}": None for name in lacking}
    true = changed(row, head_rise=rise)
    mass, balance = club(changed(true, **gone))[0][:2]
    words = ", ".join(sorted(lacking)) or "none"
    learned = number("HEFT_HEAD_RISE", [HEADINGS], [row], mass, balance, words)
    assert learned == approx(rise, abs=1e-9)
    done = heft("HEFT_FINISHED", [HEADINGS], [row], mass, balance, words)
    assert isinstance(done, tuple)
    whole = club(changed(row, head_rise=learned))[0]
    for at in (0, 1, 2, 4):
        assert done[0][at] == approx(whole[at], rel=1e-9, abs=1e-7)


def test_a_cut_grip_on_the_dry_fit_comes_off_again() -> None:
    mass, balance = heft("HEFT_CLUB", [HEADINGS], [changed(DRIVER, grip=62.0, epoxy=None, ferrule=None)])[0][:2]  # type: ignore[index]
    done = number("HEFT_FINISHED", [HEADINGS], [DRIVER], mass, balance, "cut grip, epoxy and ferrule", "points")
    assert done == approx(club(DRIVER, "points"), abs=1e-9)
    assert number("HEFT_HEAD_RISE", [HEADINGS], [DRIVER], mass, balance, "Cut grip; epoxy; ferrule") == approx(0.8)


def test_a_dry_fit_that_was_swung_gets_what_it_lacks_added_to_its_own_inertia() -> None:
    """Parallel axis, by hand: epoxy as a point, the grip spread evenly from the butt to twice its balance."""
    mass, balance = club(changed(DRIVER, epoxy=None, grip=None))[0][:2]
    swung = 2900.0
    done = heft("HEFT_FINISHED", [HEADINGS], [DRIVER], mass, balance, "epoxy, grip", "inertia", None, None, swung)
    place = number("HEFT_PLACE", [HEADINGS], [DRIVER], "epoxy")
    row = dict(zip(HEADINGS, DRIVER, strict=True))
    grip, epoxy = float(row["Grip (g)"]), float(row["Epoxy (g)"])
    centre = number("HEFT_PLACE", [HEADINGS], [DRIVER], "grip")
    assert done == approx(swung + (epoxy * place**2 + grip * centre**2 * 4 / 3) / 1000, rel=1e-12)
    impossible = heft("HEFT_FINISHED", [HEADINGS], [DRIVER], mass, balance, "epoxy, grip", "inertia", None, None, 500)
    assert str(impossible).startswith("! inertia must be at least mass x balance squared")


def test_what_tip_weight_brings_the_dry_fit_to_its_target() -> None:
    mass, balance = club(changed(DRIVER, epoxy=None))[0][:2]
    done = heft("HEFT_FINISHED", [HEADINGS], [DRIVER], mass, balance, "epoxy")
    place = number("HEFT_PLACE", [HEADINGS], [DRIVER], "tip weight")
    assert isinstance(done, tuple)
    grams = number("HEFT_GRAMS_TO", "D5", done[0][0], done[0][1], place)
    assert club(changed(DRIVER, tip_weight=grams), "swingweight") == "D5.0"


def test_the_head_to_order() -> None:
    mass = number("HEFT_HEAD_MASS", [HEADINGS], [changed(DRIVER, head_mass=None)], "D3")
    assert club(changed(DRIVER, head_mass=mass), "points") == approx(33.0)
    # Before there is a head there need be no heading for its mass either.
    at = HEADINGS.index("Head mass (g)")
    headings, cells = (row[:at] + row[at + 1 :] for row in (HEADINGS, DRIVER))
    assert number("HEFT_HEAD_MASS", [headings], [cells], "D3") == approx(mass)


def test_rows_beside_columns_of_measurements() -> None:
    rows = [DRIVER, IRON, (None,) * 16]
    bench = [club(row)[0] for row in rows[:2]]
    masses, balances = [[b[0]] for b in bench] + [[None]], [[b[1]] for b in bench] + [[None]]
    assert heft("HEFT_HEAD_RISE", [HEADINGS], rows, masses, balances) == ((approx(0.8),), (approx(1.0),), ("",))
    places = heft("HEFT_PLACE", [HEADINGS], rows[:2], [["head"], ["grip"]])
    assert places == ((approx(44.5 * 2.54 - 0.8),), (11.0,))
    assert heft("HEFT_HEAD_RISE", [HEADINGS], rows, masses[:2], balances) == (
        "! mass must be a range of 3 x 1 cells like row, got 2 x 1"
    )


@pytest.mark.parametrize(
    ("name", "args", "message"),
    [
        ("HEFT_HEAD_RISE", ([HEADINGS], [DRIVER], 322.0, 60.0),
         "! no head has its centre 40.98 cm above the ground line (from -4 cm to 6 cm): look at head mass, club length "
         "and the dry fit's balance"),
        ("HEFT_HEAD_RISE", ([HEADINGS], [DRIVER], 390.0, 85.0),
         "! mass must be that of the parts on the dry fit, 321.71 g, within 1 g, got 390 g: 68.29 g unexplained. What "
         "is lacking, or not typed?"),
        ("HEFT_HEAD_RISE", ([HEADINGS], [DRIVER], 326.0, 85.0, "epoxy, glitter"),
         f"! lacking must name {', '.join(MAY_LACK)} or cut grip, got glitter"),
        ("HEFT_HEAD_RISE", ([HEADINGS], [DRIVER], 326.0, 85.0, "butt weight"),
         "! butt weight is still to come, so its mass must be given: fill in Butt weight (g)"),
        ("HEFT_FINISHED", ([HEADINGS], [IRON], 326.0, 85.0, "cut grip"),
         "! a cut grip was on the dry fit, so its mass must be given: add Cut grip (g)"),
        ("HEFT_FINISHED", ([HEADINGS], [DRIVER], 326.0, 85.0, "head"),
         f"! lacking must name {', '.join(MAY_LACK)} or cut grip, got head"),
        ("HEFT_PLACE", ([HEADINGS], [DRIVER], "wheel"),
         "! part must name head, shaft, grip, tape, ferrule, epoxy, adapter, tip weight, butt weight, lead tape, "
         "extension or other, got wheel"),
        ("HEFT_CLUB", ([HEADINGS[:2], HEADINGS[:2]], [DRIVER]), "! headers must be one row of cells, got 2 rows"),
        ("HEFT_CLUB", ([HEADINGS], [DRIVER], [["points"], ["mass"]], None), None),
        ("HEFT_CLUB", ([HEADINGS], [DRIVER, IRON], [["points"], ["mass"]]),
         "! what must be one cell where row has several rows"),
        ("HEFT_SHAFT_CUT", (65, 117, 30), "! balance must be from 39 cm to 78 cm for a shaft of 117 cm, got 30 cm"),
        ("HEFT_SHAFT_CUT", (65, 117, 57, 60, 60),
         "! tip_trim and butt_trim must leave at least 1 cm of a shaft of 117 cm, got 120 cm"),
        ("HEFT_SHAFT_CUT", (65, 46, 57), "! balance must be from 15.3333 cm to 30.6667 cm for a shaft of 46 cm, "
         "got 57 cm"),
        ("HEFT_COMBINE", ([[200], [60]], [[114], [None]]),
         "! positions must have a place for each mass, cell 2 is blank"),
        ("HEFT_COMBINE", ([[200], [-60]], [[114], [20]]),
         "! masses (cell 2) must be from 0 g to 2000 g, got -60"),
        ("HEFT_COMBINE", ([[0.0], [None]], [[114], [20]]),
         "! masses must hold at least one part that weighs something"),
    ],
)  # fmt: skip
def test_what_cannot_be_answered_says_why(name: str, args: tuple[Any, ...], message: str | None) -> None:
    answer = heft(name, *args)
    if message is None:
        assert answer == ((club(DRIVER, "points"),), (club(DRIVER, "mass"),))
    else:
        assert answer == message


def test_a_label_off_the_scale_does_not_take_the_numbers_with_it() -> None:
    answer = heft("HEFT_COMBINE", [[50]], [[20]])
    assert isinstance(answer, tuple)
    assert answer[0][:2] == (50.0, 20.0)
    assert str(answer[0][3]).startswith("! points must be from 0 to 69.9")
    assert len(answer[0]) == len(READINGS)


@pytest.mark.parametrize("blank", [("Head mass (g)",), ("Shaft (g)",), ("Head mass (g)", "Shaft (g)")])
def test_where_to_cut_is_told_before_head_and_shaft_are_weighed(blank: tuple[str, ...]) -> None:
    headings = ["Head mass (g)", "Club length (in)", "Shaft (g)", "Shaft (in)", "Tip trim (in)", "Grip (g)"]
    whole = [200, 45, 65, 46, 0.5, 50]
    row = [None if heading in blank else value for heading, value in zip(headings, whole, strict=True)]
    for what in ("cut length", "butt trim"):
        known = heft("HEFT_CLUB", [headings], [whole], what)
        assert heft("HEFT_CLUB", [headings], [row], what) == known
        assert heft("HEFT_CLUB", [headings], [row, whole], what) == ((known,), (known,))
    for what in ("points", "mass", "inertia", "doubt", "inertia doubt"):
        assert str(heft("HEFT_CLUB", [headings], [row], what)).startswith("! the row lacks ")
    short, unknown = [None, 45, 65, 43, 0.5, 50], [None, None, 65, 46, 0.5, 50]
    for row, begin in ((short, "! the shaft is too short by "), (unknown, "! the row lacks club length")):
        assert str(heft("HEFT_CLUB", [headings], [row], "cut length")).startswith(begin)
        answers = heft("HEFT_CLUB", [headings], [row, whole], "cut length")
        assert isinstance(answers, tuple) and str(answers[0][0]).startswith(begin)
    assert heft("HEFT_CLUB", [headings], [unknown], "points") == "! the row lacks head mass and club length"
