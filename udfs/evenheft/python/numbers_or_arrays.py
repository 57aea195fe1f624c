"""Answer numbers with a number and arrays with an array, within the bounds that the same formula has in a cell."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from math import isnan
from typing import TYPE_CHECKING, Any, TypeAlias, TypeVar

from evenheft.formulas import REGISTRY, Argument, Formula
from evenheft.formulas.kinds import Kind
from evenheft.formulas.wording import DEFAULT_SCALE, message_of, show, what_is_wrong
from evenheft.ooxml.errors import Refused

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from typing_extensions import TypeVar as DefaultedTypeVar

    Array: TypeAlias = NDArray[np.float64]
    Words: TypeAlias = NDArray[np.str_]
    Given: TypeAlias = float | NDArray[np.floating[Any]] | NDArray[np.integer[Any]]
    N = DefaultedTypeVar("N", float, Array, default=float)
else:
    Array = Words = Given = Any
    N = TypeVar("N")

Vectorised: TypeAlias = Callable[..., Any]
"""The mechanics of a formula on its given arguments, for numbers and arrays alike."""
NO_WORDS: Mapping[str, str] = {}


def answer(
    name: str,
    given: Mapping[str, object],
    vectorised: Vectorised | None = None,
    possible: Vectorised | None = None,
    words: Mapping[str, str] = NO_WORDS,
) -> Any:
    """Answer what a formula of the registry answers, for numbers, or for arrays of one shape beside numbers.

    nan stands for what is not known: it is answered with nan, and a word with "".

    Args:
        name: the formula's name [-].
        given: numbers or arrays by the formula's argument names [g, cm, as the formula says].
        vectorised: the mechanics on the given arguments; without them each element is answered by itself [-].
        possible: tells which elements of the arguments, and then of the answer, describe a club; the others are handed
            to the formula, which says why not [-].
        words: further arguments that are one word for all [-].

    Raises:
        Refused: a `ValueError`; a number is out of bounds, or together they describe no club.
    """
    formula = REGISTRY[name]
    read = {key: checked(_argument(formula, key), value) for key, value in given.items()}
    if not any(map(is_array, read.values())):
        return _of_numbers(formula, {**read, **words})
    import numpy as np

    arrays = np.broadcast_arrays(*read.values())
    if vectorised is None:
        return _each(formula, tuple(read), arrays, words)
    with np.errstate(all="ignore"):
        found = vectorised(*arrays)
        if possible is not None:
            known = ~np.isnan(sum(arrays))
            for at in np.flatnonzero(known & ~possible(*arrays, found)):
                _at(formula, tuple(read), arrays, int(at), words)
    return found


def one(name: str, value: object) -> float:
    """Take one number; raises TypeError for an array, which the caller's function does not take."""
    read = plain(name, value)
    if is_array(read):
        raise TypeError(f"{name} must be one number here, got an array")
    number: float = read
    return number


def typed(name: str, text: object, read: Callable[[str], float]) -> float:
    """Read one text.

    Args:
        name: what a message calls it [-].
        text: as a person typed it [-].
        read: reads it, or raises a ValueError that says what it must be [-].

    Raises:
        Refused: it cannot be read.
        TypeError: it is no text.
    """
    if not isinstance(text, str):
        raise TypeError(f"{name} must be one text here, got {show(text)}")
    try:
        return read(text)
    except ValueError as error:
        raise Refused(what_is_wrong(name, text, error)) from None


def listed(name: str, values: object) -> list[float]:
    """Take a list or an array of one dimension as a list of numbers; raises TypeError for anything else."""
    read = plain(name, values)
    if not is_array(read) or read.ndim != 1:
        raise TypeError(f"{name} must be a list or an array of one dimension, got {show(values)}")
    numbers: list[float] = read.tolist()
    return numbers


def is_array(value: object) -> bool:
    """Tell whether a value is an array already, as `plain` makes them [-]."""
    return not isinstance(value, float | None)


def plain(name: str, value: object) -> Any:
    """Take a number as a float, and what holds numbers as an array of floats.

    Args:
        name: what a message calls the value [-].
        value: a number, a numpy array, or what numpy makes an array of [any unit].

    Raises:
        TypeError: it is neither.
    """
    if isinstance(value, int | float) and not isinstance(value, bool):
        return float(value)
    if isinstance(value, list | tuple) or (hasattr(value, "__array__") and not isinstance(value, bool)):
        import numpy as np

        made = np.asarray(value)
        if made.dtype.kind in "fiu":
            return made.astype(np.float64) if made.ndim else float(made)
    typed = ': evenheft.cm("44 1/2 in") and evenheft.grams("7.1 oz") read text' if isinstance(value, str) else ""
    raise TypeError(f"{name} must be a number or an array of numbers, got {show(value)}{typed}")


def checked(argument: Argument, value: object) -> Any:
    """Take a number or an array within an argument's bounds; the extremes of an array speak for all of it.

    Args:
        argument: of the registry [-].
        value: a number or an array; None where the argument may be left out [the argument's unit].

    Raises:
        Refused: it is out of bounds.
        TypeError: it is no number.
    """
    if value is None and not argument.required:
        return None
    read = within(argument.name, argument.kind, value)
    if argument.must is not None:
        for extreme in _extremes(read):
            as_in_a_cell(argument.must, extreme)
    return read


def within(name: str, kind: Kind, value: object) -> Any:
    """Take a number or an array within the bounds of a kind.

    Args:
        name: what a message calls the value [-].
        kind: from the registry or the vocabulary of headings [-].
        value: a number or an array [the kind's unit in g and cm].

    Raises:
        Refused: it is out of bounds.
        TypeError: it is no number.
    """
    read = plain(name, value)
    each = (getattr(kind, "whole", False) or getattr(kind, "least", 0.0)) and is_array(read)
    for extreme in read.ravel().tolist() if each else _extremes(read):
        if not isnan(extreme):
            as_in_a_cell(_read, name, kind, extreme)
    return read


def _read(name: str, kind: Kind, value: object) -> Any:
    try:
        return kind.read(value, DEFAULT_SCALE)
    except ValueError as error:
        raise Refused(what_is_wrong(name, value, error)) from None


def _extremes(read: Any) -> tuple[float, ...]:
    """Return the lowest and the highest of what is known, or the number itself."""
    if not is_array(read):
        return () if isnan(read) else (read,)
    import numpy as np

    known = read[~np.isnan(read)]
    return (float(known.min()), float(known.max())) if known.size else ()


def _argument(formula: Formula, name: str) -> Argument:
    return next(argument for argument in formula.arguments if argument.name == name)


def _of_numbers(formula: Formula, read: Mapping[str, Any]) -> Any:
    """Answer for one number per argument; what the formula takes beside them is left at its default."""
    if any(isinstance(value, float) and isnan(value) for value in read.values()):
        return _not_known(formula)
    handed = [a for a in formula.arguments if a.name not in ("units", "what")]
    return as_in_a_cell(formula.function, *(read.get(a.name, None if a.required else a.default) for a in handed))


def _not_known(formula: Formula) -> Any:
    words = ("word", "label", "text")
    blanks = tuple("" if answer.unit in words else float("nan") for answer in formula.answers)
    return blanks[0] if len(blanks) == 1 else blanks


def as_in_a_cell(function: Callable[..., Any], *values: Any) -> Any:
    """Call a function of the formulas; its refusal is told as it would be in a cell, in g and cm.

    Args:
        function: what answers, or refuses [-].
        values: its arguments [-].

    Raises:
        Refused: it refuses, or the numbers together describe no club.
    """
    try:
        return function(*values)
    except Refused as refused:
        raise Refused(message_of(refused, DEFAULT_SCALE)) from None
    except ArithmeticError:
        raise Refused("these numbers together describe no club") from None


def _at(formula: Formula, names: Sequence[str], arrays: Sequence[Any], at: int, words: Mapping[str, str]) -> Any:
    """Answer for one element of the arrays; a refusal names its index."""
    row = {name: float(array.flat[at]) for name, array in zip(names, arrays, strict=True)}
    try:
        return _of_numbers(formula, {**row, **words})
    except Refused as refused:
        raise Refused(f"element {at}: {refused}") from None


def _each(formula: Formula, names: Sequence[str], arrays: Sequence[Any], words: Mapping[str, str]) -> Any:
    """Answer each element by itself."""
    import numpy as np

    shape = arrays[0].shape
    answers = [_at(formula, names, arrays, at, words) for at in range(arrays[0].size)]
    if len(formula.answers) == 1:
        return np.array(answers, dtype=None if answers else float).reshape(shape)
    return tuple(np.array(column).reshape(shape) for column in zip(*answers, strict=True))
