"""The one tree of errors: everything that Evenheft refuses, with a line for a builder."""

from __future__ import annotations

from typing import Any


class Refused(ValueError):  # noqa: N818  it is an answer, not a failure
    """Why something is not done, in one line for a builder; a caller can catch every refusal by this name."""

    def __init__(self, text: str, *values: object, suspect: tuple[Any, Any] | None = None) -> None:
        """Make a refusal.

        Args:
            text: the line, with {0}, {1} ... where values stand that a caller may tell in units of its own [-].
            values: those values; where there are none, the text is told as it is [-].
            suspect: one of them that may have been typed in another unit, and what it was read as [-].
        """
        super().__init__(text.format(*values) if values else text)
        self.text = text
        self.values = values
        self.suspect = suspect
