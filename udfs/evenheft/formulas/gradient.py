"""Formulas: the gradient of a set, the target line and the line through what was measured."""

from __future__ import annotations

from evenheft.formulas.arguments import ANY_NUMBER, Values, complete_pairs, level
from evenheft.formulas.kinds import PASSED_ON, Level, Number, Refusal
from evenheft.formulas.registry import Answer, Argument, formula, what_of
from evenheft.mechanics import gradient

CATEGORY = "Set"

PLACE = Number(1, 1000, whole=True)

LINE = (
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
        Argument("place", "Place of the club in its set: 1, 2, 3 ...", PLACE),
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
        Argument("place", "Place that the reference club has, or would have, in the set: 1, 2, 3 ...", PLACE),
    ),
    answers=(Answer("first", "as value"),),
    source="Definition: HEFT_TARGET solved for first.",
    examples=(('=HEFT_FIRST("D2", 0.5, 3)', "31"), ("=HEFT_FIRST(2700, 20, 4)", "2640")),
)
def first(value: float, increment: float, place: float) -> float:
    """Return the first value [the unit of value] of the line through a club's value at its place [-]."""
    return gradient.first(value, increment, place)


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
        what_of(LINE),
    ),
    answers=LINE,
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
        raise Refusal(f"values must hold at least two clubs, got {len(clubs)}")
    if len({p for p, _ in clubs}) < 2:
        raise Refusal("places must hold at least two different places")
    first, increment, scatter, worst = gradient.fit([p for p, _ in clubs], [v for _, v in clubs])
    none = f"{PASSED_ON}scatter needs at least three clubs, got 2"
    return first, increment, none if scatter is None else scatter, worst
