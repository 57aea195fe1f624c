"""Formula: what to do about a club whose swingweight, inertia or both lead, in one line: grams first, then length."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from evenheft.formulas.aims import Aim, JudgedClub, Told, then_reads
from evenheft.formulas.arguments import (
    BALANCE,
    INERTIA,
    MASS,
    Values,
    club_of,
    level,
    need_beyond_fulcrum,
)
from evenheft.formulas.changes import (
    GRIP_BALANCE,
    GRIP_MASS,
    MOST_AT_A_PLACE,
    NEAREST,
    PARALLEL_AXIS,
    POSITION,
    SHAFT_PER_CM,
    need_place_of_head,
    need_rest_of_club,
)
from evenheft.formulas.correction import CATEGORY
from evenheft.formulas.kinds import Cells, Choice, Number, Quantity, all_blank
from evenheft.formulas.registry import UNITS, Answer, Argument, formula
from evenheft.formulas.stock import COUNTS, MOST, sizes_with_counts
from evenheft.formulas.what_if import BUTT_PLACE, GRIP_PLACE
from evenheft.formulas.wording import DEFAULT_SCALE, Line, Measured, Rough
from evenheft.mechanics import bodies, correction, inertia_correction, stock, swingweight
from evenheft.mechanics import length as lengthening
from evenheft.mechanics.bodies import Body
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.text import LONGEST_LINE
from evenheft.ooxml.values import CellRows

LONGEST_CHANGE = 5.0
"""A greater change of length is another club, and no advice [cm] (common practice, no published source)."""
_MOST_WAYS = 3
"""Grams at the head, grams at the butt, length."""
LEAST_GRAMS, LEAST_CHANGE = 0.05, 0.05
"""Less than this is nothing to a builder [g, cm]."""
_NOTHING = "nothing to do"
NO_HEAD = "where head weights sit must be known: type the club's length"
LEADS = ("swingweight", "inertia", "both")
_TOLERANCE = Number(0, 1e6)
_SIZES = Number(0.01, 500, "g")


@dataclass(frozen=True, slots=True)
class Drawer:
    """Stock weights for one place."""

    sizes: Sequence[float]
    counts: Sequence[float | None]
    most: int

    def nearest(self, grams: float) -> float:
        """Find the nearest sum of weights [g]; 0 where there is none or nothing is wanted."""
        return stock.pick(grams, self.sizes, self.most, self.counts).total if grams > 0 and self.sizes else 0.0


@dataclass(frozen=True, slots=True)
class Places:
    """Where mass can go, and what there is of it."""

    head: float
    butt: float
    head_drawer: Drawer
    butt_drawer: Drawer


def _counts_of(stock_name: str, name: str) -> Argument:
    help = f"Range of the shape of {stock_name} with how many of each size are there; a blank one counts as enough."
    return Argument(name, help, COUNTS.kind, None, takes="range")


_ANY_LENGTH, _ANY_MASS = Quantity("length", 0, 1e6), Quantity("mass", 0, 1e6)
"""What only follows is judged, however odd: it must not spoil the advice for what leads."""
_FOLLOWING = (
    Argument("mass_target", "Total mass wanted, in g unless units say otherwise: told where the club will miss it.",
             _ANY_MASS, None),
    Argument("mass_tolerance", "The deviation of mass that is still accepted, in g unless units say otherwise.",
             _ANY_MASS, None),
    Argument("mass_doubt", "Doubt of the mass, in g unless units say otherwise; 0 when left out.", _ANY_MASS, 0.0),
    Argument("length", "Length of the club as it is, in cm unless units say otherwise.", _ANY_LENGTH, None),
    Argument("length_target", "Length wanted, in cm unless units say otherwise: told where the club will miss it.",
             _ANY_LENGTH, None),
    Argument("length_tolerance", "The deviation of length that is still accepted, in cm unless units say otherwise.",
             _ANY_LENGTH, None),
    Argument("length_doubt", "Doubt of the length, in cm unless units say otherwise; 0 when left out.", _ANY_LENGTH,
             0.0),
)  # fmt: skip
"""Quantities that lead no group: what the advice does to them."""


@formula(
    "HEFT_ADVICE",
    category=CATEGORY,
    help="What to do about a club, in words, for whatever leads its group: swingweight, inertia or both. Grams first, "
    "then length, and what the club then reads, the quantities that follow included.",
    arguments=(
        Argument("leads", 'What leads: "swingweight", "inertia" or "both".', Choice(LEADS)),
        MASS,
        BALANCE,
        Argument("inertia", "Moment of inertia of the club as it is, about the butt, in kg cm2. Needed where it leads.",
                 INERTIA.kind, None),
        level("swingweight_target", 'Swingweight wanted, as a number or a label such as "D2".', None),
        Argument("swingweight_tolerance", "The deviation that is still accepted, in points.", _TOLERANCE, None),
        Argument("inertia_target", "Moment of inertia wanted, in kg cm2.", INERTIA.kind, None),
        Argument("inertia_tolerance", "The deviation that is still accepted, in kg cm2.", _TOLERANCE, None),
        Argument("head_position", "Distance from the butt to where weights at the head sit, in cm unless units say "
                 "otherwise. HEFT_PLACE tells it.", POSITION.kind, None,
                 must=need_place_of_head),
        Argument("butt_position", f"Distance from the butt to where weights at the butt sit, in cm unless units say "
                 f"otherwise; {BUTT_PLACE:g} cm when left out.", POSITION.kind, BUTT_PLACE),
        Argument("head_stock", "Range with the sizes of weights for the head, in g.", _SIZES, None, takes="range"),
        Argument("butt_stock", "Range with the sizes of weights for the butt, in g.", _SIZES, None, takes="range"),
        MOST,
        Argument("swingweight_doubt", "Doubt of the swingweight in points; 0 when left out.", _TOLERANCE, 0.0),
        Argument("inertia_doubt", "Doubt of the inertia in kg cm2; 0 when left out.", _TOLERANCE, 0.0),
        Argument("grip_mass", f"{GRIP_MASS.help} Without it no change of length is advised.", GRIP_MASS.kind, None),
        Argument("grip_balance", f"{GRIP_BALANCE.help} {GRIP_PLACE:g} cm when left out.", GRIP_BALANCE.kind,
                 GRIP_PLACE),
        SHAFT_PER_CM,
        UNITS,
        _counts_of("head_stock", "head_counts"),
        _counts_of("butt_stock", "butt_counts"),
        Argument("other", "What else is flagged about the club, so that nobody hears that nothing is to be done; blank "
                 "where nothing is.", Cells("text"), None, takes="table", quiet=False),
        Argument("ways", "How many ways are told at most; all when left out.", Number(1, _MOST_WAYS, whole=True),
                 _MOST_WAYS),
        *_FOLLOWING,
        Argument("room", "How many letters there is room for: fewer ways are told where all would take more. 255 when "
                 "left out.", Number(0, LONGEST_LINE), float(LONGEST_LINE)),
    ),
    answers=(Answer("advice", "text"),),
    source=PARALLEL_AXIS,
    examples=(
        (
            '=HEFT_ADVICE("inertia", 395, 75.3, 2670, "D2", 1, 2700, 10, 94, 2.5, {2;3;4}, {5;10}, 2)',
            "add 3 g at the head: then 2697 kg cm2, D4.0 (high)",
        ),
        (
            '=HEFT_ADVICE("both", 395, 75.3, 2670, "D2", 1, 2700, 10, 94, 2.5, {2;3;4}, {4;8}, 2)',
            "add 3 g at the head and 8 g at the butt: then D1.9, 2697 kg cm2",
        ),
    ),
)  # fmt: skip
def advice(
    leads: str,
    mass: float,
    balance: float,
    inertia: float | None,
    swingweight_target: float | None,
    swingweight_tolerance: float | None,
    inertia_target: float | None,
    inertia_tolerance: float | None,
    head_position: float | None,
    butt_position: float,
    head_stock: Values | None,
    butt_stock: Values | None,
    most: float,
    swingweight_doubt: float,
    inertia_doubt: float,
    grip_mass: float | None,
    grip_balance: float,
    shaft_per_cm: float,
    head_counts: Values | None,
    butt_counts: Values | None,
    other: CellRows | None,
    ways: float,
    mass_target: float | None,
    mass_tolerance: float | None,
    mass_doubt: float,
    length: float | None,
    length_target: float | None,
    length_tolerance: float | None,
    length_doubt: float,
    room: float,
) -> Line | str:
    """Return what to do: club [g, cm, kg cm2], targets, tolerances, doubts, places [cm], stock [g], grip [g, cm]."""
    need_beyond_fulcrum(balance, swingweight.FULCRUM)
    club = JudgedClub(club_of(mass, balance, inertia), length)
    by_name = {
        "swingweight": Aim("swingweight", swingweight_target, swingweight_tolerance, swingweight_doubt),
        "inertia": Aim("inertia", inertia_target, inertia_tolerance, inertia_doubt),
    }
    leading = list(by_name.values()) if leads == "both" else [by_name[leads]]
    following = [
        aim for aim in by_name.values() if aim not in leading and (inertia is not None or aim.quantity != "inertia")
    ]
    following += [
        Aim("mass", mass_target, mass_tolerance, mass_doubt),
        Aim("length", length_target, length_tolerance, length_doubt),
    ]
    for aim in leading:
        if aim.quantity == "inertia" and inertia is None:
            raise Refused("inertia must be known where it leads: swing the club")
        if aim.target is None or aim.tolerance is None:
            return _unled(club, aim, following)
    verdicts = [aim.verdict(club) for aim in leading]
    if all(verdict == "in" for verdict in verdicts):
        return _nothing(club, leading, following, is_flagged=not all_blank(other or ()))
    if head_position is None:
        raise Refused(NO_HEAD)
    places = Places(
        head_position,
        butt_position,
        _drawer(head_stock, head_counts, "head_counts", most),
        _drawer(butt_stock, butt_counts, "butt_counts", most),
    )
    shown = [*leading, *following]
    all_ways = [_both(club, leading, places, shown) if leads == "both" else _grams(club, leading[0], places, shown)]
    if leads == "swingweight":
        all_ways.append(_counterweight(club, leading[0], places, shown))
    if leads != "both" and grip_mass is not None:
        need_rest_of_club(mass, grip_mass)
        all_ways.append(_length(club, leading[0], Body(grip_mass, grip_balance), shaft_per_cm, shown))
    found = [way for way in all_ways if way is not None]
    if not found:
        return "no weight and no change of length does it: another head, shaft or length"
    again = "" if {"low", "high"} & set(verdicts) else "measure again first; or "
    lines = [_joined(again, found[:count], "; or ") for count in range(1, min(int(ways), len(found)) + 1)]
    return next((line for line in reversed(lines) if len(line.message(DEFAULT_SCALE)) <= room), lines[0])


def _joined(again: str, ways: list[Told], between: str = "") -> Line:
    """Make one line of several ways."""
    text = again + between.join(way for way, _ in ways)
    values = [value for _, found in ways for value in found]
    return Line(text.format(*(f"{{{n}}}" for n in range(len(values)))), *values)


def _nothing(club: JudgedClub, leading: list[Aim], following: list[Aim], *, is_flagged: bool) -> Line | str:
    """Say that nothing is to be done, and what else is not as wanted."""
    quantities = " and the ".join(aim.quantity for aim in leading)
    wrong = _missed(club, following, "follows at")
    if wrong[0]:
        return _joined("", [(f"nothing for the {quantities}; ", []), wrong])
    return f"nothing for the {quantities}; see what else is flagged" if is_flagged else _NOTHING


def _unled(club: JudgedClub, aim: Aim, following: list[Aim]) -> Line | str:
    """Say what is not as wanted where nothing is wanted of what leads."""
    wrong = _missed(club, following, "is at")
    return _joined("", [(f"no target for the {aim.quantity}, which leads; ", []), wrong]) if wrong[0] else ""


def _missed(club: JudgedClub, aims: list[Aim], verb: str) -> Told:
    """Say of each quantity that is not as wanted what it reads."""
    missed = [(aim.quantity, aim.reading(club)) for aim in aims if aim.wrong(club)]
    words = ", ".join(f"{quantity} {verb} {reads}" for quantity, (reads, _) in missed)
    return words, [value for _, (_, values) in missed for value in values]


def _drawer(sizes: Values | None, counts: Values | None, name: str, most: float) -> Drawer:
    """Put sizes [g] and counts [-] of one place together; a drawer that nobody told of is empty."""
    if sizes is None:
        return Drawer((), (), int(most))
    known, pieces, there = sizes_with_counts(sizes, counts, most, name)
    return Drawer(known, there, pieces)


def _grams_for(aim: Aim, club: JudgedClub, position: float) -> float | None:
    """Work out the mass to add at a place [g]; None where no sensible one does it."""
    assert aim.target is not None
    body = club.body
    if aim.quantity == "inertia":
        if position < NEAREST:
            return None
        grams = inertia_correction.grams_to_inertia(aim.target, bodies.inertia_about_butt(body), position)
    else:
        if abs(position - swingweight.FULCRUM) < NEAREST:
            return None
        grams = correction.grams_to(aim.target, body.mass, body.centre, position)
    return grams if abs(grams) <= MOST_AT_A_PLACE else None


def _grams(club: JudgedClub, aim: Aim, places: Places, shown: list[Aim]) -> Told | None:
    """Say what to add at the head or take off it."""
    wanted = _grams_for(aim, club, places.head)
    if wanted is None:
        return None
    words, grams, values = _at(wanted, "head", places.head_drawer)
    return words + then_reads(club.weighted(grams, places.head), shown, club), values


def _counterweight(club: JudgedClub, aim: Aim, places: Places, shown: list[Aim]) -> Told | None:
    """Say which counterweight brings a heavy club in; none where it does not."""
    wanted = _grams_for(aim, club, places.butt) if places.butt < swingweight.FULCRUM else None
    if wanted is None or wanted <= 0 or not places.butt_drawer.sizes:
        return None
    words, grams, values = _at(wanted, "butt", places.butt_drawer)
    then = club.weighted(grams, places.butt)
    return (words + then_reads(then, shown, club), values) if aim.verdict(then) == "in" else None


def _at(wanted: float, place: str, drawer: Drawer) -> tuple[str, float, list[Measured]]:
    """Say what goes to a place or comes off it, how many grams that is, and the values in the words."""
    picked = drawer.nearest(wanted)
    if picked:
        return f"add {picked:g} g at the {place}", picked, []
    grams = round(wanted, 1)
    if wanted > 0:
        return f"add {{}} at the {place}", grams, [Rough(grams, "mass")]
    return f"take {{}} off the {place}", grams, [Rough(-grams, "mass")]


def _length(club: JudgedClub, aim: Aim, grip: Body, shaft_per_cm: float, shown: list[Aim]) -> Told | None:
    """Say how much to cut off or extend at the butt; none where that would be another club."""
    assert aim.target is not None
    find = lengthening.change_to_inertia if aim.quantity == "inertia" else lengthening.change_to
    change = find(aim.target, club.body, grip, shaft_per_cm, lowest=-LONGEST_CHANGE, highest=LONGEST_CHANGE)
    if change is None or abs(change) < LEAST_CHANGE:
        return None
    change = round(change, 1)
    verb = "extend" if change > 0 else "cut"
    then = club.longer(lengthening.lengthened(club.body, grip, change, shaft_per_cm), change)
    return f"{verb} {{}} at the butt{then_reads(then, shown, club)}", [Rough(abs(change), "length")]


def _both(club: JudgedClub, leading: list[Aim], places: Places, shown: list[Aim]) -> Told | None:
    """Say what to do at head and butt together; none where no sensible masses there do both."""
    points, inertia = leading
    assert points.target is not None and inertia.target is not None
    if abs(places.head - places.butt) < NEAREST or not inertia_correction.independence(places.head, places.butt):
        return None
    wanted = inertia_correction.two_weights_for_inertia(
        points.target, inertia.target, club.body, first=places.head, second=places.butt
    )
    if max(map(abs, wanted)) > MOST_AT_A_PLACE:
        return None
    words: list[str] = []
    values: list[Measured] = []
    made = club
    for place, position, drawer, ideal in (
        ("head", places.head, places.head_drawer, wanted[0]),
        ("butt", places.butt, places.butt_drawer, wanted[1]),
    ):
        # Once the head got what the drawer has, not what was wanted, the butt's is worked out for that.
        grams = _anew(ideal, points, made, position) if words else ideal
        if abs(grams) >= LEAST_GRAMS:
            here, done, values_here = _at(grams, place, drawer)
            words.append(here)
            values += values_here
            made = made.weighted(done, position)
    line = " and ".join(words)
    if line.startswith("add"):
        line = line.replace(" and add ", " and ")
    return line + then_reads(made, shown, club), values


def _anew(wanted: float, points: Aim, club: JudgedClub, position: float) -> float:
    """Work out the mass for the butt [g] once the head has its own: for the swingweight, which it moves alone.

    Where the head could not get enough, the club is left low rather than have something taken off its butt.
    """
    grams = _grams_for(points, club, position)
    if grams is None:
        return wanted if abs(position - swingweight.FULCRUM) < NEAREST else 0.0
    return grams if wanted < 0 else max(grams, 0.0)
