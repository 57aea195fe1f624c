"""The registry: what a host, a help text and the reference must know about each formula.

To add a formula, write a plain function on values in g and cm in the module of its topic
and decorate it with `formula`. Nothing else needs to be told.
"""

from __future__ import annotations

import functools
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Any, Literal, TypeVar

from evenheft.formulas.kinds import Choice, Kind, UnitPair
from evenheft.formulas.wording import HeldDimension

HELP_LIMIT = 255
"""The longest help text that a spreadsheet's function wizard shows [characters]."""


class _Required:
    def __repr__(self) -> str:
        return "REQUIRED"


REQUIRED: Any = _Required()
"""The default of an argument that has none."""


@dataclass(frozen=True, slots=True)
class Argument:
    """One argument of a formula."""

    name: str
    help: str
    kind: Kind
    default: Any = REQUIRED
    """The value where the cell is blank: in g and cm for a quantity, or REQUIRED."""
    takes: Literal["cell", "range", "row", "table"] = "cell"
    """How a range is taken.

    "cell": one value; a range is answered cell by cell. "range": the whole range is one value, each cell
    read by the kind. "row": one row of cells is the value, and several rows are answered row by row, beside
    columns of the other arguments. "table": the whole range is one value. The cells of a row or a table come
    as they are, messages and blanks too: the formula reads them, so that a bad row does not spoil its neighbours.
    """
    quiet: bool = True
    """Whether the answer is blank where a required argument is; False where the formula says what is missing."""

    must: Callable[[Any], None] | None = None
    """Refuses a value that the kind accepts and no formula that takes this argument can mean."""

    @property
    def raw(self) -> bool:
        """Whether the formula reads the cells itself."""
        return self.takes in ("row", "table")

    @property
    def required(self) -> bool:
        """Whether the formula cannot do without it."""
        return self.default is REQUIRED


@dataclass(frozen=True, slots=True)
class Answer:
    """One of the values that a formula can give."""

    name: str
    unit: str = ""
    """The unit as the reference tells it; for a mass or length, that of the `units` argument."""
    dimension: HeldDimension | None = None
    """"mass" or "length" where the function answers in g or cm and the cell wants the call's unit."""


class AnswerColumns(tuple[Iterable[Any], ...]):
    """What a formula over a table may return: its answers by column, one element per row of the table.

    A column may be any iterable, so that one that `what` does not pick is never worked out.
    """

    __slots__ = ()


@dataclass(frozen=True, slots=True)
class Formula:
    """One formula, as every host serves it."""

    name: str
    category: str
    help: str
    arguments: tuple[Argument, ...]
    answers: tuple[Answer, ...]
    function: Callable[..., Any]
    source: str
    examples: tuple[tuple[str, str], ...]
    """Pairs of a formula text and the answer it shows; the reference prints them, a test replays them."""
    tells_host: bool = False
    """Whether the function wants the host's name before its arguments."""
    units_at: int | None = field(init=False)
    what_at: int | None = field(init=False)

    def __post_init__(self) -> None:
        names = [argument.name for argument in self.arguments]
        object.__setattr__(self, "units_at", names.index("units") if "units" in names else None)
        object.__setattr__(self, "what_at", names.index("what") if "what" in names else None)

    @property
    def required(self) -> int:
        """How many arguments a call must at least have."""
        return sum(argument.required for argument in self.arguments)

    @property
    def signature(self) -> str:
        """The call as the reference writes it, e.g. "HEFT_POINTS(mass, balance, [units], [fulcrum])"."""
        names = (a.name if a.required else f"[{a.name}]" for a in self.arguments)
        return f"{self.name}({', '.join(names)})"


Function = TypeVar("Function", bound=Callable[..., Any])

REGISTRY: dict[str, Formula] = {}
"""Every formula by its name, in the order in which they are told."""

UNITS = Argument(
    "units",
    'Units of the masses and lengths typed as plain numbers: "g cm" (used when left out), "g in", "g mm", '
    '"oz in" or "oz cm". A cell that holds its own unit, like 44 1/2 in, keeps it.',
    UnitPair(),
    None,
)


def what_of(answers: tuple[Answer, ...]) -> Argument:
    """Describe the `what` argument of a formula with several answers."""
    words = tuple(answer.name for answer in answers)
    return Argument(
        "what",
        f"Which number is wanted: {', '.join(words[:-1])} or {words[-1]}. Left out, all come back as a row.",
        Choice(words),
        None,
    )


def formula(
    name: str,
    *,
    category: str,
    help: str,
    arguments: tuple[Argument, ...],
    answers: tuple[Answer, ...],
    source: str,
    examples: tuple[tuple[str, str], ...],
    tells_host: bool = False,
) -> Callable[[Function], Function]:
    """Register the decorated function as a formula.

    The function receives every argument but `units` and `what`, positionally: read and bounded, masses in g
    and lengths in cm, a range as rows of such values with None for a blank; or the cells of a row or a table
    just as they are (see `Argument.takes`). It returns one value, or a tuple of as many values as there are
    answers, or "" where there is nothing to answer; where no argument takes a cell, also a tuple of rows, each
    a tuple of values or one message for the whole row, or `AnswerColumns`. It raises `Refused` where it cannot answer.

    Args:
        name: as it is typed into a cell, e.g. "HEFT_POINTS" [-].
        category: its heading in a list of functions [-].
        help: what it answers, for a function wizard [-].
        arguments: in their order; those without a default come first [-].
        answers: what it gives, in their order [-].
        source: where its equation is from, for the reference [-].
        examples: formulas and the answers they show; a test replays them [-].
        tells_host: whether the function is handed the host's name before its arguments [-].

    Raises:
        ValueError: a name is taken, or a help text is too long for a function wizard.
    """

    def register(function: Function) -> Function:
        guarded = _guarded(function, arguments, first=int(tells_host))
        made = Formula(name, category, help, arguments, answers, guarded, source, examples, tells_host)
        if name in REGISTRY:
            raise ValueError(f"{name} is registered twice")
        for text in (help, *(argument.help for argument in arguments)):
            if len(text) > HELP_LIMIT:
                raise ValueError(f"{name}: a help text is {len(text)} characters long: {text}")
        REGISTRY[name] = made
        return function

    return register


def _guarded(function: Function, arguments: tuple[Argument, ...], *, first: int) -> Callable[..., Any]:
    """Return a function that asks of its arguments what each of them must be, before it answers.

    Args:
        function: what answers [-].
        arguments: the formula's, `units` and `what` among them, which the function does not get [-].
        first: how many values come before the arguments' [-].
    """
    handed = [argument for argument in arguments if argument.name not in ("units", "what")]
    asked = [(at, argument.must) for at, argument in enumerate(handed, start=first) if argument.must is not None]
    if not asked:
        return function

    @functools.wraps(function)
    def answer(*values: Any) -> Any:
        for at, must in asked:
            if values[at] is not None:
                must(values[at])
        return function(*values)

    return answer
