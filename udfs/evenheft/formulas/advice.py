"""Formula: what to do about a club, in one line of words."""

from __future__ import annotations

from collections.abc import Callable

from evenheft.formulas.answers import label_or_message
from evenheft.formulas.arguments import BALANCE, MASS, Values, level, need_beyond_fulcrum
from evenheft.formulas.correction import POSITION, STATICS
from evenheft.formulas.kinds import PASSED_ON, Cells, Line, Number, Rough, is_blank
from evenheft.formulas.registry import UNITS, Answer, Argument, formula
from evenheft.mechanics import bodies, correction, doubt, swingweight
from evenheft.mechanics.bodies import Body

NOTHING = "nothing to do"
NOTHING_HERE = "nothing for the swingweight; see what else is flagged"
NO_HEAD = f"{PASSED_ON}where head weights sit must be known: type the club's length"


@formula(
    "HEFT_ADVICE",
    category="Correction",
    help="What to do about a club, in words: which stock weights at the head or the butt, or how much to take off, and "
    "what it will then read. Nothing where it is in; to be measured again where the doubt cannot tell.",
    arguments=(
        MASS,
        BALANCE,
        level("target", 'Swingweight wanted, as a number or a label such as "D2".'),
        Argument("tolerance", "The deviation that is still accepted, in points.", Number(0, 1e6)),
        Argument("head_position", "Distance from the butt to where weights at the head sit, in cm unless units say "
                 "otherwise; HEFT_PLACE tells it.", POSITION.kind, None),
        Argument("butt_position", "Distance from the butt to where weights at the butt sit, in cm unless units say "
                 "otherwise.", POSITION.kind, None),
        Argument("head_stock", "Range with the sizes of weights for the head, in g.", Number(0.01, 500, "g"), None,
                 takes="range"),
        Argument("butt_stock", "Range with the sizes of weights for the butt, in g.", Number(0.01, 500, "g"), None,
                 takes="range"),
        Argument("most", "How many pieces at one place, 1 to 4; 1 when left out.",
                 Number(1, correction.MOST_PIECES, whole=True), 1.0),
        Argument("doubt", "Doubt of the swingweight in points, e.g. from HEFT_DOUBT; 0 when left out.",
                 Number(0, 1e6), 0.0),
        UNITS,
        Argument("other", "What else is flagged about the club, so that nobody hears that nothing is to be done.",
                 Cells("text"), None, takes="table"),
    ),
    answers=(Answer("advice", "text"),),
    source=STATICS,
    examples=(
        ('=HEFT_ADVICE(415, 72.2, "D0", 0.5, 90, 2.5, {2;3;4;5;6}, {5;10}, 2)', "add 3 g at the head: then D0.0"),
        ('=HEFT_ADVICE(420, 72.2, "D0", 0.5, 90)', "nothing to do"),
    ),
)  # fmt: skip
def advice(
    mass: float,
    balance: float,
    target: float,
    tolerance: float,
    head_position: float | None,
    butt_position: float | None,
    head_stock: Values | None,
    butt_stock: Values | None,
    most: float,
    doubt_of_points: float,
    other: tuple[tuple[object, ...], ...] | None,
) -> Line | str:
    """What to do: club [g, cm], target and tolerance [points], places [cm], stock [g], doubt [points]."""
    need_beyond_fulcrum(balance, swingweight.FULCRUM)
    club = Body(mass, balance)
    points = _points(club)
    verdict = doubt.verdict(points, target, tolerance, doubt_of_points)
    if verdict == "in":
        return NOTHING_HERE if other and not is_blank(other[0][0]) else NOTHING
    if head_position is None:
        return NO_HEAD
    wanted = correction.grams_to(target, mass, balance, head_position)
    again = "measure again first; or " if verdict == "re-measure" else ""

    def then(added: float, position: float) -> tuple[str, str]:
        """What the club reads with a mass [g] at a position [cm], and how that is judged."""
        after = _points(bodies.combine([club, Body(added, position)]))
        return _reads(after), doubt.verdict(after, target, tolerance, doubt_of_points)

    if wanted > 0:
        return _light(again, wanted, _picked(wanted, head_stock, most), lambda grams: then(grams, head_position))
    line = f"{again}take {{0}} off the head"
    if butt_position is not None and butt_position < swingweight.FULCRUM:
        counterweight = _picked(correction.grams_to(target, mass, balance, butt_position), butt_stock, most)
        if counterweight and then(counterweight, butt_position)[1] == "in":
            line += f", or add {counterweight:g} g at the butt: then {then(counterweight, butt_position)[0]}"
    return Line(line, Rough(-wanted, "mass"))


def _light(again: str, wanted: float, pick: float, then: Callable[[float], tuple[str, str]]) -> Line:
    """The line for a club that wants mass at the head [g]: what is in stock, and how near that comes."""
    lacking = Rough(wanted, "mass")
    if not pick:
        return Line(f"{again}no stock weight is near: add {{0}} at the head", lacking)
    label, verdict = then(pick)
    near = {"in": "", "re-measure": ", near the edge: {0} wanted"}.get(verdict, ", still off: {0} wanted")
    return Line(f"{again}add {pick:g} g at the head: then {label}{near}", lacking)


def _points(club: Body) -> float:
    return swingweight.points(swingweight.moment(club.mass, club.centre))


def _reads(points: float) -> str:
    label = label_or_message(points)
    return f"{points:.1f} points" if label.startswith(PASSED_ON) else label


def _picked(grams: float, stock: Values | None, most: float) -> float:
    """The nearest sum of stock weights [g]; 0 where there is none."""
    sizes = [size for row in stock or () for size in row if size is not None]
    return correction.pick(grams, sizes, int(most)).total if sizes and grams > 0 else 0.0
