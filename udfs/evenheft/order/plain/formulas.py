"""Ordinary arithmetic in the place of HEFT_ formulas, where it is short.

A translation assumes that a formula's arguments are numbers in the units that they are in now. Whether it
holds is not proved here: whoever uses it computes the result and compares (see `plain`).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TypeAlias

from openpyxl.formula import Tokenizer
from openpyxl.formula.tokenizer import Token, TokenizerError

from evenheft.formulas.rules import LOCAL_RULE
from evenheft.formulas.wording import Scale, scale_named
from evenheft.mechanics import units
from evenheft.mechanics.doubt import COVERAGE
from evenheft.mechanics.swingweight import FULCRUM
from evenheft.mechanics.units import STANDARD_GRAVITY
from evenheft.ooxml.values import Value
from evenheft.order import ordinary
from evenheft.order.ordinary import number

HEFT = re.compile(r"(?:^|!)\s*(HEFT_[A-Z_0-9]+)\($", re.IGNORECASE)
_CALLED = re.compile(r"HEFT_[A-Z_0-9]+(?=\()")
_SIMPLE = re.compile(r"""(?:'[^']+'!|\w+!)?\$?[A-Z]{1,3}\$?[0-9]+|[A-Za-z_]\w*|[0-9.]+""")
_CELL = re.compile(r"(?:'[^']+'!|\w+!)?\$?[A-Z]{1,3}\$?[0-9]+")

Look: TypeAlias = Callable[[str], Value]
"""What a cell or a defined name, as a formula writes it, holds now."""


class NoPlainError(Exception):
    """A formula has no short equivalent."""


@dataclass(frozen=True)
class _Call:
    """One call of a function inside a formula."""

    opening: str
    """The name with its bracket, as written."""
    arguments: tuple[str, ...]


def functions_in(formula: str) -> set[str]:
    """Find the HEFT_ functions that a formula calls.

    >>> sorted(functions_in('=IF(A1="HEFT_X(", "", [1]!HEFT_LABEL(HEFT_POINTS(A1,B1)))'))
    ['HEFT_LABEL', 'HEFT_POINTS']
    """
    try:
        tokens = tokens_of(formula)
    except NoPlainError:
        return set(_CALLED.findall(formula.upper()))
    return {found[1].upper() for token in tokens if (found := HEFT.search(token.value)) and _opens(token)}


def plain(formula: str, look: Look) -> str:
    """Write a formula with its HEFT_ calls as ordinary arithmetic.

    Args:
        formula: the text, with its equals sign [-].
        look: what a cell or a name holds now: a setting such as "14 in" becomes the number it stands for [-].

    Returns:
        The formula, with its equals sign [-].

    Raises:
        NoPlainError: one of its calls has no short equivalent.

    >>> plain("=IF(A1=1,HEFT_MOMENT(B1,C1),0)", lambda cell: 431.0)
    '=IF(A1=1,IF(COUNT(B1,C1)=2,B1*(C1-35.56),""),0)'
    """
    tokens = tokens_of(formula)
    text, end = _rendered(tokens, 0, look)
    if end != len(tokens):
        raise NoPlainError(formula)
    return f"={text}"


@lru_cache(maxsize=8192)  # a copy asks which functions each formula of an order calls, and then for its plain form
def tokens_of(formula: str) -> tuple[Token, ...]:
    """Take a formula apart.

    Raises:
        NoPlainError: it is none that a spreadsheet program would have written.
    """
    try:
        return tuple(token for token in Tokenizer(formula).items if token.type != Token.WSPACE)
    except (TokenizerError, IndexError):
        raise NoPlainError(formula) from None


def _opens(token: Token) -> bool:
    opens: bool = token.subtype == Token.OPEN
    return opens


def _rendered(tokens: Sequence[Token], at: int, look: Look) -> tuple[str, int]:
    """Render the text from a token on, up to a separator or a closing bracket that belongs to the caller."""
    pieces: list[str] = []
    while at < len(tokens) and tokens[at].subtype != Token.CLOSE and tokens[at].type != Token.SEP:
        if _opens(tokens[at]):
            piece, at = _bracket(tokens, at, look)
            pieces.append(piece)
        else:
            pieces.append(tokens[at].value)
            at += 1
    return "".join(pieces), at


def _bracket(tokens: Sequence[Token], at: int, look: Look) -> tuple[str, int]:
    """Render a call or a bracket, from its opening to its close."""
    opening = tokens[at].value
    closing = {"{": "}", "(": ")"}.get(opening[-1:], ")")
    arguments: list[str] = []
    separators: list[str] = []
    at += 1
    while True:
        argument, at = _rendered(tokens, at, look)
        arguments.append(argument)
        if at >= len(tokens):
            raise NoPlainError(opening)
        if tokens[at].type != Token.SEP:
            break
        separators.append(tokens[at].value)
        at += 1
    found = HEFT.search(opening)
    if found:
        return _translated(_Call(found[1].upper(), tuple(arguments)), look), at + 1
    inner = "".join(a + s for a, s in zip(arguments, [*separators, ""], strict=True))
    return f"{opening}{inner}{closing}", at + 1


# ---------------------------------------------------------------------- the arithmetic


@dataclass(frozen=True)
class _Arguments:
    """The arguments of one call, as ordinary formulas read them."""

    call: _Call
    look: Look

    def raw(self, place: int) -> str:
        """Return an argument's text, "" where it is left out."""
        return self.call.arguments[place] if place < len(self.call.arguments) else ""

    def need(self, place: int) -> str:
        """Demand an argument's text; no short equivalent without it."""
        if not self.raw(place):
            raise NoPlainError(self.call.opening)
        return _bracketed(self.raw(place))

    def word(self, place: int, otherwise: str) -> str:
        """Read a text that steers the formula, as it is now."""
        value = self._now(place)
        if value in (None, ""):
            return otherwise
        if not isinstance(value, str):
            raise NoPlainError(self.call.opening)
        return value

    def scale(self, place: int) -> Scale:
        """Read the units that a call speaks in."""
        try:
            return scale_named(self.word(place, units.DEFAULT_UNITS))
        except ValueError:
            raise NoPlainError(self.call.opening) from None

    def quantity(self, place: int, unit: units.Unit, otherwise: float | None = None) -> str:
        """Write a mass or length as a number in g or cm; a named setting with its own unit becomes that number."""
        if not self.raw(place):
            if otherwise is None:
                raise NoPlainError(self.call.opening)
            return number(otherwise)
        value = self._now(place)
        if isinstance(value, str) and value:
            if _CELL.fullmatch(self.raw(place)):
                raise NoPlainError(self.call.opening)  # it may be typed anew, and the number would not follow
            try:
                return number(units.read_quantity(value, unit.dimension, unit))
            except ValueError:
                raise NoPlainError(self.call.opening) from None
        text = self.need(place)
        return text if unit.factor == 1.0 else f"({text}*{number(unit.factor)})"

    def _now(self, place: int) -> Value:
        text = self.raw(place)
        if not text:
            return None
        if text.startswith('"') and text.endswith('"') and '"' not in text[1:-1]:
            return text[1:-1]
        return self.look(text) if _SIMPLE.fullmatch(text) and not text[0].isdigit() else 0.0


def _translated(call: _Call, look: Look) -> str:
    if call.opening not in _TRANSLATIONS:
        raise NoPlainError(call.opening)
    return _TRANSLATIONS[call.opening](_Arguments(call, look))


def _guarded(expression: str, *numbers: str) -> str:
    """Keep the expression blank while one of its inputs is: a row that is not filled in stays quiet."""
    inputs = [number for number in dict.fromkeys(numbers) if not re.fullmatch(r"[0-9.]+", number)]
    if not inputs:
        return expression
    return f'IF(COUNT({",".join(inputs)})={len(inputs)},{expression},"")'


def _moment_of(a: _Arguments, scale: Scale, fulcrum: int) -> tuple[str, tuple[str, str]]:
    mass, balance = a.quantity(0, scale.mass), a.quantity(1, scale.length)
    return f"{mass}*({balance}-{a.quantity(fulcrum, scale.length, FULCRUM)})", (mass, balance)


def _moment(a: _Arguments) -> str:
    expression, inputs = _moment_of(a, a.scale(2), 3)
    return _guarded(expression, *inputs)


def _points(a: _Arguments) -> str:
    expression, inputs = _moment_of(a, a.scale(2), 3)
    return _guarded(ordinary.points(expression), *inputs)


def _label(a: _Arguments) -> str:
    points = a.need(0)
    if not _SIMPLE.fullmatch(points):
        raise NoPlainError(a.call.opening)  # it stands in the answer four times
    tenth = f"ROUND({points},1)"
    return f'IF(ISNUMBER({points}),{ordinary.label(tenth)},"")'


def _inertia(a: _Arguments) -> str:
    if a.raw(6) or a.raw(7):  # a half-angle, a number of swings
        raise NoPlainError(a.call.opening)
    scale = a.scale(3)
    mass, balance = a.quantity(0, scale.mass), a.quantity(1, scale.length)
    period, pivot = a.need(2), a.quantity(4, scale.length, 0.0)
    gravity = a.need(5) if a.raw(5) else number(STANDARD_GRAVITY)
    arm = f"({balance}-{pivot})"
    expression = f"{mass}*({gravity}*{arm}*{period}^2/(4*PI()^2)-{arm}^2+{balance}^2)/1000"
    return _guarded(expression, mass, balance, period)


def _doubt(a: _Arguments) -> str:
    scale = a.scale(4)
    mass, balance = a.quantity(0, scale.mass), a.quantity(1, scale.length)
    by_mass = f"({balance}-{a.quantity(5, scale.length, FULCRUM)})*{a.quantity(2, scale.mass)}"
    by_balance = f"{mass}*{a.quantity(3, scale.length)}"
    if a.raw(6) or a.raw(7):
        raise NoPlainError(a.call.opening)
    spread, most = f"{number(COVERAGE)}*SQRT((({by_mass})^2+({by_balance})^2)/3)", f"{by_mass}+{by_balance}"
    return _guarded(ordinary.points_of_moment(f"MIN({spread},{most})"), mass, balance)


def _verdict(a: _Arguments) -> str:
    value, target, tolerance = a.need(0), a.need(1), a.need(2)
    doubt = a.need(3) if a.raw(3) else "0"
    return _guarded(ordinary.verdict(value, target, tolerance, doubt), value, target, tolerance)


def _target(a: _Arguments) -> str:
    first, increment, place = a.need(0), a.need(1), a.need(2)
    return _guarded(f"{first}+{increment}*({place}-1)", first, increment, place)


def _convert(a: _Arguments) -> str:
    try:
        source, target = (units.find_unit(a.word(place, "")) for place in (1, 2))
    except ValueError:
        raise NoPlainError(a.call.opening) from None
    if source.dimension != target.dimension or source.dimension not in ("mass", "length"):
        raise NoPlainError(a.call.opening)
    value = a.quantity(0, source)
    return _guarded(value if target.factor == 1.0 else f"{value}/{number(target.factor)}", value)


def _from_butt(a: _Arguments) -> str:
    scale = a.scale(3)
    distance, cap = a.quantity(0, scale.length), a.quantity(2, scale.length, 0.0)
    moved = f'IF({a.need(1)}="shaft end",{distance}+{cap},{distance})' if a.raw(1) else distance
    factor = scale.length.factor
    return _guarded(moved if factor == 1.0 else f"{moved}/{number(factor)}", distance)


def _length_limit(a: _Arguments) -> str:
    length = a.quantity(0, a.scale(2).length)
    other = f'{a.need(1)}<>"putter"' if a.raw(1) else "TRUE"
    local_rule = f'{a.need(3)}="{LOCAL_RULE}"' if a.raw(3) else ""
    return _guarded(ordinary.length_rule(length, other, local_rule), length)


_TRANSLATIONS: dict[str, Callable[[_Arguments], str]] = {
    "HEFT_MOMENT": _moment,
    "HEFT_POINTS": _points,
    "HEFT_LABEL": _label,
    "HEFT_INERTIA": _inertia,
    "HEFT_DOUBT": _doubt,
    "HEFT_VERDICT": _verdict,
    "HEFT_TARGET": _target,
    "HEFT_CONVERT": _convert,
    "HEFT_FROM_BUTT": _from_butt,
    "HEFT_LENGTH_LIMIT": _length_limit,
}


def translatable() -> Iterator[str]:
    """Yield the functions that have a short equivalent."""
    yield from _TRANSLATIONS


def _bracketed(text: str) -> str:
    if _SIMPLE.fullmatch(text) or re.fullmatch(r"[A-Z.]+\([^()]*\)", text):
        return text
    return f"({text})"
