"""Kinds of argument: what a cell may hold, and the one line that tells what it may not."""

from __future__ import annotations

import datetime
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenheft.formulas.kinds import Choice, Kind, Label, Level, Number, Quantity, Typed, UnitPair
from evenheft.formulas.wording import DEFAULT_SCALE, Measured, Scale, is_blank, message_of, scale_named, show
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.values import CellError

MASS = Quantity("mass", 50, 2000, typical=(200, 1000))
BALANCE = Quantity("length", 0, 200, open_ends=True, typical=(40, 120))
PLACE = Number(1, 1000, whole=True)
INCHES = scale_named("oz in")

EVERY_KIND: tuple[Kind, ...] = (
    MASS,
    BALANCE,
    Quantity("length", 5, 100),
    PLACE,
    Number(0.5, 5, "s"),
    Number(0, 1, above_low=True),
    Level(Number(-1e6, 1e6)),
    Label(),
    Choice(("first", "increment")),
    UnitPair(),
    Typed(),
)


@pytest.mark.parametrize("raw", [None, "", " ", "\t\n", "\u00a0"])
def test_blank_cells(raw: object) -> None:
    assert is_blank(raw)


@pytest.mark.parametrize("raw", [0, 0.0, False, "0", "x", CellError("#N/A")])
def test_cells_that_hold_something(raw: object) -> None:
    assert not is_blank(raw)


@pytest.mark.parametrize(
    ("raw", "shown"),
    [
        (753.0, "753"), (753, "753"), (29.6, "29.6"), (0.1 + 0.2, "0.3"), (1 / 3, "0.333333"), (35.56, "35.56"),
        (1e300, "1e+300"), (-3.0, "-3"), (float("nan"), "nan"), (True, "TRUE"), (False, "FALSE"),
        (CellError("#N/A"), "#N/A"), ("two\nlines", "two lines"), ("x" * 50, "x" * 37 + "..."),
        (datetime.date(2026, 11, 25), "the date or time 2026-11-25"),
    ],
)  # fmt: skip
def test_a_message_quotes_a_cell_on_one_short_line(raw: object, shown: str) -> None:
    assert show(raw) == shown


@pytest.mark.parametrize(
    ("kind", "scale", "raw", "value"),
    [
        (MASS, DEFAULT_SCALE, 431, 431.0),
        (MASS, DEFAULT_SCALE, "15.2 oz", 15.2 * 28.349523125),
        (MASS, INCHES, 15.2, 15.2 * 28.349523125),
        (MASS, INCHES, "431 g", 431.0),
        (MASS, DEFAULT_SCALE, 50.0, 50.0),
        (BALANCE, INCHES, 29.5, 29.5 * 2.54),
        (BALANCE, INCHES, '29 1/2"', 29.5 * 2.54),
        (PLACE, DEFAULT_SCALE, 3.0, 3.0),
        (PLACE, DEFAULT_SCALE, "3", 3.0),
        (Level(PLACE), DEFAULT_SCALE, "D2", 32.0),
        (Level(PLACE), DEFAULT_SCALE, 32, 32.0),
        (Label(), DEFAULT_SCALE, "d 2.5", 32.5),
        (Choice(("Grip cap", "shaft end")), DEFAULT_SCALE, " grip  CAP ", "Grip cap"),
        (Typed(), DEFAULT_SCALE, 2, 2.0),
        (Typed(), DEFAULT_SCALE, "44 1/2 in", "44 1/2 in"),
    ],
)
def test_good_cells_are_read(kind: Kind, scale: Scale, raw: object, value: object) -> None:
    read = kind.read(raw, scale)
    assert read == (pytest.approx(value, rel=1e-14) if isinstance(value, float) else value)
    assert type(read) is type(value)


def test_units_become_a_scale() -> None:
    assert UnitPair().read("OZ  in", DEFAULT_SCALE) == INCHES


@pytest.mark.parametrize(
    ("kind", "scale", "raw", "message"),
    [
        (MASS, DEFAULT_SCALE, 49.9, "must be from 50 g to 2000 g\n"),
        (MASS, DEFAULT_SCALE, 15.2, "must be from 50 g to 2000 g\n: ounces?"),
        (MASS, DEFAULT_SCALE, "15.2", "must be from 50 g to 2000 g\n: ounces?"),
        (MASS, DEFAULT_SCALE, "431 kg", "must be from 50 g to 2000 g\n"),
        (MASS, DEFAULT_SCALE, 0.43, "must be from 50 g to 2000 g\n: kilograms?"),
        (MASS, INCHES, 431.0, "must be from 1.7637 oz to 70.5479 oz\n: grams?"),
        (BALANCE, DEFAULT_SCALE, 0.0, "must be more than 0 cm and less than 200 cm\n"),
        (BALANCE, DEFAULT_SCALE, 753.0, "must be more than 0 cm and less than 200 cm\n: millimetres?"),
        (BALANCE, INCHES, 100.0, "must be more than 0 in and less than 78.7402 in\n: centimetres?"),
        (BALANCE, DEFAULT_SCALE, True, "must be a length such as 75.3 or 29 1/2 in"),
        (BALANCE, DEFAULT_SCALE, CellError("#N/A"), "must be a length such as 75.3 or 29 1/2 in"),
        (BALANCE, DEFAULT_SCALE, float("nan"), "must be a length such as 75.3 or 29 1/2 in"),
        (BALANCE, DEFAULT_SCALE, float("inf"), "must be a length such as 75.3 or 29 1/2 in"),
        (PLACE, DEFAULT_SCALE, 2.5, "must be a whole number from 1 to 1000"),
        (PLACE, DEFAULT_SCALE, 0, "must be a whole number from 1 to 1000"),
        (PLACE, DEFAULT_SCALE, True, "must be a number"),
        (Number(0.5, 5, "s"), DEFAULT_SCALE, 19, "must be from 0.5 to 5 s"),
        (Number(0, 1, "g", above_low=True), DEFAULT_SCALE, 0, "must be more than 0 g and at most 1 g"),
        (Level(PLACE), DEFAULT_SCALE, "heavy", 'must be a number, or a label like "D2" from A0 to G9.9'),
        (Label(), DEFAULT_SCALE, 32.0, 'must be a label like "D2" or "D2.5" from A0 to G9.9'),
        (Choice(("first", "increment")), DEFAULT_SCALE, "steepness", "must be first or increment"),
        (Choice(("a", "b", "c")), DEFAULT_SCALE, 1.0, "must be a, b or c"),
        (UnitPair(), DEFAULT_SCALE, "kg m", 'must be one of "g cm", "g in", "g mm", "oz in", "oz cm"'),
        (Typed(), DEFAULT_SCALE, True, "must be a number or a text"),
    ],
)
def test_bad_cells_are_told_in_the_calls_units(kind: Kind, scale: Scale, raw: object, message: str) -> None:
    with pytest.raises(ValueError, match="must") as refused:
        kind.read(raw, scale)
    assert str(refused.value) == message


def test_a_refusal_tells_its_values_in_the_units_of_the_call() -> None:
    given_balance = Measured(29.6, "length")
    refused = Refused("beyond {0}, got {1}", Measured(35.56, "length"), given_balance, suspect=(given_balance, BALANCE))
    assert message_of(refused, DEFAULT_SCALE) == "beyond 35.56 cm, got 29.6 cm: inches?"
    assert message_of(refused, scale_named("g in")) == "beyond 14 in, got 11.6535 in"
    assert message_of(refused, scale_named("g mm")) == "beyond 355.6 mm, got 296 mm"


def test_a_refusal_without_values_keeps_its_braces() -> None:
    assert str(Refused("must be {1;2}")) == message_of(Refused("must be {1;2}"), DEFAULT_SCALE) == "must be {1;2}"


cells = st.one_of(
    st.floats(), st.integers(-10, 3000), st.booleans(), st.text(max_size=12), st.just(CellError("#N/A")),
    st.sampled_from(["D2", "first", "oz in", "29 1/2 in", "431 g", "3"]),
)  # fmt: skip


@pytest.mark.parametrize("kind", EVERY_KIND, ids=lambda kind: type(kind).__name__)
@given(raw=cells, scale=st.sampled_from([DEFAULT_SCALE, INCHES]))
def test_any_cell_is_read_or_refused(kind: Kind, raw: object, scale: Scale) -> None:
    try:
        value = kind.read(raw, scale)
    except ValueError as error:
        assert str(error)
    else:
        assert not isinstance(value, float) or math.isfinite(value)


numbers = st.floats(min_value=-50, max_value=2500) | st.integers(-5, 1100) | st.floats()


@pytest.mark.parametrize("kind", EVERY_KIND, ids=lambda kind: type(kind).__name__)
@given(
    column=st.lists(numbers, min_size=1, max_size=6) | st.lists(cells, min_size=1, max_size=4),
    scale=st.sampled_from([DEFAULT_SCALE, INCHES]),
)
def test_a_column_read_at_once_is_the_column_read_cell_by_cell(kind: Kind, column: list[object], scale: Scale) -> None:
    at_once = kind.read_plain(column, scale)
    if at_once is not None:
        assert at_once == [kind.read(raw, scale) for raw in column]


@given(column=st.lists(st.floats(min_value=50, max_value=2000), min_size=1))
def test_a_column_of_plain_good_numbers_is_read_at_once(column: list[object]) -> None:
    assert MASS.read_plain(column, DEFAULT_SCALE) == column
