"""The layout of the order workbook: which cell holds what, told once.

The template is built from it, `check` reads by it, and the other commands find their
columns in it. A formula is written with names in braces: `{bench.mass}` is the cell of that
column in the same club row, and a plain name such as `shop_units` is a defined name of the
workbook, which a builder can read in the cell as well.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Literal

KIND_OF_WORKBOOK = "evenheft order"
LAYOUT_VERSION = 1
KIND_NAME = "evenheft_workbook"
"""The defined name of the cell that tells the workbook's kind and layout version."""

FIRST_ROW = 8
CLUBS = 18
LAST_ROW = FIRST_ROW + CLUBS - 1
BAND_ROW = 6
HEADING_ROW = 7


def column_letter(number: int) -> str:
    """The letters of a column from its number, 1 for A.

    >>> column_letter(1), column_letter(28)
    ('A', 'AB')
    """
    before, last = divmod(number - 1, 26)
    return (column_letter(before) if before else "") + chr(ord("A") + last)


Role = Literal["label", "input", "computed", "work"]


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a club table."""

    key: str
    heading: str
    """The heading's text, or a formula beginning with "=" where it carries the order's unit."""
    width: float
    role: Role = "computed"
    formula: str = ""
    number: str = "General"
    prompt: str = ""
    """What the cell tells when it is chosen, for an input."""
    check: str = ""
    """A custom validation formula with `{cell}`, for an input."""
    options: str = ""
    """A list validation's source, for an input."""
    band: str = ""
    """The heading above a run of columns."""
    wrap: bool = False


@dataclass(frozen=True)
class Table:
    """A sheet with one row per club."""

    sheet: str
    title: str
    lead: str
    """One line under the title that says what to do here."""
    columns: tuple[Column, ...]
    at: dict[str, int] = field(init=False, default_factory=dict)

    def __post_init__(self) -> None:
        self.at.update({column.key: n for n, column in enumerate(self.columns, start=1)})

    def column(self, key: str) -> Column:
        """The column of a key."""
        return self.columns[self.at[key] - 1]

    def letter(self, key: str) -> str:
        """The letter of a column, e.g. "C"."""
        return column_letter(self.at[key])

    def cell(self, key: str, row: int) -> str:
        """A cell of this table for a formula on any sheet, e.g. "Bench!$C8"."""
        return f"{self.sheet}!${self.letter(key)}{row}"

    def whole(self, key: str) -> str:
        """All clubs' cells of a column, e.g. "Bench!$C$8:$C$25"."""
        letter = self.letter(key)
        return f"{self.sheet}!${letter}${FIRST_ROW}:${letter}${LAST_ROW}"


@dataclass(frozen=True, slots=True)
class Setting:
    """One named cell of the Order sheet that holds for the whole order."""

    name: str
    label: str
    value: object
    note: str = ""
    computed: bool = False
    options: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Quantity:
    """Something that is judged against a target on the Set sheet."""

    key: str
    name: str
    unit: str
    """The unit as text, or the defined name of the cell that holds it."""
    value: str
    """Formula of the value, without "="."""
    doubt: str
    """Formula of the value's expanded doubt, without "="."""
    number: str
    """Number format of a value."""


EXPANDED = "*2/SQRT(3)"
"""From an instrument's half-width to U = 2 u of a rectangular distribution."""

QUANTITIES: tuple[Quantity, ...] = (
    Quantity(
        "swingweight", "Swingweight", "points",
        "HEFT_POINTS({bench.mass_used},{bench.balance_used},shop_units,shop_fulcrum)",
        "HEFT_DOUBT({bench.mass_used},{bench.balance_used},doubt_mass,doubt_balance,shop_units,shop_fulcrum)",
        "0.0",
    ),
    Quantity(
        "mass", "Total mass", "unit_mass",
        "HEFT_CONVERT({bench.mass_used},unit_mass,unit_mass)",
        f"HEFT_CONVERT(doubt_mass,unit_mass,unit_mass){EXPANDED}", "0.0",
    ),
    Quantity(
        "inertia", "Inertia", "kg cm2",
        "HEFT_INERTIA({bench.mass_used},{bench.balance_used},{bench.period},shop_units,shop_pivot,shop_gravity)",
        "HEFT_INERTIA_DOUBT({bench.mass_used},{bench.balance_used},{bench.period},doubt_mass,doubt_balance,"
        "doubt_period,shop_units,shop_pivot,shop_gravity)", "0",
    ),
    Quantity(
        "length", "Length", "unit_length",
        "HEFT_CONVERT({bench.length},unit_length,unit_length)",
        f"HEFT_CONVERT(doubt_length,unit_length,unit_length){EXPANDED}", "0.00",
    ),
    Quantity("loft", "Loft", "deg", "{bench.loft}", f"doubt_loft{EXPANDED}", "0.0"),
    Quantity("lie", "Lie", "deg", "{bench.lie}", f"doubt_lie{EXPANDED}", "0.0"),
    Quantity("frequency", "Frequency", "cpm", "{bench.frequency}", f"doubt_frequency{EXPANDED}", "0"),
)  # fmt: skip

GROUPS = 5
"""How many groups of clubs can have targets of their own."""
GROUP_NAMES = ("Driver", "Woods", "Irons", "Wedges", "Putter")

# Where the blocks of the Order sheet stand.
SETTING_ROW = FIRST_ROW
TARGET_TITLE_ROW = LAST_ROW + 3
TARGET_GROUP_ROW = TARGET_TITLE_ROW + 1
TARGET_PART_ROW = TARGET_GROUP_ROW + 1
TARGET_ROW = TARGET_PART_ROW + 1
TARGET_COLUMN = 3
TARGET_PARTS = ("first", "increment", "tolerance")

SETTINGS: tuple[Setting, ...] = (
    Setting("shop_units", "Units of plain numbers", "g cm", "mass, then length",
            options=("g cm", "g in", "g mm", "oz in", "oz cm")),
    Setting("unit_mass", "Unit of mass", '=LEFT(shop_units,FIND(" ",shop_units)-1)', computed=True),
    Setting("unit_length", "Unit of length", '=MID(shop_units,FIND(" ",shop_units)+1,9)', computed=True),
    Setting("unit_grams", "Grams in a unit of mass", '=IF(unit_mass="oz",28.349523125,1)', computed=True),
    Setting("unit_cm", "Centimetres in a unit of length",
            '=IF(unit_length="in",2.54,IF(unit_length="mm",0.1,1))', computed=True),
    Setting("doubt_mass", "Scale, plus or minus", "0.1 g"),
    Setting("doubt_balance", "Balance point, plus or minus", "0.05 cm", "tape and edge together"),
    Setting("doubt_period", "Time of one swing, plus or minus", 0.002, "s; stopwatch / swings timed"),
    Setting("doubt_length", "Length, plus or minus", "0.1 cm"),
    Setting("doubt_loft", "Loft, plus or minus", 0.25, "deg"),
    Setting("doubt_lie", "Lie, plus or minus", 0.25, "deg"),
    Setting("doubt_frequency", "Frequency, plus or minus", 0.5, "cpm"),
    Setting("shop_fulcrum", "Fulcrum from the butt", "14 in", "the scale's pivot"),
    Setting("shop_cap", "Grip cap thickness", "0.4 cm", "shaft end to butt"),
    Setting("shop_pivot", "Swing axis from the butt", "0 cm", "for the period"),
    Setting("shop_gravity", "Gravity", 980.665, "cm/s2"),
)  # fmt: skip

HEADER_FIELDS: tuple[tuple[str, str], ...] = (
    ("order_number", "Order number"),
    ("order_customer", "Customer"),
    ("order_date", "Date"),
    ("order_builder", "Builder"),
    ("order_note", "Note"),
)

# Text passes: it may carry its own unit, and the formulas refuse what they cannot read.
_MASS_CHECK = "=OR(ISTEXT({cell}),AND({cell}*unit_grams>=50,{cell}*unit_grams<=2000))"
_LENGTH_CHECK = "=OR(ISTEXT({cell}),AND({cell}>0,{cell}*unit_cm<200))"


def _numbered(low: float, high: float) -> str:
    return f"=AND(ISNUMBER({{cell}}),{{cell}}>={low},{{cell}}<={high})"


def _identity(sheet: str) -> tuple[Column, ...]:
    """The columns that every club sheet begins with: the club's number and name, from the Order sheet."""
    if sheet == "Order":
        raise ValueError("the Order sheet is where the names are typed")
    return (
        Column("number", "No.", 5, "label", "={order.number}"),
        Column("club", "Club", 15, "label", '=IF({order.club}="","",{order.club})'),
    )


ORDER = Table(
    "Order",
    "Order",
    "Fill in the framed cells: who it is for, the clubs, your instruments, and what each group should measure.",
    (
        Column("number", "No.", 6, "label"),
        Column("club", "Club", 19, "input", prompt="Name of the club as you call it, e.g. 7-iron."),
        Column("group", "Group", 11, "input", prompt="The group whose targets hold for this club.",
               options="=order_groups"),
        Column("putter", "Putter?", 9, "input", options='"putter,other"',
               prompt='Choose "putter" for a putter: the rules allow it more than 48 in.'),
    ),
)  # fmt: skip

_MASS_PROMPT = "What the gram scale shows. A plain number is in the order's unit; 15.2 oz works too."
_BALANCE_PROMPT = (
    "From the butt to where the club balances. A plain number is in the order's unit; 29 1/2 in works too."
)
_HOOKED_PROMPT = 'Where the tape was hooked: "grip cap", or "shaft end" while the grip is still off.'
_HOOKED = '"grip cap,shaft end"'


def _unit_heading(text: str, unit: str) -> str:
    return f'="{text} ("&{unit}&")"'


BENCH = Table(
    "Bench",
    "Bench",
    "Type what you measure. A dry fit and a finished club each have a place; the finished one counts once it is there.",
    (
        *_identity("Bench"),
        Column("dry_mass", _unit_heading("Mass", "unit_mass"), 9, "input", number="0.0", band="Dry fit",
               prompt=_MASS_PROMPT, check=_MASS_CHECK),
        Column("dry_balance", _unit_heading("Balance", "unit_length"), 10, "input", number="0.00", band="Dry fit",
               prompt=_BALANCE_PROMPT, check=_LENGTH_CHECK),
        Column("dry_hooked", "Tape hooked on", 11, "input", band="Dry fit", prompt=_HOOKED_PROMPT, options=_HOOKED),
        Column("dry_lacking", "Still lacking", 20, "input", band="Dry fit", wrap=True,
               prompt="What the dry fit does not have yet, e.g. epoxy, ferrule, tape. Blank: nothing lacks."),
        Column("done_mass", _unit_heading("Mass", "unit_mass"), 9, "input", number="0.0", band="Finished",
               prompt=_MASS_PROMPT, check=_MASS_CHECK),
        Column("done_balance", _unit_heading("Balance", "unit_length"), 10, "input", number="0.00", band="Finished",
               prompt=_BALANCE_PROMPT, check=_LENGTH_CHECK),
        Column("done_hooked", "Tape hooked on", 11, "input", band="Finished", prompt=_HOOKED_PROMPT, options=_HOOKED),
        Column("period", "Period (s)", 9, "input", number="0.000", band="Both",
               prompt="Time of one full swing, there and back. Time ten small swings and divide by ten.",
               check=_numbered(0.5, 5)),
        Column("reading", "Scale reading", 9, "input", band="Both",
               prompt='What your swingweight scale shows, as a label such as D2 or as points.'),
        Column("length", _unit_heading("Length", "unit_length"), 10, "input", number="0.00", band="Both",
               prompt="Club length by the 60 degree plane, butt to ground line.", check=_LENGTH_CHECK),
        Column("loft", "Loft (deg)", 8, "input", number="0.0", band="Both", prompt="Loft in degrees.",
               check=_numbered(0, 90)),
        Column("lie", "Lie (deg)", 8, "input", number="0.0", band="Both", prompt="Lie in degrees.",
               check=_numbered(40, 90)),
        Column("frequency", "Frequency (cpm)", 10, "input", number="0", band="Both",
               prompt="Shaft frequency in cycles per minute.", check=_numbered(50, 600)),
        Column("note", "Note", 22, "input", wrap=True, band="Both"),
        Column("stage", "Stage", 9, "computed",
               '=IF(OR({bench.done_mass}<>"",{bench.done_balance}<>""),"finished",'
               'IF(OR({bench.dry_mass}<>"",{bench.dry_balance}<>""),"dry fit",""))', band="What counts"),
        Column("mass_used", _unit_heading("Mass", "unit_mass"), 9, "computed",
               '=IF({bench.stage}="finished",IF({bench.done_mass}="","",{bench.done_mass}),'
               'IF({bench.dry_mass}="","",{bench.dry_mass}))', "0.0", band="What counts"),
        Column("balance_used", _unit_heading("Balance from butt", "unit_length"), 11, "computed",
               '=IF({bench.stage}="finished",'
               'HEFT_FROM_BUTT(IF({bench.done_balance}="","",{bench.done_balance}),{bench.done_hooked},shop_cap,shop_units),'
               'HEFT_FROM_BUTT(IF({bench.dry_balance}="","",{bench.dry_balance}),{bench.dry_hooked},shop_cap,shop_units))',
               "0.00", band="What counts"),
    ),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Judged:
    """Where the Set sheet keeps what belongs to one quantity: keys of its columns."""

    number: str
    goal: str
    tolerance: str
    doubt: str
    deviation: str
    verdict: str


def judged(quantity: Quantity) -> Judged:
    """The keys of a quantity's columns on the Set sheet, numbers first."""
    key = quantity.key
    number, goal = (f"{key}_points", f"{key}_goal") if key == "swingweight" else (f"{key}_value", f"{key}_target")
    return Judged(number, goal, f"{key}_tolerance", f"{key}_doubt", f"{key}_deviation", f"{key}_verdict")


CHARTED = ("swingweight", "inertia")
"""The quantities that the Set sheet draws along the set, with the target band."""


def _picked(quantity: Quantity, part: int) -> str:
    """Formula, without "=", of a group's first value, increment or tolerance; blank stays blank."""
    cell = f"INDEX(target_{quantity.key},1,{{set.pick}}+{part})"
    return f'IF({{set.pick}}="","",IF({cell}="","",{cell}))'


def _goal(quantity: Quantity) -> str:
    return f'=HEFT_TARGET({_picked(quantity, 0)},IF({_picked(quantity, 1)}="",0,{_picked(quantity, 1)}),{{set.place}})'


def _unit_word(quantity: Quantity) -> str:
    """The heading of a value with its unit, as text or as a formula."""
    if quantity.unit.startswith("unit_"):
        return _unit_heading("Value", quantity.unit)
    return "Label" if quantity.key == "swingweight" else f"Value ({quantity.unit})"


def _judged_columns(quantity: Quantity) -> tuple[Column, ...]:
    """Value, target, deviation and verdict of one quantity."""
    keys, band = judged(quantity), quantity.name
    if quantity.key == "swingweight":
        value = f'=IF({{set.{keys.number}}}="","",HEFT_LABEL({{set.{keys.number}}}))'
        goal = f'=IF({{set.{keys.goal}}}="","",HEFT_LABEL({{set.{keys.goal}}}))'
    else:
        value, goal = _blank_stays(quantity.value), _goal(quantity)
    numbers = f"ISNUMBER({{set.{keys.number}}}),ISNUMBER({{set.{keys.goal}}})"
    untold = f'AND({numbers},{{set.{keys.tolerance}}}="")'
    return (
        Column(f"{quantity.key}_value", _unit_word(quantity), 9, "computed", value, quantity.number, band=band),
        Column(f"{quantity.key}_target", "Target", 8, "computed", goal, quantity.number, band=band),
        Column(keys.deviation, "Deviation", 9, "computed",
               f"=IF(AND({numbers}),{{set.{keys.number}}}-{{set.{keys.goal}}},\"\")",
               f"+{quantity.number};-{quantity.number};{quantity.number}", band=band),
        Column(keys.verdict, "Verdict", 11, "computed",
               f"=IF({untold},\"! tolerance is blank on Order\",HEFT_VERDICT({{set.{keys.number}}},{{set.{keys.goal}}},"
               f"{{set.{keys.tolerance}}},{{set.{keys.doubt}}}))", band=band),
    )  # fmt: skip


def _blank_stays(formula: str) -> str:
    """A cell taken over as it is, but blank where it is blank; a HEFT_ formula does so by itself."""
    return f"={formula}" if formula.startswith("HEFT_") else f'=IF({formula}="","",{formula})'


def _working_columns(quantity: Quantity) -> tuple[Column, ...]:
    """Tolerance and doubt of one quantity; the swingweight's numbers; what the charts draw."""
    keys, band = judged(quantity), f"{quantity.name}: working"
    numbers: tuple[Column, ...] = ()
    if quantity.key == "swingweight":
        numbers = (
            Column(keys.number, "Points", 8, "work", f"={quantity.value}", "0.00", band=band),
            Column(keys.goal, "Target", 8, "work", _goal(quantity), "0.00", band=band),
        )
    doubt = f"IF(ISNUMBER({{set.{keys.number}}}),{quantity.doubt},0)"
    judging = (
        Column(keys.tolerance, "Tolerance", 9, "work", f"={_picked(quantity, 2)}", "0.00", band=band),
        Column(keys.doubt, "Doubt", 9, "work", f"={doubt}", "0.00", band=band),
    )
    if quantity.key not in CHARTED:
        return numbers + judging
    plotted = f"AND(ISNUMBER({{set.{keys.goal}}}),ISNUMBER({{set.{keys.tolerance}}}))"
    drawn = {
        "plot": ("Measured", f"=IF(ISNUMBER({{set.{keys.number}}}),{{set.{keys.number}}},NA())"),
        "aim": ("Target", f"=IF({plotted},{{set.{keys.goal}}},NA())"),
        "low": ("Lowest accepted", f"=IF({plotted},{{set.{keys.goal}}}-{{set.{keys.tolerance}}},NA())"),
        "high": ("Highest accepted", f"=IF({plotted},{{set.{keys.goal}}}+{{set.{keys.tolerance}}},NA())"),
    }
    return (
        *numbers,
        *judging,
        *(
            Column(f"{quantity.key}_{key}", heading, 9, "work", formula, "0.00", band=f"{quantity.name}: chart")
            for key, (heading, formula) in drawn.items()
        ),
    )


def _flags() -> str:
    """Formula of the line that says in words what is out about a club."""
    told = []
    for quantity in QUANTITIES:
        cell = f"{{set.{judged(quantity).verdict}}}"
        name = quantity.name.lower()
        told.append(
            f'IF(OR({cell}="",{cell}="in"),"",IF(LEFT({cell},1)="!","{name}: see its cell; ","{name} "&{cell}&"; "))'
        )
    rule = 'IF(OR({set.rule}="too short",{set.rule}="too long"),"length "&{set.rule}&" for the rules; ","")'
    unknown = 'IF(AND({set.group}<>"",{set.pick}=""),"group is not on Order; ","")'
    return "=" + "&".join([unknown, *told, rule])


def _some_in() -> str:
    return "OR(" + ",".join(f'{{set.{judged(q).verdict}}}="in"' for q in QUANTITIES) + ")"


SET = Table(
    "Set",
    "Set",
    "Read here: each club against the target of its group. Nothing is typed on this sheet.",
    (
        *_identity("Set"),
        Column("group", "Group", 10, "label", '=IF({order.group}="","",{order.group})'),
        Column("place", "Place", 6, "label", '=IF({set.group}="","",COUNTIF({set.group_so_far},{set.group}))'),
        Column("flags", "What is flagged", 30, "computed",
               '=IF({set.said}<>"",LEFT({set.said},LEN({set.said})-2),IF(' + _some_in() + ',"all in",""))', wrap=True),
        *(column for quantity in QUANTITIES for column in _judged_columns(quantity)),
        Column("rule", "Length rule", 10, "computed",
               '=HEFT_LENGTH_LIMIT(IF({bench.length}="","",{bench.length}),{order.putter},shop_units)', band="Rules"),
        Column("said", "Flags", 12, "work", _flags(), band="Working"),
        Column("pick", "Group's column", 9, "work",
               f'=IF({{set.group}}="","",IFERROR((MATCH({{set.group}},order_groups,0)-1)*{len(TARGET_PARTS)}+1,""))',
               band="Working"),
        *(column for quantity in QUANTITIES for column in _working_columns(quantity)),
    ),
)  # fmt: skip

TABLES: dict[str, Table] = {table.sheet.lower(): table for table in (ORDER, BENCH, SET)}
"""The sheets with one row per club, by the name that formulas use in braces."""

_BRACED = re.compile(r"\{(\w+)\.(\w+)\}")


def in_row(formula: str, row: int, sheet: str) -> str:
    """A column's formula as a cell of one club row holds it.

    Args:
        formula: the formula with names in braces [-].
        row: the club's row [-].
        sheet: the sheet that the cell is on; its own cells are written without the sheet's name [-].

    Raises:
        KeyError: a name in braces is no column.
    """

    def cell(found: re.Match[str]) -> str:
        table, key = TABLES[found[1]], found[2]
        if key == "group_so_far":
            letter = table.letter("group")
            return f"${letter}${FIRST_ROW}:${letter}{row}"
        address = table.cell(key, row)
        return address.split("!")[1] if table.sheet == sheet else address

    return _BRACED.sub(cell, formula)
