"""Units against NIST SP 811 and scipy.constants, and text as a shop types it."""

from __future__ import annotations

import math
import re

import pytest
import scipy.constants
from hypothesis import given
from hypothesis import strategies as st

from evenheft.mechanics import units
from evenheft.mechanics.units import BY_SYMBOL, find_unit, find_unit_pair, read_number, read_quantity


def test_factors_are_nist_sp_811s() -> None:
    # NIST SP 811 (2008), Appendix B.8: 1 in = 2.54 E-02 m and 1 oz (avoirdupois) = 2.834 952 E-02 kg (7 digits
    # printed), 1 lb = 4.535 924 E-01 kg, 1 ft = 3.048 E-01 m; from memory. Tolerance: the printed digits.
    assert BY_SYMBOL["in"].factor == 2.54
    assert BY_SYMBOL["ft"].factor == pytest.approx(30.48, rel=1e-15)
    assert BY_SYMBOL["oz"].factor == pytest.approx(28.34952, abs=5e-6)
    assert BY_SYMBOL["lb"].factor == pytest.approx(453.5924, abs=5e-5)


def test_factors_are_scipys() -> None:
    # scipy.constants carries the exact definitions in SI; tolerance: rounding.
    assert BY_SYMBOL["in"].factor == pytest.approx(scipy.constants.inch * 100, rel=1e-15)
    assert BY_SYMBOL["ft"].factor == pytest.approx(scipy.constants.foot * 100, rel=1e-15)
    assert BY_SYMBOL["oz"].factor == pytest.approx(scipy.constants.oz * 1000, rel=1e-15)
    assert BY_SYMBOL["lb"].factor == pytest.approx(scipy.constants.lb * 1000, rel=1e-15)
    assert BY_SYMBOL["in oz"].factor == pytest.approx(scipy.constants.inch * scipy.constants.oz * 1e5, rel=1e-15)
    assert BY_SYMBOL["oz in2"].factor == pytest.approx(scipy.constants.oz * scipy.constants.inch**2 * 1e7, rel=1e-15)


def test_standard_gravity() -> None:
    # 3rd CGPM (1901), by way of scipy.constants.g; exact.
    assert pytest.approx(scipy.constants.g * 100, rel=1e-15) == units.STANDARD_GRAVITY


HALF = 44.5 * 2.54


@pytest.mark.parametrize(
    ("text", "cm"),
    [
        ("44 1/2 in", HALF), ('44-1/2"', HALF), ('44–1/2"', HALF), ('44½"', HALF), ("44 ½ in", HALF),
        ("44½ in.", HALF), ("44.5″", HALF), ("44.5 ”", HALF), ("44.5''", HALF), ("44,5 Inches ", HALF),
        ("44.5\u00a0in", HALF), ("44.5INCH", HALF), ('3\' 8 1/2"', HALF), ("3 ft 8 1/2 in", HALF),
        ("3′ 8.5″", HALF), ("44 1⁄2 in", HALF), ("44 1∕2 in", HALF),
        ("44 5/8 in", 44.625 * 2.54), ("44⅝ in", 44.625 * 2.54), ("44 ⅝\"", 44.625 * 2.54), ("½ in", 1.27),
        ("1.13m", 113), ("1.13 m ", 113), ("1,13 metres", 113), ("1 m 13 cm", 113), ("1130mm", 113), ("113", 113),
        ("75,3", 75.3), (" 75.3 cm", 75.3), ("75.3cm.", 75.3), ("７５.３ cm", 75.3), (".5", 0.5), (",5 cm", 0.5),
        ("1,130.5 mm", 113.05), ("1.130,5 mm", 113.05), ("0,123 m", 12.3), ("1.130 m", 113), ("1e2 cm", 100),
        ("-5", -5), ("−5 cm", -5), ("+5", 5), ("1/2", 0.5), ("44-1/2 cm", 44.5),
    ],
)  # fmt: skip
def test_lengths_as_a_shop_types_them(text: str, cm: float) -> None:
    assert read_quantity(text, "length", BY_SYMBOL["cm"]) == pytest.approx(cm, rel=1e-14)


@pytest.mark.parametrize(
    ("text", "grams"),
    [
        ("431", 431), ("431 g", 431), ("431g.", 431), ("0,431 kg", 431), ("15.2 oz", 15.2 * 28.349523125),
        ("15 1/4 OZ", 15.25 * 28.349523125), ("15oz 4g", 15 * 28.349523125 + 4), ("1 lb", 453.59237),
        ("1 lb 2 oz", 18 * 28.349523125), ("2500 mg", 2.5),
    ],
)  # fmt: skip
def test_masses_as_a_shop_types_them(text: str, grams: float) -> None:
    assert read_quantity(text, "mass", BY_SYMBOL["g"]) == pytest.approx(grams, rel=1e-14)


def test_the_default_unit_serves_a_text_without_one() -> None:
    assert read_quantity("44 1/2", "length", BY_SYMBOL["in"]) == pytest.approx(HALF)
    assert read_quantity("44 1/2 cm", "length", BY_SYMBOL["in"]) == pytest.approx(44.5)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("1,130", "1,130 may be 1.130 or 1130: write one of them"),
        ("12,345 cm", "12,345 may be 12.345 or 12345: write one of them"),
        ("5 gr", "may be grams or grains"),
        ("1 130", "must be a length"), ("44 3/2 in", "3/2 is not a fraction below one"),
        ("1/0", "1/0 is not a fraction below one"),
        ("44 0/2", "0/2 is not a fraction below one"), ("2/2", "2/2 is not a fraction below one"),
        ('44"1/2', "must be a length"), ("8in 3ft", "must be a length"), ("44 - 1/2 in", "must be a length"),
        ("5 cm 3 cm", "must be a length"), ("1m13", "must be a length"), ("44.1/2 in", "must be a length"),
        ("3 ft 13 in", "must be a length"), ("5 m -3 cm", "must be a length"),
        ("5²", "must be a length"), ("5³ cm", "must be a length"), ("²", "must be a length"),
        ("5⁴", "must be a length"), ("12½½", "must be a length"), ("5..3", "must be a number"),
        ("1,234,567", "must be a number"), ("1.234.567 cm", "must be a number"), ("5,3,2", "must be a number"),
        ("5e400", "must be a number"), ("", "must be a length"), ("  ", "must be a length"),
        ("in", "must be a length"), ("nan", "must be a length"), ("inf", "must be a length"),
        ("twelve", "must be a length"), ("1_000", "must be a length"), ("--5", "must be a length"),
        ("431 g", "must be a length: grams are a unit of mass"),
        ("213 in oz", "must be a length: inch ounces are a unit of moment"),
        ("5 furlong", "the unit furlong is not known: use g, oz"),
        ("5 " + "x" * 300, "the unit xxxxxxxxxxxxxxxxx... is not known"),
    ],
)  # fmt: skip
def test_what_is_no_length_or_has_two_readings_is_refused(text: str, message: str) -> None:
    with pytest.raises(ValueError, match=re.escape(message)):
        read_quantity(text, "length", BY_SYMBOL["cm"])


@pytest.mark.parametrize("symbol", BY_SYMBOL)
def test_every_unit_is_found_by_its_symbol_and_its_name(symbol: str) -> None:
    unit = BY_SYMBOL[symbol]
    assert find_unit(symbol) is unit
    assert find_unit(f"  {symbol.upper()} ") is unit
    if " " not in symbol:
        assert find_unit(unit.plural) is unit


@pytest.mark.parametrize(("text", "symbol"), [("kg cm²", "kg cm2"), ("in.oz", "in oz"), ("kgcm2", "kg cm2")])
def test_units_in_the_trades_spellings(text: str, symbol: str) -> None:
    assert find_unit(text).symbol == symbol


@pytest.mark.parametrize("text", ["", " ", "stone", "gr", "c m", "cm2", "1", "g cm3"])
def test_an_unknown_unit_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="the unit"):
        find_unit(text)


@pytest.mark.parametrize("pair", units.UNIT_PAIRS)
def test_unit_pairs(pair: str) -> None:
    mass, length = find_unit_pair(f" {pair.upper().replace(' ', ', ')} ")
    assert f"{mass.symbol} {length.symbol}" == pair
    assert (mass.dimension, length.dimension) == ("mass", "length")


@pytest.mark.parametrize("text", ["", "g", "cm g", "kg m", "g cm s"])
def test_an_unknown_unit_pair_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match='must be one of "g cm"'):
        find_unit_pair(text)


held = st.sampled_from([unit for unit in BY_SYMBOL.values() if unit.dimension in ("mass", "length")])
amounts = st.floats(min_value=-1e6, max_value=1e6, allow_nan=False)


@given(amount=amounts, unit=held)
def test_a_number_with_its_unit_reads_as_number_times_factor(amount: float, unit: units.Unit) -> None:
    assert unit.dimension in ("mass", "length")
    read = read_quantity(f"{amount!r} {unit.symbol}", unit.dimension, BY_SYMBOL["g"])
    assert read == amount * unit.factor


@given(amount=amounts, unit=held, other=held)
def test_a_conversion_there_and_back_keeps_the_number(amount: float, unit: units.Unit, other: units.Unit) -> None:
    assert amount * unit.factor / other.factor * other.factor / unit.factor == pytest.approx(amount, rel=1e-14)


@given(whole=st.integers(0, 9999), under=st.sampled_from([2, 4, 8, 16, 32, 64]), data=st.data())
def test_a_fraction_reads_as_its_decimal(whole: int, under: int, data: st.DataObject) -> None:
    over = data.draw(st.integers(1, under - 1))
    for text in (f"{whole} {over}/{under}", f"{whole}-{over}/{under}", f"{whole}  {over}⁄{under}"):
        assert read_number(text) == whole + over / under


@given(number=st.decimals(min_value=0, max_value=999, places=2))
def test_a_decimal_comma_reads_as_a_point(number: object) -> None:
    assert read_number(str(number).replace(".", ",")) == float(str(number))


anything = st.text(max_size=30) | st.text(alphabet="0123456789.,/-+ '\"½²³⅝eincmftozgk″′", max_size=16)


@given(text=anything, dimension=st.sampled_from(["mass", "length", "moment", "inertia"]))
def test_any_text_is_read_finite_or_refused_in_one_short_line(text: str, dimension: units.Dimension) -> None:
    for read in (lambda: read_quantity(text, dimension, BY_SYMBOL["in"]), lambda: read_number(text)):
        try:
            assert math.isfinite(read())
        except ValueError as error:
            assert 0 < len(str(error)) < 255
            assert str(error).splitlines() == [str(error)]


@given(text=anything)
def test_any_text_is_a_unit_or_refused(text: str) -> None:
    for find in (find_unit, find_unit_pair):
        try:
            find(text)
        except ValueError as error:
            assert len(str(error)) < 255


def test_every_unit_is_as_large_as_its_definition_says() -> None:
    """The inch and the pound are exact (NIST SP 811, B.6 and B.8), an ounce is the sixteenth of a pound."""
    inch, ounce, kilogram = 100 * scipy.constants.inch, 1000 * scipy.constants.pound / 16, 1000.0
    wanted = {
        "g": 1.0, "oz": ounce, "kg": kilogram, "lb": 16 * ounce, "mg": 0.001,
        "cm": 1.0, "in": inch, "mm": 0.1, "m": 100.0, "ft": 12 * inch,
        "g cm": 1.0, "in oz": inch * ounce, "kg cm2": kilogram, "g cm2": 1.0, "oz in2": ounce * inch**2,
    }  # fmt: skip
    held = {symbol: unit.factor for symbol, unit in BY_SYMBOL.items()}
    assert held == {symbol: pytest.approx(factor, rel=1e-12) for symbol, factor in wanted.items()}
