"""The lists of the shop book: which column holds what, told once. All of it in g, cm and points."""

from __future__ import annotations

from evenheft.mechanics.doubt import COVERAGE
from evenheft.order.layout import GROUPS, USUALLY, Setting
from evenheft.order.layout import SETTINGS as ORDER_SETTINGS
from evenheft.order.layout.grid import Column
from evenheft.shop.book.grid import ListSheet

_MASS, _LENGTH, _DATE, _SIGNED = "0.0", "0.00", "yyyy-mm-dd", "+0.00;-0.00;0.00"
_TIME = "yyyy-mm-dd hh:mm"


def _kept(key: str, heading: str, width: float, number: str = "General", *, wrap: bool = False) -> Column:
    return Column(key, heading, width, "label", number=number, wrap=wrap)


def _typed(
    key: str, heading: str, width: float, number: str = "General", prompt: str = "", options: str = ""
) -> Column:
    return Column(key, heading, width, "input", number=number, prompt=prompt, options=options)


def _own() -> tuple[Column, ...]:
    """Make the columns by which a kept row knows its order and club."""
    return (_kept("order", "Order", 12), _kept("number", "No.", 5, "0"))


_MARK = Column("mark", "As kept", 14, "work")
"""By which a later keep sees what a person has typed over: see `marks`."""


def _of_head(sums: str) -> str:
    """Sum a column over the dry fits of a head's own model and club."""
    return f"SUMIFS({{fits.{sums}}},{{fits.head}},{{asked}})"


def _taught(what: str) -> str:
    return f'HEFT_RISE_FROM_SUMS({{fits}},{{weights}},{{weighted}},{{squares}},"{what}",,shop_spread)'


def _head(what: str, own: str) -> str:
    """Write the formula of a head's rise or its doubt: the shop's own where it is typed, else what dry fits taught."""
    return f'=IF({{model}}="","",IF({{{own}}}<>"",{{{own}}},{_taught(what)}))'


def _sum(key: str) -> str:
    return f'=IF({{model}}="",0,{_of_head(key)})'


_HEAD_KEY = '=IF({model}="","","head "&{model}&" | "&{club})'
_ASKED = '=SUBSTITUTE(SUBSTITUTE(SUBSTITUTE({head},"~","~~"),"*","~*"),"?","~?")'
"""The key of a head as SUMIFS wants it, to which * and ? would stand for any letters."""

BOOK_SETTINGS: tuple[Setting, ...] = tuple(setting for setting in ORDER_SETTINGS if not setting.computed)
"""What an order's Shop sheet is told once and a person types: the book holds the same, for the next order."""

SHOP_LIST = ListSheet(
    "Shop",
    "Your instruments and what holds for every order. A new order is filled from here and keeps its own.",
    (
        _kept("setting", "What", 34),
        _typed("value", "Value", 14, prompt="As an order's Shop sheet has it. Plain masses are in g, lengths in cm."),
        _kept("note", "Remark", 40),
    ),
    prepared=len(BOOK_SETTINGS),
    key=("setting",),
)

USUAL_LIST = ListSheet(
    "Usual",
    "What is usual where an order's Parts say nothing: for every group, and for a group of its own.",
    (
        _typed("group", "Group", 16, prompt="A group as you call it on orders; the first row holds for every group."),
        *(_typed(key, f"{heading} (cm)", 10, _LENGTH, note) for key, heading, _, note in USUALLY),
    ),
    prepared=GROUPS + 1,
    key=("group",),
)

HEAD_LIST = ListSheet(
    "Heads",
    "How well each head model's rise is known. Type your own where you know better; dry fits fill the rest.",
    (
        _typed("model", "Model", 22, prompt="The model as you write it on every order."),
        _typed("club", "Club", 15, prompt="Which club of the model, e.g. 7-iron; blank where the model is one club."),
        Column("rise", "Head rise (cm)", 9, "computed", _head("rise", "own_rise"), _LENGTH),
        Column("doubt", "Doubt of the next (cm)", 10, "computed", _head("next doubt", "own_doubt"), _LENGTH),
        Column("fits", "Dry fits", 7, "computed",
               '=IF({model}="","",COUNTIFS({fits.head},{asked},{fits.weight},">0"))', "0"),
        Column("scatter", "Scatter (cm)", 9, "computed", f'=IF({{model}}="","",{_taught("scatter")})', _LENGTH),
        Column("belong", "Belong together", 34, "computed", f'=IF({{model}}="","",{_taught("line")})', wrap=True),
        Column("last", "Last order", 12, "computed",
               '=IF({model}="","",IFERROR(INDEX({fits.order},MATCH({latest},{fits.sequence},0)),""))'),
        Column("forecasts", "Forecasts", 10, "computed",
               '=IF({model}="","",COUNTIFS({fits.head},{asked},{fits.squared},">=0"))', "0"),
        Column("missed", "Missed by, mean (points)", 11, "computed",
               f'=IF(N({{forecasts}})=0,"",ROUND({_of_head("miss")}/{{forecasts}},2))', _SIGNED),
        Column("worst", "Missed by, rms (points)", 11, "computed",
               f'=IF(N({{forecasts}})=0,"",SQRT({_of_head("squared")}/{{forecasts}}))', _LENGTH),
        _typed("own_rise", "Own rise (cm)", 9, _LENGTH, "Your own value, where you know better than the dry fits."),
        _typed("own_doubt", "Own doubt (cm)", 9, _LENGTH, "How far off it may be, plus or minus."),
        _typed("note", "Note", 26),
        Column("head", "Head", 9, "work", _HEAD_KEY),
        Column("asked", "Asked as", 9, "work", _ASKED),
        Column("weights", "Weights", 9, "work", _sum("weight"), "0.000"),
        Column("weighted", "Weight x rise", 9, "work", _sum("weighted"), "0.000"),
        Column("squares", "Weight x rise x rise", 9, "work", _sum("squares"), "0.000"),
        Column("latest", "Latest dry fit", 9, "work",
               '=IF({model}="",0,_xlfn.MAXIFS({fits.sequence},{fits.head},{asked}))', "0"),
        _kept("added", "Added by", 10),
    ),
    prepared=60,
    key=("model", "club"),
)  # fmt: skip

SHAFT_LIST = ListSheet(
    "Shafts",
    "One row per shaft, by the number you wrote on it. An order takes mass, length and balance from here.",
    (
        _typed("number", "Number", 9, prompt="The number written on the shaft; each only once."),
        _typed("model", "Model", 22),
        _typed("mass", "Mass (g)", 9, _MASS, "As it lies on the scale, uncut."),
        _typed("length", "Length (cm)", 9, _LENGTH, "A plain number is in cm; 46 in works too."),
        _typed("balance", "Balance from butt (cm)", 10, _LENGTH, "From its butt end to where it balances."),
        _typed("frequency", "Frequency (cpm)", 10, "0"),
        _typed("aside", "Set aside for", 14, prompt="The order that it is promised to."),
        Column("used", "Used in", 18, "computed",
               '=IF({number}="","",IFERROR(INDEX({used.order},MATCH({number},{used.shaft},0))&", no. "'
               '&INDEX({used.number},MATCH({number},{used.shaft},0)),""))'),
        _typed("note", "Note", 26),
    ),
    prepared=120,
    key=("number",),
)  # fmt: skip

_COUNTED = (
    _typed("counted", "Counted", 9, "0", "How many lie there now."),
    _typed("on", "Counted on", 12, _DATE, "The day you counted, in the morning; what is kept since is taken off."),
)


def _since(key: str, counted: str) -> str:
    """Write the formula of what orders kept since the last count have used."""
    return f'=IF({{{key}}}="","",{counted},{{used.kept}},">="&N({{on}})))'


_ON_HAND = '=IF({counted}="","",IF(ISNUMBER({counted}),{counted}-{since},"! counted must be a number, got "&{counted}))'
_LOW = '=IF(AND(ISNUMBER({hand}),ISNUMBER({least})),IF({hand}<={least},"low",""),"")'


def _stock(key: str, used: str) -> tuple[Column, ...]:
    """Make the columns of something that is counted."""
    return (
        *_COUNTED,
        Column("since", "Used since", 9, "computed", _since(key, used), "0"),
        Column("hand", "On hand", 9, "computed", _ON_HAND, "0"),
        _typed("least", "Low at", 8, "0", "At this many it is called low."),
        Column("low", "Low", 7, "computed", _LOW),
        _typed("note", "Note", 26),
    )


GRIP_LIST = ListSheet(
    "Grips",
    "Grips by model. On hand is your last count less what was kept from orders since.",
    (
        _typed("model", "Model", 22, prompt="The model as you write it on every order."),
        _typed("mass", "Mass (g)", 9, _MASS, "Of one grip, the mean of a handful."),
        _typed("balance", "Balance (cm)", 9, _LENGTH, "Butt to the grip's own balance point."),
        *_stock("model", "COUNTIFS({used.grip},{model}"),
    ),
    prepared=60,
    key=("model",),
)

WEIGHT_LIST = ListSheet(
    "Weights",
    "Weights by size and place. On hand is your last count less what was kept from orders since.",
    (
        _typed("size", "Size (g)", 9, _MASS, "In grams, as they are sold."),
        _typed("where", "Where", 9, prompt="Where this kind goes.", options='"head,butt"'),
        *_stock("size", "SUMIFS({used.count},{used.size},{size},{used.where},{where}"),
    ),
    prepared=48,
    key=("size", "where"),
)

ORDER_LIST = ListSheet(
    "Orders",
    "Every finished club, one row each, kept from orders. Correct it freely: what you type over is told before a keep.",
    (
        *_own(),
        _kept("date", "Date", 11, _DATE),
        _kept("customer", "Customer", 18),
        _kept("club", "Club", 15),
        _kept("group", "Group", 12),
        _kept("model", "Head model", 18),
        _kept("head_mass", "Head mass (g)", 9, _MASS),
        _kept("shaft", "Shaft", 14),
        _kept("grip", "Grip", 14),
        _kept("length", "Length (cm)", 9, _LENGTH),
        _kept("mass", "Mass (g)", 9, _MASS),
        _kept("balance", "Balance (cm)", 9, _LENGTH),
        _kept("target", "Swingweight target", 11),
        _kept("reads", "Swingweight", 11),
        _kept("inertia_target", "Inertia target (kg cm2)", 11, "0"),
        _kept("inertia", "Inertia (kg cm2)", 10, "0"),
        _kept("verdict", "Verdict", 22, wrap=True),
        _MARK,
    ),
    prepared=200,
    key=("order", "number"),
    kept=True,
)

FIT_LIST = ListSheet(
    "Fits",
    "What each dry fit taught about its head. Type 0 under Counts to leave one out.",
    (
        *_own(),
        _kept("date", "Date", 11, _DATE),
        _kept("model", "Model", 22),
        _kept("club", "Club", 15),
        _kept("head_mass", "Head mass (g)", 9, _MASS),
        _kept("rise", "Head rise (cm)", 9, "0.000"),
        _kept("doubt", "Doubt (cm)", 9, "0.000"),
        _kept("miss", "Forecast missed by (points)", 11, _SIGNED),
        _kept("counts", "Counts", 8, "0"),
        Column("sequence", "Sequence", 9, "work", number="0"),
        _MARK,
        Column("head", "Head", 9, "work", _HEAD_KEY),
        Column(
            "weight",
            "Weight",
            9,
            "work",
            f'=IF(AND(ISNUMBER({{rise}}),N({{doubt}})>0,N({{counts}})=1),{COVERAGE**2:g}/{{doubt}}^2,"")',
            "0.000",
        ),
        Column("weighted", "Weight x rise", 9, "work", '=IF({weight}="","",{weight}*{rise})', "0.000"),
        Column("squares", "Weight x rise x rise", 9, "work", '=IF({weight}="","",{weighted}*{rise})', "0.000"),
        Column("squared", "Miss squared", 9, "work", '=IF(ISNUMBER({miss}),{miss}^2,"")', "0.000"),
    ),
    prepared=400,
    key=("order", "number"),
    kept=True,
)

USED_LIST = ListSheet(
    "Used",
    "Stock that went into clubs, kept from orders: shafts by number, grips by model, weights by size.",
    (
        *_own(),
        _kept("part", "Part", 6, "0"),
        _kept("kept", "Kept on", 16, _TIME),
        _kept("shaft", "Shaft no.", 10),
        _kept("grip", "Grip", 22),
        _kept("size", "Size (g)", 9, _MASS),
        _kept("where", "Where", 9),
        _kept("count", "Count", 8, "0"),
        _MARK,
    ),
    prepared=200,
    key=("order", "number", "part"),
    kept=True,
)

SCALE_LIST = ListSheet(
    "Scale",
    "Every club that was both calculated and put on the swingweight scale; how the two agree stands to the right.",
    (
        *_own(),
        _kept("date", "Date", 11, _DATE),
        _kept("club", "Club", 15),
        _kept("calculated", "Calculated (points)", 11, "0.00"),
        _kept("reading", "Scale (points)", 10, "0.00"),
        _kept("difference", "Scale less calculated", 11, _SIGNED),
        _MARK,
    ),
    prepared=200,
    key=("order", "number"),
    kept=True,
)

BOOK_SHEETS: dict[str, ListSheet] = {
    sheet.sheet.lower(): sheet
    for sheet in (
        SHOP_LIST,
        USUAL_LIST,
        HEAD_LIST,
        SHAFT_LIST,
        GRIP_LIST,
        WEIGHT_LIST,
        ORDER_LIST,
        FIT_LIST,
        USED_LIST,
        SCALE_LIST,
    )
}
"""Every list by the name that formulas use in braces, in the order of the sheets."""
KEPT: tuple[ListSheet, ...] = tuple(sheet for sheet in BOOK_SHEETS.values() if sheet.kept)
"""The lists whose rows come from orders."""
