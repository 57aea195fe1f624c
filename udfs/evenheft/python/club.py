"""A club of its parts, or as the bench measured it: what it reads, how sure that is, and what to do about it."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from dataclasses import fields
from math import isnan, nan
from typing import TYPE_CHECKING, Any, Generic, overload

from evenheft.formulas.headed.dry_fit import taught_by
from evenheft.formulas.headed.rows import Row
from evenheft.mechanics import bodies, club, forecast_doubt
from evenheft.mechanics.bodies import Body
from evenheft.mechanics.forecast_doubt import Asked, Taught
from evenheft.mechanics.forecast_doubt import Doubts as Doubts
from evenheft.mechanics.length import lengthened
from evenheft.mechanics.swingweight import moment, points
from evenheft.mechanics.units import G_CM2_PER_KG_CM2
from evenheft.ooxml.errors import Refused
from evenheft.python import correction, judging, swingweight
from evenheft.python.numbers_or_arrays import N, as_in_a_cell, is_array, plain
from evenheft.python.parts import Parts, columns_of, is_set, one_by_one

if TYPE_CHECKING:
    from evenheft.python.numbers_or_arrays import Array, Given, Words

PART_NAMES = (
    "head", "shaft", "grip", "tape", "ferrule", "epoxy", "adapter", "tip weight", "butt weight", "lead tape",
    "extension", "other",
)  # fmt: skip
"""What `lacking` may name."""


class Club(Generic[N]):
    """A club, or a set of them where anything given was an array.

    `Club(parts)` forecasts it from its loose parts; `Club.measured(mass, balance, inertia)` takes what the bench says.

    >>> parts = Parts(head_mass=200, club_length=114.3, shaft_mass=65, shaft_length=117, grip_mass=50, epoxy_mass=3)
    >>> club = Club(parts)
    >>> club.mass, club.balance, club.points, club.label()
    (314.167, 85.7147, 33.0414, 'D3.0')
    """

    __slots__ = ("_body", "_swung", "lacking", "parts")

    parts: Parts[N] | None
    """The parts that it was forecast from; None where it was measured [g, cm, g cm2]."""
    lacking: tuple[str, ...]
    """Parts that are not on it [-]."""
    _body: Any

    def __init__(self, parts: Parts[N], lacking: Iterable[str] = ()) -> None:
        """Forecast a club, or a dry fit that lacks some parts.

        Args:
            parts: the club's parts, or a set's [g, cm, g cm2].
            lacking: names of `PART_NAMES` that are not on it yet [-].

        Raises:
            ValueError: `lacking` names no part.
        """
        self.parts = parts
        self.lacking = _names(lacking)
        self._body = club.forecast(_mechanics(parts), self.lacking)
        self._swung = True

    @overload
    @classmethod
    def measured(cls, mass: float, balance: float, inertia: float | None = ...) -> Club[float]: ...
    @overload
    @classmethod
    def measured(cls, mass: Given, balance: Given, inertia: Given | None = ...) -> Club[Array]: ...
    @classmethod
    def measured(cls, mass: Given, balance: Given, inertia: Given | None = None) -> Any:
        """Take a club as the bench says it is.

        Args:
            mass: mass of the club [g].
            balance: distance from the butt to the balance point [cm].
            inertia: moment of inertia about the butt, None where it was not swung [kg cm2].

        Raises:
            ValueError: out of bounds.

        >>> Club.measured(mass=395, balance=75.3).label()
        'D2.6'
        """
        swingweight.points(mass, balance)  # refuses what is out of bounds
        swung = None if inertia is None else plain("inertia", inertia)
        return _made(plain("mass", mass), plain("balance", balance), swung)

    @property
    def mass(self) -> N:
        """Mass [g]."""
        return self._body.mass

    @property
    def balance(self) -> N:
        """Distance from the butt to the balance point [cm]."""
        return self._body.centre

    @property
    def points(self) -> N:
        """Swingweight as a number [points]."""
        found: Any = points(moment(self._body.mass, self._body.centre))
        return found

    @property
    def inertia(self) -> N:
        """Moment of inertia about the butt [kg cm2]; raises ValueError for a measured club that was not swung."""
        if not self._swung:
            raise Refused("inertia is not known of a club that was weighed and balanced, but not swung")
        found: Any = bodies.inertia_about_butt(self._body)
        return found

    @overload
    def label(self: Club[float]) -> str: ...
    @overload
    def label(self: Club[Array]) -> Words: ...
    def label(self) -> Any:
        """Swingweight as the trade writes it, to a tenth of a point [-]; raises ValueError off A0 to G9.9."""
        return swingweight.label(self.points)

    def correction(self, target: N | float, position: N | float) -> N:
        """Mass to add at a place to reach a swingweight, negative to remove [g]; see `evenheft.correction`.

        Args:
            target: swingweight wanted [points].
            position: distance from the butt to the place [cm].

        >>> Club.measured(mass=395, balance=75.0).correction(target=32, position=94)
        0.802364
        """
        return correction.correction(target, self.mass, self.balance, position)

    def with_weight(self, grams: N | float, position: N | float) -> Club[N]:
        """Make the club that it is after mass is added at a place.

        Args:
            grams: mass added, negative for removed [g].
            position: distance from the butt to the place [cm].

        >>> Club.measured(mass=395, balance=75.3, inertia=2650).with_weight(2, position=94).inertia
        2667.67
        """
        added: Any = Body(plain("grams", grams), plain("position", position))
        return self._changed(bodies.combine([self._body, added]))

    def with_length(
        self, change: N | float, grip_mass: N | float, grip_balance: N | float, shaft_per_cm: N | float = 0.0
    ) -> Club[N]:
        """Make the club that it is after it is cut or extended at the butt: the grip keeps its place there.

        Args:
            change: how much longer it becomes, negative for a cut [cm].
            grip_mass: mass of the grip with its tape [g].
            grip_balance: distance from the butt to the grip's own balance [cm].
            shaft_per_cm: mass of a centimetre of shaft at the butt [g/cm].

        >>> Club.measured(mass=395, balance=75.3).with_length(1.27, grip_mass=50, grip_balance=11).points
        36.0453
        """
        grip: Any = Body(plain("grip_mass", grip_mass), plain("grip_balance", grip_balance))
        by, density = plain("change", change), plain("shaft_per_cm", shaft_per_cm)
        return self._changed(lengthened(self._body, grip, by, density))

    def _changed(self, body: Any) -> Any:
        return _made(body.mass, body.centre, bodies.inertia_about_butt(body) if self._swung else None)

    def doubt(
        self,
        of: Asked = "swingweight",
        known: Collection[str] = (),
        doubts: Doubts | None = None,
        *,
        taught: bool = False,
        rise_doubt: float | None = None,
    ) -> N:
        """Doubt U of a forecast: how far its swingweight, mass or inertia may be off [points, g or kg cm2].

        A measured club's is in `evenheft.doubt`. Answered club by club.

        Args:
            of: "swingweight", "mass" or "inertia" [-].
            known: names in `Parts` of what was weighed or measured for this very club; the rest is assumed [-].
            doubts: half-widths of the instruments and of what is assumed; the newcomer's where left out [g, cm].
            taught: whether a dry fit of such a head taught the head rise; otherwise it is a guess [-].
            rise_doubt: doubt U of that rise, None where one dry fit with these instruments taught it [cm].

        Raises:
            ValueError: the club was measured, or `known` names no part.

        Source: JCGM 100:2008 (GUM), 5.1.2 (clause number from memory): each half-width with its leverage.

        >>> parts = Parts(head_mass=200, club_length=114.3, shaft_mass=65, shaft_length=117, grip_mass=50, epoxy_mass=3)
        >>> Club(parts).doubt("swingweight", known=["head_mass", "shaft_mass", "grip_mass"])
        3.90505
        """
        if self.parts is None:
            raise Refused("doubt of a forecast needs its parts: evenheft.doubt tells that of a measured club")
        how = Taught(rise_doubt) if taught or rise_doubt is not None else None
        widths = Doubts() if doubts is None else doubts
        return _each(self.parts, lambda one: forecast_doubt.forecast_doubt(of, one, _known(known), widths, how))

    @overload
    def verdict(self: Club[float], target: float, tolerance: float, doubt: float = ...) -> str: ...
    @overload
    def verdict(self: Club[Array], target: Given, tolerance: Given, doubt: Given = ...) -> Words: ...
    def verdict(self, target: Given, tolerance: Given, doubt: Given = 0.0) -> Any:
        """Judge its swingweight: "in", "low", "high" or "re-measure" [-]; see `evenheft.verdict`.

        Args:
            target: swingweight wanted [points].
            tolerance: the deviation that is still accepted [points].
            doubt: doubt U of the swingweight [points].

        >>> Club.measured(mass=395, balance=75.3).verdict(target=32, tolerance=0.5, doubt=0.4)
        're-measure'
        """
        return judging.verdict(self.points, target, tolerance, doubt)

    def __repr__(self) -> str:
        inertia = f", inertia={self.inertia!r}" if self._swung else ""
        return f"<Club mass={self.mass!r}, balance={self.balance!r}{inertia}>"


def forecast(parts: Parts[N], lacking: Iterable[str] = ()) -> Club[N]:
    """Forecast a club from its loose parts, or a dry fit that lacks some; the same as `Club(parts, lacking)`.

    Args:
        parts: the club's parts, or a set's [g, cm, g cm2].
        lacking: names of parts that are not on it yet [-].

    Source: statics and the parallel-axis theorem; where each part sits is told in docs/parts.md.

    >>> parts = Parts(head_mass=200, club_length=114.3, shaft_mass=65, shaft_length=117, grip_mass=50, epoxy_mass=3)
    >>> forecast(parts, lacking=["epoxy"]).mass
    311.167
    """
    return Club(parts, lacking)


def head_rise(
    parts: Parts[N],
    mass: N | float,
    balance: N | float,
    lacking: Iterable[str] = (),
    known: Collection[str] = (),
    doubts: Doubts | None = None,
) -> N:
    """Solve for the head rise with which the forecast agrees with a dry fit [cm]. Answered club by club.

    Args:
        parts: the club's parts, or a set's [g, cm, g cm2].
        mass: mass of the dry fit [g].
        balance: distance from the butt to its balance point [cm].
        lacking: names of parts that are not on it [-].
        known: names in `Parts` of what was weighed or measured for this very club; the rest is assumed [-].
        doubts: half-widths of the instruments; the newcomer's where left out [g, cm].

    Raises:
        ValueError: it does not weigh what its parts do, or no head has its centre there.

    Source: statics, moments about the fulcrum, solved for the head's lever.

    >>> parts = Parts(head_mass=200, club_length=114.3, shaft_mass=65, shaft_length=117, grip_mass=50, epoxy_mass=3)
    >>> head_rise(parts, mass=311.2, balance=84.95, lacking=["epoxy"])
    1.83218
    """
    widths, missing = Doubts() if doubts is None else doubts, set(_names(lacking))

    def rise(one: club.Parts, weighed: float, balanced: float) -> float:
        row = Row(one, frozenset(), None, 0.0, frozenset(_known(known)), widths, None)
        return as_in_a_cell(taught_by, row, weighed, balanced, missing, []).rise

    return _each(parts, rise, plain("mass", mass), plain("balance", balance))


def head_mass(parts: Parts[N], target: N | float) -> N:
    """Mass of a head that brings the forecast to a swingweight [g]; its head mass in `parts` is not used.

    Args:
        parts: the club's parts, or a set's [g, cm, g cm2].
        target: swingweight wanted [points].

    Source: statics, moments about the fulcrum.

    >>> parts = Parts(head_mass=200, club_length=114.3, shaft_mass=65, shaft_length=117, grip_mass=50, epoxy_mass=3)
    >>> head_mass(parts, target=32)
    198.312
    """
    wanted: Any = plain("target", target)
    found: Any = club.head_mass(_mechanics(parts), wanted)
    return found


def _made(mass: Any, balance: Any, inertia: Any) -> Any:
    made: Any = object.__new__(Club)
    made.parts, made.lacking, made._swung = None, (), inertia is not None
    own = 0.0 if inertia is None else inertia * G_CM2_PER_KG_CM2 - mass * balance**2
    made._body = Body(mass, balance, own)
    return made


def _mechanics(parts: Any) -> club.Parts:
    """Return the parts as mechanics take them: they are a subclass, which their types for arrays hide."""
    held: club.Parts = parts
    return held


def _names(lacking: Iterable[str]) -> tuple[str, ...]:
    names = (lacking,) if isinstance(lacking, str) else tuple(lacking)
    unknown = [name for name in names if name not in PART_NAMES]
    if unknown:
        raise Refused(
            f"lacking must name {', '.join(PART_NAMES[:-1])} or {PART_NAMES[-1]}, got {', '.join(map(str, unknown))}"
        )
    return names


def _known(names: Collection[str]) -> Collection[str]:
    unknown = sorted(set(names) - {part.name for part in fields(club.Parts)})
    if unknown:
        raise Refused(f"known must name fields of Parts, got {', '.join(unknown)}")
    return names


def _each(parts: Any, value: Callable[..., float], *given: Any) -> Any:
    """Ask each club of a set, or the one that there is, with its own of what else is given."""

    def asked(one: club.Parts, *beside: float) -> float:
        unknown = isnan(sum(beside)) or any(map(isnan, columns_of(one)))
        return nan if unknown else value(one, *beside)

    if not (is_set(parts) or any(map(is_array, given))):
        return asked(one_by_one(parts)[0], *given)
    import numpy as np

    shape = np.broadcast_shapes(*(np.shape(column) for column in (*columns_of(parts), *given)))
    clubs, rows = one_by_one(parts, shape), (np.broadcast_to(column, shape).ravel().tolist() for column in given)
    return np.array([asked(*row) for row in zip(clubs, *rows, strict=True)]).reshape(shape)
