"""The same stages by OR-tools' CP-SAT, which shares nothing with HiGHS: every way for every pair, no dominance."""

from __future__ import annotations

from ortools.sat.python import cp_model

from evenheft.mechanics.pairing.problem import Batch, Piece

from .exhaustive import PlanScore, read, ways

CodedChoice = tuple[int, int, tuple[Piece, ...], bool, int, int]
"""Club, shaft, weights, in, deviation [billionths of tolerance], added mass [mg]."""


def best_by_cp_sat(batch: Batch) -> PlanScore:
    """The best plan's score."""
    choices: list[CodedChoice] = [
        (i, j, way, *found)
        for i, club in enumerate(batch.clubs)
        for j, shaft in enumerate(batch.shafts)
        for way in ways(batch)
        if (found := read(batch, club, shaft, way)) is not None
    ]
    count = len(batch.clubs)
    most = optimum(batch, [choice for choice in choices if choice[3]], gain=lambda _: 1)
    assert most is not None
    limits = sorted({choice[4] for choice in choices})
    low, high = 0, len(limits) - 1
    while low < high:  # the smallest deviation within which as many are in, and all are built
        middle = (low + high) // 2
        within = [choice for choice in choices if choice[4] <= limits[middle]]
        if optimum(batch, within, gain=lambda _: 0, inside=most, built=count) is None:
            low = middle + 1
        else:
            high = middle
    within = [choice for choice in choices if choice[4] <= limits[low]]
    mass = optimum(batch, within, gain=lambda choice: -choice[5], inside=most, built=count)
    assert mass is not None
    return count - most, 0, limits[low], -mass


def optimum(batch: Batch, choices, *, gain, inside: int = 0, built: int = 0) -> int | None:  # type: ignore[no-untyped-def]
    """The greatest gain that can be had, None where the limits cannot be kept."""
    model = cp_model.CpModel()
    taken = [model.new_bool_var("") for _ in choices]
    for clubs_or_shafts in (0, 1):
        groups: dict[int, list[cp_model.IntVar]] = {}
        for variable, choice in zip(taken, choices, strict=True):
            groups.setdefault(choice[clubs_or_shafts], []).append(variable)
        for group in groups.values():
            model.add_at_most_one(group)
    for weight in batch.weights:
        piece = Piece(weight.place, weight.mass)
        uses = [choice[2].count(piece) for choice in choices]
        model.add(sum(n * variable for n, variable in zip(uses, taken, strict=True) if n) <= weight.count)
    model.add(sum(variable for variable, choice in zip(taken, choices, strict=True) if choice[3]) >= inside)
    model.add(sum(taken) >= built)
    model.maximize(sum(gain(choice) * variable for variable, choice in zip(taken, choices, strict=True)))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    state = solver.solve(model)
    assert state in (cp_model.OPTIMAL, cp_model.INFEASIBLE)
    return round(solver.objective_value) if state == cp_model.OPTIMAL else None
