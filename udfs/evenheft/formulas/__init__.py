"""The formulas: one registry that every host serves, and the one way to call what is in it.

Importing this package fills the registry; `REGISTRY` keeps the order of the modules below,
which is the order of the reference in docs/ and of a spreadsheet's function list.
"""

from evenheft.formulas import (  # noqa: F401  each module registers its formulas
    advice,
    agreement,
    bench,
    best_rise,
    conversion,
    correction,
    doubt,
    gradient,
    inertia_correction,
    length,
    readings,
    rolls,
    rules,
    selftest,
    set_line,
    stages,
    stock,
    supported,
    swingweight,
    telling,
    tolerance,
    what_if,
)
from evenheft.formulas.calling import call
from evenheft.formulas.headed import dry_fit, parts, plan  # noqa: F401  as above
from evenheft.formulas.registry import REGISTRY, Answer, Argument, Formula

__all__ = ["REGISTRY", "Answer", "Argument", "Formula", "call"]
