"""The reference of the formulas, written from the registry: `COMMAND` below makes docs/formulas.md."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterable

from evenheft.formulas.kinds import Level, Number, Quantity, UnitPair
from evenheft.formulas.registry import REGISTRY, Answer, Argument, Formula
from evenheft.formulas.wording import DEFAULT_SCALE, Measured, show
from evenheft.mechanics.units import DEFAULT_UNITS

COMMAND = "python -m evenheft.formulas.reference > docs/formulas.md"
FIRST, LAST = ("Swingweight", "Bench"), ("Tools",)
"""Categories that stand before and after the others, which keep the registry's order."""

INTRODUCTION = f"""\
# Formulas

<!-- Written from the registry by: {COMMAND} -->

Every formula works in every host: in LibreOffice Calc, in Excel on Windows, and in `evenheft eval` and
`evenheft check`, which need no spreadsheet program. `[square brackets]` mark arguments that may be left out.

What all of them have in common:

- **Units.** Plain numbers are grams and centimetres unless `units` says otherwise. A cell that carries its own unit
  as text keeps it: `44 1/2 in`, `44-1/2"`, `44½"`, `1.13 m`, `7.1 oz`, `75,3 cm`. Text that can be read in two ways
  (`1,130`) is refused, not guessed. Masses and lengths come back in the unit that went in; a moment is always g cm,
  an inertia always kg cm2. See the [glossary](glossary.md).
- **Blanks.** A blank required cell gives a blank answer, so that a row that is not filled in yet stays quiet.
- **Bad input.** What cannot be answered is told in one line that begins with `! ` and names the argument, what is
  accepted and what was given. Such a line passes through further formulas unchanged. There is never a silent wrong
  number.
- **Ranges.** Where a single cell is asked for, a range may be given: the answer is a range of that shape, row by row.
  Ranges in one call have equal shapes; one bad row does not spoil its neighbours. (`evenheft eval` and
  `evenheft check` fill at most 10,000 cells from one formula.)
- **Several numbers.** A formula that can tell several numbers gives the one that `what` names; without `what` they
  all come back side by side, as a row.

In LibreOffice Calc a comma between arguments is a semicolon, and a formula that answers with a range is entered as an
array formula (Ctrl+Shift+Enter).
"""


def reference() -> str:
    """Write the whole reference as Markdown."""
    parts = [INTRODUCTION, _contents()]
    for category in categories():
        parts.append(f"## {category}\n")
        parts += [_formula(formula) for formula in _of(category)]
    return "\n".join(parts)


def categories() -> list[str]:
    """List the categories in the order in which they are told."""
    found = list(dict.fromkeys(formula.category for formula in REGISTRY.values()))
    middle = [category for category in found if category not in FIRST + LAST]
    return [*(c for c in FIRST if c in found), *middle, *(c for c in LAST if c in found)]


def _of(category: str) -> Iterable[Formula]:
    return (formula for formula in REGISTRY.values() if formula.category == category)


def _contents() -> str:
    rows = [(category, ", ".join(f"[{f.name}](#{f.name.lower()})" for f in _of(category))) for category in categories()]
    return _table(("", "formulas"), rows)


def _formula(formula: Formula) -> str:
    parts = [f"### {formula.name}\n", f"`{formula.signature}`\n", f"{_plain(formula.help)}\n"]
    if formula.arguments:
        rows = [
            (f"`{a.name}`", _cell(_help(a)), _cell(_wanted(a)), _cell("required" if a.required else _default(a)))
            for a in formula.arguments
        ]
        parts.append(_table(("argument", "what it is", "accepted", "when left out"), rows))
    parts.append(f"Answers: {', '.join(map(_answer, formula.answers))}.\n")
    parts.append(_table(("example", "answer"), [(f"`{_cell(t)}`", f"`{_cell(a)}`") for t, a in formula.examples]))
    parts.append(f"Source: {_plain(formula.source)}\n")
    return "\n".join(parts)


def _help(argument: Argument) -> str:
    whole = {"cell": "", "range": " (a range)", "table": " (a range)", "row": " (a range of rows)"}[argument.takes]
    return _plain(argument.help) + whole


def _wanted(argument: Argument) -> str:
    return argument.kind.wanted.replace('"', "`") if isinstance(argument.kind, UnitPair) else argument.kind.wanted


def _default(argument: Argument) -> str:
    """Tell what an argument that is left out stands for, with its unit."""
    kind, default = argument.kind, argument.default
    if isinstance(kind, UnitPair):
        return f"`{DEFAULT_UNITS}`"
    if argument.name == "what":
        return "all, as a row"
    if default is None:
        return "not used"
    if isinstance(kind, Quantity):
        return Measured(default, kind.dimension).label(DEFAULT_SCALE)
    if isinstance(kind, Number):
        return f"{show(default)} {kind.unit}".rstrip()
    if isinstance(kind, Level):
        return show(default)
    return f"`{default}`" if isinstance(default, str) else show(default)


def _answer(answer: Answer) -> str:
    return f"{answer.name} [{answer.unit}]" if answer.unit else answer.name


def _table(head: tuple[str, ...], rows: Iterable[tuple[str, ...]]) -> str:
    lines = [head, ("---",) * len(head), *rows]
    return "".join(f"| {' | '.join(line)} |\n" for line in lines)


def _plain(text: str) -> str:
    """Text of the registry as Markdown shows it word for word."""
    return re.sub(r"([*<>\[\]])", r"\\\1", text)


def _cell(text: str) -> str:
    return text.replace("|", "\\|")


if __name__ == "__main__":
    sys.stdout.reconfigure(encoding="utf-8", newline="\n")  # type: ignore[union-attr]  # it is a text file
    sys.stdout.write(reference())
