"""Formulas: what is wrong with a list that is kept by number, or in which a thing may stand only once."""

from __future__ import annotations

from evenheft.formulas.kinds import Cells, finite_number
from evenheft.formulas.registry import Answer, Argument, formula
from evenheft.formulas.telling import cell_text
from evenheft.formulas.wording import PASSED_ON, is_blank, show
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.values import CellRows

CATEGORY = "Tools"


@formula(
    "HEFT_ROLL",
    category=CATEGORY,
    help="Looks through a list that is kept by number: tells a row that is filled in and has no number, a number that "
    "stands twice, and a number that this list or another one has lost. Blank where all is well.",
    arguments=(
        Argument("numbers", "Column with each row's number; a heading above is passed over.", Cells("column"),
                 takes="table", quiet=False),
        Argument("filled", "Columns of equal height with what is typed in each row.", Cells("range"), takes="table"),
        Argument("called", 'What the message calls the list, e.g. "Bench"; "the list" when left out.',
                 Cells("text"), None, takes="table"),
        Argument("needed", "Two columns of the list that this one goes with, such as Order: numbers, and the names of "
                 "those that are in use.", Cells("range"), None, takes="table"),
    ),
    answers=(Answer("line", "text"),),
    source="Definition.",
    examples=(
        ('=HEFT_ROLL({1;2;3}, {"7-iron";"8-iron";"9-iron"})', ""),
        ('=HEFT_ROLL({1;"";3}, {"7-iron";"8-iron";"9-iron"}, "Order")',
         "! a row on Order is filled in and has no number: 8-iron"),
        ('=HEFT_ROLL({1;3}, {431;433}, "Bench", {1,"7-iron";2,"8-iron";3,"9-iron"})',
         "! club 2 (8-iron) has lost its row on Bench"),
    ),
)  # fmt: skip
def roll(numbers: CellRows, filled: CellRows, called: CellRows | None, needed: CellRows | None) -> str:
    """Tell what is wrong with the numbers of a list [-], or ""."""
    if len(numbers) != len(filled):
        raise Refused("filled must be as high as numbers")
    where = cell_text(called[0][0]) if called else "the list"
    names = _names(needed or ())
    seen: set[float] = set()
    for (cell, *_), row in zip(numbers, filled, strict=True):
        number, typed = finite_number(cell), next((c for c in row if _is_typed(c)), None)
        if number is not None and number in seen:
            raise Refused(f"number {show(number)} stands twice on {where}")
        if number is not None:
            seen.add(number)
            if needed and typed is not None and number not in names:
                raise Refused(f"no club has number {show(number)}, which is filled in on {where}: {show(typed)}")
        elif is_blank(cell) and typed is not None:
            raise Refused(f"a row on {where} is filled in and has no number: {show(typed)}")
    for number, name in names.items():
        if name and number not in seen:
            raise Refused(f"club {show(number)} ({name}) has lost its row on {where}")
    return ""


def _is_typed(cell: object) -> bool:
    return not is_blank(cell) and not (isinstance(cell, str) and cell.startswith(PASSED_ON))


def _names(rows: CellRows) -> dict[float, str]:
    """Read numbers [-] and their names, "" where one is not in use; of a number that stands twice, the first."""
    found: dict[float, str] = {}
    for row in rows:
        number = finite_number(row[0])
        if number is not None:
            found.setdefault(number, cell_text(row[1]) if len(row) > 1 else "")
    return found


@formula(
    "HEFT_TWICE",
    category=CATEGORY,
    help="Tells which row of a list stands twice: the same in all its columns, capitals and blanks apart. Rows with a "
    "blank cell are passed over. Blank where each stands once.",
    arguments=(
        Argument("cells", "One column, or several side by side that count together.", Cells("range"), takes="table"),
        Argument("called", 'What the message calls a row, e.g. "club"; "row" when left out.', Cells("text"), None,
                 takes="table"),
    ),
    answers=(Answer("line", "text"),),
    source="Definition.",
    examples=(
        ('=HEFT_TWICE({"7-iron";"";""})', ""),
        ('=HEFT_TWICE({"7-iron";"8-iron";"7-Iron"}, "club")', "! club 7-Iron stands twice"),
        ('=HEFT_TWICE({"Irons",3;"Wedges",3;"Irons",3}, "place")', "! place Irons 3 stands twice"),
    ),
)  # fmt: skip
def twice(cells: CellRows, called: CellRows | None) -> str:
    """Tell the first row that stands twice [-], or ""."""
    word = cell_text(called[0][0]) if called else "row"
    seen: set[tuple[str, ...]] = set()
    for row in cells:
        texts = [" ".join(cell_text(cell).split()) for cell in row]
        if not all(texts) or any(text.startswith(PASSED_ON) for text in texts):
            continue
        key = tuple(text.casefold() for text in texts)
        if key in seen:
            raise Refused(f"{word} {' '.join(texts)} stands twice")
        seen.add(key)
    return ""
