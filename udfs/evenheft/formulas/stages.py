"""Formulas: at which stage a club was measured, and which of its numbers therefore count."""

from __future__ import annotations

from evenheft.formulas.kinds import Cells, Choice, finite_number
from evenheft.formulas.registry import Answer, Argument, formula, what_of
from evenheft.formulas.wording import PASSED_ON, is_blank
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.values import CellError, CellRows

CATEGORY = "Bench"
STAGES = ("dry fit", "finished", "after Fix")
"""The stages at which a club lies on the bench, in the order of the work."""
_ANSWERS = (
    Answer("stage", "word"),
    Answer("mass", "as typed"),
    Answer("balance", "as typed"),
    Answer("missing", "word"),
)


def _typed(name: str, help: str) -> Argument:
    """Return an argument that is one cell as it is: blank, a number, a text with its unit, a message."""
    return Argument(name, help, Cells("number or text"), takes="table", quiet=False)


@formula(
    "HEFT_STAGE",
    category=CATEGORY,
    help="Which measurement of a club counts: the last stage at which a mass or a balance was typed, its mass, its "
    "balance, and which of the two is still missing.",
    arguments=(
        _typed("dry_mass", "Mass of the dry fit, as typed; blank where it was not weighed."),
        _typed("dry_balance", "Balance of the dry fit, as typed; blank where it was not measured."),
        _typed("finished_mass", "Mass of the finished club, as typed, or blank."),
        _typed("finished_balance", "Balance of the finished club, as typed, or blank."),
        _typed("after_mass", "Mass of the club after it was fixed, as typed, or blank."),
        _typed("after_balance", "Balance of the club after it was fixed, as typed, or blank."),
        what_of(_ANSWERS),
        Argument("at", 'The stage that is asked for: "dry fit", "finished" or "after Fix"; the last one that was '
                 "measured when left out.", Choice(STAGES), None),
    ),
    answers=_ANSWERS,
    source="Definition.",
    examples=(
        ('=HEFT_STAGE(421.2, 72.1, 424.8, 71.95, "", "", "stage")', "finished"),
        ('=HEFT_STAGE(421.2, 72.1, 424.8, "", "", "", "missing")', "balance"),
        ('=HEFT_STAGE(421.2, 72.1, 424.8, 71.95, "", "", "mass", "dry fit")', "421.2"),
    ),
)  # fmt: skip
def stage(
    dry_mass: CellRows,
    dry_balance: CellRows,
    finished_mass: CellRows,
    finished_balance: CellRows,
    after_mass: CellRows,
    after_balance: CellRows,
    at: str | None,
) -> tuple[float | str, ...] | str:
    """Stage, mass and balance as typed, and what is missing [-]."""
    given = zip(
        STAGES, (dry_mass, finished_mass, after_mass), (dry_balance, finished_balance, after_balance), strict=True
    )
    measured = {name: (_cell(mass), _cell(balance)) for name, mass, balance in given}
    if at is None:
        filled = [name for name, cells in measured.items() if cells != ("", "")]
        if not filled:
            return ""
        at = filled[-1]
    mass, balance = measured[at]
    if (mass, balance) == ("", ""):
        return ""
    return at, mass, balance, "mass" if mass == "" else "balance" if balance == "" else ""


def _cell(rows: CellRows) -> float | str:
    """Return the one cell of an argument as a cell can show it."""
    if len(rows) > 1 or (rows and len(rows[0]) > 1):
        raise Refused("each mass and each balance must be one cell")
    raw = rows[0][0] if rows else None
    if is_blank(raw):
        return ""
    if isinstance(raw, CellError):
        return f"{PASSED_ON}a cell of the bench shows {raw.code}"
    number = finite_number(raw)
    return number if number is not None else str(raw)
