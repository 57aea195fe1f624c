"""Text that is not ours, made fit to be shown: one line, nothing that a terminal would obey, not endless."""

from __future__ import annotations

from evenheft.ooxml.values import CellError

LONGEST_NAME = 60
"""Of a name from a stranger's file inside a message [characters]."""


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
    return " ".join("".join(c if c.isprintable() else " " for c in str(value)).split())


def shown_name(name: str, longest: int = LONGEST_NAME) -> str:
    """Return a name from a file as a message may print it: one short line without control characters."""
    plain = "".join(c if c.isprintable() else "?" for c in name)
    return plain if len(plain) <= longest else f"{plain[: longest - 3]}..."
