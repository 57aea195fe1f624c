"""A number typed in another unit than meant: refused with a question wherever no club can have it, in every formula."""

from __future__ import annotations

import pytest

from evenheft.formulas import REGISTRY
from evenheft.formulas.calling import call
from evenheft.formulas.kinds import Quantity
from evenheft.mechanics.units import CM_PER_INCH, GRAMS_PER_OUNCE
from parity_cases import GOOD

SLIPS = {
    "mass": {
        "ounces": 1 / GRAMS_PER_OUNCE,
        "pounds": 1 / (16 * GRAMS_PER_OUNCE),
        "kilograms": 1e-3,
        "ounces are meant": GRAMS_PER_OUNCE,
    },
    "length": {"inches": 1 / CM_PER_INCH, "millimetres": 10.0, "inches are meant": CM_PER_INCH},
}
"""What a builder typed where g or cm are meant, or which unit the call says where g or cm were typed [1/(g or cm)]."""
ANSWERED = {
    "any place may be asked about": ("HEFT_PER_GRAM.position", "HEFT_FROM_BUTT.distance", "HEFT_INERTIA_ABOUT.new_axis",
                                     "HEFT_MOMENT_ABOUT.new_fulcrum"),
    "mass may be added anywhere": (
        "HEFT_AFTER.position", "HEFT_GRAMS_TO.position", "HEFT_GRAMS_TO_INERTIA.position", "HEFT_LEAST_LINE.positions",
        "HEFT_TWO_WEIGHTS.first_position", "HEFT_TWO_WEIGHTS_INERTIA.first_position",
    ),
    "a shaft with its grip may balance anywhere": ("HEFT_MOMENT.balance",),
    "little mass may be added, and little length": ("HEFT_AFTER.added", "HEFT_PICK.grams", "HEFT_LENGTHEN.change"),
    "weights stand anywhere inside the grip": ("HEFT_TWO_WEIGHTS.second_position",
                                               "HEFT_TWO_WEIGHTS_INERTIA.second_position"),
    "a grip's balance hardly counts": ("HEFT_LENGTHEN.grip_balance", "HEFT_LENGTH_TO.grip_balance",
                                       "HEFT_LENGTH_TO_INERTIA.grip_balance"),
    "the answer, too short, asks": ("HEFT_LENGTH_LIMIT.length",),
    "a plus or minus may be small or great": (
        "HEFT_DOUBT.mass_doubt", "HEFT_DOUBT.balance_doubt", "HEFT_INERTIA_DOUBT.mass_doubt",
        "HEFT_INERTIA_DOUBT.balance_doubt", "HEFT_BALANCE_NEEDED.mass_doubt", "HEFT_SWINGS_NEEDED.mass_doubt",
        "HEFT_SWINGS_NEEDED.balance_doubt",
    ),
}  # fmt: skip
"""Where another unit brings a number that may well be meant, and why."""


def answered() -> set[str]:
    """Find the arguments of which some slip is answered as if nothing were wrong."""
    found = set()
    for formula in REGISTRY.values():
        good = GOOD[formula.name]
        for at, (argument, value) in enumerate(zip(formula.arguments, good, strict=False)):
            if isinstance(argument.kind, Quantity) and isinstance(value, float) and value:
                for factor in SLIPS[argument.kind.dimension].values():
                    answer = call(formula, [*good[:at], value * factor, *good[at + 1 :]])
                    first = answer[0][0] if isinstance(answer, tuple) else answer
                    if not (isinstance(first, str) and first.startswith("! ")):
                        found.add(f"{formula.name}.{argument.name}")
    return found


def test_only_where_a_number_may_be_meant_is_it_answered() -> None:
    assert answered() == {name for names in ANSWERED.values() for name in names}


TAKING = [formula.name for formula in REGISTRY.values() if {"mass", "balance"} <= {a.name for a in formula.arguments}]


@pytest.mark.parametrize("name", [n for n in TAKING if n not in ("HEFT_MOMENT", "HEFT_SHAFT_CUT")])
@pytest.mark.parametrize(("balance", "asks"), [(29.6, ": inches?"), (753.0, ": millimetres?"), ("75.3 in", "")])
def test_every_formula_of_a_clubs_mass_and_balance_asks_the_same(name: str, balance: object, asks: str) -> None:
    formula = REGISTRY[name]
    at = [argument.name for argument in formula.arguments].index("balance")
    answer = call(formula, [*GOOD[name][:at], balance, *GOOD[name][at + 1 :]])
    first = answer[0][0] if isinstance(answer, tuple) else answer
    assert isinstance(first, str)
    assert first.startswith("! balance must be ") and first.endswith(asks), first


def test_centimetres_in_a_call_in_inches_are_asked_about() -> None:
    message = "! balance must be more than 0 in and less than 57.0866 in, got 75.3: centimetres?"
    assert call(REGISTRY["HEFT_POINTS"], [395, 75.3, "g in"]) == message
    message = (
        "! a club's balance must be more than 14 in and less than 57.0866 in from the butt, got 71.1353 in: "
        "centimetres?"
    )
    assert call(REGISTRY["HEFT_BALANCE"], [300, 75, 395, "36 cm", "g in"]) == message


def test_the_longest_broom_putter_is_a_club() -> None:
    assert isinstance(call(REGISTRY["HEFT_POINTS"], [750, "52 in"]), float)


@pytest.mark.parametrize("formula", ["HEFT_LENGTHEN", "HEFT_LENGTH_TO"])
def test_a_grip_in_ounces_is_asked_about_and_none_is_none(formula: str) -> None:
    at = [argument.name for argument in REGISTRY[formula].arguments].index("grip_mass")
    good = list(GOOD[formula])
    good[at] = 1.8
    assert "grip_mass must be 0, or from 10 g to 300 g, got 1.8: ounces?" in str(call(REGISTRY[formula], good))
    good[at] = 0.0
    assert "!" not in str(call(REGISTRY[formula], good))[:3]


def test_a_grips_column_in_ounces_is_told_row_by_row() -> None:
    """Both ways of reading a table take no grip of 1.8 g: row by row, and with numpy."""
    headings = [["Head mass (g)", "Club length (cm)", "Shaft (g)", "Shaft (cm)", "Grip (g)"]]
    rows = [[200.0, 114.3, 65.0, 117.0, grip] for grip in (50.0, 1.8, 0.0, 51.0)] * 50
    answers = call(REGISTRY["HEFT_CLUB"], [headings, rows, "mass"])
    assert isinstance(answers, tuple)
    messages = {str(row[0]).split(",")[0] for row in answers if isinstance(row[0], str)}
    assert [isinstance(row[0], str) for row in answers] == [False, True, False, False] * 50, messages
