"""Formula: where a set should lie, so that the heads in hand need the least added mass."""

from __future__ import annotations

from itertools import chain

from evenheft.formulas.arguments import ANY_NUMBER, Values
from evenheft.formulas.changes import MOST_AT_A_PLACE, NEAREST, POSITION
from evenheft.formulas.gradient import CATEGORY, group_word
from evenheft.formulas.kinds import Cells, Choice, Level, Number
from evenheft.formulas.registry import UNITS, Answer, Argument, formula, what_of
from evenheft.formulas.telling import shown
from evenheft.formulas.wording import Measured, show
from evenheft.mechanics.correction import points_per_gram
from evenheft.mechanics.inertia_correction import inertia_per_gram
from evenheft.mechanics.least_line import ClubInLine, LeastLine, least_line
from evenheft.mechanics.stock_for_set import MOST_CLUBS
from evenheft.mechanics.swingweight import FULCRUM
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.values import CellRows

OFFERED = (
    Answer("first", "as the values"),
    Answer("increment", "as the values"),
    Answer("grams", "mass unit", "mass"),
    Answer("most", "mass unit", "mass"),
    Answer("line", "text"),
)
_QUANTITIES = ("swingweight", "inertia", "mass")


@formula(
    "HEFT_LEAST_LINE",
    category=CATEGORY,
    help="Target line that the heads in hand reach with the least added mass: no club further above it than the "
    "tolerance, light ones filled up to the tolerance's edge. First value, increment, grams in all, most at one club.",
    arguments=(
        Argument("places", "Range with each club's place: 1, 2, 3 ... Clubs without a value are left out.", ANY_NUMBER,
                 takes="range"),
        Argument(
            "values",
            "Range of equal shape with what each club reads or will read without added mass: points or label, inertia "
            "in kg cm2, or mass.",
            Level(ANY_NUMBER),
            takes="range",
        ),
        Argument(
            "positions",
            "Range of equal shape with the distance from the butt at which mass would be added to each club, in cm "
            "unless units say otherwise; or one for all.",
            POSITION.kind,
            takes="range",
        ),
        Argument("tolerance", "The deviation from the target that is still accepted, in the values' unit.",
                 Number(0, 1e6)),
        Argument("increment", "Change from one club to the next, in the values' unit. Left out, it is offered too.",
                 ANY_NUMBER, None),
        what_of(OFFERED),
        UNITS,
        Argument(
            "quantity",
            'What the values are: "swingweight" (used when left out), "inertia" or "mass" (in g).',
            Choice(_QUANTITIES),
            "swingweight",
        ),
        Argument(
            "leeway",
            "How far the offered increment may lie from the one given, in the values' unit; 0 when left out.",
            Number(0, 1e6),
            0.0,
        ),
        Argument("groups", "Column as high as places with each club's group, where only one of them counts.",
                 Cells("column"), None, takes="table"),
        Argument("group", "The group that counts, all clubs where blank. With it the answer is blank while no club of "
                 "it has a value.", Cells("text"), None, takes="table"),
        Argument("doubts", "Range of the shape of places with how sure each value is, in the values' unit: the line is "
                 "laid so that no doubt carries a club out. None when left out.", Number(0, 1e6), None, takes="range"),
    ),
    answers=OFFERED,
    source="Convex and piecewise straight in the increment: every corner is tried. Checked against a linear programme "
    "(scipy, HiGHS).",
    examples=(
        ('=HEFT_LEAST_LINE({1;2;3}, {"D1";"D3";"D2"}, 95, 0.5, 0, "first")', "32.5"),
        ('=HEFT_LEAST_LINE({1;2;3}, {"D1";"D3";"D2"}, 95, 0.5, 0, "grams")', "2.12001"),
        ('=HEFT_LEAST_LINE({1;2;3}, {30;31;32}, 95, 0, , "increment")', "1"),
        (
            '=HEFT_LEAST_LINE({1;2;3}, {"D1";"D3";"D2"}, 95, 0.5, 0, "line")',
            "first D2.5, change 0: 2.1 g in all, at most 2.1 g at one club",
        ),
    ),
)  # fmt: skip
def least_added(
    places: Values,
    values: Values,
    positions: Values,
    tolerance: float,
    increment: float | None,
    quantity: str,
    leeway: float,
    groups: CellRows | None,
    group: CellRows | None,
    doubts: Values | None,
) -> tuple[float | str, ...]:
    """Return the first value, increment [the values' unit], grams in all and the most at one club [g] of a line,
    and the same in words.
    """
    wanted = group_word(group[0][0]) if group else ""
    if wanted:
        values = _of_group(values, groups, wanted)
    clubs = _clubs(places, values, positions, quantity)
    if wanted and not clubs:
        return ("",) * len(OFFERED)
    if not clubs:
        raise Refused("values must hold at least one club with a place")
    if len(clubs) > MOST_CLUBS:
        raise Refused(f"values must hold at most {MOST_CLUBS} clubs, got {len(clubs)}")
    tolerance = _sure(tolerance, values, doubts)
    if increment is None:
        steepest = _steepest(clubs, tolerance)
        line = least_line(clubs, tolerance, lowest=-steepest, highest=steepest)
    else:
        line = least_line(clubs, tolerance, lowest=increment - leeway, highest=increment + leeway, wished=increment)
    grams, most = sum(line.added), max(line.added)
    if most > MOST_AT_A_PLACE:
        raise Refused(
            "{0} would have to be added to one club, more than any shop does ({1}): another line or another head",
            Measured(round(most, 1), "mass"),
            Measured(MOST_AT_A_PLACE, "mass"),
        )
    return line.first, line.increment, grams, most, _in_words(line, grams, most, quantity)


def _sure(tolerance: float, values: Values, doubts: Values | None) -> float:
    """Work out how far a club may be off so that its doubt leaves it in: of those that count, the least."""
    if doubts is None:
        return tolerance
    if [len(row) for row in doubts] != [len(row) for row in values]:
        raise Refused("doubts must be a range of the shape of places")
    known = zip(chain.from_iterable(values), chain.from_iterable(doubts), strict=True)
    doubt = max(doubt or 0.0 for value, doubt in known if value is not None)
    if doubt >= tolerance:
        raise Refused(
            f"the tolerance, {show(round(tolerance, 2))}, must be more than the values' doubt, "
            f"{show(round(doubt, 2))}, for any club to be in"
        )
    return tolerance - doubt


def _in_words(line: LeastLine, grams: float, most: float, quantity: str) -> str:
    """Say where the line lies and what it costs; in grams, as stock weights are."""
    digits = _DIGITS[quantity]
    change = f"{round(line.increment, max(digits, 0) + 1) + 0.0:g}"
    cost = f"{grams:.1f} g in all, at most {most:.1f} g at one club" if grams >= _LEAST_TOLD else "no added mass"
    return f"first {shown(line.first, 0.0, digits)}, change {change}: {cost}"


_DIGITS = {"swingweight": -1, "inertia": 0, "mass": 1}
"""How a first value is shown; its change, which counts many times along a set, is shown one finer."""
_LEAST_TOLD = 0.05
"""Less added mass is none [g]."""


def _of_group(values: Values, groups: CellRows | None, wanted: str) -> Values:
    """Leave out the values of clubs of other groups."""
    if groups is None or [len(row) for row in groups] != [1] * len(values):
        raise Refused("groups must be a column as high as places")
    return tuple(
        row if group_word(cell) == wanted else (None,) * len(row)
        for row, (cell, *_) in zip(values, groups, strict=True)
    )


def _steepest(clubs: list[ClubInLine], tolerance: float) -> float:
    """Return an increment that no set's line exceeds:
    it would lead from the lowest club to the highest in one place.
    """
    readings = [club.value for club in clubs]
    return max(readings) - min(readings) + 2 * tolerance


def _clubs(places: Values, values: Values, positions: Values, quantity: str) -> list[ClubInLine]:
    """Put together the clubs that have a place and a value."""
    shape = [len(row) for row in places]
    if [len(row) for row in values] != shape:
        raise Refused("places and values must be ranges of equal shape")
    at = list(chain.from_iterable(positions))
    count = sum(shape)
    if len(at) == 1:
        at *= count
    elif [len(row) for row in positions] != shape:
        raise Refused("positions must be one cell, or a range of the shape of places")
    cells = zip(chain.from_iterable(places), chain.from_iterable(values), at, strict=True)
    return [
        ClubInLine(place, value, _grams_per_unit(position, quantity, number))
        for number, (place, value, position) in enumerate(cells, start=1)
        if place is not None and value is not None
    ]


def _grams_per_unit(position: float | None, quantity: str, number: int) -> float:
    """Work out what one point, or one kg cm2, costs at a place [g]; a club's mass costs itself."""
    if quantity == "mass":
        return 1.0
    if position is None:
        raise Refused(f"where mass is to go on club {number} is not known (positions is blank there): type its length")
    nearest = NEAREST + (FULCRUM if quantity == "swingweight" else 0.0)
    if position < nearest:
        raise Refused(
            f"positions (cell {show(number)}) must be at least {{0}} from the butt, where mass adds to the {quantity}, "
            "got {1}",
            Measured(nearest, "length"),
            Measured(position, "length"),
        )
    return 1 / (points_per_gram(position) if quantity == "swingweight" else inertia_per_gram(position))
