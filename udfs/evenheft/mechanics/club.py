"""A club from its loose parts: where each gram sits, what the whole will read, what a dry fit teaches.

Distances at the head end are known from the head, not from the butt: the shaft's tip sits
`bore_to_ground` up the shaft axis from the ground line, small parts sit so far above the tip.
All of it is plain arithmetic: numbers, or numpy arrays with one element per club.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import MISSING, dataclass, fields, replace
from typing import NamedTuple

from evenheft.mechanics.bodies import (
    Body,
    body_of,
    combine,
    cut,
    density_line,
    inertia_about_butt,
    moved,
    spread_from_butt,
    without,
)
from evenheft.mechanics.swingweight import FULCRUM, moment, moment_at
from evenheft.mechanics.units import G_CM2_PER_KG_CM2

SHAFT_SHARE = 0.5
"""Where a shaft is taken to balance if nobody has balanced it, as a share of its length from its butt end [-]."""
TAPE_READING = 0.1
"""How much too short a shaft may seem before it is: one millimetre, as well as a tape reads [cm]."""
LOWEST_HEAD_RISE = -4.0
"""The lowest that a head's centre of mass can lie: a heel-shafted head, its toe weighted and its lie flat [cm]."""
HIGHEST_HEAD_RISE = 6.0
"""The highest that a head's centre of mass can lie: a deep head on an upright lie [cm]."""


@dataclass(frozen=True, slots=True)
class Parts:
    """A club's parts as weighed and measured. The defaults are a shop's to change; docs/parts.md explains them."""

    head_mass: float
    """The bare head [g]."""
    club_length: float
    """Butt to ground line, along the shaft axis [cm]."""
    shaft_mass: float
    """The shaft as weighed, before any trimming that is still to come [g]."""
    shaft_length: float
    """The shaft as weighed [cm]."""
    shaft_balance: float | None = None
    """From the shaft's butt end; where it is not known, `SHAFT_SHARE` of its length [cm]."""
    tip_trim: float = 0.0
    """Length still to be cut off the tip [cm]."""
    head_rise: float = 1.0
    """Ground line back up the shaft axis to the head's centre of mass [cm]."""
    head_own: float = 0.0
    """The head's moment of inertia about its own centre, across the shaft [g cm2]."""
    bore_to_ground: float = 3.8
    """Shaft tip, fully seated, to the ground line [cm]."""
    grip_cap: float = 0.4
    """Thickness of the grip's closed end [cm]."""
    grip_mass: float = 0.0
    """The grip [g]."""
    grip_balance: float = 11.0
    """Butt to the grip's own balance point [cm]."""
    tape_mass: float = 0.0
    """The tape under the grip [g]."""
    tape_from_butt: float = 13.0
    """Butt to the middle of the tape [cm]."""
    ferrule_mass: float = 0.0
    """The ferrule [g]."""
    ferrule_above_tip: float = 4.2
    """Shaft tip to the ferrule's middle, towards the butt [cm]."""
    epoxy_mass: float = 0.0
    """The epoxy that stays in the joint [g]."""
    epoxy_above_tip: float = 1.5
    """Shaft tip to the middle of the joint [cm]."""
    adapter_mass: float = 0.0
    """The adapter sleeve with its screw [g]."""
    adapter_above_tip: float = 1.5
    """Shaft tip to the adapter's centre [cm]."""
    tip_weight_mass: float = 0.0
    """The weight in the shaft's tip [g]."""
    tip_weight_above_tip: float = 1.5
    """Shaft tip to the tip weight's centre [cm]."""
    butt_weight_mass: float = 0.0
    """The counterweight in the shaft's butt end [g]."""
    butt_weight_from_butt: float = 2.5
    """Butt to the counterweight's centre [cm]."""
    lead_tape_mass: float = 0.0
    """Lead tape on the head [g]."""
    lead_tape_rise: float | None = None
    """Ground line back up the shaft axis to the lead tape; where not given, the head's centre [cm]."""
    extension_mass: float = 0.0
    """The extension plug in the shaft's butt end [g]."""
    extension_length: float = 0.0
    """By how much the extension lengthens the shaft [cm]."""
    other_mass: float = 0.0
    """Anything else [g]."""
    other_from_butt: float = 0.0
    """Butt to the centre of anything else [cm]."""


DEFAULTS: dict[str, float | None] = {f.name: f.default for f in fields(Parts) if f.default is not MISSING}
"""What is assumed of a part that nobody has told otherwise, by its name in `Parts` [g, cm, g cm2]."""


def tip_position(parts: Parts) -> float:
    """Butt to the seated shaft tip [cm].

    Args:
        parts: the club's parts [g, cm].
    """
    return parts.club_length - parts.bore_to_ground


def cut_length(parts: Parts) -> float:
    """Length that the shaft must have in the club [cm].

    Args:
        parts: the club's parts [g, cm].
    """
    return tip_position(parts) - parts.grip_cap - parts.extension_length


def butt_trim(parts: Parts) -> float:
    """Length to cut off the shaft's butt end; negative where the shaft is too short [cm].

    Args:
        parts: the club's parts [g, cm].
    """
    return parts.shaft_length - parts.tip_trim - cut_length(parts)


def shaft_balance(parts: Parts) -> float:
    """Shaft's butt end to its balance point, as weighed or as assumed [cm].

    Args:
        parts: the club's parts [g, cm].
    """
    return SHAFT_SHARE * parts.shaft_length if parts.shaft_balance is None else parts.shaft_balance


def assemble(parts: Parts) -> dict[str, Body]:
    """Put every part in its place.

    Args:
        parts: the club's parts; the shaft may be too short by no more than `TAPE_READING` [g, cm].

    Returns:
        Each part by its name, "head", "shaft", "grip" ..., in the club [g, cm, g cm2].

    >>> club = Parts(head_mass=200.0, club_length=115.0, shaft_mass=60.0, shaft_length=117.0, grip_mass=50.0)
    >>> assemble(club)["head"]
    Body(mass=200.0, centre=114.0, own=0.0)
    """
    tip = tip_position(parts)
    trim = butt_trim(parts)
    line = density_line(parts.shaft_mass, parts.shaft_length, shaft_balance(parts))
    # (|t| + t) / 2 is t or nothing, for arrays too: what a shaft lacks cannot be cut off.
    fitted = cut(line, parts.tip_trim, (abs(trim) + trim) / 2)
    lead_rise = parts.head_rise if parts.lead_tape_rise is None else parts.lead_tape_rise
    return {
        "head": Body(parts.head_mass, parts.club_length - parts.head_rise, parts.head_own),
        "shaft": moved(body_of(fitted), tip - fitted.length),
        "grip": spread_from_butt(parts.grip_mass, parts.grip_balance),
        "tape": spread_from_butt(parts.tape_mass, parts.tape_from_butt),
        "ferrule": Body(parts.ferrule_mass, tip - parts.ferrule_above_tip),
        "epoxy": Body(parts.epoxy_mass, tip - parts.epoxy_above_tip),
        "adapter": Body(parts.adapter_mass, tip - parts.adapter_above_tip),
        "tip weight": Body(parts.tip_weight_mass, tip - parts.tip_weight_above_tip),
        "butt weight": Body(parts.butt_weight_mass, parts.butt_weight_from_butt),
        "lead tape": Body(parts.lead_tape_mass, parts.club_length - lead_rise),
        "extension": Body(parts.extension_mass, parts.grip_cap + parts.extension_length / 2),
        "other": Body(parts.other_mass, parts.other_from_butt),
    }


def forecast(parts: Parts, lacking: Iterable[str] = ()) -> Body:
    """Forecast the finished club, or a dry fit that lacks some parts [g, cm, g cm2].

    Args:
        parts: the club's parts [g, cm].
        lacking: names of the parts that are not on the club yet [-].

    >>> club = Parts(head_mass=200.0, club_length=115.0, shaft_mass=60.0, shaft_length=117.0, grip_mass=50.0)
    >>> round(forecast(club).centre, 2)
    86.44
    """
    left_out = set(lacking)
    return combine(body for name, body in assemble(parts).items() if name not in left_out)


def head_rise(parts: Parts, dry_fit: Body, lacking: Iterable[str] = ()) -> float:
    """Solve for the head rise with which the forecast's moment agrees with that of the dry fit [cm].

    The head's lever is the one distance that cannot be measured on loose parts. Moments about
    the fulcrum are made equal, so that the swingweight agrees even where the sum of the parts'
    weighings is a little off the dry fit's own.

    Args:
        parts: the club's parts [g, cm].
        dry_fit: what scale and edge say of the dry-fitted club; its own inertia is not used [g, cm].
        lacking: names of the parts that were not on the dry fit [-].

    >>> club = Parts(head_mass=200.0, club_length=115.0, shaft_mass=60.0, shaft_length=117.0, grip_mass=50.0)
    >>> round(head_rise(club, forecast(club)), 9)
    1.0
    """
    return beside_head(parts, assemble(parts), lacking).rise(dry_fit)


class BesideHead(NamedTuple):
    """What a dry fit holds besides its head's lever, which is the one thing not known of it."""

    moment: float
    """Moment about the fulcrum of all that does not move with the head's centre [g cm]."""
    at_head: float
    """Mass that moves with the head's centre [g]."""
    club_length: float
    """Butt to ground line [cm]."""

    def rise(self, dry_fit: Body) -> float:
        """Head rise with which this comes to the moment of a dry fit [g, cm], in cm."""
        reach = (moment(dry_fit.mass, dry_fit.centre) - self.moment) / self.at_head
        return self.club_length - FULCRUM - reach


def rides_with_head(parts: Parts) -> tuple[str, ...]:
    """Names of what moves with the head's centre [-].

    Args:
        parts: the club's parts [g, cm].
    """
    return ("head", "lead tape") if parts.lead_tape_rise is None else ("head",)


def beside_head(parts: Parts, assembled: Mapping[str, Body], lacking: Iterable[str] = ()) -> BesideHead:
    """Sum up what a dry fit holds besides its head's lever.

    Args:
        parts: the club's parts [g, cm].
        assembled: the same, from `assemble` [g, cm, g cm2].
        lacking: names of the parts that are not on it [-].
    """
    left_out = set(lacking) - {"head"}
    riding = rides_with_head(parts)
    beside, at_head = 0.0, 0.0
    for name, body in assembled.items():
        if name in left_out:
            continue
        if name in riding:
            at_head += body.mass
        else:
            beside += moment(body.mass, body.centre)
    return BesideHead(beside, at_head, parts.club_length)


def head_mass(parts: Parts, target: float) -> float:
    """Mass of a head that brings the forecast to a swingweight [g].

    Args:
        parts: the club's parts; its own head mass is not used [g, cm].
        target: swingweight wanted [points].

    Raises:
        ZeroDivisionError: the head's centre sits at the fulcrum.

    >>> from evenheft.mechanics import swingweight
    >>> club = Parts(head_mass=200.0, club_length=115.0, shaft_mass=60.0, shaft_length=117.0, grip_mass=50.0)
    >>> body = forecast(club)
    >>> round(head_mass(club, swingweight.points(moment(body.mass, body.centre))), 9)
    200.0
    """
    rest = forecast(parts, ["head"])
    return (moment_at(target) - moment(rest.mass, rest.centre)) / (parts.club_length - parts.head_rise - FULCRUM)


def head_mass_for_inertia(parts: Parts, target: float) -> float:
    """Find the mass of a head that brings the forecast to a moment of inertia about the butt [g].

    The head's own inertia is kept as given: it is another one for a heavier head, but small beside its place's.

    Args:
        parts: the club's parts; their own head mass is not used [g, cm].
        target: inertia wanted, about the butt [kg cm2].

    Raises:
        ZeroDivisionError: the head's centre sits at the butt.

    >>> club = Parts(head_mass=200.0, club_length=115.0, shaft_mass=60.0, shaft_length=117.0, grip_mass=50.0)
    >>> round(head_mass_for_inertia(club, inertia_about_butt(forecast(club))), 9)
    200.0
    """
    rest = forecast(parts, ["head"])
    lacking = (target - inertia_about_butt(rest)) * G_CM2_PER_KG_CM2 - parts.head_own
    return lacking / (parts.club_length - parts.head_rise) ** 2


def finished(
    parts: Parts,
    dry_fit: Body,
    lacking: Iterable[str] = (),
    instead: Iterable[Body] = (),
    *,
    swung: bool = False,
) -> Body:
    """Forecast what a dry fit will be once it has all its parts [g, cm, g cm2].

    Mass and balance are the bench's, plus what is still to come. So is the inertia of a dry
    fit that was swung; of another, which no scale shows, it is that of its parts, with the
    head's centre where the dry fit says it is.

    Args:
        parts: the club's parts [g, cm].
        dry_fit: what the bench says of the dry-fitted club [g, cm, g cm2].
        lacking: names of the parts that are still to come [-].
        instead: stand-ins that were on the dry fit and will come off, such as a cut grip [g, cm, g cm2].
        swung: whether the dry fit's own inertia was measured [-].

    >>> club = Parts(head_mass=200.0, club_length=115.0, shaft_mass=60.0, shaft_length=117.0, grip_mass=50.0)
    >>> bench = forecast(club, lacking=["grip"])
    >>> whole = finished(club, bench, lacking=["grip"])
    >>> abs(whole.centre - forecast(club).centre) < 1e-9
    True
    """
    left_out = set(lacking)
    stand_ins = list(instead)
    own_parts = dry_fit
    for stand_in in stand_ins:
        own_parts = without(own_parts, stand_in)
    rise = head_rise(parts, own_parts, left_out)
    bodies = assemble(replace(parts, head_rise=rise))
    known = combine([*(body for name, body in bodies.items() if name not in left_out), *stand_ins])
    club = dry_fit if swung else dry_fit._replace(own=known.own)
    for stand_in in stand_ins:
        club = without(club, stand_in)
    return combine([club, *(bodies[name] for name in left_out)])
