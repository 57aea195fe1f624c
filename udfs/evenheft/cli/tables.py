"""How a report looks in a terminal: a row per club, words first and colour second."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rich.console import Console, RenderableType
from rich.table import Table
from rich.text import Text

from evenheft.formulas.wording import PASSED_ON, show
from evenheft.ooxml.places import column_letter
from evenheft.ooxml.text import harmless
from evenheft.order.layout import QUANTITIES, JudgedQuantity
from evenheft.order.report import ClubReport, Judgement, OrderReport, decimals

if TYPE_CHECKING:
    from evenheft.order.plain.copy import Replaced
    from evenheft.order.supplier.received import Arrival
    from evenheft.shop.adopt import Adoption
    from evenheft.shop.table import ShopTable

STYLES = {"in": "green", "low": "bold blue", "high": "bold red", "re-measure": "bold yellow"}
_WIDE = 220
_ENDLESS = 10_000


class HarmlessTable(Table):
    """A table whose cells may hold whatever a stranger's file has put into them."""

    def add_row(self, *cells: RenderableType | None, **how: Any) -> None:
        """Add a row; what a terminal would obey is taken out of its cells."""
        super().add_row(*map(_harmless, cells), **how)


class HarmlessConsole(Console):
    """A console whose lines may hold whatever a stranger's file has put into them."""

    def print(self, *objects: Any, **how: Any) -> None:
        """Print texts without what a terminal would obey."""
        super().print(*map(_harmless, objects), **how)


def _harmless(cell: Any) -> Any:
    if isinstance(cell, Text):
        return Text(harmless(cell.plain), style=cell.style)
    return harmless(cell) if isinstance(cell, str) else cell


def print_report(report: OrderReport) -> None:
    """Print the clubs as a table, or a table per quantity where the terminal is narrow, and a closing line."""
    console = console_for_tables()
    for warning in (*report.warnings, *report.notices):
        console.print(Text(f"Note: {warning}"))
    if report.lost:
        console.print(Text(f"What cannot be followed: {report.lost}", style=STYLES["high"]))
    shown = [q for q in QUANTITIES if any(j.quantity == q.key for c in report.clubs for j in c.judgements)]
    together = _one_table(report, shown)
    unwrapped = console.measure(together, options=console.options.update(max_width=_ENDLESS)).maximum
    if not report.judged and not report.flagged:
        console.print(Text(_title(report), style="bold"))
    elif unwrapped <= console.width:
        console.print(together)
    else:
        for quantity in shown:
            console.print(_quantity_table(report, quantity))
        console.print(_flag_table(report))
    console.print(Text(_summary(report), style="bold"))
    for club in report.clubs:
        if club.flagged and club.advice not in ("", "nothing to do"):
            console.print(Text(f"{_name(club)}: {club.advice}"))
    for club in report.clubs:
        if club.lesson:
            console.print(Text(f"{_name(club)}, on Parts: {club.lesson}"))
    for club in report.forecast:
        text = club.forecast if club.forecast.startswith(PASSED_ON) else f"its parts will read {club.forecast}"
        advice = f"; {club.advice}" if club.advice else ""
        console.print(Text(f"{_name(club)}, not on the bench yet: {text}{advice}"))


def console_for_tables() -> Console:
    """Make a console as wide as the terminal, or as tables need where there is none."""
    console = HarmlessConsole(highlight=False)
    # A file or a pipe has no edge to wrap at.
    return console if console.is_terminal else HarmlessConsole(highlight=False, width=_WIDE)


def _one_table(report: OrderReport, shown: list[JudgedQuantity]) -> Table:
    """Every quantity beside the others: a row per club."""
    table = _table(_title(report))
    table.add_column("Club")
    for quantity in shown:
        table.add_column(f"{_heading(report, quantity)}\nvalue / target / deviation")
    table.add_column("Flagged")
    for club in report.clubs:
        by_key = {j.quantity: j for j in club.judgements}
        cells = [_cell(by_key.get(q.key), _digits(report, q)) for q in shown]
        table.add_row(_name(club), *cells, _flags(club))
    return table


def _quantity_table(report: OrderReport, quantity: JudgedQuantity) -> Table:
    """One quantity by itself, for a narrow terminal."""
    table = _table(_heading(report, quantity))
    for heading in ("Club", "Value", "Target", "Deviation", "Verdict"):
        table.add_column(heading)
    for club in report.clubs:
        for judgement in club.judgements:
            if judgement.quantity == quantity.key:
                table.add_row(_name(club), *_four(judgement, _digits(report, quantity)))
    return table


def _flag_table(report: OrderReport) -> Table:
    table = _table(_title(report))
    table.add_column("Club")
    table.add_column("Flagged")
    for club in report.clubs:
        table.add_row(_name(club), _flags(club))
    return table


def _table(title: str) -> Table:
    return HarmlessTable(title=title, title_justify="left", title_style="bold", header_style="bold")


def _name(club: ClubReport) -> str:
    return club.name or f"row {club.number}"


def _heading(report: OrderReport, quantity: JudgedQuantity) -> str:
    return quantity.name if quantity.key == "swingweight" else f"{quantity.name}, {dict(report.units)[quantity.key]}"


def _digits(report: OrderReport, quantity: JudgedQuantity) -> int:
    return decimals(quantity, dict(report.units)[quantity.key])


def _four(judgement: Judgement, digits: int) -> tuple[str, str, str, Text]:
    """Value, target, deviation and verdict as the tables show them."""
    verdict = Text(judgement.verdict, style=STYLES.get(judgement.verdict, "bold magenta"))
    if judgement.deviation is None:
        return "", judgement.target_shown, "", verdict
    deviation = round(judgement.deviation, digits) + 0.0  # adding nothing turns -0.0 into 0.0
    return judgement.shown, judgement.target_shown, f"{deviation:+.{digits}f}", verdict


def _title(report: OrderReport) -> str:
    return f"Order {report.number}" if report.number else report.name


def _cell(judgement: Judgement | None, digits: int) -> Text:
    if judgement is None:
        return Text("")
    *texts, verdict = _four(judgement, digits)
    return verdict if judgement.deviation is None else Text.assemble(" / ".join(texts), " ", verdict)


def _flags(club: ClubReport) -> Text:
    return Text(club.flags, style="bold" if club.flagged else "green")


def _summary(report: OrderReport) -> str:
    judged, flagged = len(report.judged), len(report.flagged)
    if not judged and not flagged:
        return "Nothing is judged yet."
    if not flagged:
        return f"All {judged} judged clubs are in." if judged != 1 else "The one judged club is in."
    return f"{flagged} of {max(judged, flagged)} judged clubs flagged."


def print_arrivals(found: tuple[Arrival, ...], order: str) -> None:
    """Print what a supplier's file brings, a row per head."""
    console = console_for_tables()
    table = _table(f"Heads of order {order} (g)")
    for heading in ("Club", "Wanted", "Held now", "Came back", "Verdict", "To look at", "Supplier's note"):
        table.add_column(heading)
    for arrival in found:
        wanted = arrival.wanted
        word = arrival.verdict or "missing"
        table.add_row(
            Text(f"{wanted.number} {wanted.club}"),
            f"{wanted.mass:.1f} ± {wanted.tolerance:g}",
            _grams(arrival.old),
            Text(_grams(arrival.new), style="bold" if arrival.changes else ""),
            Text(word, style=STYLES.get(word, "bold magenta")),
            Text(arrival.problem),
            Text(show(arrival.remark) if arrival.remark else ""),
        )
    console.print(table)


def _grams(mass: float | None) -> str:
    return "" if mass is None else f"{mass:.1f}"


def print_adoption(adoption: Adoption) -> None:
    """Print what was understood of a shop's table, and what can be computed from it."""
    console = console_for_tables()
    table = adoption.table
    for note in adoption.notes:
        console.print(Text(f"Note: {note}"))
    columns = _table(f'Sheet "{adoption.sheet.name}", {table.called}: {_headed(table)}')
    line = {"rows": "Column", "columns": "Row", "cards": "Cell"}[table.layout]
    for heading in (line, "Heading", "Understood as", "Filled"):
        columns.add_column(heading)
    for column in table.columns:
        look = "bold yellow" if column.unsure else "" if column.quantity else "dim"
        columns.add_row(column.letter, Text(column.heading), Text(column.label, style=look), str(column.filled))
    console.print(columns)
    offers = _table("What can be computed")
    for heading in ("Name", "From", "Clubs", "To look at"):
        offers.add_column(heading)
    for offer in adoption.offers:
        messages = offer.messages(table)
        looked = [f"{table.one} {table.club_at(club)}: {text.removeprefix('! ')}" for club, text in messages[:2]]
        if len(messages) > len(looked):
            looked.append(f"and {len(messages) - len(looked)} more")
        said = f"is in {offer.there} already" if offer.there else "; ".join([*offer.lacking, *looked])
        sources = ", ".join(offer.sources)
        counted = "" if offer.lacking else str(offer.answered)
        offers.add_row(offer.key, Text(sources), counted, Text(said), style="" if offer.possible else "dim")
    console.print(offers)


def _headed(table: ShopTable) -> str:
    clubs = f"{len(table.rows)} club{'s' * (len(table.rows) > 1)}"
    if table.layout == "rows":
        return f"headings in row {' and '.join(map(str, table.heading_rows))}, {clubs}"
    if table.layout == "columns":
        return f"headings in column {' and '.join(map(column_letter, table.heading_rows))}, {clubs}"
    return f"{clubs} on job cards"


def print_replaced(replaced: tuple[Replaced, ...]) -> None:
    """Print what became of an order's HEFT_ formulas, by column."""
    console = console_for_tables()
    table = _table("HEFT_ formulas")
    for heading in ("Sheet", "Column", "Called", "Now a formula", "Now a value"):
        table.add_column(heading)
    columns: dict[tuple[str, int], list[Replaced]] = {}
    for cell in replaced:
        columns.setdefault((cell.sheet, cell.column), []).append(cell)
    for (sheet, column), cells in columns.items():
        called = dict.fromkeys(name for cell in cells for name in cell.functions)
        counts = [sum(bool(cell.formula) for cell in cells), sum(not cell.formula for cell in cells)]
        table.add_row(sheet, column_letter(column), ", ".join(called), *(str(n) if n else "" for n in counts))
    console.print(table)
