"""Formulas: the gradient of a set, the target line and the line through what was measured."""

from __future__ import annotations

from evenheft.formulas.arguments import ANY_NUMBER, Values, complete_pairs, level
from evenheft.formulas.kinds import Cells, Level, Number, finite_number
from evenheft.formulas.registry import Answer, Argument, formula, what_of
from evenheft.formulas.wording import PASSED_ON, is_blank, show
from evenheft.mechanics import gradient
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.values import CellRows

CATEGORY = "Set"
MOST_PLACES = 1000
_PLACE = Number(1, MOST_PLACES, whole=True)


_LINE = (
    Answer("first", "as the values"),
    Answer("increment", "as the values"),
    Answer("scatter", "as the values"),
    Answer("worst", "as the values"),
)


@formula(
    "HEFT_TARGET",
    category=CATEGORY,
    help="Target of one club in a set: the first club's value plus the increment for each place after it.",
    arguments=(
        level("first", 'Value wanted for the club at place 1, or a swingweight label such as "D2".'),
        Argument("increment", "Change from one club to the next; 0 for an even set.", ANY_NUMBER),
        Argument("place", "Place of the club in its set: 1, 2, 3 ...", _PLACE),
    ),
    answers=(Answer("target", "as first"),),
    source="Definition.",
    examples=(('=HEFT_TARGET("D2", 0.5, 3)', "33"),),
)
def target(first: float, increment: float, place: float) -> float:
    """Target [the unit of first] at a place [-]."""
    return gradient.target(first, increment, place)


@formula(
    "HEFT_FIRST",
    category=CATEGORY,
    help="First value of the line that runs through a reference club: what HEFT_TARGET needs so that the club at that "
    "place gets the value. For a swingweight, a mass or an inertia alike.",
    arguments=(
        level("value", 'What the reference club reads, or a swingweight label such as "D2".'),
        Argument("increment", "Change from one club of the set to the next; 0 for an even set.", ANY_NUMBER),
        Argument("place", "Place that the reference club has, or would have, in the set: 1, 2, 3 ...", _PLACE),
    ),
    answers=(Answer("first", "as value"),),
    source="Definition: HEFT_TARGET solved for first.",
    examples=(('=HEFT_FIRST("D2", 0.5, 3)', "31"), ("=HEFT_FIRST(2700, 20, 4)", "2640")),
)
def first(value: float, increment: float, place: float) -> float:
    """Return the first value [the unit of value] of the line through a club's value at its place [-]."""
    return gradient.first(value, increment, place)


@formula(
    "HEFT_SET_PLACE",
    category=CATEGORY,
    help="Place of a club within its group, counted down a list: 1, 2, 3 ... A place that is typed beside a club wins, "
    "and the next clubs of its group count on from there: so a set may skip a club and keep its gradient.",
    arguments=(
        Argument("groups", "Column with each club's group, in the order of the set.", Cells("column"), takes="table"),
        Argument("places", "Column of equal height with the places that are typed; blank where they are counted.",
                 Cells("column"), takes="table", quiet=False),
        Argument("at", "Which cell of the columns is the club's: 1 for the first.", _PLACE),
    ),
    answers=(Answer("place", "whole number"),),
    source="Definition.",
    examples=(
        ('=HEFT_SET_PLACE({"Irons";"Wedges";"Irons"}, {"";"";""}, 3)', "2"),
        ('=HEFT_SET_PLACE({"Irons";"Irons";"Irons"}, {"";4;""}, 3)', "5"),
    ),
)  # fmt: skip
def set_place(groups: CellRows, places: CellRows, at: float) -> float | str:
    """Return the place of a club within its group [-], from the groups and the typed places above it."""
    here = int(at)
    if len(groups) != len(places):
        raise Refused("places must be as high as groups")
    if not 1 <= here <= len(groups):
        raise Refused(f"at must be from 1 to {len(groups)}, got {here}")
    wanted = _group_word(groups[here - 1][0])
    if not wanted:
        return ""
    place = 0
    for (group, *_), (typed, *_) in zip(groups[:here], places[:here], strict=True):
        if _group_word(group) == wanted:
            place = place + 1 if is_blank(typed) else _typed_place(typed)
    return float(place)


def _group_word(cell: object) -> str:
    """Return one spelling of a group's name; "" for a blank cell and for what is no name."""
    return " ".join(cell.split()).casefold() if isinstance(cell, str) else "" if cell is None else show(cell)


def _typed_place(cell: object) -> int:
    number = finite_number(cell)
    if number is None or number != int(number) or not 1 <= number <= MOST_PLACES:
        raise Refused(f"places must be whole numbers from 1 to {MOST_PLACES}, got {show(cell)}")
    return int(number)


@formula(
    "HEFT_GRADIENT",
    category=CATEGORY,
    help="Straight line through a set: its value at place 1, its increment per place, the scatter about it "
    "(residual standard deviation) and the worst club's deviation. Blank clubs are left out.",
    arguments=(
        Argument("places", "Range with each club's place: 1, 2, 3 ...", ANY_NUMBER, takes="range"),
        Argument(
            "values",
            "Range of equal shape with each club's value, or swingweight label.",
            Level(ANY_NUMBER),
            takes="range",
        ),
        what_of(_LINE),
    ),
    answers=_LINE,
    source="Least squares; scatter with n - 2 degrees of freedom. Checked against NIST StRD Norris.",
    examples=(
        ('=HEFT_GRADIENT({1;2;3;4}, {30;31;32;34}, "increment")', "1.3"),
        ('=HEFT_GRADIENT({1;2;3;4}, {30;31;32;34}, "worst")', "-0.4"),
    ),
)
def line(places: Values, values: Values) -> tuple[float | str, ...]:
    """First, increment, scatter, worst [the values' unit] of the clubs that have a place and a value."""
    clubs = complete_pairs(places, values, "places and values")
    if len(clubs) < 2:
        raise Refused(f"values must hold at least two clubs, got {len(clubs)}")
    if len({p for p, _ in clubs}) < 2:
        raise Refused("places must hold at least two different places")
    first, increment, scatter, worst = gradient.fit([p for p, _ in clubs], [v for _, v in clubs])
    none = f"{PASSED_ON}scatter needs at least three clubs, got 2"
    return first, increment, none if scatter is None else scatter, worst
