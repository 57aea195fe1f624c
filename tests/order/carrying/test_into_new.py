"""An older order carried into a new one: each typed value by sheet and heading, and what had no place is told.

layout-1.xlsx to layout-4.xlsx were made by the Evenheft of these layouts: the invented demo order, a few cells more.
"""

from __future__ import annotations

import shutil
from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner, Result

from evenheft.cli import main
from evenheft.hosts.embedded import Computed
from evenheft.ooxml.errors import Refused
from evenheft.order.carrying.into_new import carry
from evenheft.order.demo import build_demo
from evenheft.order.drawing.template import save_bytes
from evenheft.order.layout import (
    BENCH,
    EVERY_GROUP,
    FIRST_ROW,
    FIX,
    GRIPS,
    KIND_NAME,
    KIND_OF_WORKBOOK,
    LAYOUT_VERSION,
    ORDER,
    PARTS,
    SET,
    SHAFTS,
    SUPPLIER,
    TARGET,
    USUAL,
    Table,
)
from evenheft.order.report import read_order
from order_pages import PageRow, filled_order

OLD = Path(__file__).with_name("layout-1.xlsx")


def run(*words: object) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def typed_by_heading(book: openpyxl.Workbook, sheet: str, band: str, heading: str) -> dict[float, object]:
    """The typed cells of a first-layout sheet under a band and a heading, by the club's number; read by openpyxl."""
    page = book[sheet]
    bands, running = {}, ""
    for cell in page[6]:
        running = str(cell.value) if cell.value is not None else running
        bands[cell.column] = running
    at = next(c.column for c in page[7] if heading in str(c.value) and bands[c.column] == band)
    return {row - 7: page.cell(row, at).value for row in range(8, 26)}  # the first layout numbered its rows 1, 2, 3 ...


def by_number(book: openpyxl.Workbook, table: Table, key: str) -> dict[float, object]:
    page = book[table.sheet]
    return {
        page.cell(row, table.at["number"]).value: page.cell(row, table.at[key]).value
        for row in range(table.first_row, table.last_row + 1)
    }


@pytest.fixture(scope="module")
def carried(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("carried") / "new.xlsx"
    carry(OLD, path)
    return path


@pytest.mark.parametrize(
    ("table", "band", "heading", "key"),
    [
        (BENCH, "Dry fit", "Mass", "dry_mass"),
        (BENCH, "Dry fit", "Balance", "dry_balance"),
        (BENCH, "Dry fit", "Still lacking", "dry_lacking"),
        (BENCH, "Finished", "Mass", "done_mass"),
        (BENCH, "Finished", "Balance", "done_balance"),
        (BENCH, "Club as weighed", "Period", "period"),
        (BENCH, "Club as weighed", "Scale reading", "reading"),
        (BENCH, "Club as weighed", "Lie", "lie"),
        (PARTS, "Head", "Head model", "model"),
        (PARTS, "Loose parts, as weighed", "Head mass", "head_mass"),
        (PARTS, "Loose parts, as weighed", "Cut grip mass", "cut_grip_mass"),
        (SUPPLIER, "Wanted", "Head mass wanted", "wanted"),
        (SUPPLIER, "Wanted", "Loft", "loft"),
    ],
)
def test_each_clubs_typed_cells_stand_under_the_same_heading(
    carried: Path, table: Table, band: str, heading: str, key: str
) -> None:
    old = typed_by_heading(openpyxl.load_workbook(OLD), table.sheet, band, heading)
    new = by_number(openpyxl.load_workbook(carried), table, key)
    assert {number: value for number, value in new.items() if value is not None} == {
        number: value for number, value in old.items() if value is not None
    }
    assert any(value is not None for value in old.values())


def test_the_new_order_says_what_the_old_one_said(carried: Path) -> None:
    """The old file still shows what the Evenheft that made it has computed."""
    old = openpyxl.load_workbook(OLD, data_only=True)["Set"]
    heading = {str(cell.value): cell.column for cell in old[7]}
    was = {
        str(old.cell(row, heading["Club"]).value): str(old.cell(row, heading["What is flagged"]).value)
        for row in range(8, 17)
    }
    report = read_order(carried)
    changed = ("6-iron", "8-iron")  # what was added to them counts, or had no place
    flags = {club.name: club.flags.partition(",")[0] for club in report.judged if club.name not in changed}
    differing = {name: flag for name, flag in flags.items() if flag != was[name]}
    # What a dry fit lacks is doubted today, and the first layout doubted nothing of it.
    assert differing == dict.fromkeys(("Pitching wedge", "Sand wedge"), "swingweight re-measure")
    points = next(c.column for c in old[7] if c.value == "Points")
    now = {c.name: j.value for c in report.judged for j in c.judgements if j.quantity == "swingweight"}
    untouched = {str(old.cell(row, 2).value): old.cell(row, points).value for row in range(8, 17)}
    for name in ("Driver", "5-iron", "7-iron", "9-iron", "Pitching wedge", "Gap wedge", "Sand wedge"):
        assert now[name] == pytest.approx(untouched[name], abs=0.06)  # the cap on some, now 0.5 cm on the forecast too


def test_what_stood_elsewhere_has_its_place_of_today(carried: Path) -> None:
    book = openpyxl.load_workbook(carried)
    named = {name: book[d.attr_text.split("!")[0]][d.attr_text.split("!")[1].replace("$", "")]
             for name, d in book.defined_names.items() if ":" not in d.attr_text}  # fmt: skip
    assert named["order_number"].value == "DEMO-1"
    assert named["doubt_balance"].value == "0.04 cm"
    order, shop, fix = book["Order"], book["Shop"], book["Fix"]
    irons = next(row for row in range(8, 16) if order.cell(row, TARGET.at["group"]).value == "Irons")
    assert [order.cell(irons, TARGET.at[f"length_{part}"]).value for part in ("first", "change", "tolerance")] == [
        96.52, -1.27, 0.4]  # fmt: skip
    every = next(row for row in range(1, 60) if shop.cell(row, 1).value == EVERY_GROUP)
    assert shop.cell(every, USUAL.at["grip_cap"]).value == "0.5 cm"
    assert shop.cell(every, USUAL.at["epoxy_above_tip"]).value == "1.5 cm"
    assert fix.cell(FIRST_ROW + 2, FIX.at["head_added"]).value == 3.5
    assert fix.cell(FIRST_ROW + 2, FIX.at["done"]).value == "done"
    assert order.cell(FIRST_ROW + 9, ORDER.at["putter"]).value == "putter"


def test_what_had_no_place_is_told_line_by_line(tmp_path: Path) -> None:
    before = OLD.read_bytes()
    result = run("new", tmp_path / "new.xlsx", "--from", OLD)
    assert result.exit_code == 3
    lines = result.output.partition("What had no place")[2]
    assert "ask about the ferrule" in lines
    assert "My list" in lines
    assert "Head weights above ground line" in lines
    assert "1 cm" in lines
    assert "Bench P8" in result.output.partition("What had no place")[0]
    assert "became its value, arrived assembled" in result.output
    assert OLD.read_bytes() == before


def test_an_order_of_today_carried_into_a_new_one_is_the_same(tmp_path: Path) -> None:
    """Also where its rows were shuffled, sheet by sheet: they are found by the club's number."""
    book = build_demo()
    first, second = FIRST_ROW + 1, FIRST_ROW + 6
    for table in (BENCH, PARTS):
        page = book[table.sheet]
        for column in table.columns:
            if column.role == "input" or column.key == "number":
                one, other = (page.cell(row, table.at[column.key]) for row in (first, second))
                one.value, other.value = other.value, one.value
    path, made = tmp_path / "old.xlsx", tmp_path / "made.xlsx"
    path.write_bytes(save_bytes(book))
    result = run("new", made, "--from", path)
    assert result.exit_code == 0, result.output
    plain = tmp_path / "plain.xlsx"
    plain.write_bytes(save_bytes(build_demo()))
    assert read_order(made).clubs == read_order(plain).clubs


def test_clubs_of_any_number_and_order_are_carried(tmp_path: Path) -> None:
    book = build_demo()
    for table in (ORDER, PARTS, BENCH, SET, FIX, SUPPLIER):
        book[table.sheet].cell(FIRST_ROW + 3, table.at["number"]).value = 301
    path, made = tmp_path / "old.xlsx", tmp_path / "made.xlsx"
    path.write_bytes(save_bytes(book))
    assert run("new", made, "--from", path).exit_code == 0
    assert {club.number for club in read_order(made).judged} == {1, 2, 3, 301, 5, 6, 7, 8, 9}


def test_a_number_that_stands_twice_is_told_and_nothing_is_overwritten(tmp_path: Path) -> None:
    book = build_demo()
    book["Bench"].cell(FIRST_ROW + 5, BENCH.at["number"]).value = 5
    path = tmp_path / "old.xlsx"
    path.write_bytes(save_bytes(book))
    result = run("new", tmp_path / "made.xlsx", "--from", path)
    assert result.exit_code == 3
    assert f"Bench C{FIRST_ROW + 5}" in result.output
    bench = openpyxl.load_workbook(tmp_path / "made.xlsx")["Bench"]
    demo = build_demo()["Bench"]
    assert bench.cell(FIRST_ROW + 4, BENCH.at["dry_mass"]).value == demo.cell(FIRST_ROW + 4, BENCH.at["dry_mass"]).value
    assert bench.cell(FIRST_ROW + 5, BENCH.at["dry_mass"]).value is None


def test_an_old_file_that_no_program_has_computed_is_carried_too(tmp_path: Path) -> None:
    """openpyxl keeps no computed value: headings that carry the unit are then formulas and nothing else."""
    bare = tmp_path / "bare.xlsx"
    openpyxl.load_workbook(OLD).save(bare)
    carry(bare, tmp_path / "bare-new.xlsx")
    carry(OLD, tmp_path / "new.xlsx")
    one, other = (Computed.open(tmp_path / name) for name in ("bare-new.xlsx", "new.xlsx"))
    for key in ("dry_mass", "dry_balance", "mass_used"):
        for row in range(FIRST_ROW, FIRST_ROW + 9):
            assert one.value("Bench", row, BENCH.at[key]) == other.value("Bench", row, BENCH.at[key])


def test_the_document_shows_the_refusal_as_it_is(tmp_path: Path) -> None:
    path = Path(shutil.copyfile(OLD, tmp_path / "old.xlsx"))
    document = (Path(__file__).parents[3] / "docs" / "order.md").read_text(encoding="utf-8")
    assert run("check", path).output.strip() in document


def relabelled(tmp_path: Path, kind: str) -> Path:
    book = build_demo()
    book["Guide"][book.defined_names[KIND_NAME].attr_text.split("!")[1].replace("$", "")].value = kind
    path = tmp_path / "order.xlsx"
    path.write_bytes(save_bytes(book))
    return path


@pytest.mark.parametrize(
    "words", [("check",), ("check", "--save"), ("share", "--plain"), ("share", "--for", "supplier")]
)
def test_an_older_order_is_refused_in_one_line_that_says_what_to_do(tmp_path: Path, words: tuple[str, ...]) -> None:
    path = Path(shutil.copyfile(OLD, tmp_path / "old.xlsx"))
    result = run(words[0], path, *words[1:])
    assert result.exit_code == 2
    assert result.output.splitlines() == [
        "! old.xlsx was made by an older Evenheft (layout 1): carry it into a new order with evenheft new NEW.xlsx "
        "--from old.xlsx"
    ]
    assert path.read_bytes() == OLD.read_bytes()


@pytest.mark.parametrize("words", [("check",), ("new",)])
def test_a_newer_order_is_refused_in_one_line(tmp_path: Path, words: tuple[str, ...]) -> None:
    path = relabelled(tmp_path, f"{KIND_OF_WORKBOOK} {LAYOUT_VERSION + 1}")
    made = tmp_path / "made.xlsx"
    result = run("check", path) if words == ("check",) else run("new", made, "--from", path)
    assert result.exit_code == 2
    assert len(result.output.splitlines()) == 1
    assert f"newer Evenheft (layout {LAYOUT_VERSION + 1}): update Evenheft" in result.output
    assert not made.exists()


def test_what_is_no_order_or_holds_nothing_is_refused(tmp_path: Path) -> None:
    with pytest.raises(Refused, match="not an Evenheft order"):
        carry(relabelled(tmp_path, "something else"), tmp_path / "new.xlsx")
    assert not (tmp_path / "new.xlsx").exists()


def test_an_order_of_the_second_layout_is_carried_whole(tmp_path: Path) -> None:
    """Lists of shafts and grips came after it. The old file shows what the Evenheft that made it has computed."""
    old = OLD.with_name("layout-2.xlsx")
    done = carry(old, tmp_path / "new.xlsx")
    assert (done.layout, done.left, done.valued) == (2, (), ())
    page = openpyxl.load_workbook(old, data_only=True)["Set"]
    heading = {str(cell.value): cell.column for cell in reversed(page[7])}
    was = {str(page.cell(row, 2).value): str(page.cell(row, heading["What is flagged"]).value) for row in range(8, 17)}
    assert len(was) == done.clubs == 9
    now = {club.name: club.flags for club in read_order(tmp_path / "new.xlsx").clubs}
    flags, before = ({name: flag.partition(",")[0] for name, flag in said.items()} for said in (now, was))
    # What a dry fit lacks is doubted today, and that layout doubted nothing of it.
    assert {name: flag for name, flag in flags.items() if flag != before[name]} == dict.fromkeys(
        ("Pitching wedge", "Sand wedge"), "swingweight re-measure"
    )
    with pytest.raises(Refused, match="evenheft new"):
        read_order(old)


def flags_that_stay(layout: int, new: Path) -> dict[str, str]:
    """Carry an old file whole, and see that the new order says what the Evenheft that made the old one computed."""
    old = OLD.with_name(f"layout-{layout}.xlsx")
    done = carry(old, new)
    assert (done.layout, done.left, done.valued, done.clubs) == (layout, (), (), 9)
    page = openpyxl.load_workbook(old, data_only=True)["Set"]
    was = {str(page.cell(row, 2).value): str(page.cell(row, 5).value) for row in range(8, 17)}
    assert {club.name: club.flags for club in read_order(new).clubs} == was
    assert len(was) == 9
    with pytest.raises(Refused, match="evenheft new"):
        read_order(old)
    return was


def test_an_order_of_the_third_layout_is_carried_whole_and_says_the_same(tmp_path: Path) -> None:
    """Reference clubs came after it."""
    assert flags_that_stay(3, tmp_path / "new.xlsx")["6-iron"] == "all in"  # 5 g at the head were done on Fix
    new = openpyxl.load_workbook(tmp_path / "new.xlsx")["Shop"]
    assert [new.cell(SHAFTS.first_row, SHAFTS.at[key]).value for key in ("shaft", "mass")] == [12, "98.2 g"]


def test_an_order_of_the_fourth_layout_is_carried_whole_and_says_the_same(tmp_path: Path) -> None:
    """What is told of a putter, of Card and of what was deleted came after it."""
    was = flags_that_stay(4, tmp_path / "new.xlsx")
    assert was["Pitching wedge"] == "total mass low"  # by a reference club


def test_reference_clubs_are_carried_by_name(tmp_path: Path) -> None:
    book = build_demo()
    typed = {"reference1_group": "Irons", "reference1_place": 3, "reference1_mass": "15.2 oz", "reference3_period": 19,
             "order_offer_change": "yes"}  # fmt: skip
    for name, value in typed.items():
        sheet, _, cell = book.defined_names[name].attr_text.replace("$", "").partition("!")
        book[sheet][cell].value = value
    (tmp_path / "old.xlsx").write_bytes(save_bytes(book))
    assert carry(tmp_path / "old.xlsx", tmp_path / "new.xlsx").left == ()
    computed = Computed.open(tmp_path / "new.xlsx")
    assert {name: computed.named_cell(name) for name in typed} == typed


def test_lists_of_shafts_and_grips_are_carried_by_what_names_them(tmp_path: Path) -> None:
    clubs: list[PageRow] = [{"order.club": "5-iron", "parts.shaft_number": 12, "parts.grip_model": "Grip A"}]
    path = filled_order(tmp_path / "old.xlsx", clubs, targets=[])
    book = openpyxl.load_workbook(path)
    shop = book["Shop"]
    for at, (number, mass) in enumerate(((12, "98.2 g"), ("S-7", 101.5))):
        shop.cell(SHAFTS.first_row + at, SHAFTS.at["shaft"]).value = number
        shop.cell(SHAFTS.first_row + at, SHAFTS.at["mass"]).value = mass
    shop.cell(GRIPS.first_row, GRIPS.at["grip"]).value = "Grip A"
    shop.cell(GRIPS.first_row, GRIPS.at["mass"]).value = 50.5
    book.save(path)
    assert carry(path, tmp_path / "new.xlsx").left == ()
    new = openpyxl.load_workbook(tmp_path / "new.xlsx")
    shop = new["Shop"]
    listed = [[shop.cell(SHAFTS.first_row + at, SHAFTS.at[key]).value for key in ("shaft", "mass")] for at in range(3)]
    assert listed == [[12, "98.2 g"], ["S-7", 101.5], [None, None]]
    assert [shop.cell(GRIPS.first_row, GRIPS.at[key]).value for key in ("grip", "mass")] == ["Grip A", 50.5]
    assert by_number(new, PARTS, "shaft_number")[1] == 12
