"""What is found by a name that a person typed: signs in it that spreadsheets take for wildcards mean themselves."""

from __future__ import annotations

from pathlib import Path

import openpyxl

from calc_office import Calc
from evenheft.hosts.embedded import Computed, Value
from evenheft.order.drawing.template import build_order, save_bytes
from evenheft.order.layout import BENCH, FIRST_ROW, ORDER, PARTS, SET, SHAFTS, TARGET, Table

NAMES = {"Long*": 38.0, "Longest": 34.0, "Iron?": 36.0, "Irons": 35.0, "~Odd": 33.0, "Odd": 32.0, "7": 31.0}
"""Groups, and the swingweight that each wants; none of them is found by another one's name [points]."""

MODELS = ("K2", "K*", ">A", 7, "k2")


def filled(table: Table, rows: list[dict[str, object]], book: openpyxl.Workbook) -> None:
    sheet = book[table.sheet]
    for row, values in enumerate(rows, start=table.first_row):
        for key, value in values.items():
            sheet.cell(row, table.at[key]).value = value


def order_with_signs() -> openpyxl.Workbook:
    """Clubs whose groups, head models and shafts have signs in their names; each stands behind its namesake."""
    book = build_order()
    groups = [{"group": name, "swingweight_first": wanted} for name, wanted in reversed(NAMES.items())]
    filled(TARGET, groups, book)
    filled(ORDER, [{"club": f"of {name}", "group": name} for name in NAMES], book)
    filled(BENCH, [{"done_mass": 395, "done_balance": 75.3}] * len(NAMES), book)
    return book


def column(computed: Computed, table: Table, key: str, count: int) -> list[Value]:
    return [computed.value(table.sheet, FIRST_ROW + n, table.at[key]) for n in range(count)]


def test_each_club_has_the_targets_of_its_own_group_whatever_signs_are_in_the_name() -> None:
    computed = Computed.from_bytes(save_bytes(order_with_signs()))
    assert column(computed, SET, "swingweight_goal", len(NAMES)) == list(NAMES.values())


def test_calc_takes_no_sign_in_a_groups_name_for_a_wildcard(calc: Calc, tmp_path: Path) -> None:
    order = tmp_path / "signs.xlsx"
    order.write_bytes(save_bytes(order_with_signs()))
    with calc.open(order) as book:
        book.calculate(everything=True)
        at = SET.whole("swingweight_goal").replace("$", "").partition("!")[2].partition(":")
        last = f"{SET.letter('swingweight_goal')}{FIRST_ROW + len(NAMES) - 1}"
        assert [row[0] for row in book.read("Set", f"{at[0]}:{last}")] == list(NAMES.values())


def test_a_shaft_is_found_by_the_whole_of_its_number() -> None:
    book = build_order()
    filled(SHAFTS, [{"shaft": "S10", "mass": 101}, {"shaft": "S1?", "mass": 102}, {"shaft": "S*", "mass": 103}], book)
    filled(ORDER, [{"club": f"{n}-iron", "group": "Irons"} for n in (7, 8, 9)], book)
    filled(PARTS, [{"shaft_number": "S*"}, {"shaft_number": "S1?"}, {"shaft_number": "S1~?"}], book)
    computed = Computed.from_bytes(save_bytes(book))
    assert column(computed, PARTS, "shaft_mass_from", 2) == [103.0, 102.0]
    assert "S1~? is not listed" in str(column(computed, PARTS, "shaft_mass_from", 3)[2])


def order_with_models() -> openpyxl.Workbook:
    """Two dry fits, of the models K2 and 7, among models whose names a lookup could take for theirs."""
    book = build_order()
    whole = {"head_mass": 262, "club_length": 94, "shaft_mass": 110, "shaft_length": 99, "shaft_balance": 49,
             "grip_mass": 50}  # fmt: skip
    filled(ORDER, [{"club": f"{n}-iron", "group": "Irons"} for n in range(len(MODELS))], book)
    filled(PARTS, [{**whole, "model": model} for model in MODELS], book)
    for row, balance in ((0, 72.6), (3, 72.9)):
        for key, value in (("dry_mass", 411.5), ("dry_balance", balance), ("dry_lacking", "none")):
            book["Bench"].cell(FIRST_ROW + row, BENCH.at[key]).value = value
    return book


def test_heads_learn_from_those_of_their_own_model_alone(calc: Calc, tmp_path: Path) -> None:
    content = save_bytes(order_with_models())
    computed = Computed.from_bytes(content)
    learned, rises = column(computed, PARTS, "learned", 5), column(computed, PARTS, "rise_learned", 5)
    assert rises == [learned[0], "", "", learned[3], learned[0]]
    assert isinstance(learned[0], float)
    order = tmp_path / "models.xlsx"
    order.write_bytes(content)
    with calc.open(order) as opened:
        opened.calculate(everything=True)
        at = PARTS.letter("rise_learned")
        shown = [row[0] for row in opened.read("Parts", f"{at}{FIRST_ROW}:{at}{FIRST_ROW + len(MODELS) - 1}")]
    assert [round(rise, 6) if isinstance(rise, float) else rise for rise in shown] == [
        round(rise, 6) if isinstance(rise, float) else rise for rise in rises
    ]
