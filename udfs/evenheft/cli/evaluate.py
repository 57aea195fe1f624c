"""`evenheft eval`: one formula, one answer."""

from __future__ import annotations

import math

import click

from evenheft.cli.talk import refuse, say


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
        if isinstance(answer, float) and not math.isfinite(answer):
            refuse("the formula gives a number that no cell can hold")
    for row in rows:
        say("\t".join(map(_text, row)))


def _text(value: object) -> str:
    from evenheft.ooxml.text import plain_text
    from evenheft.ooxml.values import CellError

    if value is None:
        return ""
    if isinstance(value, bool):
        return "TRUE" if value else "FALSE"
    if isinstance(value, CellError):
        return plain_text(value)
    if isinstance(value, float) and abs(value) < 1e15 and value == int(value):
        return str(int(value))
    return plain_text(value)
