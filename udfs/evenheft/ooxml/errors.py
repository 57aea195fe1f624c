"""The one tree of errors: everything that Evenheft refuses, with a line for a builder."""

from __future__ import annotations


class Refused(ValueError):  # noqa: N818  it is an answer, not a failure
    """Why something is not done, in one line for a builder; a caller can catch every refusal by this name."""
