"""A plain callable for each formula, for a host to register: a short way for good numbers, `call` for the rest."""

from __future__ import annotations

import dataclasses
import functools
from collections.abc import Callable
from typing import TypeAlias

from evenheft.formulas.calling import Cell, Grid, call, message
from evenheft.formulas.registry import Formula

Server: TypeAlias = Callable[..., Cell | Grid]
PlainServer: TypeAlias = Callable[[tuple[object, ...]], Cell | None]


def plain_server(formula: Formula) -> PlainServer | None:
    """Make a shortcut for what a column of cells mostly holds: plain good numbers, nothing in the optional arguments.

    It takes the arguments as one tuple and answers exactly as `call` does, or with None where `call` must be asked.

    Args:
        formula: an entry of the registry [-].

    Returns:
        The shortcut, or None for a formula whose arguments or answers need more of a look.
    """
    count = formula.required
    required, optional = formula.arguments[:count], formula.arguments[count:]
    limits = [span for argument in required if argument.required and (span := argument.kind.plain_span)]
    if len(formula.answers) > 1 or formula.answers[0].dimension or not limits or len(limits) < count:
        return None
    if any(argument.takes == "range" for argument in formula.arguments):
        return None
    defaults = tuple(argument.default for i, argument in enumerate(optional, start=count) if i != formula.units_at)
    most = len(formula.arguments)
    rest_of = [(None,) * max(0, length - count) for length in range(most + 1)]
    function = formula.function

    def plain(given: tuple[object, ...]) -> Cell | None:
        # This runs once per cell of a long column: every word of it was weighed.
        length = len(given)
        if length < count or length > most or given[count:] != rest_of[length]:
            return None
        for value, (low, high) in zip(given, limits):  # noqa: B905  those after the required ones are blank
            if type(value) is not float or not low <= value <= high:
                return None
        try:
            answer = function(*given[:count], *defaults)
        except (ValueError, ArithmeticError):
            return None
        kind = type(answer)
        # A number less itself is 0, but for what is no number and what is infinite.
        if kind is float:
            return answer + 0.0 if answer - answer == 0.0 else None  # and -0.0 with 0.0 is 0.0
        return answer if kind is str else None

    return plain


def server(formula: Formula, host: str) -> Server:
    """Make a plain callable that answers a formula, for a host to register.

    Args:
        formula: an entry of the registry [-].
        host: what the host calls itself, for formulas that tell where they run [-].
    """
    if formula.tells_host:
        formula = dataclasses.replace(formula, function=functools.partial(formula.function, host))
    plain = plain_server(formula)

    def serve(*given: object) -> Cell | Grid:
        try:
            if plain is not None and (answer := plain(given)) is not None:
                return answer
            return call(formula, given)
        except Exception as error:  # a cell must never show a traceback, whatever went wrong
            return message(f"{formula.name} failed inside: {type(error).__name__}: {error}")

    serve.__name__ = serve.__qualname__ = formula.name
    serve.__doc__ = formula.help
    return serve
