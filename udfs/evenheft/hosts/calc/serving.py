"""How Calc's arguments become what a formula expects, and its answer what Calc can show. Runs inside LibreOffice.

Calc hands an argument over as a number, a text, nothing (left out) or a tuple of rows. Three things get lost on
the way, in Calc itself, and a person should know them (docs/calc.md tells them):

- An empty cell arrives as the number 0, except inside a range, where it is an empty text. So a 0 where no 0 is
  possible (a mass, say) is read as a cell not filled in.
- TRUE and FALSE arrive as the numbers 1 and 0.
- An error value never arrives: the formula's cell shows that error, or Err:504 where it stood in a range, unasked.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from evenheft.formulas import Argument, Formula
from evenheft.formulas.calling import Grid
from evenheft.formulas.serving import plain_server, server
from evenheft.formulas.wording import DEFAULT_SCALE


def zero_is_blank(argument: Argument) -> bool:
    """Whether a single 0 for this argument can only be an empty cell."""
    try:
        argument.kind.read(0.0, DEFAULT_SCALE)
    except ValueError:
        return True
    return False


def handed(given: Sequence[Any], blank_at: Sequence[bool]) -> list[Any]:
    """Turn what Calc hands over into what `formulas.call` expects.

    Args:
        given: one item per argument of the formula; what was not typed is None [-].
        blank_at: for each argument, whether a single 0 is an empty cell [-].
    """
    typed = len(given)
    while typed and given[typed - 1] is None:
        typed -= 1
    return [None if raw == 0.0 and blank else raw for raw, blank in zip(given[:typed], blank_at, strict=False)]


def handler(formula: Formula, host: str, as_range: Callable[[Grid], Any]) -> Callable[..., Any]:
    """Make the method of the add-in's component that answers one formula.

    Args:
        formula: an entry of the registry [-].
        host: what Calc calls itself, for formulas that tell where they run [-].
        as_range: makes of rows of cells what Calc spreads over a range [-].
    """
    serve = server(formula, host)
    plain = plain_server(formula) or _no_shortcut
    blank_at = tuple(map(zero_is_blank, formula.arguments))

    def method(_component: object, *given: Any) -> Any:
        number = plain(given)
        if number is not None:
            return number
        answer = serve(*handed(given, blank_at))
        if not isinstance(answer, tuple):
            return answer
        return answer[0][0] if len(answer) == len(answer[0]) == 1 else as_range(answer)

    method.__name__ = method.__qualname__ = formula.name
    return method


def _no_shortcut(_given: tuple[object, ...]) -> None:
    return None
