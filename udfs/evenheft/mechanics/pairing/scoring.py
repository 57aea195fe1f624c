"""What is compared of two plans, and how a stage of one is proven."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

ClubChoice = tuple[int, int]
"""A shaft's place in the batch, and a way to lay weights."""


@dataclass(frozen=True, slots=True)
class Proof:
    """How good a plan is at one stage, and how good any plan can be."""

    stage: str
    value: float
    """What was reached [clubs, tolerances, g or changes]."""
    bound: float
    """No plan that is as good at the stages before is better than this [the same unit]."""

    @property
    def proven(self) -> bool:
        """Whether it is the best there is."""
        return self.value == self.bound


@dataclass(frozen=True, slots=True)
class Score:
    """What is compared of two plans, in this order: fewer left out, fewer not built, less off, less added."""

    out: int
    """Clubs that are not in [-]."""
    left: int
    """Clubs without a shaft [-]."""
    worst: int
    """The worst deviation [billionths of tolerance]."""
    mass: int
    """Added mass [mg]."""

    @property
    def key(self) -> tuple[int, int, int, int]:
        """As it is compared."""
        return self.out, self.left, self.worst, self.mass


Report = Callable[[str, dict[int, ClubChoice], Score], None]
"""Is told what goes on: the stage in words, the best plan so far, its score."""
