"""Text that is not ours, made fit to be shown: one line, nothing that a terminal would obey, not endless."""

from __future__ import annotations

from evenheft.ooxml.values import CellError

LONGEST_NAME = 60
"""Of a name from a stranger's file inside a message [characters]."""
LONGEST_WORD, CUT_WORD = 120, 80
"""What is longer than the first and has no blank is the path of a file: it is cut to the second [characters]."""

LONGEST_HELD = 32_767
"""What a cell can hold [characters]."""
LONGEST_LINE = 255
"""Of a message: a spreadsheet's function cannot answer with a longer text [characters]."""


def one_line(text: str, longest: int = LONGEST_LINE) -> str:
    r"""Return a text as one line without characters that a terminal would obey, cut where it is too long.

    >>> one_line("a\x1b[2J\nb\u202e"), one_line("12345678", longest=6)
    ('a [2J b', '123...')
    """
    line = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    return line if len(line) <= longest else f"{line[: longest - 3]}..."


def with_short_paths(line: str) -> str:
    """Cut the middle out of long paths, so that a line's reason still stands in it, and both ends of a path.

    >>> with_short_paths("/shop/" + "very-deep/" * 300 + "order.xlsx is no workbook")
    '/shop/very-deep/very-deep/very-deep/ve...ery-deep/very-deep/very-deep/order.xlsx is no workbook'
    """
    head = (CUT_WORD - 3) // 2
    tail = CUT_WORD - 3 - head
    words = (w if len(w) <= LONGEST_WORD else f"{w[:head]}...{w[-tail:]}" for w in line.split(" "))
    return " ".join(words)


def one_fitting_line(line: str, longest: int = LONGEST_LINE) -> str:
    """Return a text as one line, its middle cut out where it is too long: it ends with what can be done about it.

    >>> one_fitting_line("headings seen: " + "Mass, " * 90 + "; name a sheet with --sheet", longest=60)
    'headings seen: Mass, Mass, Mass, Ma...e a sheet with --sheet'
    """
    whole = with_short_paths(one_line(line, longest=LONGEST_HELD))
    if len(whole) <= longest:
        return whole
    tail = 2 * (longest - 3) // 5
    return f"{whole[: longest - 3 - tail]}...{whole[-tail:]}"


def is_fit(text: str) -> bool:
    r"""Tell whether a text can stand in a cell as it is: one line, not too long for a function's answer.

    >>> is_fit("D2.3"), is_fit("a\x1b[2J"), is_fit("a" * 256)
    (True, False, False)
    """
    return len(text) <= LONGEST_LINE and text.isprintable()


def harmless(text: str) -> str:
    r"""Return a text without characters that a terminal would obey; its lines, tabs and blanks stay.

    >>> harmless("a\x1b[2J  b\u202e")
    'a [2J  b '
    """
    return "".join(c if c.isprintable() or c in "\n\t" else " " for c in text)


def plain_text(value: object) -> str:
    r"""Return a stored value as one line of text without characters that a terminal would obey.

    >>> plain_text("a\x1b[2J\nb"), plain_text(7.0), plain_text(None)
    ('a [2J b', '7', '')
    """
    if value is None:
        return ""
    if isinstance(value, CellError):
        value = value.code
    if isinstance(value, float) and value == int(value):
        value = int(value)
    return one_line(str(value), longest=LONGEST_HELD)


def shown_name(name: str, longest: int = LONGEST_NAME) -> str:
    """Return a name from a file as a message may print it: one short line without control characters."""
    plain = "".join(c if c.isprintable() else "?" for c in name)
    return plain if len(plain) <= longest else f"{plain[: longest - 3]}..."
