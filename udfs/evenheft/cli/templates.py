"""`evenheft templates`: for contributors, the committed templates built anew from the layout."""

from __future__ import annotations

from pathlib import Path

import click

from evenheft.cli.talk import say


@click.command("templates")
@click.argument("folder", type=click.Path(path_type=Path, exists=True, file_okay=False), default="workbook_templates")
def templates_command(folder: Path) -> None:
    """Build the committed templates anew into FOLDER (for contributors; see DEVELOPERS.md)."""
    from evenheft.order.drawing.template import write_templates
    from evenheft.shop.book.drawing import write_book_template

    for path in (*write_templates(folder), write_book_template(folder)):
        say(f"built {path}")
