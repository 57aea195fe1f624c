"""The Set sheet: every club against the target of its group."""

from __future__ import annotations

from evenheft.workbooks.layout.grid import Column, Table, identity, unit_heading
from evenheft.workbooks.layout.order_sheet import TARGET_PARTS
from evenheft.workbooks.layout.quantities import CHARTED, QUANTITIES, Quantity, judged


def _picked(quantity: Quantity, part: int) -> str:
    """Formula, without "=", of a group's first value, increment or tolerance; blank stays blank."""
    cell = f"INDEX(target_{quantity.key},1,{{set.pick}}+{part})"
    return f'IF({{set.pick}}="","",IF({cell}="","",{cell}))'


def _goal(quantity: Quantity) -> str:
    return f'=HEFT_TARGET({_picked(quantity, 0)},IF({_picked(quantity, 1)}="",0,{_picked(quantity, 1)}),{{set.place}})'


def _unit_word(quantity: Quantity) -> str:
    """The heading of a value with its unit, as text or as a formula."""
    if quantity.unit.startswith("unit_"):
        return unit_heading("Value", quantity.unit)
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
    """A cell taken over as it is, but blank where it is blank; a formula sees to that by itself."""
    return f"={formula}" if "(" in formula else f'=IF({formula}="","",{formula})'


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
        *identity(),
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
