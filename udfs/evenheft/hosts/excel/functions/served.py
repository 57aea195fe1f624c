"""The module that xlwings serves to Excel: every formula of the registry as an xlwings function.

Its functions are made when it is imported; a new formula in the registry needs nothing here.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable
from typing import Any

from evenheft import __version__
from evenheft.formulas import REGISTRY
from evenheft.formulas.calling import Cell
from evenheft.formulas.registry import Formula
from evenheft.formulas.serving import server
from evenheft.formulas.wording import PASSED_ON
from evenheft.hosts.excel.functions.values import MISSING, handed_back, handed_over
from evenheft.hosts.excel.functions.xlwings_udfs import udfs

HOST = "Excel"

Served = Callable[..., list[list[Cell]]]


def category(formula: Formula) -> str:
    """Name a formula's heading in Excel's list of functions."""
    return f"Evenheft {formula.category}"


def _served(formula: Formula) -> Served:
    serve = server(formula, host=HOST)

    def answer(*given):  # type: ignore[no-untyped-def]  # xlwings would take annotations for conversions
        return handed_back(serve(*handed_over(given)))

    return _as_xlwings_function(answer, formula)


def _as_xlwings_function(answer: Any, formula: Formula) -> Served:
    """Give a function what xlwings reads: name, signature, help texts, category, and no conversion of its own.

    Every argument is optional: Excel would otherwise refuse a formula with a dialogue of its
    own, or show #VALUE!, where the formula itself tells in the cell what must be given.
    """
    answer.__name__ = answer.__qualname__ = formula.name
    answer.__doc__ = formula.help
    answer.__signature__ = inspect.Signature(
        [
            inspect.Parameter(argument.name, inspect.Parameter.POSITIONAL_OR_KEYWORD, default=MISSING)
            for argument in formula.arguments
        ]
    )
    for argument in formula.arguments:
        # "raw": xlwings' own reading knows seven error values only, and takes the others for numbers.
        answer = udfs.xlarg(argument.name, convert="raw", doc=argument.help)(answer)
    # Last: xlarg and xlret put the function back under xlwings' own heading.
    served: Served = udfs.xlfunc(category=category(formula))(udfs.xlret(convert="raw")(answer))
    return served


def _not_here(name: str) -> Served:
    """Answer for a function that another version of Evenheft has put into an add-in or a workbook."""
    message = (
        f"{PASSED_ON}{name} is not in Evenheft {__version__}, which answers here: the add-in or workbook is of "
        "another version, run evenheft doctor"
    )

    def answer(*_given):  # type: ignore[no-untyped-def]  # see above
        return [[message]]

    answer.__name__ = name
    served: Served = udfs.xlret(convert="raw")(udfs.xlfunc(answer))
    return served


globals().update({formula.name: _served(formula) for formula in REGISTRY.values()})


def __getattr__(name: str) -> Served:
    if name.startswith("HEFT_"):
        return _not_here(name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
