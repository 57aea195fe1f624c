"""Whether every formula of an order is still the template's own, in the cell where the template has it."""

from __future__ import annotations

import re

from evenheft.hosts.embedded import Computed
from evenheft.ooxml.package import read_package
from evenheft.ooxml.places import reference
from evenheft.ooxml.reading import read_sheet
from evenheft.order.files import template_file

_OUTSIDE = re.compile(r"\[\d+\]!|'|\s|_xlfn\.|(?<=TRUE)\(\)|(?<=FALSE)\(\)")


def differing_formulas(order: Computed) -> list[str]:
    """Name the cells whose formula is gone or is another one, e.g. "Bench W9"; first those with a value in its place.

    Where a row was put in, a thousand formulas reach further than the template's: a number typed over one of them
    must not be lost among those.

    Args:
        order: the order, computed [-].
    """
    typed_over: list[str] = []
    others: list[str] = []
    with read_package(template_file("xlsx")) as package:
        template = Computed(package)
        for sheet in package.sheets:
            if sheet.name not in order.sheet_names:
                continue
            for place in sorted(read_sheet(package, sheet.name).formulas):
                own, here = (_plainly(book.formula(sheet.name, *place)) for book in (template, order))
                if own != here:
                    is_value = not here and order.value(sheet.name, *place) not in (None, "")
                    (typed_over if is_value else others).append(f"{sheet.name} {reference(*place)}")
    return typed_over + others


def _plainly(formula: str | None) -> str:
    """Write a formula as every program would: without what only tells which one saved it."""
    return _OUTSIDE.sub("", formula or "").upper()
