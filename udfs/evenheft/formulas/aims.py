"""What is wanted of a club, quantity by quantity, and how a line tells what the club then reads."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from evenheft.formulas.answers import label_or_message
from evenheft.formulas.wording import PASSED_ON, Measured, Rough
from evenheft.mechanics import bodies, doubt, swingweight
from evenheft.mechanics.bodies import Body


@dataclass(frozen=True, slots=True)
class JudgedClub:
    """A club as it is or as it would be; how long it is where somebody knows."""

    body: Body
    length: float | None = None
    """Its length [cm]."""

    def weighted(self, grams: float, position: float) -> JudgedClub:
        """Return the club with mass [g] added at a place [cm], or taken off it: no longer and no shorter."""
        return replace(self, body=bodies.combine([self.body, Body(grams, position)]))

    def longer(self, body: Body, change: float) -> JudgedClub:
        """Return the club once it is longer by a change [cm], which gives it another body."""
        return JudgedClub(body, None if self.length is None else self.length + change)


Told = tuple[str, list[Measured]]
"""A line with {} where its values stand, and the values."""


@dataclass(frozen=True, slots=True)
class Aim:
    """What is wanted of one quantity of a club: swingweight, inertia, mass or length."""

    quantity: str
    target: float | None
    tolerance: float | None
    doubt: float = 0.0

    def value(self, club: JudgedClub) -> float | None:
        """Work out what a club reads [points, kg cm2, g or cm]; None where nobody knows."""
        body = club.body
        if self.quantity == "mass":
            return body.mass
        if self.quantity == "length":
            return club.length
        if self.quantity == "inertia":
            return bodies.inertia_about_butt(body)
        return swingweight.points(swingweight.moment(body.mass, body.centre))

    def verdict(self, club: JudgedClub) -> str:
        """Judge a club; "" where nothing is wanted of it or nobody knows what it reads."""
        value = self.value(club)
        if value is None or self.target is None or self.tolerance is None:
            return ""
        return doubt.verdict(value, self.target, self.tolerance, self.doubt)

    @property
    def is_always_told(self) -> bool:
        """Whether a line tells it anyhow: mass and length are told where they are not as wanted."""
        return self.quantity in ("swingweight", "inertia")

    def wrong(self, club: JudgedClub) -> str:
        """Say what is wrong about a club; "" where nothing is."""
        verdict = self.verdict(club)
        return {"in": "", "re-measure": "near the edge"}.get(verdict, verdict)

    def reading(self, club: JudgedClub) -> Told:
        """Write what a club reads, with what is wrong about it."""
        value = self.value(club)
        assert value is not None
        wrong = f" ({self.wrong(club)})" if self.wrong(club) else ""
        if self.quantity == "mass":
            return f"{{}}{wrong}", [Rough(value, "mass")]
        if self.quantity == "length":
            return f"{{}}{wrong}", [Rough(value, "length")]
        label = f"{value:.0f} kg cm2"
        if self.quantity == "swingweight":
            label = label_or_message(value)
            label = f"{value:.1f} points" if label.startswith(PASSED_ON) else label
        return label + wrong, []


def then_reads(club: JudgedClub, aims: Sequence[Aim], before: JudgedClub) -> str:
    """Write what a club will read: swingweight and inertia as asked for, of mass and length what will be wrong.

    Args:
        club: the club as it will be [g, cm, g cm2].
        aims: what is wanted of it, in the order of telling [-].
        before: the club as it is: what stays as it was is no part of what is done [g, cm, g cm2].
    """
    words = []
    for aim in aims:
        if aim.is_always_told:
            words.append(aim.reading(club)[0])
        elif aim.wrong(club) and aim.value(club) != aim.value(before):
            words.append(f"{aim.quantity} {aim.wrong(club)}")
    return ": then " + ", ".join(words)
