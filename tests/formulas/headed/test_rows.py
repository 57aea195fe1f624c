from __future__ import annotations

import datetime
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from evenheft.formulas import REGISTRY, call
from evenheft.formulas.headed import tables as long_tables
from evenheft.formulas.headed.columns import plan_for
from evenheft.formulas.headed.rows import read_row
from evenheft.formulas.headed.tables import read_table
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.values import CellError

HEADINGS = (
    "Club", "Head mass (g)", "Head rise (cm)", "Bore to ground (mm)", "Shaft (g)", "Shaft (in)", "Shaft balance (in)",
    "Shaft balance from tip (cm)", "Club length (in)", "Grip (oz)", "Ferrule (g)", "Epoxy mass", "Lead tape (g)",
    "Lead tape rise (cm)", "Other (g)", "Other from butt (in)", "Epxy (g)", "Cut grip (g)", "Shaft",
)  # fmt: skip
GOOD: tuple[Any, ...] = (
    "7 iron", 268.0, 0.5, 32.0, 110.0, 40.0, 19.0, None, 37.0, 1.8, 1.5, 2.0, None, None, None, None, None, 45.0, "S",
)  # fmt: skip

blank = st.sampled_from([None, "", "  "])
odd = st.sampled_from(
    [
        "twelve", "! from another formula", CellError("#N/A"), True, False, 1, 0, -1.0, 1e9, float("nan"), float("inf"),
        "1/2 in", "2 g", "1,5", datetime.datetime(2026, 11, 25), "44 1/2 in", 0.52,
    ]
)  # fmt: skip
cell = st.floats(0.3, 60) | blank | odd


@st.composite
def tables(draw: st.DrawFn) -> list[list[Any]]:
    """Tables of good rows in which some cells are blank or odd, whole rows blank, or a part short."""
    table = []
    for _ in range(draw(st.integers(16, 24))):
        row = list(GOOD)
        if draw(st.integers(0, 9)) == 0:
            row = [None] * len(row)
        for _ in range(draw(st.integers(0, 3))):
            row[draw(st.integers(0, len(row) - 1))] = draw(cell)
        table.append(row)
    return table


@pytest.mark.parametrize("typed", ["3", "3 g cm2", "0,003 kg cm2", 3])
def test_an_inertia_typed_as_text_is_in_the_headings_unit_or_its_own(typed: object) -> None:
    headings = ["Head mass (g)", "Club length (in)", "Shaft (g)", "Shaft (in)", "Head inertia (g cm2)"]
    row = read_row(plan_for([headings], None), [200, 45, 65, 46, typed])
    assert row is not None
    assert row.parts.head_own == approx(3.0)  # [g cm2]


def test_an_inertia_is_in_the_unit_of_its_heading() -> None:
    headings = ["Head mass (g)", "Club length (in)", "Shaft (g)", "Shaft (in)"]
    for unit, per_unit in (("kg cm2", 1000.0), ("oz in2", 28.349523125 * 2.54**2)):
        row = read_row(plan_for([[*headings, f"Head inertia ({unit})"]], None), [200, 45, 65, 46, 5])
        assert row is not None
        assert row.parts.head_own == approx(5 * per_unit)  # [g cm2]


def test_a_rows_own_half_width_counts_and_a_blank_one_is_the_shops() -> None:
    headings = (*FOUR, "Balance doubt (cm)")
    for typed, found in ((0.05, 0.05), (None, 0.4), ("", 0.4)):
        row = _read(headings, (200.0, 45.0, 65.0, 46.0, typed), [["Balance doubt (cm)", 0.4]])
        assert row.doubts.balance == found


@settings(max_examples=150)
@given(tables(), st.booleans())
def test_a_table_at_once_is_answered_as_its_rows_are(table: list[list[Any]], with_defaults: bool) -> None:
    club = REGISTRY["HEFT_CLUB"]
    defaults = [["Shaft balance (%)", 51.0], ["Epoxy (g)", 2.5], ["Other from butt (cm)", 30.0]]
    rest = [None, defaults] if with_defaults else []
    for what in (None, "points", "swingweight"):
        at_once = call(club, [[HEADINGS], table, what, *rest])
        assert isinstance(at_once, tuple)
        assert len(at_once) == len(table)
        for row, answers in zip(table, at_once, strict=True):
            alone = call(club, [[HEADINGS], [row], what, *rest])
            expected = alone[0] if isinstance(alone, tuple) else (alone,) * len(answers)
            for found, wanted in zip(answers, expected, strict=True):
                assert found == wanted if isinstance(wanted, str) else found == approx(wanted, rel=1e-11, abs=1e-9)


def test_without_numpy_a_table_is_read_row_by_row(monkeypatch: pytest.MonkeyPatch) -> None:
    club, table = REGISTRY["HEFT_CLUB"], [list(GOOD)] * 20
    with_arrays = call(club, [[HEADINGS], table, "points"])
    monkeypatch.setattr(long_tables, "np", None)
    without = call(club, [[HEADINGS], table, "points"])
    assert isinstance(with_arrays, tuple)
    assert without == tuple((approx(value, rel=1e-12),) for (value,) in with_arrays)


def test_most_of_a_good_table_is_read_at_once() -> None:
    table = [list(GOOD) for _ in range(20)]
    table[3][1] = "heavy"
    table[4][8] = "36 1/2 in"
    read = read_table(plan_for([HEADINGS], None), table)
    assert read is not None
    assert [n for n, sound in enumerate(read[1]) if not sound] == [3]


def _read(headings: tuple[str, ...], row: tuple[Any, ...], defaults: Any = None) -> Any:
    return read_row(plan_for([headings], defaults), row)


FOUR = ("Head mass (g)", "Club length (in)", "Shaft (g)", "Shaft (in)")


def test_headings_in_any_order_and_unit_are_one_club() -> None:
    one = _read(FOUR, (200.0, 45.0, 65.0, 46.0))
    other = _read(
        ("Shaft length (mm)", "Notes", "Shaft wt (oz)", "Playing length (cm)", "Clubhead mass (kg)"),
        (1168.4, "a note", 65 / 28.349523125, 114.3, 0.2),
    )
    for name in ("head_mass", "club_length", "shaft_mass", "shaft_length"):
        assert getattr(one.parts, name) == approx(getattr(other.parts, name), rel=1e-12)


def test_a_shops_default_stands_in_for_a_blank_and_gives_way_to_a_cell() -> None:
    headings = (*FOUR, "Epoxy (g)")
    defaults = [["Epoxy (g)", 2.5], ["Bore to ground (in)", "1 1/4 in"], [None, None], ["Grip cap (cm)", ""]]
    row = _read(headings, (200.0, 45.0, 65.0, 46.0, None), defaults)
    assert (row.parts.epoxy_mass, row.parts.bore_to_ground, row.parts.grip_cap) == (2.5, approx(1.25 * 2.54), 0.4)
    assert _read(headings, (200.0, 45.0, 65.0, 46.0, 0.0), defaults).parts.epoxy_mass == 0.0


def test_a_shaft_balance_may_be_told_in_four_ways() -> None:
    for heading, value in (
        ("Shaft balance (in)", 23.92),
        ("Shaft balance from tip (in)", 46 - 23.92),
        ("Shaft balance (%)", 52.0),
        ("Shaft balance (%)", 0.52),  # a cell in per cent format
        ("Shaft balance from tip (%)", 48),
    ):
        row = _read((*FOUR, heading), (200.0, 45.0, 65.0, 46.0, value))
        assert row.parts.shaft_balance == approx(0.52 * 46 * 2.54, rel=1e-9)


@pytest.mark.parametrize(
    ("headings", "row", "message"),
    [
        (FOUR, (200.0, 45.0, None, None), "the row lacks shaft mass and shaft length"),
        (FOUR, (7.1, 45.0, 65.0, 46.0), "Head mass (g) must be from 100 g to 650 g, got 7.1: ounces?"),
        (FOUR, (200.0, 114.3, 65.0, 46.0), "Club length (in) must be from 19.685 in to 57.0866 in, got 114.3: "
         "centimetres?"),
        (FOUR, (-200.0, 45.0, "x", 46.0), "Head mass (g) must be from 100 g to 650 g, got -200; "
         "Shaft (g) must be a mass such as 431 or 15.2 oz, got x"),
        (FOUR, (200.0, 45.0, 65.0, 43.0), "the shaft is too short by 0.35 in: it must be at least 43.35 in, got 43 in"),
        (FOUR, (200.0, 45.0, "! odd", 43.0), "odd"),
        ((*FOUR, "Epoxy (g)"), (200.0, 45.0, 65.0, 46.0, -1.0), "Epoxy (g) must be from 0 g to 40 g, got -1"),
        ((*FOUR, "Epxy (g)"), (200.0, 45.0, 65.0, 46.0, 2.0), 'Epxy (g): did you mean "Epoxy"?'),
        ((*FOUR, "Paint (g)"), (200.0, 45.0, 65.0, 46.0, 2.0), 'Paint (g): a mass, but of no known part: call it '
         '"Other (g)", or write "not used" after it'),
        ((*FOUR, "Other (g)"), (200.0, 45.0, 65.0, 46.0, 2.0), "other mass needs its place: add Other from butt (cm)"),
        ((*FOUR, "Shaft balance (in)"), (200.0, 45.0, 65.0, 46.0, 12.0),
         "shaft balance must be from 15.33 in to 30.67 in from the butt of a 46 in shaft, got 12 in"),
        ((*FOUR, "Shaft balance (in)", "Shaft balance (%)"), (200.0, 45.0, 65.0, 46.0, 24.0, 52.0),
         "Shaft balance (%): two headings for shaft balance: this one and \"Shaft balance (in)\""),
        ((*FOUR, "Shaft balance (in)", "Shaft balance from tip (in)"), (200.0, 45.0, 65.0, 46.0, 24.0, 22.0),
         "shaft balance is given twice, from butt and from tip: keep one of them"),
        (("Head (g)", "Length", "Shaft (g)", "Shaft (in)"), (200.0, 45.0, 65.0, 46.0),
         'Length must have its unit in the heading, e.g. "Length (in)", got 45'),
        (("Head (g)", "Length", "Shaft (g)", "Shaft (in)"), (200.0, "45", 65.0, 46.0),
         'Length must have its unit in the heading, e.g. "Length (in)", got 45'),
        (FOUR, (200.0, 45.0, 65.0), "row must be as wide as headers, 4 cells, got 3"),
        (("Head (g)", "Grip (g)"), (200.0, 50.0),
         'headers lack "Club length (in)", "Shaft mass (g)" and "Shaft length (in)"'),
        (("Head (stone)", "Grip (g)", "Grip wt (g)"), (200.0, 50.0, 50.0),
         'Head (stone): the unit stone is not known: use g or oz; '
         'Grip wt (g): two headings for grip mass: this one and "Grip (g)"'),
        (("Club", "Notes"), ("x", "y"), "headers must name a club's parts, e.g. Head mass (g)"),
    ],
)  # fmt: skip
def test_what_is_wrong_with_a_row_is_told_in_one_line(headings: Any, row: Any, message: str) -> None:
    with pytest.raises(Refused) as refused:
        _read(headings, row)
    assert str(refused.value) == message


@pytest.mark.parametrize(
    ("defaults", "message"),
    [
        ([["Foo (g)", 2.0]], 'defaults: Foo (g): a mass, but of no known part: call it "Other (g)", or write "not '
         'used" after it'),
        ([["Grip cap", 0.4]], 'defaults: Grip cap must have its unit in the heading, e.g. "Grip cap (in)", got 0.4'),
        ([["Mass (g)", 400.0]], "defaults: Mass (g): is no part or place of a club"),
        ([["Notes", 400.0]], "defaults: Notes: is no part or place of a club"),
        ([["Epoxy (g)", 90.0]], "defaults: Epoxy (g) must be from 0 g to 40 g, got 90"),
        ([["Epoxy (g)", 2.0, 3.0]], "defaults must be a range of two columns, a heading and its value in each row"),
    ],
)  # fmt: skip
def test_what_is_wrong_with_a_default_is_told(defaults: Any, message: str) -> None:
    with pytest.raises(Refused) as refused:
        _read(FOUR, (200.0, 45.0, 65.0, 46.0), defaults)
    assert str(refused.value) == message


def test_a_row_blank_under_its_parts_is_no_club() -> None:
    assert _read(("Club", *FOUR), ("7 iron", None, "", " ", None)) is None


def test_a_length_without_a_unit_may_carry_it_in_the_cell() -> None:
    row = _read(("Head (g)", "Length", "Shaft (g)", "Shaft (in)"), (200.0, "45 in", 65.0, 46.0))
    assert row.parts.club_length == approx(114.3)
