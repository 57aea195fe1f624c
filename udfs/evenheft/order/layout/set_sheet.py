"""The Set sheet: every club against the target of its group."""

from __future__ import annotations

from evenheft.order.layout.grid import Column, Table, identity, unit_heading
from evenheft.order.layout.order_sheet import TARGET_PARTS
from evenheft.order.layout.quantities import CHARTED, QUANTITIES, Quantity, judged


def _picked(quantity: Quantity, part: int) -> str:
    """Write the formula, without "=", of a group's first value, increment or tolerance; blank stays blank."""
    cell = f"INDEX(target_{quantity.key},1,{{set.pick}}+{part})"
    return f'IF({{set.pick}}="","",IF({cell}="","",{cell}))'


def _read(quantity: Quantity, part: int) -> str:
    """Write the formula, without "=", of the same as a number: a target may carry its own unit, as 37 1/2 in does."""
    picked = _picked(quantity, part)
    return f"HEFT_CONVERT({picked},{quantity.unit},{quantity.unit})" if quantity.unit.startswith("unit_") else picked


def _goal(quantity: Quantity) -> str:
    increment = f'IF({_picked(quantity, 1)}="",0,{_read(quantity, 1)})'
    return f"=HEFT_TARGET({_read(quantity, 0)},{increment},{{set.place}})"


def _unit_word(quantity: Quantity) -> str:
    """Write the heading of a value with its unit, as text or as a formula."""
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
    """Take a cell over as it is, but blank where it is blank; a formula sees to that by itself."""
    return f"={formula}" if "(" in formula else f'=IF({formula}="","",{formula})'


def _measured_whole(quantity: Quantity) -> str:
    """Write the formula, without "=", of the swingweight; a club only half measured says so where it is judged."""
    mass, balance = (f'IFERROR({{bench.{what}_swung}}="",FALSE)' for what in ("mass", "balance"))
    return (
        f'IF(OR({{set.{judged(quantity).goal}}}="",AND({mass},{balance}),NOT(OR({mass},{balance}))),{quantity.value},'
        f'"! "&IF({mass},"mass","balance")&" is not measured yet: type it on Bench")'
    )


def _working_columns(quantity: Quantity) -> tuple[Column, ...]:
    """Tolerance and doubt of one quantity; the swingweight's numbers; what the charts draw."""
    keys, band = judged(quantity), f"{quantity.name}: working"
    numbers: tuple[Column, ...] = ()
    if quantity.key == "swingweight":
        numbers = (
            Column(keys.number, "Points", 8, "work", f"={_measured_whole(quantity)}", "0.00", band=band),
            Column(keys.goal, "Target", 8, "work", _goal(quantity), "0.00", band=band),
        )
    doubt = f"IF(ISNUMBER({{set.{keys.number}}}),{quantity.doubt},0)"
    judging = (
        Column(keys.tolerance, "Tolerance", 9, "work", f"={_read(quantity, 2)}", "0.00", band=band),
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
    """Write the formula of the line that says in words what is out about a club."""
    told = []
    for quantity in QUANTITIES:
        keys = judged(quantity)
        cell = f"{{set.{keys.verdict}}}"
        name = quantity.name.lower()
        # What is amiss with mass or balance is told once, not again by each quantity that has no target.
        again = f'AND(LEFT({cell},1)="!",{{set.{keys.goal}}}="",LEFT({{set.swingweight_verdict}},1)="!")'
        silent = f'OR({cell}="",{cell}="in")' if quantity.key == "swingweight" else f'OR({cell}="",{cell}="in",{again})'
        told.append(f'IF({silent},"",IF(LEFT({cell},1)="!","{name}: see its cell; ","{name} "&{cell}&"; "))')
    rule = 'IF(OR({set.rule}="too short",{set.rule}="too long"),"length "&{set.rule}&" for the rules; ","")'
    unknown = 'IF(AND({set.group}<>"",{set.pick}=""),"group is not on Order; ","")'
    without = 'IF(AND({set.group}="",IFERROR({bench.stage}<>"",TRUE)),"group is blank on Order; ","")'
    return "=" + "&".join([unknown, without, *told, rule])


def _unmeasured() -> str:
    """Write the formula of the names of the quantities that have a target and no value yet."""
    told = []
    for quantity in QUANTITIES:
        keys = judged(quantity)
        told.append(f'IF(AND({{set.{keys.goal}}}<>"",{{set.{keys.verdict}}}=""),", {quantity.name.lower()}","")')
    return "=" + "&".join(told)


def _told() -> str:
    """Write the formula of the line that a reader sees: what is flagged, else "all in", and what is unmeasured yet."""
    open_yet = 'IF({set.unmeasured}="","","; not measured yet: "&MID({set.unmeasured},3,200))'
    said = '{set.said}<>"",LEFT({set.said},LEN({set.said})-2)&' + open_yet
    return f'=IF({said},IF({_some_in()},"all in"&{open_yet},""))'


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
        Column("flags", "What is flagged", 30, "computed", _told(), wrap=True),
        *(column for quantity in QUANTITIES for column in _judged_columns(quantity)),
        Column("rule", "Length rule", 10, "computed",
               '=HEFT_LENGTH_LIMIT(IF({bench.length}="","",{bench.length}),{order.putter},shop_units)', band="Rules"),
        Column("said", "Flags", 12, "work", _flags(), band="Working"),
        Column("unmeasured", "Not measured", 12, "work", _unmeasured(), band="Working"),
        Column("pick", "Group's column", 9, "work",
               f'=IF({{set.group}}="","",IFERROR((MATCH({{set.group}},order_groups,0)-1)*{len(TARGET_PARTS)}+1,""))',
               band="Working"),
        *(column for quantity in QUANTITIES for column in _working_columns(quantity)),
    ),
)  # fmt: skip
