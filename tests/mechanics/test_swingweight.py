"""Swingweight: the trade's scale (common practice, no published source), and its labels."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenheft.mechanics import swingweight
from evenheft.mechanics.swingweight import label, moment, moment_at, points, points_from_label

G_CM_PER_IN_OZ = 28.349523125 * 2.54  # exact by definition, NIST SP 811 (2008), B.8

masses = st.floats(min_value=50, max_value=2000)
balances = st.floats(min_value=36, max_value=200)
levels = st.floats(min_value=-200, max_value=300)


@pytest.mark.parametrize(
    ("inch_ounces", "on_the_scale"),
    # Common practice, no published source, from memory: D0 is 213.5 in oz about 14 in; a point is 1.75 in oz.
    [(213.5, 30.0), (161.0, 0.0), (178.5, 10.0), (196.0, 20.0), (231.0, 40.0), (217.0, 32.0)],
)
def test_the_trades_scale(inch_ounces: float, on_the_scale: float) -> None:
    assert points(inch_ounces * G_CM_PER_IN_OZ) == pytest.approx(on_the_scale, abs=1e-12)


def test_two_grams_at_the_head_are_about_a_point() -> None:
    # Rule of thumb, common practice, no published source: 2 g at the head (here 110 cm out) is about one point.
    assert 0.9 < 2 * (110 - swingweight.FULCRUM) / swingweight.POINT < 1.3


def test_a_point_and_the_fulcrum() -> None:
    assert pytest.approx(126.01, abs=0.005) == swingweight.POINT
    assert swingweight.FULCRUM == 35.56


@pytest.mark.parametrize(
    ("number", "text"),
    [
        (0.0, "A0.0"), (9.94, "A9.9"), (9.95, "B0.0"), (29.96, "D0.0"), (32.0, "D2.0"), (32.25, "D2.3"),
        (32.249, "D2.2"), (32.35, "D2.4"), (0.05, "A0.1"), (69.9, "G9.9"), (69.94, "G9.9"), (-0.04, "A0.0"),
    ],
)  # fmt: skip
def test_labels_round_first_and_split_after(number: float, text: str) -> None:
    assert label(number) == text


@pytest.mark.parametrize("number", [-0.06, -30.0, 69.96, 1e6])
def test_a_number_off_the_scale_has_no_label(number: float) -> None:
    with pytest.raises(ValueError, match="off the scale"):
        label(number)


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("D2", 32.0), ("d 2.5", 32.5), ("D2 1/2", 32.5), ("D2½", 32.5), ("D2-1/2", 32.5), ("D2,5", 32.5),
        (" C9.9 ", 29.9), ("A0", 0.0), ("G9.9", 69.9), ("e 0", 40.0), ("D.5", 30.5),
    ],
)  # fmt: skip
def test_labels_as_a_shop_writes_them(text: str, number: float) -> None:
    assert points_from_label(text) == pytest.approx(number, abs=1e-12)


@pytest.mark.parametrize("text", ["", "D", "2", "H2", "D10", "D-1", "DD2", "D2 g", "D2.5.1", "D1,500", "2D", "D²"])
def test_what_is_no_label_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="must be a label"):
        points_from_label(text)


@given(tenths=st.integers(0, 699))
def test_a_label_reads_back_as_the_number_it_was_made_from(tenths: int) -> None:
    assert points_from_label(label(tenths / 10)) == pytest.approx(tenths / 10, abs=1e-12)
    assert label(points_from_label(label(tenths / 10))) == label(tenths / 10)


@given(number=st.floats(min_value=0, max_value=69.9))
def test_a_label_lies_within_half_a_tenth_of_its_number(number: float) -> None:
    assert abs(points_from_label(label(number)) - number) <= 0.05 + 1e-9


@given(text=st.text(max_size=12) | st.from_regex(r"[A-Ha-h] ?[0-9.,/ ½-]{0,6}", fullmatch=True))
def test_any_text_is_a_label_on_the_scale_or_refused(text: str) -> None:
    try:
        assert 0 <= points_from_label(text) < 70
    except ValueError as error:
        assert str(error).startswith("must be a label")


@given(number=levels)
def test_points_and_moment_are_each_others_inverse(number: float) -> None:
    assert points(moment_at(number)) == pytest.approx(number, abs=1e-9)


@given(mass=masses, balance=balances, extra=st.floats(min_value=0.1, max_value=50), at=st.floats(36, 120))
def test_mass_added_beyond_the_fulcrum_raises_the_swingweight_by_its_own_moment(
    mass: float, balance: float, extra: float, at: float
) -> None:
    total = mass + extra
    together = moment(mass=total, balance=(mass * balance + extra * at) / total)
    assert together == pytest.approx(moment(mass=mass, balance=balance) + moment(mass=extra, balance=at), rel=1e-9)


@given(rows=st.lists(st.tuples(masses, balances), min_size=1, max_size=8))
def test_arrays_and_single_numbers_agree(rows: list[tuple[float, float]]) -> None:
    mass, balance = np.array(rows).T
    of_arrays = points(moment(mass, balance))  # type: ignore[arg-type]
    for found, (one_mass, one_balance) in zip(of_arrays, rows, strict=True):  # type: ignore[arg-type]
        assert found == points(moment(mass=one_mass, balance=one_balance))
