"""`evenheft demo --plan`: a plan brings in clubs that no correction of one club by itself could; LibreOffice agrees."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from click.testing import CliRunner

from calc_office import Calc, OpenBook
from evenheft.cli import main
from evenheft.mechanics.bodies import Body, combine, inertia_about_butt
from evenheft.mechanics.club import Parts, forecast
from evenheft.mechanics.pairing.plan import Plan, Planned, outline, plan_set
from evenheft.mechanics.pairing.problem import ClubToBuild, Shaft
from evenheft.mechanics.swingweight import moment, points
from evenheft.order.cells import OrderCells
from evenheft.order.layout import FIRST_ROW, FIX, PARTS, SET
from evenheft.order.report import open_order
from evenheft.shop.book.finding import VARIABLE
from evenheft.shop.plan_demo import BATCH_CLUBS, OTHER_GRIPS, corrected_only
from evenheft.shop.plan_order import OrderToPlan, order_to_plan


@pytest.fixture(autouse=True)
def _no_book_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(VARIABLE, raising=False)


@pytest.fixture(scope="module")
def order(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("demo")
    done = CliRunner().invoke(main, ["demo", "--plan", str(folder)])
    assert done.exit_code == 0, done.output
    return folder / "plan" / "demo-plan.xlsx"


@pytest.fixture(scope="module")
def read(order: Path) -> tuple[OrderToPlan, Plan]:
    given = order_to_plan(open_order(order), None)
    return given, plan_set(given.batch)


@pytest.fixture(scope="module")
def planned(order: Path) -> tuple[Path, str]:
    new = order.with_name("planned.xlsx")
    done = CliRunner().invoke(main, ["plan", str(order), "--to", str(new)])
    assert done.exit_code == 0, done.output
    return new, done.output


HELPLESS = ("4-iron", "5-iron", "Gap wedge")
"""The clubs that no correction of theirs alone brings in."""
MOST_LEAD = 30.0
"""More lead than this at one place no shop would put on a club [g]."""
LENGTH_TOLERANCE = 0.1
"""What the order accepts of a club's length [cm]."""


def is_in(club: ClubToBuild, points: Any, inertia: Any, longer: float = 0.0) -> bool:
    """Whether any of some readings of a club meets all that its order asks for."""
    off = {"points": points, "inertia": inertia}
    met = [np.abs(np.asarray(off[t.leading]) - t.wanted) <= t.tolerance for t in club.targets]
    return bool(np.logical_and.reduce(met).any()) and abs(longer) <= LENGTH_TOLERANCE + 1e-9


def read_with(parts: Parts, *added: Body) -> tuple[Any, Any]:
    body = combine([forecast(parts), *added])
    return points(moment(body.mass, body.centre)), inertia_about_butt(body)


def with_shaft(club: ClubToBuild, shaft: Shaft) -> Parts:
    return replace(club.parts, shaft_mass=shaft.mass, shaft_length=shaft.length, shaft_balance=shaft.balance)


def single_corrections(given: OrderToPlan, club: ClubToBuild) -> Iterator[str]:
    """Which corrections of a club alone bring it in, each tried through the club model."""
    batch = given.batch
    beside = {shaft.label: shaft for shaft in batch.shafts}
    lying = with_shaft(club, beside[club.laid_shaft or ""])
    assert [target.leading for target in club.targets] == ["points", "inertia"]
    for place in ("head", "butt"):
        pieces = [weight.mass for weight in batch.weights for _ in range(weight.count) if weight.place == place]
        for some in {sum(those) for many in (1, 2) for those in combinations(pieces, many)}:
            if is_in(club, *read_with(lying, Body(some, batch.position(club, place)))):
                yield f"{some} g of stock at the {place}"
    grams, places = np.meshgrid(np.arange(0.1, MOST_LEAD, 0.1), np.arange(0.0, club.parts.club_length, 0.25))
    if is_in(club, *read_with(lying, Body(grams, places))):
        yield "lead at some place"
    for tenths in range(-500, 501):  # of a millimetre: what is cut at the butt, or put on there
        longer = tenths / 100
        other = replace(lying, club_length=lying.club_length + longer)
        if is_in(club, *read_with(other), longer=longer):
            yield "another length"
    for grip in np.arange(20.0, 90.0, 0.5).tolist():  # the book's grips, and every other
        if is_in(club, *read_with(replace(lying, grip_mass=grip))):
            yield "another grip"
    lain = {one.laid_shaft for one in batch.clubs}
    for label, shaft in beside.items():
        if label not in lain and is_in(club, *read_with(with_shaft(club, shaft))):
            yield f"shaft {label}"


def test_the_plan_brings_in_what_no_single_correction_could(read: tuple[OrderToPlan, Plan]) -> None:
    given, plan = read
    assert plan.proven
    assert all(club.inside for club in plan.clubs)
    assert not any(club.inside for club in plan.as_it_stands)
    assert outline(plan.by_hand).inside < len(BATCH_CLUBS)
    helped = {club.label: set(single_corrections(given, club)) for club in given.batch.clubs}
    assert tuple(label for label, ways in helped.items() if not ways) == HELPLESS
    # The grips of the book are among those that were tried, and there is stock for both places.
    assert {weight.place for weight in given.batch.weights} == {"head", "butt"}
    assert all(20 <= mass < 90 for mass in (50.0, *(mass for _, mass in OTHER_GRIPS)))


def test_the_best_stock_weights_for_each_club_alone_bring_in_the_others_only(read: tuple[OrderToPlan, Plan]) -> None:
    given, _ = read
    alone = corrected_only(given)
    assert alone.proven
    assert tuple(club.club for club in alone.clubs if not club.inside) == HELPLESS


def test_what_the_trials_rest_on_is_what_the_order_says(order: Path, read: tuple[OrderToPlan, Plan]) -> None:
    given, _ = read
    cells = OrderCells(open_order(order).computed)
    for number, club in zip(given.numbers, given.batch.clubs, strict=True):
        assert cells.number("set", number, "length_goal") == pytest.approx(club.parts.club_length, abs=5e-4)
        assert cells.number("set", number, "length_tolerance") == pytest.approx(LENGTH_TOLERANCE)


def test_before_and_after_are_printed_and_kept_for_the_picture(
    read: tuple[OrderToPlan, Plan], planned: tuple[Path, str]
) -> None:
    (_, plan), (new, text) = read, planned
    cells = OrderCells(open_order(new).computed)
    for number, (before, after) in enumerate(zip(plan.as_it_stands, plan.clubs, strict=True), start=1):
        assert re.search(rf"{before.club}\W.*{before.shaft}\W", text), text
        drawn = [cells.number("fix", number, f"drawn_{key}", 4) for key in ("before", "after", "high", "low", "at")]
        assert drawn[:2] == pytest.approx([worst(club) for club in (before, after)], abs=2e-4)
        assert drawn[2:] == [1, -1, number]
        assert cells.text("parts", number, "shaft_number") == after.shaft
    assert cells.number("fix", len(BATCH_CLUBS) + 1, "drawn_at") is None


def worst(club: Planned) -> float:
    """A club's worst deviation, in tolerances."""
    return max((one.deviation / one.tolerance for one in club.readings), key=abs)


def need_as_promised(book: OpenBook, given: OrderToPlan, plan: Plan) -> None:
    """What LibreOffice computes is what was promised: the values, the verdicts of what is planned, the picture."""
    for number, club in zip(given.numbers, plan.clubs, strict=True):
        row = FIRST_ROW + number - 1
        then = "then_" if club.pieces else ""
        for reading, quantity in zip(club.readings, ("swingweight", "inertia"), strict=True):
            value = book.value("Fix", f"{FIX.letter(then + reading.leading)}{row}")
            assert value == pytest.approx(reading.value, abs=1e-3 if quantity == "inertia" else 1e-4)
            goal, tolerance = (book.value("Set", f"{SET.letter(f'{quantity}_{part}')}{row}")
                               for part in ("goal", "tolerance"))  # fmt: skip
            assert value - goal == pytest.approx(reading.deviation, abs=1e-3)
            assert (abs(value - goal) <= tolerance) == reading.inside
        assert book.value("Fix", f"{FIX.letter('drawn_after')}{row}") == pytest.approx(worst(club), abs=1e-3)
        verdict = book.value("Fix", f"{FIX.letter('then_verdict')}{row}")
        assert "high" not in verdict and "low" not in verdict


def test_libreoffice_agrees_with_every_number_of_the_planned_order(
    calc: Calc, read: tuple[OrderToPlan, Plan], planned: tuple[Path, str]
) -> None:
    new, _ = planned
    expected = OrderCells(open_order(new).computed)
    with calc.open(new) as book:
        book.calculate(everything=True)
        need_as_promised(book, *read)
        for table in (PARTS, FIX):
            for column in table.columns:
                for number in range(1, len(BATCH_CLUBS) + 1):
                    wanted = expected.raw(table.name, number, column.key)
                    found = book.value(table.sheet, f"{table.letter(column.key)}{FIRST_ROW + number - 1}")
                    if isinstance(wanted, float):
                        assert found == pytest.approx(wanted, rel=1e-9, abs=1e-9), (table.name, column.key, number)
                    elif isinstance(wanted, str):
                        assert found == wanted, (table.name, column.key, number)


def test_the_plan_typed_into_the_order_in_libreoffice_reads_what_was_promised(
    calc: Calc, order: Path, read: tuple[OrderToPlan, Plan]
) -> None:
    given, plan = read
    with calc.open(order) as book:
        for number, club in zip(given.numbers, plan.clubs, strict=True):
            row = FIRST_ROW + number - 1
            book.put("Parts", f"{PARTS.letter('shaft_number')}{row}", [[club.shaft]])
            for place in ("head", "butt"):
                if club.added(place):
                    book.put("Fix", f"{FIX.letter(f'{place}_added')}{row}", [[club.added(place)]])
        book.calculate(everything=True)
        need_as_promised(book, given, plan)


def test_two_demos_at_once_are_refused(tmp_path: Path) -> None:
    done = CliRunner().invoke(main, ["demo", "--year", "--plan", str(tmp_path)])
    assert (done.exit_code, done.output) == (2, "! --year and --plan are two demos: ask for one of them\n")
