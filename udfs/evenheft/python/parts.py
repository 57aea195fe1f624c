"""A club's loose parts: one club in numbers, or a set in arrays with one element per club."""

from __future__ import annotations

from dataclasses import dataclass, fields
from math import isnan
from types import GenericAlias
from typing import TYPE_CHECKING, Any, Generic, overload

from evenheft.formulas.headed.rows import need_sound
from evenheft.formulas.headed.vocabulary import VOCABULARY
from evenheft.formulas.wording import DEFAULT_SCALE
from evenheft.mechanics import club
from evenheft.mechanics.units import G_CM2_PER_KG_CM2
from evenheft.ooxml.errors import Refused
from evenheft.python.numbers_or_arrays import is_array, plain, within

if TYPE_CHECKING:
    from evenheft.python.numbers_or_arrays import Array, Given, N

    class Parts(Generic[N]):
        """A club's parts as weighed and measured, or those of a whole set [g, cm, g cm2].

        What is left out is taken as docs/parts.md tells. Where any part is an array, the clubs made of them are arrays.

        Raises:
            ValueError: a part is out of bounds, or together they make no club: the line says which and why.
            TypeError: a part is no number.
        """

        head_mass: N
        club_length: N
        shaft_mass: N
        shaft_length: N
        shaft_balance: N | None
        tip_trim: N
        head_rise: N
        head_own: N
        bore_to_ground: N
        grip_cap: N
        grip_mass: N
        grip_balance: N
        tape_mass: N
        tape_from_butt: N
        ferrule_mass: N
        ferrule_above_tip: N
        epoxy_mass: N
        epoxy_above_tip: N
        adapter_mass: N
        adapter_above_tip: N
        tip_weight_mass: N
        tip_weight_above_tip: N
        butt_weight_mass: N
        butt_weight_from_butt: N
        lead_tape_mass: N
        lead_tape_rise: N | None
        extension_mass: N
        extension_length: N
        other_mass: N
        other_from_butt: N

        @overload
        def __init__(
            self: Parts[float],
            head_mass: float,
            club_length: float,
            shaft_mass: float,
            shaft_length: float,
            shaft_balance: float | None = ...,
            tip_trim: float = ...,
            head_rise: float = ...,
            head_own: float = ...,
            bore_to_ground: float = ...,
            grip_cap: float = ...,
            grip_mass: float = ...,
            grip_balance: float = ...,
            tape_mass: float = ...,
            tape_from_butt: float = ...,
            ferrule_mass: float = ...,
            ferrule_above_tip: float = ...,
            epoxy_mass: float = ...,
            epoxy_above_tip: float = ...,
            adapter_mass: float = ...,
            adapter_above_tip: float = ...,
            tip_weight_mass: float = ...,
            tip_weight_above_tip: float = ...,
            butt_weight_mass: float = ...,
            butt_weight_from_butt: float = ...,
            lead_tape_mass: float = ...,
            lead_tape_rise: float | None = ...,
            extension_mass: float = ...,
            extension_length: float = ...,
            other_mass: float = ...,
            other_from_butt: float = ...,
        ) -> None: ...
        @overload
        def __init__(
            self: Parts[Array],
            head_mass: Given,
            club_length: Given,
            shaft_mass: Given,
            shaft_length: Given,
            shaft_balance: Given | None = ...,
            tip_trim: Given = ...,
            head_rise: Given = ...,
            head_own: Given = ...,
            bore_to_ground: Given = ...,
            grip_cap: Given = ...,
            grip_mass: Given = ...,
            grip_balance: Given = ...,
            tape_mass: Given = ...,
            tape_from_butt: Given = ...,
            ferrule_mass: Given = ...,
            ferrule_above_tip: Given = ...,
            epoxy_mass: Given = ...,
            epoxy_above_tip: Given = ...,
            adapter_mass: Given = ...,
            adapter_above_tip: Given = ...,
            tip_weight_mass: Given = ...,
            tip_weight_above_tip: Given = ...,
            butt_weight_mass: Given = ...,
            butt_weight_from_butt: Given = ...,
            lead_tape_mass: Given = ...,
            lead_tape_rise: Given | None = ...,
            extension_mass: Given = ...,
            extension_length: Given = ...,
            other_mass: Given = ...,
            other_from_butt: Given = ...,
        ) -> None: ...
        def __init__(self, *given: Any, **named: Any) -> None: ...
else:

    @dataclass(frozen=True, slots=True)
    class Parts(club.Parts):
        """A club's parts as weighed and measured, or those of a whole set [g, cm, g cm2].

        What is left out is taken as docs/parts.md tells. Where any part is an array, the clubs made of them are arrays.

        Raises:
            ValueError: a part is out of bounds, or together they make no club: the line says which and why.
            TypeError: a part is no number.
        """

        __class_getitem__ = classmethod(GenericAlias)

        def __post_init__(self) -> None:
            for part in fields(self):
                value = getattr(self, part.name)
                if value is not None:
                    object.__setattr__(self, part.name, _read(part.name, value))
            _need_sound(self)


def _read(name: str, value: object) -> Any:
    """Take a part within the bounds that it has under a heading of a sheet."""
    headed = VOCABULARY[name]
    if headed.dimension != "inertia":
        return within(name, headed.kind, value)
    return within(name, headed.kind, plain(name, value) / G_CM2_PER_KG_CM2) * G_CM2_PER_KG_CM2


def _need_sound(parts: Any) -> None:
    """Refuse parts that make no club; of a set the first such club is told by its index."""
    for at, one in enumerate(one_by_one(parts)):
        if any(map(isnan, columns_of(one))):
            continue
        try:
            need_sound(one, DEFAULT_SCALE)
        except Refused as refused:
            raise Refused(f"element {at}: {refused}" if is_set(parts) else str(refused)) from None


def is_set(parts: Any) -> bool:
    """Tell whether any part is an array [-]."""
    return any(is_array(getattr(parts, part.name)) for part in fields(parts))


def columns_of(parts: Any) -> list[Any]:
    """List what is known of each part, numbers or arrays [g, cm, g cm2].

    Args:
        parts: one club's parts or a set's [g, cm, g cm2].
    """
    values = (getattr(parts, part.name) for part in fields(parts))
    return [value for value in values if value is not None]


def one_by_one(parts: Any, shape: tuple[int, ...] | None = None) -> list[club.Parts]:
    """Part a set into its clubs, in the order of the arrays' elements.

    Args:
        parts: one club's parts or a set's [g, cm, g cm2].
        shape: the set's, where something beside its parts has one [-].
    """
    columns = {part.name: getattr(parts, part.name) for part in fields(parts)}
    if shape is None and not is_set(parts):
        return [club.Parts(**columns)]
    import numpy as np

    given = {name: value for name, value in columns.items() if value is not None}
    arrays = np.broadcast_arrays(*given.values(), np.zeros(shape or ()))[:-1]
    return [
        club.Parts(**dict(zip(given, row, strict=True)))
        for row in zip(*(a.ravel().tolist() for a in arrays), strict=True)
    ]
