"""What to do about a club: grams at a place or at two, another length, and an inertia about another axis."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, overload

from evenheft.formulas.arguments import CLUB_MASS
from evenheft.formulas.changes import MOST_AT_A_PLACE, NEAREST
from evenheft.mechanics import correction as statics
from evenheft.mechanics import inertia_correction as about_axes
from evenheft.mechanics.stock import MOST_PIECES, Picked
from evenheft.mechanics.stock import pick as pick_weights
from evenheft.mechanics.swingweight import FULCRUM
from evenheft.ooxml.errors import Refused
from evenheft.python.numbers_or_arrays import answer, one

if TYPE_CHECKING:
    from evenheft.python.numbers_or_arrays import Array, Given


@overload
def per_gram(position: float) -> float: ...
@overload
def per_gram(position: Given) -> Array: ...
def per_gram(position: Given) -> float | Array:
    """Tell what one gram adds to the swingweight at a place, negative towards the butt [points/g].

    Args:
        position: distance from the butt to the place [cm].

    Raises:
        ValueError: out of bounds, or no club is so.

    Source: statics, moments about the fulcrum.

    >>> per_gram(110)
    0.59073
    """
    return answer("HEFT_PER_GRAM", {"position": position}, statics.points_per_gram)


@overload
def correction(target: float, mass: float, balance: float, position: float) -> float: ...
@overload
def correction(target: Given, mass: Given, balance: Given, position: Given) -> Array: ...
def correction(target: Given, mass: Given, balance: Given, position: Given) -> float | Array:
    """Mass to add at a place to reach a swingweight, negative to remove [g].

    Args:
        target: swingweight wanted [points].
        mass: mass of the club [g].
        balance: distance from the butt to the balance point [cm].
        position: distance from the butt to the place [cm].

    Raises:
        ValueError: out of bounds, the place is at the fulcrum, or it would take more than a shop adds.

    Source: statics, moments about the fulcrum.

    >>> correction(target=32, mass=395, balance=75.0, position=94)
    0.802364
    """
    return answer(
        "HEFT_GRAMS_TO",
        {"target": target, "mass": mass, "balance": balance, "position": position},
        statics.grams_to,
        _sensible,
    )


def _sensible(_target: Any, mass: Any, _balance: Any, position: Any, found: Any) -> Any:
    left = mass + found
    club = (CLUB_MASS.low <= left) & (left <= CLUB_MASS.high)
    return (abs(position - FULCRUM) >= NEAREST) & (abs(found) <= MOST_AT_A_PLACE) & club


@overload
def inertia_correction(target: float, mass: float, balance: float, inertia: float, position: float) -> float: ...
@overload
def inertia_correction(target: Given, mass: Given, balance: Given, inertia: Given, position: Given) -> Array: ...
def inertia_correction(target: Given, mass: Given, balance: Given, inertia: Given, position: Given) -> float | Array:
    """Mass to add at a place to reach a moment of inertia, negative to remove [g].

    Args:
        target: moment of inertia wanted, about the butt [kg cm2].
        mass: mass of the club [g].
        balance: distance from the butt to the balance point [cm].
        inertia: moment of inertia about the butt [kg cm2].
        position: distance from the butt to the place [cm].

    Raises:
        ValueError: out of bounds, no club is so, or it would take more than a shop adds.

    Source: statics and the parallel-axis theorem, any handbook of mechanics.

    >>> inertia_correction(target=2700, mass=395, balance=75.3, inertia=2670, position=94)
    3.39520
    """
    return answer(
        "HEFT_GRAMS_TO_INERTIA",
        {"target": target, "mass": mass, "balance": balance, "inertia": inertia, "position": position},
    )


@overload
def two_weights(
    mass: float, balance: float, first_position: float, second_position: float, target: float, target_mass: float
) -> tuple[float, float]: ...
@overload
def two_weights(
    mass: Given, balance: Given, first_position: Given, second_position: Given, target: Given, target_mass: Given
) -> tuple[Array, Array]: ...
def two_weights(
    mass: Given, balance: Given, first_position: Given, second_position: Given, target: Given, target_mass: Given
) -> tuple[float, float] | tuple[Array, Array]:
    """Masses to add at two places to reach a swingweight and a total mass together [g, g].

    Args:
        mass: mass of the club [g].
        balance: distance from the butt to the balance point [cm].
        first_position: distance from the butt to the first place [cm].
        second_position: distance from the butt to the second place [cm].
        target: swingweight wanted [points].
        target_mass: mass wanted of the whole club [g].

    Raises:
        ValueError: out of bounds, or the places cannot do it.

    Source: statics, moments about the fulcrum.

    >>> two_weights(395, 75, first_position=110, second_position=3, target=32, target_mass=410)
    (5.00271, 9.99729)
    """
    return answer(
        "HEFT_TWO_WEIGHTS",
        {
            "mass": mass,
            "balance": balance,
            "first_position": first_position,
            "second_position": second_position,
            "target": target,
            "target_mass": target_mass,
        },
    )


@overload
def two_weights_inertia(
    mass: float,
    balance: float,
    inertia: float,
    first_position: float,
    second_position: float,
    target: float,
    target_inertia: float,
) -> tuple[float, float]: ...
@overload
def two_weights_inertia(
    mass: Given,
    balance: Given,
    inertia: Given,
    first_position: Given,
    second_position: Given,
    target: Given,
    target_inertia: Given,
) -> tuple[Array, Array]: ...
def two_weights_inertia(
    mass: Given,
    balance: Given,
    inertia: Given,
    first_position: Given,
    second_position: Given,
    target: Given,
    target_inertia: Given,
) -> tuple[float, float] | tuple[Array, Array]:
    """Masses to add at two places to reach a swingweight and a moment of inertia together [g, g].

    Args:
        mass: mass of the club [g].
        balance: distance from the butt to the balance point [cm].
        inertia: moment of inertia about the butt [kg cm2].
        first_position: distance from the butt to the first place [cm].
        second_position: distance from the butt to the second place [cm].
        target: swingweight wanted [points].
        target_inertia: moment of inertia wanted, about the butt [kg cm2].

    Raises:
        ValueError: out of bounds, or the places cannot do it.

    Source: statics and the parallel-axis theorem, any handbook of mechanics.

    >>> two_weights_inertia(395, 75.3, 2670, 94, 3, target=32, target_inertia=2700)
    (3.38677, 8.27803)
    """
    return answer(
        "HEFT_TWO_WEIGHTS_INERTIA",
        {
            "mass": mass,
            "balance": balance,
            "inertia": inertia,
            "first_position": first_position,
            "second_position": second_position,
            "target": target,
            "target_inertia": target_inertia,
        },
    )


@overload
def length_to(
    target: float, mass: float, balance: float, grip_mass: float, grip_balance: float, shaft_per_cm: float = ...
) -> float: ...
@overload
def length_to(
    target: Given, mass: Given, balance: Given, grip_mass: Given, grip_balance: Given, shaft_per_cm: Given = ...
) -> Array: ...
def length_to(
    target: Given, mass: Given, balance: Given, grip_mass: Given, grip_balance: Given, shaft_per_cm: Given = 0.0
) -> float | Array:
    """Change of length at the butt that reaches a swingweight, negative for a cut [cm].

    The grip keeps its place at the new butt. Found by bisection, element by element.

    Args:
        target: swingweight wanted [points].
        mass: mass of the club [g].
        balance: distance from the butt to the balance point [cm].
        grip_mass: mass of the grip with its tape [g].
        grip_balance: distance from the butt to the grip's own balance [cm].
        shaft_per_cm: mass of a centimetre of shaft at the butt [g/cm].

    Raises:
        ValueError: out of bounds, or no change that a builder makes does it.

    Source: statics, moments about the fulcrum.

    >>> length_to(target=34, mass=395, balance=75.3, grip_mass=50, grip_balance=11, shaft_per_cm=0.6)
    0.557134
    """
    return answer(
        "HEFT_LENGTH_TO",
        {
            "target": target,
            "mass": mass,
            "balance": balance,
            "grip_mass": grip_mass,
            "grip_balance": grip_balance,
            "shaft_per_cm": shaft_per_cm,
        },
    )


@overload
def inertia_about(inertia: float, mass: float, balance: float, new_axis: float, axis: float = ...) -> float: ...
@overload
def inertia_about(inertia: Given, mass: Given, balance: Given, new_axis: Given, axis: Given = ...) -> Array: ...
def inertia_about(inertia: Given, mass: Given, balance: Given, new_axis: Given, axis: Given = 0.0) -> float | Array:
    """Moment of inertia about another axis across the shaft [kg cm2].

    Args:
        inertia: moment of inertia about the axis [kg cm2].
        mass: mass of the club [g].
        balance: distance from the butt to the balance point [cm].
        new_axis: distance from the butt to the new axis, negative beyond the butt [cm].
        axis: distance from the butt to the axis that the given inertia holds for [cm].

    Raises:
        ValueError: out of bounds, or no club is so.

    Source: parallel-axis theorem, any handbook of mechanics.

    >>> inertia_about(2667.23, mass=395, balance=75.3, new_axis=-10)
    3301.6
    """
    return answer(
        "HEFT_INERTIA_ABOUT",
        {"inertia": inertia, "mass": mass, "balance": balance, "new_axis": new_axis, "axis": axis},
        about_axes.inertia_about,
        _has_inertia,
    )


def _has_inertia(_inertia: Any, mass: Any, balance: Any, _new_axis: Any, axis: Any, _found: Any) -> Any:
    return about_axes.inertia_about(0.0, mass, balance, axis, balance) <= _inertia


def pick(grams: float, stock: Sequence[float], most: int = 1, counts: Sequence[float | None] = ()) -> Picked:
    """Choose stock weights that come closest to what is wanted [g]. One club only: arrays of grams are not taken.

    Args:
        grams: mass wanted [g].
        stock: the sizes at hand [g].
        most: pieces at most, up to 4 [-].
        counts: how many of each size are there, None for one that nobody has counted [-].

    Raises:
        ValueError: more pieces are asked for than have room at one place.

    Source: every combination; of equally close ones the fewest pieces, then the lighter sum.

    >>> pick(9, [2, 4, 6], most=2)
    Picked(pieces=(4.0, 4.0), total=8.0)
    """
    if not 1 <= most <= MOST_PIECES:
        raise Refused(f"most must be from 1 to {MOST_PIECES}, got {most}")
    return pick_weights(one("grams", grams), [one("stock", size) for size in stock], most, counts)
