"""Values as this file format writes them into a cell."""

from __future__ import annotations

import datetime
import math
import re
from collections.abc import Callable
from typing import NoReturn

from evenheft.ooxml.values import CellError, Written

LONGEST_TEXT = 32_767
"""What a cell of this file format can hold [characters]."""
_ERRORS = ("#NULL!", "#DIV/0!", "#VALUE!", "#REF!", "#NAME?", "#NUM!", "#N/A")
_ESCAPED = re.compile(r"_x(?=[0-9A-Fa-f]{4}_)")
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\ufffe\uffff]")
_BARRED = re.compile(r"[\ud800-\udfff]")


class ValueWriter:
    """Writes values for the cells of one sheet."""

    def __init__(self, prefix: bytes, *, epoch_1904: bool, refuse: Callable[[str], NoReturn]) -> None:
        """Remember how the sheet writes.

        Args:
            prefix: the namespace prefix of its elements, with its colon [-].
            epoch_1904: whether the workbook counts its days from 1904 [-].
            refuse: raises Refused with a reason that goes on from the sheet's name [-].
        """
        self._prefix = prefix
        self._epoch_1904 = epoch_1904
        self._refuse = refuse

    def content(self, value: Written, where: str, *, computed: bool) -> tuple[bytes, bytes]:
        """Return the cell's type and the element that holds its value."""
        if value is None:
            return b"", b""
        if isinstance(value, str):
            if len(value) > LONGEST_TEXT:
                self._refuse(f"cannot hold {len(value)} characters in {where}")
            text = self.escaped(encoded(value))
            if computed:
                return b"str", self.value(text)
            p = self._prefix
            return b"inlineStr", b'<%bis><%bt xml:space="preserve">%b</%bt></%bis>' % (p, p, text, p, p)
        if isinstance(value, CellError):
            return b"e", self.value((value.code if value.code in _ERRORS else "#VALUE!").encode())
        if isinstance(value, bool):
            return b"b", self.value(b"1" if value else b"0")
        number = self.number(value)
        if not math.isfinite(number):
            self._refuse(f"cannot hold {number} in {where}")
        return b"", self.value(_number_text(number))

    def number(self, value: float | datetime.date | datetime.time | datetime.timedelta) -> float:
        """Return a number, or the days that a date or time counts as."""
        if isinstance(value, datetime.timedelta):
            return value / datetime.timedelta(days=1)
        if isinstance(value, datetime.time):
            clock = datetime.timedelta(
                hours=value.hour, minutes=value.minute, seconds=value.second, microseconds=value.microsecond
            )
            return clock / datetime.timedelta(days=1)
        if isinstance(value, datetime.date):
            moment = value if isinstance(value, datetime.datetime) else datetime.datetime(*value.timetuple()[:3])
            # The 1900 count has a 29 February 1900 that never was: right from March 1900 on.
            first = datetime.datetime(1904, 1, 1) if self._epoch_1904 else datetime.datetime(1899, 12, 30)
            return (moment.replace(tzinfo=None) - first) / datetime.timedelta(days=1)
        return float(value)

    def value(self, text: bytes) -> bytes:
        """Return the element that holds a value's text."""
        return b"<%bv>%b</%bv>" % (self._prefix, text, self._prefix)

    def escaped(self, text: str) -> bytes:
        """Return a text as XML has it."""
        if _BARRED.search(text):
            self._refuse("cannot hold text that is not Unicode")
        return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;").encode()


def _number_text(number: float) -> bytes:
    whole = int(number)
    return str(whole).encode() if number == whole and abs(number) < 1e15 else repr(number).encode()


def encoded(text: str) -> str:
    """Return a text as this file format writes characters that XML cannot hold."""
    text = _ESCAPED.sub("_x005F_x", text)
    return _CONTROL.sub(lambda match: f"_x{ord(match[0]):04X}_", text)
