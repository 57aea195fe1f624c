"""The door: one thin command each, loaded only when it is called.

A command's module is named in `COMMANDS`; importing this package imports none of them, so
that `evenheft --version` and `evenheft --help` answer at once.
"""

from __future__ import annotations

import contextlib
import errno
import importlib
import sys
from collections.abc import Iterator
from typing import Any

import click

from evenheft import __version__
from evenheft.cli.progress import say_while_working
from evenheft.cli.talk import (
    finish_printing,
    refuse,
    refuse_unprinted,
    refuse_unreachable,
    speak_any_script,
    stand_in_for_closed_streams,
)
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.text import LONGEST_LINE, one_fitting_line

COMMANDS: dict[str, tuple[str, str]] = {
    "demo": ("order", "Write an invented order, check it, and say what to open next."),
    "new": ("order", "Write an empty order workbook to fill in."),
    "check": ("order", "Recompute an order and print each club's verdicts."),
    "card": ("card", "Print the bench card of an order into a PDF."),
    "plan": ("plan", "Plan which shaft and which weights go to which head, proven best."),
    "shop": ("shop", "The shop book: what outlives an order, kept once however often it is run."),
    "share": ("sharing", "Write a workbook for a supplier with nothing private in it."),
    "receive": ("sharing", "Take the masses that a supplier filled in."),
    "adopt": ("adopt", "Add formulas to a copy of the sheet that the shop already has."),
    "eval": ("evaluate", "Compute one formula, as typed into a cell."),
    "calc": ("calc", "Build, install or remove the add-in for LibreOffice Calc."),
    "excel": ("excel", "Serve the formulas to Excel on Windows: build, install, embed, relink, remove."),
    "doctor": ("doctor", "Tell what is wrong on this machine, and what to do."),
    "templates": ("templates", "Build the committed templates anew (for contributors)."),
}
"""Each command's module in this package, and its line in the help."""


_BEFORE_A_COMPLAINT = "Error: "
"""What click writes before it."""
_NO_MEMORY = "this needs more memory than the machine has free"


@contextlib.contextmanager
def _short_complaints() -> Iterator[None]:
    """Make one line of what click says of an option or an argument, which may hold all that was typed."""
    try:
        yield
    except click.UsageError as wrong:
        raise click.UsageError(
            one_fitting_line(wrong.format_message(), LONGEST_LINE - len(_BEFORE_A_COMPLAINT)), wrong.ctx
        ) from None


class Door(click.Group):
    """A group whose commands are imported when they are called."""

    def invoke(self, ctx: click.Context) -> object:
        """Run the command; whatever is refused anywhere in the house is told here, in one line."""
        speak_any_script()
        try:
            with say_while_working("evenheft"), _short_complaints():
                answer = super().invoke(ctx)
        except Refused as reason:
            refuse(str(reason))
        except MemoryError:
            refuse(_NO_MEMORY)
        except ImportError as error:
            if "failed to map segment" not in str(error) and "allocate memory" not in str(error):
                raise
            refuse(_NO_MEMORY)
        finally:
            finish_printing()
        return answer

    def main(self, *args: Any, **extra: Any) -> Any:
        """Be called from a shell; a full disk or a path that cannot be used is told here, for help and version too."""
        stand_in_for_closed_streams()
        try:
            return super().main(*args, **extra)
        except OSError as error:
            if error.errno == errno.ENOSPC:
                refuse_unprinted(error)
            if error.filename is not None:
                refuse_unreachable(error)
            raise

    def make_context(self, *args: Any, **extra: Any) -> click.Context:
        """Read what was typed; of what is wrong with it no more is shown than a line holds."""
        with _short_complaints():
            return super().make_context(*args, **extra)

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002  click's signature
        """List the commands in the order in which a job needs them."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        """Import a command's module and return the command."""
        if cmd_name not in COMMANDS:
            return None
        module = importlib.import_module(f"evenheft.cli.{COMMANDS[cmd_name][0]}")
        command: click.Command = getattr(module, f"{cmd_name}_command")
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002
        """Write the commands' lines without importing the commands."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, line) for name, (_, line) in COMMANDS.items()])


@click.command(cls=Door, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="evenheft", message="%(prog)s %(version)s")
def main() -> None:
    """Swingweight, inertia and set matching for a club builder's spreadsheet.

    Start with `evenheft demo`: it writes an invented order and checks it.
    """


def run() -> None:
    """Be the command that a shell has started: its process ends with it, whatever an engine is still busy with."""
    try:
        main()
    except SystemExit as end:
        if patience := sys.modules.get("evenheft.hosts.patience"):
            patience.end_process(end.code if isinstance(end.code, int) else int(bool(end.code)))
        raise
