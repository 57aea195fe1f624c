"""What a host found out about the machine it runs on, for `evenheft doctor` to tell.

Each host has a function `findings() -> list[Finding]`; it looks, changes nothing and starts no program that a person
would see. `evenheft doctor` prints them all, host by host.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

_Level = Literal["ok", "note", "wrong"]
"""
"ok": it works. "note": nothing is broken, and the person may want to know or do something (a program that
is not installed, say). "wrong": something that should work does not.
"""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing found, in a builder's words, and what to do about it."""

    level: _Level
    what: str
    """What was found, one line, with no full stop: "LibreOffice 25.2.3 in /usr/lib/libreoffice"."""
    todo: str = ""
    """What to do about it, one line: a command to type or a setting to change. Needed unless the level is "ok"."""

    def __post_init__(self) -> None:
        if self.level != "ok" and not self.todo:
            raise ValueError(f"a finding that is not ok must say what to do: {self.what}")
