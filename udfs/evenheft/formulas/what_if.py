"""Formula: what a measured club will read after several changes at once, before any of them is made."""

from __future__ import annotations

from evenheft.formulas.answers import READINGS
from evenheft.formulas.arguments import BALANCE, FURTHEST, INERTIA, MASS, club_of
from evenheft.formulas.changes import (
    GRIP_BALANCE,
    GRIP_MASS,
    PARALLEL_AXIS,
    SHAFT_PER_CM,
    need_a_club_left,
    need_place_of_head,
    need_rest_of_club,
    readings_after,
)
from evenheft.formulas.correction import CATEGORY
from evenheft.formulas.kinds import Quantity
from evenheft.formulas.registry import UNITS, Argument, formula, what_of
from evenheft.formulas.wording import Measured
from evenheft.mechanics.bodies import Body, is_possible_shaft
from evenheft.mechanics.club import DEFAULTS
from evenheft.mechanics.what_if import NO_GRIP, Changes, CutShaft, changed
from evenheft.ooxml.errors import Refused

ADDED = Quantity("mass", -1000, 1000)
PLACE = Quantity("length", 0, FURTHEST)
SHAFT_MASS = Quantity("mass", 15, 250, measured=True)
SHAFT_BALANCE = Quantity("length", 8, 120, measured=True)
GRIP_PLACE, BUTT_PLACE, GRIP_CAP = (DEFAULTS[name] for name in ("grip_balance", "butt_weight_from_butt", "grip_cap"))
_IN_CM = "in cm unless units say otherwise"


@formula(
    "HEFT_WHAT_IF",
    category=CATEGORY,
    help="What a measured club will read after several changes at once: its length, its grip, mass at the head, at the "
    "butt and at any place, another shaft. A change that is left out changes nothing.",
    arguments=(
        MASS,
        BALANCE,
        what_of(READINGS),
        UNITS,
        INERTIA,
        Argument(
            "length_change",
            f"How much longer the club becomes at the butt, {_IN_CM}; negative for a cut.",
            Quantity("length", -40, 40),
            0.0,
        ),
        SHAFT_PER_CM,
        Argument("grip_mass", f"{GRIP_MASS.help} Needed for a change of length or of the grip.", GRIP_MASS.kind, None),
        Argument(
            "grip_balance", f"{GRIP_BALANCE.help} {GRIP_PLACE:g} cm when left out.", GRIP_BALANCE.kind, GRIP_PLACE
        ),
        Argument(
            "new_grip_mass",
            "Mass of the grip with its tape that goes on in its place, in g unless units say otherwise.",
            GRIP_MASS.kind,
            None,
        ),
        Argument(
            "new_grip_balance",
            f"Distance from the butt to that grip's own balance, {_IN_CM}; the old one's when left out.",
            GRIP_BALANCE.kind,
            None,
        ),
        Argument("head_added", "Mass added at the head, in g unless units say otherwise; negative for taken off.",
                 ADDED, 0.0),
        Argument(
            "head_position",
            f"Distance from the butt, of the club as it is, to that place, {_IN_CM}. HEFT_PLACE tells it.",
            PLACE,
            None,
            must=need_place_of_head,
        ),
        Argument("butt_added", "Mass added at the butt, in g unless units say otherwise; negative for taken out.",
                 ADDED, 0.0),
        Argument(
            "butt_position",
            f"Distance from the butt to that place, {_IN_CM}; {BUTT_PLACE:g} cm when left out. A change of length does "
            "not move it.",
            PLACE,
            BUTT_PLACE,
        ),
        Argument("other_added", "Mass added at a place of your own, in g unless units say otherwise.", ADDED, 0.0),
        Argument(
            "other_position",
            f"Distance from the butt, of the club as it is, to that place, {_IN_CM}. A change of length moves it.",
            PLACE,
            None,
        ),
        Argument("shaft_mass", "Mass of the shaft that is in the club, as cut, in g unless units say otherwise.",
                 SHAFT_MASS, None),
        Argument("shaft_balance", f"From its butt end to where it balances, as cut, {_IN_CM}.", SHAFT_BALANCE, None),
        Argument(
            "new_shaft_mass",
            "Mass of the shaft that goes in instead, cut to the same length, in g unless units say otherwise.",
            SHAFT_MASS,
            None,
        ),
        Argument("new_shaft_balance", f"From its butt end to where it balances, as cut, {_IN_CM}.", SHAFT_BALANCE,
                 None),
        Argument(
            "shaft_length",
            f"Cut length of both shafts, {_IN_CM}; needed for another shaft. HEFT_CLUB tells the cut length.",
            Quantity("length", 25, 160),
            None,
        ),
        Argument(
            "grip_cap",
            f"Thickness of the grip's closed end, where the shafts begin, {_IN_CM}; {GRIP_CAP:g} cm when left out.",
            Quantity("length", 0, 5),
            GRIP_CAP,
        ),
    ),
    answers=READINGS,
    source=f"{PARALLEL_AXIS} Weights and shaft are changed first, in the club as it is, then its length, then grip and "
    "counterweight.",
    examples=(
        ('=HEFT_WHAT_IF(395, 75.3, "points", "g cm", 2670, 1.27, 0.6, 50, 11)', "35.8341"),
        ('=HEFT_WHAT_IF(395, 75.3, "inertia", "g cm", 2670, 1.27, 0.6, 50, 11, 57, 11, 4, 112)', "2797.16"),
    ),
)  # fmt: skip
def what_if(
    mass: float,
    balance: float,
    inertia: float | None,
    length_change: float,
    shaft_per_cm: float,
    grip_mass: float | None,
    grip_balance: float,
    new_grip_mass: float | None,
    new_grip_balance: float | None,
    head_added: float,
    head_position: float | None,
    butt_added: float,
    butt_position: float,
    other_added: float,
    other_position: float | None,
    shaft_mass: float | None,
    shaft_balance: float | None,
    new_shaft_mass: float | None,
    new_shaft_balance: float | None,
    shaft_length: float | None,
    grip_cap: float,
) -> tuple[float | str, ...]:
    """Return the readings [g, cm, points, label, kg cm2] after changes [g, cm] to a club [g, cm, kg cm2]."""
    club = club_of(mass, balance, inertia)
    if (length_change or new_grip_mass is not None) and grip_mass is None:
        change = "length_change" if length_change else "new_grip_mass"
        raise Refused(f"grip_mass must be given with a {change}")
    shaft, new_shaft = _shafts(shaft_mass, shaft_balance, new_shaft_mass, new_shaft_balance, shaft_length)
    new_grip = None
    if new_grip_mass is not None:
        new_grip = Body(new_grip_mass, grip_balance if new_grip_balance is None else new_grip_balance)
    if grip_mass is not None:
        need_rest_of_club(mass, grip_mass)
    plan = Changes(
        length=length_change,
        shaft_density=shaft_per_cm,
        grip=NO_GRIP if grip_mass is None else Body(grip_mass, grip_balance),
        new_grip=new_grip,
        moving=(*_added("head", head_added, head_position), *_added("other", other_added, other_position)),
        staying=_added("butt", butt_added, butt_position),
        shaft=shaft,
        new_shaft=new_shaft,
        shaft_length=shaft_length or 0.0,
        grip_cap=grip_cap,
    )
    made = changed(club, plan)
    need_a_club_left(mass, made.mass - mass)
    return readings_after(made, inertia)


def _added(name: str, grams: float, position: float | None) -> tuple[Body, ...]:
    """Make a body of an added mass [g] at a position [cm]; none where nothing is added."""
    if not grams:
        return ()
    if position is None:
        raise Refused(f"{name}_position must be given with {name}_added")
    return (Body(grams, position),)


def _shafts(
    mass: float | None,
    balance: float | None,
    new_mass: float | None,
    new_balance: float | None,
    length: float | None,
) -> tuple[CutShaft | None, CutShaft | None]:
    """Read the old and the new shaft [g, cm]; none where there is no new one."""
    if new_mass is None and new_balance is None:
        return None, None
    if mass is None or balance is None or new_mass is None or new_balance is None or length is None:
        raise Refused(
            "for another shaft, shaft_mass, shaft_balance, new_shaft_mass, new_shaft_balance and shaft_length must be "
            "given"
        )
    for name, at in (("shaft_balance", balance), ("new_shaft_balance", new_balance)):
        if not is_possible_shaft(length, at):
            raise Refused(
                f"{name} must lie in the middle third of a shaft of {{0}}, got {{1}}",
                Measured(length, "length"),
                Measured(at, "length"),
            )
    return CutShaft(mass, balance), CutShaft(new_mass, new_balance)
