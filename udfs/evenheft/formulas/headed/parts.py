"""Formulas: from loose parts to a forecast, and what a dry fit teaches about it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import partial
from itertools import chain
from typing import Any

from evenheft.formulas import fit
from evenheft.formulas.answers import READINGS, label_or_message, readings
from evenheft.formulas.arguments import ANY_NUMBER, FURTHEST, Values, side_by_side
from evenheft.formulas.headed.columns import RowPlan, plan_for
from evenheft.formulas.headed.headings import label_of, read_heading, read_headings
from evenheft.formulas.headed.rows import Row, club_answers, need_width, read_row, row_by_row, without_a_forecast
from evenheft.formulas.headed.tables import read_table
from evenheft.formulas.headed.vocabulary import VOCABULARY
from evenheft.formulas.kinds import Cells, Choice, Level, Quantity, Typed
from evenheft.formulas.registry import UNITS, Answer, AnswerColumns, Argument, formula, what_of
from evenheft.formulas.wording import PASSED_ON, Measured, is_blank, show
from evenheft.mechanics import bodies, club, swingweight
from evenheft.mechanics.bodies import Body
from evenheft.mechanics.forecast_doubt import Asked, forecast_doubt
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.text import one_line
from evenheft.ooxml.values import CellRow, CellRows

CATEGORY = "Parts"
_STATICS = "Statics and the parallel-axis theorem, any handbook of mechanics."
MODEL = "Statics and the parallel-axis theorem; where each part sits is told in docs/parts.md."

CLUB_ANSWERS = (
    *READINGS,
    Answer("cut length", "length unit", "length"),
    Answer("butt trim", "length unit", "length"),
    Answer("doubt", "points"),
    Answer("inertia doubt", "kg cm2"),
)
SHAFT_ANSWERS = (
    Answer("mass", "mass unit", "mass"),
    Answer("balance", "length unit", "length"),
    Answer("length", "length unit", "length"),
    Answer("inertia", "kg cm2"),
)

HEADERS = Argument(
    "headers",
    'Row of headings with their units, e.g. "Head mass (g)", "Shaft length (in)", in any order.',
    Cells("one row of headings"),
    takes="table",
)
ROW = Argument(
    "row",
    "The club's row under these headings, as wide as they are; several rows are answered row by row.",
    Cells("row of cells"),
    takes="row",
)
# Blank rows among others must keep their places, so the formula itself sees to blanks.
ROWS = Argument("row", ROW.help, Cells("rows of cells"), takes="table", quiet=False)
SHOP_DEFAULTS = Argument(
    "defaults",
    'Range of two columns, headings and values, e.g. "Bore to ground (cm)" beside 3.8: used where a row has none. '
    "Evenheft's own defaults when left out.",
    Cells("two columns"),
    None,
    takes="table",
)


@formula(
    "HEFT_SHAFT_CUT",
    category=CATEGORY,
    help="A shaft after trimming: its mass, its balance from the new butt end, its length and its inertia about that "
    "end. The shaft is taken as a straight line of density that has its mass and balance.",
    arguments=(
        Argument("mass", "Mass of the uncut shaft, in g unless units say otherwise.", VOCABULARY["shaft_mass"].kind),
        Argument("length", "Its length, in cm unless units say otherwise.", VOCABULARY["shaft_length"].kind),
        Argument(
            "balance",
            "From its butt end to where it balances, in cm unless units say otherwise; must lie in the middle third.",
            VOCABULARY["shaft_balance"].kind,
        ),
        Argument(
            "tip_trim",
            "Length to cut off the tip, in cm unless units say otherwise; 0 when left out.",
            Quantity("length", 0, 150),
            0.0,
        ),
        Argument(
            "butt_trim",
            "Length to cut off the butt end, in cm unless units say otherwise; 0 when left out.",
            Quantity("length", 0, 150),
            0.0,
        ),
        what_of(SHAFT_ANSWERS),
        UNITS,
    ),
    answers=SHAFT_ANSWERS,
    source=_STATICS,
    examples=(
        ('=HEFT_SHAFT_CUT(65, 117, 57, 2.5, 5, "mass")', "60.7333"),
        ('=HEFT_SHAFT_CUT(120, "39 in", "19 in", 0, "1 in", "balance", "g in")', "18.5244"),
    ),
)
def shaft_cut(mass: float, length: float, balance: float, tip_trim: float, butt_trim: float) -> tuple[float, ...]:
    """Mass [g], balance [cm], length [cm], inertia [kg cm2] of what is left of a shaft [g, cm]."""
    whole = Measured(length, "length")
    if not bodies.is_possible_shaft(length, balance):
        low, high = Measured(length / 3, "length"), Measured(2 * length / 3, "length")
        got = Measured(balance, "length")
        raise Refused("balance must be from {0} to {1} for a shaft of {2}, got {3}", low, high, whole, got)
    left = length - tip_trim - butt_trim
    if left < 1:
        trim = Measured(tip_trim + butt_trim, "length")
        raise Refused("tip_trim and butt_trim must leave at least {1} of a shaft of {0}, got {2}",
                      whole, Measured(1, "length"), trim)  # fmt: skip
    body = bodies.body_of(bodies.cut(bodies.density_line(mass, length, balance), tip_trim, butt_trim))
    return body.mass, body.centre, left, bodies.inertia_about_butt(body)


@formula(
    "HEFT_COMBINE",
    category=CATEGORY,
    help="Adds up any list of parts, each taken as a point: their mass together, where they balance, swingweight and "
    "inertia about the butt. Parts without a mass are left out.",
    arguments=(
        Argument(
            "masses",
            "Range with each part's mass, in g unless units say otherwise.",
            Quantity("mass", 0, 2000),
            takes="range",
        ),
        Argument(
            "positions",
            "Range of equal shape with the distance of each part's centre from the butt, in cm unless units say "
            "otherwise.",
            Quantity("length", -20, FURTHEST),
            takes="range",
        ),
        what_of(READINGS),
        UNITS,
    ),
    answers=READINGS,
    source=_STATICS,
    examples=(
        ('=HEFT_COMBINE({200;60;50}, {114;56;11}, "balance")', "86.1613"),
        ('=HEFT_COMBINE({7;2}, {44;20}, "mass", "oz in")', "9"),
    ),
)
def combine(masses: Values, positions: Values) -> tuple[float | str, ...]:
    """Compute the readings of parts by their masses [g] and positions [cm]."""
    parts: list[Body] = []
    for number, (mass, position) in enumerate(side_by_side(masses, positions, "masses and positions"), start=1):
        if mass is not None and position is None and mass > 0:
            raise Refused(f"positions must have a place for each mass, cell {number} is blank")
        if mass is not None and position is not None:
            parts.append(Body(mass, position))
    if sum(part.mass for part in parts) <= 0:
        raise Refused("masses must hold at least one part that weighs something")
    return readings(bodies.combine(parts))


@formula(
    "HEFT_CLUB",
    category=CATEGORY,
    help="Forecast of a finished club from its loose parts, read from a row of your own sheet by its headings. Also "
    "the length to cut the shaft to and how much that takes off its butt end.",
    arguments=(HEADERS, ROWS, what_of(CLUB_ANSWERS), UNITS, SHOP_DEFAULTS),
    answers=CLUB_ANSWERS,
    source=MODEL,
    examples=(
        (
            '=HEFT_CLUB({"Head mass (g)","Club length (in)","Shaft (g)","Shaft (in)","Grip (g)","Epoxy (g)"}, '
            '{200,45,65,46,50,3}, "points")',
            "33.0547",
        ),
        (
            '=HEFT_CLUB({"Head mass (g)","Club length (in)","Shaft (g)","Shaft (in)","Grip (g)"}, {200,45,65,43,50})',
            "! the shaft is too short by 0.35 in: it must be at least 43.35 in, got 43 in",
        ),
    ),
)
def club_forecast(
    headers: CellRows, rows: CellRows, defaults: CellRows | None
) -> AnswerColumns | tuple[Any, ...] | str:
    """Forecast readings [g, cm, points, label, kg cm2], cut length and butt trim [cm] of each club's row."""
    if not rows:
        return ""
    plan = plan_for(headers, defaults)
    if len(rows) == 1:
        try:
            row = read_row(plan, rows[0])
        except Refused as refused:
            answers = without_a_forecast(plan, rows[0], refused)
            if len(set(answers)) == 1:
                raise
            return (*answers, *[f"{PASSED_ON}{refused}"] * len(_DOUBTS))
        # A doubt takes work: it is a function, which is called where it is asked for.
        return "" if row is None else (*club_answers(row.parts), *(partial(doubt, row) for doubt in _DOUBTS))
    need_width(plan, rows[0])
    at_once = read_table(plan, rows)
    doubts = (_when_asked(partial(_row_by_row, plan, rows, doubt)) for doubt in _DOUBTS)
    if at_once is None:
        return AnswerColumns((*map(list, zip(*(_answered_row(plan, row) for row in rows), strict=True)), *doubts))
    parts, sound = at_once
    apart = {n: _answered_row(plan, rows[n]) for n in (~sound).nonzero()[0].tolist()}
    columns = (_column(answers, at, apart) for at, answers in enumerate(_forecast_columns(parts, len(rows))))
    return AnswerColumns((*columns, *doubts))


def _row_by_row(plan: RowPlan, rows: CellRows, doubt: Callable[[Row], float]) -> Iterable[Any]:
    """Tell a doubt of each row; a full column of them would take minutes."""
    if filled := fit.too_many_filled(rows, fit.MOST_LOOKED_AT):
        raise Refused(f"the doubts of {filled} rows are too many at once: name fewer rows, or say what is wanted")
    return row_by_row(plan, rows, doubt)


def _answered_row(plan: RowPlan, row: CellRow) -> tuple[float | str, ...]:
    """Compute the answers of one row among several; what is wrong with it is told in each."""
    try:
        read = read_row(plan, row)
    except Refused as refused:
        return without_a_forecast(plan, row, refused)
    return ("",) * (len(CLUB_ANSWERS) - len(_DOUBTS)) if read is None else club_answers(read.parts)


def _column(answers: Iterable[Any], at: int, apart: dict[int, tuple[float | str, ...]]) -> Iterable[Any]:
    """One answer of all rows; those that were read apart have theirs put in."""

    def put_in() -> list[Any]:
        column = list(answers)
        for n, row in apart.items():
            column[n] = row[at]
        return column

    return _when_asked(put_in) if apart else answers


def _when_asked(work: Callable[[], Iterable[Any]]) -> Iterable[Any]:
    """Yield what some work comes to, which is done only if somebody looks."""
    return chain.from_iterable(part() for part in (work,))


def _doubt(asked: Asked, row: Row) -> float:
    return forecast_doubt(asked, row.parts, row.known, row.doubts, row.taught)


_DOUBTS = (partial(_doubt, "swingweight"), partial(_doubt, "inertia"))


def _forecast_columns(parts: club.Parts, count: int) -> tuple[Iterable[Any], ...]:
    """Forecast `CLUB_ANSWERS` from parts that hold arrays; a column is not turned into cells until asked for."""
    import numpy as np

    def cells(column: Any) -> Iterable[Any]:
        return _when_asked(lambda: np.broadcast_to(column, count).tolist())

    with np.errstate(all="ignore"):  # rows that are not sound may hold anything
        body = club.forecast(parts)
        points = swingweight.points(swingweight.moment(body.mass, body.centre))
        inertia = bodies.inertia_about_butt(body)
        cut_length = club.cut_length(parts)
        trim = np.maximum(club.butt_trim(parts), 0.0)
    labels = map(label_or_message, cells(np.nan_to_num(points)))
    return cells(body.mass), cells(body.centre), cells(points), labels, cells(inertia), cells(cut_length), cells(trim)


@formula(
    "HEFT_CLUB_READS",
    category=CATEGORY,
    help='Says what HEFT_CLUB understands each heading to be, with its unit, or "not used". A heading that names a '
    "part in an unknown unit, or a part twice, is told.",
    arguments=(Argument("headers", "Headings of your own sheet.", Cells("headings"), takes="table"),),
    answers=(Answer("reading", "text"),),
    source="The vocabulary in docs/parts.md.",
    examples=(
        ('=HEFT_CLUB_READS("Shaft wt. [g]")', "shaft mass (g)"),
        ('=HEFT_CLUB_READS("Epxy (g)")', 'not used: did you mean "Epoxy"?'),
    ),
)
def club_reads(headers: CellRows) -> str | tuple[tuple[str, ...], ...]:
    """Tell what each heading was understood to be [-]."""
    texts = ["" if is_blank(cell) else cell if isinstance(cell, str) else show(cell) for row in headers for cell in row]
    lines = [_reads(text, reading) for text, reading in zip(texts, read_headings(texts), strict=True)]
    if len(lines) == 1:
        return lines[0]
    width = len(headers[0])
    return tuple(tuple(lines[at : at + width]) for at in range(0, len(lines), width))


def _reads(text: str, reading: Any) -> str:
    if not text or text.startswith(PASSED_ON):
        return one_line(text)
    part = reading.quantity is None or VOCABULARY[reading.quantity].part
    return label_of(reading) if part or reading.problem else f"{label_of(reading)}, not a part"


@formula(
    "HEFT_HEAD_MASS",
    category=CATEGORY,
    help="Mass of a head that brings the forecast of a row to a swingweight or to a moment of inertia: what to order. "
    "The row's own head mass, if there is one, is not used.",
    arguments=(
        HEADERS,
        ROW,
        Argument(
            "target",
            'Swingweight wanted, as points or a label such as "D2"; or the inertia wanted, in kg cm2.',
            Level(ANY_NUMBER),
        ),
        UNITS,
        SHOP_DEFAULTS,
        Argument(
            "quantity",
            'What the target is: "swingweight" (used when left out) or "inertia".',
            Choice(("swingweight", "inertia")),
            "swingweight",
        ),
    ),
    answers=(Answer("head mass", "mass unit", "mass"),),
    source=MODEL,
    examples=(
        (
            '=HEFT_HEAD_MASS({"Head mass (g)","Club length (in)","Shaft (g)","Shaft (in)","Grip (g)","Epoxy (g)"}, '
            '{"",45,65,46,50,3}, "D3")',
            "199.911",
        ),
        (
            '=HEFT_HEAD_MASS({"Head mass (g)","Club length (in)","Shaft (g)","Shaft (in)","Grip (g)","Epoxy (g)"}, '
            '{"",45,65,46,50,3}, 2850, "g cm", {"Bore to ground (cm)",3.8}, "inertia")',
            "199.121",
        ),
    ),
)
def head_mass(
    headers: CellRows, rows: CellRows, target: float, defaults: CellRows | None, quantity: str
) -> float | str:
    """Return the mass [g] of the head that brings a row's forecast to a swingweight [points] or inertia [kg cm2]."""
    row = read_row(plan_for(headers, defaults, unknown="head_mass"), rows[0], unknown=("head_mass",))
    if row is None:
        return ""
    solve = club.head_mass if quantity == "swingweight" else club.head_mass_for_inertia
    mass = solve(row.parts, target)
    kind = VOCABULARY["head_mass"].kind
    assert isinstance(kind, Quantity)
    if not kind.low <= mass <= kind.high:
        low, high = Measured(kind.low, "mass"), Measured(kind.high, "mass")
        got = Measured(round(mass, 1), "mass")
        raise Refused("no head weighs {0} (from {1} to {2}): look at the target and the row's lengths", got, low, high)
    return mass


@formula(
    "HEFT_PLACE",
    category=CATEGORY,
    help="Where a part sits in the club of a row: the distance of its centre from the butt. It is the position that "
    "HEFT_GRAMS_TO and HEFT_AFTER ask for.",
    arguments=(
        HEADERS,
        ROW,
        Argument("part", 'The part, e.g. "tip weight", "head", "butt weight", "lead tape", "grip".', Typed("text")),
        UNITS,
        SHOP_DEFAULTS,
    ),
    answers=(Answer("position", "length unit", "length"),),
    source=MODEL,
    examples=(
        (
            '=HEFT_PLACE({"Head mass (g)","Club length (cm)","Shaft (g)","Shaft (cm)"}, {200,114.3,65,117}, '
            '"tip weight")',
            "109",
        ),
    ),
)
def place(headers: CellRows, rows: CellRows, part: float | str, defaults: CellRows | None) -> float | str:
    """Distance from the butt [cm] of a part's centre."""
    row = read_row(plan_for(headers, defaults), rows[0])
    if row is None:
        return ""
    assembled = club.assemble(row.parts)
    return assembled[part_named("part", part, tuple(assembled))].centre


def part_named(argument: str, text: float | str, names: Sequence[str]) -> str:
    """Find the part that a word means, by the vocabulary of headings.

    Args:
        argument: what a message calls the word [-].
        text: the word [-].
        names: the parts that it may mean [-].
    """
    words = " ".join(str(text).split())
    quantity = read_heading(f"{words} (g)").quantity
    name = "" if quantity is None else quantity.removesuffix("_mass").replace("_", " ")
    if name not in names:
        raise Refused(f"{argument} must name {', '.join(names[:-1])} or {names[-1]}, got {show(words)}")
    return name
