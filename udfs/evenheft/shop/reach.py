"""Which cells a formula's ranges reach, so that a total over other rows is told from a sum along its own row."""

from __future__ import annotations

import re
from collections.abc import Iterator

from evenheft.hosts.embedded import LONGEST_FORMULA
from evenheft.ooxml.places import SHEET_COLUMNS, SHEET_ROWS, Area, Place, column_number
from evenheft.shop.view import View

_TEXT = re.compile(r'"(?:[^"]|"")*"')
# Each begins where a word does, or it would be sought anew from every letter of a long one.
_AGGREGATE = re.compile(
    r"(?<![\w.])(SUM|AVERAGE|SUBTOTAL|AGGREGATE|STDEV|MEDIAN|MIN|MAX|COUNT|MODE|TRIMMEAN|PRODUCT|VAR)[A-Z0-9.]*\s*\(",
    re.IGNORECASE,
)
_CELL = r"\$?[A-Za-z]{1,3}\$?[0-9]{1,7}"
_RANGE = re.compile(
    rf"(?<![\w.\[\]'$])(?P<sheet>(?:'(?:[^']|'')*'|[\w.\[\]]+)!)?"
    rf"(?:(?P<cells>{_CELL}:{_CELL})|(?P<columns>\$?[A-Za-z]{{1,3}}:\$?[A-Za-z]{{1,3}})|(?P<rows>\$?[0-9]{{1,7}}:\$?[0-9]{{1,7}}))"
    r"(?![\w(])"
)
_WHOLE_COLUMN_OF_TABLE = re.compile(r"\w\[(?!\s*(?:\[?#This Row|@))\[?[^\[\]]*\]", re.IGNORECASE)
_ENDS = re.compile(r"(\$?)([A-Za-z]{1,3})(\$?)([0-9]{1,7})")


def formula_at(view: View, place: Place) -> str:
    """Return a cell's formula, "" where it has none;
    of one that shares another's text that text, as it stands there.
    """
    return view.formulas.get(place, "") or view.formulas.get(_written_at(view, place), "")


def _written_at(view: View, place: Place) -> Place:
    """Return the cell as seen from which a cell's formula is told: its own, or the one whose text it shares."""
    if view.formulas.get(place) or place not in view.shared:
        return place
    return view.masters.get(view.shared[place], place)


def reaches_others(view: View, place: Place) -> bool:
    """Whether a cell's formula totals other clubs than its own: a sum along its own row is a measure.

    Args:
        view: the sheet, so that clubs stand in rows [-].
        place: the cell in it [-].
    """
    text = formula_at(view, place)
    if len(text) > LONGEST_FORMULA:
        return True
    if not text or not _AGGREGATE.search(text):
        return False
    code = _TEXT.sub('""', text)
    if _WHOLE_COLUMN_OF_TABLE.search(code):
        return True
    own = _written_at(view, place)[0]
    spans = ((a.left, a.right) if view.sideways else (a.top, a.bottom) for a in ranges_in(code))
    return any(span != (own, own) for span in spans)


def ranges_in(code: str) -> Iterator[Area]:
    """Return the ranges of several cells on a formula's own sheet, its texts taken out."""
    for match in _RANGE.finditer(code):
        if match["sheet"]:
            continue
        if match["cells"]:
            first, last = (_ENDS.fullmatch(end) for end in match["cells"].split(":"))
            assert first is not None and last is not None  # the pattern holds them
            rows = sorted((int(first[4]), int(last[4])))
            columns = sorted((column_number(first[2].upper()), column_number(last[2].upper())))
            yield Area(rows[0], columns[0], rows[1], columns[1])
        elif match["columns"]:
            ends = sorted(column_number(end.strip("$").upper()) for end in match["columns"].split(":"))
            yield Area(1, ends[0], SHEET_ROWS, ends[1])
        else:
            lines = sorted(int(end.strip("$")) for end in match["rows"].split(":"))
            yield Area(lines[0], 1, lines[1], SHEET_COLUMNS)
