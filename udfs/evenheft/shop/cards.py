"""Job cards: labels with the value of one club beside each; every card of a sheet is one club of one table."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from evenheft.ooxml.places import Area, Place, reference
from evenheft.shop.headings import FEWEST
from evenheft.shop.mapping import key
from evenheft.shop.table import ShopColumn, ShopTable


def as_cards(tables: Sequence[ShopTable]) -> Iterator[ShopTable]:
    """Tables of clubs in columns; those that hold one club each become the cards of one table.

    Args:
        tables: of clubs in columns, as they were found [-].
    """
    single = [table for table in tables if len(table.rows) == 1]
    yield from (table for table in tables if len(table.rows) > 1)
    alike: list[_Family] = []
    for card in (_Card(pieces) for pieces in _pieces_of_cards(single)):
        if sum(piece.recognised for piece in card.pieces) < FEWEST and not any(c.mapped for c, _, _ in card.labels()):
            continue
        family = next((family for family in alike if family.agrees(card)), None)
        if family is None:
            family = _Family()
            alike.append(family)
        family.add(card)
    yield from (_together(family.cards) for family in alike)


class _Card:
    """The labels of one card, which may stand in two pairs of columns."""

    def __init__(self, pieces: Sequence[ShopTable]) -> None:
        self.pieces = pieces
        areas = [Area(p.area.top, p.area.left, p.area.bottom, max(p.area.right, p.rows[0])) for p in pieces]
        self.area = Area(
            min(a.top for a in areas), min(a.left for a in areas), max(a.bottom for a in areas),
            max(a.right for a in areas),
        )  # fmt: skip

    def labels(self) -> Iterator[tuple[ShopColumn, Place, Place]]:
        """Each label with its place and that of its value."""
        for piece in self.pieces:
            for column in piece.columns:
                yield column, (column.at, piece.heading_rows[0]), (column.at, piece.rows[0])


class _Family:
    """Cards of which no two tell a quantity in different units."""

    def __init__(self) -> None:
        self.cards: list[_Card] = []
        self._units: dict[str, str | None] = {}

    def agrees(self, card: _Card) -> bool:
        """Whether a card may come in."""
        return all(self._units.get(c.quantity, c.unit) == c.unit for c, _, _ in card.labels() if c.quantity)

    def add(self, card: _Card) -> None:
        """Take a card in."""
        self.cards.append(card)
        self._units |= {c.quantity: c.unit for c, _, _ in card.labels() if c.quantity}


def _pieces_of_cards(tables: Sequence[ShopTable]) -> list[list[ShopTable]]:
    """Pairs of columns that stand side by side in the same rows and tell different things are one card."""
    cards: list[list[ShopTable]] = []
    beside: list[list[ShopTable]] = []  # those that a table further down may still go on
    for table in sorted(tables, key=lambda t: (t.area.top, t.area.left)):
        beside = [card for card in beside if card[-1].area.bottom >= table.area.top]
        card = next((c for c in beside if _goes_on(c, table)), None)
        if card is None:
            card = []
            cards.append(card)
            beside.append(card)
        card.append(table)
    return cards


def _goes_on(card: Sequence[ShopTable], table: ShopTable) -> bool:
    last = card[-1]
    beside = table.heading_rows[0] == last.rows[0] + 1 and table.area.top <= last.area.bottom
    known = {column.quantity for piece in card for column in piece.columns if column.quantity}
    return beside and not known & {column.quantity for column in table.columns if column.quantity}


def _together(cards: Sequence[_Card]) -> ShopTable:
    """One table of cards: its columns are all labels, the same one on several cards counted once."""
    columns: dict[str, ShopColumn] = {}
    filled: dict[str, int] = {}
    places: dict[tuple[int, int], Place] = {}
    for number, card in enumerate(cards, start=1):
        for column, label, place in card.labels():
            name = column.quantity or key(column.heading)
            if name not in columns:
                columns[name] = replace(column, at=len(columns) + 1, letter=reference(*label))
            elif columns[name].unsure and not column.unsure:
                columns[name] = replace(columns[name], reading=column.reading, unsure="")
            filled[name] = filled.get(name, 0) + column.filled
            places.setdefault((number, columns[name].at), place)
    areas = [card.area for card in cards]
    titles = {number: _title(card) for number, card in enumerate(cards, start=1)}
    return ShopTable(
        "cards",
        (),
        tuple(replace(column, filled=filled[name]) for name, column in columns.items()),
        tuple(range(1, len(cards) + 1)),
        (),
        Area(
            min(a.top for a in areas), min(a.left for a in areas), max(a.bottom for a in areas),
            max(a.right for a in areas),
        ),
        names={number: title for number, title in titles.items() if title},
        card_places=places,
        card_areas=dict(enumerate(areas, start=1)),
    )  # fmt: skip


def _title(card: _Card) -> str:
    """How a card's club is called."""
    for piece in card.pieces:
        if piece.names:
            return next(iter(piece.names.values()))
    return card.pieces[0].title
