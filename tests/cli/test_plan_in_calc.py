"""A plan typed into LibreOffice reads there what was promised, and gets the verdicts that were promised."""

from __future__ import annotations

import pytest

from calc_office import Calc
from evenheft.mechanics.pairing.plan import plan_set
from pairing_shops import shop

HEADINGS = ("Head mass (g)", "Club length (cm)", "Head rise (cm)", "Bore to ground (cm)", "Grip (g)", "Tape (g)",
            "Epoxy (g)", "Shaft mass (g)", "Shaft length (cm)", "Shaft balance (cm)", "Lead tape (g)",
            "Lead tape rise (cm)", "Butt weight (g)", "Butt weight from butt (cm)")  # fmt: skip


@pytest.mark.parametrize(("tolerance", "every_club"), [(5.0, True), (0.05, False)])
def test_libreoffice_agrees_with_every_number_of_a_plan(calc: Calc, tolerance: float, every_club: bool) -> None:
    batch = shop(
        clubs=7, shafts=10, sizes=5, seed=6, tolerance=tolerance, inertia=80 * tolerance, butt=(5.0, 10.0), count=2
    )
    plan = plan_set(batch)
    assert all(club.inside for club in plan.clubs) == every_club
    shafts = {shaft.label: shaft for shaft in batch.shafts}
    with calc.open() as book:
        sheet = book.sheets()[0]
        book.put(sheet, "A1:N1", [list(HEADINGS)])
        for row, (club, planned) in enumerate(zip(batch.clubs, plan.clubs, strict=True), start=2):
            parts, shaft = club.parts, shafts[str(planned.shaft)]
            cells = [parts.head_mass, parts.club_length, parts.head_rise, parts.bore_to_ground, parts.grip_mass,
                     parts.tape_mass, parts.epoxy_mass, shaft.mass, shaft.length, shaft.balance,
                     planned.added("head"), batch.head_weight_rise, planned.added("butt"),
                     batch.butt_weight_from_butt]  # fmt: skip
            book.put(sheet, f"A{row}:N{row}", [cells])
            book.type(sheet, f"P{row}", f'=HEFT_CLUB($A$1:$N$1;$A{row}:$N{row};"points")')
            book.type(sheet, f"Q{row}", f'=HEFT_CLUB($A$1:$N$1;$A{row}:$N{row};"inertia")')
            points, inertia = club.targets
            book.type(sheet, f"R{row}", f"=HEFT_VERDICT(P{row};{points.wanted!r};{points.tolerance!r})")
            book.type(sheet, f"S{row}", f"=HEFT_VERDICT(Q{row};{inertia.wanted!r};{inertia.tolerance!r})")
        for row, planned in enumerate(plan.clubs, start=2):
            points, inertia, *said = book.read(sheet, f"P{row}:S{row}")[0]
            assert (points, inertia) == pytest.approx([reading.value for reading in planned.readings], abs=1e-9)
            assert [word == "in" for word in said] == [reading.inside for reading in planned.readings]
