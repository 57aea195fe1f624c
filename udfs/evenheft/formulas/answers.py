"""Answers that several formulas share."""

from __future__ import annotations

from evenheft.formulas.registry import Answer
from evenheft.formulas.wording import PASSED_ON, show
from evenheft.mechanics import bodies, swingweight
from evenheft.mechanics.bodies import Body

READINGS = (
    Answer("mass", "mass unit", "mass"),
    Answer("balance", "length unit", "length"),
    Answer("points", "points"),
    Answer("swingweight", "label"),
    Answer("inertia", "kg cm2"),
)
"""What a club, or some of its parts together, reads on the bench."""


def readings(body: Body) -> tuple[float | str, ...]:
    """Compute the answers of `READINGS`: mass [g], balance [cm], points, swingweight, inertia [kg cm2]."""
    points = swingweight.points(swingweight.moment(body.mass, body.centre))
    return body.mass, body.centre, points, label_or_message(points), bodies.inertia_about_butt(body)


def label_or_message(points: float) -> str:
    """Swingweight label of a number [points], or the message that it has none, for one answer among several."""
    try:
        return swingweight.label(points)
    except ValueError:
        return f"{PASSED_ON}{off_the_scale(points)}"


def off_the_scale(points: float) -> str:
    """Why a number [points] has no label."""
    return f"points must be from 0 to 69.9 (A0 to G9.9) to have a label, got {show(points)}"
