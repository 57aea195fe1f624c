"""Formulas: what to do about a difference, with grams at a place, a change of length or stock weights."""

from __future__ import annotations

from evenheft.formulas.answers import READINGS, readings
from evenheft.formulas.arguments import (
    BALANCE,
    CLUB_LENGTH,
    CLUB_MASS,
    FULCRUM,
    INERTIA,
    MASS,
    Values,
    club_of,
    level,
    need_beyond_fulcrum,
    need_swingweight_fulcrum,
)
from evenheft.formulas.kinds import PASSED_ON, Measured, Number, Quantity, Refusal, show
from evenheft.formulas.registry import UNITS, Answer, Argument, formula, what_of
from evenheft.mechanics import bodies, correction
from evenheft.mechanics.bodies import Body
from evenheft.mechanics.units import G_CM2_PER_KG_CM2

CATEGORY = "Correction"
STATICS = "Statics: moments about the fulcrum."
PARALLEL_AXIS = "Statics and the parallel-axis theorem, any handbook of mechanics."

NEAREST = 1.0
"""Nearer than this to the fulcrum, or two places to each other, no sensible mass does anything [cm]."""

TARGET = level("target", 'Swingweight wanted, as a number or a label such as "D2".')
POSITION = Argument(
    "position",
    "Distance from the butt to the place of the mass, in cm unless units say otherwise. HEFT_PLACE tells a part's.",
    Quantity("length", 0, 200),
)
PICKED = (Answer("pieces", "text"), Answer("sum", "g"), Answer("remainder", "g"))
TWO = (Answer("first", "mass unit", "mass"), Answer("second", "mass unit", "mass"))

_NO_INERTIA = f"{PASSED_ON}inertia of the club as it is must be given to tell it afterwards"


def _told(club: Body, inertia: float | None) -> tuple[float | str, ...]:
    """The readings of a changed club; without its inertia before there is none after."""
    if not 0 < club.centre < CLUB_LENGTH.high:
        raise Refusal("no such mass can come off there: the balance would be at {0}",
                      Measured(round(club.centre, 2), "length"))  # fmt: skip
    if inertia is not None and club.own < -1e-6 * club.mass * club.centre**2:
        raise Refusal(
            f"no such mass can come off there: the inertia would be {show(round(bodies.inertia_about_butt(club), 1))} "
            f"kg cm2, less than mass x balance squared, "
            f"{show(round(club.mass * club.centre**2 / G_CM2_PER_KG_CM2, 1))} kg cm2"
        )
    return readings(club) if inertia is not None else (*readings(club)[:-1], _NO_INERTIA)


def _need_off_fulcrum(position: float, fulcrum: float) -> None:
    if abs(position - fulcrum) < NEAREST:
        raise Refusal(
            "position must be at least {0} from the fulcrum at {1}, where added mass does nothing, got {2}",
            Measured(NEAREST, "length"),
            Measured(fulcrum, "length"),
            Measured(position, "length"),
        )


def _need_a_club_left(mass: float, added: float) -> None:
    """Refuse an addition or a removal after which there is no club."""
    if not CLUB_MASS.low <= mass + added <= CLUB_MASS.high:
        raise Refusal(
            "the club would then weigh {0}, which is no club's mass: {1} would have to be added",
            Measured(round(mass + added, 1), "mass"),
            Measured(round(added, 1), "mass"),
        )


@formula(
    "HEFT_PER_GRAM",
    category=CATEGORY,
    help="Swingweight points that one gram adds at a place. Negative between butt and fulcrum, 0 at the fulcrum.",
    arguments=(POSITION, UNITS, FULCRUM),
    answers=(Answer("points per gram", "points/g"),),
    source=STATICS,
    examples=(("=HEFT_PER_GRAM(110)", "0.59073"), ('=HEFT_PER_GRAM("4 in")', "-0.201565")),
)
def per_gram(position: float, fulcrum: float) -> float:
    """Points per gram [points/g] at a position [cm], fulcrum [cm]."""
    need_swingweight_fulcrum(fulcrum)
    return correction.points_per_gram(position, fulcrum)


@formula(
    "HEFT_GRAMS_TO",
    category=CATEGORY,
    help="Mass to add at a place to reach a swingweight; negative where so much must be removed.",
    arguments=(TARGET, MASS, BALANCE, POSITION, UNITS, FULCRUM),
    answers=(Answer("grams", "mass unit", "mass"),),
    source=STATICS,
    examples=(('=HEFT_GRAMS_TO("D2", 395, 75.0, 94)', "0.802364"),),
)
def grams_to(target: float, mass: float, balance: float, position: float, fulcrum: float) -> float:
    """Mass to add [g]: target [points], mass [g], balance [cm], position [cm], fulcrum [cm]."""
    need_swingweight_fulcrum(fulcrum)
    need_beyond_fulcrum(balance, fulcrum)
    _need_off_fulcrum(position, fulcrum)
    grams = correction.grams_to(target, mass, balance, position, fulcrum)
    _need_a_club_left(mass, grams)
    return grams


@formula(
    "HEFT_AFTER",
    category=CATEGORY,
    help="What a club reads after mass is added at a place (negative: removed): mass, balance, points, swingweight, "
    "and its inertia where that before is given.",
    arguments=(
        MASS,
        BALANCE,
        Argument(
            "added",
            "Mass added at the place, in g unless units say otherwise; negative for mass removed.",
            Quantity("mass", -1000, 1000),
        ),
        POSITION,
        what_of(READINGS),
        UNITS,
        INERTIA,
    ),
    answers=READINGS,
    source=PARALLEL_AXIS,
    examples=(
        ('=HEFT_AFTER(395, 75.3, 2, 94, "points")', "33.4958"),
        ('=HEFT_AFTER(395, 75.3, 2, 94, "inertia", "g cm", 2650)', "2667.67"),
    ),
)
def after(mass: float, balance: float, added: float, position: float, inertia: float | None) -> tuple[float | str, ...]:
    """Compute readings [g, cm, points, label, kg cm2] after a mass [g] is added at a position [cm]."""
    _need_a_club_left(mass, added)
    return _told(bodies.combine([club_of(mass, balance, inertia), Body(added, position)]), inertia)


@formula(
    "HEFT_LENGTHEN",
    category=CATEGORY,
    help="What a club reads after it is cut or extended at the butt: the grip keeps its place at the new butt, "
    "everything else moves by the change.",
    arguments=(
        MASS,
        BALANCE,
        Argument(
            "grip_mass",
            "Mass of the grip with the tape under it, in g unless units say otherwise.",
            Quantity("mass", 0, 300),
        ),
        Argument(
            "grip_balance",
            "Distance from the butt to the grip's own balance, in cm unless units say otherwise.",
            Quantity("length", 0, 60),
        ),
        Argument(
            "change",
            "How much longer the club becomes, in cm unless units say otherwise; negative for a cut.",
            Quantity("length", -40, 40),
        ),
        what_of(READINGS),
        UNITS,
        Argument(
            "shaft_per_cm",
            "Mass of a centimetre of shaft or extension at the butt, in g; 0 when left out.",
            Number(0, 5, "g"),
            0.0,
        ),
        INERTIA,
    ),
    answers=READINGS,
    source=PARALLEL_AXIS,
    examples=(
        ('=HEFT_LENGTHEN(395, 75.3, 50, 11, 1.27, "points")', "36.0453"),
        ('=HEFT_LENGTHEN(395, 75.3, 50, 11, "1/2 in", "points", "g cm", 0.6)', "35.8341"),
    ),
)
def lengthen(
    mass: float,
    balance: float,
    grip_mass: float,
    grip_balance: float,
    change: float,
    shaft_per_cm: float,
    inertia: float | None,
) -> tuple[float | str, ...]:
    """Compute readings [g, cm, points, label, kg cm2] after the club becomes longer by a change [cm]."""
    club, grip = club_of(mass, balance, inertia), Body(grip_mass, grip_balance)
    if mass - grip_mass < CLUB_MASS.low:
        raise Refusal(
            "grip_mass must leave at least {0} of a club of {1}, got {2}",
            Measured(CLUB_MASS.low, "mass"),
            Measured(mass, "mass"),
            Measured(grip_mass, "mass"),
        )
    longer = correction.lengthened(club, grip, change, shaft_per_cm)
    if not 0 < longer.centre < 200:
        raise Refusal("change would leave no club, its balance at {0}", Measured(round(longer.centre, 2), "length"))
    return _told(longer, inertia)


@formula(
    "HEFT_PICK",
    category=CATEGORY,
    help="Which stock weights come closest to a mass, with at most so many pieces: the pieces, their sum, and what "
    "still lacks (negative: too much). A size may be used more than once.",
    arguments=(
        Argument("grams", "Mass wanted, in g; nothing is picked where it is 0 or negative.",
                 Quantity("mass", -1000, 1000)),
        Argument("stock", "Range with the sizes in stock, in g; blanks are left out.", Quantity("mass", 0.01, 500),
                 takes="range", quiet=False),
        Argument("most", "How many pieces at most, 1 to 4; 1 when left out.",
                 Number(1, correction.MOST_PIECES, whole=True), 1.0),
        what_of(PICKED),
    ),
    answers=PICKED,
    source="Every combination considered; the fewest pieces win among equally close ones, then the lighter.",
    examples=(
        ('=HEFT_PICK(9.4, {2,3.5,6}, 2, "pieces")', "6 + 3.5"),
        ('=HEFT_PICK(9.4, {2,3.5,6}, 2, "remainder")', "-0.1"),
    ),
)  # fmt: skip
def pick(grams: float, stock: Values, most: float) -> tuple[float | str, ...]:
    """Pieces, their sum [g] and the remainder [g] for a mass wanted [g] from stock sizes [g]."""
    sizes = [size for row in stock for size in row if size is not None]
    if not sizes:
        raise Refusal("stock must hold at least one weight")
    pieces, total = correction.pick(grams, sizes, int(most))
    remainder = round(grams - total, 9)  # 2.1 - 2.0 is 0.1 to a builder
    return " + ".join(map(show, pieces)) or "none", total, remainder


@formula(
    "HEFT_TWO_WEIGHTS",
    category=CATEGORY,
    help="Masses to add at two places to meet a swingweight and a total mass together; negative where mass must be "
    "removed.",
    arguments=(
        MASS,
        BALANCE,
        Argument(
            "first_position",
            "Distance from the butt to the first place, in cm unless units say otherwise.",
            POSITION.kind,
        ),
        Argument(
            "second_position",
            "Distance from the butt to the second place, in cm unless units say otherwise.",
            POSITION.kind,
        ),
        TARGET,
        Argument("target_mass", "Mass wanted of the whole club, in g unless units say otherwise.", CLUB_MASS),
        what_of(TWO),
        UNITS,
        FULCRUM,
    ),
    answers=TWO,
    source=STATICS,
    examples=(
        ('=HEFT_TWO_WEIGHTS(395, 75, 110, 3, "D2", 410, "first")', "5.00271"),
        ('=HEFT_TWO_WEIGHTS(395, 75, 110, 3, "D2", 410, "second")', "9.99729"),
    ),
)
def two_weights(
    mass: float,
    balance: float,
    first_position: float,
    second_position: float,
    target: float,
    target_mass: float,
    fulcrum: float,
) -> tuple[float, float]:
    """Masses [g] at two positions [cm] for a target [points] and a target mass [g], fulcrum [cm]."""
    need_swingweight_fulcrum(fulcrum)
    need_beyond_fulcrum(balance, fulcrum)
    if abs(first_position - second_position) < NEAREST:
        raise Refusal(
            "second_position must be at least {0} from first_position at {1}, got {2}",
            Measured(NEAREST, "length"),
            Measured(first_position, "length"),
            Measured(second_position, "length"),
        )
    first, second = correction.two_weights(
        target, target_mass, Body(mass, balance), first_position, second_position, fulcrum
    )
    if max(abs(first), abs(second)) > mass:
        raise Refusal(
            "these places cannot do it: {0} at the first and {1} at the second would be needed",
            Measured(round(first, 1), "mass"),
            Measured(round(second, 1), "mass"),
        )
    return first, second
