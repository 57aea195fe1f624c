"""One table of calls for every formula: each host answers them as `evenheft.formulas.call` does.

A host's parity test puts the arguments of a case into cells of its own spreadsheet, computes
the formula there, and compares value, type, shape and text with the plain call. A new formula
is given its good arguments in `GOOD` (a test asks for it) and is then swept like the others;
what is peculiar to it is told in `TOLD`.

In a case's arguments None is an empty cell, `CellError` a cell with that error, a tuple of
tuples a range, and a tuple shorter than the signature leaves the trailing arguments out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from evenheft.formulas import REGISTRY
from evenheft.ooxml.values import CellError

Arguments = tuple[object, ...]


@dataclass(frozen=True)
class Case:
    """One call: what it shows, the formula, and what its arguments' cells hold."""

    name: str
    formula: str
    args: Arguments

    def __str__(self) -> str:
        return f"{self.formula}: {self.name}"


def column(*cells: object) -> tuple[tuple[object], ...]:
    """A range one column wide."""
    return tuple((cell,) for cell in cells)


def row(*cells: object) -> tuple[tuple[object, ...]]:
    """A range one row high."""
    return (cells,)


PLACES = column(1.0, 2.0, 3.0, 4.0)
HEADINGS = row("Head mass (g)", "Club length (cm)", "Shaft (g)", "Shaft (cm)", "Grip (g)", "Epoxy (g)")
CLUB = row(200.0, 114.3, 65.0, 117.0, 50.0, 3.0)
TWO_CLUBS = (*CLUB, (205.0, 113.0, 64.0, 117.0, 51.0, 3.0))
SHOP_DEFAULTS = (("Bore to ground (cm)", 3.6), ("Grip cap (cm)", 0.4))
SHOP_DOUBTS = (("Balance doubt (cm)", 0.05), ("Mass doubt (g)", 0.2), ("Epoxy doubt (g)", 0.3))
HEADS = (
    ("Club", "Head mass (g)", "Club length (in)", "Grip (g)", "Swingweight target", "Swingweight tolerance"),
    ("8-iron", 284.0, 36.5, 50.0, "D2", 0.5),
    ("9-iron", 292.0, 36.0, 50.0, "D2", 0.5),
)
HEADS_ALONE = tuple(row[:4] for row in HEADS)
TARGETS = (
    ("Club", "Inertia target (kg cm2)", "Inertia tolerance (kg cm2)"),
    ("9-iron", 2640.0, 12.0),
    ("8-iron", 2650.0, 9.0),
)
SHAFTS = (("Number", "Mass (g)", "Length (in)"), ("S1", 98.0, 39.0), ("S2", 104.0, 39.0))
WEIGHTS = (("Size (g)", "Where", "Count"), (2.0, None, 2.0), (4.0, "head", 1.0), (10.0, "butt", 1.0))
MESSAGE = "! mass must be from 50 g to 2000 g, got 15.2: ounces?"
NOT_AVAILABLE = CellError("#N/A")
DIVIDED_BY_ZERO = CellError("#DIV/0!")

GOOD: dict[str, Arguments] = {
    "HEFT_POINTS": (395.0, 75.3),
    "HEFT_SWINGWEIGHT": (395.0, 75.3),
    "HEFT_LABEL": (32.25,),
    "HEFT_FROM_LABEL": ("D2 1/2",),
    "HEFT_MOMENT": (395.0, 75.3),
    "HEFT_MOMENT_ABOUT": (17200.0, 430.0, 30.48),
    "HEFT_GRAVITY": (45.0,),
    "HEFT_INERTIA": (395.0, 75.3, 1.9),
    "HEFT_BALANCE": (300.0, 100.0, 400.0),
    "HEFT_DOUBT": (395.0, 75.3, 0.5, 0.1),
    "HEFT_INERTIA_DOUBT": (395.0, 75.3, 1.9, 0.5, 0.1, 0.01),
    "HEFT_COMBINED_DOUBT": (column(0.3, None, 0.4),),
    "HEFT_VERDICT": (32.4, 32.0, 0.5),
    "HEFT_LEAST_TOLERANCE": (0.6,),
    "HEFT_BALANCE_NEEDED": (395.0, 75.3, 0.5, 0.2),
    "HEFT_SUPPORTED": ("Swingweight", column(0.5, 1.2), column(0.66, 0.7), "points", column(0.09, 0.2), "cm"),
    "HEFT_SWINGS_NEEDED": (30.0, 395.0, 75.3, 1.9, 0.2, 0.2, 0.1),
    "HEFT_ALIKE": (column(1.1, 1.3, 0.9), 0.5),
    "HEFT_TARGET": (32.0, 0.5, 3.0),
    "HEFT_GRADIENT": (PLACES, column(30.0, 31.0, 32.0, 34.0)),
    "HEFT_CONVERT": (44.5, "in", "cm"),
    "HEFT_LENGTH_LIMIT": (113.0,),
    "HEFT_VERSION": (),
    "HEFT_SELFTEST": (),
    "HEFT_FROM_BUTT": (74.9,),
    "HEFT_PER_GRAM": (110.0,),
    "HEFT_GRAMS_TO": ("D2", 395.0, 75.0, 94.0),
    "HEFT_AFTER": (395.0, 75.3, 2.0, 94.0),
    "HEFT_LENGTHEN": (395.0, 75.3, 50.0, 11.0, 1.27),
    "HEFT_PICK": (9.4, row(2.0, 3.5, 6.0)),
    "HEFT_ADVICE": ("swingweight", 395.0, 75.3),
    "HEFT_PICK_SET": (column(6.0, 5.0), column(4.0, 6.0)),
    "HEFT_GRAMS_TO_INERTIA": (2700.0, 395.0, 75.3, 2670.0, 94.0),
    "HEFT_TWO_WEIGHTS_INERTIA": (395.0, 75.3, 2670.0, 94.0, 3.0, "D2", 2700.0),
    "HEFT_INERTIA_ABOUT": (2667.0, 395.0, 75.3, 75.3),
    "HEFT_LENGTH_TO": ("D4", 395.0, 75.3, 50.0, 11.0),
    "HEFT_LENGTH_TO_INERTIA": (2700.0, 395.0, 75.3, 2670.0, 50.0, 11.0),
    "HEFT_WHAT_IF": (395.0, 75.3),
    "HEFT_READINGS": ("75.3 75.4 75.3",),
    "HEFT_FIRST": ("D2", 0.5, 3.0),
    "HEFT_LEAST_LINE": (PLACES, column(30.0, 33.0, 32.0, "D3"), 95.0, 0.5),
    "HEFT_TWO_WEIGHTS": (395.0, 75.0, 110.0, 3.0, "D2", 410.0),
    "HEFT_SHAFT_CUT": (65.0, 117.0, 57.0),
    "HEFT_COMBINE": (column(200.0, 60.0, 50.0), column(114.0, 56.0, 11.0)),
    "HEFT_CLUB": (HEADINGS, CLUB),
    "HEFT_CLUB_READS": (HEADINGS,),
    "HEFT_HEAD_RISE": (HEADINGS, CLUB, 314.2, 84.95),
    "HEFT_HEAD_RISE_DOUBT": (HEADINGS, CLUB, 314.2, 84.95),
    "HEFT_HEAD_RISE_GUESS": ("iron",),
    "HEFT_UNEXPLAINED": (HEADINGS, CLUB, 314.2),
    "HEFT_HEAD_MASS": (HEADINGS, CLUB, "D3"),
    "HEFT_FINISHED": (HEADINGS, CLUB, 311.2, 84.95, "epoxy"),
    "HEFT_PLACE": (HEADINGS, CLUB, "tip weight"),
    "HEFT_BEST_RISE": (column(2.1, 2.2, 2.0), column(0.1, 0.1, 0.3)),
    "HEFT_RISE_FROM_SUMS": (3.0, 844.4444, 1808.8889, 3877.7778),
    "HEFT_PLAN": (HEADS, SHAFTS),
    "HEFT_AGREEMENT": (column(30.0, 31.0, 32.0), column(30.5, 31.0, 33.0)),
    "HEFT_STAGE": (421.2, 72.1, 424.8, 71.95, None, None),
    "HEFT_SET_PLACE": (column("Irons", "Wedges", "Irons"), column(None, None, None), 3.0),
    "HEFT_FLAGS": (row("Swingweight", "Lie"), row("D2", 62.0), row("low", "in")),
    "HEFT_WINDOW": (32.0, 0.5),
    "HEFT_SHOWN": (32.1,),
    "HEFT_ROLL": (column(1.0, 2.0), column("7-iron", "8-iron")),
    "HEFT_TWICE": (column("7-iron", "8-iron"),),
    "HEFT_MESSAGES": (column("7-iron", "8-iron"), column("D2.1", "! a message")),
}
"""For each formula the required arguments, all good; every sweep starts from them."""

TOLD: tuple[Case, ...] = (
    # What the order workbook says in words
    Case("the last stage counts", "HEFT_STAGE", (421.2, 72.1, 424.8, 71.95, None, 71.9, "stage")),
    Case("half a measurement", "HEFT_STAGE", (421.2, 72.1, 424.8, None, None, None, "missing")),
    Case("a named stage", "HEFT_STAGE", (421.2, 72.1, 424.8, 71.95, None, None, "balance", "dry fit")),
    Case("a message at a stage that does not count", "HEFT_STAGE", (MESSAGE, 72.1, 424.8, 71.95, None, None, "mass")),
    Case("an error on the bench", "HEFT_STAGE", (NOT_AVAILABLE, 72.1, None, None, None, None, "mass")),
    Case("a typed place counts on", "HEFT_SET_PLACE",
         (column("Irons", "irons ", "Irons"), column(None, 4.0, None), 3.0)),
    Case("a place that is none", "HEFT_SET_PLACE", (column("Irons", "Irons"), column("x", None), 2.0)),
    Case("beyond the list", "HEFT_SET_PLACE", (column("Irons", "Irons"), column(None, None), 3.0)),
    Case("a slip is told once", "HEFT_FLAGS",
         (row("Swingweight", "Total mass"), row("D2", None), row(MESSAGE, MESSAGE), "line")),
    Case("others first", "HEFT_FLAGS",
         (row("Swingweight", "Lie"), row("D2", 62.0), row("in", None), "line", row("group is blank on Order", None))),
    Case("what waits", "HEFT_FLAGS", (row("Swingweight", "Lie"), row("D2", 62.0), row("in", None), "open")),
    Case("an error for a verdict", "HEFT_FLAGS", (row("Lie"), row(62.0), row(NOT_AVAILABLE), "out")),
    Case("unequal ranges", "HEFT_FLAGS", (row("Swingweight", "Lie"), row("D2"), row("in", "in"), "line")),
    Case("a label's window", "HEFT_WINDOW", ("D2", 0.5, -1.0)),
    Case("beyond the last label", "HEFT_WINDOW", (69.5, 1.0, -1.0)),
    Case("with its doubt", "HEFT_SHOWN", (32.1, 0.4, -1.0)),
    Case("no minus before nothing", "HEFT_SHOWN", (-0.04, 0.0, 1.0)),
    Case("a row without a number", "HEFT_ROLL",
         (column("No.", 1.0, None), column("Club", "7-iron", "8-iron"), "Order")),
    Case("a number twice", "HEFT_ROLL", (column(1.0, 1.0), column("7-iron", "8-iron"))),
    Case("a row that is lost", "HEFT_ROLL",
         (column(1.0, 3.0), column("7-iron", None), "Bench", ((1.0, "7-iron"), (2.0, "8-iron")))),
    Case("a row of no club", "HEFT_ROLL", (column(1.0, 2.0), column("7-iron", 431.0), "Bench", row(1.0, "7-iron"))),
    Case("a name twice", "HEFT_TWICE", (column("7-iron", "7-Iron"), "club")),
    Case("a pair twice", "HEFT_TWICE", ((("Irons", 3.0), ("Wedges", 3.0), ("Irons", 3.0)), "place")),
    Case("messages in two rows", "HEFT_MESSAGES",
         (column("Club", "7-iron", None), (("Forecast", "Mass"), ("! one", "! two"), ("D2.1", "! three")))),
    Case("no message", "HEFT_MESSAGES", (column("Club", "7-iron"), column("Forecast", 431.0))),
    Case("names of another height", "HEFT_MESSAGES", (column("7-iron"), column("! one", "! two"))),
    Case("one way only", "HEFT_ADVICE",
         ("swingweight", 395.0, 75.3, None, "D0", 0.5, None, None, 94.0, 2.5, row(2.0, 3.0), row(4.0, 8.0), 2.0, 0.2,
          None, 50.0, 11.0, 0.6, "g cm", None, None, None, 1.0)),
    Case("in, but something else is flagged", "HEFT_ADVICE",
         ("swingweight", 420.0, 72.2, None, "D0", 0.5, None, None, 90.0, *(None,) * 12, "lie high")),
    # Swingweight
    Case("text with units", "HEFT_POINTS", ("12.5 oz", "29 1/2 in")),
    Case("text without a unit", "HEFT_POINTS", ("395", "75,3")),
    Case("inch mark and joined unit", "HEFT_POINTS", ("0.395kg", '29-5/8"')),
    Case("fraction sign", "HEFT_POINTS", (395.0, "29½ in")),
    Case("ounces and inches", "HEFT_POINTS", (13.9, 29.6, "oz in")),
    Case("a cell's own unit wins over units", "HEFT_POINTS", ("395 g", 29.6, "oz in")),
    Case("units in capitals", "HEFT_POINTS", (395.0, 29.6, "G IN")),
    Case("units that do not exist", "HEFT_POINTS", (395.0, 29.6, "stone yard")),
    Case("fulcrum", "HEFT_POINTS", (395.0, 75.3, "g cm", 35.4)),
    Case("fulcrum in the units of the call", "HEFT_POINTS", (395.0, 29.6, "g in", 14.1)),
    Case("units blank before a fulcrum", "HEFT_POINTS", (395.0, 75.3, None, 35.4)),
    Case("a fulcrum that no label belongs to", "HEFT_POINTS", (395.0, 29.6, "g in", 12.0)),
    Case("a label about it", "HEFT_SWINGWEIGHT", (395.0, 75.3, None, 30.48)),
    Case("grams to a label about it", "HEFT_GRAMS_TO", ("D2", 395.0, 75.0, 94.0, None, 30.48)),
    Case("about another fulcrum, in inches", "HEFT_MOMENT_ABOUT", (17200.0, 430.0, 12.0, "g in", 14.0)),
    Case("inches typed as centimetres", "HEFT_POINTS", (395.0, 29.6)),
    Case("ounces typed as grams", "HEFT_POINTS", (15.2, 75.3)),
    Case("millimetres typed as centimetres", "HEFT_POINTS", (395.0, 753.0)),
    Case("two readings", "HEFT_POINTS", ("1,130 g", 75.3)),
    Case("a unit of another dimension", "HEFT_POINTS", ("395 cm", 75.3)),
    Case("both arguments bad", "HEFT_POINTS", (-1.0, "far")),
    Case("balance inside the fulcrum", "HEFT_POINTS", (395.0, 20.0)),
    Case("fulcrum beyond the balance", "HEFT_POINTS", (395.0, 75.3, "g cm", 80.0)),
    Case("two messages: the first passes", "HEFT_POINTS", (MESSAGE, "! another")),
    Case("message beats blank", "HEFT_POINTS", (None, MESSAGE)),
    Case("equal columns", "HEFT_POINTS", (column(395.0, 402.0), column(75.3, 74.8))),
    Case("equal columns, units, fulcrum", "HEFT_POINTS", (column(13.9, 14.2), column(29.6, 29.4), "oz in", 14.0)),
    Case("one column, one cell", "HEFT_POINTS", (column(395.0, None, 402.0), 75.3)),
    Case("one bad row among good ones", "HEFT_POINTS", (column(395.0, 15.2, 402.0), column(75.3, 75.0, 74.8))),
    Case("text among numbers", "HEFT_POINTS", (column("395 g", 402.0), column(75.3, "29 1/2 in"))),
    Case("equal rows", "HEFT_POINTS", (row(395.0, 402.0, 409.0), row(75.3, 74.8, 74.3))),
    Case("equal blocks", "HEFT_POINTS", (((395.0, 402.0), (409.0, None)), ((75.3, 74.8), (74.3, 73.8)))),
    Case("unequal columns", "HEFT_POINTS", (column(395.0, 402.0), column(75.3, 74.8, 74.3))),
    Case("a column and a row", "HEFT_POINTS", (column(395.0, 402.0), row(75.3, 74.8))),
    Case("ranges of one cell", "HEFT_POINTS", (column(395.0), column(75.3))),
    Case("a column of units", "HEFT_POINTS", (column(395.0, 13.9), column(75.3, 29.6), column("g cm", "oz in"))),
    Case("bad units over columns", "HEFT_POINTS", (column(395.0, 402.0), column(75.3, 74.8), "kg")),
    Case("errors in a column", "HEFT_POINTS", (column(395.0, NOT_AVAILABLE), column(DIVIDED_BY_ZERO, 74.8))),
    Case("light: below the scale", "HEFT_SWINGWEIGHT", (300.0, 40.0)),
    Case("heavy: above the scale", "HEFT_SWINGWEIGHT", (900.0, 80.0)),
    Case("rounded before it is split", "HEFT_LABEL", (29.96,)),
    Case("a half goes up", "HEFT_LABEL", (32.25,)),
    Case("the lowest", "HEFT_LABEL", (0.0,)),
    Case("the highest", "HEFT_LABEL", (69.9,)),
    Case("just above the scale", "HEFT_LABEL", (69.96,)),
    Case("below the scale", "HEFT_LABEL", (-0.1,)),
    Case("a column with one off the scale", "HEFT_LABEL", (column(32.0, 75.0, None, 29.96),)),
    Case("lower case with a space", "HEFT_FROM_LABEL", ("d 2.5",)),
    Case("decimal comma", "HEFT_FROM_LABEL", ("D2,5",)),
    Case("fraction sign", "HEFT_FROM_LABEL", ("D2½",)),
    Case("letter alone", "HEFT_FROM_LABEL", ("D",)),
    Case("letter off the scale", "HEFT_FROM_LABEL", ("H2",)),
    Case("ten points to the letter", "HEFT_FROM_LABEL", ("D10",)),
    Case("a number", "HEFT_FROM_LABEL", (32.0,)),
    Case("a column", "HEFT_FROM_LABEL", (column("D2", "E1.5", "Q7", None),)),
    Case("fulcrum", "HEFT_MOMENT", (430.0, 75.56, None, 30.0)),
    Case("ounces and inches", "HEFT_MOMENT", (15.0, 29.5, "oz in")),
    # Bench
    Case("text with units", "HEFT_INERTIA", ("13.9 oz", "29 5/8 in", 1.9)),
    Case("units", "HEFT_INERTIA", (13.9, 29.6, 1.9, "oz in")),
    Case("pivot", "HEFT_INERTIA", (395.0, 75.3, 1.9, None, 2.5)),
    Case("pivot in the units of the call", "HEFT_INERTIA", (395.0, 29.6, 1.9, "g in", 1.0)),
    Case("gravity", "HEFT_INERTIA", (395.0, 75.3, 1.9, None, None, 978.0)),
    Case("gravity in metres", "HEFT_INERTIA", (395.0, 75.3, 1.9, None, None, 9.81)),
    Case("half a swing", "HEFT_INERTIA", (395.0, 75.3, 0.95)),
    Case("ten swings", "HEFT_INERTIA", (395.0, 75.3, 19.0)),
    Case("ten swings, told so", "HEFT_INERTIA", (395.0, 75.3, 19.0, None, None, None, None, 10.0)),
    Case("a wide swing", "HEFT_INERTIA", (395.0, 75.3, 1.9, None, None, None, 15.0)),
    Case("too long for any club", "HEFT_INERTIA", (395.0, 75.3, 3.8)),
    Case("too long for its length", "HEFT_INERTIA", (395.0, 29.6, 2.2, "g in", None, None, None, None, 38.0)),
    Case("shorter than its balance", "HEFT_INERTIA", (395.0, 75.3, 1.9, None, None, None, None, None, 60.0)),
    Case("south and high", "HEFT_GRAVITY", (-33.0, 1700.0)),
    Case("inches typed as centimetres", "HEFT_INERTIA", (395.0, 29.6, 1.9)),
    Case("pivot beyond the balance", "HEFT_INERTIA", (395.0, 45.0, 1.9, None, 60.0)),
    Case("period as text", "HEFT_INERTIA", (395.0, 75.3, "1,9")),
    Case("columns", "HEFT_INERTIA", (column(395.0, 402.0, 409.0), column(75.3, 74.8, None), column(1.9, 0.9, 1.9))),
    Case("offset", "HEFT_BALANCE", (300.0, 100.0, 400.0, 2.0)),
    Case("answers in inches", "HEFT_BALANCE", (300.0, 39.0, 400.0, 1.0, "g in")),
    Case("answers in millimetres", "HEFT_BALANCE", (300.0, 1000.0, 400.0, None, "g mm")),
    Case("reading above the mass", "HEFT_BALANCE", (450.0, 100.0, 400.0)),
    Case("columns in inches", "HEFT_BALANCE", (column(300.0, 310.0), column(39.0, 39.5), 405.0, None, "g in")),
    # Judging
    Case("no doubt at all", "HEFT_DOUBT", (395.0, 75.3, 0.0, 0.0)),
    Case("ounces and inches", "HEFT_DOUBT", (13.9, 29.6, 0.02, 0.05, "oz in")),
    Case("doubt with its own unit", "HEFT_DOUBT", (395.0, 75.3, "0.02 oz", "1/16 in")),
    Case("pivot and gravity", "HEFT_INERTIA_DOUBT", (395.0, 75.3, 1.9, 0.5, 0.1, 0.01, "g cm", 2.0, 981.2)),
    Case("what is alike for every club", "HEFT_DOUBT", (395.0, 75.3, 0.1, 0.2, None, None, 0.1, 0.05)),
    Case(
        "of ten swings, with all doubts",
        "HEFT_INERTIA_DOUBT",
        (395.0, 75.3, 19.0, 0.1, 0.2, 0.1, "g cm", 1.0, 981.2, 5.0, 10.0, 96.0, 0.1, 2.0, 0.1, 0.05),
    ),
    Case("one alone", "HEFT_COMBINED_DOUBT", (0.25,)),
    Case("and one that is U already", "HEFT_COMBINED_DOUBT", (0.25, row(0.7, None))),
    Case("none at all", "HEFT_COMBINED_DOUBT", (column(None, None), 0.7)),
    Case("a scale too coarse", "HEFT_BALANCE_NEEDED", (395.0, 75.3, 0.05, 0.2)),
    Case("in inches", "HEFT_BALANCE_NEEDED", (13.9, 29.6, 0.5, 0.01, "oz in")),
    Case("a tolerance that is supported", "HEFT_SUPPORTED", ("Lie", column(0.5, None), column(0.25, 0.3))),
    Case("swings to count", "HEFT_SUPPORTED",
         ("Inertia", row(20.0, 20.0), row(33.0, 30.0), "kg cm2", row(21.0, MESSAGE), "swings")),
    Case("no number of swings", "HEFT_SWINGS_NEEDED", (5.0, 395.0, 75.3, 1.9, 0.2, 0.2, 0.1)),
    Case("more swings than anybody counts", "HEFT_SWINGS_NEEDED", (8.5, 395.0, 75.3, 1.9, 0.2, 0.2, 10.0)),
    Case("alike", "HEFT_ALIKE", (column(1.1, 1.3, 0.9), 0.5, column(0.1, 0.1, 0.1), "verdict")),
    Case("one apart", "HEFT_ALIKE", (row(1.1, 3.3, 0.9), 0.5, row(0.1, 0.1, 0.1), "verdict")),
    Case("not to be told", "HEFT_ALIKE", (row(1.1, None, 0.9), 0.15, row(0.1, 0.1, 0.1))),
    Case("one club", "HEFT_ALIKE", (row(1.1, None), 0.5)),
    Case("columns", "HEFT_INERTIA_DOUBT", (column(395.0, 402.0), column(75.3, 74.8), 1.9, 0.5, 0.1, 0.01)),
    Case("in", "HEFT_VERDICT", (32.4, 32.0, 0.5)),
    Case("in, at the tolerance", "HEFT_VERDICT", (0.7, 0.2, 0.5)),
    Case("low", "HEFT_VERDICT", (31.0, 32.0, 0.5, 0.2)),
    Case("high", "HEFT_VERDICT", (33.0, "D2", 0.5, 0.2)),
    Case("re-measure", "HEFT_VERDICT", (32.4, "D2", 0.5, 0.2)),
    Case("labels", "HEFT_VERDICT", ("D2.4", "D2", 0.5)),
    Case("doubt blank", "HEFT_VERDICT", (32.4, 32.0, 0.5, None)),
    Case("a letter that is no label", "HEFT_VERDICT", ("X9", 32.0, 0.5)),
    Case("a column against one target", "HEFT_VERDICT", (column(32.4, 31.0, "D3", None, "?"), "D2", 0.5, 0.2)),
    Case("within, as text", "HEFT_LENGTH_LIMIT", ("44 1/2 in",)),
    Case("too long", "HEFT_LENGTH_LIMIT", ("48 1/4 in",)),
    Case("a long putter", "HEFT_LENGTH_LIMIT", ("48 1/4 in", "Putter")),
    Case("too short", "HEFT_LENGTH_LIMIT", (17.9, "putter", "g in")),
    Case("at the limit", "HEFT_LENGTH_LIMIT", (48.0, None, "g in")),
    Case("a word it does not know", "HEFT_LENGTH_LIMIT", (113.0, "driver")),
    Case("by the local rule", "HEFT_LENGTH_LIMIT", (46.5, None, "g in", "g-10")),
    Case("a column", "HEFT_LENGTH_LIMIT", (column(113.0, 125.0, 40.0, 1130.0),)),
    # Set
    Case("label", "HEFT_TARGET", ("D2", 0.5, 3.0)),
    Case("even set", "HEFT_TARGET", (2700.0, 0.0, 9.0)),
    Case("place of no club", "HEFT_TARGET", (32.0, 0.5, 0.0)),
    Case("place between two clubs", "HEFT_TARGET", (32.0, 0.5, 2.5)),
    Case("places down a column", "HEFT_TARGET", ("D2", 0.5, column(1.0, 2.0, None, 4.0))),
    *(
        Case(f"what: {word}", "HEFT_GRADIENT", (PLACES, column(30.0, 31.0, 32.0, 34.0), word))
        for word in ("first", "increment", "scatter", "worst", "Worst ", "steepness")
    ),
    Case("labels", "HEFT_GRADIENT", (PLACES, column("D0", "D1", "D2", "D4"), "increment")),
    Case("rows", "HEFT_GRADIENT", (row(1.0, 2.0, 3.0), row(30.0, 31.0, 32.5), "worst")),
    Case("a blank club is left out", "HEFT_GRADIENT", (PLACES, column(30.0, None, 32.0, 34.0), "increment")),
    Case("two clubs have no scatter", "HEFT_GRADIENT", (column(1.0, 2.0), column(30.0, 31.0))),
    Case("one club", "HEFT_GRADIENT", (column(1.0, 2.0), column(30.0, None), "first")),
    Case("no club", "HEFT_GRADIENT", (PLACES, column(None, None, None, None), "first")),
    Case("all at one place", "HEFT_GRADIENT", (column(2.0, 2.0), column(30.0, 31.0), "first")),
    Case("unequal shapes", "HEFT_GRADIENT", (PLACES, row(30.0, 31.0, 32.0, 34.0), "first")),
    Case("a bad cell", "HEFT_GRADIENT", (PLACES, column(30.0, "heavy", 32.0, 34.0), "first")),
    Case("an error cell", "HEFT_GRADIENT", (PLACES, column(30.0, NOT_AVAILABLE, 32.0, 34.0), "first")),
    Case("a message among the values", "HEFT_GRADIENT", (PLACES, column(30.0, MESSAGE, 32.0, 34.0), "first")),
    Case("single cells", "HEFT_GRADIENT", (1.0, 30.0, "first")),
    *(
        Case(f"what: {word}", "HEFT_AGREEMENT", (row(30.0, None, 32.0, 31.0), row(30.5, 31.0, 33.0, "D1"), word))
        for word in ("bias", "sd", "lower", "upper", "count", "next lower", "next upper", "scatter")
    ),
    Case("one club", "HEFT_AGREEMENT", (column(30.0, 31.0), column(30.5, None), "sd")),
    Case("unequal shapes", "HEFT_AGREEMENT", (column(30.0, 31.0), row(30.5, 31.0), "bias")),
    Case("a bad cell", "HEFT_AGREEMENT", (column(30.0, 31.0), column(30.5, "?"), "bias")),
    Case("with weights", "HEFT_PLAN", (HEADS, SHAFTS, WEIGHTS)),
    *(
        Case(f"what: {word}", "HEFT_PLAN", (HEADS, SHAFTS, WEIGHTS, "9-iron", word))
        for word in ("shaft", "weights", "reads", "deviation", "doubt", "verdict", "leads", "head grams", "butt grams",
                     "swingweight", "points", "inertia", "mass", "why", "price")
    ),
    Case("one club whole", "HEFT_PLAN", (HEADS, SHAFTS, WEIGHTS, "8-iron")),
    Case("down a column of clubs", "HEFT_PLAN", (HEADS, SHAFTS, WEIGHTS, column("8-iron", "9-iron"), "shaft")),
    Case("no such club", "HEFT_PLAN", (HEADS, SHAFTS, WEIGHTS, "wedge", "shaft")),
    Case("targets in a table of their own", "HEFT_PLAN", (HEADS_ALONE, SHAFTS, WEIGHTS, None, "reads", TARGETS)),
    Case("no targets at all", "HEFT_PLAN", (HEADS_ALONE, SHAFTS)),
    Case("the shop's defaults", "HEFT_PLAN", (HEADS, SHAFTS, WEIGHTS, None, "points", None, SHOP_DEFAULTS)),
    Case("blank and bad rows keep their places", "HEFT_PLAN",
         ((*HEADS, (None,) * 6, ("PW", "heavy", 35.5, 50.0, "D3", 0.5), ("SW", None, 35.5, 50.0, "D3", 0.5),
           ("LW", MESSAGE, 35.5, 50.0, "D3", 0.5)), SHAFTS, WEIGHTS, None, "verdict")),
    Case("a blank row first", "HEFT_PLAN", ((HEADS[0], (None,) * 6, *HEADS[1:]), SHAFTS, WEIGHTS, None, "shaft")),
    Case("headings alone", "HEFT_PLAN", (HEADS[:1], SHAFTS)),
    Case("a shaft twice", "HEFT_PLAN", (HEADS, (*SHAFTS, SHAFTS[1]))),
    Case("one shaft for two", "HEFT_PLAN", (HEADS, SHAFTS[:2], WEIGHTS, None, "why")),
    Case("too short for any", "HEFT_PLAN", (HEADS, (SHAFTS[0], ("S1", 98.0, 30.0)), WEIGHTS, None, "why")),
    Case("out of reach", "HEFT_PLAN", ((*HEADS, ("PW", 270.0, 35.5, 50.0, "D9", 0.5)), (*SHAFTS, ("S3", 97.0, 39.0)),
                                       WEIGHTS, "PW", "why")),
    # Parts and corrections
    Case("hooked on the shaft end", "HEFT_FROM_BUTT", (29.5, "shaft end", 0.16, "g in")),
    Case("hooked on the grip cap", "HEFT_FROM_BUTT", (74.9, "Grip  cap", 0.4)),
    Case("hooked on something else", "HEFT_FROM_BUTT", (74.9, "thumb", 0.4)),
    Case("a column", "HEFT_FROM_BUTT", (column(74.9, None, 753.0), "shaft end", 0.4)),
    Case("at the butt", "HEFT_PER_GRAM", ("4 in",)),
    Case("nothing at the fulcrum", "HEFT_GRAMS_TO", ("D2", 395.0, 75.0, 35.56)),
    Case("too heavy already", "HEFT_GRAMS_TO", ("D2", 395.0, 76.0, 94.0)),
    Case("in ounces", "HEFT_GRAMS_TO", ("D2", 13.9, 29.5, 37.0, "oz in")),
    Case("down a column", "HEFT_GRAMS_TO", (column("D2", 33.0, "?", None), 395.0, 75.0, 94.0)),
    Case("one of its numbers, in inches", "HEFT_AFTER", (395.0, 29.6, 2.0, 37.0, "balance", "g in")),
    Case("inertia", "HEFT_AFTER", (395.0, 75.3, 2.0, 94.0, "inertia", None, 2650.0)),
    Case("an inertia that no masses have", "HEFT_AFTER", (395.0, 75.3, 2.0, 94.0, "inertia", None, 2000.0)),
    Case("more than masses could have", "HEFT_AFTER", (395.0, 75.3, 2.0, 94.0, "inertia", None, 6000.0)),
    Case("more than was there", "HEFT_AFTER", (395.0, 75.3, -200.0, 110.0, "inertia", None, 2700.0)),
    Case("a balance beyond the butt", "HEFT_AFTER", (395.0, 75.3, -300.0, 110.0, "points")),
    Case("inertia without that before", "HEFT_AFTER", (395.0, 75.3, 2.0, 94.0, "inertia")),
    Case("taken off, down a column", "HEFT_AFTER", (column(395.0, 402.0), 75.3, -2.0, 94.0, "swingweight")),
    Case("all of it down a column", "HEFT_AFTER", (column(395.0, None, 402.0), 75.3, 2.0, 94.0)),
    Case("half an inch, one number", "HEFT_LENGTHEN", (395.0, 75.3, 50.0, 11.0, "1/2 in", "points", None, 0.6)),
    Case("cut", "HEFT_LENGTHEN", (395.0, 75.3, 50.0, 11.0, -2.0, "mass", None, 0.6)),
    Case("two pieces", "HEFT_PICK", (9.4, column(2.0, 3.5, None, 6.0), 2.0)),
    Case("pieces", "HEFT_PICK", (9.4, row(2.0, 3.5, 6.0), 2.0, "pieces")),
    Case("empty stock", "HEFT_PICK", (9.4, row(None, None), 2.0, "pieces")),
    Case("nothing wanted", "HEFT_PICK", (0.0, row(2.0, 3.5), 2.0, "sum")),
    *(
        Case(f"{leads} leads", "HEFT_ADVICE",
             (leads, 395.0, 75.3, 2670.0, "D4", 1.0, 2700.0, 10.0, 94.0, 2.5, row(2.0, 3.0), row(4.0, 8.0), 2.0,
              0.2, 2.0, 50.0, 11.0, 0.6))
        for leads in ("swingweight", "inertia", "Both")
    ),
    Case("in ounces and inches", "HEFT_ADVICE",
         ("inertia", 13.9, 29.6, 2670.0, "D4", 1.0, 2700.0, 10.0, 37.0, *(None,) * 6, 1.8, 4.3, 0.6, "oz in")),
    Case("not swung", "HEFT_ADVICE", ("both", 395.0, 75.3, None, "D4", 1.0, 2700.0, 10.0, 94.0)),
    Case("no length known", "HEFT_ADVICE", ("swingweight", 395.0, 75.3, None, "D4", 1.0)),
    Case("counted", "HEFT_PICK", (9.4, row(2.0, 3.5, 6.0), 2.0, "pieces", row(4.0, 0.0, 1.0))),
    Case("counts of another shape", "HEFT_PICK", (9.4, row(2.0, 3.5), 2.0, "pieces", column(4.0, 0.0))),
    Case("each promised once", "HEFT_PICK_SET", (column(6.0, 5.0, 5.0), row(4.0, 6.0), row(1.0, 1.0))),
    Case("one club's pieces", "HEFT_PICK_SET", (column(9.0, 6.0), row(2.0, 4.0), row(1.0, 2.0), 2.0, "pieces", 2.0)),
    Case(
        "blanks, messages and slips among the wants",
        "HEFT_PICK_SET",
        (column(6.0, None, MESSAGE, "heavy", -3.0), row(4.0, 6.0), row(1.0, None), 2.0, "sum"),
    ),
    Case("no such club", "HEFT_PICK_SET", (column(6.0, 5.0), row(4.0, 6.0), None, 1.0, "sum", 3.0)),
    Case("a column of clubs", "HEFT_PICK_SET", (column(6.0, 5.0), row(4.0, 6.0), None, 1.0, "sum", column(1.0, 2.0))),
    Case("more than a shop adds", "HEFT_GRAMS_TO_INERTIA", (2750.0, 395.0, 75.3, 2670.0, 2.5)),
    Case("at the butt", "HEFT_GRAMS_TO_INERTIA", (2750.0, 395.0, 75.3, 2670.0, 0.0)),
    Case("an inertia that no such club has", "HEFT_GRAMS_TO_INERTIA", (2750.0, 395.0, 75.3, 267.0, 94.0)),
    Case("in ounces and inches", "HEFT_GRAMS_TO_INERTIA", (2700.0, 13.9, 29.6, 2670.0, 37.0, "oz in")),
    Case("the second, in inches", "HEFT_TWO_WEIGHTS_INERTIA",
         (395.0, 29.6, 2670.0, 37.0, 1.0, "D2", 2700.0, "second", "g in")),
    Case("places that do the same", "HEFT_TWO_WEIGHTS_INERTIA", (395.0, 75.3, 2670.0, 71.12, 71.0, "D2", 2700.0)),
    Case("beyond the butt, in inches", "HEFT_INERTIA_ABOUT", (2667.0, 395.0, 29.6, -4.0, "g in")),
    Case("from another axis", "HEFT_INERTIA_ABOUT", (430.0, 395.0, 75.3, 0.0, None, 75.3)),
    Case("less than a point has", "HEFT_INERTIA_ABOUT", (267.0, 395.0, 75.3, 75.3)),
    Case("in inches", "HEFT_LENGTH_TO", ("D4", 395.0, 29.6, 50.0, 4.3, "g in", 0.6)),
    Case("no length does it", "HEFT_LENGTH_TO", ("G4", 395.0, 75.3, 50.0, 11.0)),
    Case("a cut", "HEFT_LENGTH_TO_INERTIA", (2600.0, 395.0, 75.3, 2670.0, 50.0, 11.0, None, 0.6)),
    Case("length and grip", "HEFT_WHAT_IF",
         (395.0, 75.3, None, None, 2670.0, 1.27, 0.6, 50.0, 11.0, 57.0, None, 4.0, 112.0, 5.0)),
    Case("another shaft", "HEFT_WHAT_IF",
         (395.0, 75.3, "inertia", None, 2670.0, *(None,) * 12, 60.0, 55.0, 70.0, 57.0, 108.0)),
    Case("a place is missing", "HEFT_WHAT_IF", (395.0, 75.3, "points", *(None,) * 8, 4.0)),
    Case("a grip is missing", "HEFT_WHAT_IF", (395.0, 75.3, "points", None, None, 1.27)),
    Case("half a shaft", "HEFT_WHAT_IF", (395.0, 75.3, "points", *(None,) * 16, 70.0)),
    Case("several readings", "HEFT_POINTS", ("395.1 395.2 395.0", "75,3 75,4; 75,3")),
    Case("several readings with a unit behind", "HEFT_POINTS", ("13.9 13.95 oz", "29 1/2 29 5/8 in")),
    Case("two things in one cell", "HEFT_POINTS", ("395 75.3", 75.3)),
    Case("a thousand apart", "HEFT_POINTS", ("1 130 g", 75.3)),
    Case("several times", "HEFT_INERTIA", (395.0, 75.3, "1.9 1,91 1.90")),
    Case("a swing too few", "HEFT_INERTIA", (395.0, 75.3, "19.1 17.2")),
    Case("several in one cell", "HEFT_CONVERT", ("44 1/2 44 5/8 in", "cm", "mm")),
    *(
        Case(f"what: {word}", "HEFT_READINGS", (column("75.3 75.9", None, 75.3), word, 0.1, "cm"))
        for word in ("mean", "scatter", "doubt", "count", "line")
    ),
    Case("times of ten swings", "HEFT_READINGS", ("19.1 s; 19.2 s; 18.8 s", "line", 0.1, "s")),
    Case("one is a slip", "HEFT_READINGS", ("75.3 57.3", "mean", 0.1, "cm")),
    Case("a unit it does not know", "HEFT_READINGS", ("75.3 75.4", "mean", 0.1, "stone")),
    Case("an increment kept", "HEFT_LEAST_LINE", (PLACES, column(30.0, 33.0, None, "D3"), 95.0, 0.5, 0.0)),
    Case("within a leeway, in inches", "HEFT_LEAST_LINE",
         (PLACES, column(30.0, 33.0, 32.0, 35.0), 37.0, 0.5, 0.5, "increment", "oz in", "swingweight", 0.5)),
    Case("for an inertia", "HEFT_LEAST_LINE",
         (PLACES, column(2600.0, 2650.0, 2690.0, 2700.0), PLACES, 10.0, 0.0, "grams", None, "inertia")),
    Case("in words, of one group", "HEFT_LEAST_LINE",
         (PLACES, column(30.0, 33.0, 32.0, 35.0), 95.0, 0.5, None, "line", None, None, None,
          column("Irons", "irons", "Woods", "Irons"), "Irons")),
    Case("a group without a club", "HEFT_LEAST_LINE",
         (PLACES, column(30.0, 33.0, 32.0, 35.0), 95.0, 0.5, 0.0, "line", None, None, None,
          column("Irons", "Irons", "Woods", "Irons"), "Wedges")),
    Case("groups of another height", "HEFT_LEAST_LINE",
         (PLACES, column(30.0, 33.0, 32.0, 35.0), 95.0, 0.5, 0.0, "line", None, None, None, column("Irons"), "Irons")),
    *(Case(f"room for {room} letters", "HEFT_FLAGS",
           (row("Swingweight", "Loft", "Lie"), row("D2", 30.0, 62.0), row("low", "high", "low"), "line",
            row("12 g unexplained: it weighs more than its parts"), room))
      for room in (255.0, 48.0, 36.0, 20.0, 19.0)),
    Case("one place twice", "HEFT_TWO_WEIGHTS", (395.0, 75.0, 110.0, 110.0, "D2", 410.0)),
    Case("one of two, in inches", "HEFT_TWO_WEIGHTS", (395.0, 29.5, 43.0, 1.0, "D2", 410.0, "second", "g in")),
    Case("trimmed at both ends", "HEFT_SHAFT_CUT", (65.0, 117.0, 57.0, 2.5, 5.0, "mass")),
    Case("a shaft that cannot be", "HEFT_SHAFT_CUT", (65.0, 117.0, 30.0)),
    Case("trimmed away", "HEFT_SHAFT_CUT", (65.0, 117.0, 57.0, 60.0, 60.0)),
    Case("parts in ounces and inches", "HEFT_COMBINE", (column(7.0, 2.0), column(44.0, 20.0), "mass", "oz in")),
    Case("a part without a mass", "HEFT_COMBINE", (column(200.0, None), column(114.0, 56.0), "balance")),
    Case("a part without a place", "HEFT_COMBINE", (column(200.0, 60.0), column(114.0, None), "balance")),
    Case("a message among the parts", "HEFT_COMBINE", (column(200.0, MESSAGE), column(114.0, 56.0), "balance")),
    Case("one number of two rows", "HEFT_CLUB", (HEADINGS, TWO_CLUBS, "points")),
    Case("all of two rows", "HEFT_CLUB", (HEADINGS, TWO_CLUBS)),
    Case("in inches", "HEFT_CLUB", (HEADINGS, CLUB, "balance", "g in")),
    Case("the shop's defaults", "HEFT_CLUB", (HEADINGS, CLUB, "points", None, SHOP_DEFAULTS)),
    Case("how sure", "HEFT_CLUB", (HEADINGS, CLUB, "doubt")),
    Case("how sure, down rows", "HEFT_CLUB", (HEADINGS, (*TWO_CLUBS, (None,) * 6), "inertia doubt", None, SHOP_DOUBTS)),
    Case("a head rise of its own", "HEFT_CLUB", ((HEADINGS[0] + ("Head rise (cm)",),), (CLUB[0] + (1.2,),), "doubt")),
    Case(
        "a head rise and its doubt",
        "HEFT_CLUB",
        ((HEADINGS[0] + ("Head rise (cm)", "Head rise doubt (cm)"),), (CLUB[0] + (1.2, 0.2),), "doubt"),
    ),
    Case(
        "a doubt that is none",
        "HEFT_CLUB",
        ((HEADINGS[0] + ("Mass doubt (g)",),), (CLUB[0] + ("much",),), "doubt"),
    ),
    Case("a blank row among rows", "HEFT_CLUB", (HEADINGS, (*CLUB, (None,) * 6, *CLUB), "points")),
    Case("a bad row among rows", "HEFT_CLUB", (HEADINGS, (*CLUB, ("heavy", *CLUB[0][1:]), *CLUB), "points")),
    Case("an error in the row", "HEFT_CLUB", (HEADINGS, ((NOT_AVAILABLE, *CLUB[0][1:]),), "points")),
    Case("a message in the row", "HEFT_CLUB", (HEADINGS, ((MESSAGE, *CLUB[0][1:]),), "points")),
    Case("a row too short", "HEFT_CLUB", (HEADINGS, row(200.0, 114.3), "points")),
    Case("a heading twice", "HEFT_CLUB", (row("Grip (g)", *HEADINGS[0]), row(50.0, *CLUB[0]), "points")),
    Case("a unit it does not know", "HEFT_CLUB", (row("Head mass (stone)", *HEADINGS[0][1:]), CLUB, "points")),
    Case("misspelt, unused and blank", "HEFT_CLUB_READS", (row("Epxy (g)", "Customer", None, "Shaft wt. [g]"),)),
    Case("down a column", "HEFT_CLUB_READS", (column("Head mass (g)", "Paid", "Loft"),)),
    Case("lacking its epoxy", "HEFT_HEAD_RISE", (HEADINGS, CLUB, 311.2, 84.95, "epoxy")),
    Case("lacking what it never had", "HEFT_HEAD_RISE", (HEADINGS, CLUB, 311.2, 84.95, "wheels")),
    Case("no place for a head", "HEFT_HEAD_RISE", (HEADINGS, CLUB, 314.2, 60.0)),
    Case("two rows", "HEFT_HEAD_RISE", (HEADINGS, TWO_CLUBS, column(314.2, 318.7), column(85.0, 84.0))),
    Case("a tip weight that is in no row", "HEFT_HEAD_RISE", (HEADINGS, CLUB, 315.2, 84.95, "epoxy")),
    Case("its doubt, without epoxy", "HEFT_HEAD_RISE_DOUBT", (HEADINGS, CLUB, 311.2, 84.95, "epoxy")),
    Case("a finer edge", "HEFT_HEAD_RISE_DOUBT", (HEADINGS, CLUB, 314.2, 84.95, None, "g in", SHOP_DOUBTS)),
    Case("a putter's, in inches", "HEFT_HEAD_RISE_GUESS", ("Putter", "head rise", "g in")),
    Case("of a kind that nobody knows", "HEFT_HEAD_RISE_GUESS", ("other",)),
    Case("no such kind", "HEFT_HEAD_RISE_GUESS", ("spoon",)),
    Case("four grams too many", "HEFT_UNEXPLAINED", (HEADINGS, CLUB, 315.2, "epoxy")),
    Case("six too few", "HEFT_UNEXPLAINED", (HEADINGS, CLUB, 308.2, None, "line", "oz cm")),
    Case("nothing to ask", "HEFT_UNEXPLAINED", (HEADINGS, CLUB, 314.2, None, "line")),
    Case("in ounces", "HEFT_UNEXPLAINED", (HEADINGS, CLUB, "11.2 oz", None, "unexplained", "oz in")),
    Case("its head not weighed", "HEFT_HEAD_MASS", (HEADINGS, row(None, *CLUB[0][1:]), 33.0)),
    Case("no head so heavy", "HEFT_HEAD_MASS", (HEADINGS, CLUB, "G9", "oz in")),
    Case("one number", "HEFT_FINISHED", (HEADINGS, CLUB, 311.2, 84.95, "epoxy", "points")),
    Case(
        "swung",
        "HEFT_FINISHED",
        (HEADINGS, CLUB, 311.2, 84.95, "epoxy", "inertia", "g cm", None, 2800.0),
    ),
    Case("nothing lacks", "HEFT_FINISHED", (HEADINGS, CLUB, 314.2, 84.95, "none", "swingweight")),
    *(
        Case(f"what: {word}", "HEFT_FINISHED", (HEADINGS, CLUB, 311.2, 84.95, "epoxy", word, None, SHOP_DOUBTS))
        for word in ("mass doubt", "doubt", "inertia doubt")
    ),
    Case(
        "a swing in doubt",
        "HEFT_FINISHED",
        (HEADINGS, CLUB, 311.2, 84.95, "epoxy", "inertia doubt", "g cm", None, 2800.0, 30.0),
    ),
    Case("a head where none can be", "HEFT_FINISHED", (HEADINGS, CLUB, 311.2, 95.0, "epoxy", "points")),
    Case("in inches", "HEFT_PLACE", (HEADINGS, CLUB, "head", "g in")),
    Case("a part it does not know", "HEFT_PLACE", (HEADINGS, CLUB, "windmill")),
    *(
        Case(f"what: {word}", "HEFT_BEST_RISE", (row(2.1, None, 2.0, 2.2), row(0.1, 0.2, 0.3, 0.1), word))
        for word in ("rise", "doubt", "next doubt", "count", "scatter", "chi square", "line", "mean")
    ),
    Case("one dry fit", "HEFT_BEST_RISE", (2.1, 0.1)),
    Case("that do not belong together", "HEFT_BEST_RISE", (column(2.0, 3.2), column(0.2, 0.2), "line")),
    Case("in inches, heads that differ", "HEFT_BEST_RISE", (column(0.8, 0.9), column(0.05, 0.05), None, "g in", 0.04)),
    Case("known without doubt", "HEFT_BEST_RISE", (column(2.1, 2.2), column(0.1, 0.0), "rise")),
    Case("no dry fit with a doubt", "HEFT_BEST_RISE", (column(2.1, None), column(None, 0.1), "rise")),
    Case("no head's rise", "HEFT_BEST_RISE", (column(2.1, 22.0), column(0.1, 0.1), "rise")),
    Case("no dry fits", "HEFT_RISE_FROM_SUMS", (0.0, 0.0, 0.0, 0.0, "rise")),
    Case("no weight", "HEFT_RISE_FROM_SUMS", (2.0, 0.0, 0.0, 0.0, "rise")),
    Case("sums of no rise", "HEFT_RISE_FROM_SUMS", (2.0, 1.0, 50.0, 2500.0, "rise")),
    # Tools
    Case("text keeps its unit", "HEFT_CONVERT", ("44 1/2 in", "cm", "mm")),
    Case("moment", "HEFT_CONVERT", (213.5, "in oz", "g cm")),
    Case("inertia", "HEFT_CONVERT", (2700.0, "kg cm2", "oz in2")),
    Case("another dimension", "HEFT_CONVERT", (1.0, "oz", "cm")),
    Case("an unknown unit", "HEFT_CONVERT", (1.0, "stone", "g")),
    Case("grams or grains", "HEFT_CONVERT", (1.0, "gr", "g")),
    Case("a unit that is a number", "HEFT_CONVERT", (1.0, 2.0, "g")),
    Case("negative", "HEFT_CONVERT", (-2.0, "in", "cm")),
    Case("far too much", "HEFT_CONVERT", (1e300, "kg", "mg")),
    Case("columns", "HEFT_CONVERT", (column(1.0, 2.0, "x"), column("oz", "in", "cm"), column("g", "cm", "m"))),
    Case("a workbook as old as this", "HEFT_SELFTEST", ("0.1.0",)),
    Case("a newer workbook", "HEFT_SELFTEST", ("99.0",)),
    Case("no version", "HEFT_SELFTEST", ("the newest",)),
    Case("an argument too many", "HEFT_VERSION", (1.0,)),
    Case("arguments too many", "HEFT_LABEL", (32.0, 1.0, "x")),
)  # fmt: skip
"""What is peculiar to one formula, or told of one for all of its kind."""

SLIPS: tuple[tuple[str, object], ...] = (
    ("blank", None),
    ("spaces", "  "),
    ("negative", -3.0),
    ("far too large", 1e9),
    ("a word", "twelve"),
    ("TRUE", True),
    ("error cell", NOT_AVAILABLE),
    ("message", MESSAGE),
)
"""What is put in the place of each argument of each formula in turn."""


def _swept(formula: str, good: Arguments) -> Iterator[Case]:
    """The cases that every formula has: good, each argument slipped, too few, and ranges of each shape."""
    arguments = REGISTRY[formula].arguments
    yield Case("good", formula, good)
    yield Case("optional cells left blank", formula, good + (None,) * (len(arguments) - len(good)))
    for at, argument in enumerate(arguments):
        lead = good + (None,) * (at - len(good))
        for called, slip in SLIPS:
            yield Case(f"{argument.name}: {called}", formula, (*lead[:at], slip, *lead[at + 1 :]))
    if good:
        yield Case("last required argument left out", formula, good[:-1])
    if good and all(argument.takes == "cell" for argument in arguments):
        yield Case("columns", formula, tuple(column(v, v, v) for v in good))
        yield Case("rows", formula, tuple(row(v, v) for v in good))
        yield Case("blocks", formula, tuple(((v, v), (v, v)) for v in good))
        yield Case("ranges of one cell", formula, tuple(column(v) for v in good))
        yield Case(
            "one bad row", formula, (column(good[0], "twelve", None, NOT_AVAILABLE, MESSAGE, good[0]), *good[1:])
        )
        yield Case("row and blank", formula, (row(good[0], None, good[0]), *good[1:]))
        yield Case("first a column, the rest blank", formula, (column(good[0], good[0]), *((None,) * (len(good) - 1))))
    if len(good) > 1 and all(argument.takes == "cell" for argument in arguments):
        yield Case("unequal shapes", formula, (column(good[0], good[0]), column(*[good[1]] * 3), *good[2:]))


CASES: tuple[Case, ...] = (*(case for name, good in GOOD.items() for case in _swept(name, good)), *TOLD)
"""Every call that each host is held to."""
