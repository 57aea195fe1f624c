"""The edges of what arguments may be together: on the edge is refused or taken as the message says."""

from __future__ import annotations

import pytest

from evenheft.formulas.arguments import need_beyond_fulcrum, need_club_balance, need_swingweight_fulcrum
from evenheft.mechanics.swingweight import FULCRUM
from evenheft.ooxml.errors import Refused
from formula_answers import heft


def test_a_balance_on_the_fulcrum_is_no_clubs() -> None:
    with pytest.raises(Refused, match="must be more than"):
        need_club_balance(FULCRUM)
    with pytest.raises(Refused, match="must be beyond the fulcrum"):
        need_beyond_fulcrum(FULCRUM, FULCRUM)
    need_club_balance(FULCRUM + 0.01)
    need_beyond_fulcrum(FULCRUM + 0.01, FULCRUM)


def test_a_scale_may_pivot_half_a_centimetre_from_14_inches() -> None:
    need_swingweight_fulcrum(FULCRUM - 0.5)
    with pytest.raises(Refused, match="must be within"):
        need_swingweight_fulcrum(FULCRUM - 0.501)


def test_an_inertia_says_that_no_mass_lies_beyond_the_longest_club() -> None:
    # 395 g x 75.3 cm x 200 cm is 5,948.7 kg cm2.
    assert "! inertia must be at most" in str(heft("HEFT_AFTER", 395, 75.3, 2, 94, "inertia", None, 5949))
    assert isinstance(heft("HEFT_AFTER", 395, 75.3, 2, 94, "inertia", None, 5948), float | str)
