"""Additions and removals that leave no club, or that no shop makes."""

from __future__ import annotations

import pytest

from evenheft.formulas.changes import NEAREST, need_a_club_left, need_off_fulcrum
from evenheft.mechanics.swingweight import FULCRUM
from evenheft.ooxml.errors import Refused


def test_what_is_added_counts_upwards_and_what_is_taken_off_downwards() -> None:
    need_a_club_left(200.0, 100.0)
    need_a_club_left(200.0, -100.0)
    with pytest.raises(Refused) as heavy:
        need_a_club_left(1900.0, 200.0)
    assert str(heavy.value).startswith("the club would then weigh 2100 g, which is no club's mass: 200 g would have")
    with pytest.raises(Refused) as light:
        need_a_club_left(200.0, -190.0)
    assert str(light.value).startswith("the club would then weigh 10 g, which is no club's mass: -190 g would have")


def test_just_far_enough_from_the_fulcrum_is_far_enough() -> None:
    need_off_fulcrum(FULCRUM + NEAREST + 1e-9, FULCRUM)
    with pytest.raises(Refused, match="where added mass does nothing"):
        need_off_fulcrum(FULCRUM + NEAREST - 1e-9, FULCRUM)
