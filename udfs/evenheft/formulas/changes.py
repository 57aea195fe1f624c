"""What the formulas that change a club share: arguments, what no shop would do, and the readings afterwards."""

from __future__ import annotations

from evenheft.formulas.answers import readings
from evenheft.formulas.arguments import CLUB_MASS, FURTHEST, GRIP_WEIGHED
from evenheft.formulas.kinds import Number, Quantity
from evenheft.formulas.registry import Argument
from evenheft.formulas.wording import PASSED_ON, Measured, show
from evenheft.mechanics.bodies import Body, inertia_about_butt
from evenheft.mechanics.swingweight import FULCRUM
from evenheft.mechanics.units import G_CM2_PER_KG_CM2
from evenheft.ooxml.errors import Refused

STATICS = "Statics: moments about the fulcrum."
PARALLEL_AXIS = "Statics and the parallel-axis theorem, any handbook of mechanics."

NEAREST = 1.0
"""Nearer than this to the fulcrum, or two places to each other, no sensible mass does anything [cm]."""
MOST_AT_A_PLACE = 150.0
"""More than this nobody adds to a club, or takes off it, at one place [g] (common practice, no published source)."""

ANYWHERE = Quantity("length", 0, FURTHEST, typical=(80, 122))
NO_HEADS_PLACE = (FULCRUM + NEAREST, 48.0)
"""No head is here, and in inches the same number is where heads are [cm] (common practice, no published source)."""


def need_place_of_head(position: float) -> None:
    """Refuse a place where no club has its head: inches that are taken for centimetres.

    Args:
        position: distance from the butt to the place [cm].
    """
    first, last = NO_HEADS_PLACE
    if first <= position <= last:
        given = Measured(position, "length")
        raise Refused(
            "no head is from {0} to {1} from the butt, got {2}",
            Measured(first, "length"),
            Measured(last, "length"),
            given,
            suspect=(given, ANYWHERE),
        )


POSITION = Argument(
    "position",
    "Distance from the butt to the place of the mass, in cm unless units say otherwise. HEFT_PLACE tells a part's.",
    ANYWHERE,
)
GRIP_MASS = Argument(
    "grip_mass",
    "Mass of the grip with the tape under it, in g unless units say otherwise.",
    GRIP_WEIGHED,
)
GRIP_BALANCE = Argument(
    "grip_balance",
    "Distance from the butt to the grip's own balance, in cm unless units say otherwise.",
    Quantity("length", 0, 60, measured=True),
)
SHAFT_PER_CM = Argument(
    "shaft_per_cm",
    "Mass of a centimetre of shaft or extension at the butt, in g; 0 when left out.",
    Number(0, 5, "g"),
    0.0,
)

_NO_INERTIA = f"{PASSED_ON}inertia of the club as it is must be given to tell it afterwards"


def readings_after(club: Body, inertia: float | None) -> tuple[float | str, ...]:
    """Answer the readings of a changed club; without its inertia before there is none after.

    Args:
        club: the club as it will be [g, cm, g cm2].
        inertia: its inertia before, None where nobody has measured it [kg cm2].

    Raises:
        Refused: there can be no such club.
    """
    if not 0 < club.centre < FURTHEST:
        raise Refused(
            "no such mass can come off there: the balance would be at {0}", Measured(round(club.centre, 2), "length")
        )
    if inertia is not None and club.own < -1e-6 * club.mass * club.centre**2:
        raise Refused(
            f"no such mass can come off there: the inertia would be {show(round(inertia_about_butt(club), 1))} "
            f"kg cm2, less than mass x balance squared, "
            f"{show(round(club.mass * club.centre**2 / G_CM2_PER_KG_CM2, 1))} kg cm2"
        )
    return readings(club) if inertia is not None else (*readings(club)[:-1], _NO_INERTIA)


def need_a_club_left(mass: float, added: float) -> None:
    """Refuse an addition or a removal after which there is no club.

    Args:
        mass: mass of the club as it is [g].
        added: mass added to it, negative for removed [g].
    """
    if not CLUB_MASS.low <= mass + added <= CLUB_MASS.high:
        raise Refused(
            "the club would then weigh {0}, which is no club's mass: {1} would have to be added",
            Measured(round(mass + added, 1), "mass"),
            Measured(round(added, 1), "mass"),
        )


def need_sensible_grams(mass: float, *grams: float) -> None:
    """Refuse masses that no shop would add at one place or take off it.

    Args:
        mass: mass of the club as it is [g].
        grams: what would have to be added at each place, negative for removed [g].
    """
    for wanted in grams:
        if abs(wanted) > MOST_AT_A_PLACE:
            done = "added" if wanted > 0 else "taken off"
            raise Refused(
                f"{{0}} would have to be {done} at one place, more than any shop does ({{1}}): "
                "look at the target and the place",
                Measured(round(abs(wanted), 1), "mass"),
                Measured(MOST_AT_A_PLACE, "mass"),
            )
    need_a_club_left(mass, sum(grams))


def need_off_fulcrum(position: float, fulcrum: float) -> None:
    """Refuse a place at which added mass does nothing to a swingweight.

    Args:
        position: distance from the butt to the place [cm].
        fulcrum: distance from the butt to the fulcrum [cm].
    """
    if abs(position - fulcrum) < NEAREST:
        raise Refused(
            "position must be at least {0} from the fulcrum at {1}, where added mass does nothing, got {2}",
            Measured(NEAREST, "length"),
            Measured(fulcrum, "length"),
            Measured(position, "length"),
        )


def need_two_places(first_position: float, second_position: float) -> None:
    """Refuse two places that are one.

    Args:
        first_position: distance from the butt to the first [cm].
        second_position: distance from the butt to the second [cm].
    """
    if abs(first_position - second_position) < NEAREST:
        raise Refused(
            "second_position must be at least {0} from first_position at {1}, got {2}",
            Measured(NEAREST, "length"),
            Measured(first_position, "length"),
            Measured(second_position, "length"),
        )


def need_rest_of_club(mass: float, grip_mass: float) -> None:
    """Refuse a grip that leaves no club.

    Args:
        mass: mass of the club [g].
        grip_mass: mass of its grip [g].
    """
    if mass - grip_mass < CLUB_MASS.low:
        raise Refused(
            "grip_mass must leave at least {0} of a club of {1}, got {2}",
            Measured(CLUB_MASS.low, "mass"),
            Measured(mass, "mass"),
            Measured(grip_mass, "mass"),
        )


def need_both_possible(*grams: float) -> None:
    """Refuse two masses that no shop would add, with both of them in the line: the places cannot do it.

    Args:
        grams: what would have to be added at the first and at the second place [g].
    """
    if max(map(abs, grams)) > MOST_AT_A_PLACE:
        raise Refused(
            "these places cannot do it: {0} at the first and {1} at the second would be needed, and no shop does more "
            "than {2} at one place",
            *(Measured(round(wanted, 1), "mass") for wanted in grams),
            Measured(MOST_AT_A_PLACE, "mass"),
        )
