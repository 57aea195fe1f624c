"""The one way to call a formula: blanks, messages, bad input and ranges are the same in every host.

A host turns what its spreadsheet hands over into plain Python values (number, text, bool,
None for an empty cell, `CellError`, and a sequence of rows for a range), calls `call`, and
gives the answer back: a number, a text, or a tuple of rows.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain, compress, repeat
from operator import and_
from typing import Any, TypeAlias, TypeGuard

from evenheft.formulas.fit import Cell as Cell
from evenheft.formulas.fit import LooksLeft, all_cells, safe, unsigned_zeros
from evenheft.formulas.kinds import all_blank
from evenheft.formulas.registry import AnswerColumns, Argument, Formula
from evenheft.formulas.wording import DEFAULT_SCALE, PASSED_ON, Line, Scale, is_blank, message_of, what_is_wrong
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.text import one_line
from evenheft.ooxml.values import CellRows

Grid: TypeAlias = tuple[tuple[Cell, ...], ...]

PLAIN = frozenset((float, int))
MOST_READ_AGAIN = 2_000_000
"""How many cells all answers of one call together may read out of ranges that each of them reads [-]."""
_SHORT_TABLE = 100
"""Rows of a table that is headings or a shop's defaults: these are read once for all answers [-]."""
_FEW = 16
"""Cells that are answered one by one rather than halved once more."""


def call(formula: Formula, given: Sequence[object]) -> Cell | Grid:
    """Answer a formula.

    Args:
        formula: an entry of the registry [-].
        given: the arguments as the host found them, trailing ones left out or None [-].

    Returns:
        A number or text; for ranges, or for several numbers at once, a tuple of rows. What
        cannot be answered is told in a text that begins "! ". It never raises for what a
        cell may hold, and never returns nan or inf.

    >>> from evenheft.formulas import REGISTRY
    >>> call(REGISTRY["HEFT_MOMENT"], [430, 75.56])
    17200.0
    >>> call(REGISTRY["HEFT_MOMENT"], [[[430], [None]], 75.56])
    ((17200.0,), ('',))
    >>> call(REGISTRY["HEFT_MOMENT"], [430, 753])
    '! balance must be more than 0 cm and less than 145 cm, got 753: millimetres?'
    """
    arguments = formula.arguments
    if len(given) > len(arguments):
        most = f"at most {len(arguments)} argument{'s' * (len(arguments) > 1)}" if arguments else "no arguments"
        return f"{PASSED_ON}{formula.name} takes {most}, got {len(given)}"
    if len(given) < formula.required:
        return f"{PASSED_ON}{arguments[len(given)].name} must be given"
    values: list[Any] = [*map(_single, given, arguments), *repeat(None, len(arguments) - len(given))]
    shaped = [i for i, v in enumerate(values) if _is_shaped(v, arguments[i])]
    if not shaped:
        return _laid(_answer(formula, values))
    first = shaped[0]
    rows, columns = _answer_shape(values[first], arguments[first])
    for other in shaped[1:]:
        shape = _answer_shape(values[other], arguments[other])
        if shape != (rows, columns):
            return (
                f"{PASSED_ON}{arguments[other].name} must be a range of {rows} x {columns} cells "
                f"like {arguments[first].name}, got {' x '.join(map(str, shape))}"
            )
    all_wanted = formula.what_at is not None and is_blank(values[formula.what_at])
    if columns > 1 and all_wanted:
        return f"{PASSED_ON}what must be given where the ranges are wider than one column"
    read_again = rows * columns * sum(map(_size, values, arguments))
    if read_again > MOST_READ_AGAIN:
        wide = next(a.name for a, v in zip(arguments, values, strict=True) if _size(v, a))
        return (
            f"{PASSED_ON}{rows * columns} cells cannot be answered over ranges as long as {wide}: "
            f"name only the cells that are filled in"
        )
    for at in shaped:
        if arguments[at].takes == "row":
            values[at] = [(row,) for row in values[at]]
        else:
            values[at] = list(chain.from_iterable(values[at]))
    try:
        answers = _answer_all(formula, values, set(shaped), rows * columns, LooksLeft())
    except Refused as too_many:
        return message(str(too_many))
    if _has_tuple(answers) and any(map(_is_table, answers)):
        tables = [a.name for a, v in zip(arguments, values, strict=True) if a.takes == "table" and v and len(v) > 1]
        table = tables[0] if tables else "a range"
        return f"{PASSED_ON}{arguments[first].name} must be one cell where {table} has several rows"
    return _as_grid(answers, columns, len(formula.answers) if all_wanted else 1)


def _size(value: object, argument: Argument) -> int:
    """Count the cells of a range that every one of several answers reads anew."""
    if not _is_range(value) or not value or argument.takes not in ("range", "table"):
        return 0
    if argument.takes == "table" and len(value) <= _SHORT_TABLE:
        return 0
    return len(value) * len(value[0])


def _single(raw: object, argument: Argument) -> object:
    """Take a range of one cell for that cell, except for an argument that wants a range."""
    if _is_range(raw):
        return raw[0][0] if argument.takes == "cell" and _shape(raw) == (1, 1) else raw
    return [[raw]] if argument.takes != "cell" and raw is not None else raw


def _is_shaped(value: object, argument: Argument) -> bool:
    """Whether a value is a range that is answered part by part."""
    if argument.takes == "row":
        return _is_range(value) and len(value) > 1
    return argument.takes == "cell" and _is_range(value)


def _answer_shape(rows: CellRows, argument: Argument) -> tuple[int, int]:
    """Rows and columns of the answers to a range."""
    return (len(rows), 1) if argument.takes == "row" else _shape(rows)


def _is_range(raw: object) -> TypeGuard[CellRows]:
    return isinstance(raw, list | tuple)


def _laid(answer: Any) -> Cell | Grid:
    """Lay out the answer to single values as a host takes it: one row of cells is a table of one row."""
    laid: Cell | Grid = (answer,) if isinstance(answer, tuple) and not _is_table(answer) else answer
    return laid


def _is_table(answer: object) -> bool:
    """Whether an answer is rows of cells, not a cell or one row of them."""
    return isinstance(answer, tuple) and bool(answer) and isinstance(answer[0], tuple)


def _has_tuple(answers: list[Any]) -> bool:
    """Whether any answer is more than a cell: the cheapest look at all answers of a long range."""
    return tuple in set(map(type, answers))


def _shape(rows: CellRows) -> tuple[int, int]:
    return len(rows), len(rows[0]) if rows else 0


def _answer_all(formula: Formula, values: list[Any], shaped: set[int], count: int, looks: LooksLeft) -> list[Any]:
    """Answers for `count` cells: all at once where every cell is a plain good number.

    Where one is not, the rows of numbers are answered together and the others one by one; and
    where a number is refused, each half is tried by itself, down to a few cells. So a blank or
    bad row does not make its neighbours slow.
    """
    plain = _answer_plain(formula, values, shaped)
    if plain is not None:
        return plain
    if count <= _FEW:
        return [_looked(formula, _row(values, shaped, n), looks) for n in range(count)]
    numbers = [True] * count
    for at in shaped:
        numbers = list(map(and_, numbers, map(PLAIN.__contains__, map(type, values[at]))))
    if 0 < sum(numbers) < count:
        together = [list(compress(v, numbers)) if i in shaped else v for i, v in enumerate(values)]
        answers = iter(_answer_all(formula, together, shaped, sum(numbers), looks))
        return [
            next(answers) if ok else _looked(formula, _row(values, shaped, n), looks) for n, ok in enumerate(numbers)
        ]
    half = count // 2
    halves = ((slice(half), half), (slice(half, None), count - half))
    return [
        answer
        for part, size in halves
        for answer in _answer_all(
            formula, [v[part] if i in shaped else v for i, v in enumerate(values)], shaped, size, looks
        )
    ]


def _looked(formula: Formula, values: list[Any], looks: LooksLeft) -> Any:
    """Answer one cell of many by itself; a blank one costs next to nothing."""
    answer = _answer(formula, values)
    if answer != "":
        looks.one_more()
    return answer


def _row(values: list[Any], shaped: set[int], n: int) -> list[Any]:
    return [v[n] if i in shaped else v for i, v in enumerate(values)]


def _answer_plain(formula: Formula, values: list[Any], shaped: set[int]) -> list[Any] | None:
    """Answers read column by column, or None where any cell needs a look of its own.

    Plain `map` over Python numbers beats numpy here: cells arrive and leave as Python
    objects, and converting them twice costs more than the arithmetic saves.
    """
    try:
        scale, pick = _controls(formula, values)
        columns: list[Any] = []
        for i, (argument, value) in enumerate(zip(formula.arguments, values, strict=True)):
            if i in (formula.units_at, formula.what_at):
                if i in shaped:
                    return None
                continue
            if i in shaped:
                column = value if argument.raw else argument.kind.read_plain(value, scale)
                if column is None:
                    return None
                columns.append(column)
            elif argument.raw and value is not None:
                columns.append(repeat(value))
            elif _message_in(value):
                return None
            elif argument.takes == "range" and value is not None:
                if argument.quiet and _is_blank(value):
                    return None
                columns.append(repeat(_read_range(argument, value, scale)))
            elif not is_blank(value):
                columns.append(repeat(argument.kind.read(value, scale)))
            elif argument.required:
                return None
            else:
                columns.append(repeat(argument.default))
        answers = list(map(formula.function, *columns))
        if len(formula.answers) > 1 or formula.answers[0].dimension or not all_cells(answers):
            answers = [_answered(formula, answer, scale, pick) for answer in answers]
        else:
            answers = unsigned_zeros(answers)
    except (ValueError, ArithmeticError):
        return None  # one by one, so that each bad cell is told in its own row
    return answers


def _answer(formula: Formula, values: Sequence[Any]) -> Any:
    """Answer for one value per argument: a cell, a row of cells, or rows of cells."""
    for argument, value in zip(formula.arguments, values, strict=True):
        passed = value is not None and not argument.raw and _message_in(value)
        if passed:
            return passed
    for argument, value in zip(formula.arguments, values, strict=True):
        if argument.required and argument.quiet and _is_blank(value):
            return ""
    scale = DEFAULT_SCALE
    try:
        scale, pick = _controls(formula, values)
        read = _read_all(formula, values, scale)
        return _answered(formula, formula.function(*read), scale, pick)
    except Refused as refused:
        return message(message_of(refused, scale))
    except ArithmeticError:
        return f"{PASSED_ON}these numbers together describe no club"


def message(text: str) -> str:
    r"""Write a reason as the one line that a cell shows, whatever a stranger's text has put into it.

    >>> message("unit x\x1b[2J is not known")
    '! unit x [2J is not known'
    """
    return one_line(PASSED_ON + text)


def _message_in(value: object) -> str | None:
    """Find the first message from another formula in a cell or a range."""
    if isinstance(value, str):
        return one_line(value) if value.startswith(PASSED_ON) else None
    if _is_range(value):
        return next((found for row in value for cell in row if (found := _message_in(cell))), None)
    return None


def _is_blank(value: object) -> bool:
    return all_blank(value) if _is_range(value) else is_blank(value)


def _controls(formula: Formula, values: Sequence[Any]) -> tuple[Scale, int | None]:
    """Read the scale that `units` names and the place of the answer that `what` picks."""
    scale, pick = DEFAULT_SCALE, None
    if formula.units_at is not None and not is_blank(values[formula.units_at]):
        scale = _read(formula.arguments[formula.units_at], values[formula.units_at], scale)
    if formula.what_at is not None and not is_blank(values[formula.what_at]):
        word = _read(formula.arguments[formula.what_at], values[formula.what_at], scale)
        pick = [answer.name for answer in formula.answers].index(word)
    return scale, pick


def _read_all(formula: Formula, values: Sequence[Any], scale: Scale) -> list[Any]:
    """Every argument but `units` and `what`, read; all that is wrong is told at once."""
    read: list[Any] = []
    wrong: list[str] = []
    for i, argument in enumerate(formula.arguments):
        if i in (formula.units_at, formula.what_at):
            continue
        value = values[i]
        try:
            if argument.takes != "cell" and (value is None or (not argument.required and _is_blank(value))):
                read.append(() if argument.required else argument.default)
            elif argument.raw:
                read.append(value)
            elif argument.takes == "range":
                read.append(_read_range(argument, value, scale))
            elif is_blank(value):
                read.append(argument.default)
            else:
                read.append(_read(argument, value, scale))
        except Refused as refused:
            wrong.append(message_of(refused, scale))
    if wrong:
        raise Refused("; ".join(wrong))
    return read


def _read_range(argument: Argument, rows: CellRows, scale: Scale) -> tuple[tuple[Any, ...], ...]:
    """Read a range, its blanks as None; a bad cell is told with its number."""
    single = len(rows) == 1 and len(rows[0]) == 1
    read = []
    number, looks = 0, LooksLeft()
    for row in rows:
        line: list[Any] = []
        for cell in row:
            number += 1
            if type(cell) is str and cell:
                looks.one_more()
            where = "" if single else f" (cell {number})"
            line.append(None if is_blank(cell) else _read(argument, cell, scale, where))
        read.append(tuple(line))
    return tuple(read)


def _read(argument: Argument, raw: object, scale: Scale, where: str = "") -> Any:
    try:
        return argument.kind.read(raw, scale)
    except Refused:
        raise
    except ValueError as error:
        raise Refused(what_is_wrong(argument.name + where, raw, error)) from None


def _answered(formula: Formula, answer: Any, scale: Scale, pick: int | None) -> Any:
    """Give an answer in the call's units, the picked one where `what` asked for one, and always finite."""
    if isinstance(answer, AnswerColumns):
        return _answered_columns(formula, answer, scale, pick)
    if len(formula.answers) == 1:
        if isinstance(answer, tuple):
            return tuple(tuple(map(safe, row)) for row in answer)
        return _in_unit(answer, formula, 0, scale)
    if _is_table(answer):
        return tuple(_answered_row(formula, row, scale, pick) for row in answer)
    if isinstance(answer, str):  # a blank row or a message, in place of all its answers
        return safe(answer)
    row = _answered_row(formula, answer, scale, pick)
    return row[0] if pick is not None else row


def _answered_columns(formula: Formula, columns: AnswerColumns, scale: Scale, pick: int | None) -> Grid:
    """Give the rows of a table's answers; a column is worked out and told at once, and only where it is wanted."""
    picked = range(len(formula.answers)) if pick is None else (pick,)
    shown = []
    for at in picked:
        column = list(columns[at])
        dimension = formula.answers[at].dimension
        if dimension is not None and (factor := scale.unit(dimension).factor) != 1.0:
            column = [value if isinstance(value, str) else value / factor for value in column]
        shown.append(unsigned_zeros(column) if all_cells(column) else list(map(safe, column)))
    return tuple(zip(*shown, strict=True))


def _answered_row(formula: Formula, row: Sequence[Any], scale: Scale, pick: int | None) -> tuple[Cell, ...]:
    if isinstance(row, str):  # a row that could not be answered says so in every cell asked for
        return (safe(row),) * (1 if pick is not None else len(formula.answers))
    picked = range(len(formula.answers)) if pick is None else (pick,)
    return tuple(_in_unit(row[i], formula, i, scale) for i in picked)


def _in_unit(value: Any, formula: Formula, at: int, scale: Scale) -> Cell:
    dimension = formula.answers[at].dimension
    if callable(value):  # one that takes work is worked out only where it is picked
        value = value()
    if isinstance(value, Line):
        return value.message(scale)
    if dimension is not None and not isinstance(value, str):
        value = value / scale.unit(dimension).factor
    return safe(value)


def _as_grid(cells: list[Any], columns: int, width: int) -> Grid:
    """Cells laid back into the shape of the ranges; several answers per row stand side by side."""
    if _has_tuple(cells):
        width = max(width, *(len(cell) for cell in cells if isinstance(cell, tuple)))
    if width > 1:  # one column in, one row of answers per cell out, also where none could be answered
        return tuple(cell if isinstance(cell, tuple) else (cell,) + ("",) * (width - 1) for cell in cells)
    return tuple(zip(*[iter(cells)] * columns, strict=True))
