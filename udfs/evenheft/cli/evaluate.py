"""`evenheft eval`: one formula, one answer."""

from __future__ import annotations

import click

from evenheft.cli.talk import refuse


@click.command("eval")
@click.argument("formula")
def eval_command(formula: str) -> None:
    """Compute one FORMULA as typed into a cell, e.g. evenheft eval "=HEFT_POINTS(431, 75.3)".

    A number is printed at full precision, a range as rows of cells with tabs between. A message
    from a formula, or an error value, goes to stderr with exit code 2.
    """
    from evenheft.hosts.embedded import evaluate
    from evenheft.ooxml.values import CellError

    answer = evaluate(formula)
    rows = answer if isinstance(answer, list) else [[answer]]
    if not isinstance(answer, list):
        if isinstance(answer, CellError):
            refuse(f"the formula gives {answer.code}")
        if isinstance(answer, str) and answer.startswith("! "):
            refuse(answer)
    for row in rows:
        click.echo("\t".join(map(_told, row)))


def _told(value: object) -> str:
    from evenheft.ooxml.values import CellError

    if value is None:
        return ""
    if isinstance(value, bool):
        return "TRUE" if value else "FALSE"
    if isinstance(value, CellError):
        return value.code
    if isinstance(value, float) and value == int(value) and abs(value) < 1e15:
        return str(int(value))
    return str(value)
