"""Formulas: what a dry fit teaches about a club's parts, what it will read once finished, and grams unexplained."""

from __future__ import annotations

import re
from functools import partial
from typing import Any, NamedTuple

from evenheft.formulas.answers import READINGS, readings
from evenheft.formulas.arguments import BALANCE, INERTIA, MASS, club_of
from evenheft.formulas.headed.columns import plan_for
from evenheft.formulas.headed.parts import CATEGORY, HEADERS, MODEL, ROW, SHOP_DEFAULTS, part_named
from evenheft.formulas.headed.rows import Row, read_row
from evenheft.formulas.kinds import Choice, Number, Typed
from evenheft.formulas.registry import UNITS, Answer, Argument, formula, what_of
from evenheft.formulas.wording import Measured, show
from evenheft.mechanics import bodies, club
from evenheft.mechanics.bodies import Body
from evenheft.mechanics.forecast_doubt import Asked, Doubts, finished_doubt, rise_doubt, unexplained
from evenheft.mechanics.head_rise import HEADS
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.values import CellRows

FINISHED_DOUBTS: tuple[Asked, ...] = ("mass", "swingweight", "inertia")
_FINISHED = (
    *READINGS,
    Answer("mass doubt", "mass unit", "mass"),
    Answer("doubt", "points"),
    Answer("inertia doubt", "kg cm2"),
)
UNEXPLAINED = (
    Answer("unexplained", "mass unit", "mass"),
    Answer("explained", "mass unit", "mass"),
    Answer("line", "text"),
)
DEFAULT_RISE = club.DEFAULTS["head_rise"] or 0.0
GUESS = (Answer("head rise", "length unit", "length"), Answer("doubt", "length unit", "length"))
PROPAGATED = "JCGM 100:2008 (GUM), 5.1.2 (clause number from memory): each half-width with its leverage."
_LACKING = Argument(
    "lacking",
    'Parts that are not on the dry fit, e.g. "epoxy, ferrule, tape"; "cut grip" where a cut grip stands in for the '
    'grip. "none" where it has them all.',
    Typed("text"),
)
NOTHING_LACKS = Argument(_LACKING.name, f"{_LACKING.help} Nothing lacks when left out.", _LACKING.kind, "none")


@formula(
    "HEFT_HEAD_RISE",
    category=CATEGORY,
    help="The head rise (ground line back up the shaft to the head's centre of mass) with which the forecast agrees "
    "with the dry fit. Keep it with the head: it serves every club with that head model.",
    arguments=(
        HEADERS,
        ROW,
        MASS,
        BALANCE,
        NOTHING_LACKS,
        UNITS,
        SHOP_DEFAULTS,
    ),
    answers=(Answer("head rise", "length unit", "length"),),
    source="Statics: moments about the fulcrum, solved for the head's lever.",
    examples=(
        (
            '=HEFT_HEAD_RISE({"Head mass (g)","Club length (cm)","Shaft (g)","Shaft (cm)","Grip (g)","Epoxy (g)"}, '
            '{200,114.3,65,117,50,3}, 311.2, 84.95, "epoxy")',
            "1.83218",
        ),
    ),
)
def head_rise(
    headers: CellRows,
    rows: CellRows,
    mass: float,
    balance: float,
    lacking: float | str,
    defaults: CellRows | None,
) -> float | str:
    """Head rise [cm] from a dry fit's mass [g] and balance [cm]."""
    row = read_row(plan_for(headers, defaults), rows[0])
    if row is None:
        return ""
    return taught_by(row, mass, balance, *_lacking(row, lacking)).rise


@formula(
    "HEFT_HEAD_RISE_DOUBT",
    category=CATEGORY,
    help="Doubt U of the head rise that a dry fit teaches, from the half-widths of scale, tape and edge: read under "
    "headings such as Balance doubt (cm) in the row or the defaults.",
    arguments=(HEADERS, ROW, MASS, BALANCE, NOTHING_LACKS, UNITS, SHOP_DEFAULTS),
    answers=(Answer("doubt", "length unit", "length"),),
    source=PROPAGATED,
    examples=(
        (
            '=HEFT_HEAD_RISE_DOUBT({"Head mass (g)","Club length (cm)","Shaft (g)","Shaft (cm)","Grip (g)",'
            '"Epoxy (g)"}, {200,114.3,65,117,50,3}, 311.2, 84.95, "epoxy")',
            "0.489944",
        ),
    ),
)
def head_rise_doubt(
    headers: CellRows,
    rows: CellRows,
    mass: float,
    balance: float,
    lacking: float | str,
    defaults: CellRows | None,
) -> float | str:
    """Doubt [cm] of the head rise from a dry fit's mass [g] and balance [cm]."""
    row = read_row(plan_for(headers, defaults), rows[0])
    if row is None:
        return ""
    missing, stand_ins = _lacking(row, lacking)
    bare = taught_by(row, mass, balance, missing, stand_ins).bare
    return rise_doubt(row.parts, row.known, row.doubts, bare, missing)


@formula(
    "HEFT_HEAD_RISE_GUESS",
    category=CATEGORY,
    help="A head rise to start from before anybody has dry-fitted such a head, by the kind of club, and how far it may "
    "be off: our own guess at usual heads.",
    arguments=(
        Argument("kind", "What kind of club it is; other where none of these.", Choice((*HEADS, "other"))),
        what_of(GUESS),
        UNITS,
    ),
    answers=GUESS,
    source="Our own guess, no published source: where a usual head's centre lies, carried along the shaft by its lie.",
    examples=(('=HEFT_HEAD_RISE_GUESS("iron", "head rise")', "0.3"), ('=HEFT_HEAD_RISE_GUESS("iron", "doubt")', "0.6")),
)
def head_rise_guess(kind: str) -> tuple[float, float]:
    """Head rise and its half-width [cm] of a kind of club."""
    if kind == "other":
        return DEFAULT_RISE, Doubts().head_rise
    return round(HEADS[kind].rise, 1), round(HEADS[kind].doubt, 1)


@formula(
    "HEFT_FINISHED",
    category=CATEGORY,
    help="What a dry fit will read once it has all its parts: the bench's mass and balance, plus what is lacking at "
    "its place in the club.",
    arguments=(
        HEADERS,
        ROW,
        MASS,
        BALANCE,
        _LACKING,
        what_of(_FINISHED),
        UNITS,
        SHOP_DEFAULTS,
        Argument(
            "inertia",
            "Moment of inertia of the dry fit, in kg cm2, where it was swung; that of its parts when left out.",
            INERTIA.kind,
            None,
        ),
        Argument(
            "inertia_doubt",
            "Doubt U of that inertia, in kg cm2, e.g. from HEFT_INERTIA_DOUBT; 0 when left out.",
            Number(0, 20000, "kg cm2"),
            0.0,
        ),
    ),
    answers=_FINISHED,
    source=MODEL,
    examples=(
        (
            '=HEFT_FINISHED({"Head mass (g)","Club length (cm)","Shaft (g)","Shaft (cm)","Grip (g)","Epoxy (g)"}, '
            '{200,114.3,65,117,50,3}, 311.2, 84.95, "epoxy", "points")',
            "31.7206",
        ),
    ),
)
def finished(
    headers: CellRows,
    rows: CellRows,
    mass: float,
    balance: float,
    lacking: float | str,
    defaults: CellRows | None,
    inertia: float | None,
    inertia_doubt: float,
) -> tuple[Any, ...] | str:
    """Forecast readings [g, cm, points, label, kg cm2] of the finished club from a dry fit's [g, cm, kg cm2]."""
    row = read_row(plan_for(headers, defaults), rows[0])
    if row is None:
        return ""
    missing, stand_ins = _lacking(row, lacking)
    taught_by(row, mass, balance, missing, stand_ins)
    swung = inertia is not None
    dry_fit = club_of(mass, balance, inertia)

    def doubt_of(asked: Asked) -> float:
        return finished_doubt(
            asked, row.parts, row.known, row.doubts, dry_fit, missing, stand_ins,
            swung=swung, inertia_doubt=inertia_doubt,
        )  # fmt: skip

    done = club.finished(row.parts, dry_fit, missing, stand_ins, swung=swung)
    return (*readings(done), *(partial(doubt_of, asked) for asked in FINISHED_DOUBTS))


@formula(
    "HEFT_UNEXPLAINED",
    category=CATEGORY,
    help="Whether a club on the bench weighs what its parts do: grams unexplained (negative: it weighs less), how many "
    "the weighings can explain, and a line that asks about more, blank where there is nothing to ask.",
    arguments=(HEADERS, ROW, MASS, NOTHING_LACKS, what_of(UNEXPLAINED), UNITS, SHOP_DEFAULTS),
    answers=UNEXPLAINED,
    source=f"{PROPAGATED} At least 0.5 g is never asked about.",
    examples=(
        (
            '=HEFT_UNEXPLAINED({"Head mass (g)","Club length (cm)","Shaft (g)","Shaft (cm)","Grip (g)","Epoxy (g)"}, '
            '{200,114.3,65,117,50,3}, 315.2, "epoxy", "unexplained")',
            "4.03333",
        ),
    ),
)
def unexplained_mass(
    headers: CellRows,
    rows: CellRows,
    mass: float,
    lacking: float | str,
    defaults: CellRows | None,
) -> tuple[Any, ...] | str:
    """Grams unexplained, grams explained [g], and a line [-] for a club's mass [g]."""
    row = read_row(plan_for(headers, defaults), rows[0])
    if row is None:
        return ""
    missing, stand_ins = _lacking(row, lacking)
    over, most = unexplained(row.parts, row.known, row.doubts, mass, missing, stand_ins)
    return over, most, "" if abs(over) <= most else _ask_about(over, most)


def _ask_about(over: float, most: float) -> str:
    grams, explained = show(round(abs(over), 1)), show(round(most, 1))
    if over > 0:
        return (
            f"{grams} g unexplained: it weighs more than its parts, and the weighings explain {explained} g. "
            "What is on it that is not typed?"
        )
    return (
        f"{grams} g unexplained: it weighs less than its parts, and the weighings explain {explained} g. "
        "What is it still lacking?"
    )


class Learnt(NamedTuple):
    """What a dry fit teaches."""

    rise: float
    """The head rise [cm]."""
    bare: Body
    """The dry fit without its stand-ins [g, cm]."""


def taught_by(row: Row, mass: float, balance: float, missing: set[str], stand_ins: list[Body]) -> Learnt:
    """Solve for the head rise; refuse a dry fit that does not weigh what its parts do, or whose head could not be.

    Args:
        row: the club's parts and half-widths [g, cm].
        mass: mass of the dry fit [g].
        balance: distance from the butt to its balance point [cm].
        missing: names of the parts that are not on it [-].
        stand_ins: what is on it instead [g, cm, g cm2].
    """
    over, most = unexplained(row.parts, row.known, row.doubts, mass, missing, stand_ins)
    if abs(over) > most:
        raise Refused(
            "mass must be that of the parts on the dry fit, {0}, within {1}, got {2}: {3} unexplained. What is "
            "lacking, or not typed?",
            *(Measured(round(grams, 2), "mass") for grams in (mass - over, most, mass, abs(over))),
        )
    bare = Body(mass, balance)
    for stand_in in stand_ins:
        bare = bodies.without(bare, stand_in)
    rise = club.head_rise(row.parts, bare, missing)
    if not club.LOWEST_HEAD_RISE <= rise <= club.HIGHEST_HEAD_RISE:
        raise Refused(
            "no head has its centre {0} above the ground line (from {1} to {2}): look at head mass, club length and "
            "the dry fit's balance",
            *(Measured(x, "length") for x in (round(rise, 2), club.LOWEST_HEAD_RISE, club.HIGHEST_HEAD_RISE)),
        )
    return Learnt(rise, bare)


MAY_LACK = ("grip", "tape", "ferrule", "epoxy", "adapter", "tip weight", "butt weight", "lead tape", "other")
CUT_GRIP = "cut grip"


def _lacking(row: Row, lacking: float | str) -> tuple[set[str], list[Body]]:
    """Parts that are not on the dry fit, and what stands in for one of them."""
    words = [word for word in re.split(r"[,;+/&\n]|\band\b", str(lacking)) if word.strip()]
    if [word.strip().lower() for word in words] in (["none"], ["nothing"]):
        return set(), []
    missing: set[str] = set()
    stand_ins: list[Body] = []
    for word in words:
        name = part_named("lacking", word, (*MAY_LACK, CUT_GRIP))
        if name == CUT_GRIP:
            if row.cut_grip_mass is None:
                raise Refused("a cut grip was on the dry fit, so its mass must be given: add Cut grip (g)")
            stand_ins = [bodies.spread_from_butt(row.cut_grip_mass, row.cut_grip_balance)]
            name = "grip"
        if f"{name.replace(' ', '_')}_mass" not in row.masses:
            raise Refused(f"{name} is still to come, so its mass must be given: fill in {name.capitalize()} (g)")
        missing.add(name)
    return missing, stand_ins
