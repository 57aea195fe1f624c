"""The stage at which a club was measured, and which of its numbers count."""

import pytest

from evenheft.formulas import REGISTRY, call

MEASURED = {"dry fit": (421.2, 72.1), "finished": (424.8, 71.95), "after Fix": ("15.1 oz", "28 1/2 in")}


@pytest.mark.parametrize("last", list(MEASURED))
def test_the_last_stage_that_was_measured_counts(last: str) -> None:
    given: list[object] = []
    for stage, pair in MEASURED.items():
        given += pair
        if stage == last:
            break
    given += [None] * (6 - len(given))
    mass, balance = MEASURED[last]
    assert call(REGISTRY["HEFT_STAGE"], given) == ((last, mass, balance, ""),)


@pytest.mark.parametrize(("pair", "missing"), [((424.8, None), "balance"), ((None, 71.95), "mass")])
def test_half_a_measurement_says_what_is_missing(pair: tuple[object, object], missing: str) -> None:
    given = [*MEASURED["dry fit"], *pair, None, None, "missing"]
    assert call(REGISTRY["HEFT_STAGE"], given) == missing


def test_an_earlier_stage_can_be_asked_for_and_a_blank_one_is_blank() -> None:
    given = [*MEASURED["dry fit"], *MEASURED["finished"], None, None]
    assert call(REGISTRY["HEFT_STAGE"], [*given, "mass", "dry fit"]) == 421.2
    assert call(REGISTRY["HEFT_STAGE"], [*given, "mass", "after Fix"]) == ""
    assert call(REGISTRY["HEFT_STAGE"], [None] * 6 + ["stage"]) == ""


def test_a_range_of_two_cells_is_no_mass() -> None:
    refused = "! each mass and each balance must be one cell"
    assert call(REGISTRY["HEFT_STAGE"], [[[421.2], [424.8]], 72.1, None, None, None, None]) == refused
    assert call(REGISTRY["HEFT_STAGE"], [421.2, [[72.1, 71.95]], None, None, None, None]) == refused
