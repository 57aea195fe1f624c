"""Formulas: unit conversion, and which Evenheft is answering."""

from __future__ import annotations

from evenheft import __version__
from evenheft.formulas.kinds import Typed, need_alike
from evenheft.formulas.registry import Answer, Argument, formula
from evenheft.formulas.wording import show, what_is_wrong
from evenheft.mechanics import units
from evenheft.mechanics.readings import mean
from evenheft.mechanics.typed_readings import read_quantities
from evenheft.ooxml.errors import Refused

CATEGORY = "Tools"


@formula(
    "HEFT_CONVERT",
    category=CATEGORY,
    help="Converts a mass, length, moment or inertia from one unit to another. A value with its own unit, like "
    "44 1/2 in, keeps it.",
    arguments=(
        Argument("value", "Number to convert, or text such as 44 1/2 in.", Typed()),
        Argument(
            "from_unit",
            "Unit of the value: g, oz, kg, lb, mg, cm, in, mm, m, ft, g cm, in oz, kg cm2, g cm2 or oz in2.",
            Typed("unit"),
        ),
        Argument("to_unit", "Unit wanted, of the same dimension.", Typed("unit")),
    ),
    answers=(Answer("value", "to_unit"),),
    source="NIST SP 811 (2008), Appendix B.8: 1 in = 2.54 cm and 1 oz = 28.349523125 g, exactly.",
    examples=(
        ('=HEFT_CONVERT("44 1/2 in", "cm", "cm")', "113.03"),
        ('=HEFT_CONVERT(1, "oz", "g")', "28.3495"),
    ),
)
def convert(value: float | str, from_unit: float | str, to_unit: float | str) -> float:
    """Value in another unit [to_unit]."""
    source, wanted = (_unit(name, text) for name, text in (("from_unit", from_unit), ("to_unit", to_unit)))
    if source.dimension != wanted.dimension:
        raise Refused(f"to_unit must be a unit of {source.dimension} like {source.symbol}, got {wanted.symbol}")
    try:
        held = value * source.factor if not isinstance(value, str) else _typed(value, source)
    except ValueError as error:
        raise Refused(what_is_wrong("value", value, error)) from None
    if abs(held) > 1e12 * source.factor:
        raise Refused(f"value must be from -1e12 to 1e12, got {show(value)}")
    return held / wanted.factor


def _typed(value: str, source: units.Unit) -> float:
    """Read what a person typed, the mean of several readings too [g, cm, g cm or g cm2]."""
    readings = read_quantities(value, source.dimension, source)
    if len(readings) > 1:
        need_alike([reading / source.factor for reading in readings], source.symbol)
        return mean(readings)
    return readings[0]


def _unit(name: str, text: float | str) -> units.Unit:
    try:
        return units.find_unit(text if isinstance(text, str) else show(text))
    except ValueError as error:
        raise Refused(f"{name}: {error}") from None


@formula(
    "HEFT_VERSION",
    category=CATEGORY,
    help="The version of Evenheft that answers this cell.",
    arguments=(),
    answers=(Answer("version", "text"),),
    source="The package itself.",
    examples=(("=HEFT_VERSION()", __version__),),
)
def version() -> str:
    """Return the version [-]."""
    return __version__
