"""How a plan looks in a terminal: before and after per club, what it improves, how sure it is, what stays out."""

from __future__ import annotations

from evenheft.cli.tables import HarmlessTable, console_for_tables
from evenheft.cli.talk import say
from evenheft.formulas.headed.pairing import pieces_text
from evenheft.mechanics.pairing.plan import Outline, Plan, Planned, outline
from evenheft.mechanics.pairing.problem import Batch
from evenheft.mechanics.pairing.reasons import LEADING_UNITS, reasons
from evenheft.mechanics.swingweight import label


def print_plan(batch: Batch, plan: Plan) -> bool:
    """Print a plan, and tell whether every club is in.

    Args:
        batch: what was paired [g, cm].
        plan: its plan.
    """
    table = HarmlessTable(title="Plan", title_justify="left", title_style="bold", header_style="bold")
    for heading in ("Club", "Shaft", "Weights", "Will read", "Deviation", "Forecast's doubt", "Verdict", "Before"):
        table.add_column(heading)
    for planned, before in zip(plan.clubs, plan.as_it_stands, strict=True):
        table.add_row(
            planned.club,
            planned.shaft or "none",
            pieces_text(planned.pieces),
            *("\n".join(lines) for lines in _readings(planned)),
            "in" if planned.inside else "out" if planned.shaft is not None else "not built",
            _before(before),
        )
    console_for_tables().print(table)
    for name, clubs in (
        ("This plan", plan.clubs),
        ("The hand rule", plan.by_hand),
        ("As it stands", plan.as_it_stands),
    ):
        if any(club.shaft is not None for club in clubs):
            say(f"{name}: {_outline(outline(clubs), len(clubs))}")
    if not any(weight.count for weight in batch.weights):
        say("No stock weight is listed: this is what the shafts alone can do.")
    say(_proof(plan))
    found = reasons(batch, plan)
    for reason in found:
        remedies = f" Would bring it in: {'; or '.join(reason.remedies)}." if reason.remedies else ""
        say(f"{reason.club} stays out: {reason.why}.{remedies}")
    return not found


def _readings(planned: Planned) -> tuple[list[str], list[str], list[str]]:
    """Values, deviations and doubts of what leads, a line for each."""
    values, deviations, doubts = [], [], []
    for reading in planned.readings:
        digits = 2 if reading.leading == "points" else 1
        unit = LEADING_UNITS[reading.leading]
        values.append(_value(reading.value) if reading.leading == "points" else f"{reading.value:.{digits}f} {unit}")
        deviations.append(f"{round(reading.deviation, digits) + 0.0:+.{digits}f} {unit}")
        doubts.append(f"{reading.doubt:.{digits}f} {unit}")
    return values, deviations, doubts


def _value(points: float) -> str:
    """Return a swingweight by its label, by its number off the scale."""
    try:
        return label(points)
    except ValueError:
        return f"{points:.1f} points"


def _before(before: Planned) -> str:
    if before.shaft is None:
        return ""
    off = "; ".join(f"{round(r.deviation, 2) + 0.0:+.2f} {LEADING_UNITS[r.leading]}" for r in before.readings)
    return f"{before.shaft}: {off}"


def _outline(found: Outline, clubs: int) -> str:
    return (
        f"{found.inside} of {clubs} clubs in, worst deviation {found.worst:.2f} of its tolerance, "
        f"{found.added:g} g added in all."
    )


def _proof(plan: Plan) -> str:
    """Say how sure it is that nothing is better."""
    if plan.proven:
        return f"Proven: no plan brings more clubs in, none is closer, none as close adds less ({plan.seconds:.1f} s)."
    open_yet = [f"{p.stage} {p.value:g}, at best {p.bound:g}" for p in plan.proofs if not p.proven]
    return f"Not proven in {plan.seconds:.1f} s: {'; '.join(open_yet)}."
