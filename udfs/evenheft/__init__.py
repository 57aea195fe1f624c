"""Evenheft: swingweight, inertia and set matching as formulas in a club builder's spreadsheet.

Python users have the same by topic (docs/python.md), on numbers or numpy arrays, in g and cm:

- Swingweight: points, swingweight, label, from_label, moment, moment_about
- Bench: balance, inertia, gravity
- Clubs: Parts, Club, forecast, head_mass, head_rise, Doubts
- Correction: per_gram, correction, inertia_correction, two_weights, two_weights_inertia, length_to, inertia_about, pick
- Judging: doubt, inertia_doubt, combined_doubt, least_tolerance, verdict, agreement, length_limit
- Set: target, first, gradient
- Units: cm, grams

A name is imported when it is first asked for, so that `import evenheft` costs nothing.

>>> import evenheft
>>> evenheft.points(mass=395, balance=75.3)
32.56827
"""

import importlib
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from evenheft.python.bench import balance, gravity, inertia
    from evenheft.python.club import Club, Doubts, forecast, head_mass, head_rise
    from evenheft.python.correction import (
        correction,
        inertia_about,
        inertia_correction,
        length_to,
        per_gram,
        pick,
        two_weights,
        two_weights_inertia,
    )
    from evenheft.python.gradient import first, gradient, target
    from evenheft.python.judging import (
        agreement,
        combined_doubt,
        doubt,
        inertia_doubt,
        least_tolerance,
        length_limit,
        verdict,
    )
    from evenheft.python.parts import Parts
    from evenheft.python.swingweight import (
        from_label,
        label,
        moment,
        moment_about,
        points,
        swingweight,
    )
    from evenheft.python.units import cm, grams

__version__ = "0.1.0"

__all__ = [
    "Club",
    "Doubts",
    "Parts",
    "__version__",
    "agreement",
    "balance",
    "cm",
    "combined_doubt",
    "correction",
    "doubt",
    "first",
    "forecast",
    "from_label",
    "gradient",
    "grams",
    "gravity",
    "head_mass",
    "head_rise",
    "inertia",
    "inertia_about",
    "inertia_correction",
    "inertia_doubt",
    "label",
    "least_tolerance",
    "length_limit",
    "length_to",
    "moment",
    "moment_about",
    "per_gram",
    "pick",
    "points",
    "swingweight",
    "target",
    "two_weights",
    "two_weights_inertia",
    "verdict",
]

_TOPICS = {
    "swingweight": "points swingweight label from_label moment moment_about",
    "bench": "balance inertia gravity",
    "parts": "Parts",
    "club": "Club Doubts forecast head_mass head_rise",
    "correction": "per_gram correction inertia_correction two_weights two_weights_inertia length_to inertia_about pick",
    "judging": "doubt inertia_doubt combined_doubt least_tolerance verdict agreement length_limit",
    "gradient": "target first gradient",
    "units": "cm grams",
}
"""What each module of `evenheft.python` offers here."""
_HOMES = {name: topic for topic, names in _TOPICS.items() for name in names.split()}


def __getattr__(name: str) -> Any:
    """Import what Python users ask for, when they do."""
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    found = getattr(importlib.import_module(f"evenheft.python.{_HOMES[name]}"), name)
    globals()[name] = found
    return found


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
