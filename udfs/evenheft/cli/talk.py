"""How commands talk: one clear line for what cannot be done, and the exit codes that scripts read."""

from __future__ import annotations

import sys
from typing import NoReturn

import click

ALL_IN = 0
UNREADABLE = 2
FLAGGED = 3


def refuse(line: str) -> NoReturn:
    """Print one line on stderr and end with exit code 2."""
    click.echo(line if line.startswith("! ") else f"! {line}", err=True)
    sys.exit(UNREADABLE)
