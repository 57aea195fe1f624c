"""What leaves the shop for a supplier: a workbook made from nothing, into which only named columns are copied.

The supplier has no add-in, so the check beside each mass is an ordinary formula; it gives the
same word as HEFT_VERDICT does. Masses are in grams there, whatever the order's unit.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from evenheft.formulas.headed.vocabulary import VOCABULARY
from evenheft.formulas.kinds import Quantity
from evenheft.formulas.wording import Scale, is_blank, scale_named, show, what_is_wrong
from evenheft.hosts.embedded import Computed
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.package import CheckedPackage
from evenheft.ooxml.reading import SheetContent, read_sheet
from evenheft.ooxml.text import plain_text
from evenheft.ooxml.values import Value
from evenheft.order.layout import HEADING_ROW, SUPPLIER, Table
from evenheft.order.report import open_order, rows_by_number

SHARED = ("number", "club", "model", "quantity", "loft", "lie", "wanted", "tolerance", "note")
"""The Supplier sheet's columns that leave, besides the order's number. Nothing else does."""

_HEAD_MASS = VOCABULARY["head_mass"].kind
assert isinstance(_HEAD_MASS, Quantity)
HEAD_MASS: Quantity = _HEAD_MASS
"""What a head can weigh."""
_TOLERANCE = Quantity("mass", 0, 100)
GRAMS = scale_named("g cm")


@dataclass(frozen=True, slots=True)
class Wanted:
    """One head that is asked for."""

    number: int
    """The club's number in the order."""
    club: str
    model: str
    quantity: float | None
    loft: float | None
    lie: float | None
    mass: float
    """Wanted mass [g]."""
    tolerance: float
    """Accepted deviation [g]."""
    note: str


@dataclass(frozen=True, slots=True)
class HeadsOrder:
    """All that a supplier may know of an order."""

    number: str
    heads: tuple[Wanted, ...]


@dataclass(frozen=True)
class SupplierOrder:
    """An order as the commands that share and receive need it."""

    name: str
    package: CheckedPackage
    computed: Computed
    supplier: SheetContent
    """The Supplier sheet as it is stored, with what is hidden on it."""
    hidden: bool
    """Whether the whole Supplier sheet is hidden."""
    warnings: tuple[str, ...]

    @property
    def number(self) -> str:
        """The order's number, "" where it has none."""
        return plain_text(self.computed.named_cell("order_number"))

    @property
    def scale(self) -> Scale:
        """The units that the order's plain numbers are in."""
        try:
            return scale_named(plain_text(self.computed.named_cell("shop_units")))
        except ValueError:
            raise Refused(f"{self.name} names units on Order that are not known") from None

    @cached_property
    def rows(self) -> dict[int, int]:
        """The row of each club on the Supplier sheet, by its number."""
        return rows_by_number(self.computed, SUPPLIER)

    def cell(self, key: str, row: int) -> Value:
        """Look up a cell of the Supplier sheet."""
        return self.computed.value(SUPPLIER.sheet, row, SUPPLIER.at[key])


def open_for_supplier(path: Path) -> SupplierOrder:
    """Open an order whose Supplier sheet is to be read; the file is only read.

    Raises:
        Refused: it is no order, it has no number, or its Supplier sheet is not laid out as it was made.
        EngineError: the embedded engine cannot compute it.
    """
    opened = open_order(path)
    package, computed = opened.package, opened.computed
    sheet = package.sheet(SUPPLIER.sheet)
    content = read_sheet(package, sheet.name)
    order = SupplierOrder(path.name, package, computed, content, sheet.hidden, package.warnings)
    if not order.number:
        raise Refused(f"{path.name} has no order number: type one on Order, the supplier's answer is known by it")
    need_own_headings(computed, SUPPLIER, path.name)
    return order


def need_own_headings(computed: Computed, table: Table, name: str) -> None:
    """Refuse a sheet whose columns have been moved: another column would be taken for the one that is meant."""
    for column in (column for column in table.columns if column.role != "work"):
        heading = re.sub(r'^="(.*?) \("&(\w+)&"\)"$', lambda m: f"{m[1]} ({_unit(computed, m[2])})", column.heading)
        found = plain_text(computed.value(table.sheet, HEADING_ROW, table.at[column.key]))
        if found != heading:
            place = f"{table.letter(column.key)}{HEADING_ROW}"
            raise Refused(f'{name}, sheet {table.sheet}, should say "{heading}" in {place}: its columns were moved')


def heads_wanted(order: SupplierOrder) -> HeadsOrder:
    """Take from an order what its supplier may know.

    Raises:
        Refused: no head is asked for, a mass cannot be read, or something private stands where the supplier
            would read it.
    """
    if order.hidden:
        raise Refused(f"{order.name} hides its Supplier sheet: what is hidden does not leave, so show it first")
    wrong: list[str] = []
    heads: list[Wanted] = []
    for number, row in order.rows.items():
        if row not in order.supplier.hidden_rows and not is_blank(_shared(order, "wanted", row)):
            try:
                heads.append(_head(order, number, row))
            except ValueError as error:
                wrong.append(str(error))
    if wrong:
        raise Refused(f"{order.name}: {'; '.join(wrong)}")
    if not heads:
        raise Refused(f"{order.name} asks for no head: type what the heads should weigh on Supplier")
    found = HeadsOrder(order.number, tuple(heads))
    need_nothing_private(found, plain_text(order.computed.named_cell("order_customer")), order.name)
    return found


def need_nothing_private(heads: HeadsOrder, customer: str, name: str) -> None:
    """Refuse a text that would leave with the customer's name or a place on a computer in it."""
    for where, text in _texts(heads):
        if _PATH.search(text):
            raise Refused(f"{name}: {where} holds a place on a computer, which does not leave: {show(text)}")
        if _names(customer, text):
            raise Refused(f"{name}: {where} names the customer, who does not leave the shop: {show(text)}")


def likely_private(heads: HeadsOrder, customer: str) -> list[str]:
    """Find notes that hold a word of the customer's name, which may be chance: to be looked at [-]."""
    words = {word.casefold() for word in re.findall(r"\w{3,}", customer)}
    return [
        f"{where} holds a word of the customer's name, look at it: {show(text)}"
        for where, text in _texts(heads)
        if words & {word.casefold() for word in re.findall(r"\w{3,}", text)}
    ]


_PATH = re.compile(r"[A-Za-z]:\\|\\\\\w|file:|(?:^|[\s\"'(])~?/(?:\w[\w .-]*/)+\w", re.IGNORECASE)


def _names(customer: str, text: str) -> bool:
    plain = " ".join(customer.casefold().split())
    return len(plain) >= 3 and plain in " ".join(text.casefold().split())


def _texts(heads: HeadsOrder) -> Iterator[tuple[str, str]]:
    yield "the order number", heads.number
    for head in heads.heads:
        yield f"the name of club {head.number}", head.club
        yield f"the head model of club {head.number}", head.model
        yield f"the note for club {head.number}", head.note


def _shared(order: SupplierOrder, key: str, row: int) -> Value:
    """Look up a cell that may leave; what stands in a hidden column does not."""
    if key not in SHARED:
        raise KeyError(key)
    return None if order.supplier.is_hidden(SUPPLIER.at[key]) else order.cell(key, row)


def _angle(order: SupplierOrder, key: str, row: int) -> Value:
    """Look up loft or lie as typed, else as Order wants it of the club; nothing where its column is hidden."""
    typed = _shared(order, key, row)
    hidden = order.supplier.is_hidden(SUPPLIER.at[key])
    return order.cell(f"{key}_wanted", row) if is_blank(typed) and not hidden else typed


def _head(order: SupplierOrder, number: int, row: int) -> Wanted:
    club = plain_text(_shared(order, "club", row))
    label = f"club {number}" + (f" ({club})" if club else "")
    if not club:
        raise ValueError(f"{label} has no name on Order")
    tolerance = _shared(order, "tolerance", row)
    if is_blank(tolerance):
        raise ValueError(f"{label} has no plus or minus on Supplier")
    return Wanted(
        number=number,
        club=club,
        model=plain_text(_shared(order, "model", row)),
        quantity=_number(_shared(order, "quantity", row), f"{label}: quantity"),
        loft=_number(_angle(order, "loft", row), f"{label}: loft"),
        lie=_number(_angle(order, "lie", row), f"{label}: lie"),
        mass=read_mass(_shared(order, "wanted", row), order.scale, f"{label}: head mass wanted"),
        tolerance=read_mass(tolerance, order.scale, f"{label}: plus or minus", _TOLERANCE),
        note=plain_text(_shared(order, "note", row)),
    )


def read_mass(raw: object, scale: Scale, label: str, kind: Quantity | None = None) -> float:
    """Read a mass as it was typed, within what a head can weigh.

    Args:
        raw: the cell's value [-].
        scale: the units of a plain number [-].
        label: how a message calls it [-].
        kind: its bounds, where it is not a head's mass [-].

    Returns:
        The mass [g].

    Raises:
        ValueError: it is no such mass; the text names it.
    """
    try:
        value: float = (kind or HEAD_MASS).read(raw, scale)
    except ValueError as error:
        raise ValueError(what_is_wrong(label, raw, error)) from None
    return value


def _number(raw: Value, label: str) -> float | None:
    if is_blank(raw):
        return None
    if isinstance(raw, bool) or not isinstance(raw, int | float):
        raise ValueError(f"{label} must be a number, got {show(raw)}")
    return float(raw)


def _unit(computed: Computed, name: str) -> str:
    return plain_text(computed.named_cell(name))
