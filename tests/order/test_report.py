"""An order is read by its own Set sheet: cells are typed in, computed by the real engine, and reported."""

import io
import zipfile
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest

from evenheft.hosts.embedded import EngineError
from evenheft.ooxml.errors import Refused
from evenheft.order.demo import PLANTED, build_demo
from evenheft.order.drawing.template import build_order, save_bytes
from evenheft.order.layout import BENCH, FIRST_ROW, GROUP_NAMES, ORDER, QUANTITIES, TARGET, TARGET_PARTS
from evenheft.order.report import ClubReport, OrderReport, as_json, read_order

CAREFUL = {
    "doubt_balance": "0.05 cm", "doubt_watch": 0.002, "shop_swings": 1, "doubt_length": "0.1 cm", "doubt_pivot": "0 cm",
    "doubt_gravity": 0,
}  # fmt: skip
"""A finer bench than a new order's, which supports the tolerances of these tests; swings are timed one by one."""


def careful_order() -> openpyxl.Workbook:
    book = build_order()
    for name, value in CAREFUL.items():
        sheet, _, cell = book.defined_names[name].attr_text.replace("$", "").partition("!")
        book[sheet][cell].value = value
    return book


Fill = Callable[[openpyxl.Workbook], None]


def order_file(folder: Path, fill: Fill, build: Callable[[], openpyxl.Workbook] = careful_order) -> Path:
    book = build()
    fill(book)
    path = folder / "order.xlsx"
    path.write_bytes(save_bytes(book))
    return path


def club(book: openpyxl.Workbook, place: int, name: str, group: str = "Irons", **measured: object) -> None:
    row = FIRST_ROW + place - 1
    book["Order"].cell(row, ORDER.at["club"]).value = name
    book["Order"].cell(row, ORDER.at["group"]).value = group
    for key, value in measured.items():
        book["Bench"].cell(row, BENCH.at[key]).value = value


def target(
    book: openpyxl.Workbook, quantity: str, group: int, first: object, increment: object, tolerance: object
) -> None:
    for part, value in zip(TARGET_PARTS, (first, increment, tolerance), strict=True):
        book["Order"].cell(TARGET.first_row + group, TARGET.at[f"{quantity}_{part}"]).value = value


IRONS = GROUP_NAMES.index("Irons")


def one_iron(book: openpyxl.Workbook, **measured: object) -> None:
    club(book, 1, "7-iron", **{"done_mass": 433.2, "done_balance": 71.65, **measured})
    target(book, "swingweight", IRONS, "D2", 0, 0.5)


def only_club(report: OrderReport) -> ClubReport:
    (found,) = report.clubs
    return found


def test_demo_flags_are_the_three_that_were_planted(tmp_path: Path) -> None:
    report = read_order(order_file(tmp_path, lambda _: None, build_demo))
    assert len(report.clubs) == 9
    assert {c.name: c.flags for c in report.flagged} == PLANTED
    assert all(c.flags == "all in" for c in report.clubs if c.name not in PLANTED)


def test_verdict_carries_value_target_deviation_tolerance_and_doubt(tmp_path: Path) -> None:
    (judgement,) = only_club(read_order(order_file(tmp_path, one_iron))).judgements
    # 433.2 g at 71.65 cm: 433.2 x 36.09 = 15634.2 g cm; by hand (15634.2 / 72.0078 - 161) / 1.75 = 32.067.
    assert judgement.value == pytest.approx(32.067, abs=0.001)
    assert (judgement.shown, judgement.target, judgement.target_shown) == ("D2.1", 32.0, "D2.0")
    assert judgement.deviation == pytest.approx(0.067, abs=0.001)
    assert judgement.tolerance == 0.5
    # 2/sqrt(3) x sqrt((36.09 x 0.1)^2 + (433.2 x 0.05)^2) / 126.01 = 0.201 points
    assert judgement.doubt == pytest.approx(0.201, abs=0.001)
    assert judgement.verdict == "in"


def test_place_counts_within_the_group(tmp_path: Path) -> None:
    def fill(book: openpyxl.Workbook) -> None:
        club(book, 1, "Driver", "Driver", length="45 in")
        club(book, 2, "5-iron", length="38 in")
        club(book, 3, "6-iron", length="37 1/2 in")
        club(book, 4, "Wedge", "Wedges", length="35 in")
        club(book, 5, "7-iron", length="37 in")
        target(book, "length", IRONS, 96.52, -1.27, 0.4)

    report = read_order(order_file(tmp_path, fill))
    assert {c.name: c.judgements[0].target for c in report.judged} == pytest.approx(
        {"5-iron": 96.52, "6-iron": 95.25, "7-iron": 93.98}
    )
    assert all(c.flags == "all in" for c in report.judged)


def test_dry_fit_hooked_on_the_shaft_end_counts_the_caps_thickness(tmp_path: Path) -> None:
    def fill(book: openpyxl.Workbook) -> None:
        club(book, 1, "7-iron", dry_mass=433.2, dry_balance=71.25, dry_hooked="shaft end")
        club(book, 2, "8-iron", dry_mass=433.2, dry_balance=71.65, dry_hooked="grip cap")
        club(book, 3, "9-iron", dry_mass=400, dry_balance=60, done_mass=433.2, done_balance=71.65)
        target(book, "swingweight", IRONS, 32, 0, 0.5)

    values = [c.judgements[0].value for c in read_order(order_file(tmp_path, fill)).clubs]
    assert values == pytest.approx([values[1]] * 3, abs=1e-9)


def test_orders_in_inches_and_ounces(tmp_path: Path) -> None:
    def fill(book: openpyxl.Workbook) -> None:
        address = book.defined_names["shop_units"].attr_text.split("!")[1].replace("$", "")
        book["Shop"][address].value = "oz in"
        club(book, 1, "7-iron", done_mass=433.2 / 28.349523125, done_balance=71.65 / 2.54, length=37)
        club(book, 2, "8-iron", done_mass="433.2 g", done_balance="71.65 cm", length="37 in")
        target(book, "swingweight", IRONS, "D2", 0, 0.5)
        target(book, "mass", IRONS, 15.28, 0, 0.1)
        target(book, "length", IRONS, 37, 0, 0.25)

    report = read_order(order_file(tmp_path, fill))
    assert dict(report.units)["mass"] == "oz"
    first, second = report.clubs
    assert [j.value for j in first.judgements] == pytest.approx([j.value for j in second.judgements], rel=1e-9)
    assert first.flags == second.flags == "all in"
    assert first.judgements[1].value == pytest.approx(15.2807, abs=1e-4)


@pytest.mark.parametrize(
    ("measured", "message"),
    [
        ({"done_balance": 29.6}, "balance must be beyond the fulcrum at 35.56 cm, got 29.6 cm: inches?"),
        ({"done_mass": 15.2}, "mass must be from 50 g to 2000 g, got 15.2: ounces?"),
        ({"done_mass": "heavy"}, "mass must be a mass such as 431 or 15.2 oz, got heavy"),
        ({"done_balance": -71}, "must be more than 0 cm and less than 200 cm, got -71"),
    ],
)
def test_a_slip_is_told_in_the_verdict_and_flags_the_club(
    tmp_path: Path, measured: dict[str, object], message: str
) -> None:
    def fill(book: openpyxl.Workbook) -> None:
        one_iron(book, **measured)
        club(book, 2, "8-iron", done_mass=433.2, done_balance=71.65)

    bad, good = read_order(order_file(tmp_path, fill)).clubs
    assert bad.flagged
    assert bad.flags.startswith("swingweight: ")
    assert message in bad.flags
    assert bad.judgements[0].verdict.startswith("! ")
    assert message in bad.judgements[0].verdict
    assert bad.judgements[0].deviation is None
    assert good.flags == "all in"


def test_swingweight_off_the_scale_is_still_judged_by_its_number(tmp_path: Path) -> None:
    report = read_order(order_file(tmp_path, lambda book: one_iron(book, done_mass=800, done_balance=80)))
    (judgement,) = only_club(report).judgements
    assert judgement.shown.startswith("! ")
    assert "to have a label" in judgement.shown
    assert judgement.verdict == "high"


def test_a_target_without_tolerance_is_told(tmp_path: Path) -> None:
    def fill(book: openpyxl.Workbook) -> None:
        club(book, 1, "7-iron", done_mass=433.2, done_balance=71.65)
        target(book, "swingweight", IRONS, "D2", 0, None)

    (judgement,) = only_club(read_order(order_file(tmp_path, fill))).judgements
    assert judgement.verdict == "! tolerance is blank on Order"


def test_a_group_that_is_not_on_order_is_told(tmp_path: Path) -> None:
    def fill(book: openpyxl.Workbook) -> None:
        one_iron(book)
        club(book, 2, "Chipper", "Chippers", done_mass=433.2, done_balance=71.65)

    report = read_order(order_file(tmp_path, fill))
    assert report.clubs[1].flags == "group is not on Order"
    assert report.clubs[1].flagged


@pytest.mark.parametrize(
    ("length", "putter", "rule"),
    # R&A / USGA Equipment Rules, Part 2, 1c: 18 in at least, 48 in at most except for putters.
    [
        ("48 in", None, "within"),
        ("48 1/4 in", None, "too long"),
        ("48 1/4 in", "putter", "within"),
        ("17 3/4 in", "putter", "too short"),
    ],
)  # fmt: skip
def test_length_rule_is_told(tmp_path: Path, length: str, putter: str | None, rule: str) -> None:
    def fill(book: openpyxl.Workbook) -> None:
        one_iron(book, length=length)
        book["Order"].cell(FIRST_ROW, ORDER.at["putter"]).value = putter

    found = only_club(read_order(order_file(tmp_path, fill)))
    assert found.length_rule == rule
    assert found.flagged is (rule != "within")


def test_a_local_rule_of_46_in_is_a_choice_that_is_off(tmp_path: Path) -> None:
    """Model Local Rule G-10 (from memory)."""

    def fill(book: openpyxl.Workbook) -> None:
        one_iron(book, length="47 in")

    def with_rule(book: openpyxl.Workbook) -> None:
        fill(book)
        sheet, _, cell = book.defined_names["shop_local_rule"].attr_text.replace("$", "").partition("!")
        assert book[sheet][cell].value == "none"
        book[sheet][cell].value = "G-10"

    assert only_club(read_order(order_file(tmp_path, fill))).length_rule == "within"
    assert only_club(read_order(order_file(tmp_path, with_rule))).length_rule == "too long"


def test_only_quantities_with_a_target_are_judged(tmp_path: Path) -> None:
    report = read_order(
        order_file(tmp_path, lambda book: one_iron(book, period=1.858, length="37 in", loft=33, lie=62, frequency=310))
    )
    assert [j.quantity for j in only_club(report).judgements] == ["swingweight"]


def test_every_quantity_can_be_judged(tmp_path: Path) -> None:
    def fill(book: openpyxl.Workbook) -> None:
        one_iron(book, period=1.858, length="37 in", loft=33, lie=62, frequency=310)
        for key, first, tolerance in [
            ("mass", 433, 2), ("inertia", 2660, 40), ("length", 93.98, 0.4), ("loft", 30, 1), ("lie", 62, 0.75),
            ("frequency", 310, 3),
        ]:  # fmt: skip
            target(book, key, IRONS, first, 0, tolerance)

    found = only_club(read_order(order_file(tmp_path, fill)))
    assert [j.quantity for j in found.judgements] == [q.key for q in QUANTITIES]
    assert found.flags == "loft high"


def test_an_empty_order_is_refused_in_one_line(tmp_path: Path) -> None:
    with pytest.raises(Refused, match=r"^order\.xlsx holds no club to judge yet"):
        read_order(order_file(tmp_path, lambda _: None))


def test_a_workbook_of_another_kind_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "stock.xlsx"
    other = openpyxl.Workbook()
    other.active["A1"] = "Grips on the shelf"
    other.save(path)
    with pytest.raises(Refused, match="not an Evenheft order"):
        read_order(path)


def test_an_order_of_a_newer_layout_is_refused(tmp_path: Path) -> None:
    def fill(book: openpyxl.Workbook) -> None:
        sheet, _, address = book.defined_names["evenheft_workbook"].attr_text.partition("!")
        book[sheet][address.replace("$", "")].value = "evenheft order 999"

    with pytest.raises(Refused, match="newer Evenheft"):
        read_order(order_file(tmp_path, fill))


def test_an_order_that_lost_a_sheet_is_refused(tmp_path: Path) -> None:
    with pytest.raises((Refused, EngineError), match="Bench"):
        read_order(order_file(tmp_path, lambda book: book.remove(book["Bench"])))


def test_formulas_as_excel_saves_those_of_an_add_in_are_read(tmp_path: Path) -> None:
    path = order_file(tmp_path, lambda _: None, build_demo)
    linked = io.BytesIO()
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(linked, "w") as new:
        for name in old.namelist():
            data = old.read(name)
            if name.startswith("xl/worksheets/"):
                assert b"[1]!" not in data
                data = data.replace(b"HEFT_", b"[1]!HEFT_")
            new.writestr(name, data)
    path.write_bytes(linked.getvalue())
    assert {c.name: c.flags for c in read_order(path).flagged} == PLANTED


def test_report_as_plain_data_keeps_full_numbers(tmp_path: Path) -> None:
    report = read_order(order_file(tmp_path, lambda _: None, build_demo))
    data = as_json(report)
    assert (data["judged"], data["flagged"]) == (9, 3)
    low = next(c for c in data["clubs"] if c["name"] == "6-iron")
    assert low["flagged"] is True
    assert low["judgements"][0]["deviation"] == report.clubs[2].judgements[0].deviation


def test_half_a_measurement_is_told_and_not_passed_over(tmp_path: Path) -> None:
    def fill(book: openpyxl.Workbook) -> None:
        club(book, 1, "no balance", done_mass=433.2, length=96.5)
        club(book, 2, "no mass", done_balance=71.65, length=96.5)
        target(book, "swingweight", IRONS, "D2", 0, 0.5)
        target(book, "length", IRONS, 96.5, 0, 0.5)

    clubs = read_order(order_file(tmp_path, fill)).clubs
    assert [c.judgements[0].verdict for c in clubs] == [
        "! balance is not measured yet: type it on Bench", "! mass is not measured yet: type it on Bench",
    ]  # fmt: skip
    assert [c.flags for c in clubs] == [
        f"swingweight: {what} is not measured yet: type it on Bench" for what in ("balance", "mass")
    ]
    assert all(c.flagged for c in clubs)


def test_what_has_a_target_and_no_value_yet_is_named(tmp_path: Path) -> None:
    def fill(book: openpyxl.Workbook) -> None:
        one_iron(book)
        target(book, "inertia", IRONS, 2700, 0, 50)
        target(book, "lie", IRONS, 62, 0, 1)

    found = only_club(read_order(order_file(tmp_path, fill)))
    assert found.flags == "all in; not measured yet: inertia, lie"
    assert not found.flagged


def test_a_measured_club_without_a_group_is_told(tmp_path: Path) -> None:
    def fill(book: openpyxl.Workbook) -> None:
        club(book, 1, "lost", done_mass=433.2, done_balance=71.65)
        book["Order"].cell(FIRST_ROW, ORDER.at["group"]).value = None
        target(book, "swingweight", IRONS, "D2", 0, 0.5)

    assert only_club(read_order(order_file(tmp_path, fill))).flags == "group is blank on Order"


def test_a_slip_in_the_mass_is_told_once(tmp_path: Path) -> None:
    found = only_club(read_order(order_file(tmp_path, lambda book: one_iron(book, done_mass="about 400", period=1.9))))
    assert [j.quantity for j in found.judgements] == ["swingweight"]
    assert found.flags == "swingweight: mass must be a mass such as 431 or 15.2 oz, got about 400"


@pytest.mark.parametrize("error", ["=1/0", "=NA()"])
def test_an_error_cell_on_the_bench_is_told(tmp_path: Path, error: str) -> None:
    found = only_club(read_order(order_file(tmp_path, lambda book: one_iron(book, done_mass=error))))
    assert found.flags.startswith("swingweight: a cell of the bench shows #")
    assert found.judgements[0].verdict.startswith("! a cell of the bench shows #")


def test_targets_of_length_and_mass_may_carry_their_unit(tmp_path: Path) -> None:
    def fill(book: openpyxl.Workbook) -> None:
        for place, length in enumerate(("38 in", "37 1/2 in"), start=1):
            club(book, place, f"iron {place}", done_mass=433.2, done_balance=71.65, length=length)
        target(book, "length", IRONS, "38 in", "-1/2 in", "1/8 in")
        target(book, "mass", IRONS, "15.3 oz", 0, "5 g")

    first, second = read_order(order_file(tmp_path, fill)).clubs
    assert first.flags == second.flags == "all in"
    assert [c.judgements[1].target for c in (first, second)] == pytest.approx([96.52, 95.25])
    assert second.judgements[1].tolerance == pytest.approx(0.3175)
    assert first.judgements[0].target == pytest.approx(15.3 * 28.349523125)


def test_an_order_in_ounces_shows_hundredths_of_them(tmp_path: Path) -> None:
    def fill(book: openpyxl.Workbook) -> None:
        one_iron(book, done_mass=15.28, done_balance=28.21)
        target(book, "mass", IRONS, 15.25, 0, 0.1)
        address = book.defined_names["shop_units"].attr_text.split("!")[1].replace("$", "")
        book["Shop"][address].value = "oz in"

    mass = only_club(read_order(order_file(tmp_path, fill))).judgements[1]
    assert (mass.shown, mass.target_shown, mass.verdict) == ("15.28", "15.25", "in")
