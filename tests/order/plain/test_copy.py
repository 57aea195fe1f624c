"""A copy of an order without the add-in: the same values, in ordinary formulas where that is short."""

import re
import zipfile
from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner, Result
from hypothesis import given
from hypothesis import strategies as st

from calc_office import Calc
from evenheft.cli import main
from evenheft.formulas import REGISTRY
from evenheft.formulas.calling import call
from evenheft.hosts.embedded import Computed, Value, compute_beside
from evenheft.ooxml.package import open_package
from evenheft.ooxml.reading import read_sheet
from evenheft.order.demo import build_demo
from evenheft.order.drawing.template import save_bytes
from evenheft.order.layout import BENCH, FIRST_ROW, LAST_ROW, SET
from evenheft.order.plain.formulas import NoPlainError, functions_in, plain, translatable
from untouched import changed_parts


@pytest.fixture(scope="module")
def order(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("plain") / "order.xlsx"
    book = build_demo()
    book["Bench"].cell(FIRST_ROW + 2, BENCH.at["done_mass"]).value = 753000  # a message must come along as well
    path.write_bytes(save_bytes(book))
    return path


@pytest.fixture(scope="module")
def copy(order: Path) -> Path:
    path = order.with_name("copy.xlsx")
    said = share(order, "-o", path)
    assert said.exit_code == 0, said.stderr
    return path


def share(order: Path, *words: object) -> Result:
    return CliRunner().invoke(main, ["share", str(order), "--plain", *map(str, words)], catch_exceptions=False)


def formulas(path: Path) -> dict[tuple[str, int, int], str]:
    with open_package(path) as package:
        return {
            (sheet.name, *place): text
            for sheet in package.sheets
            for place, text in read_sheet(package, sheet.name).formulas.items()
        }


def same(new: object, old: object) -> bool:
    new, old = ("" if value is None else value for value in (new, old))
    if isinstance(new, float) and isinstance(old, float):
        return new == pytest.approx(old, rel=1e-9, abs=1e-9)
    return new == old


def test_no_heft_formula_is_left_and_every_value_is_the_same(order: Path, copy: Path) -> None:
    before, after = Computed.open(order), Computed.open(copy)
    assert any("HEFT_" in text for text in formulas(order).values())
    assert not any("HEFT_" in text.upper() for text in formulas(copy).values())
    for place in formulas(order):
        assert same(after.value(*place), before.value(*place)), place


def test_other_cells_and_parts_are_untouched(order: Path, copy: Path) -> None:
    assert all(part.startswith(("xl/worksheets/sheet", "xl/styles.xml")) for part in changed_parts(order, copy))
    kept = {place: text for place, text in formulas(order).items() if "HEFT_" not in text}
    assert kept.items() <= formulas(copy).items()


def test_a_spreadsheet_without_the_add_in_shows_the_same(order: Path, copy: Path, bare_calc: Calc) -> None:
    before = Computed.open(order)
    with bare_calc.open(copy) as book:
        book.calculate(everything=True)
        for key in (*(f"slot{n}_{part}" for n in (1, 2) for part in ("value", "verdict")), "flags", "rule"):
            letter = SET.letter(key)
            shown = book.read("Set", f"{letter}{FIRST_ROW}:{letter}{LAST_ROW}")
            for n, (value,) in enumerate(shown):
                expected = before.value("Set", FIRST_ROW + n, SET.at[key])
                assert same(float(value) if isinstance(value, int) else value, expected), (key, n)


def test_it_says_which_became_what(order: Path, tmp_path: Path) -> None:
    said = share(order, "-o", tmp_path / "again.xlsx")
    assert re.search(r"Set .*HEFT_POINTS .*23 .*1 ", said.output)
    assert re.search(r"Parts .*HEFT_CLUB ", said.output)
    assert "the customer too" in said.output


def test_refusals_are_one_line(order: Path, tmp_path: Path) -> None:
    (tmp_path / "there.xlsx").write_bytes(b"")
    for words, line in [
        (("-o", tmp_path / "copy.pdf"), "must end in .xlsx"),
        (("--for", "supplier"), "say what is to be shared"),
        (("-o", tmp_path / "there.xlsx"), "there already"),
    ]:
        said = share(order, *words)
        assert said.exit_code == 2
        assert line in said.stderr
        assert said.stderr.count("\n") == 1


def test_the_list_of_computing_order_that_no_longer_fits_is_left_out(order: Path, tmp_path: Path) -> None:
    chained = tmp_path / "chained.xlsx"
    with zipfile.ZipFile(order) as old, zipfile.ZipFile(chained, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            text = old.read(name)
            if name == "[Content_Types].xml":
                part = (
                    b'<Override PartName="/xl/calcChain.xml" ContentType="application/vnd.openxmlformats-officedocument'
                )
                text = text.replace(b"</Types>", part + b'.spreadsheetml.calcChain+xml"/></Types>')
            if name == "xl/_rels/workbook.xml.rels":
                kind = b"http://schemas.openxmlformats.org/officeDocument/2006/relationships/calcChain"
                link = b'<Relationship Id="rId99" Type="%b" Target="calcChain.xml"/></Relationships>' % kind
                text = text.replace(b"</Relationships>", link)
            new.writestr(name, text)
        new.writestr("xl/calcChain.xml", b'<calcChain xmlns="x"><c r="A1" i="1"/></calcChain>')
    assert share(chained).exit_code == 0
    with zipfile.ZipFile(chained.with_name("chained-plain.xlsx")) as package, zipfile.ZipFile(order) as old:
        assert package.testzip() is None
        assert "xl/calcChain.xml" not in package.namelist()
        for name in ("[Content_Types].xml", "xl/_rels/workbook.xml.rels"):
            assert package.read(name) == old.read(name)
    assert openpyxl.load_workbook(chained.with_name("chained-plain.xlsx"))


def test_formulas_that_share_a_text_become_values(order: Path, tmp_path: Path) -> None:
    column, first = SET.letter("swingweight_number"), FIRST_ROW
    shared = tmp_path / "shared.xlsx"
    with open_package(order) as package:
        part = package.sheet("Set").part
    with zipfile.ZipFile(order) as old, zipfile.ZipFile(shared, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            text = old.read(name).decode("utf-8", "surrogateescape")
            if name == part:
                text = re.sub(
                    rf'(<c r="{column}{first}"[^>]*>)<f>',
                    rf'\1<f t="shared" ref="{column}{first}:{column}{first + 1}" si="0">',
                    text,
                )
                text = re.sub(rf'(<c r="{column}{first + 1}"[^>]*>)<f>[^<]*</f>', r'\1<f t="shared" si="0"/>', text)
                assert text.count('si="0"') == 2
            new.writestr(name, text.encode("utf-8", "surrogateescape"))
    assert share(shared).exit_code == 0
    plain_copy = shared.with_name("shared-plain.xlsx")
    left = formulas(plain_copy)
    at = SET.at["swingweight_number"]
    assert ("Set", first, at) not in left
    assert ("Set", first + 1, at) not in left
    assert ("Set", first + 2, at) not in left  # it holds a message
    assert ("Set", first + 3, at) in left
    assert Computed.open(plain_copy).value("Set", first, at) == Computed.open(order).value("Set", first, at)


NUMBERS = {
    "HEFT_MOMENT": (431.0, 75.3), "HEFT_POINTS": (431.0, 75.3), "HEFT_LABEL": (32.25,),
    "HEFT_INERTIA": (431.0, 75.3, 1.88),
    "HEFT_DOUBT": (431.0, 75.3, 0.5, 0.1), "HEFT_VERDICT": (32.3, 32.0, 0.5, 0.1), "HEFT_TARGET": (32.0, 0.5, 3.0),
    "HEFT_CONVERT": (431.0, "g", "oz"), "HEFT_FROM_BUTT": (74.9, "shaft end", 0.4),
    "HEFT_LENGTH_LIMIT": (122.5, "other"),
}  # fmt: skip


def tried(name: str, arguments: tuple[float | str, ...], units: str | None = None) -> tuple[object, object]:
    """What the ordinary formula and the HEFT_ one answer for arguments that stand in cells."""
    given: list[float | str] = list(arguments)
    text = [f"{chr(65 + n)}1" for n in range(len(given))]
    if units is not None:
        place = next(n for n, a in enumerate(REGISTRY[name].arguments) if a.name == "units")
        text += [""] * (place - len(text)) + [f'"{units}"']
        given += [None] * (place - len(given)) + [units]
    cells = {(1, n + 1): value for n, value in enumerate(arguments)}

    def look(cell: str) -> Value:
        return cells[1, ord(cell[0]) - 64]

    formula = plain(f"={name}({','.join(text)})", look)
    assert "HEFT" not in formula
    return compute_beside(cells, {(1, 20): formula})[1, 20], call(REGISTRY[name], given)


def test_each_translation_has_a_case() -> None:
    assert set(translatable()) == set(NUMBERS)


@pytest.mark.parametrize("name", NUMBERS)
def test_a_translation_gives_what_the_formula_gives(name: str) -> None:
    new, old = tried(name, NUMBERS[name])
    assert same(new, old)
    blank, quiet = tried(name, ("", *NUMBERS[name][1:]))
    assert blank == quiet == ""


@pytest.mark.parametrize("units", ["g in", "oz cm", "oz in", "g mm"])
@pytest.mark.parametrize("name", ["HEFT_MOMENT", "HEFT_POINTS", "HEFT_INERTIA", "HEFT_DOUBT", "HEFT_LENGTH_LIMIT"])
def test_a_translation_speaks_in_the_calls_units(name: str, units: str) -> None:
    mass = 28.349523125 if units.startswith("oz") else 1.0
    length = {"in": 2.54, "cm": 1.0, "mm": 0.1}[units.split()[1]]
    dimensions = [getattr(argument.kind, "dimension", None) for argument in REGISTRY[name].arguments]
    scaled = tuple(
        value / {"mass": mass, "length": length}.get(dimension, 1.0) if isinstance(value, float) else value
        for value, dimension in zip(NUMBERS[name], dimensions, strict=False)
    )
    new, old = tried(name, scaled, units)
    assert not isinstance(old, str) or not old.startswith("!")
    assert same(new, old)


@given(st.floats(0, 60), st.floats(0, 60), st.floats(0, 3), st.floats(0, 1))
def test_a_verdict_in_ordinary_arithmetic_is_the_verdict(
    value: float, target: float, most: float, doubt: float
) -> None:
    new, old = tried("HEFT_VERDICT", (value, target, most, doubt))
    assert new == old


@pytest.mark.parametrize("rule", ["none", "G-10"])
def test_a_length_is_judged_by_the_local_rule_that_is_chosen(rule: str) -> None:
    new, old = tried("HEFT_LENGTH_LIMIT", (119.0, "other", "g cm", rule))
    assert new == old == ("within" if rule == "none" else "too long")


def test_what_has_no_short_equivalent_says_so() -> None:
    for formula in ("=HEFT_CLUB(A1:B1,A2:B2)", "=HEFT_LABEL(HEFT_POINTS(A1,B1))", '=HEFT_CONVERT(A1,"g","cm")'):
        with pytest.raises(NoPlainError):
            plain(formula, lambda _: 1.0)
    with pytest.raises(NoPlainError):  # a length typed with its unit may be typed anew
        plain('=HEFT_LENGTH_LIMIT(A1,"other")', lambda _: "38 in")
    assert plain("=HEFT_POINTS(A1,B1,shop_units,shop_fulcrum)", {"A1": 1.0, "B1": 1.0, "shop_units": "g in",
                 "shop_fulcrum": "14 in"}.__getitem__).count("35.56") == 1  # fmt: skip
    assert functions_in('="HEFT_X(1)"&A1') == set()
