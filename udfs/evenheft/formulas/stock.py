"""Formulas: which stock weights to take, for one club and for all clubs of a set."""

from __future__ import annotations

from evenheft.formulas.arguments import Values
from evenheft.formulas.correction import CATEGORY
from evenheft.formulas.kinds import Cells, Number, Quantity
from evenheft.formulas.registry import Answer, Argument, formula, what_of
from evenheft.formulas.wording import DEFAULT_SCALE, PASSED_ON, is_blank, show, what_is_wrong
from evenheft.mechanics import stock as mechanics
from evenheft.mechanics.stock_for_set import MOST_CLUBS, STEPS, pick_for_set
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.values import CellRows

PICKED = (Answer("pieces", "text"), Answer("sum", "g"), Answer("remainder", "g"))

WANTED = Quantity("mass", -1000, 1000)
_STOCK = Argument(
    "stock", "Range with the sizes in stock, in g; blanks are left out.", Quantity("mass", 0.01, 500),
    takes="range", quiet=False,
)  # fmt: skip
MOST = Argument(
    "most", "How many pieces at most in one club, 1 to 4; 1 when left out.",
    Number(1, mechanics.MOST_PIECES, whole=True), 1.0,
)  # fmt: skip
COUNTS = Argument(
    "counts",
    "Range of the stock's shape with how many of each size are there; a blank one is not counted and counts as enough. "
    "None is counted when left out.",
    Number(0, 100000, whole=True),
    None,
    takes="range",
)


@formula(
    "HEFT_PICK",
    category=CATEGORY,
    help="Which stock weights come closest to a mass, with at most so many pieces: the pieces, their sum, and what "
    "still lacks (negative: too much). A size may be used as often as it is there. HEFT_PICK_SET serves a whole set.",
    arguments=(
        Argument("grams", "Mass wanted, in g; nothing is picked where it is 0 or negative.", WANTED),
        _STOCK,
        MOST,
        what_of(PICKED),
        COUNTS,
    ),
    answers=PICKED,
    source="Every combination considered; the fewest pieces win among equally close ones, then the lighter.",
    examples=(
        ('=HEFT_PICK(9.4, {2,3.5,6}, 2, "pieces")', "6 + 3.5"),
        ('=HEFT_PICK(9.4, {2,3.5,6}, 2, "remainder")', "-0.1"),
        ('=HEFT_PICK(9.4, {2,3.5,6}, 2, "pieces", {4,0,1})', "6 + 2"),
    ),
)
def pick(grams: float, stock: Values, most: float, counts: Values | None) -> tuple[float | str, ...]:
    """Pick pieces, their sum [g] and the remainder [g] for a mass wanted [g] from stock sizes [g] and counts [-]."""
    return _answers(grams, mechanics.pick(grams, *sizes_with_counts(stock, counts, most)))


@formula(
    "HEFT_PICK_SET",
    category=CATEGORY,
    help="Which stock weights each club of a set gets, none promised twice: the fewest grams are lacking or too many "
    "in all. Pieces, sum and remainder of each club, or of one of them.",
    arguments=(
        Argument(
            "grams",
            "Range with the mass wanted for each club, in g. Blanks, messages and what is not positive get nothing.",
            Cells("range of masses"),
            takes="table",
        ),
        _STOCK,
        COUNTS,
        MOST,
        what_of(PICKED),
        Argument(
            "which",
            "Which club's answer is wanted: 1 for the first cell of grams, 2 for the next ... All come back, one row "
            "each, when left out.",
            Number(1, 1000, whole=True),
            None,
        ),
    ),
    answers=PICKED,
    source="Branch and bound over every sharing, least grams off in all, then most evenly shared, then fewest pieces; "
    f"after {STEPS} steps it is the best that was found.",
    examples=(
        ('=HEFT_PICK_SET({9;6}, {2;4;6}, {1;1;1}, 2, "pieces", 1)', "6 + 2"),
        ('=HEFT_PICK_SET({9;6}, {2;4;6}, {1;1;1}, 2, "sum", 2)', "4"),
    ),
)
def pick_set(
    grams: CellRows, stock: Values, counts: Values | None, most: float, which: float | None
) -> tuple[tuple[float | str, ...], ...] | tuple[float | str, ...] | str:
    """Pick pieces, sum [g] and remainder [g] of each club, or of one, for masses wanted [g] and stock [g, -]."""
    wanted = [_wanted(cell) for row in grams for cell in row]
    if len(wanted) > MOST_CLUBS:
        raise Refused(f"grams must be a range of at most {MOST_CLUBS} clubs, got {len(wanted)}")
    if which is not None and which > len(wanted):
        raise Refused(f"which must be a cell of grams, from 1 to {len(wanted)}, got {show(which)}")
    sizes, pieces, there = sizes_with_counts(stock, counts, most)
    numbers = [mass if isinstance(mass, float) else 0.0 for mass in wanted]
    picked = pick_for_set(numbers, sizes, pieces, there)
    answers = [
        _answers(mass, choice) if isinstance(mass, float) else (mass,) * len(PICKED)
        for mass, choice in zip(wanted, picked, strict=True)
    ]
    if which is not None:
        return answers[int(which) - 1]
    return answers[0] if len(answers) == 1 else tuple(answers)


def _wanted(cell: object) -> float | str:
    """Read a mass wanted [g]; a text is a blank's answer or what is wrong."""
    if is_blank(cell):
        return ""
    if isinstance(cell, str) and cell.startswith(PASSED_ON):
        return cell
    try:
        return WANTED.read(cell, DEFAULT_SCALE)
    except ValueError as error:
        return PASSED_ON + what_is_wrong("grams", cell, error)


def sizes_with_counts(
    stock: Values, counts: Values | None, most: float, name: str = "counts"
) -> tuple[list[float], int, list[float | None]]:
    """Put sizes, the most pieces and the counts in the order that `mechanics.pick` takes them in.

    Args:
        stock: the sizes, None for a blank [g].
        counts: how many of each are there, None where nobody has counted [-].
        most: pieces at most [-].
        name: what the builder knows the counts by [-].

    Raises:
        Refused: nothing is in stock, more sizes than any shop keeps, or counts of another shape.
    """
    if counts is not None and [len(row) for row in stock] != [len(row) for row in counts]:
        raise Refused(f"{name} must be a range of the stock's shape")
    there = [None] * sum(map(len, stock)) if counts is None else [count for row in counts for count in row]
    cells = zip((size for row in stock for size in row), there, strict=True)
    known = [(size, count) for size, count in cells if size is not None]
    if not known:
        raise Refused("stock must hold at least one weight")
    different = len({size for size, _ in known})
    if different > mechanics.MOST_SIZES:
        raise Refused(f"stock must hold at most {mechanics.MOST_SIZES} different sizes, got {different}")
    return [size for size, _ in known], int(most), [count for _, count in known]


def _answers(grams: float, picked: mechanics.Picked) -> tuple[float | str, ...]:
    remainder = round(grams - picked.total, 9)  # 2.1 - 2.0 is 0.1 to a builder
    return " + ".join(map(show, picked.pieces)) or "none", picked.total, remainder
