"""The one way to call a formula: blanks, messages, bad input and ranges."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenheft.formulas import REGISTRY, Answer, Argument, Formula, call
from evenheft.formulas.calling import Cell, Grid
from evenheft.formulas.kinds import Number, Quantity, Typed
from evenheft.formulas.registry import UNITS, what_of
from evenheft.formulas.serving import server
from evenheft.ooxml.text import LONGEST_LINE
from evenheft.ooxml.values import CellError
from parity_cases import CASES, GOOD, MESSAGE, Case

POINTS = REGISTRY["HEFT_POINTS"]
STRANGE = "\x9b2J\u202e\nof a stranger" * 60
ONE_CELL = {name: args for name, args in GOOD.items() if all(a.takes == "cell" for a in REGISTRY[name].arguments)}


def served(name: str, *args: object) -> Cell | Grid:
    """The formula's answer as a host gets it; one formula tells its host's name."""
    return server(REGISTRY[name], host="a test")(*args)


@pytest.mark.parametrize("case", CASES, ids=str)
def test_every_case_is_answered_properly(case: Case) -> None:
    assert_proper(served(case.formula, *case.args))


@pytest.mark.parametrize(
    ("name", "args", "answer"),
    [
        ("HEFT_MOMENT", (430, 75.56), 17200.0),
        ("HEFT_MOMENT", (430, 753), "! balance must be more than 0 cm and less than 145 cm, got 753: millimetres?"),
        ("HEFT_POINTS", (395, 29.6), "! balance must be beyond the fulcrum at 35.56 cm, got 29.6 cm: inches?"),
        ("HEFT_INERTIA", (395, 29.6, 1.9),
         "! balance must be beyond the fulcrum at 35.56 cm, got 29.6 cm: inches?"),
        ("HEFT_BALANCE", (300, 39, 400),
         "! a club's balance must be more than 35.56 cm and less than 145 cm from the butt, got 29.25 cm: inches?"),
        ("HEFT_POINTS", (15.2, 75.3), "! mass must be from 50 g to 2000 g, got 15.2: ounces?"),
        ("HEFT_POINTS", (-1, "far"), "! mass must be from 50 g to 2000 g, got -1; "
         "balance must be a length such as 75.3 or 29 1/2 in, got far"),
        ("HEFT_LABEL", (75,), "! points must be from 0 to 69.9 (A0 to G9.9) to have a label, got 75: off the scale"),
        ("HEFT_GRADIENT", ([[1], [2]], [[30], [None]], "first"), "! values must hold at least two clubs, got 1"),
        ("HEFT_GRADIENT", ([[1], [2]], [[30], ["heavy"]], "first"),
         '! values (cell 2) must be a number, or a label like "D2" from A0 to G9.9, got heavy'),
        ("HEFT_LABEL", (32, 1, 2), "! HEFT_LABEL takes at most 1 argument, got 3"),
        ("HEFT_VERSION", (1,), "! HEFT_VERSION takes no arguments, got 1"),
        ("HEFT_POINTS", (395,), "! balance must be given"),
        ("HEFT_POINTS", (), "! mass must be given"),
        ("HEFT_POINTS", (None, 75.3), ""),
        ("HEFT_POINTS", (MESSAGE, None), MESSAGE),
        ("HEFT_POINTS", ([[395], [402]], [[75.3], [74.8], [74.3]]),
         "! balance must be a range of 2 x 1 cells like mass, got 3 x 1"),
    ],
)  # fmt: skip
def test_answers_and_messages(name: str, args: tuple[object, ...], answer: Cell | Grid) -> None:
    assert served(name, *args) == answer


def test_one_bad_row_does_not_spoil_its_neighbours() -> None:
    answer = served("HEFT_MOMENT", [[430], [15.2], [None], [MESSAGE], [430]], 75.56)
    assert answer == (
        (17200.0,),
        ("! mass must be from 50 g to 2000 g, got 15.2: ounces?",),
        ("",),
        (MESSAGE,),
        (17200.0,),
    )


def test_a_range_of_one_cell_is_that_cell() -> None:
    assert served("HEFT_MOMENT", [[430]], [[75.56]]) == 17200.0
    assert served("HEFT_MOMENT", ((430,),), [[75.56], [75.56]]) == ((17200.0,), (17200.0,))


def two_numbers(**changes: Any) -> Formula:
    """A formula with two answers, of which `second` is a length, that is in no registry."""
    answers = (Answer("first", "g"), Answer("second", "length unit", "length"))
    declared: dict[str, Any] = {
        "name": "HEFT_TWO",
        "category": "Test",
        "help": "Test.",
        "arguments": (Argument("mass", "Mass.", Quantity("mass", 0, 100)), what_of(answers), UNITS),
        "answers": answers,
        "function": lambda mass: (mass, 2.54 * mass),
        "source": "Test.",
        "examples": (),
    }
    return Formula(**{**declared, **changes})


def test_several_answers_come_as_a_row_or_one_is_picked() -> None:
    assert call(two_numbers(), [10]) == ((10.0, 25.4),)
    assert call(two_numbers(), [10, None, "g in"]) == ((10.0, 10.0),)
    assert call(two_numbers(), [10, "Second ", "g in"]) == 10.0
    assert call(two_numbers(), [10, "third"]) == "! what must be first or second, got third"


def test_several_answers_of_a_column_come_as_a_block_of_one_width() -> None:
    low = "! mass must be from 0 g to 100 g, got -1"
    assert call(two_numbers(), [[[10], [-1], [None]]]) == ((10.0, 25.4), (low, ""), ("", ""))
    assert call(two_numbers(), [[[-1], [None]]]) == ((low, ""), ("", ""))
    assert call(two_numbers(), [[[10], [None]], "first"]) == ((10.0,), ("",))
    wide = "! what must be given where the ranges are wider than one column"
    assert call(two_numbers(), [[[10, 20]]]) == wide
    assert call(two_numbers(), [[[10, 20]], "second", "g in"]) == ((10.0, 20.0),)


def test_a_range_argument_stands_beside_a_column_of_cells() -> None:
    # `of` is one value for every row; left out it is None, a message in it is every row's answer.
    both = two_numbers(
        arguments=(
            Argument("at", "Number.", Number(0, 100)),
            Argument("of", "Range.", Typed(), None, takes="range"),
        ),
        answers=(Answer("sum"),),
        function=lambda at, of: at + (sum(cell or 0 for row in of for cell in row) if of else 0),
    )
    assert call(both, [[[1], [2]], [[10, None, 20]]]) == ((31.0,), (32.0,))
    assert call(both, [[[1], [2]]]) == ((1.0,), (2.0,))
    assert call(both, [[[1], [2]], [[10, MESSAGE]]]) == ((MESSAGE,), (MESSAGE,))
    assert call(both, [1, 5]) == 6.0


@pytest.mark.parametrize("answer", [float("nan"), float("inf"), -float("inf")])
def test_nan_and_infinity_never_reach_a_cell(answer: float) -> None:
    endless = two_numbers(answers=(Answer("one"),), arguments=(UNITS,), function=lambda: answer)
    assert call(endless, []) == "! these numbers together describe no club"
    columns = two_numbers(
        answers=(Answer("one"),), arguments=(Argument("at", "Number.", Number(0, 9)),), function=lambda at: answer * at
    )
    assert call(columns, [[[1], [2]]]) == (("! these numbers together describe no club",),) * 2


def test_a_server_tells_its_host_and_never_raises() -> None:
    named = two_numbers(answers=(Answer("one"),), arguments=(), function=lambda host: f"in {host}", tells_host=True)
    assert server(named, host="a test")() == "in a test"

    def broken(mass: float) -> float:
        raise RuntimeError(f"no {mass}")

    assert server(two_numbers(function=broken), host="a test")(1) == "! HEFT_TWO failed inside: RuntimeError: no 1.0"
    serve = server(POINTS, host="a test")
    assert (serve.__name__, serve.__doc__) == ("HEFT_POINTS", POINTS.help)


def assert_proper(answer: Cell | Grid) -> None:
    """A finite number, a text of one line, or rows of those, all of one length."""
    if isinstance(answer, tuple):
        assert answer
        assert len({len(row) for row in answer}) == 1
        for row in answer:
            assert isinstance(row, tuple)
            for cell in row:
                assert not isinstance(cell, tuple)
                assert_proper(cell)
    elif isinstance(answer, str):
        assert "\n" not in answer
    else:
        assert type(answer) is float
        assert math.isfinite(answer)


words = st.sampled_from(
    ["D2", "E1.5", "first", "worst", "oz in", "g cm", "cm", "kg cm2", "29 1/2 in", "431 g", "1,130", "putter",
     "5e400", "1e999 cm", "-3", "", " ", MESSAGE, "5²", '44½"']
)  # fmt: skip
likely = st.floats(min_value=0, max_value=1000)
odd = st.one_of(
    st.none(), st.booleans(), st.floats(), st.integers(), words, st.text(max_size=10),
    st.sampled_from([CellError("#N/A"), CellError("#DIV/0!")]),
)  # fmt: skip
cell = likely | odd


@st.composite
def block(draw: st.DrawFn, cells: st.SearchStrategy[object] = cell) -> list[list[object]]:
    rows, columns = draw(st.integers(1, 4)), draw(st.integers(1, 3))
    return [[draw(cells) for _ in range(columns)] for _ in range(rows)]


@pytest.mark.parametrize("name", REGISTRY)
@given(data=st.data())
def test_no_cell_makes_a_formula_raise_or_answer_nan(name: str, data: st.DataObject) -> None:
    """Good arguments with some replaced by anything that a cell, or a range of cells, can hold."""
    entry = REGISTRY[name]
    lead: list[object] = list(GOOD[name]) + [None] * (len(entry.arguments) - len(GOOD[name]))
    for at in range(len(lead)):
        if data.draw(st.booleans(), label=f"replace {entry.arguments[at].name}"):
            lead[at] = data.draw(cell | block(), label=entry.arguments[at].name)
    count = data.draw(st.integers(0, len(lead) + 1), label="arguments")
    assert_proper(served(name, *[*lead, 1.0][:count]))


@pytest.mark.parametrize("name", ONE_CELL)
@given(data=st.data())
def test_a_column_is_answered_as_its_rows_are(name: str, data: st.DataObject) -> None:
    """Wide or long, plain or not, a range answers what each of its rows would answer alone."""
    entry = REGISTRY[name]
    good = ONE_CELL[name]
    count = data.draw(st.integers(2, 5), label="rows")
    args: list[object] = list(good)
    for at, value in enumerate(good):
        if data.draw(st.booleans(), label=f"a column of {entry.arguments[at].name}"):
            near = st.floats(0.9, 1.1).map(lambda f, v=value: v * f) if isinstance(value, float) else st.just(value)
            cells = data.draw(st.sampled_from([near, near | cell]), label="cells")
            args[at] = [[data.draw(cells)] for _ in range(count)]
    answer = served(name, *args)
    if any(isinstance(a, list) for a in args):
        assert isinstance(answer, tuple)
        rows = [served(name, *[a[n][0] if isinstance(a, list) else a for a in args]) for n in range(count)]
        assert [padded(row, len(answer[0])) for row in rows] == list(answer)


def test_bad_rows_far_down_a_long_range_are_told_in_their_places() -> None:
    cells: list[object] = [395.0 + n % 9 for n in range(1000)]
    cells[3], cells[500], cells[501], cells[999] = None, "402 g", 15.2, MESSAGE
    answer = served("HEFT_POINTS", [[cell] for cell in cells], 75.3)
    assert answer == tuple((served("HEFT_POINTS", cell, 75.3),) for cell in cells)


def test_convert_tells_what_is_wrong_as_every_formula_does() -> None:
    assert served("HEFT_CONVERT", "1,130", "cm", "in") == "! value: 1,130 may be 1.130 or 1130: write one of them"
    assert served("HEFT_CONVERT", "3 foo", "cm", "in").startswith("! value: the unit foo is not known")
    assert served("HEFT_CONVERT", "x", "cm", "in") == "! value must be a length such as 75.3 or 29 1/2 in, got x"


def padded(answer: Cell | Grid, width: int) -> Sequence[Cell]:
    row = answer[0] if isinstance(answer, tuple) else (answer,)
    return (*row, *([""] * (width - len(row))))


@pytest.mark.parametrize("case", CASES, ids=str)
def test_a_server_answers_as_the_call_does(case: Case) -> None:
    """The shortcut for plain cells is no other way to answer; arguments arrive as a host hands them over."""
    if not REGISTRY[case.formula].tells_host:
        assert served(case.formula, *case.args) == call(REGISTRY[case.formula], case.args)


def test_many_answers_over_a_long_range_are_refused_in_a_line() -> None:
    """Each answer reads the range anew: a column beside a column would grow with the square."""
    column = [[1.0]] * 5000
    for name in ("HEFT_PICK", "HEFT_ALIKE", "HEFT_LEAST_LINE"):
        formula = REGISTRY[name]
        given = [column] * formula.required
        answer = call(formula, given)
        assert isinstance(answer, str)
        assert answer.startswith("! 5000 cells cannot be answered over ranges as long as ")
    assert call(REGISTRY["HEFT_PICK"], [[[6.0]] * 50, [[2.0], [4.0]], 2]) != ""


def test_a_set_of_thousands_is_no_set() -> None:
    assert call(REGISTRY["HEFT_ALIKE"], [[[1.0]] * 5000, 0.5]) == "! deviations must hold at most 60 clubs, got 5000"


@pytest.mark.parametrize(
    ("name", "given"),
    [
        ("HEFT_FLAGS", (STRANGE, "D2", STRANGE, "line")),
        ("HEFT_FLAGS", ("Lie", "D2", "", "open", STRANGE)),
        ("HEFT_MESSAGES", (STRANGE, f"! {STRANGE}")),
        ("HEFT_MESSAGES", ("Lie", CellError(STRANGE))),
        ("HEFT_STAGE", ("", "", STRANGE, 75.3, "", "", "mass")),
        ("HEFT_STAGE", ([[""]] * 3, [[""]] * 3, [[STRANGE]] * 3, [[75.3]] * 3, [[""]] * 3, [[""]] * 3, "mass")),
        ("HEFT_SUPPORTED", (STRANGE, 0.5, 0.7, STRANGE, 0.1, STRANGE)),
    ],
)
def test_no_answer_hands_on_what_a_terminal_would_obey_or_a_cell_cannot_take(
    name: str, given: tuple[object, ...]
) -> None:
    answer = call(REGISTRY[name], given)
    for text in [cell for row in answer for cell in row] if isinstance(answer, tuple) else [answer]:
        assert isinstance(text, str)
        assert text.isprintable()
        assert len(text) <= LONGEST_LINE
