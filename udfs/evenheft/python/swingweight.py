"""Swingweight: the moment of a club about 14 in from its butt, on the trade's scale."""

from __future__ import annotations

from typing import TYPE_CHECKING, overload

from evenheft.mechanics import swingweight as scale
from evenheft.mechanics.swingweight import FULCRUM
from evenheft.python.numbers_or_arrays import answer, typed

if TYPE_CHECKING:
    from evenheft.python.numbers_or_arrays import Array, Given, Words


@overload
def points(mass: float, balance: float) -> float: ...
@overload
def points(mass: Given, balance: Given) -> Array: ...
def points(mass: Given, balance: Given) -> float | Array:
    """Swingweight as a number [points].

    Args:
        mass: mass of the club [g].
        balance: distance from the butt to the balance point [cm].

    Raises:
        ValueError: out of bounds, or no club is so.

    Source: common practice, no published source: D0 = 213.5 in oz about 14 in, 1.75 in oz a point.

    >>> points(mass=395, balance=75.3)
    32.56827
    """
    return answer("HEFT_POINTS", {"mass": mass, "balance": balance}, _points)


def _points(mass: float, balance: float) -> float:
    return scale.points(scale.moment(mass, balance))


@overload
def swingweight(mass: float, balance: float) -> str: ...
@overload
def swingweight(mass: Given, balance: Given) -> Words: ...
def swingweight(mass: Given, balance: Given) -> str | Words:
    """Swingweight as the trade writes it, to a tenth of a point [-].

    Args:
        mass: mass of the club [g].
        balance: distance from the butt to the balance point [cm].

    Raises:
        ValueError: out of bounds, or off the scale A0 to G9.9.

    Source: common practice, no published source: D0 = 213.5 in oz about 14 in, 1.75 in oz a point.

    >>> swingweight(mass=395, balance=75.3)
    'D2.6'
    """
    return answer("HEFT_SWINGWEIGHT", {"mass": mass, "balance": balance})


@overload
def label(points: float) -> str: ...
@overload
def label(points: Given) -> Words: ...
def label(points: Given) -> str | Words:
    """Write a swingweight as the trade does, to a tenth of a point [-].

    Args:
        points: swingweight as a number, A0 = 0, D0 = 30 [points].

    Raises:
        ValueError: off the scale A0 to G9.9.

    Source: common practice, no published source: D0 = 213.5 in oz about 14 in, 1.75 in oz a point.

    >>> label(32.25)
    'D2.3'
    """
    return answer("HEFT_LABEL", {"points": points})


def from_label(label: str) -> float:
    """Read a swingweight label as a number [points]. One label only: arrays are not taken.

    Args:
        label: such as "D2", "d 2.5" or "D2 1/2" [-].

    Raises:
        ValueError: it is no label from A0 to G9.9.

    Source: common practice, no published source: D0 = 213.5 in oz about 14 in, 1.75 in oz a point.

    >>> from_label("D2 1/2")
    32.5
    """
    return typed("label", label, scale.points_from_label)


@overload
def moment(mass: float, balance: float, fulcrum: float = ...) -> float: ...
@overload
def moment(mass: Given, balance: Given, fulcrum: Given = ...) -> Array: ...
def moment(mass: Given, balance: Given, fulcrum: Given = FULCRUM) -> float | Array:
    """Moment of a club about a fulcrum [g cm].

    Args:
        mass: mass of the club [g].
        balance: distance from the butt to the balance point [cm].
        fulcrum: distance from the butt to the fulcrum of the scale [cm].

    Raises:
        ValueError: out of bounds, or no club is so.

    Source: statics, moment = force x arm.

    >>> moment(mass=430, balance=75.56)
    17200.0
    """
    return answer("HEFT_MOMENT", {"mass": mass, "balance": balance, "fulcrum": fulcrum}, scale.moment)


@overload
def moment_about(moment: float, mass: float, new_fulcrum: float, fulcrum: float = ...) -> float: ...
@overload
def moment_about(moment: Given, mass: Given, new_fulcrum: Given, fulcrum: Given = ...) -> Array: ...
def moment_about(moment: Given, mass: Given, new_fulcrum: Given, fulcrum: Given = FULCRUM) -> float | Array:
    """Carry a moment over to another fulcrum [g cm].

    Args:
        moment: moment about the fulcrum [g cm].
        mass: mass of the club [g].
        new_fulcrum: distance from the butt to the other fulcrum [cm].
        fulcrum: distance from the butt to the fulcrum of the scale [cm].

    Raises:
        ValueError: out of bounds, or no club is so.

    Source: statics, moment = force x arm.

    >>> moment_about(17200, mass=430, new_fulcrum=30.48)
    19384.4
    """
    return answer(
        "HEFT_MOMENT_ABOUT",
        {"moment": moment, "mass": mass, "new_fulcrum": new_fulcrum, "fulcrum": fulcrum},
        scale.moment_about,
    )
