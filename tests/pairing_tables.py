"""Invented shops as the tables that HEFT_PLAN takes, and a Python that has no scipy."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager

from evenheft.formulas.headed import plan
from evenheft.mechanics.pairing.problem import Batch

PairingTable = tuple[tuple[object, ...], ...]

NAMES = {"points": "Swingweight", "inertia": "Inertia", "mass": "Total mass", "frequency": "Frequency"}


def tables_of(batch: Batch) -> tuple[PairingTable, PairingTable, PairingTable]:
    """Heads, shafts and weights of a batch as a builder lays them out."""
    leading = [target.leading for target in batch.clubs[0].targets]
    aims = [f"{NAMES[name]} {part}" for name in leading for part in ("target", "tolerance")]
    heads: list[tuple[object, ...]] = [
        ("Club", "Head mass (g)", "Club length (cm)", "Head rise (cm)", "Bore to ground (cm)", "Grip (g)", "Tape (g)",
         "Epoxy (g)", *aims)
    ]  # fmt: skip
    for club in batch.clubs:
        parts = club.parts
        wanted = [number for target in club.targets for number in (target.wanted, target.tolerance)]
        heads.append((club.label, parts.head_mass, parts.club_length, parts.head_rise, parts.bore_to_ground,
                      parts.grip_mass, parts.tape_mass, parts.epoxy_mass, *wanted))  # fmt: skip
    shafts: list[tuple[object, ...]] = [("Number", "Mass (g)", "Length (cm)", "Balance (cm)", "Frequency")]
    shafts += [(shaft.label, shaft.mass, shaft.length, shaft.balance, shaft.frequency) for shaft in batch.shafts]
    weights: list[tuple[object, ...]] = [("Size (g)", "Where", "Count")]
    weights += [(weight.mass, weight.place, weight.count) for weight in batch.weights]
    return tuple(heads), tuple(shafts), tuple(weights)


@contextmanager
def without_scipy() -> Iterator[None]:
    """A Python that cannot import scipy, as that of a spreadsheet program may be."""
    hidden = {name: module for name, module in sys.modules.items() if name.partition(".")[0] == "scipy"}
    plan._remembered.cache_clear()
    try:
        for name in {"scipy", *hidden}:
            sys.modules[name] = None  # type: ignore[assignment]
        yield
    finally:
        del sys.modules["scipy"]
        sys.modules.update(hidden)
        plan._remembered.cache_clear()
