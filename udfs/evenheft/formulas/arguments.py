"""Arguments that several formulas share, with the bounds of what a club can be."""

from __future__ import annotations

from dataclasses import replace
from itertools import chain
from typing import TypeAlias

from evenheft.formulas.kinds import Level, Number, Quantity
from evenheft.formulas.registry import Argument
from evenheft.formulas.wording import Measured, show
from evenheft.mechanics.bodies import Body
from evenheft.mechanics.swingweight import FULCRUM as FULCRUM_CM
from evenheft.mechanics.units import G_CM2_PER_KG_CM2, STANDARD_GRAVITY
from evenheft.ooxml.errors import Refused

CLUB_MASS = Quantity("mass", 50, 2000, typical=(200, 1000))
LONGEST_CLUB = 145.0
"""Longer than any club: a broom putter of 52 in is 132 cm long [cm] (common practice, no published source)."""
FURTHEST = 200.0
"""Nobody lays a tape, a weight or an axis further from a club's butt [cm].

A length that is to be judged, or that only bounds something else, is held to this, not to `LONGEST_CLUB`: a club that
is too long for the rules is told so, not refused. What the nearer bound catches is a balance in inches, read as cm.
"""
CLUB_BALANCE = Quantity("length", 0, LONGEST_CLUB, open_ends=True, typical=(40, 120))
"""A club balances short of its own end; further out, centimetres were taken for inches: 75.3 in are 191 cm."""
TAPED = Quantity("length", 0, FURTHEST, open_ends=True, typical=(40, 120), measured=True)
"""What a tape or a ruler reads along a bench."""
MEASURED_MASS = replace(CLUB_MASS, measured=True)
MEASURED_BALANCE = replace(CLUB_BALANCE, measured=True)
CLUB_LENGTH = Quantity("length", 0, FURTHEST, open_ends=True, typical=(45, 135), measured=True)
GRIP_WEIGHED = Quantity("mass", 0, 300, typical=(20, 150), measured=True, least=10)
"""No grip is lighter than 10 g (common practice, no published source): a smaller number is its mass in ounces."""
ANY_NUMBER = Number(-1e6, 1e6)

MASS = Argument("mass", "Mass of the club as the gram scale shows it, in g unless units say otherwise.", MEASURED_MASS)
BALANCE = Argument(
    "balance",
    "Distance from the butt (outer face of the grip cap) to the point where the club balances, in cm unless "
    "units say otherwise.",
    MEASURED_BALANCE,
    must=lambda balance: need_beyond_fulcrum(balance, FULCRUM_CM),
)
ANY_BALANCE = replace(BALANCE, must=None)
"""Of a body that need not be a whole club: a shaft with its grip may well balance inside 14 in."""
FULCRUM_PLACE = Argument(
    "fulcrum",
    "Distance from the butt to the fulcrum of the swingweight scale; 14 in (35.56 cm) when left out.",
    Quantity("length", 20, 100, typical=(20, 60)),
    FULCRUM_CM,
)
SHORTEST_SWING, LONGEST_SWING = 0.5, 5.0
"""Between these lies the time of one swing of any club [s]."""
MOST_SWINGS = 200
PERIOD = Argument(
    "period",
    "Time in seconds of one full swing, there and back; or of as many as swings says, as the stopwatch read it.",
    Number(SHORTEST_SWING, LONGEST_SWING * MOST_SWINGS, "s", measured=True),
)
SWINGS = Argument(
    "swings",
    "How many full swings, there and back, took the time in period; 1 when left out.",
    Number(1, MOST_SWINGS, whole=True),
    1.0,
)
HALF_ANGLE = Argument(
    "half_angle",
    "How far it swung to each side of its lowest point, in degrees, at mean: the time is reduced to that of a small "
    "swing. 0 when left out.",
    Number(0, 30, "deg"),
    0.0,
)
SWUNG_LENGTH = Argument(
    "club_length",
    f"Length of the club, in cm unless units say otherwise: it bounds how slowly the club can swing. {FURTHEST:g} cm "
    "when left out.",
    CLUB_LENGTH,
    None,
)
PIVOT = Argument(
    "pivot",
    "Distance from the butt to the axis the club swings about, in cm unless units say otherwise; 0 when left out.",
    Quantity("length", 0, 100),
    0.0,
)
GRAVITY = Argument(
    "gravity",
    "Acceleration of free fall in cm/s2; 980.665 when left out.",
    Number(970, 990, "cm/s2"),
    STANDARD_GRAVITY,
)

INERTIA = Argument(
    "inertia",
    "Moment of inertia of the club as it is, in kg cm2: needed only to tell the inertia afterwards.",
    Number(1, 20000, "kg cm2"),
    None,
)


def level(name: str, help: str, default: object = ...) -> Argument:
    """Describe an argument that is a number in any unit, or a swingweight label."""
    if default is ...:
        return Argument(name, help, Level(ANY_NUMBER))
    return Argument(name, help, Level(ANY_NUMBER), default)


MASS_DOUBT = Argument(
    "mass_doubt",
    "Half-width the scale admits to (the plus or minus), in g unless units say otherwise.",
    Quantity("mass", 0, 100),
)
BALANCE_DOUBT = Argument(
    "balance_doubt",
    "Half-width of the balance point (the plus or minus of tape and edge), in cm unless units say otherwise.",
    Quantity("length", 0, 20),
)
COMMON_MASS_DOUBT = Argument(
    "common_mass_doubt",
    "Further half-width of mass that shifts every club alike (how the scale is adjusted), in g unless units say "
    "otherwise. Leave it out to ask whether a set is alike.",
    Quantity("mass", 0, 100),
    0.0,
)
COMMON_BALANCE_DOUBT = Argument(
    "common_balance_doubt",
    "Further half-width of balance that shifts every club alike (the tape's zero), in cm unless units say otherwise. "
    "Leave it out to ask whether a set is alike.",
    Quantity("length", 0, 20),
    0.0,
)


def need_club_balance(balance: float) -> None:
    """Refuse a balance point where no club has one: inches typed as centimetres, or centimetres as inches.

    Only a putter near the rules' shortest length could balance inside 14 in, and a swingweight
    scale could not weigh it.

    Args:
        balance: distance from the butt to the balance point [cm].
    """
    if not FULCRUM_CM < balance < CLUB_BALANCE.high:
        given = Measured(balance, "length")
        raise Refused(
            "a club's balance must be more than {0} and less than {1} from the butt, got {2}",
            Measured(FULCRUM_CM, "length"),
            Measured(CLUB_BALANCE.high, "length"),
            given,
            suspect=(given, CLUB_BALANCE),
        )


SCALE_FULCRUM_SPAN = 0.5
"""How far from 14 in a swingweight scale may pivot for its points to be anybody else's [cm]."""


def need_swingweight_fulcrum(fulcrum: float) -> None:
    """Refuse a fulcrum about which a moment is no swingweight: points and labels belong to the 14 in scale.

    Args:
        fulcrum: distance from the butt to the fulcrum [cm].
    """
    if abs(fulcrum - FULCRUM_CM) > SCALE_FULCRUM_SPAN:
        raise Refused(
            "fulcrum must be within {0} of {1} (14 in), to which points and labels belong, got {2}: HEFT_MOMENT takes "
            "any fulcrum",
            Measured(SCALE_FULCRUM_SPAN, "length"),
            Measured(FULCRUM_CM, "length"),
            Measured(fulcrum, "length"),
        )


def need_beyond_fulcrum(balance: float, fulcrum: float) -> None:
    """Refuse a balance point on the butt's side of the fulcrum, where no club's lies.

    Args:
        balance: distance from the butt to the balance point [cm].
        fulcrum: distance from the butt to the fulcrum [cm].
    """
    if balance <= fulcrum:
        given = Measured(balance, "length")
        raise Refused(
            "balance must be beyond the fulcrum at {0}, got {1}",
            Measured(fulcrum, "length"),
            given,
            suspect=(given, CLUB_BALANCE),
        )


def club_of(mass: float, balance: float, inertia: float | None) -> Body:
    """Make a club as the bench knows it; without its inertia as if all of it sat at the balance point [g, cm, g cm2].

    Args:
        mass: mass of the club [g].
        balance: distance from the butt to the balance point [cm].
        inertia: moment of inertia about the butt, None where it was not measured [kg cm2].
    """
    if inertia is None:
        return Body(mass, balance)
    own = inertia * G_CM2_PER_KG_CM2 - mass * balance**2
    if own < 0:
        least = mass * balance**2 / G_CM2_PER_KG_CM2
        raise Refused(f"inertia must be at least mass x balance squared, {show(least)} kg cm2, got {show(inertia)}")
    most = mass * balance * CLUB_LENGTH.high / G_CM2_PER_KG_CM2
    if inertia > most:
        raise Refused(
            f"inertia must be at most mass x balance x {{0}}, {show(most)} kg cm2, got {show(inertia)}: no mass lies "
            "further from the butt",
            Measured(CLUB_LENGTH.high, "length"),
        )
    return Body(mass, balance, own)


Values: TypeAlias = tuple[tuple[float | None, ...], ...]
"""A range as a formula gets it: the value of each cell, None where it is blank."""


def side_by_side(first: Values, second: Values, names: str) -> list[tuple[float | None, float | None]]:
    """Pair the cells of two ranges, row by row.

    Args:
        first: a range [any unit].
        second: another [any unit].
        names: how a message calls them, e.g. "masses and positions" [-].

    Raises:
        Refused: they are not of equal shape.
    """
    if [len(row) for row in first] != [len(row) for row in second]:
        raise Refused(f"{names} must be ranges of equal shape")
    return list(zip(chain.from_iterable(first), chain.from_iterable(second), strict=True))


def complete_pairs(first: Values, second: Values, names: str) -> list[tuple[float, float]]:
    """Keep the pairs of which neither cell is blank; see `side_by_side`."""
    return [(a, b) for a, b in side_by_side(first, second, names) if a is not None and b is not None]
