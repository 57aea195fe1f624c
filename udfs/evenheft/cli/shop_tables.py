"""How what is kept in the shop book looks in a terminal."""

from __future__ import annotations

from rich.text import Text

from evenheft.cli.tables import HarmlessTable as Table
from evenheft.cli.tables import console_for_tables
from evenheft.formulas.kinds import finite_number
from evenheft.ooxml.text import plain_text
from evenheft.shop.book.keeping import HandTyped, Keeping, Lesson
from evenheft.shop.book.taught import Known

_SHEETS = {
    "Fits": "what dry fits taught",
    "Orders": "finished clubs",
    "Used": "stock used",
    "Scale": "scale readings",
}


def print_plan(plan: Keeping, what: str) -> None:
    """Print what keeping or forgetting an order changes: a table of rows, the rises learnt, what a person typed."""
    console = console_for_tables()
    table = Table(title=Text(f"Order {plan.number}: what {what}"), title_justify="left")
    for heading in ("", "Sheet", "new", "changed", "as before", "taken out"):
        table.add_column(heading, justify="left" if heading in ("", "Sheet") else "right")
    for sheet, words in _SHEETS.items():
        fates = plan.rows.get(sheet, {})
        table.add_row(words, sheet, *(_count(fates.get(fate, 0)) for fate in ("new", "changed", "same", "gone")))
    console.print(table)
    if plan.lessons:
        console.print(_lessons(plan.lessons))
    for line in _used(plan):
        console.print(Text(line))
    for note in plan.notes:
        console.print(Text(f"Note: {note}"))
    for hand in plan.hand:
        console.print(Text(_hand(hand)))


def _count(number: int) -> Text:
    return Text(str(number) if number else "-")


def _lessons(lessons: list[Lesson]) -> Table:
    table = Table(title=Text("Head rise (cm), of the next head of each model"), title_justify="left")
    for heading in ("Model", "Club", "known", "then", "dry fits", "moves by"):
        table.add_column(heading, justify="left" if heading in ("Model", "Club") else "right")
    for lesson in lessons:
        head = lesson.after or lesson.before
        assert head is not None
        moved = "-"
        if lesson.before is not None and lesson.after is not None:
            moved = f"{round(lesson.after.rise - lesson.before.rise, 2) + 0.0:+.2f}"
        fits = str(lesson.after.fits if lesson.after else 0)
        table.add_row(*map(Text, (head.model, head.club, _known(lesson.before), _known(lesson.after), fits, moved)))
        if lesson.after is not None and lesson.after.apart:
            table.add_row(Text(""), Text(lesson.after.apart, style="bold yellow"))
    return table


def _known(known: Known | None) -> str:
    return "-" if known is None else f"{known.rise:.2f} ± {known.doubt:.2f}"


def _used(plan: Keeping) -> list[str]:
    """Sum up the stock that went into the order's clubs, a line for each kind."""
    shafts = [plain_text(row["shaft"]) for row in plan.used if row.get("shaft")]
    grips: dict[str, int] = {}
    weights: dict[str, float] = {}
    for row in plan.used:
        if row.get("grip"):
            grips[plain_text(row["grip"])] = grips.get(plain_text(row["grip"]), 0) + 1
        if row.get("size") is not None:
            name = f"{plain_text(row['size'])} g at the {plain_text(row.get('where'))}"
            weights[name] = weights.get(name, 0) + (finite_number(row.get("count")) or 0)
    return [
        f"{title}: {', '.join(lines)}"
        for title, lines in (
            ("Shafts used", shafts),
            ("Grips used", [f"{count} of {name}" for name, count in grips.items()]),
            ("Weights used", [f"{count:g} of {name}" for name, count in weights.items()]),
        )
        if lines
    ]


def _hand(hand: HandTyped) -> str:
    where = f"{hand.sheet}, row {hand.row}, {hand.heading}"
    held = plain_text(hand.held) or "(emptied)"
    if hand.left:
        return f'{where}: "{held}" was typed there by hand and stays; the order says "{plain_text(hand.kept)}"'
    return f'{where}: "{held}" was typed there by hand and gives way'
