"""An order kept in the shop book, once, and taken out again: thought out as a plan, then written in one go."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Literal

from evenheft.formulas.kinds import finite_number
from evenheft.hosts.embedded import Computed
from evenheft.mechanics.swingweight import POINT
from evenheft.ooxml.edit import CellAt, edited, refreshed
from evenheft.ooxml.edits import Edit, NewFormula, Put
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.package import CheckedPackage
from evenheft.ooxml.replace import written_beside
from evenheft.ooxml.values import Held
from evenheft.shop.book.grid import FIRST_BOOK_ROW, MOST_ROWS, in_row
from evenheft.shop.book.kept import KeptOrder, KeptRow
from evenheft.shop.book.layout import BOOK_SHEETS, KEPT
from evenheft.shop.book.marks import mark_of, same, typed_over
from evenheft.shop.book.reading import Book, OpenList, text_key
from evenheft.shop.book.taught import Fit, Known, best_rises, fits_of, spread_of

Fate = Literal["new", "changed", "same", "gone"]
_STICKY = ("kept", "sequence")
"""Columns that an order keeps from the first time on."""


@dataclass(frozen=True, slots=True)
class HandTyped:
    """A cell of a kept row that a person has typed over since."""

    sheet: str
    row: int
    heading: str
    held: Held | None
    kept: Held | None
    """What the order would write there."""
    left: bool
    """Whether it stays as the person wrote it."""


@dataclass(frozen=True, slots=True)
class Lesson:
    """What keeping an order changes about a head."""

    before: Known | None
    after: Known | None


@dataclass
class Keeping:
    """What would be written into a book, and what it means."""

    book: Book
    number: str
    edits: dict[CellAt, Edit] = field(default_factory=dict)
    rows: dict[str, dict[Fate, int]] = field(default_factory=dict)
    """How many rows of each list are new, changed, same or gone."""
    hand: list[HandTyped] = field(default_factory=list)
    lessons: list[Lesson] = field(default_factory=list)
    used: list[KeptRow] = field(default_factory=list)
    notes: tuple[str, ...] = ()
    fits: list[KeptRow] = field(default_factory=list)
    """The order's dry fits as the book will hold them."""

    @property
    def changes(self) -> bool:
        """Whether anything would be written."""
        return bool(self.edits)

    def count(self, *fates: Fate) -> int:
        """How many rows have one of these fates."""
        return sum(rows.get(fate, 0) for rows in self.rows.values() for fate in fates)


def plan_to_keep(book: Book, order: KeptOrder, *, overwrite: bool = False) -> Keeping:
    """Think out what keeping an order changes; its rows from an earlier time are replaced.

    Args:
        book: the shop book [-].
        order: what the order gives [-].
        overwrite: whether cells that a person has typed over are replaced too [-].

    Raises:
        Refused: the order has no number, or a list is full or damaged.
    """
    number = " ".join(order.number.split())
    if not number:
        raise Refused("the order has no number: type one on Order, so that the book knows whose rows are whose")
    plan = Keeping(book, number, notes=order.notes, used=list(order.used))
    order = replace(order, fits=with_misses(book, order.fits, number), used=as_listed(book, order.used))
    for declared in KEPT:
        name = declared.sheet.lower()
        _Writer(plan, book.list(name), overwrite=overwrite).keep([{**row, "order": number} for row in order.rows(name)])
    _settle_heads(plan, order.fits)
    _note_lessons(plan)
    return plan


def with_misses(book: Book, fits: tuple[KeptRow, ...], number: str) -> tuple[KeptRow, ...]:
    """Tell by how far each dry fit missed what orders kept before had let expect of its head [points].

    Args:
        book: the shop book [-].
        fits: an order's dry fits [cm, g].
        number: the order's number: what was kept after it does not count, so that keeping it again changes nothing [-].
    """
    listed = book.list("fits")
    own = next(listed.of_order(number), None)
    sequence = None if own is None else finite_number(listed.value(own, "sequence"))
    known = best_rises(fits_of(book, without=number, before=sequence), spread_of(book))
    found = []
    for fit in fits:
        before = known.get((text_key(fit.get("model")), text_key(fit.get("club"))))
        rise, head = finite_number(fit.get("rise")), finite_number(fit.get("head_mass"))
        miss = None
        if before is not None and rise is not None and head is not None:
            # A head that sits higher up the shaft reads lighter.
            miss = round(head * (before.rise - rise) / POINT, 2) + 0.0  # a sheet would show -0.00
        found.append({"miss": miss, **fit})
    return tuple(found)


def as_listed(book: Book, used: tuple[KeptRow, ...]) -> tuple[KeptRow, ...]:
    """Write shafts and grips as the book's own lists write them: a sheet's lookup tells a number from the same text.

    Args:
        book: the shop book [-].
        used: what an order has used [-].
    """
    own: dict[tuple[str, str], Held | None] = {}
    for kind, name, label in (("shaft", "shafts", "number"), ("grip", "grips", "model")):
        if book.package.find_sheet(BOOK_SHEETS[name].sheet) is not None:
            listed = book.list(name)
            own |= {(kind, text_key(listed.value(row, label))): listed.value(row, label) for row in listed.rows}
    return tuple(
        {key: own.get((key, text_key(value)), value) if value is not None else None for key, value in row.items()}
        for row in used
    )


def plan_to_forget(book: Book, number: str) -> Keeping:
    """Think out what taking an order out changes.

    Raises:
        Refused: the book holds nothing of that order.
    """
    plan = Keeping(book, number)
    for declared in KEPT:
        _Writer(plan, book.list(declared.sheet.lower()), overwrite=True).keep([])
    if not plan.count("gone"):
        raise Refused(f"{book.name} holds nothing of an order {number or 'without a number'}")
    _settle_heads(plan, ())
    _note_lessons(plan)
    return plan


def write(plan: Keeping, *, backup: bool = False) -> int:
    """Write a plan into its book, and refresh the results that its formulas show.

    Args:
        plan: from `plan_to_keep` or `plan_to_forget`; the book as it was then [-].
        backup: whether the old file is kept as NAME.bak [-].

    Returns:
        How many cells changed [-].

    Raises:
        Refused: the book was changed meanwhile, is open elsewhere or cannot be written; it is then unchanged.
    """
    book = plan.book
    if not plan.edits:
        return 0
    with CheckedPackage(edited(book.package, plan.edits), name=book.name) as kept:
        content = refreshed(kept, Computed(kept).value)
    # Whole and last: what fails or is killed before it leaves the book as it was.
    with written_beside(book.path, backup=backup, expected=book.state) as stream:
        stream.write(content)
    return len(plan.edits)


class _Writer:
    """One list of the book, given an order's rows."""

    def __init__(self, plan: Keeping, listed: OpenList, *, overwrite: bool) -> None:
        self._plan = plan
        self._list = listed
        self._overwrite = overwrite
        declared = listed.declared
        self._name = declared.sheet.lower()
        self._keys = [key for key in declared.typed if key != "mark"]
        self._old = list(listed.of_order(plan.number))
        self._next = listed.next_free
        self._fates: dict[Fate, int] = {}
        plan.rows[declared.sheet] = self._fates

    def keep(self, rows: list[KeptRow]) -> None:
        """Replace the order's rows by these."""
        waiting = {self._key(self._held(row)): row for row in reversed(self._old)}
        surplus = set(self._old) - set(waiting.values())  # a row that a person has copied
        sticky = self._sticky()
        for values in rows:
            wanted = {**values, **{key: sticky.get(key, values.get(key)) for key in _STICKY if key in self._keys}}
            row = waiting.pop(self._key(wanted), None)
            if row is None:
                self._add(wanted)
            else:
                self._replace(row, wanted)
        for row in sorted({*waiting.values(), *surplus}):
            self._remove(row)

    def _key(self, values: KeptRow) -> tuple[str, ...]:
        return tuple(text_key(values.get(key)) for key in self._list.declared.key)

    def _held(self, row: int) -> dict[str, Held | None]:
        return {key: self._list.value(row, key) for key in self._keys}

    def _sticky(self) -> dict[str, Held | None]:
        held = self._held(self._old[0]) if self._old else {}
        found = {key: held[key] for key in _STICKY if held.get(key) is not None}
        if "sequence" in self._keys and "sequence" not in found:
            numbers = (finite_number(self._list.value(row, "sequence")) for row in self._list.rows)
            found["sequence"] = max((n for n in numbers if n is not None), default=0) + 1
        return found

    def _note_row(self, values: KeptRow) -> None:
        if self._name == "fits":
            self._plan.fits.append(values)

    def _count(self, fate: Fate) -> None:
        self._fates[fate] = self._fates.get(fate, 0) + 1

    def _put(self, row: int, key: str, value: Held | None) -> None:
        place = self._list.declared.sheet, row, self._list.at[key]
        if (place[1], place[2]) in self._list.content.formulas:
            return  # the shop has put a formula of its own there
        self._plan.edits[place] = Put(value, self._style(row, key))

    def _style(self, row: int, key: str) -> int | None:
        """Give a cell that is not there yet the format of the list's first row."""
        styles, column = self._list.content.styles, self._list.at[key]
        if (row, column) in styles:
            return None
        return styles.get((self._list.heading_row + 1, column))

    def _add(self, values: KeptRow) -> None:
        row = self._next
        if row >= FIRST_BOOK_ROW + MOST_ROWS:
            raise Refused(
                f"{self._plan.book.name}, sheet {self._list.declared.sheet}, is full ({MOST_ROWS} rows): take old "
                "orders out with  evenheft shop forget, or begin a new book"
            )
        self._next += 1
        for key in self._keys:
            if values.get(key) is not None:
                self._put(row, key, values[key])
        self._put(row, "mark", mark_of(values, self._keys))
        self._add_formulas(row)
        self._note_row(values)
        self._count("new")

    def _add_formulas(self, row: int) -> None:
        """Give a row below the prepared ones its formulas."""
        listed = self._list
        for column in listed.declared.columns:
            at = listed.at.get(column.key)
            if not column.formula or at is None or (row, at) in listed.content.formulas:
                continue
            if listed.at == listed.declared.at and (row, at) not in listed.content.values:
                text = in_row(column.formula, listed.declared, row, BOOK_SHEETS)[1:]
                place = listed.declared.sheet, row, at
                self._plan.edits[place] = NewFormula(text, "", self._style(row, column.key))

    def _replace(self, row: int, values: KeptRow) -> None:
        held = self._held(row)
        mark = self._list.text(row, "mark")
        by_hand = typed_over(mark, held, self._keys)
        final = dict(values)
        changed = False
        for key in self._keys:
            if same(held.get(key), values.get(key)):
                continue
            if key in by_hand:
                self._note_hand(row, key, held.get(key), values.get(key), left=not self._overwrite)
                if not self._overwrite:
                    final[key] = held.get(key)
                    continue
            self._put(row, key, values.get(key))
            changed = True
        # The mark tells what the order gave, so that what a person typed over is seen the next time too.
        new_mark = mark_of(values, self._keys)
        if new_mark != mark:
            self._put(row, "mark", new_mark)
            changed = True
        self._note_row(final)
        self._count("changed" if changed else "same")

    def _remove(self, row: int) -> None:
        held = self._held(row)
        for key in typed_over(self._list.text(row, "mark"), held, self._keys):
            self._note_hand(row, key, held.get(key), None, left=False)
        for key in (*self._keys, "mark"):
            if self._list.value(row, key) is not None:
                self._put(row, key, None)
        self._count("gone")

    def _note_hand(self, row: int, key: str, held: Held | None, kept: Held | None, *, left: bool) -> None:
        heading = self._list.declared.column(key).heading
        self._plan.hand.append(HandTyped(self._list.declared.sheet, row, heading, held, kept, left))


def _settle_heads(plan: Keeping, fits: tuple[KeptRow, ...]) -> None:
    """Add the heads that the book does not list yet, and take out those that no dry fit teaches any more."""
    heads = plan.book.list("heads")
    others = {fit.head: fit for fit in fits_of_any_count(plan.book, plan.number)}
    own = {(text_key(row.get("model")), text_key(row.get("club"))): row for row in fits}
    writer = _Writer(plan, heads, overwrite=True)
    plan.rows.pop(heads.declared.sheet)
    for row in heads.rows:
        head = text_key(heads.value(row, "model")), text_key(heads.value(row, "club"))
        if not heads.text(row, "added") or head in own:
            continue
        if head in others:
            if text_key(heads.value(row, "added")) == text_key(plan.number):
                writer._put(row, "added", others[head].order)
        elif all(heads.value(row, key) is None for key in ("own_rise", "own_doubt", "note")):
            for key in ("model", "club", "added"):
                writer._put(row, key, None)
    for head, values in own.items():
        if head not in heads.by_key:
            added = {"model": values.get("model"), "club": values.get("club") or None, "added": plan.number}
            row = writer._next
            writer._next += 1
            for key, value in added.items():
                if value is not None:
                    writer._put(row, key, value)
            writer._add_formulas(row)


@dataclass(frozen=True, slots=True)
class _Teacher:
    head: tuple[str, str]
    order: str


def fits_of_any_count(book: Book, without: str) -> list[_Teacher]:
    """List every other order's dry fits, whether they count or not, by head."""
    fits = book.list("fits")
    return [
        _Teacher((text_key(fits.value(row, "model")), text_key(fits.value(row, "club"))), fits.text(row, "order"))
        for row in fits.rows
        if text_key(fits.value(row, "order")) != text_key(without)
    ]


def _note_lessons(plan: Keeping) -> None:
    """Note what each head's best rise was and will be."""
    spread = spread_of(plan.book)
    before = best_rises(fits_of(plan.book), spread)
    others = fits_of(plan.book, without=plan.number)
    after = best_rises([*others, *_counted(plan.fits)], spread)
    for head in dict.fromkeys((*after, *before)):
        if before.get(head) != after.get(head):
            plan.lessons.append(Lesson(before.get(head), after.get(head)))


def _counted(rows: list[KeptRow]) -> list[Fit]:
    found = []
    for row in rows:
        rise, doubt = row.get("rise"), row.get("doubt")
        if isinstance(rise, float | int) and isinstance(doubt, float | int) and row.get("counts") == 1 and doubt > 0:
            found.append(Fit(str(row.get("model") or ""), str(row.get("club") or ""), rise, doubt))
    return found
