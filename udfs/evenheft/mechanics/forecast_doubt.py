"""How sure a forecast is: each half-width with its leverage, by propagation (JCGM 100:2008, 5.1.2; from memory).

A club's parts are weighed, measured, assumed or guessed. What each of them may be off moves the forecast; the
moves are found by moving each part by its half-width in turn, and combined as `doubt.combined_doubt` does.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, fields
from operator import attrgetter
from typing import Literal

from evenheft.mechanics.bodies import Body, inertia_about_butt
from evenheft.mechanics.club import (
    Parts,
    assemble,
    beside_head,
    butt_trim,
    finished,
    forecast,
    head_rise,
    rides_with_head,
    shaft_balance,
)
from evenheft.mechanics.doubt import combined_doubt
from evenheft.mechanics.swingweight import FULCRUM, POINT, moment, points
from evenheft.mechanics.units import G_CM2_PER_KG_CM2

GUESSED_SHARE = 0.1
"""How far a mass may be off that nobody weighed for this club, as a share of itself [-] (our own guess)."""
SHAFT_BALANCE_SHARE = 0.04
"""How far a shaft that nobody balanced may balance from its middle, as a share of its length [-] (our own guess)."""
TRIM_SHARE = 0.15
"""How far the mass of what is cut off a shaft may be off, as a share of it: no shaft is quite a straight line [-]."""
LEAST_UNEXPLAINED = 0.5
"""Grams that are never asked about: epoxy that ran out, a label, a trimmed ferrule [g]."""
_PLACES = {
    "grip_balance": "grip_mass", "tape_from_butt": "tape_mass", "ferrule_above_tip": "ferrule_mass",
    "epoxy_above_tip": "epoxy_mass", "adapter_above_tip": "adapter_mass", "tip_weight_above_tip": "tip_weight_mass",
    "butt_weight_from_butt": "butt_weight_mass", "lead_tape_rise": "lead_tape_mass", "other_from_butt": "other_mass",
}  # fmt: skip
"""Each part's place, by its name in `Parts`, and the mass that sits there."""
_MASSES = tuple(field.name for field in fields(Parts) if field.name.endswith("_mass"))
"""Each part's mass, by its name in `Parts`."""


@dataclass(frozen=True, slots=True)
class Doubts:
    """Half-widths of what is known of loose parts; the defaults are what docs/measuring.md has a newcomer write."""

    mass: float = 0.1
    """The gram scale [g]."""
    balance: float = 0.2
    """A balance point, of a club or of a shaft [cm]."""
    common_balance: float = 0.0
    """What shifts every balance point of a shop alike, such as its tape's zero [cm]."""
    length: float = 0.2
    """A length by the tape [cm]."""
    head_rise: float = 1.6
    """A head rise that no dry fit taught [cm] (our own guess)."""
    shaft_balance: float | None = None
    """A shaft's balance; where not given, `balance` for one that was found, else `SHAFT_BALANCE_SHARE` [cm]."""
    epoxy: float = 0.5
    """The epoxy that stays in a joint [g] (our own guess)."""
    grip_balance: float = 0.7
    """A grip's own balance that was not found [cm] (our own guess)."""
    place: float = 0.5
    """Where another small part sits, if nobody measured [cm] (our own guess)."""
    head_own: float = 5.0 * G_CM2_PER_KG_CM2
    """A head's inertia about its own centre that was not given [g cm2] (our own guess)."""
    stated: frozenset[str] = frozenset()
    """Names of those above that somebody stated: how well a place is known is then believed, measured or not [-]."""


def half_widths(parts: Parts, known: Collection[str], doubts: Doubts) -> dict[str, float]:
    """Tell by how much each of a club's parts may be off, but for the head's rise.

    Args:
        parts: the club's parts [g, cm].
        known: names in `Parts` of what was weighed or measured for this very club; the rest is assumed [-].
        doubts: the half-widths [g, cm].

    Returns:
        Half-widths by the names in `Parts`, only those that matter [g, cm, g cm2].
    """
    found = _mass_half_widths(parts, known, doubts)
    for name, mass_name in _PLACES.items():
        if getattr(parts, mass_name) and getattr(parts, name) is not None:
            of_place = "grip_balance" if name == "grip_balance" else "place"
            measured = name in known and of_place not in doubts.stated
            found[name] = doubts.length if measured else getattr(doubts, of_place)
    found["club_length"] = found["shaft_length"] = doubts.length
    found["bore_to_ground"] = doubts.length if "bore_to_ground" in known else doubts.place
    assumed = doubts.balance if "shaft_balance" in known else SHAFT_BALANCE_SHARE * parts.shaft_length
    found["shaft_balance"] = assumed if doubts.shaft_balance is None else doubts.shaft_balance
    if "head_own" not in known:
        found["head_own"] = doubts.head_own
    return {name: half for name, half in found.items() if half}


def _mass_half_widths(parts: Parts, known: Collection[str], doubts: Doubts) -> dict[str, float]:
    """Tell by how much each mass that a club has may be off [g], by the names in `Parts`."""
    found: dict[str, float] = {}
    for name in _MASSES:
        mass = getattr(parts, name)
        if mass:
            weighed = doubts.mass if name in known else max(doubts.mass, GUESSED_SHARE * mass)
            found[name] = doubts.epoxy if name == "epoxy_mass" else weighed
    return found


_SHARED = frozenset({*_PLACES, "bore_to_ground"})
"""What the clubs of one head model have in common, so that a learnt rise has taken it in."""


def _of_its_own(halves: Mapping[str, float], known: Collection[str], doubts: Doubts) -> dict[str, float]:
    """Keep what is off in one club and not alike in its sisters; shafts of a model balance alike to `Doubts.place`."""
    own = {name: half for name, half in halves.items() if name not in _SHARED}
    if "shaft_balance" not in known:
        own["shaft_balance"] = min(own["shaft_balance"], doubts.place)
    return own


def moves(value: Callable[[Parts], float], parts: Parts, halves: Mapping[str, float]) -> list[float]:
    """Move each part by its half-width in turn and tell what that does to a value [the value's unit].

    Args:
        value: what is asked of the parts [any unit].
        parts: the club's parts [g, cm, g cm2].
        halves: half-widths by the names in `Parts` [g, cm, g cm2].
    """
    settled = _with(parts, "shaft_balance", shaft_balance(parts))
    before = value(settled)
    return [value(_with(settled, name, getattr(settled, name) + half)) - before for name, half in halves.items()]


_FIELDS = tuple(field.name for field in fields(Parts))
_values_of = attrgetter(*_FIELDS)


def _with(parts: Parts, name: str, value: float) -> Parts:
    """Change one of a club's parts [g, cm, g cm2]; `dataclasses.replace` takes twice as long."""
    values = list(_values_of(parts))
    values[_FIELDS.index(name)] = value
    return Parts(*values)


def trimmed(parts: Parts, fitted: Body) -> float:
    """Tell how far the mass that is cut off the shaft may be off [g].

    Args:
        parts: the club's parts [g, cm].
        fitted: the shaft as it is in the club, from `assemble` [g, cm, g cm2].
    """
    return TRIM_SHARE * max(0.0, parts.shaft_mass - fitted.mass)


def swingweight_of(body: Body) -> float:
    """Compute a club's swingweight [points]."""
    return points(moment(body.mass, body.centre))


def _mass(body: Body) -> float:
    return body.mass


Asked = Literal["mass", "swingweight", "inertia"]
_VALUES: dict[Asked, Callable[[Body], float]] = {
    "mass": _mass,
    "swingweight": swingweight_of,
    "inertia": inertia_about_butt,
}
"""What a doubt may be asked of [g, points, kg cm2]."""


def _by_trim(parts: Parts, asked: Asked) -> float:
    """Work out what the mass that is cut off the shaft may do [g, points, kg cm2]; it sat at the butt, or the tip."""
    at_butt = parts.grip_cap + max(butt_trim(parts), 0.0) / 2
    at = at_butt if parts.tip_trim <= butt_trim(parts) else parts.club_length - parts.bore_to_ground
    per_gram = {"mass": 1.0, "swingweight": (at - FULCRUM) / POINT, "inertia": at**2 / G_CM2_PER_KG_CM2}
    return trimmed(parts, assemble(parts)["shaft"]) * per_gram[asked]


@dataclass(frozen=True, slots=True)
class Taught:
    """How well a head's rise is known that was not guessed."""

    rise_doubt: float | None = None
    """Its doubt U; None where one dry fit of a sister taught it, with these same instruments [cm]."""


def forecast_doubt(
    asked: Asked,
    parts: Parts,
    known: Collection[str],
    doubts: Doubts,
    taught: Taught | None = None,
    stated: Mapping[str, float] | None = None,
) -> float:
    """Compute how far the forecast of a club from its loose parts may be off [g, points or kg cm2].

    Args:
        asked: whether of its mass, its swingweight or its inertia about the butt [-].
        parts: the club's parts [g, cm].
        known: names in `Parts` of what was weighed or measured for this very club [-].
        doubts: the half-widths [g, cm].
        taught: how well the head's rise is known; None where it is a guess [-].
        stated: half-widths that are told otherwise, such as a supplier's tolerance, by the names in `Parts` [g, cm].
    """
    value = _VALUES[asked]
    halves = half_widths(parts, known, doubts) | dict(stated or {})
    if taught is not None:
        halves = _of_its_own(halves, known, doubts)

    def of_parts(changed: Parts) -> float:
        return value(forecast(changed))

    own = [*moves(of_parts, parts, halves), _by_trim(parts, asked)]
    per_cm = moves(of_parts, parts, {"head_rise": 1.0})[0]
    if taught is None:
        return combined_doubt(*own, per_cm * doubts.head_rise)
    if taught.rise_doubt is not None:
        return combined_doubt(*own, expanded=[per_cm * taught.rise_doubt])
    return combined_doubt(*own, *(per_cm * move for move in _rise_by_a_sister(parts, halves, doubts)))


def _rise_by_a_sister(parts: Parts, halves: Mapping[str, float], doubts: Doubts) -> list[float]:
    """Work out what may be off [cm] in the rise that the dry fit of such a club taught, which lacked its epoxy."""
    of_fit = {name: half for name, half in halves.items() if name not in ("head_own", "epoxy_mass")}
    return _rise_moves(parts, of_fit, doubts, forecast(parts, ["epoxy"]), ["epoxy"])


def _rise_moves(
    parts: Parts, halves: Mapping[str, float], doubts: Doubts, dry_fit: Body, lacking: list[str]
) -> list[float]:
    """Work out what each half-width does to the rise that a dry fit teaches [cm]: the parts' and the bench's own."""
    assembled = assemble(parts)
    others = beside_head(parts, assembled, lacking)
    as_is = others.rise(dry_fit)
    riding = rides_with_head(parts)
    found: list[float] = []
    places: dict[str, float] = {}
    for name, half in halves.items():
        if name not in _MASSES:
            places[name] = half
            continue
        # A mass moves nothing but its own moment: the club need not be put together anew.
        part = name.removesuffix("_mass").replace("_", " ")
        added = half * assembled["shaft"].mass / parts.shaft_mass if part == "shaft" else half  # what is left of it
        if part in riding:
            heavier = others._replace(at_head=others.at_head + added)
        else:
            heavier = others._replace(moment=others.moment + moment(added, assembled[part].centre))
        found.append(heavier.rise(dry_fit) - as_is)
    found += moves(lambda changed: head_rise(changed, dry_fit, lacking), parts, places)
    bench = (
        dry_fit._replace(mass=dry_fit.mass + doubts.mass),
        dry_fit._replace(centre=dry_fit.centre + doubts.balance),
        dry_fit._replace(centre=dry_fit.centre + doubts.common_balance),
    )
    return [*found, *(others.rise(fit) - as_is for fit in bench)]


def rise_doubt(
    parts: Parts, known: Collection[str], doubts: Doubts, dry_fit: Body, lacking: Iterable[str] = ()
) -> float:
    """Compute the expanded doubt of a head rise that a dry fit teaches [cm].

    What is assumed of the places of small parts is taken in by the rise and serves its sisters; it is left out.

    Args:
        parts: the club's parts [g, cm].
        known: names in `Parts` of what was weighed or measured for this very club [-].
        doubts: the half-widths [g, cm].
        dry_fit: the dry fit's mass and balance, without stand-ins [g, cm].
        lacking: names of the parts that were not on it [-].
    """
    missing = _mass_names(lacking)
    own = _of_its_own(half_widths(parts, known, doubts), known, doubts)
    halves = {name: half for name, half in own.items() if name not in missing and name != "head_own"}
    return combined_doubt(*_rise_moves(parts, halves, doubts, dry_fit, list(lacking)))


def _mass_names(parts: Iterable[str]) -> set[str]:
    return {f"{name.replace(' ', '_')}_mass" for name in parts}


def finished_doubt(
    asked: Asked,
    parts: Parts,
    known: Collection[str],
    doubts: Doubts,
    dry_fit: Body,
    lacking: Iterable[str] = (),
    instead: Iterable[Body] = (),
    *,
    swung: bool = False,
    inertia_doubt: float = 0.0,
) -> float:
    """Compute how far what a finished club will read may be off, told from its dry fit [g, points or kg cm2].

    Args:
        asked: whether of its mass, its swingweight or its inertia about the butt [-].
        parts: the club's parts [g, cm].
        known: names in `Parts` of what was weighed or measured for this very club [-].
        doubts: the half-widths [g, cm].
        dry_fit: what the bench says of the dry fit [g, cm, g cm2].
        lacking: names of the parts that are still to come [-].
        instead: stand-ins that will come off [g, cm, g cm2].
        swung: whether the dry fit's own inertia was measured [-].
        inertia_doubt: expanded doubt of that inertia [kg cm2].
    """
    value = _VALUES[asked]
    left_out, stand_ins = list(lacking), list(instead)

    def made(changed: Parts, fit: Body = dry_fit, off: list[Body] = stand_ins) -> float:
        return value(finished(changed, fit, left_out, off, swung=swung))

    before = made(parts)
    own = moves(made, parts, half_widths(parts, known, doubts))
    for off_by in (Body(doubts.mass, 0.0), Body(0.0, doubts.balance), Body(0.0, doubts.common_balance)):
        own.append(made(parts, fit=_shifted(dry_fit, off_by, about_butt=swung)) - before)
    for at, stand_in in enumerate(stand_ins):
        for off_by in (Body(doubts.mass, 0.0), Body(0.0, doubts.grip_balance)):
            others = [*stand_ins[:at], _shifted(stand_in, off_by), *stand_ins[at + 1 :]]
            own.append(made(parts, off=others) - before)
    return combined_doubt(*own, expanded=[inertia_doubt] if swung and asked == "inertia" else [])


def _shifted(body: Body, by: Body, *, about_butt: bool = False) -> Body:
    """Return a body with its mass and centre off by some;
    its inertia about the butt may be what stays [g, cm, g cm2].
    """
    other = body._replace(mass=body.mass + by.mass, centre=body.centre + by.centre)
    if not about_butt:
        return other
    return other._replace(own=body.own + body.mass * body.centre**2 - other.mass * other.centre**2)


def unexplained(
    parts: Parts,
    known: Collection[str],
    doubts: Doubts,
    mass: float,
    lacking: Iterable[str] = (),
    instead: Iterable[Body] = (),
) -> tuple[float, float]:
    """Compare the mass of a club on the bench with that of the parts which are on it.

    Args:
        parts: the club's parts [g, cm].
        known: names in `Parts` of what was weighed for this very club [-].
        doubts: the half-widths [g, cm].
        mass: what the club weighs [g].
        lacking: names of the parts that are not on it [-].
        instead: stand-ins that are on it [g, cm, g cm2].

    Returns:
        By how much it weighs more than its parts, and how much of that the weighings together can explain, at least
        `LEAST_UNEXPLAINED` [g].
    """
    left_out, stand_ins = set(lacking), list(instead)
    missing = _mass_names(left_out)
    assembled = assemble(parts)
    on_it = [body.mass for name, body in assembled.items() if name not in left_out]
    halves = [half for name, half in _mass_half_widths(parts, known, doubts).items() if half and name not in missing]
    of_length = doubts.length * parts.shaft_mass / parts.shaft_length  # where the shaft is cut
    off_by_cuts = (trimmed(parts, assembled["shaft"]), of_length)
    explained = combined_doubt(*halves, *(doubts.mass for _ in stand_ins), doubts.mass, *off_by_cuts)
    return mass - sum(on_it) - sum(body.mass for body in stand_ins), max(LEAST_UNEXPLAINED, explained)
